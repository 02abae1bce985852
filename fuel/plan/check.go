package plan

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"lastpump/fuel"
	"lastpump/fuel/leg"
	"lastpump/fuel/plan/here"
	"lastpump/fuel/stop"
	"lastpump/fuel/trip"
	"lastpump/route"
	"lastpump/route/input"

	"github.com/paulmach/orb"
)

// complete puts the defaults in where nothing is said, lays the list of ground, and
// refuses what cannot be planned, before anything is computed.
func (in *Inputs) complete() error {
	if in.Line == nil {
		return &Refusal{Why: NoLine}
	}
	in.Options = in.Options.withDefaults()
	if len(in.Grounds.Sections) == 0 && len(in.Ground) > 0 {
		var err error
		if in.Grounds.Sections, in.Grounds.Measure, err = in.Line.Lay(in.Ground); err != nil {
			return err
		}
		in.Grounds.End = in.Ground[len(in.Ground)-1].To
	}
	if err := in.Bike.Check(); err != nil {
		return err
	}
	if err := in.Grounds.Fit(in.Line.Length()); err != nil {
		return err
	}
	if err := in.Options.check(*in); err != nil {
		return err
	}
	if err := in.checkSkip(); err != nil {
		return err
	}
	return in.setAside()
}

// setAside takes out of the list the stops whose coordinates can only be meant the other
// way round. The error joins those of the stops that the line does not pass there either.
func (in *Inputs) setAside() error {
	var kept []stop.Stop
	var faults []error
	for _, s := range in.Stops {
		switch {
		case s.Swapped == nil:
			kept = append(kept, s)
		case len(in.Line.Passages(s.At, in.Options.Corridor)) > 0:
			in.swapped = append(in.swapped, s.Name)
		default:
			faults = append(faults, s.Swapped)
		}
	}
	in.Stops = kept
	return input.JoinFaults(faults)
}

// swappedBeside names the stops far off the line that it would pass if their coordinates
// were swapped.
func swappedBeside(t *trip.Trip) (names []string) {
	for _, g := range t.Beside {
		s := t.Stops[g.Stop]
		swapped := orb.Point{s.At.Lat(), s.At.Lon()}
		if g.Off > maxCorridor && math.Abs(s.At.Lon()) <= 90 && len(t.Line.Passages(swapped, t.Options.Corridor)) > 0 {
			names = append(names, s.Name)
		}
	}
	return names
}

// withDefaults gives the default options where none of those that have one is said: else
// a nought is what the rider asks for.
func (o Options) withDefaults() Options {
	d := DefaultOptions()
	if o.Reserve == (leg.Reserve{}) && o.Corridor == 0 && o.Trust == "" && o.Thirst == 0 {
		o.Reserve, o.Corridor, o.Trust, o.Thirst = d.Reserve, d.Corridor, d.Trust, d.Thirst
	}
	return o
}

