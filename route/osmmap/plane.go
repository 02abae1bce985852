package osmmap

import (
	"math"

	"lastpump/route"

	"github.com/paulmach/orb"
)

// A flat is the plane that touches the earth at a place, in metres east and north of
// it. Within a few kilometres what is measured on it is right to a thousandth. (A line of
// route is seen in a projection that is exact all around the earth; that takes four
// sines for a step, of which the matching looks at millions.)
type flat struct {
	origin orb.Point
	east   float64 // metres per degree of longitude there
}

func flatAt(p orb.Point) flat { return flat{p, metresPerDegree * math.Cos(p[1]*degree)} }

// see gives where a place lies on the plane.
func (f flat) see(p orb.Point) (x, y float64) {
	lon := p[0] - f.origin[0]
	if lon > 180 {
		lon -= 360
	} else if lon < -180 {
		lon += 360
	}
	return lon * f.east, (p[1] - f.origin[1]) * metresPerDegree
}

// ring gives an outline on the plane.
func (f flat) ring(points []orb.Point) orb.Ring {
	out := make(orb.Ring, len(points))
	for i, p := range points {
		out[i][0], out[i][1] = f.see(p)
	}
	return out
}

// A foot is where a straight comes closest to the origin of a plane.
type foot struct {
	share float64 // of the way along the straight
	off   float64 // metres
}

func (f flat) toSegment(a, b orb.Point) foot {
	ax, ay := f.see(a)
	bx, by := f.see(b)
	dx, dy := bx-ax, by-ay
	share := 0.0
	if d := dx*dx + dy*dy; d > 0 {
		share = min(1, max(0, -(ax*dx+ay*dy)/d))
	}
	return foot{share, math.Hypot(ax+share*dx, ay+share*dy)}
}

func metres(a, b orb.Point) float64 { return float64(route.Distance(a, b)) }
