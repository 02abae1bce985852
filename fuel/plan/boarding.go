package plan

import (
	"lastpump/fuel"
	"lastpump/octane"
)

// A band is a mixture that is not quite known: its worst and its best.
type band struct{ worst, best octane.Mixture }

// or gives the band that holds two of the same volume.
func (b band) or(o band) band {
	if b == o {
		return b
	}
	ends := func(low, high float64) octane.Mixture {
		m, _ := octane.Mixture{}.Add(b.worst.Volume(), octane.Interval{Scale: b.worst.Scale(), Low: low, High: high})
		return m // into an empty tank: no error
	}
	return band{
		worst: ends(min(b.worst.Low(), o.worst.Low()), min(b.worst.High(), o.worst.High())),
		best:  ends(max(b.best.Low(), o.best.Low()), max(b.best.High(), o.best.High())),
	}
}

// overlaps tells whether two bands have mixtures in common, as far as rounding lets one
// tell. An empty one may stand for any that needs no watching.
func (b band) overlaps(o band) bool {
	if b.worst.Volume() <= 0 || o.worst.Volume() <= 0 {
		return true
	}
	return b.worst.Low() <= o.best.Low()+hair && o.worst.Low() <= b.best.Low()+hair &&
		b.worst.High() <= o.best.High()+hair && o.worst.High() <= b.best.High()+hair
}

// each changes both ends.
func (b band) each(f func(octane.Mixture) octane.Mixture) band { return band{f(b.worst), f(b.best)} }

// A boarding is a fill at the beginning of a leg, and the leg ridden on it.
type boarding struct {
	*round
	arc         *arc
	leg         *draft
	tank, spare band
}

// fill fills as a plan does, with the lowest grade with which the leg ahead meets, else
// with the highest, and gives what is left at the end of the leg and whether all of the
// band was ridden below grade. Where a part of the band takes one grade and a part
// another, it gives both.
func (b *boarding) fill(give func(tank, spare band, below bool)) {
	n, need := b.nodes[b.arc.from], b.in.Bike.Needs
	if b.arc.from == 0 {
		start := float64(b.draft.startWith(b.arc.leg.Drink) + b.in.Bike.Unusable)
		b.tank = b.tank.each(func(octane.Mixture) octane.Mixture { return b.startTank(max(drop, fuel.Litres(start))) })
	}
	if b.calm[b.arc.from] && b.tank.worst.Against(need) != octane.Below {
		give(band{}, band{}, false) // and so on to the end: an empty band is below nothing
		return
	}
	toTank := float64(b.in.Bike.Tank) - b.tank.worst.Volume()
	toCan := max(0, float64(b.leg.plan.Legs[0].Can)-b.spare.worst.Volume())
	add := func(to band, litres float64, with func(octane.Mixture, float64) octane.Mixture) band {
		if litres <= 0 {
			return to
		}
		return to.each(func(m octane.Mixture) octane.Mixture { return with(m, litres) })
	}
	if !n.sells {
		ofStart := func(m octane.Mixture, l float64) octane.Mixture { return m.AddGrade(l, b.startGrade(), need) }
		b.burn(b.tank, add(b.spare, toCan, ofStart), give)
		return
	}
	if len(n.grades) == 0 {
		unknown := func(m octane.Mixture, l float64) octane.Mixture { return m.AddUnknown(l, need) }
		b.burn(add(b.tank, toTank, unknown), add(b.spare, toCan, unknown), give)
	}
	for i, g := range n.grades {
		of := func(m octane.Mixture, l float64) octane.Mixture { return m.AddGrade(l, g, need) }
		tank, spare := add(b.tank, toTank, of), add(b.spare, toCan, of)
		all, some := b.leg.meets(0, tank.worst, spare.worst), b.leg.meets(0, tank.best, spare.best)
		if some || i+1 == len(n.grades) {
			b.burn(tank, spare, give)
		}
		if all {
			return
		}
	}
}

// burn rides the leg.
func (b *boarding) burn(tank, spare band, give func(tank, spare band, below bool)) {
	_, worst, rest := b.leg.burn(0, tank.worst, spare.worst)
	met, best, better := b.leg.burn(0, tank.best, spare.best)
	give(band{worst, best}, band{rest, better}, met.Against(b.in.Bike.Needs) == octane.Below)
}
