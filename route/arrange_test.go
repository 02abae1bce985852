package route_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"lastpump/route"
)

// named makes a track with a name.
func named(name string, segments ...[]route.Point) route.Track {
	return route.Track{Name: name, Segments: segments}
}

// eastward gives points along the equator.
func eastward(metres ...float64) []route.Point {
	var xy [][2]float64
	for _, m := range metres {
		xy = append(xy, [2]float64{m, 0})
	}
	return flat(xy...)
}

func backwards(p []route.Point) []route.Point {
	p = slices.Clone(p)
	slices.Reverse(p)
	return p
}

// partList writes down the parts of a line: number, direction, from and to.
func partList(l *route.Line) string {
	s := ""
	for _, p := range l.Parts {
		arrow := ">"
		if p.Backwards {
			arrow = "<"
		}
		s += fmt.Sprintf("%d%s %.0f-%.0f ", p.Number, arrow, float64(p.From), float64(p.To))
	}
	return s
}

func gapsInAll(l *route.Line) (d route.Metres) {
	for _, g := range l.Gaps {
		d += g.Straight
	}
	return d
}

// Three days of a way of 30 km to the east, in the file as 2, 3 turned round, 1.
func shuffled() []route.Track {
	return []route.Track{
		named("two", eastward(steps(10000, 20000, 100)...)),
		named("three", backwards(eastward(steps(20020, 30000, 100)...))),
		named("one", eastward(steps(0, 9990, 100)...)),
	}
}

// An order in which the parts meet is offered, and taken only when asked for.
// In the file the ends lie 20 to 30 and 20 to 0 km apart, in order 0.02 and 0.1:
// steps of 100 m from 0 end at 9900, from 20020 at 29920.
func TestOrderNearest(t *testing.T) {
	file := newLine(t, shuffled(), route.LineOptions{Stretch: 1})
	if got := partList(file); got != "1> 0-10000 2> 19920-29820 3> 49840-59740 " {
		t.Errorf("as in the file: %s", got)
	}
	r := file.Reorder
	if r == nil || r.Taken || len(r.Parts) != 3 {
		t.Fatalf("offered %+v", r)
	}
	want := []route.PartRef{{Number: 3}, {Number: 1}, {Number: 2, Backwards: true}}
	if !slices.Equal(r.Parts, want) {
		t.Errorf("order %v, want %v", r.Parts, want)
	}
	wantNear(t, "gaps in the file's order", r.FileGaps, 9920+20020, 1e-3)
	wantNear(t, "gaps in the best", r.Gaps, 100+20, 1e-3)

	l := newLine(t, shuffled(), route.LineOptions{Stretch: 1,
		Arrangement: route.Arrangement{Order: route.OrderNearest}})
	if got := partList(l); got != "3> 0-9900 1> 10000-20000 2< 20020-29920 " {
		t.Errorf("nearest: %s", got)
	}
	if l.Reorder == nil || !l.Reorder.Taken {
		t.Errorf("taken: %+v", l.Reorder)
	}
	wantNear(t, "length", l.Length(), 29920, 1e-3)
	for i := range 30 {
		m := route.Metres(i) * 997
		wantNear(t, "east at", l.At(m)[0], float64(m)/earth/rad, 1e-9)
	}
}

// What meets is not put in order, and what meets a little better is not offered:
// the total has to come down to under a tenth to be worth a word.
func TestOrderIsOfferedOnlyWhereItIsMuchBetter(t *testing.T) {
	offered := func(far float64) bool { // in order the parts lie 1 km apart, in the file far and far + 11 km
		tracks := []route.Track{
			named("a", eastward(steps(0, 10000, 100)...)),
			named("c", eastward(steps(21000+far, 31000+far, 100)...)),
			named("b", eastward(steps(11000, 21000, 100)...)),
		}
		return newLine(t, tracks, route.LineOptions{Stretch: 1}).Reorder != nil
	}
	// a to b 1 km and b to c far; in the file a to c 11 km + far, c to b 20 km + far.
	at := border(t, 0, 10000, offered)
	wantNear(t, "the last that is offered", (1000+at)/(11000+at+20000+at), 0.1, 1e-6)
	whole := []route.Track{named("a", eastward(steps(0, 10000, 100)...)),
		named("b", eastward(steps(10040, 20000, 100)...))}
	if l := newLine(t, whole, route.LineOptions{Stretch: 1,
		Arrangement: route.Arrangement{Order: route.OrderNearest}}); l.Reorder != nil {
		t.Errorf("parts that meet are put in order: %+v", l.Reorder)
	}
}