func (o Options) check(in Inputs) error {
	usable := in.Bike.Usable()
	var r Refusal
	switch {
	case !(o.Reserve.Share >= 0 && o.Reserve.Share < 1):
		r = Refusal{Why: BadReserveShare, Number: o.Reserve.Share}
	case !(o.Reserve.Distance >= 0) || math.IsInf(float64(o.Reserve.Distance), 0):
		r = Refusal{Why: BadReserveDistance}
	case !(o.Reserve.Litres >= 0 && (o.Reserve.Litres == 0 || o.Reserve.Litres < usable)):
		r = Refusal{Why: BadReserveLitres, Likely: o.Reserve.Litres, Usable: usable}
	case !(o.Corridor > 0 && o.Corridor <= maxCorridor):
		r = Refusal{Why: BadCorridor, At: o.Corridor, Limit: maxCorridor}
	case !thirstFits(o.Thirst):
		r = Refusal{Why: BadThirst, Number: o.Thirst}
	case o.Used != nil && !o.fromHere():
		r = Refusal{Why: UsedNotWhere}
	case o.Fills != nil && o.Used != nil:
		r = Refusal{Why: UsedAndFills}
	case o.Fills != nil && !o.fromHere():
		r = Refusal{Why: FillsNotWhere}
	case o.HasStartFuel && o.SinceFill > 0:
		r = Refusal{Why: StartFuelTwice}
	case o.HasStartFuel && !(o.StartFuel >= 0 && o.StartFuel <= usable):
		r = Refusal{Why: BadStartFuel, Likely: o.StartFuel, Usable: usable}
	case o.LowGrade != "" && o.LowGrade != LowGradeLeast && o.LowGrade != LowGradeFull:
		r = Refusal{Why: BadLowGrade, Name: string(o.LowGrade)}
	case o.FillAt != "" && o.FillAt != FillEverywhere && o.FillAt != FillChosen:
		r = Refusal{Why: BadFillAt, Name: string(o.FillAt)}
	case !(o.Detours >= 0 && o.Detours <= maxCorridor):
		r = Refusal{Why: BadDetours, At: o.Detours, Limit: maxCorridor}
	case o.Detours > 0 && o.FillAt != FillChosen:
		r = Refusal{Why: DetoursNotChosen}
	case !carriable(in.own()):
		r = Refusal{Why: BadCans, Likely: in.own().Total(), Usable: mostCarried}
	case !(o.CanNow >= 0) || o.CanNow > in.own().Total()+leg.Hair:
		r = Refusal{Why: CanNowOver, Likely: o.CanNow, Usable: in.own().Total()}
	case !(o.Carry.Most >= 0 && o.Carry.Most <= mostCarried):
		r = Refusal{Why: BadCanMost, Likely: o.Carry.Most, Usable: mostCarried}
	case o.Trust == stop.Hearsay || o.Trust.Rank() > stop.Map.Rank():
		r = Refusal{Why: BadTrust, Name: string(o.Trust)}
	default:
		return nil
	}
	return &r
}

func thirstFits(t float64) bool { return t >= 0.5 && t <= 3 }

// carriable tells whether cans can be on a bike: two at the most.
func carriable(c leg.Carried) bool {
	return len(c) <= 2 && c.Total() <= mostCarried &&
		!slices.ContainsFunc(c, func(l fuel.Litres) bool { return !(l > 0) })
}

// mostCarried is more in cans than any bike carries (our estimate).
const mostCarried fuel.Litres = 60

const maxCorridor route.Metres = 50000

func (in Inputs) checkSkip() error {
	for _, name := range in.Options.Skip {
		if !in.hasStop(name) {
			return &Refusal{Why: UnknownSkip, Name: name, Names: in.stopNames()}
		}
	}
	return nil
}

func (in Inputs) stopNames() []string {
	names := make([]string, len(in.Stops))
	for i, s := range in.Stops {
		names[i] = s.Name
	}
	return names
}

func (in Inputs) hasStop(name string) bool {
	for _, s := range in.Stops {
		if strings.EqualFold(s.Name, name) {
			return true
		}
	}
	return false
}

// nothingPassed refuses a stop list of which not one lies near the line: it is the
// list of another ride.
func (in Inputs) nothingPassed(t *trip.Trip) error {
	if len(in.Stops) == 0 || len(t.Sightings) > 0 || len(in.swapped) > 0 || len(swappedBeside(t)) > 0 {
		return nil
	}
	near := slices.MinFunc(t.Beside, func(a, b trip.Sighting) int { return cmp.Compare(a.Off, b.Off) })
	if in.Options.FillAt == FillChosen && near.Off <= in.Options.Detours {
		return nil
	}
	for _, g := range t.Beside { // the list is right, the line has a hole
		if h, ok := in.Line.Hole(in.Stops[g.Stop].At, g.Off); ok && h.Off <= in.Options.Corridor {
			return nil
		}
	}
	return &Refusal{Why: NoStopNear, Stops: len(in.Stops), Name: in.Stops[near.Stop].Name, At: near.Off,
		Limit: in.Options.Corridor}
}

// A Refusal says why a ride cannot be planned: an option that cannot be, or stops that
// are not there. Which of its figures are meaningful is said at each [Why].
type Refusal struct {
	Why    Why
	Name   string       // of a stop, or the value that is refused
	Names  []string     // of the stops there are
	Number float64      // a share or a factor
	Stops  int          // how many
	At     route.Metres // along the line, or off it
	Limit  route.Metres // what At has to keep to
	Passed []route.Metres
	Used   here.Used    // what is said to have been used
	Shown  route.Metres // the most that the trip meter can show
	Likely fuel.Litres  // what was expected
	Usable fuel.Litres  // what the tank holds
}

