package route

import "github.com/paulmach/orb"

// Metres is a length on the ground, in metres.
type Metres float64

// Kilometres gives the length in kilometres.
func (m Metres) Kilometres() float64 { return float64(m) / 1000 }

// Kilometres makes a length from kilometres.
func Kilometres(km float64) Metres { return Metres(km * 1000) }

// A Point is a place on the ground (WGS84 degrees, longitude first, as in
// [orb.Point]) with its elevation and its time where the file gives them. It is
// kept at 32 bytes: a long ride has a million.
type Point struct {
	orb.Point
	Ele     float64 // metres above the geoid; meaningless unless HasEle
	Time    uint32  // seconds since 1970 UTC, good up to 2106; meaningless unless HasTime
	HasEle  bool    // false where the file is silent: absent is not sea level
	HasTime bool
}
