package route_test

import (
	"math"
	"testing"

	"lastpump/route"
)

// gapless tells whether the tracks make a line without gaps.
func gapless(t testing.TB, tracks []route.Track) bool {
	t.Helper()
	return len(newLine(t, tracks, route.LineOptions{Stretch: 1, Gaps: route.GapsRide}).Gaps) == 0
}

// The rules of what a gap is, each tried on both sides of its border: the last
// distance that is joined and the next float64 to it.
func TestWhatIsAGap(t *testing.T) {
	twice := func(a, b []float64) func(float64) bool {
		return func(d float64) bool {
			return gapless(t, track(north(a...), north(shifted(b, a[len(a)-1]+d)...)))
		}
	}
	inside := func(step float64) func(float64) bool {
		return func(d float64) bool { // 3000 points, so that the mean step is little more than the step
			return gapless(t, track(north(append(steps(0, 1500*step, step),
				shifted(steps(0, 1500*step, step), 1500*step+d)...)...)))
		}
	}
	for _, c := range []struct {
		name          string
		holds         func(float64) bool
		high, want, m float64
	}{
		{"segments of 10 m steps are joined up to 50 m", twice(steps(0, 300, 10), steps(0, 300, 10)), 1000, 50, 1e-6},
		{"of 25 m steps up to 50 m, both rules at once", twice(steps(0, 300, 25), steps(0, 300, 25)), 1000, 50, 1e-6},
		{"of 40 m steps up to 2 × 40 m", twice(steps(0, 400, 40), steps(0, 400, 40)), 1000, 80, 1e-6},
		// The median of 3 × 30 and 3 × 50 m is 40 m.
		{"the median is over all segments", twice(steps(0, 90, 30), steps(0, 150, 50)), 1000, 80, 1e-6},
		{"inside a segment of 10 m steps up to 1 km", inside(10), 50000, 1000, 1e-6},
		{"of 50 m steps, both rules at once", inside(50), 50000, 1000, 1e-6},
		{"of 150 m steps up to 20 × 150 m", inside(150), 50000, 3000, 1e-6},
		{"of a mean of over 500 m up to 50 km", inside(501), 90000, 50000, 1e-3},
		{"a shape-simplified segment up to 50 km", simplified(t, 1), 90000, 50000, 10},
		{"however coarse", simplified(t, 5), 90000, 50000, 10},
	} {
		t.Run(c.name, func(t *testing.T) {
			wantNear(t, "joined up to", border(t, 1, c.high, c.holds), c.want, c.m)
		})
	}
}

// simplified tells of a line with steps of 100, 100 and 1000 m by turns (times the scale)
// that turns by 30° at each point, as one does that was simplified by its shape, and of one of
// d metres in its middle whether it is without gaps.
func simplified(t testing.TB, scale float64) func(float64) bool {
	return func(d float64) bool {
		return gapless(t, track(zigzag(61, math.Pi/6, func(i int) float64 {
			if i == 30 {
				return d
			}
			return []float64{100, 100, 1000}[i%3] * scale
		})))
	}
}

func shifted(metres []float64, by float64) []float64 {
	out := make([]float64, len(metres))
	for i, m := range metres {
		out[i] = m + by
	}
	return out
}

// A repeated point is no step: it must not draw the median down to nothing.
func TestStandingIsNoStep(t *testing.T) {
	var metres []float64
	for _, m := range steps(0, 400, 40) {
		metres = append(metres, m, m, m)
	}
	if !gapless(t, track(north(metres...), north(shifted(metres, 479)...))) {
		t.Error("79 m between segments of 40 m steps are a gap")
	}
}

func TestGapCountsStraightAndIsRiddenLonger(t *testing.T) {
	segments := [][]route.Point{north(steps(0, 1000, 100)...), north(steps(4000, 5000, 100)...)}
	for _, c := range []struct {
		rule   route.Gaps
		ridden bool
		want   float64 // ridden in the gap: 1.3 × 3000 m, or nothing
	}{{"", true, 3900}, {route.GapsRide, true, 3900}, {route.GapsSkip, false, 0}} {
		l := newLine(t, track(segments...), route.LineOptions{Stretch: 1.1, Gaps: c.rule})
		wantNear(t, "length", l.Length(), 5000, 1e-6)
		if len(l.Gaps) != 1 || l.Gaps[0].Ridden != c.ridden {
			t.Fatalf("%q: gaps %v", c.rule, l.Gaps)
		}
		wantNear(t, "gap at", l.Gaps[0].At, 1000, 1e-6)
		wantNear(t, "gap of", l.Gaps[0].Straight, 3000, 1e-6)
		runs := l.Runs(route.Grounds{Default: route.Sand})
		if len(runs) != 3 {
			t.Fatalf("%q: runs %v, want three", c.rule, runs)
		}
		for i, want := range []float64{1100, c.want, 1100} {
			wantNear(t, "ridden", runs[i].Ridden, want, 1e-6)
			wantNear(t, "ridden at the high figure", runs[i].RiddenHigh, want, 1e-6)
			if skipped := i == 1 && !c.ridden; runs[i].Skipped != skipped || runs[i].Ground != route.Sand {
				t.Errorf("%q: run %d is %+v", c.rule, i, runs[i])
			}
		}
	}
}

// A gap of over 100 km is refused unless the rider says what it is.
func TestLongGapIsRefused(t *testing.T) {
	segments := func(d float64) []route.Track {
		return track(north(steps(0, 12340, 10)...), north(shifted(steps(0, 1000, 10), 12340+d)...))
	}
	accepted := func(d float64) bool {
		_, err := route.NewLine(segments(d), route.LineOptions{})
		return err == nil
	}
	wantNear(t, "accepted up to", border(t, 0, 1e6, accepted), 100000, 1e-6)

	_, err := route.NewLine(segments(150400), route.LineOptions{})
	wantFault(t, err, "a gap of 150 km in the line at km 12",
		"is a file missing, or are the parts out of order?")
	for _, rule := range []route.Gaps{route.GapsRide, route.GapsSkip} {
		if l, err := route.NewLine(segments(150400), route.LineOptions{Gaps: rule}); err != nil {
			t.Errorf("%s: %v", rule, err)
		} else {
			wantNear(t, "length", l.Length(), 12340+150400+1000, 1e-5)
		}
	}
}

func TestSeveralGapsInOrder(t *testing.T) {
	l := newLine(t, track(north(0, 10, 20), north(500, 510), north(append(steps(520, 800, 10), steps(6000, 6280, 10)...)...)),
		route.LineOptions{Stretch: 2})
	want := []struct{ at, straight float64 }{{20, 480}, {800, 5200}}
	if len(l.Gaps) != len(want) {
		t.Fatalf("gaps %v", l.Gaps)
	}
	for i, w := range want {
		wantNear(t, "gap at", l.Gaps[i].At, w.at, 1e-6)
		wantNear(t, "gap of", l.Gaps[i].Straight, w.straight, 1e-6)
	}
	ridden := 0.0
	for _, r := range l.Runs(route.Grounds{}) {
		ridden += float64(r.Ridden)
	}
	// 20 + 300 + 280 m of line ridden twice as long, the gaps 1.3 times.
	wantNear(t, "ridden", route.Metres(ridden), 2*(20+300+280)+1.3*(480+5200), 1e-6)
}
