package trip

import (
	"lastpump/fuel"
	"lastpump/fuel/leg"
	"lastpump/octane"
)

// emptied is what there is in an empty tank: its grade is not told by a nought.
const emptied fuel.Litres = 1e-12

// StartTank gives what is in the tank at the start, where it holds so many usable litres.
func (t *Trip) StartTank(usable fuel.Litres) octane.Mixture {
	return t.startTank(float64(max(emptied, usable+t.Bike.Unusable)))
}

// fills says what to take at each stop and what is then in the tank. The tank is a
// mixture of all its petrol, the unusable included.
func (d *Draft) fills() {
	tank := d.Trip.StartTank(d.Start.Fuel)
	if d.Trip.startsAsPlanned() {
		m := leg.MixtureOf(tank, d.Bike.Needs)
		d.Start.Mixture = &m
	}
	can := d.Trip.CanNow(d.Bike.Can)
	for k, n := range d.Nodes {
		d.Arriving = append(d.Arriving, tank)
		if n.HasStop() {
			tank, can = d.fill(k, tank, can)
		} else if k == 0 {
			can = leg.Add(can, d.CanFilled[0], &d.Start.Grade, d.Bike.Needs)
		}
		d.Leaving = append(d.Leaving, tank)
		if k < len(d.Legs) {
			burnt := d.burn(k, tank, can)
			tank, can = burnt.Tank, burnt.Can
			can = can.DrawTo(float64(d.Legs[k].CanLeft(d.Bike.Usable())))
			d.Legs[k].Mixture = leg.MixtureOf(burnt.Worst, d.Bike.Needs)
		}
	}
}

// CanNow gives what is in a can of a size where the rider stands.
func (t *Trip) CanNow(size fuel.Litres) octane.Mixture {
	grade := t.Options.CanNowGrade
	if grade.Scale == "" {
		grade = t.StartGrade()
	}
	return leg.Add(octane.Mixture{}, min(size, t.Options.CanNow), &grade, t.Bike.Needs)
}

// burn rides a leg on a tank and a can.
func (d *Draft) burn(k int, tank, can octane.Mixture) leg.Burn {
	return d.Legs[k].Burn(d.Bike, d.Pours[k], tank, can)
}

// fill fills up at a node's stop: of the grades sold that meet the need with the lowest
// with which the mixture of the leg ahead meets it, else with the highest sold.
func (d *Draft) fill(k int, tank, can octane.Mixture) (octane.Mixture, octane.Mixture) {
	need := d.Bike.Needs
	v := &d.Visits[d.Nodes[k].Visit]
	f := d.litres(k)
	with := func(g *octane.Grade) (octane.Mixture, octane.Mixture) {
		return leg.Add(tank, f.Litres, g, need), leg.Add(can, f.Can, g, need)
	}
	grades := leg.LowestFirst(v.Stop.Grades, need)
	take := leg.Take(grades, need, func(g octane.Grade) bool {
		t, c := with(&g)
		if k < len(d.Legs) {
			t = d.burn(k, t, c).Worst
		}
		return t.Against(need) == octane.Meets
	})
	if take < 0 {
		f.Verdict = octane.NotKnown
		tank, can = with(nil)
	} else {
		f.Grade, f.HasGrade, f.Verdict = grades[take], true, grades[take].Against(need)
		tank, can = with(&grades[take])
	}
	m := leg.MixtureOf(tank, need)
	v.Fill, v.Mixture = &f, &m
	return tank, can
}

// litres gives how much goes into the tank and the can at a node.
func (d *Draft) litres(k int) leg.Fill {
	full := d.Bike.Usable()
	f := leg.Fill{TankAfter: full}
	if k == 0 {
		f.Litres = full - d.Start.Fuel
		f.Low, f.High = f.Litres, f.Litres
	} else {
		room := d.Legs[k-1].Room(full)
		f.Low, f.Litres, f.High = room.Low, room.Likely, room.High
	}
	if k < len(d.Legs) {
		f.Can = d.CanFilled[k]
	}
	return f
}
