// Package plan decides: where to fill, how many litres of which grade, whether a
// leg holds, what happens if a pump is dry, how big a can has to be, and what
// would cure what fails.
//
// Start with [Make], which turns [Inputs] into a [Plan], or with [MakeGroup] for
// several bikes that ride together. A plan is data; every report is laid out from
// it and computes nothing.
//
// The idea that surprises: reaching the next stop is not enough. For each stop
// the plan also asks whether, if that pump is dry, the one after it or the one
// before can still be reached on what is left.
//
// # The order of a plan
//
//	visits → places → legs → fuel → fills and mixture → dry places and turning
//	back → can → cures → warnings
//
// Each is one function in a file of that name. What paper and pictures want of the
// finished plan, its Roll, Trace and Sketch, is in files of those names.
//
// # Limits
//
// Every fill is to the brim. A leg that does not hold is planned on as if it
// had been ridden. Nothing here promises anything: the words are "within your
// margin on these figures".
package plan

import (
	"slices"
	"time"

	"lastpump/fuel"
	"lastpump/fuel/stop"
	"lastpump/octane"
	"lastpump/route"

	"github.com/paulmach/orb"
)

// Inputs are what a plan is made from.
type Inputs struct {
	Name    string // of the loop; may be empty
	Line    *route.Line
	Grounds route.Grounds
	Stops   []stop.Stop
	Bike    fuel.Bike
	Options Options
	Cut     Cut          // where a file of the loop ends too early
	Choices []Assumption // what was chosen on the way here: where heights come from

	chosen []sighting // the stops, where they are chosen already; nil where they are not
	choice *Choice    // and how

	chosenWhole []sighting     // where the rest is planned, those of the whole
	alongside   []octane.Grade // what the other bikes of a group need
}

// A Cut is the end of a file in the middle of the ride. The zero value is none.
type Cut struct {
	Where string       // file:line:col: what
	Kept  route.Metres // of line before it, in that file
	Last  bool         // nothing follows: what is planned is the beginning of a ride
}

// Options are the rider's choices. Start from [DefaultOptions].
type Options struct {
	Reserve      Reserve
	Corridor     route.Metres  // how far off the line a stop is still visited
	Trust        stop.Standing // the least standing that is counted: seen, phoned or map
	Skip         []string      // names of stops to leave out
	StartFuel    fuel.Litres   // usable; meaningless unless HasStartFuel
	HasStartFuel bool
	SinceFill    route.Metres // ridden since the tank was full; 0 for full
	StartGrade   octane.Grade // of what is in the tank; the need where its Scale is ""
	Thirst       float64      // on the whole consumption: wind, tyres, load
	Today        time.Time    // the day the ages of confirmations are counted to
	Units        fuel.Units   // of the words in warnings and cures
	LowGrade     LowGrade     // what is said of stops that sell only below the need
	Detours      Detours      // how the stops to fill at are chosen
	Whereabouts
}

// A Reserve is what is kept back on a leg: the larger of a share of the usable
// tank and the fuel for a distance.
type Reserve struct {
	Share    float64 // 0.15 is 15 %
	Distance route.Metres
}

// DefaultOptions keeps 15 % and 30 km back and counts stops from a map. The
// shape, a share and a distance, and the figures are assembled from many riders'
// rules (common practice, no source).
func DefaultOptions() Options {
	return Options{
		Reserve: Reserve{Share: 0.15, Distance: 30000}, Corridor: 2000,
		Trust: stop.Map, Thirst: 1, Units: fuel.Metric, LowGrade: LowGradeLeast,
	}
}

// A Plan is everything that any report shows.
type Plan struct {
	Name        string
	Line        *route.Line
	Bike        fuel.Bike
	Options     Options
	Loop        Loop
	Start       Start
	Visits      []Visit
	Legs        []Leg
	Can         Can
	NotUsed     []NotUsed
	Warnings    []Warning
	Totals      Totals
	LowGrade    []LowStretch
	Cases       []Case  // what becomes of it if something turns out otherwise
	Choice      *Choice // how the stops were chosen; nil where all counted ones are filled at
	Cut         Cut     // where a file of the loop ends too early
	Here        *Here   // nil where the whole line is planned
	Assumptions []Assumption
	Arranged    string    // how it is ridden otherwise than in the file; "" if it is not
	Answer      [3]string // does it hold and what to carry; if a pump is dry; the grade
	Group       *Group    // nil for one bike

	Stops  []stop.Stop // all that were given, in their order
	Roll   []Cue       // what to do on the way, in the order of the ride
	Trace  Trace       // the ride as pictures want it
	Sketch Sketch      // the line as a small map wants it
}

