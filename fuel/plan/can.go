package plan

import (
	"fmt"
	"math"

	"lastpump/fuel"
	"lastpump/route"
)

// A Can says how much spare fuel to carry, as if the bike had no can.
type Can struct {
	ForPlan       fuel.Litres // so that every leg is OK
	ForAnyDryPump fuel.Litres // so that no dry pump strands
	SizeForPlan   CanSize
	SizeForDry    CanSize
	Uses          []Use

	ForDryHigh     fuel.Litres // so that no dry pump strands on the high figures either
	SizeForDryHigh CanSize
}

// A CanSize is a size sold; TooBig where none is big enough.
type CanSize struct {
	Litres fuel.Litres
	TooBig bool
}

// A Use is one leg that asks for a can.
type Use struct {
	Leg    int
	Why    string // "plan" or "dry"
	FillAt string
	PourAt route.Metres // on the trip meter
	Litres fuel.Litres
	IfDry  fuel.Litres  // that a dry pump at the end of the leg asks for; 0 for none
	Full   fuel.Litres  // what is in the can if it is filled to its mark; 0 if none is big enough
	FullAt route.Metres // on the trip meter, from where on all of that fits even at the low use
	PourBy route.Metres // on the trip meter, where the high use leaves 1 L
}

// canSizes are the sizes sold, at their nominal mark (common practice, no
// source). The space above the mark is for the fuel to expand.
var canSizes = []fuel.Litres{1, 1.5, 2, 3, 4, 5, 7.5, 10, 15, 20}

// canSize gives the smallest size sold that holds the litres.
func canSize(l fuel.Litres) CanSize {
	if l <= 0 {
		return CanSize{}
	}
	for _, s := range canSizes {
		if l <= s+1e-9 { // a sum of binary fractions is not a larger can
			return CanSize{Litres: s}
		}
	}
	return CanSize{TooBig: true}
}

// can says how much spare fuel would make every leg OK, and how much would keep
// any one dry pump from stranding, both as if the bike had none.
func (d *draft) can() Can {
	var c Can
	var plan, dry []Use
	for i := range d.plan.Legs {
		if d.noFill(i) {
			continue // no can is filled where there is no pump
		}
		short, ifDry := d.lack(i), d.dryLack(i)
		c.ForPlan = max(c.ForPlan, short)
		c.ForAnyDryPump = max(c.ForAnyDryPump, ifDry)
		c.ForDryHigh = max(c.ForDryHigh, d.dryLackHigh(i))
		switch {
		case short > 0:
			plan = append(plan, d.use(i, "plan", short, ifDry))
		case ifDry > 0:
			dry = append(dry, d.use(i, "dry", ifDry, ifDry))
		}
	}
	c.ForAnyDryPump = max(c.ForAnyDryPump, c.ForPlan)
	c.ForDryHigh = max(c.ForDryHigh, c.ForAnyDryPump)
	c.SizeForPlan, c.SizeForDry, c.SizeForDryHigh = canSize(c.ForPlan), canSize(c.ForAnyDryPump), canSize(c.ForDryHigh)
	c.Uses = append(plan, dry...)
	for i := range c.Uses {
		d.fullCan(&c.Uses[i], max(d.bike.Can, c.SizeForDry.Litres))
	}
	return c
}

// lack gives the litres that a leg without a can lacks to be OK; 0 where it is.
func (d *draft) lack(i int) fuel.Litres {
	return d.plan.Legs[i].lack()
}

// asks gives what a leg has to set out with to be OK.
func (l Leg) asks() fuel.Litres { return max(l.Drink.Fuel.Likely+l.Kept, l.Drink.Fuel.High) }

// lack gives what of that is not in the tank.
func (l Leg) lack() fuel.Litres { return max(0, l.asks()-l.Start) }

// dryLack gives the litres that a leg without a can lacks so that a dry pump at
// its end does not strand.
func (d *draft) dryLack(i int) fuel.Litres {
	dry := d.ifDryWith(i+1, d.plan.Legs[i].Start, 0)
	if dry == nil || dry.Outcome != Stranded {
		return 0
	}
	return -dry.Spare
}

// dryLackHigh gives the same on the high figures: who drinks more than likely is
// stranded with a can that is just enough.
func (d *draft) dryLackHigh(i int) fuel.Litres {
	if i+1 == len(d.nodes)-1 {
		return 0
	}
	l := d.plan.Legs[i]
	_, on := d.onward(i + 1)
	_, back := d.backward(i + 1)
	return max(0, min(on.High, back.High)+l.Drink.Fuel.High-l.Start)
}

// fullCan says where all of a can fits that is filled to its mark: a rider fills
// the can he has, not the litres that are lacking.
func (d *draft) fullCan(u *Use, size fuel.Litres) {
	if size < u.Litres {
		return
	}
	room := d.trip(u.Leg, size-(d.bike.Usable()-d.plan.Legs[u.Leg].Start), low)
	by := d.trip(u.Leg, d.plan.Legs[u.Leg].Start-keptDry, high)
	u.Full, u.FullAt, u.PourBy = size, d.bike.Shown(room), d.bike.Shown(by)
}

// Pouring says when a can is poured, by the trip meter: from where on all of it
// fits, and by where a thirsty bike wants it. The one is rounded up, the other
// down. Where they cross it takes two pours.
func (u Use) Pouring(units fuel.Units) string {
	unit := units.DistanceUnit()
	from, by := math.Ceil(units.DistanceIn(u.FullAt)-hair)+0, math.Floor(units.DistanceIn(u.PourBy)+hair) // +0: no minus before a nought
	switch {
	case u.Full <= 0:
		return fmt.Sprintf("that much fits from trip %.0f %s on", math.Ceil(units.DistanceIn(u.PourAt)-hair), unit)
	case from > by:
		return fmt.Sprintf("of a full %s can pour what fits by trip %.0f %s, the rest later", units.Can(u.Full), by, unit)
	}
	return fmt.Sprintf("a full %s can fits from trip %.0f %s on; pour it by %.0f", units.Can(u.Full), from, unit, by)
}

// hair keeps a whole number, which binary holds as a little more or less, from
// being rounded to the next.
const hair = 1e-9

func (d *draft) use(i int, why string, l, ifDry fuel.Litres) Use {
	return Use{
		Leg: i, Why: why, FillAt: d.nodes[i].name, Litres: l, IfDry: ifDry,
		PourAt: d.bike.Shown(d.pourAt(i, d.plan.Legs[i].Start, 0, l)),
	}
}
