package route

import (
	"math"
	"slices"

	"github.com/paulmach/orb"
	"github.com/tidwall/rtree"
)

// An index finds the steps of a line near a place. It holds boxes around chunks
// of consecutive steps: one box a step would cost more to build than to search.
type index struct {
	tree *rtree.RTreeG[int] // box in degrees → number of the chunk
}

const chunkSteps = 64

func newIndex(pts []orb.Point) index {
	x := index{tree: new(rtree.RTreeG[int])}
	for c := 0; c*chunkSteps < len(pts)-1; c++ {
		first := c * chunkSteps
		last := min(first+chunkSteps, len(pts)-1)
		lo, hi := unwrappedBox(pts[first : last+1])
		x.tree.Insert(lo, hi, c)
	}
	return x
}

// unwrappedBox bounds points that follow each other. Where they cross the
// antimeridian the box reaches past 180 degrees rather than around the earth.
func unwrappedBox(pts []orb.Point) (lo, hi [2]float64) {
	lo, hi = pts[0], pts[0]
	lon := pts[0][0]
	for i := 1; i < len(pts); i++ {
		lon += wrap(pts[i][0] - pts[i-1][0])
		lo = [2]float64{min(lo[0], lon), min(lo[1], pts[i][1])}
		hi = [2]float64{max(hi[0], lon), max(hi[1], pts[i][1])}
	}
	// A great circle between two points bulges towards the pole.
	bulge := (hi[0] - lo[0]) * (hi[0] - lo[0]) * degree / 8
	return [2]float64{lo[0], lo[1] - bulge}, [2]float64{hi[0], hi[1] + bulge}
}

