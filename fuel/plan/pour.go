package plan

import (
	"lastpump/fuel"
	"lastpump/route"
)

// keptDry is what the high figure may not go below before the can is poured.
const keptDry fuel.Litres = 1

// A pour is part of a can going into the tank.
type pour struct {
	at     route.Metres // ridden from the beginning of the leg
	litres fuel.Litres
	used   fuel.Litres // likely, by then
}

// poursOf gives the pours of a leg, worked out once.
func (d *draft) poursOf(i int) []pour {
	if d.poured == nil {
		d.poured = map[int][]pour{}
	}
	if p, known := d.poured[i]; known {
		return p
	}
	p := d.pours(i)
	d.poured[i] = p
	return p
}

// pourAt gives where on a leg the tank has room for the litres, even at the low
// use, but not past where the high use leaves 1 L in the tank, which had start
// in it and to which before has been added since.
func (d *draft) pourAt(i int, start, before, litres fuel.Litres) route.Metres {
	room := d.trip(i, litres+before-(d.bike.Usable()-start), low)
	dry := d.trip(i, start+before-keptDry, high)
	return min(room, dry)
}

// pours gives how a can is poured on a leg: at once where there is room, what
// does not fit a second time and so on, as far as the leg goes.
func (d *draft) pours(i int) []pour {
	leg := d.plan.Legs[i]
	var out []pour
	var poured fuel.Litres
	const drop fuel.Litres = 1e-9 // what rounding makes of nothing
	for left := leg.Can; left > drop && len(out) < 20; {
		at := d.pourAt(i, leg.Start, poured, left)
		if at >= leg.Drink.Ridden {
			break // it is poured at the stop, where there is more anyway
		}
		fits := min(left, d.bike.Usable()-(leg.Start+poured-d.used(i, at, low)))
		if fits < min(left, keptDry)-drop { // low and high have drifted apart: from here on by the likely
			if at = d.trip(i, leg.Start+poured-keptDry, likely); at >= leg.Drink.Ridden {
				break
			}
			fits = min(left, d.bike.Usable()-keptDry)
		}
		if fits <= 0 {
			break
		}
		out = append(out, pour{at, fits, d.used(i, at, likely)})
		poured += fits
		left -= fits
	}
	return out
}

// used gives what is drunk over the first kilometres of a leg.
func (d *draft) used(i int, ridden route.Metres, w which) fuel.Litres {
	a, b := d.nodes[i], d.nodes[i+1]
	behind := w.of(d.course.Detour(a.at, a.half))
	if ridden <= a.half {
		if a.half == 0 {
			return 0
		}
		return behind * fuel.Litres(ridden/a.half)
	}
	line := d.plan.Legs[i].Drink.Ridden - a.half - b.half
	onLine := min(ridden-a.half, line)
	l := behind + w.of(d.course.Over(a.at, onLine))
	if beyond := ridden - a.half - line; beyond > 0 && b.half > 0 {
		l += w.of(d.course.Detour(b.at, b.half)) * fuel.Litres(beyond/b.half)
	}
	return l
}
