package choose

import (
	"math"
	"slices"

	"lastpump/fuel/trip"
)

// A weight is what speaks against a part of a ride: the guards that it breaks, then the
// parts of a [trip.Worth] in their order. Weights of parts add up to that of the ride.
type weight [parts]int64

// The parts of a weight.
const (
	broken   = iota // guards
	short           // litres
	stranded        // places
	tight           // legs
	bare            // places
	missing         // litres × octane
	unsure          // fills
	fills
	shut // fills
	detour
	parts
)

// worst is worse than any ride.
var worst = weight{math.MaxInt64 / 4}

func (w weight) plus(o weight) weight {
	for i := range w {
		w[i] += o[i]
	}
	return w
}

// compare orders weights, the better first.
func (w weight) compare(o weight) int { return slices.Compare(w[:], o[:]) }

// weightOf gives the weight of a ride that breaks so many guards.
func weightOf(w trip.Worth, guards int64) weight {
	return weight{guards, w.Short, w.Stranded, w.Tight, w.Bare, w.Octane, w.Unsure, w.Fills, w.Shut, w.Detour}
}

// worth gives a weight as a worth, with the cans of a trip.
func (w weight) worth(t *trip.Trip) trip.Worth {
	return trip.Worth{Short: w[short], Stranded: w[stranded], Tight: w[tight], Bare: w[bare], Cans: t.Carried,
		Octane: w[missing], Unsure: w[unsure], Fills: w[fills], Shut: w[shut], Detour: w[detour]}
}
