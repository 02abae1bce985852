package sun

import (
	"math"
	"time"

	"github.com/paulmach/orb"
)

// Degrees is how high the centre of the sun stands over a flat horizon, without
// refraction: 90 overhead, negative under it.
type Degrees float64

// The altitudes that days are told by.
//
//	US Naval Observatory, "Rise, Set, and Twilight Definitions": 34' of refraction and
//	16' of half the disc; 6°.
const (
	Horizon Degrees = -0.833 // the upper edge is seen on the horizon: sunrise, sunset
	Civil   Degrees = -6     // enough light to see the ground by: civil dawn, civil dusk
)

// j2000 is the epoch of the formulas, 2000-01-01 12:00.
var j2000 = time.Date(2000, 1, 1, 12, 0, 0, 0, time.UTC)

// Altitude gives how high the sun stands at a place and an instant. Universal time is taken
// for terrestrial time: a minute of difference moves the sun by 0.0007° among the stars.
func Altitude(p orb.Point, t time.Time) Degrees {
	days := t.Sub(j2000).Hours() / 24
	dec, eq := declination(days / 36525)
	minutes := math.Mod(days+0.5, 1)*1440 + eq + 4*p.Lon()
	hour := (minutes/4 - 180) * math.Pi / 180
	lat := p.Lat() * math.Pi / 180
	sin := math.Sin(lat)*math.Sin(dec) + math.Cos(lat)*math.Cos(dec)*math.Cos(hour)
	return Degrees(math.Asin(min(1, max(-1, sin))) * 180 / math.Pi)
}

// declination gives the declination of the sun in radians, and the equation of time in
// minutes, for an instant in Julian centuries from J2000. The symbols are those of Meeus,
// the constants those of the NOAA spreadsheet.
func declination(T float64) (delta, eq float64) {
	const rad = math.Pi / 180
	L0 := (280.46646 + T*(36000.76983+T*0.0003032)) * rad // Meeus (25.2)
	M := (357.52911 + T*(35999.05029-T*0.0001537)) * rad  // (25.3)
	e := 0.016708634 - T*(0.000042037+T*0.0000001267)     // (25.4)
	C := (1.914602-T*(0.004817+T*0.000014))*math.Sin(M) + // p. 164
		(0.019993-T*0.000101)*math.Sin(2*M) + 0.000289*math.Sin(3*M)
	Omega := (125.04 - 1934.136*T) * rad
	lambda := L0 + (C-0.00569-0.00478*math.Sin(Omega))*rad                 // p. 164
	epsilon0 := 23 + (26+(21.448-T*(46.815+T*(0.00059-T*0.001813)))/60)/60 // (22.2)
	epsilon := (epsilon0 + 0.00256*math.Cos(Omega)) * rad                  // (25.8)
	delta = math.Asin(math.Sin(epsilon) * math.Sin(lambda))                // (25.7)
	y := math.Tan(epsilon/2) * math.Tan(epsilon/2)
	E := y*math.Sin(2*L0) - 2*e*math.Sin(M) + 4*e*y*math.Sin(M)*math.Cos(2*L0) - // (28.3)
		y*y/2*math.Sin(4*L0) - 5*e*e/4*math.Sin(2*M)
	return delta, 4 * E / rad
}
