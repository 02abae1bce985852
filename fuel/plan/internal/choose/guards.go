package choose

import (
	"cmp"
	"slices"

	"lastpump/fuel/leg"
	"lastpump/fuel/stop"
	"lastpump/fuel/trip"
	"lastpump/octane"
	"lastpump/route"
)

// Guards are what a ride may not do for all that it is worth. They are kept wherever a
// choice keeps them; where none does, as few are broken as can be.
//
//   - No leg leans on a can that would be OK without one if every counted place on it were
//     filled at.
//   - No good stop is ridden past before a fill that is not sure or below grade. Good is a
//     sure stop by the line that sells a grade that meets.
type guards struct {
	trip   *trip.Trip
	good   []route.Metres // along the line, of the passings of good stops
	poor   []bool         // of each stop, whether a fill there is not sure or below grade
	places []trip.Node    // counted ones that the ride passes
	notOK  []int          // of each place, the legs before it from place to place that are not OK without a can
}

// newGuards makes the guards of a trip on which one may fill at some sightings; what is of
// one place with a stop at an end is not among them.
func newGuards(t *trip.Trip, may []trip.Sighting) *guards {
	g := &guards{trip: t, places: t.PassedPlaces(), poor: make([]bool, len(t.Stops))}
	for i, st := range t.Stops {
		g.poor[i] = g.isPoor(st)
	}
	for _, s := range may {
		if g.isGood(s) {
			g.good = append(g.good, s.At)
		}
	}
	slices.Sort(g.good)
	if t.Bike.Can > 0 {
		g.notOK = make([]int, len(g.places))
		for i := 1; i < len(g.places); i++ {
			g.notOK[i] = g.notOK[i-1]
			if !g.isOK(g.places[i-1], g.places[i]) {
				g.notOK[i]++
			}
		}
	}
	return g
}

// isOK tells whether a leg between two nodes is OK without a can.
func (g *guards) isOK(a, b trip.Node) bool {
	d := leg.NewWay(g.trip.Course, a.On, b.On).Drink
	l := leg.Leg{Drink: d, Start: g.trip.Bike.Usable(), Kept: g.trip.Options.Reserve.Kept(d, g.trip.Bike.Usable())}
	if a.Kind == trip.AtStart && !a.HasStop() {
		l.Start = g.trip.StartFuel(d, trip.Change{})
	}
	return l.Judged().Verdict == leg.OK
}

// broken counts the guards that a leg breaks; leans tells whether it leans on a can.
func (g *guards) broken(a, b trip.Node, leans bool) (n int64) {
	if b.HasStop() && g.poor[b.Stop] {
		n = int64(g.upTo(b.On.At) - g.upTo(a.On.At))
	}
	if leans && g.needless(a, b) {
		n++
	}
	return n
}

// upTo counts the passings of good stops up to a place along the line.
func (g *guards) upTo(at route.Metres) int {
	n, _ := slices.BinarySearchFunc(g.good, at, func(s, at route.Metres) int {
		if s <= at {
			return -1
		}
		return 1
	})
	return n
}

// isGood tells whether a sighting is of a good stop.
func (g *guards) isGood(s trip.Sighting) bool {
	st := g.trip.Stops[s.Stop]
	return s.Off <= stop.OnLine && st.Sure(g.trip.Options.Today) && leg.SellsMeeting(st.Grades, g.trip.Bike.Needs)
}

// isPoor tells whether a fill at a stop is not sure, or of a grade below the need.
func (g *guards) isPoor(s stop.Stop) bool {
	grades := leg.LowestFirst(s.Grades, g.trip.Bike.Needs)
	return !s.Sure(g.trip.Options.Today) ||
		len(grades) > 0 && grades[len(grades)-1].Against(g.trip.Bike.Needs) == octane.Below
}

// needless tells whether a leg would be OK without a can if every counted place on it were
// filled at.
func (g *guards) needless(a, b trip.Node) bool {
	at := func(p trip.Node, at route.Metres) int { return cmp.Compare(p.On.At, at) }
	first, _ := slices.BinarySearchFunc(g.places, a.On.At, at)
	last, _ := slices.BinarySearchFunc(g.places, b.On.At, at)
	for first < last && (g.places[first].On.At <= a.On.At || together(a, g.places[first])) {
		first++
	}
	for first < last && together(g.places[last-1], b) {
		last--
	}
	return first < last && g.notOK[last-1] == g.notOK[first] && g.isOK(a, g.places[first]) && g.isOK(g.places[last-1], b)
}

// together tells whether the stops at two nodes are one place.
func together(a, b trip.Node) bool {
	return a.HasStop() && b.HasStop() && trip.Together(a.On.At, b.On.At)
}

// of counts the guards that a ride breaks.
func (g *guards) of(d *trip.Draft) (n int64) {
	for i, l := range d.Legs {
		n += g.broken(d.Nodes[i], d.Nodes[i+1], d.Asked[i].Plan > 0 && l.Can > 0)
	}
	return n
}
