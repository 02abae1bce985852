package route_test

import (
	"math"
	"strconv"
	"testing"

	"lastpump/route"
	"lastpump/testdata/kit"

	"github.com/paulmach/orb"
)

// earth is the mean radius of the earth in metres, (2a+b)/3 of GRS 80 as
// published: Moritz, Geodetic Reference System 1980, Journal of Geodesy 74
// (2000), p. 131. It is written out here so that a change to the package's own
// constant is seen.
const earth = 6371008.8

const rad = math.Pi / 180

// place gives the place that lies so many metres east and north of 0,0. North is
// exact along the zero meridian; east is exact on the equator.
func place(east, north float64) orb.Point {
	return orb.Point{east / earth / rad, north / earth / rad}
}

// north gives points on the zero meridian, where a distance on the sphere is
// nothing but the difference.
func north(metres ...float64) []route.Point {
	points := make([]route.Point, len(metres))
	for i, m := range metres {
		points[i].Point = place(0, m)
	}
	return points
}

// flat gives points in metres east and north of 0,0. Up to 10 km from there they
// lie as on a plane to within 1e-6 (the cosine of 5 arc minutes).
func flat(xy ...[2]float64) []route.Point {
	points := make([]route.Point, len(xy))
	for i, p := range xy {
		points[i].Point = place(p[0], p[1])
	}
	return points
}

// steps gives from, from+step, … to, the last one included.
func steps(from, to, step float64) []float64 {
	var out []float64
	for i := 0.0; from+i*step <= to+1e-9; i++ {
		out = append(out, from+i*step)
	}
	return out
}

// heights gives the points elevations; NaN stands for none.
func heights(points []route.Point, ele ...float64) []route.Point {
	for i, e := range ele {
		points[i].Ele, points[i].HasEle = e, !math.IsNaN(e)
	}
	return points
}

var none = math.NaN() // no elevation

// track makes one track of segments.
func track(segments ...[]route.Point) []route.Track {
	return []route.Track{{Segments: segments}}
}

func newLine(t testing.TB, tracks []route.Track, opt route.LineOptions) *route.Line {
	t.Helper()
	l, err := route.NewLine(tracks, opt)
	if err != nil {
		t.Fatal(err)
	}
	return l
}

// plain makes a line that is ridden as drawn.
func plain(t testing.TB, segments ...[]route.Point) *route.Line {
	t.Helper()
	return newLine(t, track(segments...), route.LineOptions{Stretch: 1})
}

// near tells whether two values differ by no more than tol. It is false for NaN.
func near(got, want, tol float64) bool { return math.Abs(got-want) <= tol }

func wantNear[T ~float64](t testing.TB, what string, got T, want, tol float64) {
	t.Helper()
	if !near(float64(got), want, tol) {
		t.Errorf("%s = %v, want %v ± %v", what, got, want, tol)
	}
}

// border and wantFault are what tests of other packages check with, too.
var border, wantFault = kit.Border, kit.WantFault

func decimal(v float64) string { return strconv.FormatFloat(v, 'f', -1, 64) }
