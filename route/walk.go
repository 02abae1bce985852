package route

import (
	"iter"
	"slices"

	"github.com/paulmach/orb"
)

// A Vertex is a point of the line.
type Vertex struct {
	At       Metres // along the line
	Point    orb.Point
	AfterGap bool // nothing is known of the way to it from the one before
}

// Vertices walks along the line, point by point.
func (l *Line) Vertices() iter.Seq[Vertex] {
	return func(yield func(Vertex) bool) {
		if len(l.pts) == 0 || !yield(Vertex{At: l.at[0], Point: l.pts[0]}) {
			return
		}
		k := 0
		for i := range len(l.pts) - 1 {
			for k+1 < len(l.pieces) && l.pieces[k].to <= l.at[i] && l.at[i] < l.at[i+1] {
				k++
			}
			if !yield(Vertex{At: l.at[i+1], Point: l.pts[i+1], AfterGap: l.pieces[k].gap}) {
				return
			}
		}
	}
}

// FileAt gives the kilometre of the file as given, with all that was left out of
// it counted, at a place of a line that is not arranged otherwise than its file:
// what a list of ground counts by, see [Line.Lay].
func (l *Line) FileAt(at Metres) Metres {
	n, _ := slices.BinarySearchFunc(l.knots, at, func(k knot, m Metres) int {
		if k.at <= m {
			return -1
		}
		return 1
	})
	switch n {
	case 0:
		return l.knots[0].given
	case len(l.knots):
		return l.knots[n-1].given
	}
	a, b := l.knots[n-1], l.knots[n]
	if b.at == a.at {
		return a.given
	}
	return a.given + (b.given-a.given)*(at-a.at)/(b.at-a.at)
}
