package trip

import (
	"cmp"
	"slices"

	"lastpump/fuel/leg"
	"lastpump/fuel/stop"
	"lastpump/route"
)

// A Sighting is one passing of one stop.
type Sighting struct {
	Stop int // into Inputs.Stops
	route.Passage
}

// detourOverStraight is how much longer the way to a stop is than the straight: our
// estimate.
const detourOverStraight = 1.3

// Detour gives the way there and back from the line to where the sighting's stop is; 0
// for a stop on the line.
func (g Sighting) Detour() route.Metres {
	if g.Off <= stop.OnLine {
		return 0
	}
	return 2 * detourOverStraight * g.Off
}

// End gives where a leg over the sighting's stop begins or ends.
func (g Sighting) End() leg.End { return leg.End{At: g.At, Half: g.Detour() / 2} }

// placeReach is how far along the line the stops of one place lie from its first: one
// village, one power line, one delivery.
const placeReach route.Metres = 3000

// Together tells whether two places along the line are so near that stops there are one
// place.
func Together(a, b route.Metres) bool { return max(a-b, b-a) <= placeReach }

// InOrder sorts sightings as they come along the line.
func InOrder(sightings []Sighting) {
	slices.SortStableFunc(sightings, func(a, b Sighting) int { return cmp.Compare(a.At, b.At) })
}

// moved gives sightings at their new places along a line.
func moved(sightings []Sighting, to func(route.Metres) route.Metres) []Sighting {
	if sightings == nil {
		return nil
	}
	out := make([]Sighting, len(sightings))
	for i, g := range sightings {
		g.At = to(g.At)
		out[i] = g
	}
	InOrder(out)
	return out
}