// A Loop is the ride as a whole.
type Loop struct {
	Ridden    route.Metres // with stretch, gaps and detours
	Ascent    route.Metres // meaningless unless HasAscent
	HasAscent bool
	Guessed   route.Metres // ridden on ground that is not known
	NoHeights route.Metres // of line where the climb is not known

	GroundGiven bool // there is a list of ground
}

// A Start is how the ride sets out.
type Start struct {
	Fuel    fuel.Litres // usable, in the tank on arriving at the start
	Grade   octane.Grade
	Assumed bool     // the grade is assumed to be what the engine needs
	Mixture *Mixture // on the way, what the whole plan has in the tank there; nil where that is not used
	Nearest string   // counted stop nearest to the start, or ""
	Away    route.Metres
}

// A Visit is a passing of a stop within the corridor. Those that are not counted
// are shown and have no fill.
type Visit struct {
	Stop     stop.Stop
	At       route.Metres // along the line
	Off      route.Metres // straight, from the line
	Detour   route.Metres // there and back; 0 where it is not counted
	Counted  bool
	WhyNot   string   // "" where it is counted
	Also     []string // other counted stops of the same place
	LastFuel bool     // the last sure fuel before a doubtful stretch
	Need     Need     // "" at the start, at the end, where it is not counted and where it is not told
	Fill     *Fill    // nil where it is not counted
	Mixture  *Mixture // in the tank after the fill; nil where there is no fill
	IfDry    *IfDry   // nil at the start, at the end and where it is not counted
}

// A Fill is what to take at a stop.
type Fill struct {
	Grade     octane.Grade
	HasGrade  bool           // false where no grade is tagged
	Verdict   octane.Verdict // of the grade itself, not of the mixture
	Litres    fuel.Litres    // into the tank, likely
	Low, High fuel.Litres    // if the bike has drunk less or more than likely
	TankAfter fuel.Litres    // usable
	Can       fuel.Litres    // into the can
}

// A Mixture is what petrol in the tank is worth, in the scale of the need.
type Mixture struct {
	Low, High float64
	Scale     octane.Scale
	Verdict   octane.Verdict
}

// An Outcome is what happens if a pump is dry.
type Outcome string

// The outcomes, best first.
const (
	On       Outcome = "on"   // the next stop is within reach
	Back     Outcome = "back" // the last one is
	Stranded Outcome = "stranded"
)

// An IfDry says what happens if a place is dry.
type IfDry struct {
	Outcome Outcome
	To      string      // the stop that is reached, or the one less out of reach
	Spare   fuel.Litres // left on reaching it; negative is the lack
	Bare    bool        // the outcome fails on the high figures
}

// A Verdict says whether a leg holds.
type Verdict string

// The verdicts, best first.
const (
	OK    Verdict = "OK"    // arrives with the reserve whole
	Tight Verdict = "TIGHT" // arrives by eating into it, or runs dry on the high figures
	Short Verdict = "SHORT" // does not arrive
)

// rank counts verdicts from 0, the best.
func (v Verdict) rank() int { return slices.Index([]Verdict{OK, Tight, Short}, v) }

// A Leg is the way from one fill to the next.
type Leg struct {
	From, To           string // a stop's name; "start" and "end" even where a stop is there
	FromVisit, ToVisit int    // into Plan.Visits; -1 for none
	FromAt, ToAt       route.Metres
	Drink              fuel.Drink  // with both half detours
	Detour             fuel.Litres // of Drink.Fuel.Likely
	Start              fuel.Litres // usable, in the tank
	Can                fuel.Litres // full of it, or 0
	Kept               fuel.Litres // the reserve
	Arrive             fuel.Litres // may be negative
	Verdict            Verdict
	Short              fuel.Litres  // what is missing on a SHORT leg, else 0
	Headroom           float64      // how much more it may drink before it is dry
	HasHeadroom        bool         // false where the leg drinks nothing
	SafeTo             route.Metres // on the trip meter: the reserve is still whole
	DryAt              route.Metres // on the trip meter
	TurnBack           route.Metres // on the trip meter
	DryAtHigh          route.Metres // DryAt by the high figures
	TurnBackHigh       route.Metres // by the high figures, with nothing kept back
	TurnBackAt         orb.Point    // of TurnBack
	TurnBackBy         route.Metres // on the trip meter: the sooner of the two
	TurnBackByAt       route.Metres // along the line, of TurnBackBy
	Mixture            Mixture      // the worse of before and after pouring
}

// Ends names the ends of a leg for a reader: the stop where there is one at the
// start or the end, too.
func (p *Plan) Ends(i int) (from, to string) {
	return p.NameOf(p.Legs[i].From), p.NameOf(p.Legs[i].To)
}

