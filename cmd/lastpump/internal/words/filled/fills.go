// Package filled says in English what is in a file of fills, and what was learnt from it.
package filled

import (
	"fmt"
	"strings"
	"time"

	"lastpump/cmd/lastpump/internal/words/units"
	"lastpump/fuel"
	"lastpump/fuel/learn/fills"
	"lastpump/route"
)

// EmptyFills gives an empty file of fills with a remark for each column; distance and
// volume are the columns that a rider of these units fills in. Commas and quotes are left
// out of it: a spreadsheet would set the remarks in quotes, and they would be none then.
func EmptyFills(u units.System) string {
	distance, odometer, volume := "trip_km", "odometer_km", "litres"
	if u.Miles() {
		distance, odometer = "trip_mi", "odometer_mi"
	}
	if u == units.US {
		volume = "gal_us"
	}
	return `# Your fills - a row for each. Lines that begin with # are remarks.
# date             the day as 2026-07-01
# ` + column(distance) + `what the trip meter shows - zero it at every fill. Or call the column ` + odometer + `
# ` + column(volume) + `what went in. Leave it empty in the first row - that tank was not measured
# event            full to the brim (if nothing is said) or part. For a fill that you did not write down: missed.
#                  Where the lamp came on or you turned the tap: lamp or reserve. Where it ran dry: dry -
#                  with what you had poured in
# grade            as 95 RON or 91 AKI
# from_km to_km    the kilometres of the line on which that tank was ridden - as in ground.csv. Or columns
#                  named after grounds - sand and dirt - with what was ridden on each. Or neither
# note             anything
` + fills.Header(distance, volume) + "\n"
}

// column sets the name of a column in a remark.
func column(name string) string { return fmt.Sprintf("%-17s", name) }

// FillAdded says what was added, and what the tank took that it filled up.
func FillAdded(r fills.Row, odometer bool, u units.System) string {
	parts := []string{r.Date.Format("2006-01-02")}
	if r.HasDistance {
		what := ""
		if odometer {
			what = "odometer "
		}
		parts = append(parts, fmt.Sprintf("%s%.1f %s", what, u.DistanceIn(r.Distance), u.DistanceUnit()))
	}
	if r.HasLitres {
		parts = append(parts, amount(r.Litres, u))
	}
	parts = append(parts, string(r.Event))
	if r.Grade != "" {
		parts = append(parts, r.Grade)
	}
	return fmt.Sprintf("Row %d: %s.", r.Line, strings.Join(parts, ", "))
}

// amount gives what was filled, to the hundredth as pumps show it.
func amount(l fuel.Litres, u units.System) string {
	return fmt.Sprintf("%.2f %s", u.VolumeIn(l), u.VolumeUnit())
}

// AddedBefore says that a row is dated before the one above it, of that day.
func AddedBefore(above time.Time) string {
	return fmt.Sprintf("Dated before the row above: %s; --date says another day.", above.Format(time.DateOnly))
}

// TankTook says what a tank took from brim to brim.
func TankTook(shown route.Metres, l fuel.Litres, u units.System) string {
	return fmt.Sprintf("From brim to brim %.1f %s took %s: %s.", u.DistanceIn(shown), u.DistanceUnit(), amount(l, u),
		u.Rate(rate(shown, l)))
}

func rate(d route.Metres, l fuel.Litres) fuel.Consumption {
	return fuel.Consumption(float64(l) / d.Kilometres() * 100)
}

// TankOdd says that a tank took over twice or under half of what the others did.
func TankOdd(times float64) string {
	return fmt.Sprintf("That is %.1f times what the tanks before it took: look at the figures of this row, and whether "+
		"a fill before it is missing.", times)
}

// LogRemark says what was made of a file of fills.
func LogRemark(r fills.Remark) string {
	switch r.Kind {
	case fills.Sorted:
		return "the rows are sorted by their dates: " + rows(r.Lines) + " stood behind a later one"
	case fills.Reversed:
		return "the newest row stands first: read from the end"
	case fills.Repeated:
		return fmt.Sprintf("row %d says all that row %d says: left out", r.Line, r.Other)
	case fills.OfService:
		return rows(r.Lines) + " " + tells(r.Lines) + " of no fuel: left out"
	case fills.TakenForMissed:
		return rows(r.Lines) + " has neither litres nor an event: taken for a fill that was missed; is it of service, " +
			"write so under event"
	case fills.OneRowOff:
		return fmt.Sprintf("the distances seem to stand one row off: with the litres of the row before or behind the "+
			"tanks scatter %.2f times as much as they do now; look at a few", r.Ratio)
	case fills.NotZeroed:
		return "the trip grows from row to row: was it never zeroed? if it is the odometer, call the column odometer_km or odometer_mi"
	case fills.BeforeBrim:
		return rows(r.Lines) + " " + stands(r.Lines) + " before the first full tank: nothing is learnt from there"
	case fills.SpansNotUsed:
		return rows(r.Lines) + " " + tells(r.Lines) + " where on the line the tank was ridden, and no line is given: " +
			"taken without ground"
	case fills.SpanOff:
		return fmt.Sprintf("row %d: the trip is %.2f times the kilometres of its span: scaled, but is the span right?",
			r.Line, r.Ratio)
	case fills.GroundOff:
		return fmt.Sprintf("row %d: the trip is %.2f times the kilometres of its ground: taken without ground", r.Line,
			r.Ratio)
	case fills.LearntBefore:
		return rows(r.Lines) + " " + were(r.Lines) + " learnt from before: left out"
	case fills.NotThere:
		return "the row up to which was learnt is not in the file; " + rows(r.Lines) + " of days before it " + are(r.Lines) + " left out"
	case fills.NoMark:
		return rows(r.Lines) + " " + tells(r.Lines) + " of a lamp or a tap, and the bike file has no lamp_at or " +
			"reserve_tap for it: not used"
	}
	return ""
}

// rows names rows of a file: "row 3", "rows 3, 4 and 7", "rows 2 to 40".
func rows(lines []int) string {
	const most = 6 // that are named one by one
	n := len(lines)
	switch {
	case n == 1:
		return fmt.Sprintf("row %d", lines[0])
	case n > most:
		return fmt.Sprintf("%d rows from %d to %d", n, lines[0], lines[n-1])
	}
	var names []string
	for _, l := range lines[:n-1] {
		names = append(names, fmt.Sprint(l))
	}
	return fmt.Sprintf("rows %s and %d", strings.Join(names, ", "), lines[n-1])
}

func oneOrMore(one, more string) func([]int) string {
	return func(of []int) string {
		if len(of) == 1 {
			return one
		}
		return more
	}
}

var (
	tells  = oneOrMore("tells", "tell")
	stands = oneOrMore("stands", "stand")
	were   = oneOrMore("was", "were")
	are    = oneOrMore("is", "are")
)
