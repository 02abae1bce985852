package leg

import (
	"lastpump/fuel"
	"lastpump/octane"
	"lastpump/route"
)

// keptDry is what the high figure may not go below before the can is poured: our
// estimate.
const keptDry fuel.Litres = 1

// A Pour is part of a can going into the tank.
type Pour struct {
	At     route.Metres // ridden from the beginning of the leg
	Litres fuel.Litres
	Used   fuel.Litres // likely, by then
}

// PourAt gives where on a way a tank has room for the litres, even at the low use, but
// not past where the high use leaves 1 L in it. The tank had start in it, and before has
// been poured since.
func (w Way) PourAt(usable, start, before, litres fuel.Litres) route.Metres {
	return min(w.fits(usable, start, before+litres), w.Until(start+before-keptDry, fuel.High))
}

// fits gives from where on a tank that had start in it has room for litres more, even at
// the low use.
func (w Way) fits(usable, start, litres fuel.Litres) route.Metres {
	return w.Until(litres-(usable-start), fuel.Low)
}

// FullCan gives between where and where all of a can that is filled to its mark is
// poured: from where it fits even at the low use, and by where the high use leaves 1 L.
func (w Way) FullCan(usable, start, can fuel.Litres) (from, by route.Metres) {
	return w.fits(usable, start, can), w.Until(start-keptDry, fuel.High)
}

// Pours gives how the can of a leg is poured into a tank of so many usable litres: at
// once where there is room, what does not fit a second time and so on, as far as the leg
// goes.
func (w Way) Pours(l Leg, usable fuel.Litres) []Pour {
	var out []Pour
	var poured fuel.Litres
	for left := l.Can; left > Hair && len(out) < 20; {
		at := w.PourAt(usable, l.Start, poured, left)
		if at >= w.Drink.Ridden {
			break // it stays in the can
		}
		fits := min(left, usable-(l.Start+poured-w.Used(at, fuel.Low)))
		if fits < min(left, keptDry)-Hair { // low and high have drifted apart: from here on by the likely
			if at = w.Until(l.Start+poured-keptDry, fuel.Likely); at >= w.Drink.Ridden {
				break
			}
			fits = min(left, usable-keptDry)
		}
		if fits <= 0 {
			break
		}
		out = append(out, Pour{at, fits, w.Used(at, fuel.Likely)})
		poured += fits
		left -= fits
	}
	return out
}

// A Burn is a leg ridden on what is in tank and can: what it was ridden on at the worst,
// before and after pouring, and what is left of both at its end.
type Burn struct{ Worst, Tank, Can octane.Mixture }

// Burn rides a leg on a tank and a can that is poured in so many pours. The tank holds
// the unusable litres, too. What is not poured stays in the can.
func (l Leg) Burn(b fuel.Bike, pours []Pour, tank, can octane.Mixture) Burn {
	worst := tank
	level := l.Start + b.Unusable // in the tank, by the likely figures
	down := func(to fuel.Litres) { tank = tank.DrawTo(float64(to)) }
	tip := func(litres fuel.Litres) {
		part := can.Draw(can.Volume() - float64(litres))
		can = can.Draw(float64(litres))
		tank = tank.AddMixture(part)
	}
	var poured fuel.Litres
	for _, p := range pours {
		down(max(0, level+poured-p.Used))
		tip(p.Litres)
		poured += p.Litres
		if p.At < l.Drink.Ridden { // else nothing is ridden on it
			worst = octane.Worse(worst, tank, b.Needs)
		}
	}
	down(max(b.Unusable, level+poured-l.Drink.Fuel.Likely))
	return Burn{worst, tank, can}
}

// PoursOut gives [Way.Pours], and before the end of the leg what has room in the tank by then:
// who has begun to pour a can pours all that fits.
func (w Way) PoursOut(l Leg, usable fuel.Litres) []Pour {
	out := w.Pours(l, usable)
	poured := Sum(out)
	if fits := min(l.Can-poured, usable-(l.Start+poured-w.Drink.Fuel.Likely)); len(out) > 0 && fits > Hair {
		out = append(out, Pour{w.Drink.Ridden, fits, w.Drink.Fuel.Likely})
	}
	return out
}

// CanLeft gives what is counted on in the can behind the leg. Where none of it is poured it is
// all there; else only what does not fit into a tank of so many usable litres even at the high
// use. It is poured, too, where the leg asks for it and the high use leaves under 1 L.
func (l Leg) CanLeft(usable fuel.Litres) fuel.Litres {
	left := l.Start - l.Drink.Fuel.High
	if l.Poured > 0 || l.Lack() > 0 && left < keptDry {
		return max(0, min(l.Can, left+l.Can-usable))
	}
	return l.Can
}

// Sum gives the litres of pours.
func Sum(pours []Pour) (l fuel.Litres) {
	for _, p := range pours {
		l += p.Litres
	}
	return l
}
