package route_test

import (
	"math"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"lastpump/route"
)

// drawTracks draws parts of all odd kinds: empty, of one point, of many segments,
// standing still, with strays, far apart, over the antimeridian.
func drawTracks(t *rapid.T) []route.Track {
	var tracks []route.Track
	lon := rapid.SampledFrom([]float64{0, 179.99, -179.99}).Draw(t, "lon")
	lat := rapid.Float64Range(-60, 60).Draw(t, "lat")
	clock := uint32(1780000000)
	for range rapid.IntRange(1, 5).Draw(t, "tracks") {
		track := route.Track{Name: rapid.SampledFrom([]string{"", "A", "B"}).Draw(t, "name")}
		for range rapid.IntRange(0, 3).Draw(t, "segments") {
			var seg []route.Point
			for range rapid.IntRange(0, 12).Draw(t, "points") {
				step := rapid.SampledFrom([]float64{0, 1e-5, 1e-3, 1e-3, 0.02, 0.5}).Draw(t, "step")
				lon += step * rapid.Float64Range(-1, 1).Draw(t, "x")
				lat += step * rapid.Float64Range(-1, 1).Draw(t, "y")
				clock += uint32(rapid.IntRange(0, 400).Draw(t, "seconds"))
				p := route.Point{Time: clock, HasTime: rapid.Bool().Draw(t, "timed")}
				p.Point = [2]float64{math.Mod(lon+540, 360) - 180, lat}
				if p.HasEle = rapid.Bool().Draw(t, "high"); p.HasEle {
					p.Ele = rapid.Float64Range(0, 500).Draw(t, "ele")
				}
				seg = append(seg, p)
			}
			track.Segments = append(track.Segments, seg)
		}
		tracks = append(tracks, track)
	}
	if rapid.Bool().Draw(t, "closed") {
		first, last := &tracks[0], &tracks[len(tracks)-1]
		if len(first.Segments) > 0 && len(first.Segments[0]) > 0 && len(last.Segments) > 0 {
			last.Segments[len(last.Segments)-1] = append(last.Segments[len(last.Segments)-1], first.Segments[0][0])
		}
	}
	return tracks
}

func drawArrangement(t *rapid.T) route.Arrangement {
	orders := []route.Order{"", route.OrderFile, route.OrderNearest}
	a := route.Arrangement{Order: rapid.SampledFrom(orders).Draw(t, "order")}
	a.Reverse = rapid.Bool().Draw(t, "reverse")
	if rapid.Bool().Draw(t, "skip") {
		a.SkipParts = []int{rapid.IntRange(1, 4).Draw(t, "part")}
	}
	if a.HasBeginAt = rapid.Bool().Draw(t, "begin"); a.HasBeginAt {
		a.BeginAt = route.Metres(rapid.Float64Range(0, 30000).Draw(t, "at"))
	}
	return a
}

// However odd the tracks and whatever is asked, there is a line whose figures hold
// together, or an error; ground that covers the file covers the line, once and in
// order.
func TestAnyArrangementHoldsTogether(t *testing.T) {
	lines := 0
	rapid.Check(t, func(t *rapid.T) {
		tracks, a := drawTracks(t), drawArrangement(t)
		l, err := route.NewLine(tracks, route.LineOptions{Stretch: 1, Gaps: route.GapsRide, Arrangement: a})
		if err != nil {
			return
		}
		lines++
		if n := l.Length(); !(n > 0) || math.IsInf(float64(n), 0) {
			t.Fatalf("length %v", n)
		}
		last := route.Metres(0)
		for _, p := range l.Parts {
			if p.From < last || p.To < p.From || p.To > l.Length() {
				t.Fatalf("parts %+v of %v", l.Parts, l.Length())
			}
			last = p.To
		}
		for _, h := range l.Halts {
			if h.At < 0 || h.At > l.Length() || h.Taken < 0 {
				t.Fatalf("halt %+v", h)
			}
		}
		end := l.FileLength(route.AsGiven)
		var sections []route.Section
		for i := range 7 {
			sections = append(sections, route.Section{From: end * route.Metres(i) / 7,
				To: end * route.Metres(i+1) / 7, Ground: route.AllGrounds()[i%3]})
		}
		laid, _, err := l.Lay(sections)
		if err != nil {
			t.Fatal(err)
		}
		covered, at := route.Metres(0), route.Metres(-1)
		for _, s := range laid {
			if s.From < at-1e-3 || s.To < s.From-1e-6 {
				t.Fatalf("laid %+v", laid)
			}
			covered, at = covered+s.To-s.From, s.To
		}
		if math.Abs(float64(covered-l.Length())) > 1 {
			t.Fatalf("%v m of %v are covered: %+v", covered, l.Length(), laid)
		}
		var ridden route.Metres
		for _, r := range l.Runs(route.Grounds{Sections: laid}) {
			ridden += r.Ridden
			if r.Guessed && r.To-r.From > 1 {
				t.Fatalf("no ground from %v to %v of %v", r.From, r.To, l.Length())
			}
		}
		if !a.HasBeginAt && l.Closed { // every part begins somewhere that the loop can begin at
			a.HasBeginAt, a.BeginAt = true, l.BeforeTurning(rapid.SampledFrom(l.Parts).Draw(t, "begin at part").From)
			if _, err := route.NewLine(tracks, route.LineOptions{Stretch: 1, Gaps: route.GapsRide,
				Arrangement: a}); err != nil {
				t.Fatalf("begun at %v: %v", a.BeginAt, err)
			}
		}
		if b := l.BeforeTurning(l.Length() / 3); !(b >= 0) {
			t.Fatalf("before turning %v", b)
		}
	})
	if lines == 0 {
		t.Error("no line was made")
	}
}

