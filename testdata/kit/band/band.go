// Package band works out the low and the high figure of a way once more, from the rules in
// words, for bikes of which nothing was learnt: what tests hold the planner's own against.
//
//	sd² = sd of the thirst² + Σ (share of the ground × sd of its weight)² + 0.03² + 0.07² + min(0.3² ÷ likely², 0.07²)
//	low = likely by the short kilometres × e^(−t·sd)
//	high = likely by the long kilometres × e^(t·sd), no less than the high weights ask for
//	most = the same × e^(1.3·t·sd): what a dry place is judged by
package band

import (
	"math"

	"lastpump/fuel"
	"lastpump/route"
)

// A Way is the likely litres of a way, by the low, the likely and the high kilometres and
// climb.
type Way struct {
	Flat  map[route.Ground][3]float64
	Climb [3]float64
}

// Sure is a way whose length and climb are known.
func Sure(climb float64, flat map[route.Ground]float64) Way {
	w := Way{Flat: map[route.Ground][3]float64{}, Climb: [3]float64{climb, climb, climb}}
	for g, l := range flat {
		w.Flat[g] = [3]float64{l, l, l}
	}
	return w
}

// Plus adds a way.
func (w Way) Plus(o Way) Way {
	sum := Way{Flat: map[route.Ground][3]float64{}, Climb: add(w.Climb, o.Climb)}
	for _, all := range []Way{w, o} {
		for g, l := range all.Flat {
			sum.Flat[g] = add(sum.Flat[g], l)
		}
	}
	return sum
}

func add(a, b [3]float64) [3]float64 { return [3]float64{a[0] + b[0], a[1] + b[1], a[2] + b[2]} }

// Constants of the rules.
const (
	Maker = 0.12 // sd of the thirst on a maker's figure
	Own   = 0.06 // and on one from own tanks
	// T is the 95th percentile of Student's t with 8 degrees of freedom, as the rules have it.
	T       = 1.644854 + 1.523769/8 + 1.420203/64
	Caution = 1.3 // how many times as far off as high the most is
)

// Figures gives the three figures of a way that is one tank.
func (w Way) Figures(thirst float64, weight func(route.Ground) fuel.Weight) fuel.Figures {
	return w.figures(thirst, weight, 1)
}

// Most gives what a dry place is judged by.
func (w Way) Most(thirst float64, weight func(route.Ground) fuel.Weight) fuel.Litres {
	return w.figures(thirst, weight, Caution).High
}

func (w Way) figures(thirst float64, weight func(route.Ground) fuel.Weight, times float64) fuel.Figures {
	sum, floor, unsure := w.Climb, w.Climb[2], thirst*thirst+0.03*0.03+0.07*0.07
	for _, g := range route.AllGrounds() {
		sum = add(sum, w.Flat[g])
		floor += w.Flat[g][2] * weight(g).High / weight(g).Likely
	}
	if sum[1] <= 0 {
		return fuel.Figures{}
	}
	dirt := w.Flat[route.Dirt][1] + w.Flat[route.Unknown][1] // planned as dirt, and off as dirt is
	for _, g := range route.AllGrounds()[1:] {
		litres := w.Flat[g][1]
		switch g {
		case route.Unknown:
			continue
		case route.Dirt:
			litres = dirt
		}
		sd := math.Log(weight(g).High/weight(g).Low) / (2 * 1.2815516) // 80 % between them
		unsure += math.Pow(litres/sum[1]*sd, 2)
	}
	sd := math.Sqrt(unsure + min(math.Pow(0.3/sum[1], 2), 0.07*0.07))
	return fuel.Figures{Low: fuel.Litres(sum[0] * math.Exp(-T*sd)), Likely: fuel.Litres(sum[1]),
		High: fuel.Litres(max(sum[2]*math.Exp(times*T*sd), floor))}
}

// Paved gives the figures of so many litres on paved road, of a maker's figure.
func Paved(litres float64) fuel.Figures {
	return Sure(0, map[route.Ground]float64{route.Paved: litres}).Figures(Maker, fuel.GeneralWeight)
}
