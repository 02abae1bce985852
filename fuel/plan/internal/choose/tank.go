package choose

import (
	"lastpump/fuel"
	"lastpump/fuel/leg"
	"lastpump/fuel/trip"
	"lastpump/octane"
	"lastpump/route"
)

// A load is what there is on arriving at a node.
type load struct {
	level     fuel.Litres // usable, in the tank
	tank, can octane.Mixture
	in        fuel.Litres // the can
	// filled is the grade taken at the last stop that sells one that meets, if no leg since has
	// asked for a can: it may have been filled there.
	filled *octane.Grade
}

// startLoad gives what there is at the start but for the tank, which depends on the first
// leg.
func (g *graph) startLoad() load {
	can := g.trip.Bike.Can
	return load{can: g.trip.CanNow(can), in: min(can, g.trip.Options.CanNow)}
}

// ride fills before a leg as a plan does and rides it: it gives what is left, and what the
// leg misses in litres times octane. A can that is filled for a leg farther on is filled
// here only once that leg asks for it: until then it changes nothing.
func (g *graph) ride(a *arc, s stance, from load) (load, int64) {
	n, bike := &g.nodes[a.from], g.trip.Bike
	if a.from == 0 {
		from.level = a.start
		if n.sells {
			from.level = g.trip.StartFuel(g.drink(n, &g.nodes[a.to]), trip.Change{})
		}
		from.tank = g.trip.StartTank(from.level)
	}
	put := g.fillCan(a.from, s, &from)
	l := a.leg()
	if in := from.in + put; in > leg.Hair {
		l = l.WithCan(in)
	}
	var pours []leg.Pour
	if l.Can > 0 && a.plan > 0 {
		pours, l.Drink.Ridden = g.pours(a, l)
		l.Poured = leg.Sum(pours)
		if l.Verdict == leg.Short {
			l.Poured = l.Can
		}
	}
	grade, tank, can := g.fill(a.from, from, put, func(tank, can octane.Mixture) octane.Mixture {
		return l.Burn(bike, pours, tank, can).Worst
	})
	burnt := l.Burn(bike, pours, tank, can)
	left := l.CanLeft(bike.Usable())
	if left <= leg.Hair { // one empty can is like another
		left, burnt.Can = 0, octane.Mixture{}
	}
	to := load{level: max(0, l.Start+l.Poured-a.fuel.Likely), tank: burnt.Tank, can: burnt.Can.DrawTo(float64(left)), in: left,
		filled: from.filled}
	switch {
	case s.asks > 0:
		to.filled = nil
	case n.good:
		to.filled = grade
	}
	return to, trip.Micro(trip.OctaneMissing(a.fuel.Likely, burnt.Worst.Low(), bike.Needs.Number))
}

// A pouring is how a can is poured with so many litres in it.
type pouring struct {
	in     fuel.Litres
	pours  []leg.Pour
	ridden route.Metres // the leg
}

// pours gives how the can is poured on a leg, and how long that is: nearly always from full, as
// the last time.
func (g *graph) pours(a *arc, l leg.Leg) ([]leg.Pour, route.Metres) {
	if a.pouring.in != l.Can {
		from, to := &g.nodes[a.from], &g.nodes[a.to]
		way := leg.Way{Course: g.trip.Course, From: from.On, To: to.On, Drink: g.drink(from, to)}
		a.pouring = pouring{l.Can, way.PoursOut(l, g.trip.Bike.Usable()), way.Drink.Ridden}
	}
	return a.pouring.pours, a.pouring.ridden
}

// fillCan gives what goes into the can at a node before a leg. Where it was filled before
// that, it is so afterwards.
func (g *graph) fillCan(i int, s stance, at *load) fuel.Litres {
	size := g.trip.Bike.Can
	switch n := &g.nodes[i]; {
	case s.asks <= 0:
		return 0
	case n.good:
		return over(size, at.in)
	case at.filled != nil:
		at.can = leg.Add(at.can, over(size, at.in), at.filled, g.trip.Bike.Needs)
		at.in += over(size, at.in)
	case g.fillsCan(i):
		return over(s.asks, at.in)
	}
	return 0
}

// over gives what is missing to so many litres, but for rounding.
func over(to, in fuel.Litres) fuel.Litres {
	if to > in+leg.Hair {
		return to - in
	}
	return 0
}

// fill fills up at a node, and puts litres into the can. Worst gives what the leg ahead is
// then ridden on.
func (g *graph) fill(i int, from load, put fuel.Litres, worst func(tank, can octane.Mixture) octane.Mixture) (
	grade *octane.Grade, tank, can octane.Mixture) {
	n, need := &g.nodes[i], g.trip.Bike.Needs
	if !n.sells {
		return &g.inTank, from.tank, leg.Add(from.can, put, &g.inTank, need)
	}
	usable := g.trip.Bike.Usable()
	with := func(grade *octane.Grade) (tank, can octane.Mixture) {
		return leg.Add(from.tank, usable-min(usable, from.level), grade, need), leg.Add(from.can, put, grade, need)
	}
	take := leg.Take(n.grades, need, func(grade octane.Grade) bool {
		return worst(with(&grade)).Against(need) == octane.Meets
	})
	if take < 0 {
		tank, can = with(nil)
		return nil, tank, can
	}
	tank, can = with(&n.grades[take])
	return &n.grades[take], tank, can
}
