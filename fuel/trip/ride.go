package trip

import (
	"lastpump/fuel"
	"lastpump/fuel/clock"
	"lastpump/fuel/leg"
	"lastpump/fuel/stop"
	"lastpump/octane"
	"lastpump/route"

	"github.com/paulmach/orb"
)

// A Ride is what comes of a trip: how it sets out, what it passes and its legs. It is
// plain data.
type Ride struct {
	Bike   fuel.Bike // with the can that it carries
	Start  Start
	Visits []Visit // those ahead of the rider
	Legs   []Leg
}

// A Start is how the ride sets out.
type Start struct {
	Fuel     fuel.Litres // usable, in the tank on arriving at the start
	Grade    octane.Grade
	Assumed  bool         // the grade is assumed to be what the engine needs
	Mixture  *leg.Mixture // on the way, what the whole plan has in the tank there; nil where that is not used
	OnTheWay bool         // the rider is no longer at the start of the line
	Nearest  string       // counted stop nearest to the start, or ""
	Away     route.Metres
}

// A Visit is a passing of a stop within the corridor. Those that are not counted are
// shown and have no fill.
type Visit struct {
	Stop     stop.Stop
	Number   int          // of the stop, into the list that was given
	At       route.Metres // along the line
	Off      route.Metres // straight, from the line
	Detour   route.Metres // there and back; 0 where it is not counted
	ByRoad                // to it; the zero value where it is guessed
	Counted  bool
	WhyNot   WhyNot    // "" where it is counted
	Also     []string  // other counted stops of the same place
	LastFuel *LastFuel // the last sure fuel before a doubtful stretch, and why; nil where it is not
	// UnsureAhead tells that nobody is sure of the place, nor of the next fill.
	UnsureAhead bool
	Need        Need         // "" at the start, at the end, where it is not counted and where it is not told
	Fill        *leg.Fill    // nil where it is not counted
	Mixture     *leg.Mixture // in the tank after the fill; nil where there is no fill
	IfDry       *IfDry       // nil at the start, at the end and where it is not counted
	// Hour is when it is reached and what it then is; nil where no clock was asked.
	Hour *clock.Passing
}

// Sighting gives the passing that is visited.
func (v Visit) Sighting() Sighting {
	return Sighting{Stop: v.Number, Passage: route.Passage{At: v.At, Off: v.Off}, ByRoad: v.ByRoad}
}

// A LastFuel says what makes a stop the last sure fuel.
type LastFuel struct {
	Leg      int  // that begins there
	Next     int  // visit at the end of it; -1 at the end of the ride
	NotOK    bool // the leg is TIGHT or SHORT
	Back     bool // if the next place is dry, one has to ride back
	Off      bool // if the next place is dry, one has to ride off by road
	Stranded bool // if the next place is dry, one is stranded
	Unsure   bool // the next place is not sure, see [stop.Stop.Sure]
}

// A WhyNot tells why a stop is shown but not counted.
type WhyNot string

// The reasons; a stop whose standing is not trusted is "only" that.
const (
	Skipped   WhyNot = "skipped"
	NotNeeded WhyNot = "not needed" // stops are chosen, and this one is not
	NoPetrol  WhyNot = "no petrol"
	LongShut  WhyNot = "shut" // by its hours, for longer than anybody waits
	ByHearsay WhyNot = "hearsay"
)

// A Need says whether a stop has to be filled at.
type Need string

// The needs of a stop.
const (
	MustFill Need = "must fill"
	MaySkip  Need = "may skip" // ridden past it, every verdict is kept
)

// An IfDry says what happens if a place is dry.
type IfDry struct {
	leg.Dry
	To   End  // the stop that is reached, or the one less out of reach
	Back End  // the one to ride back to
	Off  *Off // the way out by road, be it counted or not; nil where none is known
}

// Doubtful tells whether the ride hangs on the pump not being dry: it strands, be it a thirsty bike
// alone, or leaves only a way out by road.
func (d IfDry) Doubtful() bool {
	return d.Outcome == leg.Stranded || d.Bare || d.Outcome == leg.Off || d.High == leg.Off
}

// An EndKind says what an [End] is.
type EndKind int

// The kinds of ends.
const (
	AtStop EndKind = iota
	AtStart
	AtFinish
)

// An End is where a leg begins or ends: at a stop, or at the start or the finish of the
// ride. A stop may lie at those, too.
type End struct {
	Kind EndKind
	Stop int // into the list that was given; -1 where no counted stop is
}

// HasStop tells whether there is a counted stop.
func (e End) HasStop() bool { return e.Stop >= 0 }

// Key names an end as files do: "start" and "end" whether a stop is there or not, else by
// the name of its stop, of those that were given.
func (e End) Key(stops []stop.Stop) string {
	switch e.Kind {
	case AtStart:
		return "start"
	case AtFinish:
		return "end"
	}
	return stops[e.Stop].Name
}

// A Leg is the way from one fill to the next. Distances on the trip meter are counted
// from zero at the fill, as the bike shows them.
type Leg struct {
	leg.Leg
	From, To           End
	FromVisit, ToVisit int          // into Ride.Visits; -1 for none
	FromAt, ToAt       route.Metres // along the line
	Mixture            leg.Mixture  // the worse of before and after pouring

	SafeTo       route.Metres // on the trip meter: the reserve is still whole
	DryAt        route.Metres // on the trip meter
	DryAtHigh    route.Metres // DryAt by the high figures
	TurnBack     route.Metres // on the trip meter
	TurnBackAt   orb.Point    // of TurnBack
	TurnBackHigh route.Metres // by the high figures, with nothing kept back
	TurnBackBy   route.Metres // on the trip meter: the sooner of the two
	TurnBackByAt route.Metres // along the line, of TurnBackBy

	TurnBackByPoint orb.Point // on the ground, of TurnBackBy

	WayOut *WayOut // the last from which a pump other than the next is reached by road; nil for none
}

// A WayOut is where a leg is left by road for a pump that may be leaned on.
type WayOut struct {
	Way   int          // into [byroad.Ways]
	At    route.Metres // along the line
	Trip  route.Metres // on the trip meter
	Spare fuel.Litres  // left at the pump, on the high figures
}

// Trip gives the length of the leg on the trip meter of a bike.
func (l Leg) Trip(b fuel.Bike) route.Metres { return b.Shown(l.Drink.Ridden) }

// TurnsBack tells whether there is a last place on the leg to turn back from: not where that is any
// point of it, nor where it is none.
func (l Leg) TurnsBack(b fuel.Bike) bool { return l.TurnBackBy > 0 && l.TurnBackBy < l.Trip(b) }

// Below tells whether the leg is ridden below grade.
func (l Leg) Below() bool { return l.Mixture.Verdict == octane.Below }

// NoFill tells whether a leg begins on the way where no pump is counted: no can is filled
// there, and what is in one is not known.
func (r *Ride) NoFill(i int) bool { return i == 0 && r.Start.OnTheWay && !r.Legs[0].From.HasStop() }
