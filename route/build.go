package route

import (
	"fmt"
	"math"

	"github.com/paulmach/orb"
)

// A builder carries what is needed only while a line is made.
type builder struct {
	line    *Line
	heights []height // of the points that have one
	steps   []Metres // steps[i] leads to point i+1
	segs    []segment
	median  Metres // of all steps that are not zero
	breaks  []int  // steps that are gaps, in order
	skipped []int  // the points that such a step leads to, where it is not ridden
}

// A segment is a range of points [from, to) that the file has as one.
type segment struct{ from, to int }

// A height is the elevation of a point of the line.
type height struct {
	point int
	ele   float64 // metres
}

func newBuilder(tracks []Track) *builder {
	b := &builder{line: &Line{}}
	n := 0
	for _, t := range tracks {
		for _, s := range t.Segments {
			n += len(s)
		}
	}
	b.median = medianStep(tracks, n)
	b.line.pts = make([]orb.Point, 0, n)
	var starts []int
	for _, t := range tracks {
		starts = append(starts, len(b.line.pts))
		for _, s := range t.Segments {
			b.addSegment(t.Name, s)
		}
	}
	b.measure()
	b.nameParts(tracks, starts)
	return b
}

// medianStep is taken over the file as it is: strays are too few to move it.
// Standing still is no step.
func medianStep(tracks []Track, n int) Metres {
	steps := make([]Metres, 0, n)
	for _, t := range tracks {
		for _, s := range t.Segments {
			for i := 1; i < len(s); i++ {
				if s[i].Point != s[i-1].Point {
					steps = append(steps, Distance(s[i-1].Point, s[i].Point))
				}
			}
		}
	}
	return median(steps)
}

func (b *builder) addSegment(track string, points []Point) {
	points, left := dropStrays(points, b.median)
	for _, s := range left {
		s.Track = track
		b.line.Strays = append(b.line.Strays, s)
	}
	if len(points) == 0 {
		return
	}
	from := len(b.line.pts)
	for i, p := range points {
		b.line.pts = append(b.line.pts, p.Point)
		if p.HasEle {
			b.heights = append(b.heights, height{from + i, p.Ele})
		}
	}
	b.segs = append(b.segs, segment{from, len(b.line.pts)})
}

// measure lays the distance along the points.
func (b *builder) measure() {
	pts := b.line.pts
	if len(pts) == 0 {
		return
	}
	b.steps = make([]Metres, len(pts)-1)
	b.line.at = make([]Metres, len(pts))
	cos := math.Cos(pts[0][1] * degree)
	for i := 1; i < len(pts); i++ {
		next := math.Cos(pts[i][1] * degree)
		b.steps[i-1] = haversine(pts[i-1], pts[i], cos, next)
		b.line.at[i] = b.line.at[i-1] + b.steps[i-1]
		cos = next
	}
}

func (b *builder) nameParts(tracks []Track, starts []int) {
	for i, t := range tracks {
		end := len(b.line.pts)
		if i+1 < len(starts) {
			end = starts[i+1]
		}
		if end > starts[i] {
			b.line.Parts = append(b.line.Parts, Part{t.Name, b.line.at[starts[i]], b.line.at[end-1]})
		}
	}
}

// findGaps cuts the line into pieces at its gaps.
func (b *builder) findGaps(rule Gaps) {
	join := max(joinWithin, 2*b.median)
	for k, s := range b.segs {
		limit := b.stepLimit(s)
		for i := s.from; i < s.to-1; i++ {
			if b.steps[i] > limit {
				b.breaks = append(b.breaks, i)
			}
		}
		if k+1 < len(b.segs) && b.steps[s.to-1] > join {
			b.breaks = append(b.breaks, s.to-1)
		}
	}
	for _, i := range b.breaks {
		ridden := rule != GapsSkip
		b.line.Gaps = append(b.line.Gaps, Gap{At: b.line.at[i], Straight: b.steps[i], Ridden: ridden})
		if !ridden {
			b.skipped = append(b.skipped, i+1)
		}
	}
}

// stepLimit is the longest step that counts as ridden inside a segment. The
// variation that tells a shape-simplified line is taken without the steps in
// question, or a single hole in an even line would make it look drawn.
func (b *builder) stepLimit(s segment) Metres {
	limit := max(gapBeyond, 50*b.median)
	var m moments
	for i := s.from; i < s.to-1; i++ {
		if b.steps[i] > 0 && b.steps[i] <= limit {
			m.add(float64(b.steps[i]))
		}
	}
	if m.variation() >= simplifiedFrom {
		return max(gapDrawn, limit)
	}
	return limit
}

func (b *builder) refuseLongGaps(rule Gaps) error {
	if rule != "" {
		return nil
	}
	for _, g := range b.line.Gaps {
		if g.Straight > maxGap {
			return &InputError{
				What: fmt.Sprintf("a gap of %.0f km in the line at km %.1f", g.Straight.Kilometres(), g.At.Kilometres()),
				Hint: "is a file missing, or are the parts out of order? else say --gaps ride or --gaps skip (a ferry)",
			}
		}
	}
	return nil
}

// median gives the middle value, the mean of the two middle ones for an even
// number, 0 for none. It reorders v.
func median(v []Metres) Metres {
	n := len(v)
	if n == 0 {
		return 0
	}
	upper := nth(v, n/2)
	if n%2 == 1 {
		return upper
	}
	lower := v[0]
	for _, x := range v[:n/2] {
		lower = max(lower, x)
	}
	return (lower + upper) / 2
}

// nth gives the value that stands at k when v is sorted, in linear time (Hoare's
// selection): sorting a million steps would cost more than reading them. What
// stands before k afterwards is not larger.
func nth(v []Metres, k int) Metres {
	lo, hi := 0, len(v)-1
	for lo < hi {
		pivot := v[int(uint(lo+hi)/2)]
		i, j := lo, hi
		for i <= j {
			for v[i] < pivot {
				i++
			}
			for pivot < v[j] {
				j--
			}
			if i <= j {
				v[i], v[j] = v[j], v[i]
				i++
				j--
			}
		}
		switch {
		case k <= j:
			hi = j
		case k >= i:
			lo = i
		default:
			return v[k]
		}
	}
	return v[k]
}
