package learn

import (
	"math"

	"lastpump/fuel"
)

// A Tank is what was ridden from one brim to the next.
type Tank struct {
	Needs  fuel.Needs  // what the plan has for it at a thirst of 1
	Litres fuel.Litres // all that was filled, up to the brim at its end
	Poured fuel.Litres // of them, what was filled before that
	Not    Why         // why nothing can be learnt from it; "" for a tank like any other
	Marks  []Mark      // where lamp and tap told of the tank, in their order
}

// A Mark is a place in a tank at which the lamp came on or the tap had to be turned.
type Mark struct {
	Tap    bool       // else the lamp
	Needs  fuel.Needs // up to there from the brim
	Poured fuel.Litres
}

// Why says why a tank is not learnt from.
type Why string

// The reasons.
const (
	TooFarOff       Why = "off-by-over-twice"  // it took over twice or under half of what was expected
	FillNotWritten  Why = "missed-fill"        // the rider says that a fill was not written down
	FillMissing     Why = "fill-seems-missing" // it needs more than bike and can hold
	DistanceUnknown Why = "distance-not-known" //
	LitresUnknown   Why = "litres-not-known"   //
	NothingRidden   Why = "nothing-was-ridden" // the plan has no litres for it
)

// A Step is what came of one tank.
type Step struct {
	Off    float64 // v: logarithm of filled ÷ expected
	V, R   float64 // the variance of what was expected, and that of the filling
	Weight float64 // w: how far it was believed, 1 for wholly
	Used   bool
	Why    Why // where it was not
}

// HasOff tells whether the tank could be compared at all.
func (s Step) HasOff() bool { return s.Used || s.Why == TooFarOff }

// SDs gives by how many standard deviations the tank was off.
func (s Step) SDs() float64 { return s.Off / math.Sqrt(s.V+s.R) }

// Learn learns from a tank that was filled to the brim.
func (s State) Learn(t Tank) (State, Step) {
	s = s.drifted()
	s.tanks++
	if why := s.refuses(t); why != "" {
		return s, Step{Why: why}
	}
	for _, m := range t.Marks {
		s = s.marked(m, false)
	}
	return s.measured(t.Needs, float64(t.Litres))
}

// drifted lets the thirst drift, as it may from one tank to the next.
func (s State) drifted() State {
	if s.tanks > 0 {
		s.p[theta][theta] += fuel.Drift * fuel.Drift
	}
	return s
}

func (s State) refuses(t Tank) Why {
	switch {
	case t.Not != "":
		return t.Not
	case !(t.Litres > 0):
		return LitresUnknown
	case !(t.Needs.Sum().Likely > 0):
		return NothingRidden
	case s.Missing(t):
		return FillMissing
	}
	return ""
}

// Missing tells whether a fill must be missing: even a bike at the low end of what is known
// of its thirst could not have ridden the tank on what it holds, can and part-fills
// included.
func (s State) Missing(t Tank) bool {
	_, lnT := s.expect(t.Needs)
	return fuel.Exp(lnT+s.Theta()-fuel.OneSided*s.SDTheta()) > float64(s.usable+s.can+t.Poured)
}

// expect gives the slope of the logarithm of what a way takes, and its value at a thirst
// of 1.
func (s State) expect(n fuel.Needs) (h vector, lnT float64) {
	var a [fuel.WeightCount]float64
	sum := float64(n.Climb.Likely)
	for i, f := range n.Flat {
		a[i] = float64(f.Likely) * s.factor(i)
		sum += a[i]
	}
	h[theta] = 1
	for i := 1; i < fuel.WeightCount; i++ {
		h[i] = a[i] / sum
	}
	return h, fuel.Log(sum)
}

// fillNoise gives how much the logarithm of litres from brim to brim is off.
func (s State) fillNoise(litres float64) float64 {
	return s.tau2() + 2*fuel.Brim*fuel.Brim/(litres*litres)
}

// measured takes the litres that a way took from brim to brim, or to the last drop.
func (s State) measured(n fuel.Needs, litres float64) (State, Step) {
	h, lnT := s.expect(n)
	step, ph := s.weigh(h, fuel.Log(litres)-s.x[theta]-lnT, s.fillNoise(litres))
	if !step.Used {
		return s, step
	}
	s = s.moved(ph, step.Off/(step.V+step.R/step.Weight), 1/(step.V+step.R/step.Weight))
	s.ssq += min(step.Off*step.Off/(step.V+step.R), mostSquare) * s.tau2()
	s.dof++
	return s, step
}

// Beyond these a tank is not learnt from, or not further: our measurement.
const (
	farOff     = math.Ln2 // twice or half of what was expected
	mostSquare = 6        // variances that one tank adds to the scatter
)

// weigh says how far an observation is to be believed.
func (s State) weigh(h vector, v, r float64) (Step, vector) {
	ph := s.times(h)
	step := Step{Off: v, V: h.dot(ph), R: r}
	if !(math.Abs(v) <= farOff) {
		step.Why = TooFarOff
		return step, ph
	}
	step.Used, step.Weight = true, min(1, 5/(4+v*v/(step.V+r)))
	return step, ph
}

// moved moves the state along PH by so much, and takes so much of (PH)(PH)ᵀ off P.
func (s State) moved(ph vector, by, less float64) State {
	for i := range size {
		s.x[i] += ph[i] * by
		for j := range size {
			s.p[i][j] -= ph[i] * ph[j] * less
		}
	}
	return s
}

// times gives PH.
func (s State) times(h vector) (ph vector) {
	for i := range size {
		ph[i] = h.dot(s.p[i])
	}
	return ph
}

func (h vector) dot(o vector) (sum float64) {
	for i := range size {
		sum += h[i] * o[i]
	}
	return sum
}
