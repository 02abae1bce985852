package near

import (
	"math"

	"github.com/paulmach/orb"

	"lastpump/route/internal/earth"
)

// An eye sees the ground from one place in the gnomonic projection, in which
// great circles are straight and what is nearest stays nearest.
type eye struct {
	lon, lat, sin, cos float64
}

// A sight is where a point appears; behind where it lies so far round the earth
// that it does not.
type sight struct {
	x, y   float64
	behind bool
}

func newEye(p orb.Point) eye {
	s, c := math.Sincos(p[1] * earth.Degree)
	return eye{p[0], p[1], s, c}
}

// plane turns a distance from the eye on the ground into one in the projection.
func (e eye) plane(m earth.Metres) float64 { return math.Tan(float64(m / earth.Radius)) }

func (e eye) see(p orb.Point) sight {
	s, c := math.Sincos(p[1] * earth.Degree)
	ds, dc := math.Sincos((p[0] - e.lon) * earth.Degree)
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
