package route_test

import (
	"math"
	"testing"

	"github.com/paulmach/orb"
	"pgregory.net/rapid"

	"lastpump/route"
)

// A scene is a line that winds about, in one or two segments with a gap between,
// and a place that may be near it.
type scene struct {
	line     *route.Line
	segments [][]route.Point
	stop     orb.Point
	corridor float64
}

var (
	someLatitudes  = []float64{0, 0.02, 45, -33, 70, -70, 78, -78}
	someLongitudes = []float64{0, 12, 179.95, -179.9, -70}
)

func anyScene(t *rapid.T) scene {
	start := orb.Point{
		rapid.SampledFrom(someLongitudes).Draw(t, "lon"),
		rapid.SampledFrom(someLatitudes).Draw(t, "lat"),
	}
	var s scene
	step := rapid.SampledFrom([]float64{300, 1000, 3000}).Draw(t, "step")
	between := rapid.SampledFrom([]int{1, 1, 1, 8}).Draw(t, "between")
	for range rapid.IntRange(1, 2).Draw(t, "segments") {
		points := closer(walk(t, start, rapid.IntRange(2, 150).Draw(t, "points"), step), between)
		s.segments = append(s.segments, points)
		start = ahead(points[len(points)-1].Point, rapid.Float64Range(0, 360).Draw(t, "over"), 7000)
	}
	s.line = lineOf(t, s.segments, route.LineOptions{Stretch: 1})
	s.corridor = rapid.SampledFrom([]float64{300, 1000, 1000, 2000, 30000}).Draw(t, "corridor")
	beside := rapid.SampledFrom(s.segments[0]).Draw(t, "beside").Point
	s.stop = ahead(beside, rapid.Float64Range(0, 360).Draw(t, "aside"), s.corridor*rapid.Float64Range(0, 1.2).Draw(t,
		"off"))
	return s
}

// closer puts points on the steps of a line, so many steps for one.
func closer(points []route.Point, n int) []route.Point {
	var out []route.Point
	for i, p := range points[1:] {
		for k := range n {
			out = append(out, route.Point{Point: along(points[i].Point, p.Point, float64(k)/float64(n))})
		}
	}
	return append(out, points[len(points)-1])
}

func TestPassagesLikeBruteForce(t *testing.T) {
	compared, several := 0, 0
	rapid.Check(t, func(t *rapid.T) {
		s := anyScene(t)
		samples := sampled(s.segments, s.stop)
		want, ok := certain(samples, s.corridor)
		if !ok {
			return // it hangs on a few metres
		}
		got := s.line.Passages(s.stop, route.Metres(s.corridor))
		if len(got) != len(want) {
			t.Fatalf("passages %v, by brute force %v", got, want)
		}
		for i, w := range want {
			at, off := float64(got[i].At), float64(got[i].Off)
			if !(off <= w.best.off+0.01 && off >= w.best.off-sampleMiss-0.01) {
				t.Errorf("passage %d is %v m off, by brute force %v", i, off, w.best.off)
			}
			if at < w.from-sampleStep || at > w.to+sampleStep {
				t.Errorf("passage %d at %v, by brute force from %v to %v", i, at, w.from, w.to)
			}
			if there := seen(s.segments, s.stop, at); !near(there, off, 0.01) {
				t.Errorf("passage %d is %v m off, its place on the line %v", i, off, there)
			}
		}
		if compared++; len(want) > 1 {
			several++
		}
	})
	t.Logf("%d compared, %d of them with several passages", compared, several)
	if several == 0 && !testing.Short() {
		t.Error("no line passes twice: the comparison says little")
	}
}

// seen gives how far from a stop the line is at a distance along it.
func seen(segments [][]route.Point, stop orb.Point, at float64) float64 {
	var last orb.Point
	for k, segment := range segments {
		for i, p := range segment {
			if k+i > 0 {
				d := angle(last, p.Point) * earth
				if at <= d {
					return angle(along(last, p.Point, at/d), stop) * earth
				}
				at -= d
			}
			last = p.Point
		}
	}
	return angle(last, stop) * earth
}

func TestNearestLikeBruteForce(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := anyScene(t)
		if rapid.IntRange(0, 4).Draw(t, "anywhere") == 0 {
			s.stop = anyPlace(t, "stop")
		}
		length := float64(s.line.Length())
		from := length * rapid.Float64Range(0, 1).Draw(t, "from")
		to := from + (length-from)*rapid.Float64Range(0, 1).Draw(t, "to")
		least := math.Inf(1) // of the samples
		for _, p := range sampled(s.segments, s.stop) {
			if p.at >= from && p.at <= to && !p.gap {
				least = min(least, p.off)
			}
		}
		got, ok := s.line.Nearest(s.stop, route.Metres(from), route.Metres(to))
		if !ok {
			if !math.IsInf(least, 1) {
				t.Errorf("nothing between %v and %v, by brute force %v m off", from, to, least)
			}
			return
		}
		at, off := float64(got.At), float64(got.Off)
		if at < from || at > to {
			t.Errorf("at %v, not between %v and %v", at, from, to)
		}
		// A share of a step is one of its projection: near by the same, at 80° metres
		// beside. From 87° on the next point of the line will do.
		tol, miss := 0.02, 0.02
		if off > 50e3 {
			tol, miss = 10, 10
		}
		if off > 1.5*earth {
			miss = 3000
		}
		if there := seen(s.segments, s.stop, at); !near(there, off, tol) {
			t.Errorf("%v m off, its place on the line %v", off, there)
		}
		if off > least+miss {
			t.Errorf("%v m off at %v, by brute force %v", off, at, least)
		}
	})
}
