// Package plan decides: where to fill, how many litres of which grade, whether a
// leg holds, what happens if a pump is dry, which cans to carry, and what would cure
// what fails.
//
// Start with [Make], which turns [Inputs] into a [Plan], or with [MakeGroup] for
// several bikes that ride together. A plan is data; every report is laid out from
// it and computes nothing. What is not decided with the plan is asked for: [Cures],
// [Calls], [WhatIf], [Trace], [Sketch].
//
// The idea that surprises: reaching the next stop is not enough. For each stop
// the plan also asks whether, if that pump is dry, the one after it or the one
// before can still be reached on what is left.
//
// # The order of a plan
//
//	trip → where the rider stands → cans, and for each the stops → draft → which stops may
//	be skipped → totals → passes → low grade → cues → warnings → then and now → assumptions,
//	answer
//
// A draft of the ride, with its own order, is made by package trip.
//
// # Limits
//
// Every fill is to the brim. A leg that does not hold is planned on as if it
// had been ridden. Nothing here promises anything: the words are "within your
// margin on these figures".
package plan

import (
	"context"
	"slices"

	"lastpump/fuel"
	"lastpump/fuel/bailout"
	"lastpump/fuel/clock"
	"lastpump/fuel/leg"
	"lastpump/fuel/plan/answer"
	"lastpump/fuel/plan/call"
	"lastpump/fuel/plan/cue"
	"lastpump/fuel/plan/cure"
	"lastpump/fuel/plan/days"
	"lastpump/fuel/plan/here"
	"lastpump/fuel/plan/internal/skip"
	"lastpump/fuel/plan/lowgrade"
	"lastpump/fuel/plan/pass"
	"lastpump/fuel/plan/whatif"
	"lastpump/fuel/stop"
	"lastpump/fuel/trip"
	"lastpump/fuel/trip/byroad"
	"lastpump/fuel/wayout"
	"lastpump/octane"
	"lastpump/route"
	"lastpump/route/land"
)

// Inputs are what a plan is made from.
type Inputs struct {
	Name    string // of the loop; may be empty
	Line    *route.Line
	Ground  []route.Section // as it is read; laid on the line where Grounds has none
	Grounds route.Grounds   // laid on the line
	Stops   []stop.Stop
	Bike    fuel.Bike
	Roads   []wayout.Way   // the ways out of the line, where they are known; nil where none are
	Bail    []bailout.Mark // where a rider in trouble gets help; nil where that is not known
	Land    *land.Land     // what is drawn under the line; nil for nothing
	Options Options
	Cut     Cut          // where a file of the loop ends too early
	Choices []Assumption // what was chosen on the way here: where heights come from
	Tell    Tell         // how far the work is; nil for nobody who waits

	hours       trip.Hours      // where another bike of a group has asked the clock already; nil where none has
	barred      []trip.Sighting // passings that are not counted
	clocked     *days.Reckoning // and what it has said, likewise
	manner      *clock.Manner   // of a group; nil for that of the bike
	chosen      []trip.Sighting // the stops, where they are chosen already; nil where they are not
	choice      *Choice         // and how
	chosenWhole []trip.Sighting // where the rest is planned, those of the whole
	alongside   []octane.Grade  // what the other bikes of a group need
	swapped     []string        // stops that are set aside, for lat and lon are swapped
}

// A Cut is the end of a file in the middle of the ride. The zero value is none.
type Cut struct {
	Where string       // file:line:col: what
	Kept  route.Metres // of line before it, in that file
	Last  bool         // nothing follows: what is planned is the beginning of a ride
}

// Options are the rider's choices. Their zero value means those of [DefaultOptions]; to
// change one of them start from there, for a nought beside another figure is what it says:
// no reserve.
type Options struct {
	trip.Options
	Carry    Carry         // the cans
	LowGrade LowGrade      // what is said of stops that sell only below the need
	FillAt   FillAt        // which stops are filled at
	Days     *days.Options // when it is ridden; nil where hours are not asked for
	Whereabouts
}

