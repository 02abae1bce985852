// Package csv writes a plan for a spreadsheet: a row for each leg, with the fill at its
// end.
package csv

import (
	"encoding/csv"
	"io"
	"math"
	"regexp"
	"strconv"
	"strings"
	"time"

	"lastpump/cmd/lastpump/internal/words"
	"lastpump/cmd/lastpump/internal/words/units"
	"lastpump/fuel/clock"
	"lastpump/fuel/leg"
	"lastpump/fuel/plan"
	"lastpump/fuel/trip"
	"lastpump/octane"
	"lastpump/route"
)

// Write writes one row a leg, with the fill at its end, as CSV (RFC 4180), the units in
// the header. Numbers have no grouping and a decimal point, and are rounded as in the text: up
// what is needed, down what there is and how far it takes. The can is that which the strip asks
// for, for the plan or in case a pump is dry. A spreadsheet opens it as it is: no text is taken for a formula, and
// where one is not ASCII a byte order mark says that it is UTF-8.
func Write(w io.Writer, p *plan.Plan, u units.System) error {
	rows := [][]string{header(u)}
	ascii := true
	for i, l := range p.Legs {
		row := append(append(legCells(p, u, i, l), fillCells(p, u, i)...), units.Down(u.DistanceIn(l.DryAtHigh)))
		row = append(append(row, pourCells(p, u, i)...), hourCells(p, i)...)
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

// columns are the names of the columns, %d for the unit of distance, %v for that of volume, %h
// for that of heights.
const columns = "leg from to to_at_%d ridden_%d climb_%h takes_%v low_%v high_%v in_tank_%v can_%v arrives_%v " +
	"reserve_%v verdict trip_stop_%d trip_reserve_whole_%d trip_turn_back_%d trip_dry_%d " +
	"mixture_low mixture_high mixture_scale mixture_verdict fill_%v fill_grade fill_can_%v if_dry " +
	"standing confirmed hours pay phone trip_dry_high_%d can_for trip_pour_from_%d trip_pour_by_%d day there open ride_h"

func header(u units.System) []string {
	volume := strings.ReplaceAll(u.VolumeUnit(), " ", "")
	return strings.Fields(strings.NewReplacer("%d", u.DistanceUnit(), "%v", volume, "%h", u.HeightUnit()).Replace(columns))
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

func legCells(p *plan.Plan, u units.System, i int, l trip.Leg) []string {
	far := func(m route.Metres) string { return units.Near(u.DistanceIn(m)) }
	trip := func(m route.Metres) string { return units.Down(u.DistanceIn(m)) }
	climb := ""
	if l.Drink.HasClimb() {
		climb = decimals(u.HeightIn(l.Drink.Up), 0)
	}
	from, to := words.EndsOf(p, i)
	f, m := l.Drink.Fuel, l.Mixture
	return []string{strconv.Itoa(i + 1), from, to, u.Whole(l.ToAt), far(l.Drink.Ridden), climb,
		u.VolumeUp(f.Likely), u.VolumeUp(f.Low), u.VolumeUp(f.High), u.VolumeDown(l.Start), u.VolumeDown(p.Legs[i].Can),
		u.Left(l.Arrive), u.VolumeUp(l.Kept), string(l.Verdict),
		far(l.Trip(p.Bike)), trip(l.SafeTo), trip(l.TurnBackBy), trip(l.DryAt),
		decimals(octane.ShownDown(m.Low), 1), decimals(octane.ShownDown(m.High), 1), string(m.Scale), string(m.Verdict)}
}

// pourCells say what the can of a leg is for, and between where on the trip meter it is poured;
// a reserve is not poured by plan.
func pourCells(p *plan.Plan, u units.System, i int) []string {
	k := p.Can.UseOf(i)
	if k < 0 || p.Legs[i].Can <= 0 {
		return make([]string, 3)
	}
	use := p.Can.Uses[k]
	if p.Legs[i].Poured <= 0 {
		return []string{string(use.Why), "", ""}
	}
	return []string{string(use.Why), decimals(min(math.Ceil(u.DistanceIn(use.FullAt)-leg.Hair), math.Floor(u.DistanceIn(use.PourBy)+leg.Hair))+0, 0), u.Whole(use.PourBy)}
}

// hourCells say on which day and when the end of a leg is reached, likely (RFC 3339), what the pump
// there then is, and the likely hours in the saddle, which are known without a departure.
func hourCells(p *plan.Plan, i int) []string {
	ride := decimals(p.Riding[i][clock.Likely].Hours(), 2)
	n := len(p.Days)
	if n == 0 {
		return []string{"", "", "", ride}
	}
	day, there, open := n, p.Days[n-1].There[clock.Likely], ""
	if k := p.Legs[i].ToVisit; k >= 0 && p.Visits[k].Hour != nil {
		h := p.Visits[k].Hour
		day, there, open = h.Day+1, h.There[clock.Likely], string(h.State)
	} else if i < len(p.Legs)-1 {
		return []string{"", "", "", ride}
	}
	return []string{strconv.Itoa(day), there.Round(time.Second).Format(time.RFC3339), open, ride}
}

// fillCells tell of the fill at the end of a leg.
func fillCells(p *plan.Plan, u units.System, i int) []string {
	l := p.Legs[i]
	if l.ToVisit < 0 {
		return make([]string, 9)
	}
	v := p.Visits[l.ToVisit]
	grade, dry, confirmed := "", "", ""
	if v.Fill.HasGrade {
		grade = v.Fill.Grade.String()
	}
	if v.IfDry != nil {
		dry = string(v.IfDry.Outcome)
	}
	if v.Stop.HasConfirmed {
		confirmed = v.Stop.Confirmed.Format(time.DateOnly)
	}
	return []string{u.VolumeUp(v.Fill.Litres), grade, u.VolumeUp(v.Fill.Can), dry,
		string(v.Stop.Standing), confirmed, v.Stop.Hours, v.Stop.Pay, v.Stop.Phone}
}

func decimals(x float64, n int) string { return strconv.FormatFloat(x, 'f', n, 64) }
