package hours_test

import (
	"errors"
	"fmt"
	"strings"
	"testing"
	"time"

	"lastpump/fuel/stop/hours"
)

// What is not in the rules that the package comment gives is not understood, and the reason names what.
func TestNotUnderstood(t *testing.T) {
	for value, want := range map[string]hours.NotUnderstood{
		"":                                  {hours.Empty, ""},
		" \t":                               {hours.Empty, ""},
		strings.Repeat("08:00-12:00,", 100): {hours.Long, ""},
		"24/7 kylmäasema":                   {hours.Words, "kylmäasema"},
		"6.00 to 9.00 Hr":                   {hours.Words, "to 9.00 Hr"},
		"Mo-Fr 8:00-18:00h":                 {hours.Words, "h"},
		"Monday 08:00-12:00":                {hours.Words, "Monday 08:00-12:00"},
		"easter off":                        {hours.Words, "easter off"},
		"8:00 am-6:00 pm":                   {hours.Words, "am-6:00 pm"},
		`24/7 "ring the bell"`:              {hours.Comment, `"ring the bell"`},
		`Mo-Fr 08:00-12:00; Sa off "by agreement"`: {hours.Comment, `"by agreement"`},
		`Mo-Fr 08:00-12:00 || unknown`:             {hours.Fallback, "|| unknown"},
		"sunrise-sunset":                           {hours.Sun, "sunrise-sunset"},
		"08:00-sunset":                             {hours.Sun, "sunset"},
		"week 1-20 Mo-Fr 08:00-12:00":              {hours.Week, "week 1-20 Mo-Fr 08:00-12:00"},
		"2026 Jan 1-Feb 2 off":                     {hours.Year, "2026 Jan 1-Feb 2 off"},
		"Mo-Fr 08:00-12:00; SH off":                {hours.School, "SH off"},
		"Mo[1] 08:00-12:00":                        {hours.Nth, "Mo[1] 08:00-12:00"},
		"Mo-Fr":                                    {hours.NoTimes, "Mo-Fr"},
		"Apr-Oct; Mo 08:00-12:00":                  {hours.NoTimes, "Apr-Oct; Mo 08:00-12:00"},
		"Mo-Fr 24/7":                               {hours.Unwonted, "24/7"},
		"24/7, Sa off":                             {hours.Unwonted, "Sa off"},
		"Mo-Fr 24:00-24:00":                        {hours.BadTime, "24:00-24:00"},
		"25:00-26:00":                              {hours.BadTime, "25:00-26:00"},
		"08:60-12:00":                              {hours.BadTime, "08:60-12:00"},
		"00:00+":                                   {hours.BadTime, "00:00+"},
		"08:00-26:00":                              {hours.BadTime, "26:00"},
		"18:00+ off":                               {hours.BadTime, "18:00+ off"},
		"18:00+,08:00-12:00":                       {hours.BadTime, "18:00+,08:00-12:00"},
		"Dec 32 off":                               {hours.BadDate, "32 off"},
		"Feb 29 off":                               {hours.BadDate, "29 off"},
		"Dec 26-24 off":                            {hours.BadDate, "26-24 off"},
		"Apr-Oct 15 08:00-12:00":                   {hours.BadDate, "Oct 15 08:00-12:00"},
		"Mo-Fr 08-12":                              {hours.Unwonted, "08-12"},
		"Mo-Fr 0800-1200":                          {hours.Year, "0800-1200"},
		"Mo-Fr 08:00":                              {hours.Unwonted, ""},
		"Mo-Fr 08:00-12:00 14:00-18:00":            {hours.Unwonted, "14:00-18:00"},
		"Mo-Fr 08:00-12:00 / 14:00-18:00":          {hours.Unwonted, "/ 14:00-18:00"},
		"Mo-Fr 08:00-12:00,":                       {hours.Unwonted, ""},
		"Mo-Fr 08:00-12:00;; Sa off":               {hours.Unwonted, "; Sa off"},
		"Mo Fr 08:00-12:00":                        {hours.Unwonted, "Fr 08:00-12:00"},
		"Mo-Fr 08:00-12:00 unknown":                {hours.Unwonted, "unknown"},
	} {
		_, err := hours.Read(value)
		var not *hours.NotUnderstood
		if !errors.As(err, &not) || *not != want {
			t.Errorf("%q: %v, want %v", value, err, &want)
		}
	}
}