// LowGrade says what a plan tells of stops that sell only below the need.
type LowGrade string

// The rules for low grade.
const (
	LowGradeLeast LowGrade = "least" // the least that reaches better petrol, beside the full fill
	LowGradeFull  LowGrade = "full"  // the full fill alone
)

// DefaultOptions keeps 15 % and 30 km back and counts stops from a map. The
// shape, a share and a distance, and the figures are assembled from many riders'
// rules (common practice, no source).
func DefaultOptions() Options {
	return Options{
		Options: trip.Options{
			Reserve: leg.Reserve{Share: 0.15, Distance: 30000}, Corridor: 2000, Trust: stop.Map, Thirst: 1,
		},
		LowGrade: LowGradeLeast, FillAt: FillChosen, Carry: Carry{Most: leg.CarriedUnasked},
	}
}

// A Plan is everything that any report shows.
type Plan struct {
	trip.Ride   // how it sets out, what it passes, its legs
	Name        string
	Line        *route.Line
	Grounds     route.Grounds
	Options     Options
	Loop        Loop
	Can         trip.Can
	Cans        Cans
	Worth       trip.Worth  // what speaks against it
	Passes      []pass.Pass // the pumps that are passed and not filled at
	NotUsed     []NotUsed
	Warnings    []Warning
	Totals      Totals
	Band        Band // what low and high rest on
	LowGrade    []lowgrade.Dearth
	Cases       []whatif.Case // what becomes of it if something turns out otherwise, as [WhatIf] has found; nil before
	Choice      *Choice       // how the stops were chosen; nil where all counted ones are filled at
	Cut         Cut           // where a file of the loop ends too early
	Here        *here.Here    // nil where the whole line is planned
	Assumptions []Assumption
	Answer      answer.Answer  // does it hold and what to carry; if a pump is dry; the grade
	Group       *Group         // nil for one bike
	Stops       []stop.Stop    // all that were given, in their order
	Ways        *byroad.Ways   // out, beside the line; nil where no roads are known
	Bail        []bailout.Mark // where a rider in trouble gets help, as far as it lies ahead; nil where that is not known
	Cues        []cue.Cue      // what to do on the way, in the order of the ride
	Land        *land.Land     // what is drawn under the line; nil for nothing

	Riding []clock.Durations // in the saddle, of each leg
	Manner clock.Manner      // in which it is ridden
	Days   []days.Day        // of the ride; nil where hours are not asked for
	Notes  []clock.Note      // on the days

	Calls     []call.Call // whom to phone before the ride, as [Calls] has found them; nil before
	NotCalled int         // doubtful stops of which no answer was tried, for want of work

	draft   *trip.Draft     // on which more can be asked
	in      Inputs          // it was made from, completed
	line    *trip.Trip      // all of it
	clocked *days.Reckoning // nil where no clock was asked
	tell    Tell
}

// Tell is told how far the work on a plan is: steps done, of so many. It is called where
// that takes longer than a moment.
type Tell func(s Step, done, of int)

// A Step is a part of the work on a plan.
type Step int

// The steps that take longer than a moment.
const (
	ChoosingStops Step = iota
	TryingSkips
	FindingCures
	TryingWhatIf
	TryingAnswers
)

