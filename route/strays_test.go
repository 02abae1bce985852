package route_test

import (
	"testing"

	"lastpump/route"

	"github.com/google/go-cmp/cmp"
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

// length of the line that remains without what looks like a stray, and the strays.
func withoutStrays(t testing.TB, points []route.Point) (float64, []route.Strays) {
	t.Helper()
	l := newLine(t, track(points), route.LineOptions{Stretch: 1, Gaps: route.GapsRide, Strays: route.StraysDrop})
	return float64(l.Length()), l.Strays
}

// clocked gives points times: a second from each to the next, but those that lead to the
// points from leaves on, so many, which take so many seconds each.
func clocked(points []route.Point, seconds uint32, leaps ...int) []route.Point {
	now := uint32(1_700_000_000)
	for i := range points {
		points[i].Time, points[i].HasTime = now, true
		now++
		for _, k := range leaps {
			if i == k-1 {
				now += seconds - 1
			}
		}
	}
	return points
}

// A real spur to a pump looks like a stray where the recorder slept on the way: it is
// ridden, and told of with its kilometre.
func TestSpurIsRidden(t *testing.T) {
	l := newLine(t, track(away(1, 13000, 10)), route.LineOptions{Stretch: 1.1})
	wantNear(t, "length", l.Length(), 1000+13000+12990+1000, 1e-5)
	if len(l.Gaps) > 0 || len(l.Strays) != 1 {
		t.Fatalf("gaps %v, strays %+v", l.Gaps, l.Strays)
	}
	s := l.Strays[0]
	if !s.Ridden || !s.Doubted || s.Points != 1 {
		t.Errorf("%+v", s)
	}
	wantNear(t, "leaves at", s.From, 1000, 1e-6)
	wantNear(t, "is back at", s.To, 1000+13000+12990, 1e-5)
	wantNear(t, "far end", route.Distance(s.Far, place(0, 14000)), 0, 1e-5)
	ridden := route.Metres(0)
	for _, r := range l.Runs(route.Grounds{}) {
		ridden += r.Ridden
	}
	wantNear(t, "ridden", ridden, 1.1*float64(l.Length()), 1e-5)
}

// Which leaps are ridden: by their times, by how far they go, and by what the rider says.
func TestWhichLeapsAreRidden(t *testing.T) {
	spur := func(leap float64) []route.Point { return away(1, leap, 0) }
	ridden := func(points []route.Point, rule route.StraysRule) bool {
		l := newLine(t, track(points), route.LineOptions{Stretch: 1, Gaps: route.GapsRide, Strays: rule})
		if len(l.Strays) != 1 {
			t.Fatalf("strays %+v", l.Strays)
		}
		return l.Strays[0].Ridden
	}
	for _, rule := range []route.StraysRule{"", route.StraysRide, route.StraysDrop} {
		dropped := rule == route.StraysDrop
		for _, c := range []struct {
			name   string
			points []route.Point
			want   bool
		}{
			{"13 km without times", spur(13000), true},
			{"over 50 km without times", spur(50001), rule == route.StraysRide},
			{"at 13 km in 188 s, 249 km/h", clocked(spur(13000), 188, 101, 102), true},
			{"at 13 km in 187 s, 250.3 km/h", clocked(spur(13000), 187, 101, 102), false},
			{"too fast on the way back alone", clocked(spur(13000), 100_000, 101), false},
			{"60 km in an hour", clocked(spur(60000), 3600, 101, 102), true},
			{"120 km off at the end, in two hours", clocked(north(append(steps(0, 1000, 10), 121000)...), 7200, 101), true},
			{"120 km off at the end, in a second", clocked(north(append(steps(0, 1000, 10), 121000)...), 1, 101), false},
			{"120 km off at the start, without times", north(append([]float64{-120000}, steps(0, 1000, 10)...)...),
				rule == route.StraysRide},
		} {
			if got := ridden(c.points, rule); got != (c.want && !dropped) {
				t.Errorf("%q: %s: ridden %v", rule, c.name, got)
			}
		}
	}
	written := spur(13000) // by a program, with one time for all points
	for i := range written {
		written[i].Time, written[i].HasTime = 1_700_000_000, true
	}
	if !ridden(written, "") {
		t.Error("13 km with one time for all points: left out")
	}
	far := func(d float64) bool { return ridden(spur(d), "") }
	wantNear(t, "ridden without times up to", border(t, 6000, 200000, far), 50000, 1e-6)
}

// Standing at the pump makes no more points of the leap.
func TestLeapCountsPlaces(t *testing.T) {
	at := append(steps(0, 1000, 10), 14000, 14000, 14000, 14000, 14000, 14000, 14000)
	l := newLine(t, track(north(append(at, shifted(steps(0, 1000, 10), 1000)...)...)), route.LineOptions{Stretch: 1})
	if len(l.Strays) != 1 || l.Strays[0].Points != 1 || len(l.Gaps) > 0 {
		t.Errorf("strays %+v, gaps %v", l.Strays, l.Gaps)
	}
}

// A leap tells nothing of how the line is drawn: the stretch is the same without it.
func TestLeapHasNoPartInTheStretch(t *testing.T) {
	way := meander(400, 0.3, constant(100))
	spur := append(append(append([]route.Point{}, way[:201]...), flat([2]float64{20000, 9000})...), way[200:]...)
	want, got := stretch(t, way), stretch(t, spur)
	wantNear(t, "factor", got.Factor, want.Factor, 1e-9)
	wantNear(t, "high", got.High, want.High, 1e-9)
}

// On a recording no stop is passed on a leap unless the rider says that it was ridden; on a
// line that is drawn they are.
func TestStopsOnALeap(t *testing.T) {
	pump := place(0, 14000)
	drawn := append(append(steps(0, 1200, 120), 14000), shifted(steps(0, 1200, 120), 1200)...)
	for _, c := range []struct {
		name   string
		points []route.Point
		rule   route.StraysRule
		want   int
	}{
		{"recorded", away(1, 13000, 0), "", 0}, {"recorded, ride", away(1, 13000, 0), route.StraysRide, 1},
		{"recorded, drop", away(1, 13000, 0), route.StraysDrop, 0}, {"drawn", north(drawn...), "", 1},
	} {
		l := newLine(t, track(c.points), route.LineOptions{Stretch: 1, Strays: c.rule})
		if got := len(l.Passages(pump, 300)); got != c.want {
			t.Errorf("%s: %d passages, want %d", c.name, got, c.want)
		}
		if l.Length() > 10000 && len(l.Gaps) > 0 {
			t.Errorf("%s: gaps %v", c.name, l.Gaps)
		}
	}
}

// However the line is arranged, and written into a plan and read again, a leap is where it is.
func TestLeapsAreArranged(t *testing.T) {
	points := away(2, 13000, 0)
	l := newLine(t, track(points), route.LineOptions{Stretch: 1, Arrangement: route.Arrangement{Reverse: true}})
	s := l.Strays[0]
	wantNear(t, "leaves at", s.From, 1000, 1e-5)
	wantNear(t, "is back at", s.To, 1000+13000+10+13010, 1e-5)
	text, err := l.Record()
	if err != nil {
		t.Fatal(err)
	}
	again, err := route.Recorded(text, l.Tracks(), route.LineOptions{})
	if err != nil {
		t.Fatal(err)
	}
	if len(again.Passages(place(0, 14000), 300)) > 0 {
		t.Error("read again, it passes stops on the leap")
	}
	if diff := cmp.Diff(s.Far, again.Strays[0].Far); diff != "" || again.Strays[0].From != s.From || !again.Strays[0].Ridden {
		t.Errorf("read again %+v, was %+v", again.Strays[0], s)
	}
	if again, err = route.Recorded(text, l.Tracks(), route.LineOptions{Strays: route.StraysRide}); err != nil ||
		len(again.Passages(place(0, 14000), 300)) != 1 {
		t.Errorf("read again and ridden, it does not pass the stop: %v", err)
	}
}

// A run of up to five points is dropped, six are not.
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
			func(d float64) bool { return !dropped(north(append([]float64{-d}, steps(0, 1000, 10)...)...)) }, 0, 1e6,
			100000},
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
	want := []route.Strays{{Track: "Day 1", Points: 2, Away: 7000}, {Track: "Day 1", Points: 1, Away: 8000},
		{Track: "Day 2", Points: 1, Away: 9000}}
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

// A ridden leap is counted in the file's kilometres as it is in the line's: a list of ground
// lies where it was measured, with one leap ridden and one left out before it.
func TestGroundBehindLeaps(t *testing.T) {
	points := append(away(1, 13000, 0), moved(away(1, 300000, 0), 1000+20)...)
	l := newLine(t, track(points), route.LineOptions{Stretch: 1})
	given := l.FileLength(route.AsGiven)
	wantNear(t, "ridden and left out", given-l.Length(), 600000, 20)
	laid, _, err := l.Lay([]route.Section{{From: 0, To: given - 500, Ground: route.Paved},
		{From: given - 500, To: given, Ground: route.Sand}})
	if err != nil {
		t.Fatal(err)
	}
	wantNear(t, "sand begins", laid[1].From, float64(l.Length())-500, 1e-5)
	at := route.Metres(5000) // on the leap that is ridden
	wantNear(t, "on the leap", l.FileAt(at), float64(at), 1e-6)
}

// moved gives points so many metres farther north.
func moved(points []route.Point, by float64) []route.Point {
	for i := range points {
		points[i].Point[1] += place(0, by).Lat()
	}
	return points
}
