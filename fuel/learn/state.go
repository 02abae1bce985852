package learn

import (
	"math"

	"lastpump/fuel"
	"lastpump/route"
)

// Where the parts of the state stand: the thirst, then the nine unpaved grounds as in
// [fuel.WeighedGrounds], whose place 0 is paved road, and what is left in the tank when the
// lamp comes on and when the tap has to be turned. Only those of the bike file are kept.
const (
	theta = 0
	lamp  = fuel.WeightCount
	tap   = lamp + 1
	size  = tap + 1
)

type (
	vector [size]float64
	matrix [size][size]float64
)

// The constants of the filter: our measurement, see the package comment.
const (
	sdMaker  = 0.12   // of a maker's figure, in the logarithm
	sdOwn    = 0.06   // of a figure from two or more own tanks (our estimate)
	ownTanks = 2      // so many
	tau2     = 0.0049 // the scatter of single tanks to begin with, squared
	dof      = 8      // how many tanks that is worth
	drift    = 0.03   // of the thirst from tank to tank
	brim     = 0.3    // litres that one brim is off
	sdLeft   = 0.5    // litres that a rider is off about lamp and tap (our estimate)
	between  = 2.563103
)

// A State is what is known of a bike after some tanks. The zero value is none: see [New].
type State struct {
	x        vector
	p        matrix
	ssq, dof float64
	tanks    int
	weights  [fuel.WeightCount]fuel.Weight
	start    [fuel.WeightCount]float64 // standard deviation of each u before the first tank
	usable   fuel.Litres
	can      fuel.Litres
}

// New gives what is known of a bike before its first tank: the figures of its file, in
// doubt as such figures are. The logarithm of a weight has 80 % of its doubt between low
// and high.
func New(b fuel.Bike) State {
	s := State{ssq: dof * tau2, dof: dof, usable: b.Usable(), can: b.Can}
	sd := sdMaker
	if b.ConsumptionTanks >= ownTanks {
		sd = sdOwn
	}
	s.p[theta][theta] = sd * sd
	for i, g := range fuel.WeighedGrounds() {
		w := b.Weight(g)
		s.weights[i] = w
		if i > 0 {
			s.start[i] = math.Log(w.High/w.Low) / between
			s.p[i][i] = s.start[i] * s.start[i]
		}
	}
	return s.withTaps(b)
}

// withTaps begins to learn what is left at lamp and tap.
func (s State) withTaps(b fuel.Bike) State {
	for at, left := range map[int]fuel.Litres{lamp: b.LampAt, tap: b.ReserveTap} {
		if left > 0 {
			s.x[at], s.p[at][at] = float64(left), sdLeft*sdLeft
		}
	}
	return s
}

// Tanks is how many tanks have been seen, those not learnt from among them.
func (s State) Tanks() int { return s.tanks }

// Theta is the logarithm of the thirst: 0 for a bike as its file has it.
func (s State) Theta() float64 { return s.x[theta] }

// SDTheta is the standard deviation of [State.Theta].
func (s State) SDTheta() float64 { return math.Sqrt(s.p[theta][theta]) }

// Tau is the scatter of single tanks, as a standard deviation in the logarithm.
func (s State) Tau() float64 { return math.Sqrt(s.tau2()) }

func (s State) tau2() float64 { return s.ssq / s.dof }

// DoF is of how many tanks [State.Tau] is known.
func (s State) DoF() float64 { return s.dof }

// T is how many standard deviations the low and the high figure are off: the 95th
// percentile of Student's t, to 0.002 from 8 degrees of freedom up.
func (s State) T() float64 { return oneSided + 1.523769/s.dof + 1.420203/(s.dof*s.dof) }

// oneSided is the 95th percentile of the normal distribution.
const oneSided = 1.644854

// Thirst gives the thirst, with 90 % between low and high: what multiplies a consumption.
func (s State) Thirst() (low, likely, high float64) {
	off := s.T() * s.SDTheta()
	return math.Exp(s.Theta() - off), math.Exp(s.Theta()), math.Exp(s.Theta() + off)
}

// Standing says how far the weight of a ground is the rider's own.
type Standing string

// The standings, by how much of the doubt there was at the start is left.
const (
	General     Standing = "general"      // over 0.9
	PartlyYours Standing = "partly yours" // 0.6 to 0.9
	Yours       Standing = "yours"        // below
)

// A GroundState is what is known of the weight of a ground.
type GroundState struct {
	Ground   route.Ground
	U, SD    float64 // logarithm of the factor on the bike's likely weight, and its standard deviation
	Share    float64 // of the doubt at the start that is left
	Weight   fuel.Weight
	Standing Standing
}

// Grounds gives what is known of each unpaved ground, in the order of
// [fuel.WeighedGrounds].
func (s State) Grounds() []GroundState {
	var out []GroundState
	for i, g := range fuel.WeighedGrounds()[1:] {
		out = append(out, s.ground(i+1, g))
	}
	return out
}

func (s State) ground(i int, g route.Ground) GroundState {
	f := s.share(i)
	is := GroundState{Ground: g, U: s.x[i], SD: math.Sqrt(s.p[i][i]), Share: f, Weight: s.weight(i), Standing: Yours}
	switch {
	case f > 0.9:
		is.Standing = General
	case f >= 0.6:
		is.Standing = PartlyYours
	}
	return is
}

// Weight gives the rider's own weight of a ground.
func (s State) Weight(g route.Ground) fuel.Weight { return s.weight(fuel.WeighedAs(g)) }

func (s State) weight(i int) fuel.Weight {
	w, f := s.weights[i], s.share(i)
	likely := w.Likely * s.factor(i)
	return fuel.Weight{Low: likely * math.Pow(w.Low/w.Likely, f), Likely: likely,
		High: likely * math.Pow(w.High/w.Likely, f)}
}

// share gives how much of the doubt about a ground is left; all of it where there was none.
func (s State) share(i int) float64 {
	if i == 0 || s.start[i] == 0 {
		return 1
	}
	return math.Sqrt(s.p[i][i]) / s.start[i]
}

// factor gives what was learnt of the weight of a ground; nothing is of paved road.
func (s State) factor(i int) float64 {
	if i == 0 {
		return 1
	}
	return math.Exp(s.x[i])
}
