package near

import (
	"math"
	"slices"

	"github.com/paulmach/orb"

	"lastpump/route/internal/earth"
)

// A Passage is one passing of the line by a place.
type Passage struct {
	At  earth.Metres // along the line, where it comes closest, the first time if it does so twice
	Off earth.Metres // from there to the place, straight
}

// ApartAlong is how far apart along the line two passages of a place lie at the least; the
// line goes beyond twice the corridor between them, too.
const ApartAlong earth.Metres = 5000

// Passages gives each passing of the line within a corridor of a place, in order
// along the line. Nobody knows where a gap was ridden, so none passes anything.
func (x *Index) Passages(p orb.Point, corridor earth.Metres) []Passage {
	chunks := x.within(p, 2*corridor)
	if len(chunks) == 0 {
		return nil
	}
	eye := newEye(p)
	bare := nearness{corridor: eye.plane(corridor), wide: eye.plane(2 * corridor), index: x}
	near := bare
	near.bounds = newBounds(x, p, corridor, chunks)
	near.chunks(chunks, eye)
	surely := eye.plane(earth.Radius * earth.Metres(2*math.Asin(near.surely/2)))
	if slices.ContainsFunc(near.approaches, func(a approach) bool { return a.off > surely+earth.HairAngle }) {
		// What was passed over may be nearest of a passage that is farther off than another.
		near = bare
		near.chunks(chunks, eye)
	}
	return near.passages()
}

// bounds tell of most of the line near a place at once that it is within the corridor and
// nowhere nearest, or not within twice the corridor. They are distances in the space of the
// balls.
type bounds struct {
	balls          []ball // of a few steps each; nil to look at every step
	x, y, z        float64
	inside, beyond float64 // surely in the corridor, surely not within twice of it
	surely         float64 // the line comes at least so near
}

func newBounds(x *Index, p orb.Point, corridor earth.Metres, chunks []int) bounds {
	b := bounds{balls: x.balls().few, surely: 2}
	b.inside, b.beyond = straight(corridor)-rounding, straight(2*corridor)+rounding
	b.x, b.y, b.z = vector(p)
	for _, c := range chunks {
		if x.broken[c] {
			continue
		}
		first, last := x.chunkEnds(c)
		for i := first; i < last; i += fewSteps {
			ball := b.balls[i/fewSteps]
			b.surely = min(b.surely, ball.from(b.x, b.y, b.z)+float64(ball.r)+rounding)
		}
	}
	return b
}

// tell says of a few steps, from one that balls begin at, whether they are too far to
// matter, or all in the corridor and not nearest.
func (b *bounds) tell(step int) (far, within bool) {
	ball := b.balls[step/fewSteps]
	middle, r := ball.from(b.x, b.y, b.z), float64(ball.r)
	const hair = 2 * float64(earth.Hair/earth.Radius)
	return middle-r > b.beyond, middle+r < b.inside && middle-r > b.surely+hair
}

// A nearness gathers the stretches of line near a place, step by step along it.
type nearness struct {
	index          *Index
	corridor, wide float64 // in the projection
	approaches     []approach
	wideTo         earth.Metres // end of the stretch within the wide corridor
	wideNo         int
	next           int   // the point up to which was looked, 0 for none
	sight          sight // of it
	bounds
}

// chunks deals with chunks in their order.
func (n *nearness) chunks(chunks []int, eye eye) {
	for _, c := range chunks {
		least, most := n.index.boxes[c].between(orb.Point{eye.lon, eye.lat})
		if n.index.broken[c] || !n.whole(c, eye, least, most) {
			n.steps(c, eye)
		}
	}
}

type approach struct {
	earth.Span
	wide int          // number of the stretch within twice the corridor that it lies in
	at   earth.Metres // where it comes closest
	off  float64      // and how close, in the projection
}