// Parts of a walk in any order and direction are put together again: the gaps are
// never longer than those of the order they were cut in, unless they are under a
// tenth of the file's in an order that begins with its first part. Beyond twelve
// parts that is not proved, and a fifth more is let pass.
func TestOrderFindsTheWay(t *testing.T) {
	for _, n := range []int{2, 3, 4, 5, 7, 9, 12, 20, 30} {
		for seed := range uint64(8) {
			rnd := rand.New(rand.NewPCG(seed, uint64(n)))
			tracks, truth := wander(rnd, n)
			rnd.Shuffle(n, func(i, j int) { tracks[i], tracks[j] = tracks[j], tracks[i] })
			for i := range tracks {
				if rnd.IntN(2) == 0 {
					tracks[i].Segments[0] = backwards(tracks[i].Segments[0])
				}
			}
			opt := route.LineOptions{Stretch: 1, Gaps: route.GapsRide}
			file := newLine(t, tracks, opt)
			opt.Order = route.OrderNearest
			l := newLine(t, tracks, opt)
			if gapsInAll(l) > gapsInAll(file)+1e-6 {
				t.Errorf("gaps of %v, in the file's order %v", gapsInAll(l), gapsInAll(file))
			}
			r := l.Reorder
			if r == nil || r.Gaps < r.FileGaps/10 {
				continue
			}
			if n > 12 {
				truth *= 1.2
			}
			if float64(r.Gaps) > truth+1e-6 {
				t.Errorf("%d parts, seed %d: gaps of %v m, cut with %v", n, seed, r.Gaps, truth)
			}
		}
	}
}

// wander gives the parts of a walk to and fro and the gaps between them in all.
func wander(rnd *rand.Rand, n int) (tracks []route.Track, gaps float64) {
	x, y := 0.0, 0.0
	for i := range n {
		var xy [][2]float64
		for range 5 {
			xy = append(xy, [2]float64{x, y})
			x += 3000 * rnd.NormFloat64()
			y += 3000 * rnd.NormFloat64()
		}
		p := flat(xy...)
		if i > 0 {
			last := tracks[i-1].Segments[0]
			gaps += float64(route.Distance(last[len(last)-1].Point, p[0].Point))
		}
		tracks = append(tracks, named(fmt.Sprint(i), p))
	}
	return tracks, gaps
}

// Many parts are pieces of a recording: no order is looked for, and nothing grows
// with the square of their number.
func TestManyParts(t *testing.T) {
	var tracks []route.Track
	for i := range 50_000 {
		tracks = append(tracks, named("", eastward(float64(i)*20, float64(i)*20+10)))
	}
	l := newLine(t, tracks, route.LineOptions{Stretch: 1})
	if l.Reorder != nil || len(l.Doubles) > 0 || len(l.Parts) != 50_000 || len(l.Gaps) > 0 {
		t.Errorf("%d parts, %d gaps, order %v", len(l.Parts), len(l.Gaps), l.Reorder)
	}
}

// A part that is left out is as if it were not in the file, but for the numbers of
// the others.
func TestSkipPart(t *testing.T) {
	l := newLine(t, shuffled(), route.LineOptions{Stretch: 1, Arrangement: route.Arrangement{SkipParts: []int{2}}})
	if got := partList(l); got != "1> 0-10000 3> 30000-39900 " {
		t.Errorf("parts %s", got)
	}
	if len(l.LeftOut) != 1 || l.LeftOut[0].Number != 2 || l.LeftOut[0].Name != "three" {
		t.Errorf("left out %+v", l.LeftOut)
	}
	for _, c := range []struct {
		skip       []int
		text, hint string
	}{
		{[]int{4}, `there is no part 4 to leave out: the file has 1 "two", 2 "three", 3 "one"`,
			"a part is a track, or a route where there are no tracks"},
		{[]int{0}, `there is no part 0 to leave out: the file has 1 "two", 2 "three", 3 "one"`,
			"a part is a track, or a route where there are no tracks"},
		{[]int{1, 2, 3}, "no part is left", "at least one part is ridden"},
	} {
		_, err := route.NewLine(shuffled(), route.LineOptions{Arrangement: route.Arrangement{SkipParts: c.skip}})
		wantFault(t, err, c.text, c.hint)
	}
}

