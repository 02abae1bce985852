package cure

import (
	"cmp"
	"slices"

	"lastpump/fuel"
	"lastpump/fuel/leg"
	"lastpump/fuel/plan/lowgrade"
	"lastpump/fuel/trip"
	"lastpump/octane"
	"lastpump/route"
)

// fullStart tries setting out with a full tank.
func (f *finder) fullStart() {
	more := f.sick.Bike.Usable() - f.sick.Start.Fuel
	if f.legs[0] != 0 || more <= 0 || f.sick.Nodes[0].HasStop() {
		return
	}
	f.try(trip.Change{FullStart: true}, Cure{Kind: SetOutFull, Cost: Nothing, Litres: more, HasLitres: true})
}

// slower tries the thirst that would do, as long as the bike can be ridden so and the leg
// takes no less than its low figure: under that no bike of this kind is known to come. It is
// for keeping a reserve; nobody rides out of a leg that does not hold, nor on from a dry pump,
// by the wrist.
func (f *finder) slower() {
	if f.Fault != Tight {
		return
	}
	f.tried[Slower] = true
	l := f.sick.Legs[f.Leg]
	times := f.slowerBy()
	if l.Drink.Fuel.Likely <= 0 || !(times < 1) || !leg.Rideable(times) ||
		times < float64(l.Drink.Fuel.Low/l.Drink.Fuel.Likely) {
		return
	}
	shown := l.Drink.Rate() / fuel.Consumption(f.sick.Bike.Odometer)
	f.try(trip.Change{Thirst: times}, Cure{
		Kind: Slower, Cost: Nothing, Rate: shown * fuel.Consumption(times), Planned: shown, HasRate: true,
		Thirst: f.sick.Trip.Options.Thirst * times,
	})
}

// slowerBy gives by how much the thirst has to come down: for a leg until it is OK. To
// arrive with the last drop is no cure that a wrist can hold. All that a leg takes grows
// with it, and so does a reserve that is a distance.
func (f *finder) slowerBy() float64 {
	const under = 1 - 1e-12 // a border is on its good side
	l := f.sick.Legs[f.Leg]
	with, need := l.With(), l.Drink.Fuel
	allowed := f.sick.Trip.Options.Reserve.Allows(with, l.Drink.Ridden, f.sick.Bike.Usable())
	high := fuel.Until(with, func(share float64) fuel.Litres { return l.Drink.Amount.Times(share).At(fuel.High) })
	return min(float64(allowed/need.Likely), high) * under
}

// passBy tries riding past the pumps of low grade: the better petrol in the tank may last.
// Each alone first, then more and more of them together, from the worst leg back, until they
// mend it, and at last all that mend any leg.
func (f *finder) passBy() {
	if f.Fault != Below {
		return
	}
	var help, back []int // nodes
	alone := map[int]bool{}
	for _, k := range f.legs {
		if f.sellsLow(k) {
			var helps bool
			if helps, alone[k] = f.tryPassing(k); helps {
				help = append(help, k)
			}
		}
	}
	for k := f.Leg; k >= f.legs[0]; k-- {
		if !f.sellsLow(k) {
			continue
		}
		if back = append([]int{k}, back...); alone[k] {
			break
		}
		if len(back) > 1 {
			if _, cures := f.tryPassing(back...); cures {
				break
			}
		}
	}
	if len(help) > 1 && !slices.Equal(help, back) {
		f.tryPassing(help...)
	}
}

// sellsLow tells whether a node is a stop with no grade that meets.
func (f *finder) sellsLow(k int) bool {
	n := f.sick.Nodes[k]
	return n.HasStop() && !leg.SellsMeeting(f.sick.Visits[n.Visit].Stop.Grades, f.sick.Bike.Needs)
}

