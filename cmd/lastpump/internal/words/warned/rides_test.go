package warned_test

import (
	"strings"
	"testing"

	"lastpump/cmd/lastpump/internal/words"
	"lastpump/cmd/lastpump/internal/words/units"
	"lastpump/cmd/lastpump/internal/words/warned"
	"lastpump/fuel/plan"
	"lastpump/fuel/plan/cure"
	"lastpump/testdata/kit/drawn"
)

// The rides of these tests are those of the kit, under short names, with all that can be
// asked for.
var (
	at, straight, lineThrough, lineWith = drawn.At, drawn.Straight, drawn.LineThrough, drawn.LineWith
	lineOf, rising, section, newPen     = drawn.LineOf, drawn.Rising, drawn.Section, drawn.NewPen
	pump, ron, ride, called             = drawn.Pump, drawn.RON, drawn.Ride, drawn.Called
	changed, changedStop                = drawn.Changed, drawn.ChangedStop
	standing, hearsay                   = drawn.Standing, drawn.Hearsay
	startWith, keep, tank, ownCan       = drawn.StartWith, drawn.Keep, drawn.Tank, drawn.OwnCan
	fullOfIt, from                      = drawn.FullOfIt, drawn.From
	make1, makeGroup, warningOf         = drawn.Asked, drawn.Asked, drawn.WarningOf
)

const perDegree = drawn.PerDegree

// say is the voice of a metric rider.
func say(p *plan.Plan) warned.Voice { return warned.Of(words.Of(p, units.Metric)) }

// cureWith gives the cure of a warning that has a text in it, and all it says.
func cureWith(t *testing.T, p *plan.Plan, w plan.Warning, text string) (cure.Cure, string) {
	t.Helper()
	var all []string
	for _, c := range w.Cures {
		said := say(p).Cure(w, c)
		if strings.Contains(said, text) {
			return c, said
		}
		all = append(all, said)
	}
	t.Fatalf("no cure with %q among %q (%s)", text, all, say(p).NoCure(w))
	return cure.Cure{}, ""
}
