package near

import (
	"math"

	"github.com/paulmach/orb"

	"lastpump/route/internal/earth"
)

// A box bounds places in degrees: longitude, latitude. Where the places cross the
// antimeridian it reaches past 180 degrees rather than around the earth.
type box struct{ lo, hi [2]float64 }

// boxAround bounds points that follow each other.
func boxAround(pts []orb.Point) box {
	b := box{pts[0], pts[0]}
	lon := pts[0][0]
	for i := 1; i < len(pts); i++ {
		lon += earth.Wrap(pts[i][0] - pts[i-1][0])
		b.lo = [2]float64{min(b.lo[0], lon), min(b.lo[1], pts[i][1])}
		b.hi = [2]float64{max(b.hi[0], lon), max(b.hi[1], pts[i][1])}
	}
	// A great circle between two points bulges towards the pole.
	bulge := (b.hi[0] - b.lo[0]) * (b.hi[0] - b.lo[0]) * earth.Degree / 8
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

// between gives bounds on the distance from a place to any place in the box,
// good for boxes within 100 km and away from the poles; else they say nothing.
func (b box) between(p orb.Point) (least, most earth.Metres) {
	near, far := b.offLon(p[0])
	top := max(math.Abs(b.lo[1]), math.Abs(b.hi[1]), math.Abs(p[1]))
	if top > 80 || far > 5 {
		return 0, earth.Metres(math.Inf(1))
	}
	const flat = 0.995 // the earth is not, by less than that
	nearLat, farLat := max(b.lo[1]-p[1], 0, p[1]-b.hi[1]), max(b.hi[1]-p[1], p[1]-b.lo[1])
	scale := earth.Radius * earth.Degree
	pole := math.Copysign(1, p[1])
	bottom := max(0, min(b.lo[1]*pole, b.hi[1]*pole, p[1]*pole)) // where meridians lie farthest apart
	return scale * flat * earth.Metres(math.Hypot(nearLat, near*math.Cos(top*earth.Degree))),
		scale / flat * earth.Metres(math.Hypot(farLat, far*math.Cos(bottom*earth.Degree)))
}

// turns are by how much a longitude may differ and mean the same.
var turns = []float64{-360, 0, 360}
