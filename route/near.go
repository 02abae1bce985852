package route

import (
	"math"

	"github.com/paulmach/orb"
)

// A Passage is one passing of the line by a place.
type Passage struct {
	At  Metres // along the line, where it comes closest, the first time if it does so twice
	Off Metres // from there to the place, straight
}

// ApartAlong is how far apart along the line two passages of a place lie at the least; the
// line goes beyond twice the corridor between them, too.
const ApartAlong Metres = 5000

// Passages gives each passing of the line within a corridor of a place, in order
// along the line. Nobody knows where a gap was ridden, so none passes anything.
func (l *Line) Passages(p orb.Point, corridor Metres) []Passage {
	eye := newEye(p)
	near := nearness{corridor: eye.plane(corridor), wide: eye.plane(2 * corridor), line: l}
	for _, c := range l.index.within(p, 2*corridor) {
		if least, most := l.index.boxes[c].between(p); l.index.broken[c] || !near.whole(c, eye, least, most) {
			near.steps(c, eye)
		}
	}
	return near.passages()
}

// An eye sees the ground from one place in the gnomonic projection, in which
// great circles are straight and what is nearest stays nearest.
type eye struct {
	lon, sin, cos float64
}

// A sight is where a point appears; behind where it lies so far round the earth
// that it does not.
type sight struct {
	x, y   float64
	behind bool
}

func newEye(p orb.Point) eye {
	s, c := math.Sincos(p[1] * degree)
	return eye{p[0], s, c}
}

// plane turns a distance from the eye on the ground into one in the projection.
func (e eye) plane(m Metres) float64 { return math.Tan(float64(m / EarthRadius)) }

func (e eye) see(p orb.Point) sight {
	s, c := math.Sincos(p[1] * degree)
	ds, dc := math.Sincos((p[0] - e.lon) * degree)
	front := e.sin*s + e.cos*c*dc // the cosine of the angle between
	if front < 0.05 {
		return sight{behind: true}
	}
	return sight{x: c * ds / front, y: (e.cos*s - e.sin*c*dc) / front}
}

// closest gives the share of the way from a to b at which the line between them
// comes closest to the eye, the first such.
func closest(a, b sight) float64 {
	dx, dy := b.x-a.x, b.y-a.y
	d2 := dx*dx + dy*dy
	if d2 == 0 {
		return 0
	}
	return min(1, max(0, -(a.x*dx+a.y*dy)/d2))
}

// inside gives the shares of the way from a to b between which it lies within r
// of the eye; ok is false if it never does.
func inside(a, b sight, r float64) (from, to float64, ok bool) {
	dx, dy := b.x-a.x, b.y-a.y
	d2 := dx*dx + dy*dy
	c := a.x*a.x + a.y*a.y - r*r
	if d2 == 0 || c <= 0 && b.x*b.x+b.y*b.y <= r*r {
		return 0, 1, c <= 0
	}
	h := (a.x*dx + a.y*dy) / d2
	root := h*h - c/d2
	if root < 0 {
		return 0, 0, false
	}
	root = math.Sqrt(root)
	from, to = max(0, -h-root), min(1, -h+root)
	return from, to, from <= to
}

// A nearness gathers the stretches of line near a place, step by step along it.
type nearness struct {
	line           *Line
	corridor, wide float64 // in the projection
	stretches      []nearStretch
	wideTo         Metres // end of the stretch within the wide corridor
	wideNo         int
}

type nearStretch struct {
	span
	wide int     // number of the stretch within twice the corridor that it lies in
	at   Metres  // where it comes closest
	off  float64 // and how close, in the projection
}

// whole deals with a chunk at once where bounds on its distance tell all there is
// to know: it is too far, or all of it is near and none of it nearest. It tells
// whether they did.
func (n *nearness) whole(c int, eye eye, least, most Metres) bool {
	first, last := n.line.chunkEnds(c)
	all := span{n.line.at[first], n.line.at[last]}
	from, to := eye.plane(least), eye.plane(most)
	switch {
	case from > n.wide:
		return true
	case to > n.wide || from <= n.corridor && to > n.corridor:
		return false
	case from > n.corridor:
		n.widen(all)
		return true
	}
	k := len(n.stretches) - 1
	if k < 0 || from <= n.stretches[k].off {
		return false
	}
	n.widen(all)
	n.add(nearStretch{span: all, wide: n.wideNo, off: math.Inf(1)})
	return n.stretches[k].to == all.to // else it begins a stretch, and its nearest is wanted
}

// steps deals with a chunk step by step.
func (n *nearness) steps(c int, eye eye) {
	first, _ := n.line.chunkEnds(c)
	a := eye.see(n.line.pts[first])
	n.line.chunk(c, func(i int, gap bool) {
		b := eye.see(n.line.pts[i+1])
		n.step(i, gap, a, b)
		a = b
	})
}

// widen notes a stretch within twice the corridor. Neighbours share a point;
// rounding may leave a hair between them.
func (n *nearness) widen(s span) {
	const rounding = 1e-3 // metres
	if n.wideNo == 0 || s.from > n.wideTo+rounding {
		n.wideNo++
	}
	n.wideTo = s.to
}