// whole deals with a chunk at once where bounds on its distance tell all there is
// to know: it is too far, or all of it is near and none of it nearest. It tells
// whether they did.
func (n *nearness) whole(c int, eye eye, least, most earth.Metres) bool {
	first, last := n.index.chunkEnds(c)
	all := earth.Span{From: n.index.at[first], To: n.index.at[last]}
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
	k := len(n.approaches) - 1
	if k < 0 || from <= n.approaches[k].off {
		return false
	}
	n.widen(all)
	n.add(approach{Span: all, wide: n.wideNo, off: math.Inf(1)})
	return n.approaches[k].To == all.To // else it begins a stretch, and its nearest is wanted
}

// steps deals with a chunk a few steps after the others.
func (n *nearness) steps(c int, eye eye) {
	first, last := n.index.chunkEnds(c)
	if n.balls == nil || n.index.broken[c] {
		n.each(first, last, eye)
		return
	}
	for i := first; i < last; i += fewSteps {
		to := min(i+fewSteps, last)
		switch far, within := n.tell(i); {
		case far:
		case within:
			all := earth.Span{From: n.index.at[i], To: n.index.at[to]}
			n.widen(all)
			n.add(approach{Span: all, wide: n.wideNo, off: math.Inf(1)})
		default:
			n.each(i, to, eye)
		}
	}
}

// each deals with steps one by one.
func (n *nearness) each(first, last int, eye eye) {
	a := n.sight
	if n.next != first || first == 0 {
		a = eye.see(n.index.pts[first])
	}
	n.index.steps(first, last, func(i int, gap *earth.Span) {
		b := eye.see(n.index.pts[i+1])
		n.step(i, gap, a, b)
		a = b
	})
	n.sight, n.next = a, last
}

// widen notes a stretch within twice the corridor. Neighbours share a point;
// rounding may leave a earth.Hair between them.
func (n *nearness) widen(s earth.Span) {
	const rounding = 1e-3 // metres
	if n.wideNo == 0 || s.From > n.wideTo+rounding {
		n.wideNo++
	}
	n.wideTo = s.To
}

// step deals with one step. A gap is no part of the line, but its ends are, even
// where there is another gap on their other side.
func (n *nearness) step(i int, gap *earth.Span, a, b sight) {
	if a.behind || b.behind {
		return
	}
	at := earth.Span{From: n.index.at[i], To: n.index.at[i+1]}
	from, to, ok := inside(a, b, n.wide)
	if !ok {
		return
	}
	n.widen(at.Part(from, to))
	if gap == nil {
		n.passing(at, a, b)
		return
	}
	if at.From <= gap.From {
		n.passing(earth.Span{From: at.From, To: at.From}, a, a)
	}
	if at.To >= gap.To {
		n.passing(earth.Span{From: at.To, To: at.To}, b, b)
	}
}

// passing notes what of a straight from a to b lies within the corridor.
func (n *nearness) passing(at earth.Span, a, b sight) {
	from, to, ok := inside(a, b, n.corridor)
	if !ok {
		return
	}
	t := closest(a, b)
	x, y := a.x+t*(b.x-a.x), a.y+t*(b.y-a.y)
	n.add(approach{Span: at.Part(from, to), wide: n.wideNo, at: at.Part(t, t).From, off: math.Sqrt(x*x + y*y)})
}

// add joins a stretch to the one before unless they are two passages.
func (n *nearness) add(s approach) {
	if k := len(n.approaches) - 1; k >= 0 {
		last := &n.approaches[k]
		if s.wide == last.wide || s.From-last.To < ApartAlong {
			last.To, last.wide = s.To, s.wide
			if s.off < last.off-earth.HairAngle {
				last.at, last.off = s.at, s.off
			}
			return
		}
	}
	n.approaches = append(n.approaches, s)
}

func (n *nearness) passages() []Passage {
	var out []Passage
	for _, s := range n.approaches {
		out = append(out, Passage{At: s.at, Off: earth.Metres(math.Atan(s.off)) * earth.Radius})
	}
	return out
}
