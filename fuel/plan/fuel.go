package plan

import "lastpump/fuel"

// fuel says of each leg what it takes, what is in the tank and whether that
// holds. The bike's own can rides full on a leg that is not OK without it, or at
// whose end a dry pump would strand without it; else it rides empty.
func (d *draft) fuel() {
	for i := range d.plan.Legs {
		d.drink(i)
	}
	full := d.bike.Usable()
	for i := range d.plan.Legs {
		l := &d.plan.Legs[i]
		l.Start = full
		if i == 0 {
			d.startFuel()
			if d.nodes[0].visit < 0 {
				l.Start = d.plan.Start.Fuel
			}
		}
		d.judge(i)
	}
	if d.bike.Can <= 0 {
		return
	}
	for i := range d.plan.Legs {
		l := &d.plan.Legs[i]
		if d.noFill(i) {
			continue // nobody has said what is in it
		}
		dry := d.ifDry(i + 1)
		if l.Verdict != OK || dry != nil && dry.Outcome == Stranded {
			l.Can = d.bike.Can
			d.judge(i)
		}
	}
}

// drink measures a leg: the line, and half the detour at each end.
func (d *draft) drink(i int) {
	l := &d.plan.Legs[i]
	a, b := d.nodes[i], d.nodes[i+1]
	l.Drink = d.course.Between(a.at, b.at)
	l.Detour = d.course.AddDetour(&l.Drink, a.at, a.half).Likely
	l.Detour += d.course.AddDetour(&l.Drink, b.at, b.half).Likely
	l.Kept = d.kept(l.Drink)
}

// kept gives the reserve of a leg.
func (d *draft) kept(dr fuel.Drink) fuel.Litres {
	r := d.in.Options.Reserve
	kept := fuel.Litres(r.Share) * d.bike.Usable()
	if dr.Ridden > 0 {
		kept = max(kept, dr.Fuel.Likely*fuel.Litres(r.Distance/dr.Ridden))
	}
	return kept
}

// startFuel says what is in the tank on arriving at the start.
func (d *draft) startFuel() {
	s := &d.plan.Start
	s.Grade, s.Assumed = d.startGrade(), d.in.Options.StartGrade.Scale == ""
	s.Fuel = d.startWith(d.plan.Legs[0].Drink)
}

// startWith gives the litres at the start, for what the first leg takes.
func (d *draft) startWith(first fuel.Drink) fuel.Litres {
	full := d.bike.Usable()
	switch o := d.in.Options; {
	case d.change.fullStart && !d.plan.Here.OnTheWay():
	case o.HasStartFuel:
		return o.StartFuel
	case o.SinceFill > 0:
		return max(0, full-rate(first).Over(o.SinceFill))
	}
	return full
}

// rate gives the mean consumption of a leg per kilometre ridden.
func rate(dr fuel.Drink) fuel.Consumption {
	if dr.Ridden <= 0 {
		return 0
	}
	return fuel.Consumption(float64(dr.Fuel.Likely) / dr.Ridden.Kilometres() * 100)
}

// slack is what rounding may take from a leg with a can: a can of just the litres
// that are lacking is enough.
func (l Leg) slack() fuel.Litres {
	if l.Can > 0 {
		return 1e-9
	}
	return 0
}

// judge gives a leg its verdict from what it sets out with.
func (d *draft) judge(i int) {
	l := &d.plan.Legs[i]
	need := l.Drink.Fuel
	with := l.Start + l.Can
	l.Arrive = with - need.Likely
	l.Short = 0
	s := l.slack()
	switch {
	case l.Arrive < -s:
		l.Verdict, l.Short = Short, -l.Arrive
	case l.Arrive >= l.Kept-s && need.High <= with+s:
		l.Verdict = OK
	default:
		l.Verdict = Tight
	}
	if l.HasHeadroom = need.Likely > 0; l.HasHeadroom {
		l.Headroom = float64(with/need.Likely) - 1
	}
}