// NameOf names a place for a reader: for "start" and "end" the stop that is
// there, if there is one.
func (p *Plan) NameOf(to string) string {
	switch first, last := p.Legs[0], p.Legs[len(p.Legs)-1]; {
	case to == "start" && first.FromVisit >= 0:
		return p.Visits[first.FromVisit].Stop.Name
	case to == "end" && last.ToVisit >= 0:
		return p.Visits[last.ToVisit].Stop.Name
	case to == "start" || to == "end":
		return p.endName(to)
	}
	return to
}

// Trip gives the length of the leg on the trip meter of a bike.
func (l Leg) Trip(b fuel.Bike) route.Metres { return b.Shown(l.Drink.Ridden) }

// A NotUsed is a stop outside the corridor.
type NotUsed struct {
	Stop string
	Off  route.Metres
}

// A Kind sorts warnings.
type Kind string

// The kinds of warnings, in the order in which they are given.
const (
	KindShort         Kind = "short"
	KindStranded      Kind = "stranded"
	KindBelowGrade    Kind = "below-grade"
	KindTight         Kind = "tight"
	KindLastFuel      Kind = "last-fuel"
	KindGradeNotKnown Kind = "grade-not-known"
	KindCoarseLine    Kind = "coarse-line"
	KindGap           Kind = "gap"
	KindUnknownGround Kind = "unknown-ground"
	KindUnknownClimb  Kind = "unknown-climb"
	KindStale         Kind = "stale"
	KindNote          Kind = "note"
)

// Kinds lists the kinds in rank order.
var Kinds = []Kind{KindShort, KindStranded, KindBelowGrade, KindTight, KindLastFuel, KindGradeNotKnown,
	KindCoarseLine, KindGap, KindUnknownGround, KindUnknownClimb, KindStale, KindNote}

// A Warning is a doubt or a failure, with what cures it.
type Warning struct {
	Kind   Kind
	Leg    int // -1 for none
	Visit  int // -1 for none
	Text   string
	Cures  []Cure
	NoCure string // what is missing, where cures were tried and none works
}

// Totals are what the whole ride takes at the pumps.
type Totals struct {
	Grades    []GradeTotal // in the order of the first fill
	Money     []Money
	Unpriced  fuel.Litres    // of fills of which the price is not known
	CanWeight fuel.Kilograms // of the petrol in the can for the plan, and for any dry pump
	DryWeight fuel.Kilograms
}

// A GradeTotal is the litres of one grade over the ride.
type GradeTotal struct {
	Grade  string // "not known" where none is tagged
	Litres fuel.Litres
}

// Money is what the priced fills cost in one currency.
type Money struct {
	Currency string
	Amount   float64
}

// An Assumption is a figure that the plan rests on and where it is from.
type Assumption struct {
	Name, Value string
	Mark        Mark
}

// A Mark says where a figure is from.
type Mark string

// The marks.
const (
	Given      Mark = "given"
	Published  Mark = "published"
	Common     Mark = "common practice"
	OurOwn     Mark = "our estimate"
	FromMemory Mark = "from memory"
)

// Holds tells whether nothing fails: no leg is SHORT, no dry place leaves the
// rider stranded and no leg is below grade.
func (p *Plan) Holds() bool {
	for _, w := range p.Warnings {
		switch w.Kind {
		case KindShort, KindStranded, KindBelowGrade:
			return false
		}
	}
	return true
}

// Make plans the fuel for a ride. The error is a [*route.InputError] without a
// file, for options that contradict the bike or name stops that are not there.
func Make(in Inputs) (*Plan, error) {
	if err := in.check(); err != nil {
		return nil, err
	}
	s := newSurvey(in)
	if err := s.nothingPassed(); err != nil {
		return nil, err
	}
	whole, err := s.fromHere()
	if err != nil {
		return nil, err
	}
	c, choice, err := s.choice()
	if err != nil {
		return nil, err
	}
	d := s.draft(c)
	p := d.plan
	p.Choice = choice
	p.Arranged = arranged(in.Line, in.Options.Units)
	p.Cut, p.Loop.GroundGiven = in.Cut, len(in.Grounds.Sections) > 0
	p.Can = d.can()
	p.Totals = totals(p)
	p.LowGrade = d.lowGrade()
	p.Stops, p.Roll = in.Stops, d.roll()
	p.Trace, p.Sketch = d.trace(), d.sketch()
	d.maySkip()
	p.Cases = d.whatIf()
	warnings(d)
	cures(s, d)
	d.compare(whole)
	p.Assumptions = assumptions(s.in, p)
	p.Answer = answer(p)
	return p, nil
}

// Note adds notes of what was odd in the files, at the end of the warnings.
func (p *Plan) Note(texts ...string) {
	for _, t := range texts {
		p.Warnings = append(p.Warnings, Warning{Kind: KindNote, Leg: -1, Visit: -1, Text: t})
	}
}
