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

// sdLeft is how many litres a rider is off about lamp and tap (our estimate).
const sdLeft = 0.5

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
	return from(b, b.Before()).withTaps(b)
}

// from gives the state of a bike of which so much is known, lamp and tap left out.
func from(b fuel.Bike, k fuel.Known) State {
	s := State{ssq: k.SSQ, dof: k.DoF, tanks: k.Tanks, weights: k.Weights, start: k.Start, usable: b.Usable(), can: b.Can}
	for i := range k.P {
		s.x[i] = k.X[i]
		copy(s.p[i][:], k.P[i][:])
	}
	return s
}

// known gives what is known of how much the bike drinks.
func (s State) known() fuel.Known {
	k := fuel.Known{SSQ: s.ssq, DoF: s.dof, Tanks: s.tanks, Weights: s.weights, Start: s.start}
	for i := range k.P {
		k.X[i] = s.x[i]
		copy(k.P[i][:], s.p[i][:])
	}
	return k
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
func (s State) T() float64 { return s.known().T() }

// Thirst gives the thirst, with 90 % between low and high: what multiplies a consumption.
func (s State) Thirst() (low, likely, high float64) {
	off := s.T() * s.SDTheta()
	return fuel.Exp(s.Theta() - off), fuel.Exp(s.Theta()), fuel.Exp(s.Theta() + off)
}

// A GroundState is what is known of the weight of a ground.
type GroundState struct {
	Ground   route.Ground
	U, SD    float64 // logarithm of the factor on the bike's likely weight, and its standard deviation
	Share    float64 // of the doubt at the start that is left
	Weight   fuel.Weight
	Standing fuel.Standing
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
	k := s.known()
	return GroundState{Ground: g, U: s.x[i], SD: math.Sqrt(s.p[i][i]), Share: k.Share(i), Weight: k.Weight(i), Standing: k.Standing(i)}
}

// factor gives what was learnt of the weight of a ground; nothing is of paved road.
func (s State) factor(i int) float64 {
	if i == 0 {
		return 1
	}
	return fuel.Exp(s.x[i])
}
