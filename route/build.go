package route

import (
	"math"
	"slices"

	"lastpump/route/internal/clean"
	"lastpump/route/internal/climb"
	"lastpump/route/internal/earth"
	"lastpump/route/internal/stretch"

	"github.com/paulmach/orb"
)

// A builder carries what is needed only while a line is made.
type builder struct {
	line    *Line
	heights []climb.Height // of the points that have one
	strands []strand
	names   []string    // of the file's tracks
	numbers map[int]int // of those that have points, from 1
	median  Metres      // of all steps that are not zero
	given   Metres      // length so far of the file as given, with all that is left out of it
	end     orb.Point
	breaks  []int // steps that are gaps, in order
	skipped []int // the points that such a step leads to, where it is not ridden
	strays  StraysRule
	drawn   map[[2]int]drawing // of the points [from, to), once they have been looked at
}

// A drawing is what is looked at in a run of points to estimate its stretch.
type drawing struct {
	line  stretch.Line
	shape stretch.Shape
}

// A strand is a range of points [from, to) that the file has as one, without a gap
// in it.
type strand struct {
	from, to     int
	part         int     // into the file's tracks
	low          float64 // ridden ÷ line, by each figure
	likely, high float64
	backwards    bool // to be ridden against the way it lies
	turned       bool // it lies against the order of the file
}

func newBuilder(tracks []Track, strays StraysRule) *builder {
	b := &builder{line: &Line{}, strays: strays, drawn: map[[2]int]drawing{}}
	steps := stepsOf(tracks)
	var spare []Metres // for the distances along the line: a million steps are 8 MB
	b.median, spare = medianMoving(steps)
	b.line.pts = slices.Grow([]orb.Point(nil), len(steps)) // unlike make, not zeroed first
	b.heights = slices.Grow([]climb.Height(nil), len(steps))
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
	cos := math.Cos(p[0].Lat() * earth.Degree)
	for i := 1; i < len(p); i++ {
		next := math.Cos(p[i].Lat() * earth.Degree)
		steps = append(steps, earth.Haversine(p[i-1].Point, p[i].Point, cos, next))
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
	return earth.Median(moving), moving
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
	c := clean.Clean(points, steps, b.median, leapRules[b.strays])
	b.addMarks(points, steps, c.Kept)
	if c.Kept != nil {
		steps = appendSteps(nil, c.Points)
	}
	from := len(b.line.pts)
	b.addPoints(part, c.Points, steps)
	b.addLeaps(part, from, c.Leaps)
	b.line.Halts = appendHalts(b.line.Halts, c.Halts, from, part)
	b.line.Suspects = appendHalts(b.line.Suspects, c.Suspects, from, part)
}

var leapRules = map[StraysRule]clean.Rule{"": clean.RideLikely, StraysRide: clean.RideAll, StraysDrop: clean.DropAll}

// addLeaps adds the leaps of a segment that begins at a point of the line.
func (b *builder) addLeaps(part, from int, leaps []clean.Leap) {
	for _, l := range leaps {
		s := Strays{Track: b.names[part], Points: l.Points, Away: l.Away, Ridden: l.Ridden, Far: l.Far, part: part}
		s.Doubted = l.Ridden && b.strays != StraysRide && b.median < recordedFine
		for _, i := range l.Kept {
			s.points = append(s.points, from+i)
		}
		b.line.Strays = append(b.line.Strays, s)
	}
}

// addPoints adds points as a strand of the line; steps are those to them.
func (b *builder) addPoints(part int, points []Point, steps []Metres) {
	from := len(b.line.pts)
	for i, p := range points {
		b.line.pts = append(b.line.pts, p.Point)
		if p.HasEle {
			b.heights = append(b.heights, climb.Height{Point: from + i, Ele: p.Ele})
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
func appendHalts(to []Halt, found []clean.Halt, from, part int) []Halt {
	for _, h := range found {
		to = append(to, Halt{Points: h.Points, Taken: h.Taken, For: h.For, point: from + h.Point, part: part})
	}
	return to
}

// step is the length of the step from a point to the next.
func (b *builder) step(i int) Metres { return b.line.at[i+1] - b.line.at[i] }

// cutGaps cuts the strands at the gaps inside them: nothing is known of the way
// between, so that a segment with a gap inside is two from here on. How far apart its
// points may lie is told by the segment with those that meet it; a ridden leap is no gap.
func (b *builder) cutGaps() {
	leaps := b.leapSteps()
	var cut []strand
	for _, group := range b.joined() {
		limit := stepLimit(b.drawing(group).shape)
		for _, s := range group {
			for i := s.from; i < s.to-1; i++ {
				if b.step(i) > limit && !leaps[i] {
					cut = append(cut, strand{from: s.from, to: i + 1, part: s.part})
					s.from = i + 1
				}
			}
			cut = append(cut, s)
		}
	}
	b.strands = cut
}

// joined gathers the strands that are looked at as one: those of a part that follow each
// other and meet. One of 200 points or more stands alone: what is recorded tells nothing of
// what is drawn on from its end.
func (b *builder) joined() [][]strand {
	return b.meeting(b.strands, func(last, s strand) bool {
		return last.part == s.part && !b.standsAlone([]strand{last}) && !b.standsAlone([]strand{s})
	})
}

// meeting gathers the strands that follow each other in the file and meet, where two may be
// joined.
func (b *builder) meeting(strands []strand, may func(last, s strand) bool) (groups [][]strand) {
	for k, s := range strands {
		if k > 0 {
			last := strands[k-1]
			if last.to == s.from && b.step(last.to-1) <= b.join() && may(last, s) {
				groups[len(groups)-1] = append(groups[len(groups)-1], s)
				continue
			}
		}
		groups = append(groups, []strand{s})
	}
	return groups
}

// leapSteps gives the steps of the leaps that are ridden.
func (b *builder) leapSteps() map[int]bool {
	steps := map[int]bool{}
	for _, s := range b.line.Strays {
		for k := 1; s.Ridden && k < len(s.points); k++ {
			for i := s.points[k-1]; i < s.points[k]; i++ {
				steps[i] = true
			}
		}
	}
	return steps
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

// stepLimit is the longest step that counts as ridden inside a segment of a shape. Long
// straights are real where points were left out because they lie on them, and where all
// points lie far apart.
func stepLimit(s stretch.Shape) Metres {
	if s.Simplified || s.Mean > gapFine {
		return gapDrawn
	}
	return max(gapBeyond, 20*s.Median)
}
