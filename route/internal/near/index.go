// Package near finds what of a line lies near a place: when the line passes it, and where
// it comes closest. Start with [New].
package near

import (
	"math"
	"slices"
	"sort"
	"sync"

	"github.com/paulmach/orb"
	"github.com/tidwall/rtree"

	"lastpump/route/internal/earth"
)

// An Index finds the steps of a line near a place. It holds boxes around chunks
// of consecutive steps: one box a step would cost more to build than to search.
type Index struct {
	pts    []orb.Point
	at     []earth.Metres     // along the line, at each point
	gaps   []earth.Span       // along the line, in order: of one step or, where it leaps away and back, of several
	tree   *rtree.RTreeG[int] // box → number of the chunk
	boxes  []box
	balls  func() balls // made when they are asked for first
	broken []bool       // chunks with a gap in them
}

const chunkSteps = 32

// New makes the index of a line: its points, the distance along it at each, and where
// it has gaps, which are no part of the way but for their ends.
func New(pts []orb.Point, at []earth.Metres, gaps []earth.Span) *Index {
	x := &Index{pts: pts, at: at, gaps: gaps, tree: new(rtree.RTreeG[int])}
	for c := 0; c*chunkSteps < len(pts)-1; c++ {
		first, last := x.chunkEnds(c)
		b := boxAround(pts[first : last+1])
		x.tree.Insert(b.lo, b.hi, c)
		x.boxes = append(x.boxes, b)
		x.broken = append(x.broken, false)
		x.chunk(c, func(_ int, gap *earth.Span) { x.broken[c] = x.broken[c] || gap != nil })
	}
	x.balls = sync.OnceValue(func() balls { return newBalls(pts) })
	return x
}

// chunkEnds gives the points between which the steps of a chunk lie.
func (x *Index) chunkEnds(c int) (first, last int) {
	first = c * chunkSteps
	return first, min(first+chunkSteps, len(x.pts)-1)
}

// chunk calls f with each step of a chunk and the gap that it lies in; nil for none.
func (x *Index) chunk(c int, f func(step int, gap *earth.Span)) {
	first, last := x.chunkEnds(c)
	x.steps(first, last, f)
}

// steps calls f with each step between two points and the gap that it lies in; nil for none.
func (x *Index) steps(first, last int, f func(step int, gap *earth.Span)) {
	k := sort.Search(len(x.gaps), func(k int) bool { return x.gaps[k].To > x.at[first] })
	for i := first; i < last; i++ {
		for k < len(x.gaps) && x.gaps[k].To <= x.at[i] && x.at[i] < x.at[i+1] {
			k++
		}
		if k < len(x.gaps) && x.gaps[k].From <= x.at[i] && x.gaps[k].From < x.at[i+1] {
			f(i, &x.gaps[k])
		} else {
			f(i, nil)
		}
	}
}

// within gives the chunks whose box comes within a radius of a place, in order.
func (x *Index) within(p orb.Point, radius earth.Metres) []int {
	dLat := float64(radius/earth.Radius) / earth.Degree * 1.001
	dLon := 360.0
	if top := math.Abs(p[1]) + dLat; top < 89 {
		dLon = dLat / math.Cos(top*earth.Degree)
	}
	var chunks []int
	for _, turn := range turns {
		lon := p[0] + turn
		x.tree.Search([2]float64{lon - dLon, p[1] - dLat}, [2]float64{lon + dLon, p[1] + dLat},
			func(_, _ [2]float64, c int) bool {
				chunks = append(chunks, c)
				return true
			})
	}
	slices.Sort(chunks)
	return slices.Compact(chunks)
}

// Beside calls f with each step that passes a place within some metres, in order along the
// line, and with the share of the step at which it comes closest. The ground is taken as
// flat over so short a way. It goes through chunks of steps as long as work lasts, which
// it takes what it has looked at from.
func (x *Index) Beside(p orb.Point, within earth.Metres, work *int, f func(step int, share float64)) {
	const metre = float64(earth.Radius) * earth.Degree // a degree in metres
	cos := math.Cos(p[1] * earth.Degree)
	for _, c := range x.within(p, within) {
		if *work -= chunkSteps; *work <= 0 {
			break
		}
		x.chunk(c, func(i int, gap *earth.Span) {
			a, b := x.pts[i], x.pts[i+1]
			y1, y2 := (a[1]-p[1])*metre, (b[1]-p[1])*metre
			if gap != nil || min(y1, y2) > float64(within) || max(y1, y2) < -float64(within) {
				return
			}
			x1, x2 := earth.Wrap(a[0]-p[0])*cos*metre, earth.Wrap(b[0]-p[0])*cos*metre
			t := closest(sight{x: x1, y: y1}, sight{x: x2, y: y2})
			if math.Hypot(x1+t*(x2-x1), y1+t*(y2-y1)) <= float64(within) {
				f(i, t)
			}
		})
	}
}
