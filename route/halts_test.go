package route_test

import (
	"math"
	"math/rand/v2"
	"testing"
	"time"

	"pgregory.net/rapid"

	"lastpump/route"
)

// timed gives points the seconds of a clock, from a day in 2026 on.
func timed(points []route.Point, seconds ...int) []route.Point {
	for i, s := range seconds {
		points[i].Time, points[i].HasTime = uint32(1780000000+s), true
	}
	return points
}

// everySecond gives points one second after the other.
func everySecond(points []route.Point) []route.Point {
	for i := range points {
		timed(points[i:i+1], i)
	}
	return points
}

// cloud gives n points around a place east and north of 0,0, within a radius.
func cloud(n int, east, north, radius float64) [][2]float64 {
	rnd := rand.New(rand.NewPCG(7, 7))
	var out [][2]float64
	for range n {
		a, r := 2*math.Pi*rnd.Float64(), radius*math.Sqrt(rnd.Float64())
		out = append(out, [2]float64{east + r*math.Cos(a), north + r*math.Sin(a)})
	}
	return out
}

// lunch is a way of 2 km to the east in steps of 10 m with a halt of n points at
// its middle.
func lunch(n int, radius float64) []route.Point {
	var xy [][2]float64
	for x := 0.0; x <= 1000; x += 10 {
		xy = append(xy, [2]float64{x, 0})
	}
	xy = append(xy, cloud(n, 1000, 0, radius)...)
	for x := 1000.0; x <= 2000; x += 10 {
		xy = append(xy, [2]float64{x, 0})
	}
	return flat(xy...)
}

// An hour of standing adds nothing to a way of 2 km. Points of a disc of radius R
// lie 128 R/(45 π) apart on average (the mean distance in a disc, MathWorld, "Disk
// Line Picking"), so that 3600 of them draw 3600 × 0.9054 × 15 m ≈ 49 km, by chance
// some per cent more or less.
func TestStandingAddsNoKilometres(t *testing.T) {
	points := everySecond(lunch(3600, 15))
	l := newLine(t, track(points), route.LineOptions{Stretch: 1})
	wantNear(t, "length", l.Length(), 2000, 15)
	if len(l.Halts) != 1 {
		t.Fatalf("halts %+v", l.Halts)
	}
	h := l.Halts[0]
	wantNear(t, "taken out", h.Taken, 3600*128*15/(45*math.Pi), 1500)
	wantNear(t, "at", h.At, 1000, 15)
	if h.Points < 3600 || h.Points > 3606 || h.For < time.Hour || h.For > time.Hour+6*time.Second {
		t.Errorf("halt %+v", h)
	}
	raw := newLine(t, track(lunch(3600, 15)), route.LineOptions{Stretch: 1})
	wantNear(t, "taken out and left", h.Taken+l.Length(), float64(raw.Length()), 1e-6)
	if len(raw.Halts) != 0 {
		t.Errorf("halts without a clock: %+v", raw.Halts)
	}
}

// The borders of the rule: 15 m from the middle, five minutes, three points.
func TestWhatIsAHalt(t *testing.T) {
	// Four points in the corners of a cross, so far from its middle, over so long.
	cross := func(radius float64, seconds int) bool {
		p := flat([2]float64{0, 0}, [2]float64{1000, 0}, [2]float64{1000 + 2*radius, 0},
			[2]float64{1000 + radius, radius},
			[2]float64{1000 + radius, -radius}, [2]float64{2000, 0})
		timed(p, 0, 100, 100+seconds/3, 100+2*seconds/3, 100+seconds, 1000)
		return len(newLine(t, track(p), route.LineOptions{Stretch: 1}).Halts) == 1
	}
	wantNear(t, "radius", border(t, 1, 40, func(r float64) bool { return cross(r, 330) }), 15, 1e-6)
	if cross(10, 300) || !cross(10, 301) {
		t.Error("a halt is over five minutes")
	}
	two := timed(flat([2]float64{0, 0}, [2]float64{1000, 0}, [2]float64{1010, 0}, [2]float64{2000, 0}), 0, 100, 4000,
		5000)
	if l := newLine(t, track(two), route.LineOptions{Stretch: 1}); len(l.Halts) != 0 {
		t.Errorf("a pause of the recorder is a halt: %+v", l.Halts)
	}
}

