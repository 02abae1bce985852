package drawn

import (
	"math"

	"lastpump/route"

	"github.com/paulmach/orb"
	"pgregory.net/rapid"
)

// Litres per kilometre of the bike of these tests, 5 L/100 km: on paved ground
// (weights 0.95, 1.00, 1.05) and on sand (1.5, 1.8, 2.8), with 0.90 and 1.10 of
// the whole for low and high. Weights and spread are our estimate.
const (
	LowKm    = 0.05 * 0.95 * 0.90
	LikelyKm = 0.05
	HighKm   = 0.05 * 1.05 * 1.10
	SandKm   = 0.05 * 1.80
)

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