// A ring of 4 × 10 km in two segments and three parts, with heights, that begins
// at 0,0.
func ring() []route.Track {
	var xy [][2]float64
	for i := range 400 {
		d := float64(i%100) * 100
		xy = append(xy, [][2]float64{{d, 0}, {10000, d}, {10000 - d, 10000}, {0, 10000 - d}}[i/100])
	}
	xy = append(xy, [2]float64{0, 0})
	p := flat(xy...)
	for i := range p {
		p[i].Ele, p[i].HasEle = 1000+300*math.Sin(2*math.Pi*float64(7*i)/400), true
	}
	return []route.Track{named("A", p[:130], p[129:200]), named("B", p[199:300]), named("C", p[299:])}
}

// Turned round, everything is where it was, seen from the other end; climb and
// descent change places.
func TestReverse(t *testing.T) {
	for _, stretch := range []float64{0, 1.1} {
		on := newLine(t, ring(), route.LineOptions{Stretch: stretch})
		back := newLine(t, ring(), route.LineOptions{Stretch: stretch, Arrangement: route.Arrangement{Reverse: true}})
		wantNear(t, "length", back.Length(), float64(on.Length()), 1e-6)
		for m := route.Metres(0); m < on.Length(); m += 777 {
			a, b := on.At(m), back.At(back.Length()-m)
			wantNear(t, "place", route.Distance(a, b), 0, 1e-3)
			wantNear(t, "before turning", back.BeforeTurning(back.Length()-m), float64(m), 1e-6)
		}
		if got := partList(back); got != "3< 0-10100 2< 10100-20100 1< 20100-40000 " {
			t.Errorf("parts %s", got)
		}
		up, down := climbs(on)
		upBack, downBack := climbs(back)
		wantNear(t, "climb", upBack, float64(down), 1e-6)
		wantNear(t, "descent", downBack, float64(up), 1e-6)
		wantNear(t, "ridden", riddenOf(back), float64(riddenOf(on)), 1e-6)
	}
}

func climbs(l *route.Line) (up, down route.Metres) {
	for _, r := range l.Runs(route.Grounds{}) {
		up, down = up+r.Up, down+r.Down
	}
	return up, down
}

func riddenOf(l *route.Line) (d route.Metres) {
	for _, r := range l.Runs(route.Grounds{}) {
		d += r.Ridden
	}
	return d
}

// Begun elsewhere the ring is as long, ridden and climbed as before, to within what
// one turning point is worth, and every place lies as far along from its new start.
func TestBeginAt(t *testing.T) {
	on := newLine(t, ring(), route.LineOptions{})
	for _, at := range []float64{0, 1234, 12900, 25050, 30000, 39999.5, 40000} {
		for _, reverse := range []bool{false, true} {
			l := newLine(t, ring(), route.LineOptions{Arrangement: route.Arrangement{Reverse: reverse,
				BeginAt: route.Metres(at), HasBeginAt: true}})
			wantNear(t, "length", l.Length(), float64(on.Length()), 1e-2)
			wantNear(t, "start", route.Distance(l.At(0), on.At(route.Metres(at))), 0, 1)
			wantNear(t, "ridden", riddenOf(l), float64(riddenOf(on)), 0.1)
			up, _ := climbs(on)
			if u, d := climbs(l); !reverse {
				wantNear(t, "climb", u, float64(up), 20)
				wantNear(t, "climb and descent", u-d, 0, 20)
			}
			if !l.Closed {
				t.Errorf("begun at %v it is not closed", at)
			}
			for m := 0.0; m < 40000; m += 801 {
				along := math.Mod(at+m, 40000)
				if reverse {
					along = math.Mod(at-m+40000, 40000)
				}
				wantNear(t, "place", route.Distance(l.At(route.Metres(m)), on.At(route.Metres(along))), 0, 2)
			}
		}
	}
}

