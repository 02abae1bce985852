package route_test

import (
	"math"
	"testing"

	"github.com/paulmach/orb"
	"pgregory.net/rapid"

	"lastpump/route"
)

// wantPassages compares passages with places along the line and off it, both in
// metres.
func wantPassages(t *testing.T, got []route.Passage, want ...[2]float64) {
	t.Helper()
	if len(got) != len(want) {
		t.Fatalf("passages %v, want %v", got, want)
	}
	for i, w := range want {
		wantNear(t, "at", got[i].At, w[0], 0.01)
		wantNear(t, "off", got[i].Off, w[1], 0.01)
	}
}

func TestPassageIsWhereTheLineComesClosest(t *testing.T) {
	l := plain(t, north(0, 4000, 10000))
	for _, c := range []struct {
		name    string
		stop    orb.Point
		at, off float64
	}{
		{"beside a step", place(300, 2500), 2500, 300},
		{"beside a point", place(-300, 4000), 4000, 300},
		{"on the line", place(0, 7777), 7777, 0},
		{"before the start", place(0, -400), 0, 400},
		{"past the end", place(300, 10400), 10000, 500},
	} {
		t.Run(c.name, func(t *testing.T) {
			wantPassages(t, l.Passages(c.stop, 2000), [2]float64{c.at, c.off})
			got, ok := l.Nearest(c.stop, 0, l.Length())
			if !ok {
				t.Fatal("nothing near")
			}
			wantPassages(t, []route.Passage{got}, [2]float64{c.at, c.off})
		})
	}
}

// On the equator a way north runs straight past a stop in the east.
func TestCorridorFromBothSides(t *testing.T) {
	l := plain(t, north(-5000, 5000))
	passes := func(off float64) bool { return len(l.Passages(place(off, 0), 2000)) == 1 }
	wantNear(t, "passed up to", border(t, 0, 9000, passes), 2000, 1e-6)
}

// A way north past a stop, on for so many metres and back on the same line. It
// leaves the corridor so far north of the stop as the corridor is wide, and comes
// back there.
func past(t testing.TB, metres float64) *route.Line {
	return plain(t, north(-9000, 0, metres, 0, -9000))
}

// Two passages unless the stretches lie less than 5 km apart along the line. With a
// corridor of 2 km: from 2 km north of the stop
// to the turn and back to there are 5 km where it turns 4.5 km north. Twice the
// corridor, 4 km, it is beyond by then.
func TestFiveKilometresApart(t *testing.T) {
	joined := func(turn float64) bool { return len(past(t, turn).Passages(place(0, 0), 2000)) == 1 }
	// Where a step crosses the corridor is measured along its projection, in which a
	// metre at the far end of 4.5 km is 1.7e-7 longer: 0.3 mm in all.
	wantNear(t, "one passage up to a turn", border(t, 2100, 9000, joined), 4500, 1e-3)
}

// With a corridor of 5 km it is the other rule that decides: the line has to go
// beyond 10 km, from where it is 10 km along to the corridor and back.
func TestBeyondTwiceTheCorridor(t *testing.T) {
	joined := func(turn float64) bool { return len(past(t, turn).Passages(place(0, 0), 5000)) == 1 }
	// The package allows a millimetre between neighbouring steps.
	wantNear(t, "one passage up to a turn", border(t, 5100, 30000, joined), 10000, 1e-3)
}

// A way of close points that goes 1 km past a stop, once around it at 3 km and past
// it again: 19 km between, but never beyond 4 km. Around it at 5 km it is two
// passages.
func TestAroundAStop(t *testing.T) {
	for _, c := range []struct {
		radius float64
		want   int
	}{{3000, 1}, {5000, 2}} {
		var xy [][2]float64
		for r := 1000.0; r < c.radius; r += 20 {
			xy = append(xy, [2]float64{r, 0})
		}
		for deg := 0.0; deg <= 360; deg += 0.5 {
			sin, cos := math.Sincos(deg * rad)
			xy = append(xy, [2]float64{c.radius * cos, c.radius * sin})
		}
		for r := c.radius - 10; r >= 900; r -= 20 {
			xy = append(xy, [2]float64{r, 0})
		}
		got := plain(t, flat(xy...)).Passages(place(0, 0), 2000)
		if len(got) != c.want {
			t.Errorf("around at %v m: %v, want %d passages", c.radius, got, c.want)
		}
	}
}

func TestOutAndBackPassesTwice(t *testing.T) {
	l := plain(t, north(append(steps(0, 20000, 100), reversedMetres(steps(0, 19900, 100))...)...))
	// Back at 5 km north is 15 km after the turn at 20 km.
	wantPassages(t, l.Passages(place(100, 5000), 2000), [2]float64{5000, 100}, [2]float64{35000, 100})
	wantPassages(t, l.Passages(place(0, 0), 2000), [2]float64{0, 0}, [2]float64{40000, 0})
	wantPassages(t, l.Passages(place(100, 19000), 2000), [2]float64{19000, 100})
}

func reversedMetres(m []float64) []float64 {
	var out []float64
	for i := range m {
		out = append(out, m[len(m)-1-i])
	}
	return out
}

