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
	Ele      float64 // metres above the geoid; meaningless unless HasEle
	HasEle   bool    // the point has a height: in the file, or from a relief
	AfterGap bool    // nothing is known of the way to it from the one before
}

// Vertices walks along the line, point by point.
func (l *Line) Vertices() iter.Seq[Vertex] {
	return func(yield func(Vertex) bool) {
		k, heights := 0, l.heights
		for i, at := range l.at {
			v := Vertex{At: at, Point: l.pts[i]}
			if len(heights) > 0 && heights[0].point == i {
				v.Ele, v.HasEle, heights = heights[0].ele, true, heights[1:]
			}
			if i > 0 {
				for k+1 < len(l.pieces) && l.pieces[k].to <= l.at[i-1] && l.at[i-1] < at {
					k++
				}
				v.AfterGap = l.pieces[k].gap
			}
			if !yield(v) {
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