func TestBeginAtRefused(t *testing.T) {
	begin := func(tracks []route.Track, a route.Arrangement) error {
		a.HasBeginAt = true
		_, err := route.NewLine(tracks, route.LineOptions{Stretch: 1, Arrangement: a})
		return err
	}
	wantFault(t, begin(ring()[:1], route.Arrangement{BeginAt: 100}),
		"the loop is not closed, so it cannot begin elsewhere: its ends lie 14.1 km apart",
		"only a loop that comes back to its start can begin elsewhere")
	wantFault(t, begin(ring(), route.Arrangement{BeginAt: 50000}),
		"no line at km 50.0 for the loop to begin at",
		"give a kilometre of the line as it is neither turned round nor begun elsewhere")
}

// Ground goes with a gap of the file as well, whichever way it is ridden, and a way
// that the file does not have takes the ground before it, as the parts are in order.
func TestLayOverGaps(t *testing.T) {
	tracks := []route.Track{
		named("A", eastward(steps(0, 2000, 100)...), eastward(steps(5000, 7000, 100)...)),
		named("B", eastward(steps(7000, 9000, 100)...)),
		named("C", eastward(steps(9000, 12000, 100)...)),
	}
	sections := []route.Section{
		{From: 0, To: 3000, Ground: route.Sand}, {From: 3000, To: 6500, Ground: route.Mud},
		{From: 6500, To: 8500, Ground: route.Paved}, {From: 8500, To: 12000, Ground: route.Rocky},
	}
	for _, c := range []struct {
		a    route.Arrangement
		want string
	}{
		{route.Arrangement{}, "sand 0-3000 mud 3000-6500 paved 6500-8500 rocky 8500-12000 "},
		{route.Arrangement{Reverse: true}, "rocky 0-3500 paved 3500-5500 mud 5500-9000 sand 9000-12000 "},
		{route.Arrangement{SkipParts: []int{2}}, "sand 0-3000 mud 3000-6500 paved 6500-9000 rocky 9000-12000 "},
		{route.Arrangement{SkipParts: []int{2}, Reverse: true},
			"rocky 0-3000 paved 3000-5500 mud 5500-9000 sand 9000-12000 "},
	} {
		l := newLine(t, tracks, route.LineOptions{Stretch: 1, Arrangement: c.a})
		laid, m, err := l.Lay(sections)
		if err != nil || m != route.AsGiven {
			t.Fatalf("%v, %v", m, err)
		}
		got := ""
		for i, s := range laid {
			if i > 0 && laid[i-1].Ground == s.Ground && math.Abs(float64(laid[i-1].To-s.From)) < 1e-6 {
				got = got[:strings.LastIndexByte(got[:len(got)-1], '-')] + fmt.Sprintf("-%.0f ", float64(s.To))
				continue
			}
			got += fmt.Sprintf("%s %.0f-%.0f ", s.Ground, float64(s.From), float64(s.To))
		}
		if got != c.want {
			t.Errorf("%+v: %s, want %s", c.a, got, c.want)
		}
	}
	// A list that ends with the line as its parts are left out was measured on that;
	// one that ends with the line as it was put in order begins nobody knows where.
	skip := newLine(t, tracks, route.LineOptions{Stretch: 1, Arrangement: route.Arrangement{SkipParts: []int{3}}})
	if _, m, err := skip.Lay([]route.Section{{From: 0, To: 9000}}); m != route.Ordered || err != nil {
		t.Errorf("without a part: %v, %v", m, err)
	}
	order := newLine(t, shuffled(), route.LineOptions{Stretch: 1,
		Arrangement: route.Arrangement{Order: route.OrderNearest}})
	if _, m, err := order.Lay([]route.Section{{From: 0, To: order.Length()}}); m != route.AsGiven || err != nil {
		t.Errorf("put in order: %v, %v", m, err)
	}
	l := newLine(t, tracks, route.LineOptions{Stretch: 1})
	_, _, err := l.Lay([]route.Section{{From: 0, To: 12200, Row: 7}})
	wantFault(t, err, "the section ends at km 12.2, the line at km 12.0",
		"from_km and to_km are kilometres along the line in the file: is this the ground of another track?")
}

