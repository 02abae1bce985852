// Package hours reads opening hours as petrol stations write them in OpenStreetMap and
// tells when a place is open. Start with [Read]; then ask [Hours.At], [Hours.Between] or
// [Hours.NextOpen].
//
// The idea that surprises: there are three states. Who rides up to a pump by a guess may
// find it shut, so where a value can be read in two ways and they differ, the state is
// [Unclear], and a value that is not wholly understood is not understood at all: [Read]
// gives a [NotUnderstood]. It never guesses open.
//
// A place has no zone of its own here: what counts is the clock on the wall in the
// location of the times that are asked with. An hour that the clocks repeat has its state
// twice, one that they leap over has none.
//
// # What is read
//
// Rules joined by ";" or, before days, by ","; each has months and dates, weekdays and PH, then
// times, or off, closed or unknown. The last rule that covers a minute wins. A rule joined by
// ";" that is for a day drops those before it on that day, and what they spill into it past
// midnight; one joined by "," adds; off only closes. After "+" it is unclear, for as long as [2]
// takes it. 24/7 is open at all times, unknown unclear.
//
// Unclear is, too, where these ways to read a value differ: a time without days after a rule with
// days, and days without months after a rule with months, are for all days or months, or for
// those of the rule before; and what a rule spills past midnight from a day on which another has put
// it out of force (Mo-Su 18:00-02:00; Fr off: is it open on Saturday at one?) counts, or does not.
//
// On a day that is said to be a holiday only rules for PH are sure; on others these count for
// nothing.
//
// # Limits
//
// Sunrise and the like, weeks, years, school holidays, Easter, the n-th weekday of every month,
// fallback rules ("||") and comments are not understood: of 1,027 stations in five
// countries next to none had any.
//
// # Sources
//
//	[1] The specification of OpenStreetMap's opening_hours.
//	[2] The program opening_hours 3.15.0 for JavaScript, which the tests ask: for rules on
//	    which [1] is silent its reading is taken where it is not the more hopeful one.
package hours

import (
	"slices"
	"time"
)

// A State says whether a place is open at a time.
type State uint8

// The states. A place whose hours say nothing of a time is shut.
const (
	Shut State = iota
	Open
	Unclear // it may be either
)

// Hours are opening hours that are understood. The zero value is shut at all times.
type Hours struct {
	readings [][]rule // one or two ways to read them
	always   bool     // 24/7, and nothing else
	holidays []int    // days, numbered as clock does; sorted
}

// Always tells whether a place is open at all times: its hours are 24/7 alone.
func (h Hours) Always() bool { return h.always }

// NamesHolidays tells whether something is said of public holidays (PH). It counts only on days
// given to [Hours.Observing].
func (h Hours) NamesHolidays() bool {
	return len(h.readings) > 0 && slices.ContainsFunc(h.readings[0], func(r rule) bool { return r.holidays })
}

// Observing gives the hours with public holidays on the given days (their hour is ignored). On a
// holiday the rules for PH are sure; what others open is unclear, as nobody has said that it is so
// on a holiday, too. 24/7 stays open where nothing is said of PH.
func (h Hours) Observing(holidays ...time.Time) Hours {
	days := make([]int, len(holidays))
	for i, t := range holidays {
		days[i], _ = clock(t)
	}
	slices.Sort(days)
	h.holidays = days
	return h
}

// A Why says why hours are not understood.
type Why string

// The reasons.
const (
	Empty    Why = "empty"      // there is nothing to read
	Long     Why = "long"       // over [MaxLength]
	Words    Why = "words"      // words that are none of the syntax
	Comment  Why = "comment"    // a comment in quotes, which may take back what stands before it
	Fallback Why = "fallback"   // rules that count where others say nothing: ||
	Sun      Why = "sun"        // sunrise, sunset, dawn, dusk
	Week     Why = "week"       // weeks of the year
	Year     Why = "year"       // years
	School   Why = "school"     // school holidays: SH
	Nth      Why = "nth"        // the n-th weekday of every month
	NoTimes  Why = "no times"   // days of which no times are given
	BadTime  Why = "bad time"   // a time or a span of time that cannot be, or is read in several ways
	BadDate  Why = "bad date"   // a date that cannot be, or is not there every year
	Unwonted Why = "unexpected" // signs in an order that is none of the syntax
)

// AllWhys lists the reasons.
func AllWhys() []Why {
	return []Why{Empty, Long, Words, Comment, Fallback, Sun, Week, Year, School, Nth, NoTimes, BadTime, BadDate, Unwonted}
}

// MaxLength is how many bytes of hours are read. A value in OpenStreetMap has 255 characters of up
// to four bytes at most (its API, version 0.6); more is something else.
const MaxLength = 1020

// A NotUnderstood is the error of [Read].
type NotUnderstood struct {
	Why  Why
	Text string // the value from where it stops making sense, as written; "" at its end
}

func (e *NotUnderstood) Error() string {
	if e.Text == "" {
		return "hours not understood: " + string(e.Why)
	}
	return "hours not understood: " + string(e.Why) + ": " + e.Text
}
