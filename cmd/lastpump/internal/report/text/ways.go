package text

import (
	"slices"

	"lastpump/cmd/lastpump/internal/report/sheet"
	"lastpump/cmd/lastpump/internal/words/outward"
)

// Ways lays out the ways by road, where any are known: the last of each leg, and those that may
// not be leaned on.
func (r *Report) Ways() {
	if r.p.Ways == nil {
		return
	}
	say := outward.Of(r.say)
	var rows [][]string
	for i := range r.p.Legs {
		if w, ok := say.Row(i); ok {
			rows = append(rows, []string{legNumber(i), w.Trip, w.Turn, w.Onto, w.To, w.Far, w.Left, w.Where})
		}
	}
	r.Head(say.Head())
	if len(rows) > 0 {
		r.Table([]sheet.Column{sheet.Number("leg"), sheet.Number("trip"), sheet.Words("turn"), sheet.Wrapped("onto", 18),
			stopColumn("to"), sheet.Number("by road"), sheet.Number("left"), sheet.Words("where")}, rows)
	} else {
		r.Line("  ", outward.None)
	}
	r.lines("  ", slices.Concat(say.Pumps(), say.Perhaps()))
}