// at gives who is told how far a step is.
func (t Tell) at(s Step) func(done, of int) {
	return func(done, of int) {
		if t != nil {
			t(s, done, of)
		}
	}
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

// GroundUnknown tells whether so much of the ground is not on the list that it has to be
// said.
func (l Loop) GroundUnknown() bool { return l.GroundGiven && l.Guessed > l.Ridden/10 }

// A NotUsed is a stop outside the corridor.
type NotUsed struct {
	Stop string
	Off  route.Metres
	In   *route.Hole // a hole of the line that it lies in; nil for none
}

// AstrayFrom is how far off the line nobody lists a stop for a ride (our estimate): a degree is 111 km.
const AstrayFrom route.Metres = 300_000

// Astray tells whether a stop lies so far off that its coordinates may be mistyped.
func (n NotUsed) Astray() bool { return n.Off > AstrayFrom && n.In == nil }

// A Kind sorts warnings.
type Kind string

// The kinds of warnings, in the order in which they are given.
const (
	KindStops         Kind = "stops" // what is wrong in the list
	KindShort         Kind = "short"
	KindStranded      Kind = "stranded"
	KindShut          Kind = "shut"
	KindBelowGrade    Kind = "below-grade"
	KindTight         Kind = "tight"
	KindMaybeShut     Kind = "maybe-shut"
	KindLastFuel      Kind = "last-fuel"
	KindDark          Kind = "dark"
	KindGradeNotKnown Kind = "grade-not-known"
	KindHoursNotKnown Kind = "hours-not-known"
	KindCoarseLine    Kind = "coarse-line"
	KindGap           Kind = "gap"
	KindUnknownGround Kind = "unknown-ground"
	KindUnknownClimb  Kind = "unknown-climb"
	KindStale         Kind = "stale"
	KindNote          Kind = "note"
)

// Kinds lists the kinds in rank order.
func Kinds() []Kind {
	return []Kind{KindStops, KindShort, KindStranded, KindShut, KindBelowGrade, KindTight, KindMaybeShut, KindLastFuel,
		KindDark, KindGradeNotKnown, KindHoursNotKnown, KindCoarseLine, KindGap, KindUnknownGround, KindUnknownClimb, KindStale, KindNote}
}

// A Warning is a doubt or a failure of one cause, with what cures it.
type Warning struct {
	Kind   Kind
	Leg    int   // the worst of Legs; -1 for none
	Visit  int   // the first of Visits; -1 for none
	Legs   []int // that it is about, in the order of the ride
	Visits []int // that it is about, in the order of the ride
	Fact   Fact
	Cures  []cure.Cure   // as [Cures] has found them; nil before
	Hours  []days.Cure   // of pumps that are shut or may be, as [Cures] has found them
	NoCure *cure.Lacking // where cures were wanted and there is none, or none for the worst leg
}

// Totals are what the whole ride takes at the pumps.
type Totals struct {
	Grades    []GradeTotal // in the order of the first fill
	Money     []Money
	Cash      []Cash         // of the fills of which the price is known
	CardOnly  []int          // visits
	Unpriced  fuel.Litres    // of fills of which the price is not known
	CanWeight fuel.Kilograms // of the petrol in the can for the plan, and for any dry pump
	DryWeight fuel.Kilograms
}

// A Band says what the low and the high figures of a plan rest on.
type Band struct {
	Basis Basis
	Tanks int          // of the rider's own; 0 for none
	Over  float64      // how much more than likely the high figure of a full tank is on paved road, as a share
	Under float64      // and how much less the low one is
	Ride  fuel.Figures // of the whole ride, from brim to brim: less far off than the sum of its legs
}

// A Basis is what is known of the consumption.
type Basis string

// The bases.
const (
	FromMaker  Basis = "maker"  // a maker's figure, or nobody has said whose
	FromOwn    Basis = "own"    // a figure that the rider has from tanks of his own
	FromLearnt Basis = "learnt" // tanks that were learnt from
)

// bandOf tells what the figures of a draft rest on.
func bandOf(d *trip.Draft) Band {
	b := Band{Basis: FromMaker}
	switch k := d.Bike.Known(); {
	case k.LearntFrom() > 0:
		b.Basis, b.Tanks = FromLearnt, k.LearntFrom()
	case d.Bike.MeasuredByOwner():
		b.Basis, b.Tanks = FromOwn, d.Bike.ConsumptionTanks
	}
	by := d.Trip.Course.Forecast()
	b.Under, b.Over = by.OnPaved(d.Bike.Usable())
	legs := make([]fuel.Amount, len(d.Legs))
	for i, l := range d.Legs {
		legs[i] = l.Drink.Amount
	}
	b.Ride, _ = by.Band(legs...)
	return b
}

// Cash is what is paid where only cash is taken, if the bike drinks the most.
type Cash struct {
	Currency string
	Amount   float64
	InARow   float64 // the most of it before a stop that takes cards
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

// Make plans the fuel for a ride. The error is a [*Refusal], for options that
// contradict the bike or name stops that are not there, or an [*input.Error] without
// a file, for a bike or a list of ground that cannot be; or that of the context.
func Make(ctx context.Context, in Inputs) (*Plan, error) {
	if err := ctx.Err(); err != nil {
		return nil, err
	}
	if err := in.complete(); err != nil {
		return nil, err
	}
	line := in.trip()
	whole, t, h, err := in.ride(ctx, line)
	if err != nil {
		return nil, err
	}
	best, clocked, err := in.timed(ctx, whole, t)
	if err != nil {
		return nil, err
	}
	d := best.trip.Draft(best.change)
	if err := in.tankKnown(d); err != nil {
		return nil, err
	}
	p := &Plan{
		Name: in.Name, Line: in.Line, Land: in.Land, Grounds: in.Grounds, Options: in.Options, Stops: in.Stops,
		Cut: in.Cut, Here: h, Choice: best.choice, Cans: in.cansOf(d), Ways: line.Ways, draft: d, tell: in.Tell,
		in: in, line: line,
	}
	p.byClock(d, clocked)
	if h != nil {
		p.Options.From, p.Options.HasFrom = h.At, true
	}
	p.NotUsed, p.Loop = notUsed(d), loopOf(d)
	p.Loop.GroundGiven = len(in.Grounds.Sections) > 0
	p.Can = d.CanNeeded()
	if err := skip.Find(ctx, d, in.Tell.at(TryingSkips)); err != nil {
		return nil, err
	}
	p.Ride, p.Worth, p.Passes = d.Ride, d.Worth(), pass.Of(d)
	p.Totals, p.Band = totals(p), bandOf(d)
	if in.Options.LowGrade != LowGradeFull {
		p.LowGrade = lowgrade.Find(d)
	}
	p.Cues, p.Bail = cue.Of(d, p.Can), cue.Metered(d, bailout.From(in.Bail, d.Legs[0].FromAt))
	p.Warnings = warnings(in, p)
	if h != nil {
		h.Compare(d, whole)
	}
	p.Assumptions = assumptions(in, p)
	p.Answer = answer.Of(d)
	return p, nil
}

// notUsed lists the stops off the line that are not chosen.
func notUsed(d *trip.Draft) []NotUsed {
	var out []NotUsed
	for _, g := range d.Trip.Beside {
		if !slices.Contains(d.Change.Chosen, g) {
			n := NotUsed{Stop: d.Trip.Stops[g.Stop].Name, Off: g.Off}
			if h, ok := d.Trip.Line.Hole(d.Trip.Stops[g.Stop].At, g.Off); ok {
				n.In = &h
			}
			out = append(out, n)
		}
	}
	return out
}

// loopOf sums up a ride.
func loopOf(d *trip.Draft) Loop {
	l := Loop{HasAscent: true}
	for _, leg := range d.Legs {
		l.Ridden += leg.Drink.Ridden
		l.Ascent += leg.Drink.Up
		l.Guessed += leg.Drink.Guessed
		l.NoHeights += leg.Drink.NoHeights
	}
	l.HasAscent = l.NoHeights <= 0
	return l
}

// Note adds notes of what was odd in the files, at the end of the warnings.
func (p *Plan) Note(texts ...string) {
	for _, t := range texts {
		p.Warnings = append(p.Warnings, Warning{Kind: KindNote, Leg: -1, Visit: -1, Fact: Noted{t}})
	}
}