// A recorder that pauses draws nothing, so that of a pause only two minutes count: an hour
// of it beside three minutes of drawing is five minutes, and no halt yet.
func TestPauseInAHalt(t *testing.T) {
	for _, c := range []struct {
		drawing int // seconds
		halts   bool
	}{{180, false}, {181, true}} {
		p := flat([2]float64{0, 0}, [2]float64{1000, 0}, [2]float64{1020, 0}, [2]float64{1010, 10},
			[2]float64{1010, -10}, [2]float64{2000, 0})
		timed(p, 0, 100, 190, 100+c.drawing, 100+c.drawing+3600, 4000)
		l := newLine(t, track(p), route.LineOptions{Stretch: 1})
		if (len(l.Halts) == 1) != c.halts {
			t.Errorf("%d s of drawing and a pause: halts %+v", c.drawing, l.Halts)
		} else if c.halts && l.Halts[0].For != time.Duration(c.drawing+120)*time.Second {
			t.Errorf("%+v, want a halt of %d s and two minutes", l.Halts[0], c.drawing)
		}
	}
}

// Noise that strays from the cloud and comes back belongs to it up to three times
// its radius away; beyond, the halt is two.
func TestAHaltMayStray(t *testing.T) {
	one := func(away float64) bool {
		xy := [][2]float64{{-1000, 0}}
		for range 2 {
			xy = append(xy, cloud(400, 0, 0, 1)...)
			xy = append(xy, [2]float64{away, 0})
		}
		xy = append(xy, cloud(400, 0, 0, 1)...)
		xy = append(xy, [2]float64{1000, 0})
		return len(newLine(t, track(everySecond(flat(xy...))), route.LineOptions{Stretch: 1}).Halts) == 1
	}
	wantNear(t, "away", border(t, 20, 100, one), 45, 1) // the middle of the cloud is within 1 m
}

// A wider cloud over a longer time is told of and left in.
func TestWideCloudsAreToldOf(t *testing.T) {
	points := everySecond(lunch(1800, 38))
	l := newLine(t, track(points), route.LineOptions{Stretch: 1})
	if len(l.Suspects) != 1 || l.Suspects[0].Points < 1800 || l.Suspects[0].For < 29*time.Minute {
		t.Fatalf("%+v", l.Suspects)
	}
	// 0.9054 × 38 m each second, as above.
	wantNear(t, "drawn", l.Suspects[0].Taken, 1800*0.9054*38, 4000)
	wantNear(t, "at", l.Suspects[0].At, 1000, 50)
	wantNear(t, "left in", l.Length(), float64(2000+l.Suspects[0].Taken), 100)
	if l := newLine(t, track(everySecond(lunch(800, 38))), route.LineOptions{Stretch: 1}); len(l.Suspects) > 0 {
		t.Errorf("13 minutes: %+v", l.Suspects)
	}
	if l := newLine(t, track(everySecond(lunch(1800, 15))), route.LineOptions{Stretch: 1}); len(l.Suspects) > 0 {
		t.Errorf("taken out and told of: %+v", l.Suspects)
	}
}

