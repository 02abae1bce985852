package route_test

import (
	"fmt"
	"math"
	"testing"

	"lastpump/route"
)

// zigzag gives a line of n steps that turns by an angle at every point, to the
// left and to the right by turns; step i is as long as length says.
func zigzag(n int, turn float64, length func(i int) float64) []route.Point {
	xy := [][2]float64{{0, 0}}
	for i := range n {
		sin, cos := math.Sincos(turn / 2)
		if i%2 == 1 {
			sin = -sin
		}
		last, d := xy[i], length(i)
		xy = append(xy, [2]float64{last[0] + d*cos, last[1] + d*sin})
	}
	return flat(xy...)
}

func constant(d float64) func(int) float64 { return func(int) float64 { return d } }

// one gives the estimate of a line that is one segment.
func one(t testing.TB, points []route.Point) route.Estimate {
	t.Helper()
	s := stretch(t, points)
	if len(s.From) != 1 {
		t.Fatalf("estimates %+v, want one", s.From)
	}
	return s.From[0]
}

// meander gives a line of n steps that turns by an angle at every second point, twice to the
// left and twice to the right by turns, and goes straight on at the points between: points
// that lie on their chords, as there are none on a line that is simplified by its shape.
func meander(n int, turn float64, length func(i int) float64) []route.Point {
	xy := [][2]float64{{0, 0}}
	for i := range n {
		sin, cos := math.Sincos(turn / 2)
		if i%4 == 0 || i%4 == 3 {
			sin = -sin
		}
		last, d := xy[i], length(i)
		xy = append(xy, [2]float64{last[0] + d*cos, last[1] + d*sin})
	}
	return flat(xy...)
}

// Through every second point a meander that turns by θ is 1/cos(θ/2) times as long as it is
// drawn so, and the estimate q^(0.5·log2(d/10 m)); up to the 90th percentile of the rides
// that were thinned to such steps. The errors are those that were measured, between the rows
// by the logarithm.
func TestEvenlySpaced(t *testing.T) {
	const gentle, sharp = math.Pi / 9, math.Pi / 2
	q := 1 / math.Cos(gentle/2)
	for _, c := range []struct{ step, turn, want, err float64 }{
		{5, gentle, 1, 0.008}, {10 - 1e-3, gentle, 1, 0.008}, {10 + 1e-3, gentle, 1, 0.008},
		{50, gentle, math.Pow(q, 0.5*math.Log2(5)), 0.008}, {100, gentle, math.Pow(q, 0.5*math.Log2(10)), 0.02},
		{160, gentle, math.Pow(q, 2), 0.02 + 0.015*math.Log2(1.6)}, {200, gentle, math.Pow(q, 0.5*math.Log2(20)), 0.035},
		{500 - 1e-3, gentle, math.Pow(q, 0.5*math.Log2(50)), 0.10},
		{20, sharp, 1.01, 0.008}, {50, sharp, 1.03, 0.008}, {100, sharp, 1.07, 0.02}, {200, sharp, 1.13, 0.035},
		{500 - 1e-3, sharp, 1.24, 0.10},
	} {
		e := one(t, meander(250, c.turn, constant(c.step)))
		// The line is up to 120 km long: the cosine of its latitude is off by 1e-4.
		wantNear(t, "factor", e.Factor, c.want, 1e-3)
		wantNear(t, "error", e.Error, c.err, 1e-5)
		wantNear(t, "step", float64(e.Step), c.step, 1e-4*c.step)
		wantNear(t, "low", e.Low, max(1, c.want*(1-c.err)), 1e-3)
		wantNear(t, "high", e.High, c.want*(1+c.err), 1e-3)
		if e.Method != route.EvenlySpaced {
			t.Errorf("step %v: %+v", c.step, e)
		}
	}
}

