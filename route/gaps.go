package route

import "fmt"

// refuseLongGaps refuses a line with a gap that is hardly ridden, unless the rider
// has said what gaps are, and tells what seems to be wrong with the file.
func (l *Line) refuseLongGaps(rule Gaps) error {
	if rule != "" {
		return nil
	}
	for _, g := range l.Gaps {
		if g.Straight <= maxGap {
			continue
		}
		hint := "is a file missing, or are the parts out of order?"
		switch {
		case len(l.Doubles) > 0:
			d := l.Doubles[0]
			hint = fmt.Sprintf("part %d looks like another way for a stretch of part %d: leave it out with --skip-part %d;", d.Part, d.Of, d.Part)
		case l.Reorder != nil && !l.Reorder.Taken:
			hint = fmt.Sprintf("the parts meet within %.1f km in all if they are put in order: --order nearest;", l.Reorder.Gaps.Kilometres())
		}
		return &InputError{
			What: fmt.Sprintf("a gap of %.0f km in the line at km %.1f", g.Straight.Kilometres(), g.At.Kilometres()),
			Hint: hint + " else say --gaps ride or --gaps skip (a ferry)",
		}
	}
	return nil
}