// A pause in a hairpin, stamps that repeat, and stamps that go back and forth cut no
// bend away: a trail of half circles of 6 m, a point each metre and second.
func TestBendsAreNotCutAway(t *testing.T) {
	var xy [][2]float64
	for bend := range 60 {
		for d := range 19 {
			a := math.Pi * float64(d) / 19
			if bend%2 == 1 {
				a = -a
			}
			xy = append(xy, [2]float64{float64(12*bend) + 6 - 6*math.Cos(a), 6 * math.Sin(a)})
		}
	}
	length := newLine(t, track(flat(xy...)), route.LineOptions{Stretch: 1}).Length()
	for what, stamp := range map[string]func(i int) int{
		"pauses":     func(i int) int { return i + 480*(i/100) },
		"duplicates": func(i int) int { return i / 400 * 400 },
		"back":       func(i int) int { return i - 3600*(i%2) + 3600 },
	} {
		points := flat(xy...)
		for i := range points {
			timed(points[i:i+1], stamp(i))
		}
		if got := newLine(t, track(points), route.LineOptions{Stretch: 1}).Length(); got != length {
			t.Errorf("%s: %v m of %v", what, got, length)
		}
	}
}

// A halt at either end of a segment, and one that is all of it.
func TestHaltsAtTheEnds(t *testing.T) {
	way := func(from, to float64) (xy [][2]float64) {
		for x := from; x <= to; x += 10 {
			xy = append(xy, [2]float64{x, 0})
		}
		return xy
	}
	stand := cloud(600, 0, 0, 15)
	for what, xy := range map[string][][2]float64{
		"start": append(stand[:600:600], way(0, 1000)...),
		"end":   append(way(-1000, 0), stand...),
		"both":  append(append(stand[:600:600], way(0, 1000)...), cloud(600, 1000, 0, 15)...),
	} {
		l := newLine(t, track(everySecond(flat(xy...))), route.LineOptions{Stretch: 1})
		wantNear(t, what, l.Length(), 1000, 20)
	}
	_, err := route.NewLine(track(everySecond(flat(stand...))), route.LineOptions{})
	wantFault(t, err, "one point is no line", "give a GPX file with the loop as a track (trk) or a route (rte)")
}

// Whatever the clock says, a way that moves on is as long as without a clock.
func TestTheClockChangesNoDistance(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(2, 60).Draw(t, "n")
		metres := make([]float64, n)
		for i := 1; i < n; i++ {
			metres[i] = metres[i-1] + rapid.Float64Range(0.5, 100).Draw(t, "step")
		}
		points := north(metres...)
		width := rapid.Float64Range(0, 20).Draw(t, "width")
		for i := range points { // a road that winds
			points[i].Point[0] = width * math.Sin(metres[i]/30) / earth / rad
		}
		bare, err := route.NewLine(track(points), route.LineOptions{Stretch: 1})
		if err != nil {
			t.Fatal(err)
		}
		for i := range points {
			if rapid.Bool().Draw(t, "has") {
				points[i].HasTime = true
				points[i].Time = rapid.Uint32().Draw(t, "time")
			}
		}
		l, err := route.NewLine(track(points), route.LineOptions{Stretch: 1})
		if err != nil {
			t.Fatal(err)
		}
		if len(l.Halts) > 0 || l.Length() != bare.Length() {
			t.Fatalf("%v m, want %v; halts %v", l.Length(), bare.Length(), l.Halts)
		}
	})
}

// Halts are found wherever they are: a loop over the antimeridian and far north.
func TestHaltsAnywhereOnEarth(t *testing.T) {
	for _, at := range [][2]float64{{179.9999, 10}, {-179.99995, -50}, {20, 89}, {0, 0}} {
		cos := math.Cos(at[1] * rad)
		points := lunch(600, 14)
		for i := range points { // from around 1000 m east of 0,0 to there
			x, y := points[i].Lon()-1000/earth/rad, points[i].Lat()
			points[i].Point[0] = math.Mod(at[0]+x/cos+540, 360) - 180
			points[i].Point[1] = at[1] + y
		}
		l := newLine(t, track(everySecond(points)), route.LineOptions{Stretch: 1})
		if len(l.Halts) != 1 || !near(float64(l.Length()), 2000, 20) {
			t.Errorf("at %v: %d halts, %v m", at, len(l.Halts), l.Length())
		}
	}
}
