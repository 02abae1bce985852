package report

import (
	"encoding/csv"
	"io"
	"regexp"
	"strconv"
	"strings"
	"time"

	"lastpump/fuel"
	"lastpump/fuel/plan"
	"lastpump/route"
)

// WriteCSV writes one row a leg, with the fill at its end, as CSV (RFC 4180),
// the units in the header. Numbers have no grouping and a decimal point; trip figures
// are rounded down, as in the text. A spreadsheet opens it as it is: no text is taken
// for a formula, and where one is not ASCII a byte order mark says that it is UTF-8.
func WriteCSV(w io.Writer, p *plan.Plan) error {
	u := p.Options.Units
	d, v := u.DistanceUnit(), "L"
	if u == fuel.US {
		v = "USgal"
	}
	rows := [][]string{{"leg", "from", "to", "to_at_" + d, "ridden_" + d, "climb_m", "takes_" + v, "low_" + v, "high_" + v,
		"in_tank_" + v, "can_" + v, "arrives_" + v, "reserve_" + v, "verdict", "trip_stop_" + d, "trip_reserve_whole_" + d,
		"trip_turn_back_" + d, "trip_dry_" + d, "mixture_low", "mixture_high", "mixture_scale", "mixture_verdict",
		"fill_" + v, "fill_grade", "fill_can_" + v, "if_dry", "standing", "confirmed", "hours", "pay", "phone", "trip_dry_high_" + d}}
	ascii := true
	for i, l := range p.Legs {
		row := append(append(legCells(p, i, l), fillCells(p, l)...), fuel.Down(u.DistanceIn(l.DryAtHigh)))
		for k := range row {
			row[k] = harmless(row[k])
			ascii = ascii && !strings.ContainsFunc(row[k], func(r rune) bool { return r >= 0x80 })
		}
		rows = append(rows, row)
	}
	if !ascii {
		if _, err := io.WriteString(w, "\ufeff"); err != nil {
			return err
		}
	}
	c := csv.NewWriter(w)
	c.UseCRLF = true
	return c.WriteAll(rows)
}

// signed is a number or a telephone number: with a sign before it, and nothing to reckon
// after it.
var signed = regexp.MustCompile(`^[+-]\d[\d .()]*$`)

// harmless puts an apostrophe before what a spreadsheet would take for a formula.
//
//	OWASP, CSV Injection: cells that begin with =, +, -, @, tab, carriage return or line feed.
func harmless(cell string) string {
	if cell != "" && strings.ContainsRune("=+-@\t\r\n", rune(cell[0])) && !signed.MatchString(cell) {
		return "'" + cell
	}
	return cell
}

func legCells(p *plan.Plan, i int, l plan.Leg) []string {
	u := p.Options.Units
	far := func(m route.Metres) string { return decimals(u.DistanceIn(m), 1) }
	trip := func(m route.Metres) string { return fuel.Down(u.DistanceIn(m)) }
	vol := func(x fuel.Litres) string { return decimals(u.VolumeIn(x), 2) }
	climb := ""
	if l.Drink.NoHeights <= 0 {
		climb = decimals(float64(l.Drink.Up), 0)
	}
	f := l.Drink.Fuel
	return []string{strconv.Itoa(i + 1), l.From, l.To, far(l.ToAt), far(l.Drink.Ridden), climb, vol(f.Likely), vol(f.Low), vol(f.High),
		vol(l.Start), vol(l.Can), vol(l.Arrive), vol(l.Kept), string(l.Verdict), far(l.Trip(p.Bike)), trip(l.SafeTo), trip(l.TurnBackBy),
		trip(l.DryAt), decimals(l.Mixture.Low, 2), decimals(l.Mixture.High, 2), string(l.Mixture.Scale), string(l.Mixture.Verdict)}
}

func fillCells(p *plan.Plan, l plan.Leg) []string {
	out := make([]string, 9)
	if l.ToVisit < 0 {
		return out
	}
	u, v := p.Options.Units, p.Visits[l.ToVisit]
	out[0] = decimals(u.VolumeIn(v.Fill.Litres), 2)
	if v.Fill.HasGrade {
		out[1] = v.Fill.Grade.String()
	}
	out[2] = decimals(u.VolumeIn(v.Fill.Can), 2)
	if v.IfDry != nil {
		out[3] = string(v.IfDry.Outcome)
	}
	out[4] = string(v.Stop.Standing)
	if v.Stop.HasConfirmed {
		out[5] = v.Stop.Confirmed.Format(time.DateOnly)
	}
	out[6], out[7], out[8] = v.Stop.Hours, v.Stop.Pay, v.Stop.Phone
	return out
}

func decimals(x float64, n int) string { return strconv.FormatFloat(x, 'f', n, 64) }
