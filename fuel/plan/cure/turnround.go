package cure

import (
	"slices"

	"lastpump/fuel/trip"
)

// otherWay tries riding the loop the other way round: climbs become descents, and
// what comes after a leg comes before it.
func (f *finder) otherWay() {
	t := f.sick.Trip
	if *f.left <= 0 || t.Stands() != nil || t.HasHours() { // by the clock all would be another ride
		return
	}
	where := func(s trip.Span) []trip.Span {
		return trip.Inner(trip.Span{From: t.Mirror(s.To), To: t.Mirror(s.From)})
	}
	f.tryOn(trial{t.Reversed(), where, f.sick.Change.Moved(t.Mirror), true},
		Cure{Kind: Reverse, Cost: Other, Reverse: true})
}

// elsewhere tries beginning a closed loop elsewhere: at the stops at the ends of the leg, then
// at those between the others. The first that cures is enough. In the middle of a leg, where there is no pump, no loop
// begins: that would hide the gap at its ends.
func (f *finder) elsewhere() {
	t := f.sick.Trip
	if !t.Line.Closed || t.Stands() != nil || t.HasHours() { // on the way it is too late
		return
	}
	nodes := []int{f.Leg, f.Leg + 1}
	for k := f.legs[0]; k <= f.legs[len(f.legs)-1]+1; k++ {
		if !slices.Contains(nodes, k) {
			nodes = append(nodes, k)
		}
	}
	for _, k := range nodes {
		n := f.sick.Nodes[k]
		at := n.On.At
		if !n.HasStop() || n.On.Half != 0 || trip.NearEnd(at, 0) || trip.NearEnd(at, t.Length) {
			continue
		}
		if *f.left <= 0 {
			return
		}
		b := t.RotatedTo(at)
		c := trip.Change{FullStart: true}.On(f.sick.Change.Moved(b.Moved))
		name := t.Stops[n.Stop].Name
		cure := Cure{Kind: Begin, Cost: Other, BeginAt: at, HasBegin: true,
			BeginWas: t.Line.BeforeTurning(at), Stops: []string{name}, BeginOnce: f.passedOnce(name)}
		where := func(s trip.Span) []trip.Span { return trip.Inner(b.Where(s)...) }
		if f.tryOn(trial{b, where, c, true}, cure) {
			return
		}
	}
}

// passedOnce tells whether a stop's name says where it is passed.
func (f *finder) passedOnce(name string) bool {
	n := 0
	for _, g := range f.sick.Trip.Sightings {
		if f.sick.Trip.Stops[g.Stop].Name == name {
			n++
		}
	}
	return n == 1
}
