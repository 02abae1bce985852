package report

import (
	"fmt"
	"io"
	"slices"

	"lastpump/cmd/lastpump/internal/report/sheet"
	"lastpump/cmd/lastpump/internal/words/compared"
	"lastpump/cmd/lastpump/internal/words/units"
)

// WriteCompared lays variants of a ride in one table, the best first, and says under it which
// could not be planned.
func WriteCompared(w io.Writer, rows []compared.Variant, u units.System) error {
	t := sheet.NewText(w)
	t.Head("VARIANTS, the best first (litres short, then places that strand, legs that are TIGHT, places that strand if " +
		"the bike is thirsty, cans, octane-litres missing, fills)")
	columns := []sheet.Column{sheet.Wrapped("variant", 30), sheet.Words("verdict"), sheet.Wrapped("worst leg", 24),
		sheet.Number("strand"), sheet.Number("can"), sheet.Number(u.VolumeUnit()), sheet.Number("octane-L"),
		sheet.Number("fills"), sheet.Number(u.DistanceUnit())}
	timed := slices.ContainsFunc(rows, func(r compared.Variant) bool { return r.Plan != nil && len(r.Plan.Days) > 0 })
	if timed {
		columns = append(columns, sheet.Wrapped("hours of pumps", 14))
	}
	var cells [][]string
	for _, r := range rows {
		if r.Plan == nil {
			cells = append(cells, append([]string{r.Name, "not planned"}, make([]string, len(columns)-2)...))
			continue
		}
		f := r.Figures()
		can := "none"
		if f.Can > 0 {
			can = u.Can(f.Can)
		}
		strand := fmt.Sprint(f.Stranded)
		if f.Bare > 0 {
			strand += fmt.Sprintf(" (%d)", f.Stranded+f.Bare)
		}
		cells = append(cells, []string{r.Name, compared.WorstVerdict(f), compared.WorstLeg(r, f, u), strand, can,
			u.VolumeUp(f.Litres), fmt.Sprintf("%.0f", f.Octane), fmt.Sprint(f.Fills),
			fmt.Sprintf("%.0f", u.DistanceIn(f.Ridden))})
		if timed {
			last := len(cells) - 1
			cells[last] = append(cells[last], compared.Hours(r))
		}
	}
	t.Table(columns, cells)
	t.Line("", "strand: places that leave you stranded if they are dry, in brackets if the bike is thirsty. octane-L: litres "+
		"times the octane that is missing.")
	for _, r := range rows {
		if r.Plan == nil {
			t.Line("", fmt.Sprintf("%s: %s", r.Name, r.Why))
		}
	}
	return t.Flush()
}
