package trip

import (
	"slices"

	"lastpump/fuel"
	"lastpump/fuel/leg"
	"lastpump/fuel/trip/byroad"
	"lastpump/route"
)

// An Off is a way out by road from a dry place.
type Off struct {
	Way   int         // into [byroad.Ways]
	Fuel  fuel.Amount // to the pump at its end
	Spare fuel.Litres // left there at the most, see [fuel.Most]; negative is the lack
	Why   Perhaps     // "" where it may be leaned on
}

// A Perhaps tells why a way out may not be leaned on: it is told of, and changes nothing else.
type Perhaps string

// The reasons, the first that holds.
const (
	NotListed   Perhaps = "not listed"    // its pump is not among the stops
	NotCounted  Perhaps = "not counted"   // its pump sells none, or is left out
	NotSure     Perhaps = "not sure"      // nobody has seen its pump or spoken to it within a year
	MaybeClosed Perhaps = "may be closed" // the road, or its ground is not known
	MaybeShut   Perhaps = "may be shut"   // the pump is by its hours, or nobody knows them
	OutOfReach  Perhaps = "out of reach"  // at the most
)

// AllPerhaps lists the reasons.
func AllPerhaps() []Perhaps {
	return []Perhaps{NotListed, NotCounted, NotSure, MaybeClosed, MaybeShut, OutOfReach}
}

// outKey is where a clock keeps what it says of the pump at the end of a way out that is left for
// at a passing; no passing lies there.
func (t *Trip) outKey(way int, at route.Metres) Sighting {
	return Sighting{Stop: t.Ways.All[way].ToStop, Passage: route.Passage{At: at, Off: -1}, ByRoad: ByRoad{Way: way + 1}}
}

// IsOut tells whether what a clock says is of the end of a way out.
func (g Sighting) IsOut() bool { return g.Off < 0 }

// Out gives where a clock is to look at the end of a way out, which is left for at an end of a
// leg; not ok where no stop is there.
func (t *Trip) Out(way int, from leg.End) (g Sighting, end leg.End, ok bool) {
	w := &t.Ways.All[way]
	if w.ToStop < 0 {
		return g, end, false
	}
	road := fuel.Road{Ground: slices.Clip(w.Road.Ground)}
	switch {
	case from.Off != nil:
		road.Ground = append(road.Ground, from.Off.Ground...)
	case from.Half > 0:
		road.Ground = append(road.Ground, fuel.RoadGround{Ground: route.Unknown, Length: from.Half})
	}
	return t.outKey(way, from.At), leg.End{At: from.At, Half: road.Length(), Off: &road}, true
}

// perhaps tells why a way that is left for at a place along the line may not be leaned on; "" where
// it may. This is the one home of that rule.
func (t *Trip) perhaps(way int, at route.Metres) Perhaps {
	w := &t.Ways.All[way]
	switch {
	case w.ToStop < 0:
		return NotListed
	case t.merits[w.ToStop].unfit != "":
		return NotCounted
	case !t.Stops[w.ToStop].Sure(t.Options.Today):
		return NotSure
	case w.Doubtful():
		return MaybeClosed
	}
	if t.hours != nil {
		if h, ok := t.hours[t.outKey(way, at)]; !ok || !h.Reached || h.LongShut {
			return MaybeShut
		}
	}
	return ""
}

// WayOut gives the way out by road from a node, if its place is dry, that takes the least at
// the most, of those that may be leaned on and lead to another place; not ok where there is
// none.
func (t *Trip) WayOut(c *fuel.Course, n Node, numbers []int, leftOut func(stop int) bool) (best Off, ok bool) {
	if t.Ways == nil || !n.HasStop() {
		return best, false
	}
	for _, i := range t.Ways.From(n.Stop) {
		w := &t.Ways.All[i]
		if t.perhaps(i, n.On.At) != "" || leftOut(w.ToStop) || t.sameDry(n, w, numbers) {
			continue
		}
		if f := c.RoadOut(&w.Road); !ok || f.At(fuel.Most) < best.Fuel.At(fuel.Most) {
			best, ok = Off{Way: i, Fuel: f}, true
		}
	}
	return best, ok
}

// sameDry tells whether the pump at the end of a way is dry with that of a node.
func (t *Trip) sameDry(n Node, w *byroad.Way, numbers []int) bool {
	if w.ToStop >= 0 && numbers[w.ToStop] == n.Place {
		return true
	}
	return route.Distance(t.Stops[n.Stop].At, w.Pump) <= placeReach
}

// offOf gives what there is to tell of the ways out from a node: of the one that counts, or else,
// of those that what is left reaches, likely, the one that takes the least; of roads that may be
// closed only where no other leads out.
func (d *Draft) offOf(k int, to rescuers) *Off {
	l := d.Legs[k-1].Leg
	left := l.With() - l.Drink.Fuel.Likely
	spare := func(off fuel.Amount) fuel.Litres { return l.With() - l.Drink.Amount.Plus(off).At(fuel.Most) }
	if off := to.off; to.hasOff && spare(off.Fuel) >= -leg.Hair {
		off.Spare = spare(off.Fuel)
		return &off
	}
	var best *Off
	var shut bool
	n := d.Nodes[k]
	for _, i := range d.Trip.Ways.From(n.Stop) {
		w := &d.Trip.Ways.All[i]
		f := d.course.RoadOut(&w.Road)
		if left < f.Likely || w.ToStop >= 0 && d.leftOut(w.ToStop) || d.Trip.sameDry(n, w, d.numbers) {
			continue
		}
		if maybe := w.Doubtful(); best == nil || shut && !maybe || shut == maybe && f.Likely < best.Fuel.Likely {
			shut = maybe
		} else {
			continue
		}
		why := d.Trip.perhaps(i, n.On.At)
		if why == "" {
			why = OutOfReach
		}
		best = &Off{Way: i, Fuel: f, Spare: spare(f), Why: why}
	}
	return best
}

// lastWayOut gives the last way by which a leg may be left for a pump other than the next that may
// be leaned on, with what is left on the high figures; of two that begin at one place the one that
// takes less. It is nil where there is none.
func (d *Draft) lastWayOut(i int) (best *WayOut) {
	if d.Trip.Ways == nil {
		return nil
	}
	l, from, to := d.Legs[i], d.Nodes[i], d.Nodes[i+1]
	ways := d.Trip.Ways.From(-1)
	if s := d.Trip.stands; i == 0 && s != nil && s.AtStop { // where he stands may be dry
		ways = slices.Concat(d.Trip.Ways.From(s.Stop), ways)
	}
	for _, k := range ways {
		w := &d.Trip.Ways.All[k]
		at, ridden := w.Along, d.Ways[i].Ridden(w.Along)
		if w.From >= 0 {
			at, ridden = l.FromAt, 0
		} else if at <= l.FromAt || at >= l.ToAt {
			continue
		}
		if d.Trip.perhaps(k, at) != "" || d.leftOut(w.ToStop) ||
			to.HasStop() && d.Trip.sameDry(to, w, d.numbers) || from.HasStop() && d.Trip.sameDry(from, w, d.numbers) {
			continue
		}
		spare := l.With() - d.Ways[i].Leaving(ridden, d.course.RoadOut(&w.Road), fuel.High)
		if spare < 0 || best != nil && (at < best.At || at == best.At && spare <= best.Spare) {
			continue
		}
		best = &WayOut{Way: k, At: at, Trip: d.Bike.Shown(ridden), Spare: spare}
	}
	return best
}