// A straight line is as long as it is drawn, however it is drawn, and one that
// wanders no more through every second point is never made shorter.
func TestStraightLineIsNotStretched(t *testing.T) {
	for name, length := range map[string]func(int) float64{
		"even": constant(150), "uneven": func(i int) float64 { return []float64{100, 250}[i%2] },
		"drawn": func(i int) float64 { return []float64{50, 50, 900}[i%3] },
	} {
		if e := one(t, zigzag(300, 0, length)); !near(e.Factor, 1, 1e-7) || e.Factor < 1 {
			t.Errorf("%s: %+v", name, e)
		}
	}
}

// circles gives n chords of a regular polygon with so many sides, round and
// round, on from a straight of long steps: which makes the steps of the whole
// vary like those of a line simplified by its shape.
func circles(n, sides int, chord float64) []route.Point {
	xy := [][2]float64{{-20000, 0}}
	for i := range 10 {
		xy = append(xy, [2]float64{float64(i-9) * 2000, 0})
	}
	for i := range n {
		sin, cos := math.Sincos(2 * math.Pi * float64(i+1) / float64(sides))
		last := xy[len(xy)-1]
		xy = append(xy, [2]float64{last[0] + chord*cos, last[1] + chord*sin})
	}
	return flat(xy...)
}

// The chords of a regular polygon cut off the arcs of the circle around it:
// exactly what the estimate assumes. An arc of radius r = chord/(2·sin(π/sides))
// is 2πr/sides long.
func TestArcsOnACircle(t *testing.T) {
	for _, sides := range []int{6, 12, 36} {
		const n, chord = 720, 60.0
		arc := math.Pi / float64(sides) * chord / math.Sin(math.Pi/float64(sides))
		e := one(t, circles(n, sides, chord))
		if e.Method != route.ShapeSimplified {
			t.Fatalf("%d sides: %+v", sides, e)
		}
		// The last of the long steps meets one turn: the arc over it is no circle's.
		half := math.Pi / float64(sides) / 2
		bent := 2000 * half / math.Sin(half)
		want := (18000 + bent + n*arc) / (20000 + n*chord)
		wantNear(t, fmt.Sprintf("factor with %d sides", sides), e.Factor, want, 2e-6)
	}
}

// A turn counts at most 100°: at a hairpin or where the rider went back the line
// is no arc.
func TestArcsTurnAtMost100Degrees(t *testing.T) {
	const half = 50 * math.Pi / 180
	mixed := func(i int) float64 { return []float64{140, 140, 140, 1400}[i%4] }
	for _, turn := range []float64{100, 120, 180} {
		e := one(t, zigzag(400, turn*math.Pi/180, mixed))
		wantNear(t, fmt.Sprintf("factor at %v°", turn), e.Factor, half/math.Sin(half), 1e-4)
	}
	e := one(t, zigzag(400, 90*math.Pi/180, mixed))
	wantNear(t, "factor at 90°", e.Factor, math.Pi/4/math.Sin(math.Pi/4), 1e-4)
}

// A turn is the same wherever it is: across the antimeridian, and in the north,
// where a degree of longitude is shorter (by 0.4 % more or less at the end of the
// line, which is 13 km farther south).
func TestArcsAnywhere(t *testing.T) {
	want := math.Pi / 12 / math.Sin(math.Pi/12)
	for _, c := range []struct{ lon, lat, tol float64 }{{179.9, 0, 1e-6}, {-30, 60, 1e-3}, {179.9, -60, 1e-3}} {
		points := zigzag(400, math.Pi/6, func(i int) float64 { return []float64{20, 20, 20, 200}[i%4] })
		for i, p := range points {
			lon := c.lon + p.Lon()/math.Cos(c.lat*rad)
			points[i].Point = [2]float64{math.Mod(lon+540, 360) - 180, c.lat + p.Lat()}
		}
		wantNear(t, fmt.Sprintf("factor at %v, %v", c.lat, c.lon), one(t, points).Factor, want, c.tol)
	}
}

