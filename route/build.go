package route

import (
	"math"
	"slices"

	"github.com/paulmach/orb"
)

// A builder carries what is needed only while a line is made.
type builder struct {
	line    *Line
	heights []height // of the points that have one
	strands []strand
	names   []string    // of the file's tracks
	numbers map[int]int // of those that have points, from 1
	median  Metres      // of all steps that are not zero
	given   Metres      // length so far of the file as given, with all that is left out of it
	end     orb.Point
	breaks  []int // steps that are gaps, in order
	skipped []int // the points that such a step leads to, where it is not ridden
}

// A strand is a range of points [from, to) that the file has as one, without a gap
// in it.
type strand struct {
	from, to     int
	part         int // into the file's tracks
	likely, high float64
	backwards    bool // to be ridden against the way it lies
	turned       bool // it lies against the order of the file
}

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
	b.line.pts = slices.Grow([]orb.Point(nil), len(steps)) // unlike make, not zeroed first
	b.heights = slices.Grow([]height(nil), len(steps))
	b.line.at = spare[:0]
	for i, t := range tracks {
		b.names = append(b.names, t.Name)
		for _, s := range t.Segments {
			b.addSegment(i, s, steps[:len(s)])
			steps = steps[len(s):]
		}
	}
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
	steps := slices.Grow([]Metres(nil), n)
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
	moving := slices.Grow([]Metres(nil), len(steps))
	for _, s := range steps {
		if s > 0 {
			moving = append(moving, s)
		}
	}
	return median(moving), moving
}

// Drawn is the length of tracks as they are drawn, without the ways between their
// segments.
func Drawn(tracks []Track) (d Metres) {
	for _, s := range stepsOf(tracks) {
		d += s
	}
	return d
}

// addSegment adds a segment without its strays and the jitter of its halts; steps
// are those to its points.
func (b *builder) addSegment(part int, points []Point, steps []Metres) {
	if len(points) == 0 {
		return
	}
	c := clean(points, steps, b.median)
	b.addKnots(points, steps, c.kept)
	if c.kept != nil {
		steps = appendSteps(nil, c.points)
	}
	from := len(b.line.pts)
	b.addPoints(part, c.points, steps)
	for _, s := range c.strays {
		s.Track, s.part = b.names[part], part
		b.line.Strays = append(b.line.Strays, s)
	}
	b.line.Halts = appendHalts(b.line.Halts, c.halts, from, part)
	b.line.Suspects = appendHalts(b.line.Suspects, c.suspects, from, part)
}

// addPoints adds points as a strand of the line; steps are those to them.
func (b *builder) addPoints(part int, points []Point, steps []Metres) {
	from := len(b.line.pts)
	for i, p := range points {
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
	b.strands = append(b.strands, strand{from: from, to: len(b.line.pts), part: part})
}

// appendHalts adds the halts of a segment that begins at a point of the line.
func appendHalts(to, halts []Halt, from, part int) []Halt {
	for _, h := range halts {
		h.point, h.part = from+h.point, part
		to = append(to, h)
	}
	return to
}

// step is the length of the step from a point to the next.
func (b *builder) step(i int) Metres { return b.line.at[i+1] - b.line.at[i] }

// cutGaps cuts the strands at the gaps inside them: nothing is known of the way
// between, so that a segment with a gap inside is two from here on.
func (b *builder) cutGaps() {
	var cut []strand
	for _, s := range b.strands {
		limit := b.stepLimit(s)
		for i := s.from; i < s.to-1; i++ {
			if b.step(i) > limit {
				cut = append(cut, strand{from: s.from, to: i + 1, part: s.part})
				s.from = i + 1
			}
		}
		cut = append(cut, s)
	}
	b.strands = cut
}

// findGaps finds the gaps of the line: strands that do not meet.
func (b *builder) findGaps(rule Gaps) {
	ridden := rule != GapsSkip
	for _, s := range b.strands[:len(b.strands)-1] {
		i := s.to - 1
		if b.step(i) <= b.join() {
			continue
		}
		b.breaks = append(b.breaks, i)
		b.line.Gaps = append(b.line.Gaps, Gap{At: b.line.at[i], Straight: b.step(i), Ridden: ridden})
		if !ridden {
			b.skipped = append(b.skipped, i+1)
		}
	}
}

// join is how far apart two segments may lie and still be one way.
func (b *builder) join() Metres { return max(joinWithin, 2*b.median) }

// stepLimit is the longest step that counts as ridden inside a segment. The
// variation that tells a shape-simplified line is taken without the steps in
// question, or a single hole in an even line would make it look drawn.
func (b *builder) stepLimit(s strand) Metres {
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
