package earth

import (
	"math"

	"github.com/paulmach/orb"
)

// Radius is the mean radius (2a+b)/3 of the WGS84 ellipsoid, rounded as
// published: Moritz, Geodetic Reference System 1980, Journal of Geodesy 74
// (2000), p. 131. On a sphere of that radius a distance lies within 0.56 % of
// the one on the ellipsoid (worst: north to south at the equator); at 65° N it
// reads 0.3 to 0.4 % short.
const Radius Metres = 6371008.8

// Degree is a degree in radians.
const Degree = math.Pi / 180

// Distance is the length of the great circle between two places, by the
// haversine formula (Sinnott 1984, as in the GIS FAQ, Q5.1). It works across the
// antimeridian and at the poles.
func Distance(a, b orb.Point) Metres {
	return Haversine(a, b, math.Cos(a[1]*Degree), math.Cos(b[1]*Degree))
}

// Haversine is Distance for a caller that keeps the cosines of the latitudes,
// which a walk along a line needs twice each.
func Haversine(a, b orb.Point, cosA, cosB float64) Metres {
	x, y := (b[1]-a[1])*(Degree/2), (b[0]-a[0])*(Degree/2)
	if math.Abs(x) < short && math.Abs(y) < short {
		s, t := sinShort(x), sinShort(y)
		return 2 * Radius * Metres(asinShort(math.Sqrt(s*s+cosA*cosB*t*t)))
	}
	s, t := math.Sin(x), math.Sin(y)
	return 2 * Radius * Metres(math.Asin(min(1, math.Sqrt(s*s+cosA*cosB*t*t))))
}

// short is the angle up to which the first terms of the series give sine and
// arcsine to the last bit: 0.0005 rad, steps of 6 km. Nearly all the steps of a
// line are shorter, and a million of them take a third of the time.
const short = 0.0005

func sinShort(x float64) float64  { return x * (1 - x*x/6) }
func asinShort(x float64) float64 { return x * (1 + x*x*(1.0/6+x*x*(3.0/40))) }

// Between gives the place a share of the way from a to b, straight in degrees:
// good for the steps of a line, which are short. It crosses the antimeridian
// where that is the shorter way.
func Between(a, b orb.Point, share float64) orb.Point {
	lon := a[0] + share*Wrap(b[0]-a[0])
	return orb.Point{Wrap(lon), a[1] + share*(b[1]-a[1])}
}

// OnCircle gives the place a share of the way from a to b on the great circle, so that
// the two parts of the way are together as long as it was.
//
//	Williams, Aviation Formulary, "Intermediate points on a great circle".
func OnCircle(a, b orb.Point, share float64) orb.Point {
	d := float64(Distance(a, b) / Radius)
	if d < 1e-9 || d > 3 { // 6 mm; at the antipodes there is no one way
		return Between(a, b, share)
	}
	from, to := math.Sin((1-share)*d)/math.Sin(d), math.Sin(share*d)/math.Sin(d)
	sinA, cosA := math.Sincos(a[1] * Degree)
	sinB, cosB := math.Sincos(b[1] * Degree)
	eastA, northA := math.Sincos(a[0] * Degree)
	eastB, northB := math.Sincos(b[0] * Degree)
	x := from*cosA*northA + to*cosB*northB
	y := from*cosA*eastA + to*cosB*eastB
	z := from*sinA + to*sinB
	return orb.Point{math.Atan2(y, x) / Degree, math.Atan2(z, math.Hypot(x, y)) / Degree}
}

// A Bearing is a direction in degrees from true north by the east, from 0 to under 360.
type Bearing float64

// Toward is the bearing in which a great circle sets out from a to b, on a sphere; 0 where
// they are one place.
//
//	Williams, Aviation Formulary, "Course between points".
func Toward(a, b orb.Point) Bearing {
	sinA, cosA := math.Sincos(a[1] * Degree)
	sinB, cosB := math.Sincos(b[1] * Degree)
	east, north := math.Sincos((b[0] - a[0]) * Degree)
	return Bearing(math.Atan2(east*cosB, cosA*sinB-sinA*cosB*north) / Degree).turned(0)
}

// turned gives a bearing so many degrees further round.
func (b Bearing) turned(by float64) Bearing {
	d := math.Mod(float64(b)+by, 360)
	if d < 0 {
		d += 360
	}
	if d >= 360 { // what is a hair under 0 is 360 by rounding
		d = 0
	}
	return Bearing(d)
}

// From gives how far round a bearing lies from another, over −180 to 180; to the right is
// positive.
func (b Bearing) From(o Bearing) float64 {
	d := float64(b.turned(-float64(o)))
	if d > 180 {
		d -= 360
	}
	return d
}

// Wrap brings a longitude or a difference of two into −180 to 180.
func Wrap(lon float64) float64 {
	switch {
	case lon > 180:
		return lon - 360
	case lon < -180:
		return lon + 360
	}
	return lon
}