// within gives the chunks whose box comes within a radius of a place, in order.
func (x index) within(p orb.Point, radius Metres) []int {
	dLat := float64(radius/EarthRadius) / degree * 1.001
	dLon := 360.0
	if top := math.Abs(p[1]) + dLat; top < 89 {
		dLon = dLat / math.Cos(top*degree)
	}
	var chunks []int
	for _, turn := range []float64{-360, 0, 360} {
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

// A Passage is one passing of the line by a place.
type Passage struct {
	At  Metres // along the line, where it comes closest, the first time if it does so twice
	Off Metres // from there to the place, straight
}

// How two stretches of line near a place are told apart as two passages: the
// line goes beyond twice the corridor between them and they lie that far apart
// along it.
const apartAlong Metres = 5000

// Passages gives each passing of the line within a corridor of a place, in order
// along the line. Nobody knows where a gap was ridden, so none passes anything.
func (l *Line) Passages(p orb.Point, corridor Metres) []Passage {
	eye := newEye(p)
	near := nearness{corridor: eye.plane(corridor), wide: eye.plane(2 * corridor), line: l}
	for _, c := range l.index.within(p, 2*corridor) {
		l.chunk(c, func(i int, gap bool) {
			near.step(i, gap, eye.see(l.pts[i]), eye.see(l.pts[i+1]))
		})
	}
	return near.passages(p)
}

// chunk calls f with each step of a chunk and whether it is a gap.
func (l *Line) chunk(c int, f func(step int, gap bool)) {
	first := c * chunkSteps
	last := min(first+chunkSteps, len(l.pts)-1)
	k := l.pieceAt(l.at[first])
	for i := first; i < last; i++ {
		for k+1 < len(l.pieces) && l.pieces[k].to <= l.at[i] && l.at[i] < l.at[i+1] {
			k++
		}
		f(i, l.pieces[k].gap)
	}
}

func (l *Line) pieceAt(m Metres) int {
	k, _ := slices.BinarySearchFunc(l.pieces, m, func(p piece, m Metres) int {
		if p.to <= m {
			return -1
		}
		return 1
	})
	return min(k, len(l.pieces)-1)
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
	if d2 == 0 {
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
	wide int // number of the stretch within twice the corridor that it lies in
	best Passage
}

func (n *nearness) step(i int, gap bool, a, b sight) {
	if a.behind || b.behind {
		return
	}
	at, d := n.line.at[i], n.line.at[i+1]-n.line.at[i]
	from, to, ok := inside(a, b, n.wide)
	if !ok {
		return
	}
	// Neighbouring steps share a point; rounding may leave a hair between them.
	const hair = 1e-3 // metres
	if n.wideNo == 0 || at+Metres(from)*d > n.wideTo+hair {
		n.wideNo++
	}
	n.wideTo = at + Metres(to)*d
	if from, to, ok = inside(a, b, n.corridor); gap || !ok {
		return
	}
	s := nearStretch{span: span{at + Metres(from)*d, at + Metres(to)*d}, wide: n.wideNo}
	t := closest(a, b)
	x, y := a.x+t*(b.x-a.x), a.y+t*(b.y-a.y)
	s.best = Passage{At: at + Metres(t)*d, Off: Metres(math.Hypot(x, y))}
	n.add(s)
}

// add joins a stretch to the one before unless they are two passages.
func (n *nearness) add(s nearStretch) {
	if k := len(n.stretches) - 1; k >= 0 {
		last := &n.stretches[k]
		if s.wide == last.wide || s.from-last.to < apartAlong {
			last.to, last.wide = s.to, s.wide
			if s.best.Off < last.best.Off {
				last.best = s.best
			}
			return
		}
	}
	n.stretches = append(n.stretches, s)
}

func (n *nearness) passages(p orb.Point) []Passage {
	var out []Passage
	for _, s := range n.stretches {
		out = append(out, Passage{At: s.best.At, Off: Metres(math.Atan(float64(s.best.Off))) * EarthRadius})
	}
	return out
}

// Nearest gives where the line comes closest to a place between two positions
// along it, however far off, gaps left out. ok is false where there is no line
// but gaps between them.
func (l *Line) Nearest(p orb.Point, from, to Metres) (best Passage, ok bool) {
	eye := newEye(p)
	best.Off = Metres(math.Inf(1))
	l.index.tree.Nearby(
		func(lo, hi [2]float64, _ int, _ bool) float64 { return float64(boxDistance(p, lo, hi)) },
		func(_, _ [2]float64, c int, dist float64) bool {
			if Metres(dist) > best.Off {
				return false
			}
			l.chunk(c, func(i int, gap bool) {
				if !gap && l.at[i+1] >= from && l.at[i] <= to {
					best = l.closerStep(best, eye, p, i, from, to)
				}
			})
			return true
		})
	return best, !math.IsInf(float64(best.Off), 1)
}

// closerStep gives the better of best and the closest place of a step.
func (l *Line) closerStep(best Passage, eye eye, p orb.Point, i int, from, to Metres) Passage {
	a, b := eye.see(l.pts[i]), eye.see(l.pts[i+1])
	d := l.at[i+1] - l.at[i]
	t := 0.0
	if !a.behind && !b.behind {
		t = closest(a, b)
	}
	at := min(max(l.at[i]+Metres(t)*d, from), to)
	off := Distance(p, l.At(at))
	if off < best.Off || off == best.Off && at < best.At {
		return Passage{At: at, Off: off}
	}
	return best
}

// boxDistance gives no more than the distance from a place to a box in degrees.
func boxDistance(p orb.Point, lo, hi [2]float64) Metres {
	best := Metres(math.Inf(1))
	for _, turn := range []float64{-360, 0, 360} {
		best = min(best, boxDistanceAt(orb.Point{p[0] + turn, p[1]}, lo, hi))
	}
	return best
}

func boxDistanceAt(p orb.Point, lo, hi [2]float64) Metres {
	dLon := max(lo[0]-p[0], 0, p[0]-hi[0])
	if dLon == 0 {
		dLat := max(lo[1]-p[1], 0, p[1]-hi[1])
		return EarthRadius * Metres(dLat*degree)
	}
	if dLon >= 90 { // over a quarter of the earth: not worth an estimate
		return 0
	}
	// The nearest point of a meridian lies where the great circle meets it at a
	// right angle: tan φ' = tan φ / cos Δλ; on the edge of the box it may lie
	// beyond the corner.
	foot := math.Atan(math.Tan(p[1]*degree)/math.Cos(dLon*degree)) / degree
	foot = min(max(foot, lo[1]), hi[1])
	return Distance(p, orb.Point{p[0] + dLon, foot})
}
