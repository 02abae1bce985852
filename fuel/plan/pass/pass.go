// Package pass tells of each counted pump that a ride passes without filling under how much
// in the tank to fill there all the same.
//
// Start with [Of]. A ride that fills at chosen stops passes pumps, and whoever has drunk
// more than was planned, or strayed, is glad of one. What is in the tank where it is passed
// is one figure; what has to be there is another, and takes the high figures, or if the next is dry the most.
//
// # Limits
//
// Both are told where the line is left for the pump: the way there and back is not in them.
// A pump down a side road may be dry, and the way there and back is then ridden in vain: where
// the high figures do not leave as much to spare, it is filled at under less.
package pass

import (
	"lastpump/fuel"
	"lastpump/fuel/leg"
	"lastpump/fuel/trip"
	"lastpump/route"
)

// A Pass is a counted pump that is passed and not filled at.
type Pass struct {
	Visit     int          // into Ride.Visits
	Leg       int          // on which it is passed
	Tank      fuel.Litres  // likely, there; never under 0
	FillUnder fuel.Litres  // with less than that in the tank fill here; never under 0
	Strayed   route.Metres // as ridden: how far one may have strayed before here and still pass it; never under 0
}

// Of lists the pumps that a ride passes, in the order of its visits. A draft that does not
// show what is not counted has none.
func Of(d *trip.Draft) []Pass {
	var out []Pass
	for i, v := range d.Visits {
		if v.WhyNot == trip.NotNeeded {
			out = append(out, of(d, i, legAt(d, v.At)))
		}
	}
	return out
}

// legAt gives the leg on which a place along the line lies; where one ends and the next
// begins, the next.
func legAt(d *trip.Draft, at route.Metres) int {
	i := len(d.Legs) - 1
	for i > 0 && d.Nodes[i].On.At > at {
		i--
	}
	return i
}

func of(d *trip.Draft, visit, i int) Pass {
	l, way, at := d.Legs[i], d.Ways[i], leg.End{At: d.Visits[visit].At}
	here := leg.NewWay(way.Course, way.From, at).Drink
	poured := leg.Sum(before(d.Pours[i], here.Ridden))
	tank := l.Start + poured - here.Fuel.Likely
	under := asks(d, visit, i, here.Fuel.High) - (l.Can - poured)
	if detour(d.Visits[visit]) > 0 {
		under = min(under, filled(d, visit, i))
	}
	p := Pass{Visit: visit, Leg: i, Tank: max(0, tank), FillUnder: max(0, under)}
	if high := l.Drink.Fuel.High; high > 0 {
		p.Strayed = max(0, l.Drink.Ridden*route.Metres((tank-under)/high))
	}
	return p
}

// before gives the pours up to a distance ridden.
func before(all []leg.Pour, ridden route.Metres) []leg.Pour {
	n := 0
	for n < len(all) && all[n].At <= ridden {
		n++
	}
	return all[:n]
}

// asks gives what has to be in tank and can where a pump is passed on a leg, so as not to fill
// there: to the next fill with the reserve whole, and if that is dry on or back from there, on the
// high figures, which have used so much up to here, or at the most.
func asks(d *trip.Draft, visit, i int, used fuel.Litres) fuel.Litres {
	v, l, way := d.Visits[visit], d.Legs[i], d.Ways[i]
	here := leg.Leg{Drink: leg.NewWay(way.Course, leg.End{At: v.At}, way.To).Drink}
	next, through, all := here.Drink.Fuel.High, here.Drink.Fuel.High, l.Drink.Fuel.High
	if i+1 < len(d.Nodes)-1 { // the end is no place that may be dry
		r := d.Rescues(i + 1)
		through, all = here.Through(r, fuel.Most), l.Through(r, fuel.Most)
	}
	there := d.Trip.EndAt(v.Sighting())
	inVain := there.Out(way.Course).Plus(there.Home(way.Course)).At(fuel.High)
	after := l.Drink.Fuel.High - used // the pump that was dry is the only one
	if numbers := d.Trip.PlaceNumbers(); numbers[v.Number] == d.Nodes[i+1].Place {
		after = all - used // and the next is of its place
	}
	left := l.With() - used // by one who is promised that he does not run dry, if it is enough
	if l.With() >= all-leg.Hair && left < after+inVain {
		return min(next, left-inVain)
	}
	return max(next+l.Kept, through)
}

// filled gives what is left in the tank, back on the line, of one that is filled at a passed pump:
// with more in it there is nothing to fill it for.
func filled(d *trip.Draft, visit, i int) fuel.Litres {
	v := d.Visits[visit]
	return d.Bike.Usable() - d.Trip.EndAt(v.Sighting()).Home(d.Ways[i].Course).At(fuel.High)
}

// detour gives the way to a passed pump and back; its visit has none, for it is not ridden.
func detour(v trip.Visit) route.Metres {
	return v.Sighting().Detour()
}
