package route_test

import (
	"slices"
	"testing"

	"github.com/paulmach/orb"
	"pgregory.net/rapid"

	"lastpump/route"
)

// walk draws a line of n points from a place on: straight on, winding or round
// and round, across the antimeridian where it has to.
func walk(t *rapid.T, from orb.Point, n int, step float64) []route.Point {
	points := []route.Point{{Point: from}}
	course := rapid.Float64Range(0, 360).Draw(t, "course")
	curl := rapid.SampledFrom([]float64{0, 7, 18, 30}).Draw(t, "curl")
	winding := rapid.SampledFrom([]float64{3, 30, 100}).Draw(t, "winding")
	for range n - 1 {
		course += curl + rapid.Float64Range(-winding, winding).Draw(t, "turn")
		d := step * rapid.Float64Range(0.3, 1).Draw(t, "step")
		points = append(points, route.Point{Point: ahead(points[len(points)-1].Point, course, d)})
	}
	return points
}

func sumOf(runs []route.Run) (ridden float64) {
	for _, r := range runs {
		ridden += float64(r.Ridden)
	}
	return ridden
}

var someStarts = []orb.Point{{15, 0}, {-70.5, -33.4}, {179.99, 51}, {-180, -17}, {25, 70}, {-21, 65}, {0, 0}}

// A track cut in two at a point that both halves keep is the same line.
func TestSplittingChangesNoDistance(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		points := walk(t, rapid.SampledFrom(someStarts).Draw(t, "start"), rapid.IntRange(3, 60).Draw(t, "points"), 500)
		cut := rapid.IntRange(1, len(points)-2).Draw(t, "cut")
		opt := route.LineOptions{Stretch: 1.1}
		whole := lineOf(t, [][]route.Point{points}, opt)
		halves := lineOf(t, [][]route.Point{points[:cut+1], points[cut:]}, opt)
		tracks, err := route.NewLine([]route.Track{
			{Name: "Day 1", Segments: [][]route.Point{points[:cut+1]}},
			{Name: "Day 2", Segments: [][]route.Point{points[cut:]}},
		}, opt)
		if err != nil {
			t.Fatal(err)
		}
		if halves.Length() != whole.Length() || tracks.Length() != whole.Length() {
			t.Errorf("%v m, in two segments %v m, in two tracks %v m", whole.Length(), halves.Length(), tracks.Length())
		}
		if len(halves.Gaps)+len(tracks.Gaps) > 0 {
			t.Errorf("gaps %v, %v", halves.Gaps, tracks.Gaps)
		}
		m := whole.Length() * route.Metres(rapid.Float64Range(0, 1).Draw(t, "share"))
		if a, b := whole.At(m), halves.At(m); a != b {
			t.Errorf("at %v m: %v and %v", m, a, b)
		}
		if p := tracks.Parts; len(p) != 2 || p[0].From != 0 || p[0].To != p[1].From || p[1].To != whole.Length() {
			t.Errorf("parts %v", p)
		}
	})
}

// With a stretch of 1 and no gaps the line is ridden as it is drawn.
func TestRiddenAsDrawn(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		points := walk(t, rapid.SampledFrom(someStarts).Draw(t, "start"), rapid.IntRange(2, 60).Draw(t, "points"), 500)
		l := lineOf(t, [][]route.Point{points}, route.LineOptions{Stretch: 1})
		if got, want := sumOf(l.Runs(route.Grounds{Sections: anySections(t, l.Length())})),
			float64(l.Length()); !near(got, want, 1e-9*want) {
			t.Errorf("%v m ridden, the line has %v m", got, want)
		}
	})
}

// A line backwards is as long, has the same gaps and is as closed.
func TestReversalKeepsLength(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		start := rapid.SampledFrom(someStarts).Draw(t, "start")
		segments := [][]route.Point{
			walk(t, start, rapid.IntRange(2, 40).Draw(t, "points"), 500),
			walk(t, ahead(start, 90, 20000), rapid.IntRange(2, 40).Draw(t, "points"), 500),
		}
		opt := route.LineOptions{Stretch: 1}
		forth, back := lineOf(t, segments, opt), lineOf(t, reversed(segments), opt)
		length := float64(forth.Length())
		if !near(length, float64(back.Length()), 1e-9*length) || forth.Closed != back.Closed {
			t.Errorf("%v m, closed %v; back %v m, %v", length, forth.Closed, back.Length(), back.Closed)
		}
		gaps := slices.Clone(back.Gaps)
		slices.Reverse(gaps)
		if len(gaps) != len(forth.Gaps) {
			t.Fatalf("gaps %v, back %v", forth.Gaps, gaps)
		}
		for i, g := range forth.Gaps {
			if !near(float64(g.Straight), float64(gaps[i].Straight), 1e-6) ||
				!near(float64(g.At+g.Straight+gaps[i].At), length, 1e-5) {
				t.Errorf("gap %v, back %v", g, gaps[i])
			}
		}
	})
}

// Length is the sum of the steps, whatever the segments; every place At gives
// lies between its neighbours.
func TestAtGoesAlongTheLine(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		points := walk(t, rapid.SampledFrom(someStarts).Draw(t, "start"), rapid.IntRange(2, 40).Draw(t, "points"), 500)
		l := lineOf(t, [][]route.Point{points}, route.LineOptions{Stretch: 1})
		sum := 0.0
		for i := 1; i < len(points); i++ {
			d := angle(points[i-1].Point, points[i].Point) * earth
			share := rapid.Float64Range(0, 1).Draw(t, "share")
			p := l.At(route.Metres(sum + share*d))
			// Straight in degrees over 500 m is a millimetre off the great circle.
			if a, b := angle(points[i-1].Point, p)*earth, angle(p, points[i].Point)*earth; !near(a, share*d, 0.02) ||
				!near(b, d-share*d, 0.02) {
				t.Errorf("step %d of %v m, share %v: %v m from the one end, %v m from the other", i, d, share, a, b)
			}
			sum += d
		}
		if !near(float64(l.Length()), sum, 1e-6) {
			t.Errorf("%v m, the steps sum to %v m", l.Length(), sum)
		}
	})
}
