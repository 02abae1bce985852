package route_test

import (
	"math"
	"testing"

	"lastpump/route"

	"github.com/google/go-cmp/cmp"
)

func stretch(t testing.TB, segments ...[]route.Point) route.Stretch {
	t.Helper()
	return newLine(t, track(segments...), route.LineOptions{}).Stretch
}

// The table as it was measured: true over drawn length of 28 dense
// recorded tracks thinned evenly, median and 90th percentile.
var published = []struct{ step, median, high float64 }{
	{20, 1.005, 1.01}, {50, 1.015, 1.03}, {100, 1.035, 1.07}, {200, 1.06, 1.13},
	{500, 1.11, 1.24}, {1000, 1.15, 1.34}, {2000, 1.23, 1.41}, {5000, 1.28, 1.57},
}

func TestStretchTable(t *testing.T) {
	const tol = 1e-12 // rounding of the logarithms
	for i, p := range published {
		median, high := route.StretchFromTable(route.Metres(p.step))
		wantNear(t, "median", median, p.median, tol)
		wantNear(t, "high", high, p.high, tol)
		if i == 0 {
			continue
		}
		// Halfway in the logarithm is the geometric mean of the steps.
		before := published[i-1]
		median, high = route.StretchFromTable(route.Metres(math.Sqrt(before.step * p.step)))
		wantNear(t, "median between", median, (before.median+p.median)/2, tol)
		wantNear(t, "high between", high, (before.high+p.high)/2, tol)
	}
	median, high := route.StretchFromTable(15000)
	wantNear(t, "median past the end", median, 1.28, tol)
	wantNear(t, "high past the end", high, 1.57, tol)
}

// A straight line drawn evenly with over 500 m from point to point has the
// table's stretch: nothing else is known of it. The high figure has the error, over 2 km
// the 90th percentile, and there the line counts as coarse.
func TestStretchOfACoarseLine(t *testing.T) {
	for _, c := range []struct{ step, factor, high float64 }{
		{500 + 1e-4, 1.11, 1.11 * 1.10},
		{1000, 1.15, 1.15 * 1.13},
		{2000 - 1e-4, 1.23, 1.23 * 1.13},
		{2000 + 1e-4, 1.23, 1.41},
		{math.Sqrt(2000 * 5000), (1.23 + 1.28) / 2, (1.41 + 1.57) / 2},
		{5000, 1.28, 1.57},
		{10000 - 1e-4, 1.28, 1.57},
	} {
		s := stretch(t, north(steps(0, 250*c.step, c.step)...))
		wantNear(t, "factor", s.Factor, c.factor, 1e-6)
		wantNear(t, "high", s.High, c.high, 1e-6)
		if coarse := c.step > 2000; s.Coarse != coarse || s.Given {
			t.Errorf("step %v: %+v", c.step, s)
		}
		if len(s.From) != 1 || s.From[0].Method != route.FromTable {
			t.Fatalf("step %v: from %+v", c.step, s.From)
		}
		wantNear(t, "step", s.From[0].Step, c.step, 1e-6)
	}
}

// Only evenly spaced points are refused over 10 km and are coarse over 2 km; a shape that
// was simplified may well have 3 km from point to point, and is estimated as ever.
func TestSimplifiedCoarseLines(t *testing.T) {
	const turn = math.Pi / 36
	for _, step := range []float64{3000, 12000} {
		s := stretch(t, zigzag(20, turn, constant(step)))
		arc := turn / 2 / math.Sin(turn/2)
		wantNear(t, "factor", s.Factor, arc, 1e-4)
		off := step * math.Sin(turn/2) / 2 // the tolerance: 65 m and 262 m
		share := 0.017 + (0.076-0.017)*math.Log2(min(off, 100)/50)
		wantNear(t, "high", s.High, arc*(1+share), 1e-3)
		if s.Coarse || s.From[0].Coarse || s.From[0].Method != route.ShapeSimplified {
			t.Errorf("step %v: %+v", step, s)
		}
	}
}

func TestTooCoarseIsRefused(t *testing.T) {
	line := func(step float64) []route.Track { return track(north(steps(0, 30*step, step)...)) }
	accepted := func(step float64) bool {
		_, err := route.NewLine(line(step), route.LineOptions{})
		return err == nil
	}
	// The mean of 30 steps carries the rounding of a sum.
	wantNear(t, "accepted up to", border(t, 5000, 20000, accepted), 10000, 1e-6)
	_, err := route.NewLine(line(12345), route.LineOptions{})
	wantFault(t, err, "the line is drawn too coarsely to plan from: 12 km from point to point",
		"draw it closer, or say how much longer the ride is")
	l := newLine(t, line(12345), route.LineOptions{Stretch: 1.4})
	if l.Stretch.Factor != 1.4 {
		t.Errorf("%+v", l.Stretch)
	}
}