// step deals with one step. A gap is no part of the line, but its ends are, even
// where there is another gap on their other side.
func (n *nearness) step(i int, gap bool, a, b sight) {
	if a.behind || b.behind {
		return
	}
	at := span{n.line.at[i], n.line.at[i+1]}
	from, to, ok := inside(a, b, n.wide)
	if !ok {
		return
	}
	n.widen(at.part(from, to))
	if gap {
		n.passing(span{at.from, at.from}, a, a)
		n.passing(span{at.to, at.to}, b, b)
		return
	}
	n.passing(at, a, b)
}

// passing notes what of a straight from a to b lies within the corridor.
func (n *nearness) passing(at span, a, b sight) {
	from, to, ok := inside(a, b, n.corridor)
	if !ok {
		return
	}
	t := closest(a, b)
	x, y := a.x+t*(b.x-a.x), a.y+t*(b.y-a.y)
	n.add(nearStretch{span: at.part(from, to), wide: n.wideNo, at: at.part(t, t).from, off: math.Sqrt(x*x + y*y)})
}

// part gives a stretch of a span by shares of its length.
func (s span) part(from, to float64) span {
	d := s.to - s.from
	return span{s.from + Metres(from)*d, s.from + Metres(to)*d}
}

// tie is by how much a later place has to be nearer: there and back on one line
// it would otherwise be for rounding to say which way is the first. In the
// projection; 6 µm on the ground.
const tie = 1e-12

// hair is the same on the ground.
const hair = tie * EarthRadius

// add joins a stretch to the one before unless they are two passages.
func (n *nearness) add(s nearStretch) {
	if k := len(n.stretches) - 1; k >= 0 {
		last := &n.stretches[k]
		if s.wide == last.wide || s.from-last.to < ApartAlong {
			last.to, last.wide = s.to, s.wide
			if s.off < last.off-tie {
				last.at, last.off = s.at, s.off
			}
			return
		}
	}
	n.stretches = append(n.stretches, s)
}

func (n *nearness) passages() []Passage {
	var out []Passage
	for _, s := range n.stretches {
		out = append(out, Passage{At: s.at, Off: Metres(math.Atan(s.off)) * EarthRadius})
	}
	return out
}

// Nearest gives where the line comes closest to a place between two positions
// along it, however far off, gaps left out but for their ends. ok is false where
// there is no line between them.
func (l *Line) Nearest(p orb.Point, from, to Metres) (best Passage, ok bool) {
	n := newNearest(l, p, span{from, to})
	first, last := stepAt(l.at, from)/chunkSteps, stepAt(l.at, to)/chunkSteps
	if last-first < len(l.index.boxes)/8 { // few chunks: one after the other
		for c := first; c <= last; c++ {
			if least, _ := l.index.boxes[c].between(p); least <= n.best.Off+hair {
				n.chunk(c)
			}
		}
		return n.best, !math.IsInf(float64(n.best.Off), 1)
	}
	l.index.tree.Nearby(
		func(lo, hi [2]float64, _ int, _ bool) float64 { return float64(box{lo, hi}.distance(p)) },
		func(_, _ [2]float64, c int, dist float64) bool {
			if Metres(dist) > n.best.Off+hair {
				return false
			}
			n.chunk(c)
			return true
		})
	return n.best, !math.IsInf(float64(n.best.Off), 1)
}

// A nearest looks for the closest place within limits along the line.
type nearest struct {
	line   *Line
	eye    eye
	from   orb.Point
	limits span
	best   Passage
}

func newNearest(l *Line, p orb.Point, limits span) *nearest {
	return &nearest{line: l, eye: newEye(p), from: p, limits: limits, best: Passage{Off: Metres(math.Inf(1))}}
}

func (n *nearest) chunk(c int) {
	l := n.line
	l.chunk(c, func(i int, gap bool) {
		a, b := l.pts[i], l.pts[i+1]
		if gap {
			n.meet(span{l.at[i], l.at[i]}, a, a)
			n.meet(span{l.at[i+1], l.at[i+1]}, b, b)
		} else {
			n.meet(span{l.at[i], l.at[i+1]}, a, b)
		}
	})
}

// meet takes a straight from a to b into account.
func (n *nearest) meet(at span, a, b orb.Point) {
	if at.to < n.limits.from || at.from > n.limits.to {
		return
	}
	share := func(m Metres) float64 {
		if at.to == at.from {
			return 0
		}
		return float64((m - at.from) / (at.to - at.from))
	}
	low, high := share(max(at.from, n.limits.from)), share(min(at.to, n.limits.to))
	from, to := n.eye.see(a), n.eye.see(b)
	if from.behind || to.behind { // so far round the earth that an end will do
		n.take(at.part(low, low).from, Distance(n.from, Between(a, b, low)))
		n.take(at.part(high, high).from, Distance(n.from, Between(a, b, high)))
		return
	}
	t := min(max(closest(from, to), low), high)
	x, y := from.x+t*(to.x-from.x), from.y+t*(to.y-from.y)
	n.take(at.part(t, t).from, EarthRadius*Metres(math.Atan(math.Sqrt(x*x+y*y))))
}

func (n *nearest) take(at, off Metres) {
	at = min(max(at, n.limits.from), n.limits.to) // rounding
	if off < n.best.Off-hair || off < n.best.Off+hair && at < n.best.At {
		n.best = Passage{At: at, Off: off}
	}
}