// First on ties: on the way out and back the stop is as near both times, and the
// visit is on the way out.
func TestTiesGoToTheFirst(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		out := walk(t, rapid.SampledFrom(someStarts).Draw(t, "start"), rapid.IntRange(2, 100).Draw(t, "points"), 100)
		if rapid.Bool().Draw(t, "straight") {
			out = north(steps(0, 100*float64(len(out)-1), 100)...)
		}
		back := reversed([][]route.Point{out})[0]
		l := lineOf(t, [][]route.Point{append(out, back[1:]...)}, route.LineOptions{Stretch: 1})
		beside := rapid.SampledFrom(out).Draw(t, "beside").Point
		stop := ahead(beside, rapid.Float64Range(0, 360).Draw(t, "aside"), rapid.Float64Range(0, 300).Draw(t, "off"))
		turn := l.Length()/2 + 1e-3
		first := l.Passages(stop, 20000)
		nearest, ok := l.Nearest(stop, 0, l.Length())
		if len(first) != 1 || !ok {
			t.Fatalf("passages %v, nearest %v", first, ok)
		}
		if first[0].At > turn || nearest.At > turn {
			t.Errorf("passed at %v, nearest at %v, the turn is at %v", first[0].At, nearest.At, turn)
		}
	})
}

// The same on a straight road, where the boxes of the index have no width and tell
// the distance exactly: a tie between two of them is a tie, too.
func TestTiesOnAStraightRoad(t *testing.T) {
	out := steps(0, 2800, 100)
	l := plain(t, north(append(out, reversedMetres(out)...)...))
	for course := range 360 {
		for off := 7.0; off < 300; off += 31 {
			stop := ahead(place(0, 0), float64(course), off)
			if near, ok := l.Nearest(stop, 0, l.Length()); !ok || near.At > 2800+1e-3 {
				t.Fatalf("%v m off on %d°: nearest at %v", off, course, near.At)
			}
		}
	}
}

// A figure eight of straight lines, 4 km to each side, passes the place where it
// crosses itself twice.
func TestFigureEight(t *testing.T) {
	const arm = 4000
	l := plain(t, flat([2]float64{-arm, -arm}, [2]float64{arm, arm}, [2]float64{arm, -arm}, [2]float64{-arm, arm},
		[2]float64{-arm, -arm}))
	const diagonal = arm * 1.4142135623730951
	wantPassages(t, l.Passages(place(0, 0), 1000), [2]float64{diagonal, 0}, [2]float64{3*diagonal + 2*arm, 0})
	if !l.Closed {
		t.Error("it is not closed")
	}
}

// Nobody knows where a gap was ridden.
func TestGapPassesNothing(t *testing.T) {
	l := plain(t, north(steps(0, 3000, 100)...), north(steps(13000, 16000, 100)...))
	wantPassages(t, l.Passages(place(0, 8000), 2000))
	wantPassages(t, l.Passages(place(0, 3500), 2000), [2]float64{3000, 500})
	near, ok := l.Nearest(place(100, 9000), 0, l.Length())
	if !ok {
		t.Fatal("nothing near")
	}
	wantNear(t, "nearest at", near.At, 13000, 1e-6)
	if near, ok := l.Nearest(place(0, 0), 4000, 12000); ok {
		t.Errorf("between two places in a gap there is %v", near)
	}
}

// The ends of a gap are on the way, even a single point between two gaps.
func TestPointBetweenGaps(t *testing.T) {
	l := newLine(t, track(north(0, 1000), north(20000), north(40000, 41000)), route.LineOptions{Stretch: 1})
	stop := place(300, 20400)
	wantPassages(t, l.Passages(stop, 2000), [2]float64{20000, 500})
	got, ok := l.Nearest(stop, 1500, 30000)
	if !ok {
		t.Fatal("nothing near")
	}
	wantPassages(t, []route.Passage{got}, [2]float64{20000, 500})
	if got, ok := l.Nearest(stop, 1500, 19000); ok {
		t.Errorf("in the gap there is %v", got)
	}
}

func TestPointBeforeAndBehindGaps(t *testing.T) {
	l := newLine(t, track(north(0), north(20000, 21000), north(40000)), route.LineOptions{Stretch: 1})
	for _, m := range []float64{0, 40000} {
		stop := place(400, m)
		wantPassages(t, l.Passages(stop, 2000), [2]float64{m, 400})
		got, ok := l.Nearest(stop, 0, l.Length())
		if !ok {
			t.Fatal("nothing near")
		}
		wantPassages(t, []route.Passage{got}, [2]float64{m, 400})
	}
}

// Between two positions close together on a line of many points, and between one
// and itself.
func TestNearestOnALongLine(t *testing.T) {
	l := plain(t, north(steps(0, 100000, 10)...))
	for m := 0.0; m <= 100000; m += 3125 {
		for _, width := range []float64{0, 15, 700, 9000} {
			from, to := max(m-width, 0), min(m+width, 100000)
			for _, stop := range []float64{m, from - 500, to + 500} {
				at := min(max(stop, from), to)
				got, ok := l.Nearest(place(1500, stop), route.Metres(from), min(route.Metres(to), l.Length()))
				if !ok || !near(float64(got.At), at, 0.5) || !near(float64(got.Off), math.Hypot(1500, stop-at), 0.5) {
					t.Errorf("from %v to %v, stop at %v: %v, %v", from, to, stop, got, ok)
				}
			}
		}
	}
	if got, ok := l.Nearest(place(0, 0), l.Length(), l.Length()); !ok || got.At != l.Length() {
		t.Errorf("at the end: %v, %v", got, ok)
	}
}

func TestNearestBetween(t *testing.T) {
	l := plain(t, north(steps(0, 20000, 700)...))
	for _, c := range []struct{ from, to, at float64 }{
		{0, 19600, 12345}, {12345, 12345, 12345}, {0, 9000.5, 9000.5}, {15000.25, 19600, 15000.25},
		{12000, 12400, 12345},
	} {
		got, ok := l.Nearest(place(3000, 12345), route.Metres(c.from), route.Metres(c.to))
		if !ok || !near(float64(got.At), c.at, 1) { // 3 km off, a metre along is a millimetre nearer
			t.Errorf("from %v to %v: %v, %v, want it at %v", c.from, c.to, got, ok, c.at)
		}
	}
}
