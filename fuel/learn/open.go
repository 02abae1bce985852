package learn

import (
	"math"

	"lastpump/fuel"
)

// An Open is a tank that has not been filled up yet, and what is known of it.
type Open struct {
	Marks []Mark
	Dry   *Reach // where it ran dry; nil where it did not
	Rode  *Reach // else how far it did not; nil where that is not known
}

// Empty tells whether nothing is known of it.
func (o Open) Empty() bool { return len(o.Marks) == 0 && o.Dry == nil && o.Rode == nil }

// A Reach is how far so many litres went.
type Reach struct {
	Needs  fuel.Needs  // from the brim
	Litres fuel.Litres // usable ones, with what was poured in on the way
}

// LearnOpen learns from a tank that is not full again: from its lamp and tap, and from
// where it ran dry or did not. When it is full its litres tell all that and more, so what
// is learnt here is for the time being, and the state before it is the one to keep. The step is that
// of where it ran dry, if it did. (It is derived, and not tested on fills.)
func (s State) LearnOpen(o Open) (State, Step) {
	if o.Empty() {
		return s, Step{}
	}
	s = s.drifted()
	for _, m := range o.Marks {
		s = s.marked(m, true)
	}
	switch {
	case o.Dry != nil && o.Dry.tells():
		return s.measured(o.Dry.Needs, float64(o.Dry.Litres))
	case o.Rode != nil && o.Rode.tells():
		s = s.notDry(*o.Rode)
	}
	return s, Step{}
}

func (r Reach) tells() bool { return r.Litres > 0 && r.Needs.Sum().Likely > 0 }

// marked learns from a lamp or a tap; of a tank that is full again only what is left then,
// because its thirst is told better by the litres.
func (s State) marked(m Mark, open bool) State {
	at := lamp
	if m.Tap {
		at = tap
	}
	used := float64(s.usable+m.Poured) - s.x[at]
	if s.p[at][at] == 0 || !(used > 0) || !(m.Needs.Sum().Likely > 0) {
		return s
	}
	h, lnT := s.expect(m.Needs)
	h[at] = 1 / used
	step, ph := s.weigh(h, fuel.Log(used)-s.x[theta]-lnT, s.fillNoise(used))
	if !step.Used {
		return s
	}
	total := step.V + step.R/step.Weight
	if open {
		return s.moved(ph, step.Off/total, 1/total)
	}
	return s.movedAlone(at, ph, step.Off/total, total)
}

// movedAlone moves one part of the state and leaves the others; P = (I − KH)P(I − KH)ᵀ + KRKᵀ
// for a gain K that is nought but there.
func (s State) movedAlone(at int, ph vector, by, total float64) State {
	gain := ph[at] / total
	s.x[at] += ph[at] * by
	for i := range size {
		if i != at {
			s.p[at][i] -= gain * ph[i]
			s.p[i][at] = s.p[at][i]
		}
	}
	s.p[at][at] -= gain * ph[at]
	return s
}

// notDry learns that so many litres did go so far: what is known of the thirst, cut off
// where they would not have. φ ÷ Φ is that of the normal distribution.
func (s State) notDry(r Reach) State {
	h, lnT := s.expect(r.Needs)
	ph := s.times(h)
	sd := math.Sqrt(h.dot(ph) + s.fillNoise(float64(r.Litres)))
	z := (fuel.Log(float64(r.Litres)) - s.x[theta] - lnT) / sd
	l := mills(z)
	return s.moved(ph, -l/sd, l*(l+z)/(sd*sd))
}

// mills gives φ(z) ÷ Φ(z). Far below 0, where both vanish, it is −z − 1/z + 2/z³ (Abramowitz
// and Stegun, 26.2.12: from memory).
func mills(z float64) float64 {
	if z < -30 {
		return -z - 1/z + 2/(z*z*z)
	}
	return fuel.Exp(-z*z/2) / math.Sqrt(2*math.Pi) / (math.Erfc(-z/math.Sqrt2) / 2)
}

// Left gives what is usable when the lamp comes on, or the tap has to be turned; ok is
// false where the bike file does not say that there is one.
func (s State) Left(atTap bool) (left fuel.Litres, sd float64, ok bool) {
	at := lamp
	if atTap {
		at = tap
	}
	return fuel.Litres(s.x[at]), math.Sqrt(s.p[at][at]), s.p[at][at] > 0
}
