// Package trip holds a ride as it may be changed: the line as one bike drinks it, the
// stops that it passes, and a draft of the whole ride for any change to where it fills,
// how thirsty it is, what can it carries.
//
// Start with [New], which looks up once what all drafts share, then [Trip.Trial] for the
// verdicts of one change or [Trip.Draft] for all that a plan shows of it.
//
// The idea that surprises: nothing is decided on a formula of its own. Whatever may be
// changed is a [Change]; a draft is made with it, and what comes of it is read from there.
//
// # The order of a draft
//
//	visits → places → ends of legs → fuel → fills and mixture → dry places → trip meter
//
// # Limits
//
// Every fill is to the brim. A leg that does not hold is planned on as if it had been
// ridden.
package trip

import (
	"slices"
	"strings"
	"time"

	"lastpump/fuel"
	"lastpump/fuel/leg"
	"lastpump/fuel/stop"
	"lastpump/fuel/trip/byroad"
	"lastpump/fuel/wayout"
	"lastpump/octane"
	"lastpump/route"
)

// Inputs are what a trip is made from.
type Inputs struct {
	Line      *route.Line
	Grounds   route.Grounds
	Stops     []stop.Stop
	Bike      fuel.Bike
	Options   Options
	Roads     []wayout.Way   // the ways out, where they are known
	Alongside []octane.Grade // what the other bikes of a group need
	Carried   leg.Carried    // the cans that make up the bike's
}

// Options are the rider's choices that shape a ride.
type Options struct {
	Reserve      leg.Reserve
	Corridor     route.Metres  // how far off the line a stop is still visited
	Detours      route.Metres  // where stops are chosen: how far off the line, if farther than the corridor
	Trust        stop.Standing // the least standing that is counted: seen, phoned or map
	Skip         []string      // names of stops to leave out
	StartFuel    fuel.Litres   // usable; meaningless unless HasStartFuel
	HasStartFuel bool
	SinceFill    route.Metres // ridden since the tank was full; 0 for full
	StartGrade   octane.Grade // of what is in the tank; the need where its Scale is ""
	Thirst       float64      // on the whole consumption: wind, tyres, load
	Cans         leg.Cans     // the sizes sold; nil for those in litres
	CanNow       fuel.Litres  // in the can where the rider stands
	HasCanNow    bool         // that is said, be it that it is empty
	CanNowGrade  octane.Grade // of that; as at the start where its Scale is ""
	Today        time.Time    // the day the ages of confirmations are counted to
}

// Skipped tells whether the rider leaves a stop out.
func (o Options) Skipped(s stop.Stop) bool {
	for _, name := range o.Skip {
		if strings.EqualFold(s.Name, name) {
			return true
		}
	}
	return false
}

// SaysCan tells whether it is said what is in the can where the rider stands.
func (o Options) SaysCan() bool { return o.HasCanNow || o.CanNow > 0 }

// A Trip is what all drafts of a ride share: the line as the bike drinks it, and which
// stops it passes. It is looked up once; changes are then tried again and again on it.
type Trip struct {
	Inputs
	Course    *fuel.Course
	Ways      *byroad.Ways // out, and to stops off the line; nil where no roads are known
	Length    route.Metres // of the line
	Sightings []Sighting   // each passing of each stop, stop by stop
	Beside    []Sighting   // where the line comes closest to each stop that it does not pass

	runs     []route.Run
	merits   []merit        // of each stop
	ordered  []Sighting     // in order along the line; nil until they are asked for
	reversed *Trip          // the other way round; nil until it is asked for
	metered  []*fuel.Course // see roads; nil until they are asked for
	numbers  []int          // of each stop, the number of its place; nil until it is asked for
	passed   []Node         // counted places that the ride passes; nil until it is asked for
	stands   *Standpoint    // nil at the start of the line
	hours    Hours          // nil where no clock was asked
	late     []int          // stops that are shut for too long for who is late, in order
}

// New looks up which stops a line passes, and measures the line with the bike.
func New(in Inputs) *Trip {
	t := &Trip{Inputs: in, runs: in.Line.Runs(in.Grounds), Length: in.Line.Length()}
	t.Ways = byroad.Match(in.Line, in.Stops, in.Options.Corridor, in.Roads)
	t.Course = fuel.NewCourse(t.runs, in.Bike, in.Options.Thirst)
	for i, st := range in.Stops {
		t.merits = append(t.merits, t.meritOf(st))
		passages := in.Line.Passages(st.At, in.Options.Corridor)
		t.Sightings = append(t.Sightings, t.sight(i, passages)...)
		if len(passages) == 0 {
			near, _ := in.Line.Nearest(st.At, 0, t.Length)
			t.Beside = append(t.Beside, t.sight(i, []route.Passage{near})...)
		}
	}
	return t
}

// Work tells how much there is to do in a trial with so many legs, a leg being the unit:
// each passing of a stop is looked at, too.
func (t *Trip) Work(legs int) int { return legs + len(t.Sightings)/16 }

// RunAt gives the run of line at a place along it.
func (t *Trip) RunAt(at route.Metres) route.Run { return t.runs[t.Course.RunAt(at)] }

// RunsBetween gives the runs of line that lie between two places, the first from where it
// begins.
func (t *Trip) RunsBetween(from, to route.Metres) []route.Run {
	first := t.Course.RunAt(from)
	last := first
	for last < len(t.runs) && t.runs[last].From < to {
		last++
	}
	return t.runs[first:last]
}

// Thirstier gives the trip as a bike rides it that drinks so many times as much of
// everything.
func (t *Trip) Thirstier(times float64) *Trip {
	n := t.fresh()
	n.Options.Thirst *= times
	n.Course = t.Course.Thirstier(times)
	return n
}

// Drinking gives the trip as a bike rides it of which so much was learnt.
func (t *Trip) Drinking(l *fuel.Learnt) *Trip {
	n := t.fresh()
	n.Bike.Learnt = l
	n.Course = fuel.NewCourse(t.runs, n.Bike, n.Options.Thirst)
	return n
}

// Carrying gives the trip with other cans on the bike.
func (t *Trip) Carrying(c leg.Carried) *Trip {
	n := t.fresh()
	n.Carried, n.Bike.Can = c, c.Total()
	return n
}

// Told gives the trip with a stop as somebody has told of it, in the same place.
func (t *Trip) Told(i int, s stop.Stop) *Trip {
	n := t.fresh()
	n.Stops, n.merits, n.ordered = slices.Clone(t.Stops), slices.Clone(t.merits), t.ordered
	n.Stops[i], n.merits[i] = s, n.meritOf(s)
	return n
}

// fresh gives a copy of the trip without what was worked out on the way.
func (t *Trip) fresh() *Trip {
	n := *t
	n.numbers, n.passed, n.reversed, n.ordered, n.metered = nil, nil, nil, nil, nil
	return &n
}
