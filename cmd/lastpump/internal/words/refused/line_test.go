package refused_test

import (
	"errors"
	"testing"

	"lastpump/cmd/lastpump/internal/words/refused"
	"lastpump/cmd/lastpump/internal/words/units"
	"lastpump/octane"
	"lastpump/route"
	"lastpump/route/gpxfile"
	"lastpump/route/input"
)

// What a rider is told about a file that gives no line, and about a grade without a
// scale: the flag that helps is named.
func TestHintsOfTheLine(t *testing.T) {
	_, bare := octane.Parse("91")
	const orGaps = " else say --gaps ride or --gaps skip (a ferry)"
	for _, c := range []struct {
		cause error
		want  string
	}{
		{gpxfile.ErrCut, "the file was cut off: download or export it again, or plan what is whole of it with --salvage"},
		{route.ErrTooCoarse, "draw it closer, or say how much longer the ride is with --stretch 1.4 or so"},
		{route.ErrNoPartLeft, "--skip-part leaves out one part; the others are ridden"},
		{route.ErrNotClosed, "--begin-at is for a loop that comes back to its start"},
		{route.ErrNotOnLine, "give a kilometre as a plan without --reverse and --begin-at has it, or the name of a stop"},
		{&route.LongGapError{}, "is a file missing, or are the parts out of order?" + orGaps},
		{&route.LongGapError{Double: &route.Doubling{Part: 3, Of: 1}},
			"part 3 looks like another way for a stretch of part 1: leave it out with --skip-part 3;" + orGaps},
		{&route.LongGapError{Reorder: &route.Reorder{Gaps: 1234}},
			"the parts meet within 1.2 km in all if they are put in order: --order nearest;" + orGaps},
		{bare, `write a grade with its scale: "95 RON", "91 AKI" or "95/85" (RON/MON), or say what the pumps post with --pump-scale RON or AKI`},
		{nil, "none"},
		{errors.New("another"), "none"},
	} {
		if got := refused.Hint(&input.Error{What: "odd", Hint: "none", Cause: c.cause}, units.Metric); got != c.want {
			t.Errorf("%v: hint\n  %s\nwant\n  %s", c.cause, got, c.want)
		}
	}
}

// The methods as plans have named them since the first build.
