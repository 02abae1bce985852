package text

import (
	"io"
	"time"

	"lastpump/cmd/lastpump/internal/report/sheet"
	"lastpump/cmd/lastpump/internal/words/when"
	"lastpump/route/sun"
)

// A SunDay is a day, given by an instant of it, and what the sun does on it.
type SunDay struct {
	Date time.Time
	sun.Times
}

// WriteSun writes when the sun rises and sets on days that follow each other, in their zone.
func WriteSun(w io.Writer, days []SunDay) error {
	s := sheet.NewText(w)
	var rows [][]string
	for _, d := range days {
		zone := d.Date.Location()
		at := func(t time.Time) string {
			if t.IsZero() {
				return "—"
			}
			return minute(t.In(zone)).Format("15:04")
		}
		rows = append(rows, []string{d.Date.Format(time.DateOnly), at(d.Dawn), at(d.Rise), at(d.Set), at(d.Dusk),
			when.SunState(d.State)})
	}
	s.Table([]sheet.Column{sheet.Words("day"), sheet.Number("dawn"), sheet.Number("sunrise"), sheet.Number("sunset"),
		sheet.Number("dusk"), sheet.Words("sun")}, rows)
	s.Line("", when.SunZone(days[0].Date, days[len(days)-1].Date))
	s.Line("", when.SunCaution)
	return s.Flush()
}

// minute rounds to the minute, within the day.
func minute(t time.Time) time.Time {
	if r := t.Round(time.Minute); r.Day() == t.Day() {
		return r
	}
	return t
}
