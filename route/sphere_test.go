package route_test

import (
	"math"

	"github.com/paulmach/orb"
)

// ahead gives the place so many metres from another on a course, in degrees from
// north over east: the first problem of geodesy, on the sphere.
//
//	sin φ2 = sin φ1 cos δ + cos φ1 sin δ cos θ
func ahead(p orb.Point, course, metres float64) orb.Point {
	sinD, cosD := math.Sincos(metres / earth)
	sinC, cosC := math.Sincos(course * rad)
	sinLat, cosLat := math.Sincos(p[1] * rad)
	sin := sinLat*cosD + cosLat*sinD*cosC
	lon := p[0] + math.Atan2(sinC*sinD*cosLat, cosD-sinLat*sin)/rad
	return orb.Point{math.Mod(lon+540, 360) - 180, math.Asin(sin) / rad}
}
