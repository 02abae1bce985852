package route

import (
	"github.com/paulmach/orb"

	"lastpump/route/internal/earth"
)

type (
	// Metres is a length on the ground, in metres; its method Kilometres gives it in
	// kilometres.
	Metres = earth.Metres

	// A Bearing is a direction in degrees from true north by the east, from 0 to under 360.
	Bearing = earth.Bearing

	// A Point is a place on the ground, an [orb.Point] in WGS84 degrees, longitude first,
	// with its elevation Ele (metres above the geoid, meaningless unless HasEle) and its
	// Time (seconds since 1970 UTC, meaningless unless HasTime) where the file gives them.
	Point = earth.Point
)

// Kilometres makes a length from kilometres.
func Kilometres(km float64) Metres { return Metres(km * 1000) }

// EarthRadius is the mean radius (2a+b)/3 of the WGS84 ellipsoid, rounded as published
// [2]. On a sphere of that radius a distance lies within 0.56 % of the one on the
// ellipsoid (worst: north to south at the equator); at 65° N it reads 0.3 to 0.4 % short.
const EarthRadius = earth.Radius

// Distance is the length of the great circle between two places, by the haversine
// formula [1]. It works across the antimeridian and at the poles.
func Distance(a, b orb.Point) Metres { return earth.Distance(a, b) }

// Between gives the place a share of the way from a to b, straight in degrees: good for
// the steps of a line, which are short. It crosses the antimeridian where that is the
// shorter way.
func Between(a, b orb.Point, share float64) orb.Point { return earth.Between(a, b, share) }