// tryPassing tries riding past nodes, and tells whether that mends any leg, and whether it
// mends the worst.
func (f *finder) tryPassing(nodes ...int) (helps, cures bool) {
	var stops []int
	var names []string
	for _, k := range nodes {
		for _, i := range f.sick.Nodes[k].Stops {
			if name := f.sick.Trip.Stops[i].Name; !slices.Contains(names, name) {
				names = append(names, name)
			}
			stops = append(stops, i)
		}
	}
	before := len(f.found) + len(f.partly)
	cures = f.try(trip.Change{PassBy: stops}, Cure{Kind: PassBy, Cost: Nothing, Stops: names})
	return len(f.found)+len(f.partly) > before, cures
}

// confirmed tries counting, one by one, the stops on the span that are passed but not
// counted for want of a better standing: those in its middle first, which make it into
// two short ones.
func (f *finder) confirmed() {
	t := f.sick.Trip
	var on []trip.Sighting
	for _, g := range t.Sightings {
		if g.At > f.on.From && g.At < f.on.To && t.Doubted(g.Stop) {
			on = append(on, g)
		}
	}
	best := (f.on.From + f.on.To) / 2
	if f.Fault == Below {
		best = f.sick.Legs[f.Leg].FromAt
	}
	off := func(g trip.Sighting) route.Metres { return max(g.At-best, best-g.At) }
	slices.SortStableFunc(on, func(a, b trip.Sighting) int { return cmp.Compare(off(a), off(b)) })
	for _, g := range on {
		if *f.left <= 0 {
			return
		}
		st := t.Stops[g.Stop]
		f.try(trip.Change{Believe: g.Stop + 1, Extra: []trip.Sighting{g}}, Cure{
			Kind: Confirmed, Cost: Call, Stops: []string{st.Name}, At: g.At, Standing: st.Standing,
			Detour: g.Detour(), HasDetour: g.Detour() > 0,
		})
	}
}

// can tries the smallest can sold that holds what is lacking.
func (f *finder) can() {
	lack := f.sick.Legs[f.Leg].Lack()
	switch f.Fault {
	case Below:
		return
	case Stranded: // who is at a dry pump has no reserve to eat into: it has to do at the most
		lack = f.sick.DryLack(f.Leg, fuel.Most)
	}
	f.tried[InCan] = true
	size := f.sick.Trip.Options.Cans.Smallest(lack)
	if size.TooBig || size.Litres <= f.sick.Trip.Bike.Can {
		return
	}
	f.try(trip.Change{Can: size.Litres}, Cure{
		Kind: InCan, Cost: Carry, Litres: lack, HasLitres: true, Size: size.Litres,
		Use: f.sick.CanFor(f.Leg, lack, size.Litres),
	})
}

// dryLack gives what the leg lacks so that a dry pump at its end does not strand.
func (f *finder) dryLack() fuel.Litres { return f.sick.DryLack(f.Leg, fuel.Likely) }

// less offers the least of the low grade as a cure, where the tank is then not below
// grade and no dry pump strands that would not strand on a full tank.
func (f *finder) less() {
	passed := slices.ContainsFunc(f.found, func(c Cure) bool { return c.Kind == PassBy })
	for _, s := range f.ofDearths() {
		f.tried[Less] = true
		c := Cure{Kind: Less, Cost: Nothing, Low: &s, Risky: f.costly}
		worst := octane.Meets
		for _, fill := range s.Fills {
			if !f.costly && !fill.Whole || fill.Mixture.Verdict == octane.Below && !f.sick.Legs[fill.Leg].Below() {
				break
			}
			c.Cuts = c.Cuts || !fill.Whole
			if fill.Mixture.Verdict != octane.Below && slices.Contains(f.legs, fill.Leg) {
				worst = worst.Worst(fill.Mixture.Verdict)
				c.Mends, c.Upto, c.Verdict = append(c.Mends, fill.Leg), fill.Leg, string(worst)
			}
		}
		saidAlready := s.Least <= 0 && passed // its stops are ridden past
		if len(c.Mends) > 0 && !saidAlready && c.costs() == f.costly {
			f.give(c)
		}
	}
}

