package route

import (
	"fmt"
	"slices"

	"lastpump/route/input"
	"lastpump/route/internal/stretch"
)

// A Stretch says how much longer the ride is than the line in the file, and how
// that was found. A drawn or thinned line cuts every bend.
type Stretch struct {
	Factor float64 // mean by length, >= 1 unless given
	Low    float64 // the same for the low figure
	High   float64 // and for the high one
	Given  bool    // by the rider; then there are no Estimates
	Coarse bool    // drawn with over 2 km from point to point: not to be trusted
	From   []Estimate
}

type (
	// An Estimate is the stretch of one segment of 200 points or more, or of all the shorter
	// ones together (Pooled): its Factor, the same for the Low and the High figure, the Error
	// as a share, kept nine times in ten (0.01 is 1 %), the Method, the mean Step and the
	// Length that it is for. Coarse is a line with over 2 km from point to point, and not a shape
	// that was simplified.
	Estimate = stretch.Estimate

	// A Method is how a stretch was estimated, as records of a line have it.
	Method = stretch.Method
)

// The methods, our own; how well they do is in the package's tests.
const (
	EvenlySpaced    = stretch.EvenlySpaced    // every second point left out
	FromTable       = stretch.FromTable       // of recorded rides, for evenly spaced points
	ShapeSimplified = stretch.ShapeSimplified // each chord taken as an arc
)

// segmentAlone is how many points a segment has at the least to have a stretch of its own.
const segmentAlone = 200

// estimateStretch gives each strand its stretch: the given one, or the estimate
// for it and those that meet it. The error is an [*input.Error] where an evenly drawn line
// has over 10 km from point to point.
func (b *builder) estimateStretch(given float64) error {
	if given > 0 {
		b.giveStretch(given)
		return nil
	}
	var short []strand // those that do not stand alone
	groups := b.joined()
	for _, group := range groups {
		if !b.standsAlone(group) {
			short = append(short, group...)
		}
	}
	k, pooled := 0, Estimate{}
	for _, group := range groups {
		var e Estimate
		var err error
		switch alone := b.standsAlone(group); {
		case alone:
			e, err = b.estimate(b.drawing(group), false)
		case pooled.Pooled:
			e = pooled
		default:
			e, err = b.estimate(b.draw(b.meeting(short, func(strand, strand) bool { return true })...), true)
			pooled = e
		}
		if err != nil {
			return err
		}
		for range group {
			s := &b.strands[k]
			s.low, s.likely, s.high = e.Low, e.Factor, e.High
			k++
		}
	}
	b.drawn = nil // several bytes a point
	b.line.Stretch.mean()
	return nil
}

// estimate estimates the stretch of points, and keeps it with the line's.
func (b *builder) estimate(d drawing, pooled bool) (Estimate, error) {
	e, ok := stretch.Of(d.line, d.shape)
	if !ok {
		return e, tooCoarse(e.Step)
	}
	if e.Pooled = pooled; e.Length > 0 {
		b.line.Stretch.From = append(b.line.Stretch.From, e)
	}
	return e, nil
}

// drawing looks at strands that meet, once.
func (b *builder) drawing(group []strand) drawing {
	key := [2]int{group[0].from, group[len(group)-1].to}
	d, known := b.drawn[key]
	if !known {
		d = b.draw(group)
		b.drawn[key] = d
	}
	return d
}

// draw looks at groups of strands, each of which meet.
func (b *builder) draw(groups ...[]strand) drawing {
	d := drawing{line: stretch.Line{Points: b.line.pts, At: b.line.at}}
	for _, g := range groups {
		d.line.Strands = append(d.line.Strands, b.movingPoints(g[0].from, g[len(g)-1].to)...)
	}
	d.shape = stretch.ShapeOf(d.line)
	return d
}

// giveStretch gives all strands one stretch.
func (b *builder) giveStretch(given float64) {
	b.line.Stretch = Stretch{Factor: given, Low: given, High: given, Given: true}
	for k := range b.strands {
		s := &b.strands[k]
		s.low, s.likely, s.high = given, given, given
	}
}

// mean fills in the mean by length of the estimates.
func (s *Stretch) mean() {
	var length, ridden, low, high float64
	for _, e := range s.From {
		length += float64(e.Length)
		ridden += float64(e.Length) * e.Factor
		low += float64(e.Length) * e.Low
		high += float64(e.Length) * e.High
		s.Coarse = s.Coarse || e.Coarse
	}
	s.Factor, s.Low, s.High = 1, 1, 1
	if length > 0 {
		s.Factor, s.Low, s.High = ridden/length, low/length, high/length
	}
}

// layPieces cuts the line into pieces at its gaps and wherever the stretch
// changes. The step that joins two strands has the stretch of the second.
func (b *builder) layPieces() {
	l := b.line
	last := 0 // point up to which the line is laid
	lay := func(to int, p piece) {
		if to > last {
			p.from, p.to = l.at[last], l.at[to]
			l.pieces = append(l.pieces, p)
			last = to
		}
	}
	gaps := b.breaks
	for _, s := range b.strands {
		lay(s.to-1, piece{factor: s.likely, low: s.low, high: s.high})
		if len(gaps) > 0 && gaps[0] == s.to-1 {
			gaps = gaps[1:]
			lay(s.to, b.gapPiece(s.to-1))
		}
	}
}

func (b *builder) gapPiece(step int) piece {
	if _, skipped := slices.BinarySearch(b.skipped, step+1); skipped {
		return piece{gap: true, skipped: true}
	}
	return piece{gap: true, factor: GapDetour, low: GapDetour, high: GapDetour}
}

// standsAlone tells whether strands that meet have 200 points or more together, standing
// still not counted.
func (b *builder) standsAlone(group []strand) bool {
	n := 1
	for i := group[0].from; i < group[len(group)-1].to-1 && n < segmentAlone; i++ {
		if b.step(i) > 0 {
			n++
		}
	}
	return n >= segmentAlone
}

func tooCoarse(step Metres) error {
	return &input.Error{
		What: fmt.Sprintf("the line is drawn too coarsely to plan from: %.0f km from point to point",
			step.Kilometres()),
		Hint: "draw it closer, or say how much longer the ride is", Cause: ErrTooCoarse,
	}
}

// movingPoints gives the points [from, to) without those that repeat the one before, apart
// where a ridden leap lies between: it tells nothing of how the line is drawn.
func (b *builder) movingPoints(from, to int) [][]int32 {
	leaps := b.leapSteps()
	var runs [][]int32
	run := append(make([]int32, 0, to-from), int32(from))
	for i := from + 1; i < to; i++ {
		switch {
		case leaps[i-1]:
			runs, run = append(runs, run), []int32{int32(i)}
		case b.step(i-1) > 0:
			run = append(run, int32(i))
		}
	}
	return append(runs, run)
}
