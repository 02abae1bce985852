package plan

import (
	"lastpump/fuel"
	"lastpump/route"
)

// turnBack gives each leg its three figures on the trip meter: up to where the
// reserve is whole, where the tank is dry, and by where to turn back.
func (d *draft) turnBack() {
	for i := range d.plan.Legs {
		l := &d.plan.Legs[i]
		with := l.Start + l.Can
		l.SafeTo = d.bike.Shown(d.trip(i, with-l.Kept, likely))
		l.DryAt = d.bike.Shown(d.trip(i, with, likely))
		l.DryAtHigh = d.bike.Shown(d.trip(i, with, high))
		if d.noFill(i) { // there is no fuel to turn back to
			l.TurnBackAt, l.TurnBackByAt = d.in.Line.At(l.FromAt), l.FromAt
			continue
		}
		ridden, at := d.farthest(i, with-l.Kept, likely)
		riddenHigh, atHigh := d.farthest(i, with, high)
		l.TurnBack, l.TurnBackAt = d.bike.Shown(ridden), d.in.Line.At(at)
		l.TurnBackHigh = d.bike.Shown(riddenHigh)
		l.TurnBackBy, l.TurnBackByAt = l.TurnBack, at
		if riddenHigh < ridden {
			l.TurnBackBy, l.TurnBackByAt = l.TurnBackHigh, atHigh
		}
	}
}

// A which says by which of the figures a distance is sought.
type which int

const (
	low which = iota
	likely
	high
)

func (w which) of(f fuel.Figures) fuel.Litres {
	return [...]fuel.Litres{f.Low, f.Likely, f.High}[w]
}

// trip gives the distance ridden from the beginning of a leg until the litres
// are used: half the detour first, then on along the line as if the next stop
// were not there, and past the end of the line at the leg's mean rate. It is
// never under 0.
func (d *draft) trip(i int, l fuel.Litres, w which) route.Metres {
	if l <= 0 {
		return 0
	}
	a := d.nodes[i]
	off := w.of(d.course.Detour(a.at, a.half))
	if l < off {
		return a.half * route.Metres(l/off)
	}
	spot := [...]func(route.Metres, fuel.Litres) fuel.Spot{
		d.course.ReachLow, d.course.ReachLikely, d.course.ReachHigh,
	}[w](a.at, l-off)
	ridden := a.half + spot.Ridden
	leg := d.plan.Legs[i].Drink
	if need := w.of(leg.Fuel); spot.Left > 0 && need > 0 {
		ridden += leg.Ridden * route.Metres(spot.Left/need)
	}
	return ridden
}

// farthest gives the farthest point of a leg from which riding out and back
// uses no more than the litres: half the detour, the line, and half the detour
// to the stop ahead. The place given is along the line, where the detour leaves it.
func (d *draft) farthest(i int, l fuel.Litres, w which) (ridden, at route.Metres) {
	a, b := d.nodes[i], d.nodes[i+1]
	if l <= 0 {
		return 0, a.at
	}
	behind := 2 * w.of(d.course.Detour(a.at, a.half))
	if l < behind {
		return a.half * route.Metres(l/behind), a.at
	}
	reach := d.course.ReachAndBack
	if w == high {
		reach = d.course.ReachAndBackHigh
	}
	spot := reach(a.at, l-behind)
	if spot.At < b.at {
		return a.half + spot.Ridden, spot.At
	}
	leg := d.plan.Legs[i].Drink
	ahead := 2 * w.of(d.course.Detour(b.at, b.half))
	left := l - (w.of(leg.Fuel) + w.of(leg.Back) - ahead)
	if ahead == 0 || left >= ahead {
		return leg.Ridden, b.at
	}
	return leg.Ridden - b.half*route.Metres(1-max(left, 0)/ahead), b.at
}
