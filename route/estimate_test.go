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

// A right-angled zigzag is √2 times as long as the line through every second of
// its points, so the design's q^(0.5·log2(d/10 m)) is (d/10 m)^¼.
func TestEvenlySpacedZigzag(t *testing.T) {
	for _, c := range []struct{ step, want, err float64 }{
		{5, 1, 0.003}, {10 - 1e-3, 1, 0.003}, {10 + 1e-3, 1, 0.003},
		{50, math.Pow(5, 0.25), 0.003}, {100, math.Pow(10, 0.25), 0.006},
		{160, 2, 0.011}, {200, math.Pow(20, 0.25), 0.011}, {500 - 1e-3, math.Pow(50, 0.25), 0.016},
	} {
		e := one(t, zigzag(250, math.Pi/2, constant(c.step)))
		// The line is up to 90 km long: the cosine of its latitude is off by 1e-4.
		wantNear(t, "factor", e.Factor, c.want, 1e-3)
		wantNear(t, "step", float64(e.Step), c.step, 1e-4*c.step)
		if e.Method != route.EvenlySpaced || e.High != e.Factor || e.Error != c.err {
			t.Errorf("step %v: %+v", c.step, e)
		}
	}
}

// Koch's curve turns by 60° between its first and second step and between its
// third and fourth, so through every second point a pair of steps is √3 long.
func TestEvenlySpacedKochCurve(t *testing.T) {
	q := 2 / math.Sqrt(3)
	for _, step := range []float64{20, 40, 80, 160} {
		e := one(t, koch(4, step))
		wantNear(t, fmt.Sprintf("factor at %v m", step), e.Factor, math.Pow(q, 0.5*math.Log2(step/10)), 1e-4)
	}
}

// koch gives Koch's curve, 4^level steps.
func koch(level int, step float64) []route.Point {
	turns := []int{0}
	for range level {
		var next []int
		for _, h := range turns {
			next = append(next, h, h+1, h-1, h)
		}
		turns = next
	}
	xy := [][2]float64{{0, 0}}
	for i, h := range turns {
		sin, cos := math.Sincos(float64(h) * math.Pi / 3)
		xy = append(xy, [2]float64{xy[i][0] + step*cos, xy[i][1] + step*sin})
	}
	return flat(xy...)
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
	for _, sides := range []int{4, 6, 12, 36} {
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
	for _, turn := range []float64{100, 120, 180} {
		e := one(t, zigzag(400, turn*math.Pi/180, func(i int) float64 { return []float64{20, 20, 20, 200}[i%4] }))
		wantNear(t, fmt.Sprintf("factor at %v°", turn), e.Factor, half/math.Sin(half), 1e-6)
	}
	e := one(t, zigzag(400, 90*math.Pi/180, func(i int) float64 { return []float64{20, 20, 20, 200}[i%4] }))
	wantNear(t, "factor at 90°", e.Factor, math.Pi/4/math.Sin(math.Pi/4), 1e-6)
}

// A turn is the same wherever it is: across the antimeridian, and in the north,
// where a degree of longitude is shorter (by 0.4 % more or less at the end of the
// line, which is 13 km farther south).
func TestArcsAnywhere(t *testing.T) {
	want := math.Pi / 4 / math.Sin(math.Pi/4)
	for _, c := range []struct{ lon, lat, tol float64 }{{179.9, 0, 1e-6}, {-30, 60, 1e-3}, {179.9, -60, 1e-3}} {
		points := zigzag(400, math.Pi/2, func(i int) float64 { return []float64{20, 20, 20, 200}[i%4] })
		for i, p := range points {
			lon := c.lon + p.Lon()/math.Cos(c.lat*rad)
			points[i].Point = [2]float64{math.Mod(lon+540, 360) - 180, c.lat + p.Lat()}
		}
		wantNear(t, fmt.Sprintf("factor at %v, %v", c.lat, c.lon), one(t, points).Factor, want, c.tol)
	}
}

// Steps of m·(1−v) and m·(1+v) by turns have the mean m and the variation v.
func varied(mean, v float64) func(int) float64 {
	return func(i int) float64 { return mean * (1 + v*float64(2*(i%2)-1)) }
}

// Below a variation of 0.4 the even estimate counts, from 0.6 on the arcs;
// between them the larger. With steps of 9 m the even one is 1 and the arcs are
// larger, with 160 m it is 2 and far the larger.
func TestChoiceOfMethod(t *testing.T) {
	for _, c := range []struct {
		mean, v float64
		want    route.Method
	}{
		{9, 0.2, route.EvenlySpaced}, {9, 0.4 - 1e-4, route.EvenlySpaced}, {9, 0.4 + 1e-4, route.ShapeSimplified},
		{9, 0.6 - 1e-4, route.ShapeSimplified}, {9, 0.6 + 1e-4, route.ShapeSimplified},
		{160, 0.2, route.EvenlySpaced}, {160, 0.4 + 1e-4, route.EvenlySpaced}, {160, 0.6 - 1e-4, route.EvenlySpaced},
		{160, 0.6 + 1e-4, route.ShapeSimplified}, {160, 0.9, route.ShapeSimplified},
	} {
		e := one(t, zigzag(300, math.Pi/2, varied(c.mean, c.v)))
		if e.Method != c.want {
			t.Errorf("mean %v, variation %v: %s, want %s", c.mean, c.v, e.Method, c.want)
		}
		if e.Method == route.ShapeSimplified {
			wantNear(t, "factor", e.Factor, math.Pi/4/math.Sin(math.Pi/4), 1e-4)
			wantNear(t, "error", e.Error, 0.006, 0) // design: 0.4-0.6 % for lines simplified at 5-50 m
		}
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
