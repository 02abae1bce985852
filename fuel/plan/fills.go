package plan

import (
	"cmp"
	"slices"

	"lastpump/fuel"
	"lastpump/octane"
)

// drop is what there is in an empty tank: its grade is not told by a nought.
const drop fuel.Litres = 1e-12

// fills says what to take at each stop and what is then in the tank. The tank
// is a mixture of all its petrol, the unusable included.
func (d *draft) fills() {
	tank := d.startTank(max(drop, d.plan.Start.Fuel+d.bike.Unusable))
	if d.planned() {
		m := d.mixture(tank)
		d.plan.Start.Mixture = &m
	}
	var can octane.Mixture
	for k := range d.nodes {
		n := d.nodes[k]
		if k == len(d.plan.Legs) || d.plan.Legs[k].Can == 0 {
			can = octane.Mixture{} // rides empty; a rest in it is not counted on
		}
		d.arriving = append(d.arriving, tank)
		if n.visit >= 0 {
			tank, can = d.fill(k, tank, can)
		} else if k == 0 && d.plan.Legs[0].Can > 0 {
			can = octane.Mixture{}.AddGrade(float64(d.plan.Legs[0].Can), d.plan.Start.Grade, d.bike.Needs)
		}
		d.leaving = append(d.leaving, tank)
		if k < len(d.plan.Legs) {
			var worst octane.Mixture
			worst, tank, can = d.burn(k, tank, can)
			d.plan.Legs[k].Mixture = d.mixture(worst)
		}
	}
}

// startTank gives what is in the tank at the start: of the grade that is said, or on the
// way what the whole plan has there, or of the need.
func (s *survey) startTank(l fuel.Litres) octane.Mixture {
	if s.planned() {
		return s.stands.tank.Resize(float64(l))
	}
	return octane.Mixture{}.AddGrade(float64(l), s.startGrade(), s.in.Bike.Needs)
}

// startGrade gives the grade of what is in the tank at the start: what is said, or the
// need.
func (s *survey) startGrade() octane.Grade {
	if g := s.in.Options.StartGrade; g.Scale != "" {
		return g
	}
	return s.in.Bike.Needs
}

// planned tells whether the mixture at the start is that of the whole plan.
func (s *survey) planned() bool {
	return s.in.Options.StartGrade.Scale == "" && s.stands != nil && s.stands.tank.Volume() > 0
}

// fill fills up at a node's stop, with the lowest grade sold with which the
// mixture of the leg ahead meets the need, else with the highest.
func (d *draft) fill(k int, tank, can octane.Mixture) (octane.Mixture, octane.Mixture) {
	v := &d.plan.Visits[d.nodes[k].visit]
	f := d.litres(k, can)
	grades := d.lowestFirst(v.Stop.Grades)
	if len(grades) == 0 {
		f.Verdict = octane.NotKnown
		tank = tank.AddUnknown(float64(f.Litres), d.bike.Needs)
		if f.Can > 0 {
			can = can.AddUnknown(float64(f.Can), d.bike.Needs)
		}
	}
	for i, g := range grades {
		t := tank.AddGrade(float64(f.Litres), g, d.bike.Needs)
		c := can
		if f.Can > 0 {
			c = can.AddGrade(float64(f.Can), g, d.bike.Needs)
		}
		if i+1 == len(grades) || d.meets(k, t, c) {
			f.Grade, f.HasGrade, f.Verdict = g, true, g.Against(d.bike.Needs)
			tank, can = t, c
			break
		}
	}
	v.Fill = &f
	m := d.mixture(tank)
	v.Mixture = &m
	return tank, can
}

// meets tells whether a tank and a can meet the need over the leg ahead.
func (d *draft) meets(k int, tank, can octane.Mixture) bool {
	if k < len(d.plan.Legs) {
		tank, _, _ = d.burn(k, tank, can)
	}
	return tank.Against(d.bike.Needs) == octane.Meets
}

// litres gives how much goes into the tank and the can at a node.
func (d *draft) litres(k int, can octane.Mixture) Fill {
	full := d.bike.Usable()
	f := Fill{TankAfter: full}
	if k == 0 {
		f.Litres = full - d.plan.Start.Fuel
		f.Low, f.High = f.Litres, f.Litres
	} else {
		l := d.plan.Legs[k-1]
		room := func(used fuel.Litres) fuel.Litres {
			return full - min(full, max(0, l.Start+l.Can-used))
		}
		f.Low, f.Litres, f.High = room(l.Drink.Fuel.Low), room(l.Drink.Fuel.Likely), room(l.Drink.Fuel.High)
	}
	if k < len(d.plan.Legs) {
		f.Can = max(0, d.plan.Legs[k].Can-fuel.Litres(can.Volume()))
	}
	return f
}

// burn rides a leg on a tank and a can: it gives the worst mixture of the leg,
// before and after pouring, and what is left in tank and can at its end. What is
// still in the can there goes into the tank as far as there is room.
func (d *draft) burn(k int, tank, can octane.Mixture) (worst, left, canLeft octane.Mixture) {
	l := d.plan.Legs[k]
	worst = tank
	level := l.Start + d.bike.Unusable // in the tank, by the likely figures
	down := func(to fuel.Litres) {
		tank = tank.Draw(tank.Volume() - float64(to))
	}
	tip := func(litres fuel.Litres) {
		part := can.Draw(can.Volume() - float64(litres))
		can = can.Draw(float64(litres))
		tank = tank.AddMixture(part)
	}
	var poured fuel.Litres
	if l.Can > 0 {
		for _, p := range d.poursOf(k) {
			down(max(0, level+poured-p.used))
			tip(p.litres)
			poured += p.litres
			worst = octane.Worse(worst, tank, d.bike.Needs)
		}
	}
	down(max(d.bike.Unusable, level+poured-l.Drink.Fuel.Likely))
	if rest := min(l.Can-poured, d.bike.Tank-fuel.Litres(tank.Volume())); rest > 1e-9 {
		tip(rest)
	}
	return worst, tank, can
}

// lowestFirst orders grades by what they are worth to this engine.
func (d *draft) lowestFirst(grades []octane.Grade) []octane.Grade {
	sorted := slices.Clone(grades)
	slices.SortStableFunc(sorted, func(a, b octane.Grade) int {
		x, y := a.In(d.bike.Needs.Scale), b.In(d.bike.Needs.Scale)
		return cmp.Or(cmp.Compare(x.Low, y.Low), cmp.Compare(x.High, y.High))
	})
	return sorted
}

// mixture gives what a tank is worth to this engine.
func (d *draft) mixture(m octane.Mixture) Mixture {
	return Mixture{Low: m.Low(), High: m.High(), Scale: d.bike.Needs.Scale, Verdict: m.Against(d.bike.Needs)}
}
