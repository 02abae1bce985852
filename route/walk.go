package route

import (
	"iter"
	"slices"

	"lastpump/route/internal/earth"
	"lastpump/route/internal/near"

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
			if len(heights) > 0 && heights[0].Point == i {
				v.Ele, v.HasEle, heights = heights[0].Ele, true, heights[1:]
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
	n, _ := slices.BinarySearchFunc(l.marks, at, func(k mark, m Metres) int {
		if k.at <= m {
			return -1
		}
		return 1
	})
	switch n {
	case 0:
		return l.marks[0].given
	case len(l.marks):
		return l.marks[n-1].given
	}
	a, b := l.marks[n-1], l.marks[n]
	if b.at == a.at {
		return a.given
	}
	return a.given + (b.given-a.given)*(at-a.at)/(b.at-a.at)
}

// A Passage is one passing of the line by a place: At is where along the line it comes
// closest, the first time if it does so twice, and Off how far it is from there to the
// place, straight.
type Passage = near.Passage

// ApartAlong is how far apart along the line two passages of a place lie at the least; the
// line goes beyond twice the corridor between them, too.
const ApartAlong = near.ApartAlong

// Passages gives each passing of the line within a corridor of a place, in order
// along the line. Nobody knows where a gap was ridden, so none passes anything.
func (l *Line) Passages(p orb.Point, corridor Metres) []Passage { return l.index.Passages(p, corridor) }

// A Hole is where a place lies nearer to a gap, or to a leap on which no stop is passed, than
// to the line.
type Hole struct {
	At   Metres // along the line, where the gap or the leap begins
	Off  Metres // from its straight to the place
	Leap bool
}

// Hole gives the hole of the line that a place lies in, which is so far off the line; ok is
// false where it lies in none.
func (l *Line) Hole(p orb.Point, off Metres) (h Hole, ok bool) {
	missed, ok := l.index.Missed(p)
	if !ok || missed.Off >= off {
		return h, false
	}
	h = Hole{At: missed.At, Off: missed.Off}
	for _, g := range l.Gaps {
		if g.At <= missed.At && missed.At <= g.At+g.Straight {
			h.At = g.At
			return h, true
		}
	}
	for _, s := range l.Strays {
		if s.Doubted && s.From <= missed.At && missed.At <= s.To {
			h.At, h.Leap = s.From, true
		}
	}
	return h, true
}

// GapBetween tells whether the line has a gap between two positions along it, ridden or not.
func (l *Line) GapBetween(a, b Metres) bool {
	from, to := min(a, b), max(a, b)
	return slices.ContainsFunc(l.Gaps, func(g Gap) bool { return g.At < to && g.At+g.Straight > from })
}

// Nearest gives where the line comes closest to a place between two positions
// along it, however far off, gaps left out but for their ends. ok is false where
// there is no line between them.
func (l *Line) Nearest(p orb.Point, from, to Metres) (best Passage, ok bool) {
	return l.index.Nearest(p, from, to)
}

// A Side tells on which side of a line a place lies, for who rides along it.
type Side string

// The sides; where a place lies ahead or behind it is neither.
const (
	Left    Side = "left"
	Right   Side = "right"
	NoSide  Side = ""
	sideHem      = 30  // degrees off straight on or straight back within which there is no side
	sideFar      = 100 // metres before and behind a place by which its heading is taken
)

// Toward gives in which direction a place lies from a position along the line, and on which
// side. The heading of the line is that over 100 m either way: our choice, more than the
// jitter of a recording and less than most bends.
func (l *Line) Toward(p orb.Point, at Metres) (Bearing, Side) {
	toward := earth.Toward(l.At(at), p)
	before, behind := l.At(at-sideFar), l.At(at+sideFar)
	if before == behind {
		return toward, NoSide
	}
	switch off := toward.From(earth.Toward(before, behind)); {
	case off > sideHem && off < 180-sideHem:
		return toward, Right
	case off < -sideHem && off > sideHem-180:
		return toward, Left
	}
	return toward, NoSide
}
