package near

import (
	"math"

	"github.com/paulmach/orb"

	"lastpump/route/internal/earth"
)

// Nearest gives where the line comes closest to a place between two positions
// along it, however far off, gaps left out but for their ends. ok is false where
// there is no line between them.
func (x *Index) Nearest(p orb.Point, from, to earth.Metres) (best Passage, ok bool) {
	n := newNearest(x, p, earth.Span{From: from, To: to})
	first, last := earth.StepAt(x.at, from)/chunkSteps, earth.StepAt(x.at, to)/chunkSteps
	if last-first < len(x.boxes)/8 { // few chunks: one after the other
		for c := first; c <= last; c++ {
			if least, _ := x.boxes[c].between(p); least <= n.best.Off+earth.Hair {
				n.chunk(c)
			}
		}
		return n.best, !math.IsInf(float64(n.best.Off), 1)
	}
	all := search{nearest: *n, balls: x.balls()}
	all.run()
	n = &all.nearest
	return n.best, !math.IsInf(float64(n.best.Off), 1)
}

// A nearest looks for the closest place within limits along the line.
type nearest struct {
	index  *Index
	eye    eye
	from   orb.Point
	limits earth.Span
	best   Passage
}

func newNearest(x *Index, p orb.Point, limits earth.Span) *nearest {
	return &nearest{index: x, eye: newEye(p), from: p, limits: limits, best: Passage{Off: earth.Metres(math.Inf(1))}}
}

func (n *nearest) chunk(c int) { n.steps(n.index.chunkEnds(c)) }

// steps takes the steps between two points into account.
func (n *nearest) steps(first, last int) {
	x := n.index
	a := n.seen(x.pts[first])
	x.steps(first, last, func(i int, gap *earth.Span) {
		at, b := earth.Span{From: x.at[i], To: x.at[i+1]}, n.seen(x.pts[i+1])
		if gap == nil {
			n.meet(at, a, b)
		}
		if gap != nil && at.From <= gap.From {
			n.meet(earth.Span{From: at.From, To: at.From}, a, a)
		}
		if gap != nil && at.To >= gap.To {
			n.meet(earth.Span{From: at.To, To: at.To}, b, b)
		}
		a = b
	})
}

// A seen point is where it is and where it appears; of one that does not, how far it is.
type seen struct {
	orb.Point
	sight
	off earth.Metres // where it is behind
}

func (n *nearest) seen(p orb.Point) seen {
	s := seen{Point: p, sight: n.eye.see(p)}
	if s.behind {
		s.off = earth.Distance(n.from, p)
	}
	return s
}

// meet takes a straight from a to b into account.
func (n *nearest) meet(at earth.Span, a, b seen) {
	if at.To < n.limits.From || at.From > n.limits.To {
		return
	}
	share := func(m earth.Metres) float64 {
		if at.To == at.From {
			return 0
		}
		return float64((m - at.From) / (at.To - at.From))
	}
	low, high := share(max(at.From, n.limits.From)), share(min(at.To, n.limits.To))
	if a.behind || b.behind { // so far round the earth that an end will do
		for _, t := range [2]float64{low, high} {
			n.take(at.Part(t, t).From, n.far(a, b, t))
		}
		return
	}
	t := min(max(closest(a.sight, b.sight), low), high)
	x, y := a.x+t*(b.x-a.x), a.y+t*(b.y-a.y)
	n.take(at.Part(t, t).From, earth.Radius*earth.Metres(math.Atan(math.Sqrt(x*x+y*y))))
}

// far gives the distance to a place between two points, which is known at the points.
func (n *nearest) far(a, b seen, share float64) earth.Metres {
	switch {
	case share == 0 && a.behind:
		return a.off
	case share == 1 && b.behind:
		return b.off
	}
	return earth.Distance(n.from, earth.Between(a.Point, b.Point, share))
}

func (n *nearest) take(at, off earth.Metres) {
	at = min(max(at, n.limits.From), n.limits.To) // rounding
	if off < n.best.Off-earth.Hair || off < n.best.Off+earth.Hair && at < n.best.At {
		n.best = Passage{At: at, Off: off}
	}
}
