package drawn

import (
	"math"

	"lastpump/fuel"
	"lastpump/route"

	"github.com/paulmach/orb"
	"pgregory.net/rapid"
)

// Litres per kilometre of the bike of these tests, 5 L/100 km: on paved ground, and on sand
// (weight 1.8). Of the bike so many tanks have been learnt from, and so steady they were, that
// on paved ground the high figure is 1.155 of the likely one, however far it is, see [Steady].
const (
	LikelyKm = 0.05
	HighKm   = 0.05 * 1.155
	SandKm   = 0.05 * 1.80
)

// Caution is how many times as far off as the high figure that is by which dry places are judged,
// in the logarithm.
const Caution = 1.3

// HighShare and LowShare are what the high and the low figure are of the likely one on paved
// ground, MostShare what a dry place is judged by.
var (
	HighShare = 1.155
	LowShare  = 1 / HighShare
	LowKm     = 0.05 * LowShare
	MostShare = math.Pow(HighShare, Caution)
	MostKm    = 0.05 * MostShare
)

// Steady is what was learnt of a bike that drinks as its file says, and whose single tanks do
// not scatter: what is in doubt is its thirst, by as much as makes the high figure on paved
// ground 1.155 times the likely one, for a metre as for a tank, and the weights of other
// grounds.
func Steady(b fuel.Bike) *fuel.Learnt {
	k := b.Before()
	sd := math.Log(HighShare) / 1.644854
	k.P[0][0] = sd*sd - 0.03*0.03 // a thirst drifts from tank to tank
	l := &fuel.Learnt{Tanks: 40, DoF: 1e15, Weights: k.Weights, Consumption: b.Consumption, Odometer: b.Odometer,
		LoadedMass: b.LoadedMass, MeasuredOn: b.MeasuredOn, RiddenOn: b.RiddenOn}
	l.SetCovariance(k.P)
	return l
}

// SteadyOn gives the low and the high figure of a steady bike for so many litres of which a share
// is on sand, whose weight is off by ln(2.8 ÷ 1.5) ÷ 2.5631031 in the logarithm.
func SteadyOn(litres, sand float64) (low, high float64) {
	thirst, weight := math.Log(HighShare), sand*math.Log(2.8/1.5)/2.5631031*1.644854
	off := math.Hypot(thirst, weight)
	return litres * math.Exp(-off), litres * math.Exp(off)
}

// ClimbL is what lifting 260 kg by a metre takes: m·g·h/(η·H) with g = 9.80665
// m/s², η 0.25 and H 32.05 MJ/L (efficiency: our estimate).
const ClimbL = 260 * 9.80665 / (0.25 * 32.05e6)

// A Pen draws in steps of a kilometre at sea level: along meridians and parallels,
// where kilometres can be counted. A step along a parallel is a great circle, which
// is shorter than the parallel by less than a part in a thousand million.
type Pen struct {
	Here   orb.Point
	Points []route.Point
}

// NewPen gives one at the place where all of them begin.
func NewPen() *Pen {
	p := &Pen{Here: At(0, 0)}
	return p.Dot()
}

// Dot puts a point where the pen is.
func (p *Pen) Dot() *Pen {
	p.Points = append(p.Points, route.Point{Point: p.Here, HasEle: true})
	return p
}

// North goes north, or south for negative kilometres.
func (p *Pen) North(km float64) *Pen {
	from := p.Here
	n := math.Ceil(math.Abs(km) - 1e-9)
	for i := 1.0; i <= n; i++ {
		p.Here = orb.Point{from[0], from[1] + km*i/n/PerDegree}
		p.Dot()
	}
	return p
}

// East goes east along the parallel, or west.
func (p *Pen) East(km float64) *Pen {
	from := p.Here
	around := PerDegree * math.Cos(from[1]*math.Pi/180)
	n := math.Ceil(math.Abs(km) - 1e-9)
	for i := 1.0; i <= n; i++ {
		p.Here = orb.Point{from[0] + km*i/n/around, from[1]}
		p.Dot()
	}
	return p
}

// Home goes east or west to the meridian on which the pen began.
func (p *Pen) Home() *Pen {
	return p.East((20 - p.Here[0]) * PerDegree * math.Cos(p.Here[1]*math.Pi/180))
}

// Narrower tells by how much a width at 40° N shrinks on meridians that far north.
func Narrower(km float64) float64 {
	return math.Cos((40+km/PerDegree)*math.Pi/180) / math.Cos(40*math.Pi/180)
}

// Square is a loop: north, east, south, west, of sides of so many kilometres, the
// last one a little longer.
func Square(t rapid.TB, side float64) *route.Line {
	t.Helper()
	return LineThrough(t, NewPen().North(side).East(side).North(-side).Home().Points)
}

// Eight is a loop to the north-east and one to the south-west; they cross where
// they begin.
func Eight(t rapid.TB, side float64) *route.Line {
	t.Helper()
	return LineThrough(t, NewPen().North(side).East(side).North(-side).Home().
		North(-side).East(-side).North(side).Home().Points)
}

// Rising gives points north from 0, a kilometre apart, with a height each.
func Rising(km int, height func(km float64) float64) []route.Point {
	var points []route.Point
	for k := range km + 1 {
		points = append(points, route.Point{Point: At(float64(k), 0), Ele: height(float64(k)), HasEle: true})
	}
	return points
}

// Section is ground from one kilometre to another.
func Section(from, to float64, g route.Ground) route.Section {
	return route.Section{From: route.Kilometres(from), To: route.Kilometres(to), Ground: g}
}