// lift offers good petrol in a can as a cure where only low grade is sold.
func (f *finder) lift() {
	for _, s := range f.ofDearths() {
		f.tried[Lift] = true
		if s.Lift == nil {
			continue
		}
		c := Cure{Kind: Lift, Cost: Carry, Low: &s, Litres: s.Lift.Litres, HasLitres: true, Risky: f.costly,
			Verdict: string(octane.Meets)}
		for _, fill := range s.Fills {
			c.Cuts = c.Cuts || !fill.Whole
			if slices.Contains(f.legs, fill.Leg) {
				c.Mends = append(c.Mends, fill.Leg)
			}
		}
		if c.costs() == f.costly {
			f.give(c)
		}
	}
}

// costs tells whether a cure that takes the least has its price: a dry pump that strands, or
// a reserve that is not kept.
func (c Cure) costs() bool { return len(c.Low.Risks) > 0 || c.Cuts }

// ofDearths gives the dearths of good petrol on which legs of the complaint are below grade.
func (f *finder) ofDearths() (of []lowgrade.Dearth) {
	if f.Fault != Below {
		return nil
	}
	for _, s := range f.dearths {
		if slices.ContainsFunc(s.Fills, func(l lowgrade.Fill) bool { return slices.Contains(f.legs, l.Leg) }) {
			of = append(of, s)
		}
	}
	return of
}

// offLine tries the stops outside the corridor that lie within 30 km of the span.
func (f *finder) offLine() {
	t := f.sick.Trip
	for _, g := range f.near() {
		if *f.left <= 0 {
			return
		}
		f.tried[OffLine] = true
		if !f.splits(g) {
			continue
		}
		st := t.Stops[g.Stop]
		c := trip.Change{Extra: []trip.Sighting{g}}
		cure := Cure{Kind: OffLine, Cost: Detour, Stops: []string{st.Name}, At: g.At, Off: g.Off, Detour: g.Detour(),
			HasDetour: true}
		if t.Doubted(g.Stop) {
			c.Believe, cure.Standing = g.Stop+1, st.Standing
		}
		f.try(c, cure)
	}
}

// splits tells whether a leg that is SHORT could be ridden in two over a stop off
// the line: what cannot is not planned again.
func (f *finder) splits(g trip.Sighting) bool {
	if f.Fault != Short {
		return true
	}
	t := f.sick.Trip
	over := t.EndAt(g)
	there := leg.NewWay(t.Course, f.sick.Nodes[f.Leg].On, over).Drink.Fuel.Likely
	on := leg.NewWay(t.Course, over, f.sick.Nodes[f.Leg+1].On).Drink.Fuel.Likely
	can := t.Bike.Can + leg.Hair
	return there <= f.sick.Legs[f.Leg].Start+can && on <= t.Bike.Usable()+can
}

// near lists the stops that are not on the line but within reach of the span, nearest
// first.
func (f *finder) near() []trip.Sighting {
	t := f.sick.Trip
	var out []trip.Sighting
	for _, g := range t.Beside {
		st := t.Stops[g.Stop]
		chosen := slices.ContainsFunc(f.sick.Change.Chosen, func(c trip.Sighting) bool { return c.Stop == g.Stop })
		if chosen || st.NoPetrol() || t.Options.Skipped(st) || g.Off > trip.Reach {
			continue
		}
		*f.left-- // it takes as long as a leg
		if p, ok := t.Line.Nearest(st.At, f.on.From, f.on.To); ok && p.Off <= trip.Reach {
			out = append(out, trip.Sighting{Stop: g.Stop, Passage: p})
		}
	}
	slices.SortStableFunc(out, func(a, b trip.Sighting) int { return cmp.Compare(a.Off, b.Off) })
	return out
}
