package route_test

import (
	"math"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"lastpump/route"
)

// anyProfile draws segments with heights in whole metres (so that ties are
// common), some of them missing, some points standing still. The steps are
// multiples of 30 m: no hole is a kilometre to within rounding.
func anyProfile(t *rapid.T) [][]route.Point {
	var segments [][]route.Point
	at := 0.0
	for range rapid.IntRange(1, 3).Draw(t, "segments") {
		var segment []route.Point
		for range rapid.IntRange(2, 30).Draw(t, "points") {
			at += rapid.SampledFrom([]float64{0, 30, 90, 270, 690}).Draw(t, "step")
			p := route.Point{Point: place(0, at)}
			if p.HasEle = rapid.IntRange(0, 4).Draw(t, "known") > 0; p.HasEle {
				p.Ele = float64(rapid.IntRange(0, 60).Draw(t, "ele"))
			}
			segment = append(segment, p)
		}
		segments = append(segments, segment)
		at += rapid.SampledFrom([]float64{0, 3000}).Draw(t, "between")
	}
	return segments
}

func reversed(segments [][]route.Point) [][]route.Point {
	var out [][]route.Point
	for _, s := range slices.Backward(segments) {
		r := slices.Clone(s)
		slices.Reverse(r)
		out = append(out, r)
	}
	return out
}

// lineOf makes a line in a rapid check; a line without length is no case.
func lineOf(t *rapid.T, segments [][]route.Point, opt route.LineOptions) *route.Line {
	l, err := route.NewLine(track(segments...), opt)
	if err != nil {
		t.Skip(err)
	}
	return l
}

func TestReversingSwapsClimbAndDescent(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		segments := anyProfile(t)
		opt := route.LineOptions{Stretch: 1, Gaps: rapid.SampledFrom([]route.Gaps{route.GapsRide,
			route.GapsSkip}).Draw(t, "gaps")}
		up, down, unknown := sums(lineOf(t, segments, opt))
		backUp, backDown, backUnknown := sums(lineOf(t, reversed(segments), opt))
		if !near(up, backDown, 1e-6) || !near(down, backUp, 1e-6) || !near(unknown, backUnknown, 1e-6) {
			t.Errorf("forth: up %v, down %v, unknown %v; back: %v, %v, %v",
				up, down, unknown, backUp, backDown, backUnknown)
		}
	})
}

// An independent way to the climb: of all neighbouring highs and lows take away
// the pair that lies closest together until none is closer than 10 m, at an end
// only the one at the end.
func TestClimbLikePairsTakenAway(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		ele := rapid.SliceOfN(rapid.Custom(func(t *rapid.T) float64 {
			return float64(rapid.IntRange(0, 40).Draw(t, "ele"))
		}), 2, 60).Draw(t, "heights")
		points := heights(north(steps(0, float64(len(ele)-1)*50, 50)...), ele...)
		up, down, _ := sums(lineOf(t, [][]route.Point{points}, route.LineOptions{Stretch: 1}))
		wantUp, wantDown := rises(turns(ele))
		if !near(up, wantUp, 1e-6) || !near(down, wantDown, 1e-6) {
			t.Errorf("%v: up %v, down %v, want %v and %v", ele, up, down, wantUp, wantDown)
		}
	})
}

// turns gives the highs and lows that are left.
func turns(ele []float64) []float64 {
	left := extremes(ele)
	for len(left) > 1 {
		i := 0 // of the closest pair i, i+1
		for k := range len(left) - 1 {
			if math.Abs(left[k+1]-left[k]) < math.Abs(left[i+1]-left[i]) {
				i = k
			}
		}
		switch {
		case math.Abs(left[i+1]-left[i]) >= 10:
			return left
		case i == 0:
			left = left[1:]
		case i == len(left)-2:
			left = left[:i+1]
		default:
			left = slices.Delete(left, i, i+2)
		}
		left = extremes(left)
	}
	return left
}

// extremes leaves out what is neither high nor low.
func extremes(ele []float64) []float64 {
	var out []float64
	for _, e := range slices.Compact(slices.Clone(ele)) {
		if n := len(out); n > 1 && (out[n-1]-out[n-2])*(e-out[n-1]) > 0 {
			out = out[:n-1]
		}
		out = append(out, e)
	}
	return out
}

func rises(ele []float64) (up, down float64) {
	for i := 1; i < len(ele); i++ {
		up += max(ele[i]-ele[i-1], 0)
		down += max(ele[i-1]-ele[i], 0)
	}
	return up, down
}
