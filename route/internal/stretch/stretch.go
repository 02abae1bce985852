// Package stretch estimates from a line alone how much longer the ride is than it: a drawn
// or thinned line cuts every bend. Start with [Of].
package stretch

import (
	"github.com/paulmach/orb"

	"lastpump/route/internal/earth"
)

// An Estimate is the stretch of one segment of 200 points or more, or of all the
// shorter ones together.
type Estimate struct {
	Method Method
	Factor float64
	Low    float64      // the same for the low figure, never under 1
	High   float64      // and for the high one
	Error  float64      // as a share, kept nine times in ten: 0.01 is 1 %
	Step   earth.Metres // mean
	Length earth.Metres
	Pooled bool // the shorter segments together
	Coarse bool // over 2 km from point to point, and not a shape that was simplified
}

// A Method is how a stretch was estimated, as records of a line have it.
type Method string

// The methods, our own; how well they do is in the package's tests.
const (
	EvenlySpaced    Method = "evenly-spaced"    // every second point left out
	FromTable       Method = "from-table"       // of recorded rides, for evenly spaced points
	ShapeSimplified Method = "shape-simplified" // each chord taken as an arc
)

const (
	exactBelow  earth.Metres = 10    // evenly spaced: the line is the ride
	tableFrom   earth.Metres = 500   // beyond it halving the points tells too little
	coarseFrom  earth.Metres = 2000  // the answer says so
	refusedFrom earth.Metres = 10000 // no estimate
	largestTurn              = 100 * earth.Degree
)

// A Line is points and the distances along them, and which of the points count: by their
// indices, in strands that are not joined, without those that repeat the one before.
type Line struct {
	Points  []orb.Point
	At      []earth.Metres
	Strands [][]int32
}

// Of estimates the stretch of a line whose shape is known. ok is false for one that is
// drawn too coarsely, evenly spaced with over 10 km from point to point; then the step
// alone is known.
//
// The shape chooses between the two estimators. With over 500 m from point to point the
// table of the even ones knows only what rides are like, so the larger of the two counts.
// No estimate exceeds what nine recorded rides in ten have at that step.
func Of(l Line, s Shape) (e Estimate, ok bool) {
	e = Estimate{Factor: 1, Low: 1, High: 1, Step: s.Mean, Length: s.Length}
	if !s.Simplified && s.Mean > refusedFrom {
		return e, false
	}
	if !s.Simplified {
		e = l.evenly(e)
	}
	if s.Simplified || s.Mean > tableFrom {
		if arcs := l.arcs(); s.Simplified || arcs > e.Factor {
			e.Method, e.Factor, e.Error = ShapeSimplified, arcs, max(e.Error, arcError(s.Tolerance()))
		}
	}
	_, most := Tabled(s.Mean)
	e.Factor = min(e.Factor, most)
	e.Low, e.High = max(1, e.Factor*(1-e.Error)), e.Factor*(1+e.Error)
	if e.Coarse = !s.Simplified && s.Mean > coarseFrom; e.Coarse {
		e.High = max(e.High, most)
	}
	return e, true
}