// The borders of what doubles: 60 m beside, half of the part.
func TestWhatDoubles(t *testing.T) {
	main := named("main", eastward(steps(0, 20000, 100)...))
	on := named("on", eastward(steps(20000, 30000, 100)...))
	doubles := func(xy ...[2]float64) bool {
		return len(newLine(t, []route.Track{main, named("also", flat(xy...)), on},
			route.LineOptions{Stretch: 1}).Doubles) > 0
	}
	wantNear(t, "beside", border(t, 1, 1000, func(d float64) bool {
		return doubles([2]float64{12000, d}, [2]float64{15000, d}, [2]float64{18000, d})
	}), 60, 1e-3)
	// It leaves the road at a right angle and does not come back: the road goes on
	// where it leaves, so that it breaks the way, and half of it beside is enough.
	wantNear(t, "share away", border(t, 100, 8000, func(d float64) bool {
		return doubles([2]float64{14000, 0}, [2]float64{16000, 0}, [2]float64{18000, 0}, [2]float64{18000, d})
	}), 2*(4000+60)-4000, 30) // 400 places are looked at
}

// The same stretch drawn twice, a detour that leaves the way and comes back to it,
// there and back, and two days that share a road.
func TestDoubles(t *testing.T) {
	main := named("main", eastward(steps(0, 20000, 100)...))
	on := named("on", eastward(steps(20000, 30000, 100)...))
	beside := flat([2]float64{12000, 30}, [2]float64{14000, 40}, [2]float64{18000, 40}, [2]float64{19000, 30})
	detour := flat([2]float64{12000, 10}, [2]float64{13000, 900}, [2]float64{15000, 900}, [2]float64{16000, 20})
	back := named("back", backwards(eastward(steps(0, 20000, 100)...)))
	loop := named("loop", eastward(steps(0, 5000, 100)...), flat([2]float64{5000, 0}, [2]float64{5000, 9000},
		[2]float64{0, 9000}, [2]float64{0, 0}))
	for _, c := range []struct {
		what   string
		tracks []route.Track
		want   string
	}{
		{"drawn twice", []route.Track{main, named("again", main.Segments...), on}, "2 of 1"},
		{"beside", []route.Track{main, named("dry", beside), on}, "2 of 1"},
		{"a detour", []route.Track{main, named("high water", detour), on}, "2 of 1"},
		// It begins 4 km and ends 8 km from where the days beside it do, which meet.
		{"a detour drawn backwards", []route.Track{main, named("high water", backwards(detour)), on}, "2 of 1"},
		{"a detour at the end", []route.Track{main, on, named("high water", detour)}, "3 of 1"},
		{"there and back", []route.Track{main, back}, ""},
		{"two days", []route.Track{main, on}, ""},
		{"a detour around the place where two days meet",
			[]route.Track{named("first", eastward(steps(0, 12000, 100)...)),
				named("high water", flat([2]float64{8000, 0}, [2]float64{9000, 800}, [2]float64{12000, 0})),
				named("second", eastward(steps(12000, 20000, 100)...), flat([2]float64{20000, 0}, [2]float64{20000, 9000},
					[2]float64{0, 9000}, [2]float64{0, 0}))}, "2 of 1"},
		{"a road out of town", []route.Track{loop, named("main", eastward(steps(0, 20000, 100)...))}, ""},
	} {
		l := newLine(t, c.tracks, route.LineOptions{Stretch: 1})
		got := ""
		for _, d := range l.Doubles {
			got += fmt.Sprintf("%d of %d", d.Part, d.Of)
		}
		if got != c.want {
			t.Errorf("%s: %q, want %q (%+v)", c.what, got, c.want, l.Doubles)
		}
	}
}
