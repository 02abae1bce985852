package route_test

import (
	"testing"

	"lastpump/route"
)

// away is a way of 10 m steps, with n points in its middle that have leapt away
// by so many metres, 10 m from each other. The points around them are back
// metres apart.
func away(n int, leap, back float64) []route.Point {
	metres := steps(0, 1000, 10)
	for i := range n {
		metres = append(metres, 1000+leap+float64(10*i))
	}
	return north(append(metres, shifted(steps(0, 1000, 10), 1000+back)...)...)
}

// length of the line that remains, and the strays left out.
func withoutStrays(t testing.TB, points []route.Point) (float64, []route.Strays) {
	t.Helper()
	l := newLine(t, track(points), route.LineOptions{Stretch: 1, Gaps: route.GapsRide})
	return float64(l.Length()), l.Strays
}

// A run of up to five points is dropped, six are not (design: the line).
func TestStraysAreDropped(t *testing.T) {
	for n := 1; n <= 5; n++ {
		length, left := withoutStrays(t, away(n, 300000, 10))
		if len(left) != 1 || left[0].Points != n {
			t.Fatalf("%d points: left out %v", n, left)
		}
		wantNear(t, "away", left[0].Away, 300000, 1e-6)
		wantNear(t, "length", route.Metres(length), 2010, 1e-6)
	}
	length, left := withoutStrays(t, away(6, 300000, 10))
	if len(left) != 0 {
		t.Errorf("six points: left out %v", left)
	}
	// 1000 m, there, 5 steps, back from there, 1000 m.
	wantNear(t, "length with six", route.Metres(length), 1000+300000+50+300040+1000, 1e-5)
}

// The borders of the rule, each from both sides. A stray leap that is not
// dropped is two gaps, or at the end of the line one.
func TestWhatIsAStray(t *testing.T) {
	dropped := func(points []route.Point) bool {
		_, left := withoutStrays(t, points)
		return len(left) > 0
	}
	coarse := func(step float64, d float64) []route.Point { // one stray among steps of that length
		metres := append(steps(0, 20*step, step), 20*step+100000)
		return north(append(metres, shifted(steps(0, 20*step, step), 20*step+d)...)...)
	}
	for _, c := range []struct {
		name            string
		kept            func(float64) bool
		low, high, want float64
	}{
		{"a leap of 5 km is kept", func(d float64) bool { return !dropped(away(1, d, 0)) }, 0, 20000, 5000},
		{"a return within 200 m drops", func(d float64) bool { return dropped(away(1, 50000, d)) }, 0, 2000, 200},
		{"or within 3 × the median of 100 m", func(d float64) bool { return dropped(coarse(100, d)) }, 0, 2000, 300},
		{"at the end a leap of 100 km is kept",
			func(d float64) bool { return !dropped(north(append(steps(0, 1000, 10), 1000+d)...)) }, 0, 1e6, 100000},
		{"at the start too",
			func(d float64) bool { return !dropped(north(append([]float64{-d}, steps(0, 1000, 10)...)...)) }, 0, 1e6, 100000},
	} {
		t.Run(c.name, func(t *testing.T) {
			wantNear(t, "border", border(t, c.low, c.high, c.kept), c.want, 1e-6)
		})
	}
}

func TestStraysAtTheEnds(t *testing.T) {
	way := steps(0, 1000, 10)
	for n := 1; n <= 6; n++ {
		lost := shifted(steps(0, float64(10*(n-1)), 10), 400000)
		for name, metres := range map[string][]float64{
			"start": append(append([]float64{}, lost...), way...),
			"end":   append(append([]float64{}, way...), lost...),
		} {
			length, left := withoutStrays(t, north(metres...))
			if n > 5 {
				if len(left) > 0 {
					t.Errorf("%s: of six points left out %v", name, left)
				}
				continue
			}
			if len(left) != 1 || left[0].Points != n {
				t.Errorf("%s: of %d points left out %v", name, n, left)
			}
			wantNear(t, name+": length", route.Metres(length), 1000, 1e-6)
		}
	}
}

// Strays are looked for within each segment, and told with the track's name.
func TestStraysOfSeveralSegments(t *testing.T) {
	tracks := []route.Track{
		{Name: "Day 1", Segments: [][]route.Point{away(2, 7000, 0), away(1, -8000, 0)}},
		{Name: "Day 2", Segments: [][]route.Point{away(1, 9000, 0), north(steps(0, 1000, 10)...)}},
	}
	l := newLine(t, tracks, route.LineOptions{Stretch: 1})
	want := []route.Strays{{Track: "Day 1", Points: 2, Away: 7000}, {Track: "Day 1", Points: 1, Away: 8000}, {Track: "Day 2", Points: 1, Away: 9000}}
	if len(l.Strays) != len(want) {
		t.Fatalf("left out %v, want %v", l.Strays, want)
	}
	for i, w := range want {
		if s := l.Strays[i]; s.Track != w.Track || s.Points != w.Points {
			t.Errorf("left out %v, want %v", s, w)
		}
		wantNear(t, "away", l.Strays[i].Away, float64(w.Away), 1e-6)
	}
}

// On a line drawn in steps of 9 km, 3 × the median is 27 km: every point leaps
// over 5 km and lies within 27 km of the next but one. None is astray; one that
// leaps farther than it comes back is.
func TestNoStraysOnACoarseLine(t *testing.T) {
	line := steps(0, 270000, 9000)
	length, left := withoutStrays(t, north(line...))
	if len(left) != 0 {
		t.Errorf("left out %v", left)
	}
	wantNear(t, "length", route.Metres(length), 270000, 1e-5)

	lost := append(append(append([]float64{}, line[:15]...), line[14]+500000), line[15:]...)
	length, left = withoutStrays(t, north(lost...))
	if len(left) != 1 || left[0].Points != 1 {
		t.Errorf("left out %v, want one point", left)
	}
	wantNear(t, "length", route.Metres(length), 270000, 1e-5)
}
