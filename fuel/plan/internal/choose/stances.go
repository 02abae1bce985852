package choose

import (
	"slices"

	"lastpump/fuel"
	"lastpump/fuel/leg"
)

// Whether a stop strands if it is dry, and whether the leg to it asks for a can because of
// that, is known only when it is known where the ride goes on. Nearly always that is the
// next place that the line passes, wherever it is filled at next, and there is one stance.
// Else the search takes each in turn, and drops what turns out otherwise.

// findStances finds for each leg how what its end does if it is dry may turn out.
func (g *graph) findStances() {
	for i := len(g.nodes) - 1; i > 0; i-- {
		if n := &g.nodes[i]; n.isStop {
			n.on = g.onward(i)
		}
	}
	for _, all := range g.arcs {
		for _, a := range all {
			a.stances, a.dry = g.stancesOf(a, a.back), weight{}
			if a.chained || !g.nodes[a.to].isStop {
				continue
			}
			a.dry = worst
			for _, s := range a.stances {
				a.dry = lesser(a.dry, s.weight())
			}
			if len(a.stances) == 0 {
				a.dry = weight{} // there is no way on
			}
		}
	}
}

// onward gives what it may take to ride on from a stop if it is dry. What follows it has
// its own already.
func (g *graph) onward(i int) (on []fuel.Amount) {
	n := &g.nodes[i]
	add := func(f fuel.Amount) {
		if f = nearer(f, n.ahead); !slices.Contains(on, f) {
			on = append(on, f)
		}
	}
	for _, a := range g.arcs[i] {
		if !a.chained {
			add(a.amount)
			continue
		}
		for _, f := range g.chainFrom(a.to, n.Place) {
			add(a.amount.Plus(f))
		}
	}
	return on
}

// chainFrom gives what it takes from a stop to the next of another place.
func (g *graph) chainFrom(i, place int) (all []fuel.Amount) {
	for _, a := range g.arcs[i] {
		if !a.chained {
			all = append(all, a.amount)
			continue
		}
		for _, f := range g.chainFrom(a.to, place) {
			all = append(all, a.amount.Plus(f))
		}
	}
	return all
}

// nearer gives the one of two ways that takes less.
func nearer(fill, passed fuel.Amount) fuel.Amount {
	if passed.Likely < fill.Likely {
		return passed
	}
	return fill
}

// stancesOf gives how the end of a leg may turn out if it is dry; back is what it takes to
// the last fill at another place. The end of the ride has one: nothing.
func (g *graph) stancesOf(a *arc, back fuel.Amount) (all []stance) {
	n := &g.nodes[a.to]
	if !n.isStop {
		return []stance{g.stance(a, nil, nil)}
	}
	back = nearer(back, n.behind)
	for i := range n.on {
		if s := g.stance(a, &n.on[i], &back); !slices.Contains(all, s) {
			all = append(all, s)
		}
	}
	return all
}

// stance gives what comes of a leg where it takes so much to ride on or back from its end;
// nil at the end of the ride.
func (g *graph) stance(a *arc, on, back *fuel.Amount) (s stance) {
	l := a.leg().WithCan(g.can(a.from))
	asks := a.plan
	if on != nil {
		r := leg.Rescues{On: *on, Back: *back, Off: g.nodes[a.to].off, HasOff: g.nodes[a.to].hasOff}
		d := l.IfDry(r)
		s.stranded, s.bare = d.Outcome == leg.Stranded, d.Bare
		asks = max(asks, l.DryLack(r, fuel.Most))
	}
	if asks > 0 && g.trip.Bike.Can > 0 {
		s.asks = leg.PartOf(asks, g.trip.Bike.Can)
	}
	return s
}

// An unsettled stop is one whose next fill is of the same place, so that it is not known
// yet what happens if it is dry.
type unsettled struct {
	arc    *arc // that leads there
	stance stance
	back   *fuel.Amount
	on     fuel.Amount // so far
}

// settle goes on over a leg from a label: it gives what is still unsettled behind it. It is
// not ok where something turns out otherwise than it was taken to.
func (g *graph) settle(l *label, n *arc) (open []unsettled, ok bool) {
	if l.arc == nil {
		return nil, true
	}
	if len(l.open) == 0 && !n.chained {
		return nil, len(l.arc.stances) == 1 && !l.arc.chained || g.holds(unsettled{l.arc, l.stance, l.back, n.amount})
	}
	for _, u := range append(slices.Clip(l.open), unsettled{arc: l.arc, stance: l.stance, back: l.back}) {
		u.on = u.on.Plus(n.amount)
		switch {
		case n.chained:
			open = append(open, u)
		case !g.holds(u):
			return nil, false
		}
	}
	return open, true
}

// holds tells whether a stop turns out as it was taken to.
func (g *graph) holds(u unsettled) bool {
	n := &g.nodes[u.arc.to]
	on, back := nearer(u.on, n.ahead), nearer(*u.back, n.behind)
	return g.stance(u.arc, &on, &back) == u.stance
}
