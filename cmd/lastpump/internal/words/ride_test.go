package words_test

import (
	"lastpump/cmd/lastpump/internal/words"
	"lastpump/cmd/lastpump/internal/words/units"
	"lastpump/fuel/plan"
	"lastpump/testdata/kit/drawn"
)

// The rides of these tests are those of the kit, under short names, with all that can be
// asked for.
var (
	at, straight, lineThrough, lineWith = drawn.At, drawn.Straight, drawn.LineThrough, drawn.LineWith
	lineOf, section, newPen             = drawn.LineOf, drawn.Section, drawn.NewPen
	pump, ron, ride, called             = drawn.Pump, drawn.RON, drawn.Ride, drawn.Called
	changed, changedStop                = drawn.Changed, drawn.ChangedStop
	standing, hearsay                   = drawn.Standing, drawn.Hearsay
	keep, ownCan, from, used            = drawn.Keep, drawn.OwnCan, drawn.From, drawn.Used
	make1, makeGroup                    = drawn.Asked, drawn.Asked
)

// say is the voice of a metric rider.
func say(p *plan.Plan) words.Voice { return words.Of(p, units.Metric) }
