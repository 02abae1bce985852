package learn

import (
	"math"

	"lastpump/fuel"
)

// A Band is what a way will take: nineteen of twenty take less than High, and nineteen of
// twenty more than Low.
type Band struct {
	fuel.Figures
	SD float64 // of the logarithm
}

// Ahead gives what one leg takes, or a sum of legs that follow each other. A leg is all
// that is burnt from one brim to the next: a place that is passed or dry divides nothing.
// High is never under what the high weights ask for, as far as they are not the rider's
// own.
func (s State) Ahead(legs ...fuel.Needs) Band {
	var all fuel.Needs
	for _, l := range legs {
		all = all.Plus(l)
	}
	t := s.sum(all)
	if !(t.Likely > 0) {
		return Band{}
	}
	likely := float64(t.Likely) * math.Exp(s.Theta())
	h, _ := s.expect(all)
	sd := math.Sqrt(h.dot(s.times(h)) + s.scatter(legs, float64(t.Likely)) +
		min(brim*brim/(likely*likely), s.tau2()))
	off := math.Exp(s.T() * sd)
	times := fuel.Litres(math.Exp(s.Theta()))
	return Band{fuel.Figures{
		Low:    t.Low * times / fuel.Litres(off),
		Likely: fuel.Litres(likely),
		High:   max(t.High*times*fuel.Litres(off), s.floor(all)*times),
	}, sd}
}

// sum gives what a way takes at a thirst of 1 and the weights learnt.
func (s State) sum(n fuel.Needs) fuel.Figures {
	f := n.Climb
	for i, g := range n.Flat {
		w := fuel.Litres(s.factor(i))
		f = f.Plus(fuel.Figures{Low: g.Low * w, Likely: g.Likely * w, High: g.High * w})
	}
	return f
}

// scatter gives the variance of legs that each drift and scatter by themselves: a drift
// stays for all legs behind it, the scatter is of one.
func (s State) scatter(legs []fuel.Needs, all float64) (sum float64) {
	rest := 0.0
	for j := len(legs) - 1; j >= 0; j-- {
		w := float64(s.sum(legs[j]).Likely) / all
		rest += w
		sum += drift*drift*rest*rest + s.tau2()*w*w
	}
	return sum
}

// floor gives the high figure of a way by its weights alone, at a thirst of 1.
func (s State) floor(n fuel.Needs) fuel.Litres {
	sum := n.Climb.High
	for i, g := range n.Flat {
		w := s.weights[i]
		sum += g.High * fuel.Litres(s.factor(i)*math.Pow(w.High/w.Likely, s.share(i)))
	}
	return sum
}
