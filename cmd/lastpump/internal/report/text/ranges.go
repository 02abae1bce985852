package text

import (
	"cmp"
	"fmt"
	"io"

	"lastpump/cmd/lastpump/internal/report/sheet"
	"lastpump/cmd/lastpump/internal/words"
	"lastpump/cmd/lastpump/internal/words/units"
	"lastpump/fuel"
	"lastpump/route"
)

// WriteRanges writes what a bike reaches on each ground.
func WriteRanges(w io.Writer, ranges []fuel.Range, b fuel.Bike, u units.System) error {
	s := sheet.NewText(w)
	s.Line("", cmp.Or(b.Name, "This bike")+": "+words.Bike(b, u)+".")
	far := func(m route.Metres) string { return fmt.Sprintf("%.0f", u.DistanceIn(m)) }
	rows := [][]string{}
	for _, r := range ranges {
		rows = append(rows, []string{string(r.Ground), u.RateIn(r.Rate[1]),
			u.RateIn(r.Rate[0]) + "–" + u.RateIn(r.Rate[2]), far(r.Safe), far(r.Dry), far(r.DryHigh), "+" + far(r.CanAdds)})
	}
	d := u.DistanceUnit()
	s.Table([]sheet.Column{sheet.Words("ground"), sheet.Number(u.RateUnit()), sheet.Number("low–high"),
		sheet.Number("reserve untouched to " + d), sheet.Number("dry at " + d), sheet.Number("at the high figure"),
		sheet.Number("5 L can")}, rows)
	s.Line("", words.RangesCaution)
	return s.Flush()
}
