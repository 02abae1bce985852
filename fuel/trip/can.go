package trip

import (
	"slices"

	"lastpump/fuel"
	"lastpump/fuel/leg"
	"lastpump/octane"
	"lastpump/route"
)

// A Can says how much spare fuel to carry, as if the bike had no can.
type Can struct {
	ForPlan       fuel.Litres // so that every leg is OK
	ForAnyDryPump fuel.Litres // so that no dry pump strands
	SizeForPlan   leg.CanSize
	SizeForDry    leg.CanSize
	Uses          []Use

	ForDryHigh     fuel.Litres // so that no dry pump strands at the most either
	SizeForDryHigh leg.CanSize
}

// A UseWhy says what asks for a can.
type UseWhy string

// What may ask for a can.
const (
	ForPlan    UseWhy = "plan" // the leg is not OK without it
	ForDryPump UseWhy = "dry"  // a dry pump at the end of the leg strands without it
)

// A Use is one leg that asks for a can.
type Use struct {
	Leg    int
	Why    UseWhy
	FillAt End          // the place before
	Filled End          // where the can that is carried is filled for it
	PourAt route.Metres // on the trip meter
	Litres fuel.Litres
	IfDry  fuel.Litres  // that a dry pump at the end of the leg asks for; 0 for none
	Bare   bool         // it is asked for only where a dry pump strands at the most: Litres are of these
	Full   fuel.Litres  // what is in the can if it is filled to its mark; 0 if none is big enough
	FullAt route.Metres // on the trip meter, from where on all of that fits even at the low use
	PourBy route.Metres // on the trip meter, where the high use leaves 1 L
}

// UseOf gives the number of the use of a can on a leg; -1 for none.
func (c Can) UseOf(i int) int {
	return slices.IndexFunc(c.Uses, func(u Use) bool { return u.Leg == i })
}

// SpareNeeded says how much spare fuel would make every leg OK, and how much would keep
// any one dry pump from stranding, both as if the bike had none; not where it is used.
func (d *Draft) SpareNeeded() Can {
	var c Can
	for i, l := range d.Legs {
		if !d.NoFill(i) { // no can is filled where there is no pump
			c.ForPlan = max(c.ForPlan, l.Lack())
			c.ForAnyDryPump = max(c.ForAnyDryPump, d.DryLack(i, fuel.Likely))
			c.ForDryHigh = max(c.ForDryHigh, d.DryLack(i, fuel.Most))
		}
	}
	c.ForAnyDryPump = max(c.ForAnyDryPump, c.ForPlan)
	c.ForDryHigh = max(c.ForDryHigh, c.ForAnyDryPump)
	sold := d.Trip.Options.Cans
	c.SizeForPlan, c.SizeForDry, c.SizeForDryHigh = sold.Smallest(c.ForPlan), sold.Smallest(c.ForAnyDryPump),
		sold.Smallest(c.ForDryHigh)
	return c
}

// CanNeeded is [Draft.SpareNeeded] with the legs that ask for it, those of the plan first.
func (d *Draft) CanNeeded() Can {
	c := d.SpareNeeded()
	var dry []Use
	for i, l := range d.Legs {
		lack, ifDry := l.Lack(), d.DryLack(i, fuel.Likely)
		switch {
		case d.NoFill(i):
		case lack > 0:
			c.Uses = append(c.Uses, d.use(i, ForPlan, lack, ifDry))
		case ifDry > 0:
			dry = append(dry, d.use(i, ForDryPump, ifDry, ifDry))
		case d.Asked[i].Dry > 0:
			u := d.use(i, ForDryPump, d.Asked[i].Dry, 0)
			u.Bare = true
			dry = append(dry, u)
		}
	}
	c.Uses = append(c.Uses, dry...)
	for i := range c.Uses {
		u := &c.Uses[i]
		if size := d.Bike.Can; size > 0 {
			u.fill(d, d.Legs[u.Leg].Can)
		} else if c.SizeForDry.Litres >= u.Litres {
			u.fill(d, c.SizeForDry.Litres)
		}
	}
	return c
}

func (d *Draft) use(i int, why UseWhy, l, ifDry fuel.Litres) Use {
	return Use{
		Leg: i, Why: why, FillAt: d.Nodes[i].End, Filled: d.Nodes[d.FilledAt[i]].End, Litres: l, IfDry: ifDry,
		PourAt: d.Bike.Shown(d.pourAt(i, l)),
	}
}

