package stretch

import (
	"math"

	"github.com/paulmach/orb"

	"lastpump/route/internal/earth"
)

// A Shape is what the points of a line tell of how it was made.
type Shape struct {
	Mean, Median earth.Metres // of the steps
	Length       earth.Metres // all of them
	Off          earth.Metres // median distance of a point from the chord of its two neighbours
	// Points were left out that lie near the line of the others; else it is recorded, or
	// thinned evenly.
	Simplified bool
}

// simplifiedFrom is where the tenth percentile over the median of the distances from the
// chord tells the two apart: a line that is simplified by its shape has no points left that
// lie near the chord. Our estimate, measured on 64 recorded rides: 0.30 to 0.67 on lines
// simplified by their shape; 0.01 to 0.33 on lines that keep every n-th point, or one
// every so many metres or seconds.
const simplifiedFrom = 0.33

// Tolerance is what a line was simplified to, from how far its points lie off the chord:
// twice as far in the middle, 1.6 to 2.4 times as measured.
func (s Shape) Tolerance() earth.Metres { return s.Off / 2 }

// ShapeOf looks at the shape of a line.
func ShapeOf(l Line) Shape {
	n := 0
	for _, r := range l.Strands {
		n += len(r)
	}
	steps := make([]earth.Metres, 0, n)
	var s Shape
	for _, r := range l.Strands {
		for i := 1; i < len(r); i++ {
			d := l.At[r[i]] - l.At[r[i-1]]
			steps = append(steps, d)
			s.Length += d
		}
	}
	if len(steps) == 0 {
		return s
	}
	s.Mean, s.Median = s.Length/earth.Metres(len(steps)), earth.Median(steps)
	off := steps[:0] // the same room
	for _, r := range l.Strands {
		for i := 2; i < len(r); i++ {
			off = append(off, offChord(l.Points[r[i-2]], l.Points[r[i-1]], l.Points[r[i]]))
		}
	}
	s.Off = earth.Quantile(off, 0.5)
	s.Simplified = s.Off > straight && earth.Quantile(off, 0.1) >= simplifiedFrom*s.Off
	return s
}

// straight is what rounding makes of points on one line.
const straight earth.Metres = 0.01

// offChord gives how far a point lies off the straight between its two neighbours.
func offChord(a, p, b orb.Point) earth.Metres {
	cos := math.Cos(p[1] * earth.Degree)
	px, py := earth.Wrap(p[0]-a[0])*cos, p[1]-a[1]
	bx, by := earth.Wrap(b[0]-a[0])*cos, b[1]-a[1]
	if length := bx*bx + by*by; length > 0 {
		share := min(max((px*bx+py*by)/length, 0), 1)
		px, py = px-share*bx, py-share*by
	}
	return earth.Metres(math.Sqrt(px*px+py*py)*earth.Degree) * earth.Radius
}
