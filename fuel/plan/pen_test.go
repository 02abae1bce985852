package plan_test

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
	lowKm    = 0.05 * 0.95 * 0.90
	likelyKm = 0.05
	highKm   = 0.05 * 1.05 * 1.10
	sandKm   = 0.05 * 1.80
)

// climbL is what lifting 260 kg by a metre takes: m·g·h/(η·H) with g = 9.80665
// m/s², η 0.25 and H 32.05 MJ/L (efficiency: our estimate).
const climbL = 260 * 9.80665 / (0.25 * 32.05e6)

// A pen draws in steps of a kilometre at sea level: along meridians and parallels,
// where kilometres can be counted. A step along a parallel is a great circle, which
// is shorter than the parallel by less than a part in a thousand million.
type pen struct {
	here   orb.Point
	points []route.Point
}

func newPen() *pen {
	p := &pen{here: at(0, 0)}
	return p.dot()
}

func (p *pen) dot() *pen {
	p.points = append(p.points, route.Point{Point: p.here, HasEle: true})
	return p
}

// north goes north, or south for negative kilometres.
func (p *pen) north(km float64) *pen {
	from := p.here
	n := math.Ceil(math.Abs(km) - 1e-9)
	for i := 1.0; i <= n; i++ {
		p.here = orb.Point{from[0], from[1] + km*i/n/perDegree}
		p.dot()
	}
	return p
}

// east goes east along the parallel, or west.
func (p *pen) east(km float64) *pen {
	from := p.here
	around := perDegree * math.Cos(from[1]*math.Pi/180)
	n := math.Ceil(math.Abs(km) - 1e-9)
	for i := 1.0; i <= n; i++ {
		p.here = orb.Point{from[0] + km*i/n/around, from[1]}
		p.dot()
	}
	return p
}

// home goes east or west to the meridian on which the pen began.
func (p *pen) home() *pen {
	return p.east((20 - p.here[0]) * perDegree * math.Cos(p.here[1]*math.Pi/180))
}

// narrower tells by how much a width at 40° N shrinks on meridians that far north.
func narrower(km float64) float64 {
	return math.Cos((40+km/perDegree)*math.Pi/180) / math.Cos(40*math.Pi/180)
}

// square is a loop: north, east, south, west, of sides of so many kilometres, the
// last one a little longer.
func square(t rapid.TB, side float64) *route.Line {
	t.Helper()
	return lineThrough(t, newPen().north(side).east(side).north(-side).home().points)
}

// eight is a loop to the north-east and one to the south-west; they cross where
// they begin.
func eight(t rapid.TB, side float64) *route.Line {
	t.Helper()
	return lineThrough(t, newPen().north(side).east(side).north(-side).home().
		north(-side).east(-side).north(side).home().points)
}

// border gives the last float64 from low on for which holds is true, given that
// it is true for low and no longer for high. The next one is beyond the border, so
// both sides are tested, one unit in the last place apart.
func border(t rapid.TB, low, high float64, holds func(float64) bool) float64 {
	t.Helper()
	if !holds(low) || holds(high) {
		t.Fatalf("no border between %v and %v", low, high)
	}
	for math.Nextafter(low, high) != high {
		if mid := low + (high-low)/2; holds(mid) {
			low = mid
		} else {
			high = mid
		}
	}
	return low
}

// rising gives points north from 0, a kilometre apart, with a height each.
func rising(km int, height func(km float64) float64) []route.Point {
	var points []route.Point
	for k := range km + 1 {
		points = append(points, route.Point{Point: at(float64(k), 0), Ele: height(float64(k)), HasEle: true})
	}
	return points
}

// section is ground from one kilometre to another.
func section(from, to float64, g route.Ground) route.Section {
	return route.Section{From: route.Kilometres(from), To: route.Kilometres(to), Ground: g}
}
