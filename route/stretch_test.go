package route_test

import (
	"math"
	"testing"

	"lastpump/route"
)

func stretch(t testing.TB, segments ...[]route.Point) route.Stretch {
	t.Helper()
	return newLine(t, track(segments...), route.LineOptions{}).Stretch
}

// The design's table, as printed there: true over drawn length of 28 dense
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
// table's stretch: nothing else is known of it. Over 2 km the high figure is the
// 90th percentile and the line counts as coarse.
func TestStretchOfACoarseLine(t *testing.T) {
	for _, c := range []struct{ step, factor, high float64 }{
		{500 + 1e-4, 1.11, 1.11},
		{1000, 1.15, 1.15},
		{2000 - 1e-4, 1.23, 1.23},
		{2000 + 1e-4, 1.23, 1.41},
		{math.Sqrt(2000 * 5000), (1.23 + 1.28) / 2, (1.41 + 1.57) / 2},
		{5000, 1.28, 1.57},
		{10000 - 1e-4, 1.28, 1.57},
	} {
		s := stretch(t, north(steps(0, 250*c.step, c.step)...))
		wantNear(t, "factor", s.Factor, c.factor, 1e-6)
		wantNear(t, "high", s.High, c.high, 1e-6)
		if coarse := c.high > c.factor; s.Coarse != coarse || s.Given {
			t.Errorf("step %v: %+v", c.step, s)
		}
		if len(s.From) != 1 || s.From[0].Method != route.FromTable {
			t.Fatalf("step %v: from %+v", c.step, s.From)
		}
		wantNear(t, "step", s.From[0].Step, c.step, 1e-6)
	}
}

// Only evenly spaced points are refused over 10 km and have a 90th percentile; a
// shape that was simplified may well have 3 km from point to point, and what is
// between the two is told to be coarse. On a straight line the arcs add nothing.
func TestUnevenCoarseLines(t *testing.T) {
	table := func(step float64) float64 { // between 2 and 5 km, as published
		return 1.23 + (1.28-1.23)*math.Log(step/2000)/math.Log(5000.0/2000)
	}
	for _, c := range []struct {
		mean, v      float64
		coarse       bool
		method       route.Method
		factor, high float64
	}{
		{3000, 0.3, true, route.FromTable, table(3000), 1.41 + (1.57-1.41)*math.Log(1.5)/math.Log(2.5)},
		{3000, 0.5, true, route.FromTable, table(3000), table(3000)},
		{1900, 0.5, false, route.FromTable, 1.15 + (1.23-1.15)*math.Log(1.9)/math.Log(2), 1.15 + (1.23-1.15)*math.Log(1.9)/math.Log(2)},
		{12000, 0.5, true, route.FromTable, 1.28, 1.28},
		{3000, 0.7, false, route.ShapeSimplified, 1, 1},
		{12000, 0.7, false, route.ShapeSimplified, 1, 1},
	} {
		metres, length := []float64{0}, varied(c.mean, c.v)
		for i := range 250 {
			metres = append(metres, metres[i]+length(i))
		}
		s := stretch(t, north(metres...))
		wantNear(t, "factor", s.Factor, c.factor, 1e-9)
		wantNear(t, "high", s.High, c.high, 1e-9)
		if s.Coarse != c.coarse || s.From[0].Coarse != c.coarse || s.From[0].Method != c.method {
			t.Errorf("mean %v, variation %v: %+v", c.mean, c.v, s)
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
		"draw it closer, or say how much longer the ride is with --stretch 1.4 or so")
	l := newLine(t, line(12345), route.LineOptions{Stretch: 1.4})
	if l.Stretch.Factor != 1.4 {
		t.Errorf("%+v", l.Stretch)
	}
}

func TestStretchGiven(t *testing.T) {
	l := newLine(t, track(north(steps(0, 250000, 1000)...)), route.LineOptions{Stretch: 1.08})
	if s := l.Stretch; s.Factor != 1.08 || s.High != 1.08 || !s.Given || s.Coarse || s.From != nil {
		t.Errorf("%+v", s)
	}
	for _, r := range l.Runs(route.Grounds{}) {
		wantNear(t, "ridden", r.Ridden, 1.08*float64(r.To-r.From), 1e-6)
		wantNear(t, "ridden at the high figure", r.RiddenHigh, 1.08*float64(r.To-r.From), 1e-6)
	}
}

// Segments of 200 points or more are estimated alone, the rest together; the
// factor is the mean by length. Standing still makes no point.
func TestStretchBySegments(t *testing.T) {
	long := north(steps(0, 1000*199, 1000)...) // 200 points, 199 km
	short := north(shifted(steps(0, 1000*50, 2000), 199000)...)
	shorter := north(shifted(steps(0, 1000*30, 2000), 249000)...)
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
	wantNear(t, "gap", runs[1].Ridden, 10000*1.3, 1e-3)
	wantNear(t, "second segment", runs[2].Ridden, float64(runs[2].To-runs[2].From)*1.23, 0.01)
}
