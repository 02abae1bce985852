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
	steps := stepsOf(tracks)
	var spare []Metres // for the distances along the line: a million steps are 8 MB
	b.median, spare = medianMoving(steps)
	b.line.pts = make([]orb.Point, 0, len(steps))
	b.heights = make([]height, 0, len(steps))
	b.line.at = spare[:0]
	var starts []int
	for _, t := range tracks {
		starts = append(starts, len(b.line.pts))
		for _, s := range t.Segments {
			b.addSegment(t.Name, s, steps[:len(s)])
			steps = steps[len(s):]
		}
	}
	b.nameParts(tracks, starts)
	return b
}

// stepsOf gives the step to each point of the file from the one before in its
// segment, 0 to the first of each.
func stepsOf(tracks []Track) []Metres {
	n := 0
	for _, t := range tracks {
		for _, s := range t.Segments {
			n += len(s)
		}
	}
	steps := make([]Metres, 0, n)
	for _, t := range tracks {
		for _, s := range t.Segments {
			steps = appendSteps(steps, s)
		}
	}
	return steps
}

func appendSteps(steps []Metres, p []Point) []Metres {
	if len(p) == 0 {
		return steps
	}
	steps = append(steps, 0)
	cos := math.Cos(p[0].Lat() * degree)
	for i := 1; i < len(p); i++ {
		next := math.Cos(p[i].Lat() * degree)
		steps = append(steps, haversine(p[i-1].Point, p[i].Point, cos, next))
		cos = next
	}
	return steps
}

// medianMoving gives the median of the steps that are not zero: standing still is
// no step. The room that it needed is returned to be used again; it holds as many
// as there are steps.
func medianMoving(steps []Metres) (Metres, []Metres) {
	moving := make([]Metres, 0, len(steps))
	for _, s := range steps {
		if s > 0 {
			moving = append(moving, s)
		}
	}
	return median(moving), moving
}

// addSegment adds a segment without its strays; steps are those to its points.
func (b *builder) addSegment(track string, points []Point, steps []Metres) {
	kept, left := dropStrays(points, steps, b.median)
	for _, s := range left {
		s.Track = track
		b.line.Strays = append(b.line.Strays, s)
	}
	if len(kept) == 0 {
		return
	}
	if len(kept) < len(points) {
		steps = appendSteps(nil, kept)
	}
	from := len(b.line.pts)
	for i, p := range kept {
		b.line.pts = append(b.line.pts, p.Point)
		if p.HasEle {
			b.heights = append(b.heights, height{from + i, p.Ele})
		}
	}
	along := Metres(0)
	if from > 0 {
		along = b.line.at[from-1] + Distance(b.line.pts[from-1], b.line.pts[from])
	}
	for _, s := range steps {
		along += s
		b.line.at = append(b.line.at, along)
	}
	b.segs = append(b.segs, segment{from, len(b.line.pts)})
}

// step is the length of the step from a point to the next.
func (b *builder) step(i int) Metres { return b.line.at[i+1] - b.line.at[i] }

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

// findGaps finds the gaps of the line. A segment with a gap inside is two from
// here on: nothing is known of the way between.
func (b *builder) findGaps(rule Gaps) {
	join := max(joinWithin, 2*b.median)
	var cut []segment
	for k, s := range b.segs {
		limit := b.stepLimit(s)
		for i := s.from; i < s.to-1; i++ {
			if b.step(i) > limit {
				b.breaks = append(b.breaks, i)
				cut = append(cut, segment{s.from, i + 1})
				s.from = i + 1
			}
		}
		cut = append(cut, s)
		if k+1 < len(b.segs) && b.step(s.to-1) > join {
			b.breaks = append(b.breaks, s.to-1)
		}
	}
	b.segs = cut
	for _, i := range b.breaks {
		ridden := rule != GapsSkip
		b.line.Gaps = append(b.line.Gaps, Gap{At: b.line.at[i], Straight: b.step(i), Ridden: ridden})
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
		if d := b.step(i); d > 0 && d <= limit {
			m.add(float64(d))
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
