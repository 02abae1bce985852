// Package earth holds places and points on the ground and the lengths between them. Its
// types are those of package route, which gives them their names there.
package earth

import (
	"encoding/json"

	"github.com/paulmach/orb"
)

// Metres is a length on the ground, in metres.
type Metres float64

// Kilometres gives the length in kilometres.
func (m Metres) Kilometres() float64 { return float64(m) / 1000 }

// Hair is by how much one length has to be less than another to count as less: rounding
// would tell them apart otherwise. 6 µm on the ground.
const Hair = HairAngle * Radius

// HairAngle is the same seen from the middle of the Earth, in radians.
const HairAngle = 1e-12

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

// A Span is a stretch of line, by the distances along it.
type Span struct{ From, To Metres }

// MarshalJSON writes a span as its two ends.
func (s Span) MarshalJSON() ([]byte, error) { return json.Marshal([2]Metres{s.From, s.To}) }

// UnmarshalJSON reads what MarshalJSON writes.
func (s *Span) UnmarshalJSON(text []byte) error {
	var ends [2]Metres
	err := json.Unmarshal(text, &ends)
	s.From, s.To = ends[0], ends[1]
	return err
}

// Part gives a stretch of a span by shares of its length.
func (s Span) Part(from, to float64) Span {
	d := s.To - s.From
	return Span{s.From + Metres(from)*d, s.From + Metres(to)*d}
}
