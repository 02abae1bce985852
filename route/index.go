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
	tree   *rtree.RTreeG[int] // box → number of the chunk
	boxes  []box
	broken []bool // chunks with a gap in them
}

const chunkSteps = 32

func newIndex(l *Line) index {
	x := index{tree: new(rtree.RTreeG[int])}
	for c := 0; c*chunkSteps < len(l.pts)-1; c++ {
		first, last := l.chunkEnds(c)
		b := boxAround(l.pts[first : last+1])
		x.tree.Insert(b.lo, b.hi, c)
		x.boxes = append(x.boxes, b)
		x.broken = append(x.broken, false)
		l.chunk(c, func(_ int, gap bool) { x.broken[c] = x.broken[c] || gap })
	}
	return x
}

// chunkEnds gives the points between which the steps of a chunk lie.
func (l *Line) chunkEnds(c int) (first, last int) {
	first = c * chunkSteps
	return first, min(first+chunkSteps, len(l.pts)-1)
}

// chunk calls f with each step of a chunk and whether it is a gap.
func (l *Line) chunk(c int, f func(step int, gap bool)) {
	first, last := l.chunkEnds(c)
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

// within gives the chunks whose box comes within a radius of a place, in order.
func (x index) within(p orb.Point, radius Metres) []int {
	dLat := float64(radius/EarthRadius) / degree * 1.001
	dLon := 360.0
	if top := math.Abs(p[1]) + dLat; top < 89 {
		dLon = dLat / math.Cos(top*degree)
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

// turns are by how much a longitude may differ and mean the same.
var turns = []float64{-360, 0, 360}

// A box bounds places in degrees: longitude, latitude. Where the places cross the
// antimeridian it reaches past 180 degrees rather than around the earth.
type box struct{ lo, hi [2]float64 }

// boxAround bounds points that follow each other.
func boxAround(pts []orb.Point) box {
	b := box{pts[0], pts[0]}
	lon := pts[0][0]
	for i := 1; i < len(pts); i++ {
		lon += wrap(pts[i][0] - pts[i-1][0])
		b.lo = [2]float64{min(b.lo[0], lon), min(b.lo[1], pts[i][1])}
		b.hi = [2]float64{max(b.hi[0], lon), max(b.hi[1], pts[i][1])}
	}
	// A great circle between two points bulges towards the pole.
	bulge := (b.hi[0] - b.lo[0]) * (b.hi[0] - b.lo[0]) * degree / 8
	b.lo[1] -= bulge
	b.hi[1] += bulge
	return b
}

// offLon gives how far a longitude lies outside the box, and how far from its
// farther edge, in degrees.
func (b box) offLon(lon float64) (near, far float64) {
	near = math.Inf(1)
	for _, turn := range turns {
		if d := max(b.lo[0]-lon-turn, 0, lon+turn-b.hi[0]); d < near {
			near, far = d, max(b.hi[0]-lon-turn, lon+turn-b.lo[0])
		}
	}
	return near, far
}

// distance gives no more than the distance from a place to the box.
func (b box) distance(p orb.Point) Metres {
	dLon, _ := b.offLon(p[0])
	if dLon == 0 {
		return EarthRadius * Metres(max(b.lo[1]-p[1], 0, p[1]-b.hi[1])*degree)
	}
	if dLon >= 90 { // over a quarter of the earth: not worth an estimate
		return 0
	}
	// The nearest point of a meridian lies where the great circle meets it at a
	// right angle: tan φ' = tan φ / cos Δλ; on the edge of the box it may lie
	// beyond the corner.
	foot := math.Atan(math.Tan(p[1]*degree)/math.Cos(dLon*degree)) / degree
	foot = min(max(foot, b.lo[1]), b.hi[1])
	return Distance(p, orb.Point{p[0] + dLon, foot})
}

// between gives bounds on the distance from a place to any place in the box,
// good for boxes within 100 km and away from the poles; else they say nothing.
func (b box) between(p orb.Point) (least, most Metres) {
	near, far := b.offLon(p[0])
	top := max(math.Abs(b.lo[1]), math.Abs(b.hi[1]), math.Abs(p[1]))
	if top > 80 || far > 5 {
		return 0, Metres(math.Inf(1))
	}
	const flat = 0.995 // the earth is not, by less than that
	nearLat, farLat := max(b.lo[1]-p[1], 0, p[1]-b.hi[1]), max(b.hi[1]-p[1], p[1]-b.lo[1])
	scale := EarthRadius * degree
	pole := math.Copysign(1, p[1])
	bottom := max(0, min(b.lo[1]*pole, b.hi[1]*pole, p[1]*pole)) // where meridians lie farthest apart
	return scale * flat * Metres(math.Hypot(nearLat, near*math.Cos(top*degree))),
		scale / flat * Metres(math.Hypot(farLat, far*math.Cos(bottom*degree)))
}
