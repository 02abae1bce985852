package text

import (
	"lastpump/cmd/lastpump/internal/report/sheet"
	"lastpump/cmd/lastpump/internal/words"
	"lastpump/cmd/lastpump/internal/words/bail"
)

// Bail lays out where a rider in trouble gets help by road, where that is known.
func (r *Report) Bail() {
	if len(r.p.Bail) == 0 {
		return
	}
	say := bail.Of(r.say)
	for _, t := range say.Tables() {
		r.Head(t.Head)
		columns := []sheet.Column{sheet.Number(r.u.DistanceUnit())}
		for _, k := range t.Kinds {
			columns = append(columns, sheet.Wrapped(bail.Column(k), 90/len(t.Kinds)-2))
		}
		var rows [][]string
		for i := range r.p.Bail {
			rows = append(rows, say.Row(&r.p.Bail[i], t.Kinds))
		}
		r.Table(columns, rows)
	}
	r.Line("  ", words.RoadsOf)
}
