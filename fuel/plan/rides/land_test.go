package rides_test

import (
	"math"
	"math/rand/v2"

	"lastpump/route"

	"github.com/paulmach/orb"
)

// A land is where a loop is drawn: a plane in metres, laid on the sphere about a
// middle, with waves of hills.
type land struct {
	middle orb.Point
	waves  []wave
	grain  float64 // heights are written in steps of so many metres
}

// A wave is a range of hills: metres up and down, over so many metres, in some
// direction.
type wave struct{ high, east, north, phase float64 }

// drawLand draws a middle and hills: from a plain to mountains of some 40 m of climb
// a kilometre.
func drawLand(rnd *rand.Rand) land {
	l := land{grain: []float64{0.01, 0.1, 1, 5}[rnd.IntN(4)], middle: orb.Point{-120 + 240*rnd.Float64(), -35 + 90*rnd.Float64()}}
	steep := rnd.Float64() * rnd.Float64()
	for _, length := range []float64{3e3, 8e3, 20e3, 60e3} {
		heading, k := 2*math.Pi*rnd.Float64(), 2*math.Pi/length
		l.waves = append(l.waves, wave{
			high: 0.012 * steep * length * rnd.Float64(), phase: 2 * math.Pi * rnd.Float64(),
			east: k * math.Sin(heading), north: k * math.Cos(heading),
		})
	}
	return l
}

// point gives a place of the plane as a point of a file, its height out by up to 2 m
// and rounded as recorders do.
func (l land) point(rnd *rand.Rand, x, y float64) route.Point {
	high := 1500 + 4*rnd.Float64() - 2
	for _, w := range l.waves {
		high += w.high * math.Sin(w.east*x+w.north*y+w.phase)
	}
	return route.Point{Point: l.at(x, y), Ele: math.Round(high/l.grain) * l.grain, HasEle: true}
}

func (l land) at(x, y float64) orb.Point {
	const degree = 111195.0 // metres, near enough to draw by
	lat := l.middle[1] + y/degree
	return orb.Point{l.middle[0] + x/degree/math.Cos(lat*math.Pi/180), lat}
}

// drawWay draws a closed way about the middle, some length long, a point every step
// metres; on some it goes out to a dead end and back by the way it came.
func drawWay(rnd *rand.Rand, length, step float64) (xy [][2]float64) {
	const bends = 7
	var size, phase [bends]float64
	for k := range bends {
		size[k], phase[k] = 0.5*rnd.Float64()/float64(k+1), 2*math.Pi*rnd.Float64()
	}
	at := func(turn float64) [2]float64 {
		r := 1.0
		for k := range bends {
			r += 0.6 * size[k] * math.Cos(float64(k+2)*turn+phase[k])
		}
		r *= length / 8
		return [2]float64{r * math.Cos(turn), r * math.Sin(turn)}
	}
	spur := -1.0
	if rnd.Float64() < 0.4 {
		spur = 2 * math.Pi * (0.15 + 0.7*rnd.Float64())
	}
	for turn := 0.0; turn < 2*math.Pi; {
		here := at(turn)
		xy = append(xy, here)
		if spur >= 0 && turn >= spur {
			xy, spur = append(xy, deadEnd(rnd, here, step)...), -1
		}
		next := at(turn + 1e-6)
		speed := math.Hypot(next[0]-here[0], next[1]-here[1]) / 1e-6
		turn += step * (0.6 + 0.8*rnd.Float64()) / speed
	}
	return append(xy, at(0))
}

// deadEnd goes out from a place, away from the middle, and back.
func deadEnd(rnd *rand.Rand, from [2]float64, step float64) (xy [][2]float64) {
	heading := math.Atan2(from[1], from[0])
	n := int((12e3 + 20e3*rnd.Float64()) / step)
	x, y := from[0], from[1]
	for i := range n {
		bend := heading + 0.5*math.Sin(float64(i)*step/3000)
		x, y = x+step*math.Cos(bend), y+step*math.Sin(bend)
		xy = append(xy, [2]float64{x, y})
	}
	for i := n - 2; i >= 0; i-- {
		xy = append(xy, xy[i])
	}
	return append(xy, from)
}

// tracks makes days of a way: points with heights, some of which are missing over a
// stretch, and in some a hole of a few kilometres.
func (l land) tracks(rnd *rand.Rand, xy [][2]float64, step float64) []route.Track {
	var points []route.Point
	for _, p := range xy {
		points = append(points, l.point(rnd, p[0], p[1]))
	}
	blank(rnd, points, step)
	days := 3 + rnd.IntN(5)
	hole := -1
	if rnd.Float64() < 0.25 {
		hole = 1 + rnd.IntN(days-1)
	}
	var out []route.Track
	for d := range days {
		day := points[len(points)*d/days : len(points)*(d+1)/days]
		segments := [][]route.Point{day}
		if d == hole {
			a := len(day) / 3
			b := a + int((1e3+4e3*rnd.Float64())/step)
			segments = [][]route.Point{day[:a], day[min(b, len(day)-2):]}
		}
		out = append(out, route.Track{Segments: segments})
	}
	return out
}

// blank takes heights away: none on most loops, stretches on some, all on a few.
func blank(rnd *rand.Rand, points []route.Point, step float64) {
	kind := rnd.Float64()
	if kind > 0.45 {
		return
	}
	for range 1 + rnd.IntN(5) {
		from := rnd.IntN(len(points))
		to := min(len(points), from+int(40e3*rnd.Float64()*rnd.Float64()/step))
		if kind < 0.07 {
			from, to = 0, len(points)
		}
		for i := from; i < to; i++ {
			points[i].HasEle, points[i].Ele = false, 0
		}
	}
}