// The runs of a loop that is begun elsewhere without being laid anew are those of the line
// laid anew: distance ridden, climb, descent and ground, everywhere along it.
func TestRunsBegunAt(t *testing.T) {
	tried := 0
	rapid.Check(t, func(t *rapid.T) {
		tracks := drawTracks(t)
		opt := route.LineOptions{Stretch: 1.1, Gaps: rapid.SampledFrom([]route.Gaps{route.GapsRide, route.GapsSkip}).Draw(t, "gaps")}
		l, err := route.NewLine(tracks, opt)
		if err != nil || !l.Closed || l.Length() < 1000 {
			return
		}
		begin := l.Length() * route.Metres(rapid.Float64Range(0.01, 0.99).Draw(t, "begin"))
		for _, r := range l.Runs(route.Grounds{}) { // in a gap there is nothing to begin at
			if r.From <= begin+1 && begin-1 <= r.To && math.Abs(float64(r.Ridden-1.1*(r.To-r.From))) > 1e-6 {
				return
			}
		}
		opt.Arrangement = route.Arrangement{BeginAt: begin, HasBeginAt: true}
		again, err := route.NewLine(tracks, opt)
		if err != nil {
			t.Fatal(err)
		}
		if route.Distance(again.At(0), l.At(begin)) > 0.1 {
			return // between two segments that are joined: it begins at the end of one
		}
		grounds := func(l *route.Line) route.Grounds {
			end := l.FileLength(route.Ordered)
			laid, _, err := l.Lay([]route.Section{{From: 0, To: end / 3, Ground: route.Sand}, {From: end / 2, To: end, Ground: route.Rocky}})
			if err != nil {
				t.Fatal(err)
			}
			return route.Grounds{Sections: laid, Default: route.Dirt}
		}
		tried++
		got, want := sumsOf(l.RunsBegunAt(begin, grounds(l))), sumsOf(again.Runs(grounds(again)))
		for k := range want {
			if math.Abs(got[k]-want[k]) > 0.01+1e-6*math.Abs(want[k]) {
				t.Fatalf("begun at %v of %v, sum %d: %v, laid anew %v\n%v\n%v", begin, l.Length(), k, got[k], want[k], got, want)
			}
		}
	})
	if tried == 0 {
		t.Error("no loop was begun elsewhere")
	}
}

// sumsOf gives what tells the runs of one line from those of another: in each ninth of it the
// distance ridden, the climb, the descent, and what lies on each ground.
func sumsOf(runs []route.Run) []float64 {
	const parts = 9
	grounds := route.AllGrounds()
	out := make([]float64, parts*(4+len(grounds)))
	end := runs[len(runs)-1].To
	for i := range parts {
		from, to := end*route.Metres(i)/parts, end*route.Metres(i+1)/parts
		sums := out[i*(4+len(grounds)):]
		for _, r := range runs {
			a, b := max(from, r.From), min(to, r.To)
			if a >= b {
				continue
			}
			share := (b - a) / (r.To - r.From)
			sums[0] += float64(r.Ridden * share)
			sums[1] += float64(r.Up * share)
			sums[2] += float64(r.Down * share)
			if r.NoHeights {
				sums[3] += float64(b - a)
			}
			sums[4+slices.Index(grounds, r.Ground)] += float64(b - a)
		}
	}
	return out
}