// In the week from Monday 2024-07-01. Source: the rules in the package comment. Where the program
// opening_hours is the more hopeful, its answer stands beside.
func TestCareful(t *testing.T) {
	for _, c := range []struct{ value, at, want string }{
		{"Mo-Fr 08:00-12:00; 14:00-18:00", "Mo 09:00", "open"},
		{"Mo-Fr 08:00-12:00; 14:00-18:00", "Mo 15:00", "open"},
		{"Mo-Fr 08:00-12:00; 14:00-18:00", "Sa 15:00", "unclear"}, // there: open
		{"Mo-Fr 08:00-12:00; 14:00-18:00", "Sa 09:00", "shut"},
		{"Mo-Fr 08:00-12:00; 14:00-18:00; Sa off", "Sa 15:00", "shut"},
		{"08:00-12:00; 14:00-18:00", "Mo 09:00", "shut"},                     // the last without days drops all
		{"Nov-Mar Mo-Fr 08:00-12:00; Sa 09:00-10:00", "Sa 09:30", "unclear"}, // there: open; only in winter?
		{"Jan-Dec Mo-Fr 08:00-12:00; Sa 09:00-10:00", "Sa 09:30", "open"},    // all the same
		{"Mo-Su 18:00-02:00; Fr off", "Fr 01:00", "shut"},                    // Thursday's spill is dropped
		{"Mo-Su 18:00-02:00; Fr off", "Sa 01:00", "unclear"},                 // there: open, though it is off on Friday
		{"Mo-Su 18:00-02:00; Fr 10:00-12:00", "Sa 01:00", "unclear"},         // there: open
		{"Mo-Su 18:00-02:00, Fr 10:00-12:00", "Sa 01:00", "open"},            // a comma adds
		{"Mo-Su 18:00-02:00; Fr 19:00-01:30 off", "Sa 01:00", "shut"},        // off only closes
		{"Mo-Su 18:00-02:00; Fr 19:00-01:30 off", "Sa 01:45", "open"},
		{"Mo-Su 08:00-20:00+", "Mo 21:00", "unclear"},
		{"Mo-Su 08:00-15:00+", "Mo 21:00", "unclear"},
		{"Mo-Su 08:00+", "Mo 09:00", "unclear"},
		{"unknown", "Mo 09:00", "unclear"},
		{"Mo-Fr 08:00-18:00; Sa unknown", "Sa 09:00", "unclear"},
		{"Mo-Fr 08:00-18:00; Jul 1 off", "Mo 09:00", "shut"},
		{"Mo-Fr 08:00-18:00; Jul Mo[1]-Jul 3 off", "Mo 09:00", "not understood"}, // its order changes with the year
		{"Jun Su[-1]-Oct Su[-1] 08:00-18:00", "Mo 09:00", "open"},                // from 30 June
		{"Jul Mo[1]-Oct Su[-1] 08:00-18:00", "Mo 09:00", "open"},                 // from 1 July
		{"Mo 20:00-21:59+", "Tu 07:58", "unclear"},                               // source for how long: opening_hours 3.15.0
		{"Mo 20:00-21:59+", "Tu 07:59", "shut"},
		{"Mo 20:00-22:00+", "Tu 05:59", "unclear"},
		{"Mo 20:00-22:00+", "Tu 06:00", "shut"},
		{"Mo 08:00-17:00+", "Tu 02:59", "unclear"},
		{"Mo 08:00-16:59+", "Tu 00:00", "shut"},
		{"Jul Tu[1]-Oct Su[-1] 08:00-18:00", "Mo 09:00", "shut"}, // from 2 July
	} {
		h, err := hours.Read(c.value)
		got := "not understood"
		if err == nil {
			got = said(h.At(weekday(t, c.at)))
		}
		if got != c.want {
			t.Errorf("%q %s: %s, want %s", c.value, c.at, got, c.want)
		}
	}
}

// Source: the rules in the package comment. Monday 1 July is a holiday.
func TestOnHolidaysOnlyRulesForThemAreSure(t *testing.T) {
	for _, c := range []struct{ value, at, want string }{
		{"24/7", "Mo 09:00", "open"},
		{"Mo-Fr 08:00-18:00", "Mo 09:00", "unclear"},
		{"Mo-Fr 08:00-18:00", "Mo 20:00", "shut"},
		{"Mo-Fr 08:00-18:00", "Tu 09:00", "open"},
		{"Mo-Fr 18:00-02:00", "Tu 01:00", "unclear"},
		{"08:00-18:00", "Mo 09:00", "unclear"},
		{"24/7; Sa off", "Mo 09:00", "open"},
		{"24/7; PH off", "Mo 09:00", "shut"},
		{"24/7; PH off", "Tu 09:00", "open"},
		{"PH off; 24/7", "Mo 09:00", "unclear"}, // opening_hours: open, as 24/7 comes last
		{"Mo-Fr 08:00-18:00; PH off", "Mo 09:00", "shut"},
		{"PH off; Mo-Fr 08:00-18:00", "Mo 09:00", "unclear"}, // opening_hours: open
		{"Mo-Fr 08:00-18:00; PH 10:00-12:00", "Mo 11:00", "open"},
		{"Mo-Fr 08:00-18:00; PH 10:00-12:00", "Mo 09:00", "shut"},
		{"Mo-Fr 08:00-18:00, PH 10:00-12:00", "Mo 11:00", "open"},
		{"Mo-Fr 08:00-18:00, PH 10:00-12:00", "Mo 09:00", "unclear"}, // opening_hours: open
		{"PH,Su 08:00-12:00", "Mo 09:00", "open"},
		{"PH,Su 08:00-12:00", "Tu 09:00", "shut"},
	} {
		h := must(t, c.value)
		if got := said(h.Observing(day(t, "2024-07-01").Add(5 * time.Hour)).At(weekday(t, c.at))); got != c.want {
			t.Errorf("%q %s: %s, want %s", c.value, c.at, got, c.want)
		}
		if h.NamesHolidays() != strings.Contains(c.value, "PH") || h.Always() != (c.value == "24/7") {
			t.Errorf("%q: names holidays %t, always %t", c.value, h.NamesHolidays(), h.Always())
		}
	}
}

func said(s hours.State) string {
	return map[hours.State]string{hours.Open: "open", hours.Shut: "shut", hours.Unclear: "unclear"}[s]
}

// weekday gives an hour of the week from Monday 2024-07-01: "Mo 09:00".
func weekday(t *testing.T, s string) time.Time {
	t.Helper()
	name, clock, _ := strings.Cut(s, " ")
	at, err := time.Parse("2006-01-02 15:04", "2024-07-0"+fmt.Sprint(strings.Index("MoTuWeThFrSaSu", name)/2+1)+" "+clock)
	if err != nil {
		t.Fatal(err)
	}
	return at
}
