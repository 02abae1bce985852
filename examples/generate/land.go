package main

import (
	"math"

	"github.com/paulmach/orb"
)

// earth is the mean radius R1 of the GRS 80 ellipsoid, in metres.
//
//	H. Moritz, "Geodetic Reference System 1980", J. Geodesy 74 (2000), 6 371 008.7714 m.
const earth = 6371008.8

// A spot is a place on the flat map, in metres east and north of its middle.
type spot struct{ x, y float64 }

func (a spot) to(b spot) (bearing, distance float64) {
	return math.Atan2(b.y-a.y, b.x-a.x), math.Hypot(b.x-a.x, b.y-a.y)
}

// ahead is the spot d metres off in a direction (radians, from east to north).
func (a spot) ahead(bearing, d float64) spot {
	sin, cos := math.Sincos(bearing)
	return spot{a.x + d*cos, a.y + d*sin}
}

// A land is a country on a flat map. Its relief is the same everywhere in
// kind, not in strength: rough country rises as ridges, the rest rolls.
type land struct {
	*noise
	middle orb.Point // lon, lat of the map's middle
	base   float64   // metres above the sea of the low plains
	relief float64   // metres, about from the plains to the ridges
	wave   float64   // metres, width of the largest hills
}

// octaves is how often the relief repeats itself at half the width and less
// than half the height: down to swells of some 200 m, as a road rides them.
const octaves = 8

// height is metres above the sea.
func (l *land) height(p spot) float64 {
	rough := l.rough(p)
	h, amp, wave := 0.0, 1.0, l.wave
	for o := range octaves {
		shift := 37.7 * float64(o) // no two octaves share a lattice point
		n := l.at(p.x/wave+shift, p.y/wave-shift)
		h += amp * mix(n, 0.9-2*math.Abs(n), rough)
		amp, wave = 0.46*amp, wave/2
	}
	return l.base + l.relief*(0.5+0.5*h)*mix(0.4, 1, rough)
}

// rough is how mountainous the country is about a spot, 0 to 1.
func (l *land) rough(p spot) float64 {
	n := l.at(p.x/(2.5*l.wave)-91.3, p.y/(2.5*l.wave)+17.9)
	return fade(min(max(0.5+0.9*n, 0), 1))
}

// geo puts a spot on the globe, in degrees.
func (l *land) geo(p spot) orb.Point {
	const degree = earth * math.Pi / 180
	lat := l.middle.Lat() + p.y/degree
	lon := l.middle.Lon() + p.x/(degree*math.Cos(l.middle.Lat()*math.Pi/180))
	return orb.Point{lon, lat}
}

// kept is a spot on the globe as the files keep it: to five decimals, about a
// metre. Lengths that are taken of it are those of the files.
func (l *land) kept(p spot) orb.Point {
	g := l.geo(p)
	return orb.Point{round(g.Lon(), 1e5), round(g.Lat(), 1e5)}
}

func round(v, per float64) float64 { return math.Round(v*per) / per }

// haversine is the distance on the globe in metres.
func haversine(a, b orb.Point) float64 {
	const rad = math.Pi / 180
	dy, dx := math.Sin((b.Lat()-a.Lat())*rad/2), math.Sin((b.Lon()-a.Lon())*rad/2)
	h := dy*dy + math.Cos(a.Lat()*rad)*math.Cos(b.Lat()*rad)*dx*dx
	return 2 * earth * math.Asin(math.Sqrt(h))
}