// A Why is the reason of a refusal.
type Why string

// The reasons.
const (
	NoLine              Why = "no line"               // no figures
	BadReserveShare     Why = "reserve share"         // Number
	BadReserveDistance  Why = "reserve distance"      // no figures
	BadReserveLitres    Why = "reserve litres"        // Likely is not less than Usable
	BadCorridor         Why = "corridor"              // At, and Limit at the most
	BadThirst           Why = "thirst"                // Number
	BadStartFuel        Why = "start fuel"            // Likely does not go into Usable
	BadLowGrade         Why = "low grade"             // Name
	BadFillAt           Why = "fill at"               // Name
	BadDetours          Why = "detours"               // At, and Limit at the most
	DetoursNotChosen    Why = "detours not chosen"    // no figures
	BadTrust            Why = "trust"                 // Name
	CanNowOver          Why = "in the can"            // Likely does not go into Usable
	BadCans             Why = "cans"                  // Likely in all is over Usable, or they are more than two
	BadCanMost          Why = "most in cans"          // Likely is not between 0 and Usable
	UsedNotWhere        Why = "used, not where"       // no figures
	FillsNotWhere       Why = "fills, not where"      // no figures
	UsedAndFills        Why = "used and fills"        // no figures
	StartFuelTwice      Why = "start fuel twice"      // no figures
	UnknownSkip         Why = "unknown skip"          // Name of Names
	UnknownFrom         Why = "unknown from"          // Name of Names
	FromNotPassed       Why = "from not passed"       // Name
	FromPassedTwice     Why = "from passed twice"     // Name, Passed
	FromPassedElsewhere Why = "from passed elsewhere" // Name, Passed, not within Limit of At
	FromBeyondEnd       Why = "from beyond the end"   // At, Limit
	TankNotSaid         Why = "tank not said"         // At, Name of the stop or ""
	NothingUsed         Why = "nothing used"          // no figures
	UsedOverMore        Why = "used over more"        // Used, At, Shown
	UsedUnlikely        Why = "used unlikely"         // Used, Number times Likely
	UsedInGroup         Why = "used in a group"       // no figures
	GroupAtNoStop       Why = "group at no stop"      // no figures
	NoStopNear          Why = "no stop near"          // the nearest of Stops, Name, is At off, Limit at the most
	UnknownAnswer       Why = "unknown answer"        // Name of Names
	AnswerOfSeveral     Why = "answer of several"     // Name, Passed nearest to each
)

// Whys lists them all.
func Whys() []Why {
	return []Why{NoLine, BadReserveShare, BadReserveDistance, BadReserveLitres, BadCorridor, BadThirst, BadStartFuel,
		BadLowGrade, BadFillAt, BadDetours, DetoursNotChosen, BadTrust, CanNowOver, BadCans, BadCanMost,
		UsedNotWhere, FillsNotWhere, UsedAndFills, StartFuelTwice, UnknownSkip, UnknownFrom, FromNotPassed, FromPassedTwice, FromPassedElsewhere,
		FromBeyondEnd, TankNotSaid,
		NothingUsed, UsedOverMore, UsedUnlikely, UsedInGroup, GroupAtNoStop, NoStopNear,
		UnknownAnswer, AnswerOfSeveral}
}

// Error says it shortly, for a programmer.
func (r *Refusal) Error() string {
	if r.Name != "" {
		return fmt.Sprintf("no plan: %s: %q", r.Why, r.Name)
	}
	return "no plan: " + string(r.Why)
}

// A BikeError is a fault that is of one bike of a group.
type BikeError struct {
	Bike string // its name
	Err  error
}

// Error puts the name of the bike before the fault.
func (e *BikeError) Error() string { return e.Bike + ": " + e.Err.Error() }

// Unwrap gives the fault.
func (e *BikeError) Unwrap() error { return e.Err }