func TestStretchGiven(t *testing.T) {
	l := newLine(t, track(north(steps(0, 250000, 1000)...)), route.LineOptions{Stretch: 1.08})
	if s := l.Stretch; s.Factor != 1.08 || s.Low != 1.08 || s.High != 1.08 || !s.Given || s.Coarse || s.From != nil {
		t.Errorf("%+v", s)
	}
	for _, r := range l.Runs(route.Grounds{}) {
		wantNear(t, "ridden", r.Ridden, 1.08*float64(r.To-r.From), 1e-6)
		wantNear(t, "ridden at the low figure", r.RiddenLow, 1.08*float64(r.To-r.From), 1e-6)
		wantNear(t, "ridden at the high figure", r.RiddenHigh, 1.08*float64(r.To-r.From), 1e-6)
	}
}

// Segments of 200 points or more are estimated alone, the rest together; the
// factor is the mean by length. Standing still makes no point.
func TestStretchBySegments(t *testing.T) {
	long := north(steps(0, 1000*199, 1000)...) // 200 points, 199 km
	short := north(shifted(steps(0, 1000*50, 2000), 209000)...)
	shorter := north(shifted(steps(0, 1000*30, 2000), 269000)...)
	s := stretch(t, long, short, shorter)
	if len(s.From) != 2 {
		t.Fatalf("from %+v, want the long segment and the pool", s.From)
	}
	for i, want := range []struct {
		step, length, factor float64
		pooled               bool
	}{{1000, 199000, 1.15, false}, {2000, 80000, 1.23, true}} {
		e := s.From[i]
		wantNear(t, "step", e.Step, want.step, 1e-6)
		wantNear(t, "length", e.Length, want.length, 1e-5)
		wantNear(t, "factor", e.Factor, want.factor, 1e-9)
		if e.Pooled != want.pooled {
			t.Errorf("%d: pooled %v", i, e.Pooled)
		}
	}
	wantNear(t, "mean", s.Factor, (199*1.15+80*1.23)/(199+80), 1e-9)

	var standing []route.Point
	for _, p := range long[:150] {
		standing = append(standing, p, p)
	}
	if s := stretch(t, standing); len(s.From) != 1 || !s.From[0].Pooled {
		t.Errorf("150 places, each twice: %+v, want them pooled", s.From)
	}
	if s := stretch(t, long[:199]); !s.From[0].Pooled {
		t.Errorf("199 points: %+v, want them pooled", s.From)
	}
}

// A file of many short segments that meet is one line: what lies at their joints is no less
// bent than what lies within them.
func TestSegmentsThatMeetAreOne(t *testing.T) {
	whole := zigzag(300, math.Pi/6, constant(60))
	var cut [][]route.Point
	for i := 1; i < len(whole); i++ {
		cut = append(cut, whole[i-1:i+1])
	}
	want, got := stretch(t, whole), stretch(t, cut...)
	if diff := cmp.Diff(want, got); diff != "" {
		t.Errorf("cut into segments of two points: %s", diff)
	}
	// As tracks of their own they are pooled, and still one line.
	var tracks []route.Track
	for _, s := range cut {
		tracks = append(tracks, route.Track{Segments: [][]route.Point{s}})
	}
	s := newLine(t, tracks, route.LineOptions{}).Stretch
	wantNear(t, "as tracks", s.Factor, want.Factor, 1e-12)
}

// Each segment is ridden with its own stretch, a gap with none.
func TestRiddenBySegments(t *testing.T) {
	a := north(steps(0, 1000*250, 1000)...)
	b := north(shifted(steps(0, 2000*250, 2000-1e-4), 260000)...)
	l := newLine(t, track(a, b), route.LineOptions{})
	if s := l.Stretch; len(s.From) != 2 {
		t.Fatalf("%+v", s)
	}
	runs := l.Runs(route.Grounds{})
	if len(runs) != 3 {
		t.Fatalf("%d runs, want three", len(runs))
	}
	wantNear(t, "first segment", runs[0].Ridden, 250000*1.15, 1e-3)
	wantNear(t, "first segment, low", runs[0].RiddenLow, 250000*1.15*0.87, 1e-3)
	wantNear(t, "first segment, high", runs[0].RiddenHigh, 250000*1.15*1.13, 1e-3)
	wantNear(t, "gap, low and high", runs[1].RiddenLow+runs[1].RiddenHigh, 2*10000*1.3, 1e-3)
	wantNear(t, "gap", runs[1].Ridden, 10000*1.3, 1e-3)
	wantNear(t, "second segment", runs[2].Ridden, float64(runs[2].To-runs[2].From)*1.23, 0.01)
}
