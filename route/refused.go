package route

import (
	"errors"
	"fmt"
	"math"

	"lastpump/route/input"
)

// What a line may be refused for: each is the cause of an [*input.Error].
var (
	ErrTooCoarse  = errors.New("the line is drawn too coarsely for its stretch to be estimated")
	ErrNoPartLeft = errors.New("all parts are left out")
	ErrNotClosed  = errors.New("a loop that is not closed begins where it begins")
	ErrNotOnLine  = errors.New("no line at the place where the loop should begin")
)

// A LongGapError is the cause of an [*input.Error] for a gap of over 100 km, with what
// seems to be wrong with the file.
type LongGapError struct {
	Gap     Gap
	Double  *Doubling // a part that looks like another way for a stretch of another; nil if there is none
	Reorder *Reorder  // else: a much better order of the parts; nil if there is none
}

// Error says how long the gap is, and where.
func (e *LongGapError) Error() string {
	return fmt.Sprintf("a gap of %.0f km in the line at km %.0f", e.Gap.Straight.Kilometres(),
		math.Floor(e.Gap.At.Kilometres()+1e-3)) // as a plan has its places
}

// refuseLongGaps refuses a line with a gap that is hardly ridden, unless the rider
// has said what gaps are.
func (l *Line) refuseLongGaps(rule Gaps) error {
	if rule != "" {
		return nil
	}
	for _, g := range l.Gaps {
		if g.Straight <= maxGap {
			continue
		}
		cause := &LongGapError{Gap: g}
		switch {
		case len(l.Doubles) > 0:
			cause.Double = &l.Doubles[0]
		case l.Reorder != nil && !l.Reorder.Taken && !l.Reorder.Refused:
			cause.Reorder = l.Reorder
		}
		return &input.Error{What: cause.Error(), Cause: cause,
			Hint: "is a file missing, or are the parts out of order?"}
	}
	return nil
}
