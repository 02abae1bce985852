// Package when has the words of what goes by the clock: the hours of pumps, the sun.
package when

import (
	"fmt"
	"strings"
	"time"

	"lastpump/fuel/stop"
	"lastpump/fuel/stop/hours"
)

// NotUnderstood says that opening hours are not understood, and why.
func NotUnderstood(n *hours.NotUnderstood) string {
	return "hours not understood: ask. " + unread(n)
}

// unread says what of opening hours is not read, in a sentence.
func unread(n *hours.NotUnderstood) string {
	if n.Why == hours.Unwonted && n.Text == "" {
		return "They end too early."
	}
	why, ok := map[hours.Why]string{
		hours.Empty:    "There are none.",
		hours.Long:     "They are longer than opening hours on a map can be.",
		hours.Words:    "Nobody but a person understands %.40q.",
		hours.Comment:  "The comment %.40s may change them.",
		hours.Fallback: "What holds else is not read: %.40q.",
		hours.Sun:      "They go by the sun: %.40q.",
		hours.Week:     "They go by weeks of the year: %.40q.",
		hours.Year:     "They name a year, or an hour without a colon: %.40q.",
		hours.School:   "They go by school holidays: %.40q.",
		hours.Nth:      "They go by one weekday of the month: %.40q.",
		hours.NoTimes:  "No times are given for %.40q.",
		hours.BadTime:  "No such time, or one that can be read in several ways: %.40q.",
		hours.BadDate:  "No such date, or one that is not there every year: %.40q.",
		hours.Unwonted: "They make no sense from here on: %.40q.",
	}[n.Why]
	if !ok {
		return "Something in them is not read."
	}
	if strings.Contains(why, "%") {
		return fmt.Sprintf(why, n.Text)
	}
	return why
}

// HoursOfDay says what hours are on a day: its spans, clipped to it.
func HoursOfDay(day time.Time, spans []hours.Span) string {
	var times []string
	for _, s := range spans {
		until := s.To.Format("15:04")
		if s.To.Sub(day) == 24*time.Hour {
			until = "24:00"
		}
		text := s.From.Format("15:04") + "–" + until
		if s.State == hours.Unclear {
			text = "not clear " + text
		}
		times = append(times, text)
	}
	if len(times) == 0 {
		times = []string{"shut"}
	}
	return day.Format("Mon 2006-01-02  ") + strings.Join(times, ", ")
}

// HoursFoot says what there is to know of the days that are printed: what it means that a time is
// not clear, and how public holidays are taken.
func HoursFoot(h hours.Hours, holidays int, unclear bool) (lines []string) {
	if unclear {
		lines = append(lines, "Not clear: it may be open or shut then; ask.")
	}
	switch {
	case h.NamesHolidays() && holidays == 0:
		lines = append(lines, "Public holidays (PH) are taken as ordinary days: name them with --holiday 2026-12-25.")
	case !h.NamesHolidays() && !h.Always() && holidays > 0:
		lines = append(lines, "Nothing is said of public holidays (PH): on these what is else open is not clear.")
	}
	return lines
}

// HoursToAsk names the stops of which the opening hours are not understood, in one line; none where
// there are none.
func HoursToAsk(stops []stop.Stop) []string {
	const named = 5
	var names []string
	for _, s := range stops {
		if _, err := hours.Read(s.Hours); s.Hours != "" && err != nil {
			names = append(names, s.Name)
		}
	}
	switch {
	case len(names) == 0:
		return nil
	case len(names) > named:
		names = append(names[:named], fmt.Sprintf("%d more", len(names)-named))
	}
	return []string{"hours not understood, ask: " + strings.Join(names, ", ") + "; they are written as Mo-Sa 08:00-20:00"}
}