// bent gives a line of steps that turns to the left and to the right by turns, by an angle
// at most points and by another at every eighth: the tenth percentile of the distances from
// the chord, d·sin(turn/2), is that of the eighth, the median that of the others.
func bent(n int, step, turn, eighth float64) []route.Point {
	xy, heading := [][2]float64{{0, 0}}, 0.0
	for i := range n {
		by := turn
		if i%8 == 7 {
			by = eighth
		}
		if i%2 == 1 {
			by = -by
		}
		last := xy[i]
		xy = append(xy, [2]float64{last[0] + step*math.Cos(heading), last[1] + step*math.Sin(heading)})
		heading += by
	}
	return flat(xy...)
}

// A line whose tenth percentile of the distances from the chord is 0.33 of the median or
// more has been simplified by its shape. Measured on 64 recorded rides.
func TestChoiceOfMethod(t *testing.T) {
	const turn = math.Pi / 6
	even := func(share float64) bool {
		eighth := 2 * math.Asin(share*math.Sin(turn/2))
		return one(t, bent(300, 60, turn, eighth)).Method == route.EvenlySpaced
	}
	wantNear(t, "even up to", border(t, 0, 1, even), 0.33, 1e-4)
}

// The error of a simplified line goes by what it was simplified to, half the median distance
// of its points from the chord: 2·tolerance = d·sin(turn/2) on a zigzag.
func TestErrorOfArcs(t *testing.T) {
	for _, c := range []struct{ tolerance, want float64 }{
		{5, 0.013}, {20, 0.013}, {50, 0.017}, {100, 0.076}, {150, 0.076},
		{math.Sqrt(50 * 100), (0.017 + 0.076) / 2}, {math.Sqrt(20 * 50), 0.015},
	} {
		e := one(t, zigzag(300, 2*math.Asin(2*c.tolerance/450), constant(450)))
		wantNear(t, "error", e.Error, c.want, 1e-5)
		if e.Method != route.ShapeSimplified || e.Low != max(1, e.Factor*(1-e.Error)) || e.High != e.Factor*(1+e.Error) {
			t.Errorf("tolerance %v: %+v", c.tolerance, e)
		}
	}
}

// With over 500 m from point to point an even line takes the larger of the two estimates,
// and the larger of their errors where that is the arcs'.
func TestLargerEstimateOver500Metres(t *testing.T) {
	e := one(t, meander(250, 100*math.Pi/180, constant(1000)))
	if e.Method != route.FromTable || !near(e.Factor, 1.15, 1e-3) || !near(e.Error, 0.13, 1e-3) {
		t.Errorf("gentle: %+v", e)
	}
	// Where all but an eighth turn back, each chord is an arc of 100°, the most that counts.
	e = one(t, bent(250, 510, math.Pi, 0))
	if e.Method != route.ShapeSimplified || e.Factor < 1.12 || !near(e.Error, 0.1009, 1e-3) {
		t.Errorf("sharp: %+v", e)
	}
}

// A road whose heading swings by a quarter of a radian on each of six scales from
// 100 m to 6 km. Its length is known because it is laid in steps of a metre. The
// tolerance is that of the recorded rides.
func TestEvenlySpacedWindingRoad(t *testing.T) {
	var xy [][2]float64
	x, y, length := 0.0, 0.0, 0.0
	for ; length < 60000; length++ {
		heading := 0.0
		for k, wave := range []float64{100, 230, 520, 1200, 2700, 6100} {
			heading += 0.25 * math.Sin(2*math.Pi*length/wave+float64(k*k))
		}
		xy = append(xy, [2]float64{x, y})
		x, y = x+math.Cos(heading), y+math.Sin(heading)
	}
	for _, keep := range []int{20, 50, 100, 200} {
		var thinned [][2]float64
		for i := 0; i < len(xy); i += keep {
			thinned = append(thinned, xy[i])
		}
		// Along the equator a degree is a degree, north of it at most 6e-5 less.
		l := newLine(t, track(flat(thinned...)), route.LineOptions{})
		truth := float64((len(thinned)-1)*keep) / float64(l.Length())
		t.Logf("every %d m: %.4f times as long as drawn, estimated %.4f", keep, truth, l.Stretch.Factor)
		wantNear(t, "estimate ÷ truth", l.Stretch.Factor/truth, 1, 0.03)
	}
}
