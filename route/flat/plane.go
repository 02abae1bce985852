// Package flat takes the earth for flat about a place: [Plane] to measure on within a
// few kilometres, [Grid] to put the ground into cells, and [Zone], the ground about a
// line as a set of such cells.
//
// # Limits
//
// What is measured on a plane is right to a thousandth within a few kilometres, up to
// 85° north and south. (A line of route is seen in a projection that is exact all
// around the earth; that takes four sines for a step, of which the matching of roads
// looks at millions.)
package flat

import (
	"math"

	"lastpump/route"

	"github.com/paulmach/orb"
)

const degree = math.Pi / 180

// MetresPerDegree of latitude, and of longitude at the equator.
const MetresPerDegree = float64(route.EarthRadius) * degree

// A Plane touches the earth at a place; on it are metres east and north of there.
type Plane struct {
	origin orb.Point
	East   float64 // metres per degree of longitude there
}

// At gives the plane at a place.
func At(p orb.Point) Plane { return Plane{p, MetresPerDegree * math.Cos(p[1]*degree)} }

// See gives where a place lies on the plane.
func (f Plane) See(p orb.Point) (x, y float64) {
	lon := p[0] - f.origin[0]
	if lon > 180 {
		lon -= 360
	} else if lon < -180 {
		lon += 360
	}
	return lon * f.East, (p[1] - f.origin[1]) * MetresPerDegree
}

// Ring gives an outline on the plane.
func (f Plane) Ring(points []orb.Point) orb.Ring {
	out := make(orb.Ring, len(points))
	for i, p := range points {
		out[i][0], out[i][1] = f.See(p)
	}
	return out
}

// A Foot is where a straight comes closest to the origin of a plane.
type Foot struct {
	Share float64 // of the way along the straight, 0 to 1
	Off   float64 // metres
}

// Foot finds where the straight from a to b comes closest to the origin.
func (f Plane) Foot(a, b orb.Point) Foot {
	ax, ay := f.See(a)
	bx, by := f.See(b)
	dx, dy := bx-ax, by-ay
	share := 0.0
	if d := dx*dx + dy*dy; d > 0 {
		share = min(1, max(0, -(ax*dx+ay*dy)/d))
	}
	return Foot{share, math.Hypot(ax+share*dx, ay+share*dy)}
}