// CanFor gives the use of a can of a size in which the litres are carried on a leg.
func (d *Draft) CanFor(i int, l, size fuel.Litres) Use {
	u := d.use(i, ForPlan, l, 0)
	u.fill(d, size)
	return u
}

// fill says where all of a can fits that is filled to its mark: a rider fills the can he
// has, not the litres that are lacking.
func (u *Use) fill(d *Draft, size fuel.Litres) {
	from, by := d.fullCan(u.Leg, size)
	u.Full, u.FullAt, u.PourBy = size, d.Bike.Shown(from), d.Bike.Shown(by)
}

// Asked is what a leg asks of a can.
type Asked struct {
	Plan fuel.Litres // so that it is OK
	Dry  fuel.Litres // so that a dry pump at its end neither strands nor leaves bare
}

// Most gives the larger of both.
func (a Asked) Most() fuel.Litres { return max(a.Plan, a.Dry) }

// carry says what is in the can on each leg, and where it is filled and poured. It is filled
// for each leg that asks for it, carried from leg to leg, and poured by plan only on a leg
// that is not OK without it.
func (d *Draft) carry() {
	n := len(d.Legs)
	d.Asked, d.Pours, d.CanFilled, d.FilledAt = make([]Asked, n), make([][]leg.Pour, n), make([]fuel.Litres, n), make([]int, n)
	for i, l := range d.Legs {
		d.FilledAt[i] = i
		if l.Verdict != leg.OK {
			d.Asked[i].Plan = l.Lack()
		}
		d.Asked[i].Dry = d.DryLack(i, fuel.Most)
	}
	size := d.Bike.Can
	in := min(size, d.Trip.Options.CanNow)
	if size <= 0 {
		d.fillCans(size)
		return
	}
	to := d.fillCans(size)
	for i := range d.Legs {
		if to[i] > in+leg.Hair {
			d.CanFilled[i], in = to[i]-in, to[i]
		}
		if in <= leg.Hair {
			continue
		}
		l := d.Legs[i].WithCan(in)
		if d.Asked[i].Plan > 0 {
			d.Pours[i] = d.Ways[i].PoursOut(l, d.Bike.Usable())
			l.Poured = leg.Sum(d.Pours[i])
		}
		if l.Verdict == leg.Short {
			l.Poured = in // to the last drop
		}
		d.Legs[i].Leg = l
		in = l.CanLeft(d.Bike.Usable())
	}
}

// fillCans gives by node the litres in a can of a size on leaving it, 0 where it is left as
// it is, and sets where the can of each leg that asks for one is filled: at the last stop before
// it that sells a grade that meets, as long as no other such leg lies between; else at the
// stop just before, with only what is needed.
func (d *Draft) fillCans(size fuel.Litres) []fuel.Litres {
	to := make([]fuel.Litres, len(d.Legs))
	for i, a := range d.Asked {
		if a.Most() <= 0 {
			continue
		}
		if at, ok := d.goodFill(i); ok {
			d.FilledAt[i], to[at] = at, size
			continue
		}
		if d.fillsCan(i) {
			to[i] = leg.PartOf(a.Most(), size)
		}
	}
	return to
}

// goodFill gives the last node before a leg that sells a grade that meets, if no leg that asks
// for a can lies between.
func (d *Draft) goodFill(i int) (at int, ok bool) {
	for k := i; k >= 0; k-- {
		if d.sellsMeeting(k) {
			return k, true
		}
		if k > 0 && d.Asked[k-1].Most() > 0 {
			break
		}
	}
	return i, false
}

// sellsMeeting tells whether a can is filled at a node with petrol that meets the need; at a
// start without a pump it is taken for full of what is in the tank.
func (d *Draft) sellsMeeting(k int) bool {
	n := d.Nodes[k]
	if n.HasStop() {
		return leg.SellsMeeting(d.Trip.Stops[n.Stop].Grades, d.Bike.Needs)
	}
	return k == 0 && d.fillsCan(0) && leg.SellsMeeting([]octane.Grade{d.Start.Grade}, d.Bike.Needs)
}

// fillsCan tells whether a can may be filled at a node: at a stop, or at a start without a pump,
// where nothing is said of what is in it.
func (d *Draft) fillsCan(k int) bool {
	return k > 0 || d.Nodes[0].HasStop() || !d.NoFill(0) && !d.Trip.Options.SaysCan()
}
