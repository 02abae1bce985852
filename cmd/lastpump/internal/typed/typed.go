// Package typed reads what riders type: hours, lengths of time and stays ([OClock], [Length],
// [Morning], [Stay], [Taken]), and figures ([Ride], [Reserve], [Cans], [Portion], [Thirst],
// [Day]). What may be read in two ways is refused.
//
// Every error of what a rider types of time is an [*input.ValueError].
package typed

import (
	"errors"
	"regexp"
	"strconv"
	"strings"
	"time"

	"lastpump/fuel"
	"lastpump/fuel/clock"
	"lastpump/fuel/plan/days"
	"lastpump/route"
	"lastpump/route/input"
)

// What to write instead.
const (
	hintOClock = "write it like 08:00, 0800, 8h30 or 8:30pm"
	hintLength = "write it like 7h30, 7:30, 1.5h or 90min"
	hintWhere  = `write "km 300", "186mi", or the name of a stop`
)

// clockForms are the ways to write a time of day: hours, minutes, and am or pm.
var clockForms = []*regexp.Regexp{
	regexp.MustCompile(`^(\d{1,2})[:.h](\d{2})\s*([ap]m)?$`), // 8:00, 8.30, 8h30, 8:30 pm
	regexp.MustCompile(`^(\d{1,2})\s*h()()$`),                // 8h
	regexp.MustCompile(`^(\d{1,2})()\s*([ap]m)$`),            // 8am
	regexp.MustCompile(`^(\d{1,2})(\d{2})\s*h?()$`),          // 0800, 800
}

// OClock reads a time of day: "8:00", "0800", "8h30", "8.30", "8 am". A bare "8" is refused:
// it may be a day.
func OClock(s string) (clock.OClock, error) {
	plain := strings.ReplaceAll(strings.ToLower(strings.TrimSpace(s)), ".m.", "m")
	for _, form := range clockForms {
		m := form.FindStringSubmatch(plain)
		if m == nil {
			continue
		}
		hour, _ := strconv.Atoi(m[1])
		minute, _ := strconv.Atoi("0" + m[2])
		if m[3] != "" {
			if hour < 1 || hour > 12 {
				return clock.OClock{}, input.BadValue(s, "is no time of day: am and pm have 1 to 12 hours", hintOClock)
			}
			if hour %= 12; m[3] == "pm" {
				hour += 12
			}
		}
		if hour > 23 || minute > 59 {
			return clock.OClock{}, input.BadValue(s, "is no time of day: they go from 00:00 to 23:59", hintOClock)
		}
		return clock.OClock{Hour: hour, Minute: minute}, nil
	}
	return clock.OClock{}, input.BadValue(s, "is no time of day", hintOClock)
}

// A Length may be in hours and minutes, in either alone, or with a colon.
var (
	hoursMinutes = regexp.MustCompile(`^(\d+)\s*(?:h|hr|hrs|hour|hours|:)\s*(\d{1,2})\s*(?:m|min|mins|minute|minutes)?$`)
	hoursAlone   = regexp.MustCompile(`^(\d+\.?\d*|\.\d+)\s*(?:h|hr|hrs|hour|hours)$`)
	minutesAlone = regexp.MustCompile(`^(\d+)\s*(?:m|min|mins|minute|minutes)$`)
	daysLong     = regexp.MustCompile(`^[\d.]+\s*(?:d|day|days)$`)
)

// longest is for how long a pump is asked about, and more than anybody stays: two weeks.
const longest = 14 * 24 * time.Hour

// Length reads a length of time: "7h30", "7:30", "1.5h", "90 min", "2 hours", and "0h".
func Length(s string) (time.Duration, error) {
	plain := strings.ToLower(strings.TrimSpace(s))
	d := time.Duration(-1)
	switch {
	case hoursMinutes.MatchString(plain):
		m := hoursMinutes.FindStringSubmatch(plain)
		minutes, _ := strconv.Atoi(m[2])
		if minutes > 59 {
			return 0, input.BadValue(s, "has over 59 minutes beside its hours", hintLength)
		}
		hours, _ := strconv.ParseFloat(m[1], 64)
		d = length(hours + float64(minutes)/60)
	case hoursAlone.MatchString(plain):
		hours, _ := strconv.ParseFloat(hoursAlone.FindStringSubmatch(plain)[1], 64)
		d = length(hours)
	case minutesAlone.MatchString(plain):
		minutes, _ := strconv.ParseFloat(minutesAlone.FindStringSubmatch(plain)[1], 64)
		d = length(minutes / 60)
	case daysLong.MatchString(plain):
		return 0, input.BadValue(s, "is in days, and a day is as long as it is ridden", "write hours, like 36h")
	case bare.MatchString(plain):
		return 0, input.BadValue(s, "has no unit", hintLength)
	}
	switch {
	case d < 0:
		return 0, input.BadValue(s, "is no length of time", hintLength)
	case d > longest:
		return 0, input.BadValue(s, "is over 14 days", hintLength)
	}
	return d, nil
}

var bare = regexp.MustCompile(`^\d+(\.\d+)?$`)

// length gives hours to the second; just over the longest where they are more.
func length(hours float64) time.Duration {
	if hours > longest.Hours() {
		return longest + 1
	}
	return (time.Duration(hours*3600 + 0.5)) * time.Second
}

// A Morning is an hour of leaving, on a day from 1 or, with Day 0, on every one.
type Morning struct {
	Day int
	At  clock.OClock
}

var onDay = regexp.MustCompile(`(?i)^(?:day\s*)?(\d{1,3})\s*[:,=]?\s+(\S.*)$`)

// ReadMorning reads "08:00", or "5 07:15" for the fifth day.
func ReadMorning(s string) (Morning, error) {
	const hint = `write 08:00 for every morning, or "5 07:15" for the fifth day`
	plain := strings.TrimSpace(s)
	at, err := OClock(plain)
	if err == nil {
		return Morning{At: at}, nil
	}
	m := onDay.FindStringSubmatch(plain)
	if m == nil {
		return Morning{}, reworded(s, err, hint)
	}
	if at, err = OClock(m[2]); err != nil {
		return Morning{}, reworded(s, err, hint)
	}
	day, _ := strconv.Atoi(m[1])
	if day < 1 {
		return Morning{}, input.BadValue(s, "names no day: the first is 1", hint)
	}
	return Morning{day, at}, nil
}

// reworded says of a whole text what is wrong with a part of it.
func reworded(whole string, err error, hint string) error {
	what := "is no time of day"
	var v *input.ValueError
	if errors.As(err, &v) {
		what = v.What
	}
	return input.BadValue(whole, what, hint)
}

var (
	stayAt = regexp.MustCompile(`(?i)^(.*?\S)\s+(?:at|@)\s+(\S.*)$`)
	over   = regexp.MustCompile(`(?i)^(.*?\S)\s+(?:over|in|for)\s+(\S.*)$`)
	placed = regexp.MustCompile(`(?i)^(km|kilometre|kilometer|mi|mile)s?\s*(\d+\.?\d*)$`)
)

// Where reads a place along the line, "km 300", "300", "186mi", or else the name of a stop.
func Where(s string) (days.Where, error) {
	plain := strings.TrimSpace(s)
	if m := placed.FindStringSubmatch(plain); m != nil {
		unit := "km"
		if strings.HasPrefix(strings.ToLower(m[1]), "mi") {
			unit = "mi"
		}
		plain = m[2] + unit
	}
	if km, ok := input.Number(plain); ok {
		if !(km >= 0 && km < 1e6) {
			return days.Where{}, input.BadValue(s, "is no place along the line", hintWhere)
		}
		return days.Where{At: route.Kilometres(km)}, nil
	}
	if at, err := fuel.ParseDistance(plain); err == nil {
		if at > 0 && at < 1000 {
			return days.Where{}, input.BadValue(s, "is under a kilometre", hintWhere)
		}
		return days.Where{At: at}, nil
	}
	if plain == "" {
		return days.Where{}, input.BadValue(s, "is no place", hintWhere)
	}
	return days.Where{Stop: input.OneLine(plain)}, nil
}

// Stay reads a halt: "1h30 at km 300", "2h at Kembil".
func Stay(s string) (days.Halt, error) {
	const hint = `write "1h30 at km 300", or "2h at" and the name of a stop`
	m := stayAt.FindStringSubmatch(strings.TrimSpace(s))
	if m == nil {
		return days.Halt{}, input.BadValue(s, "does not say how long where", hint)
	}
	long, err := Length(m[1])
	if err != nil {
		return days.Halt{}, err
	}
	if long == 0 {
		return days.Halt{}, input.BadValue(s, "is no halt: it takes no time", hint)
	}
	where, err := Where(m[2])
	return days.Halt{Where: where, For: long}, err
}

// Taken reads how long a distance took: "7h30 over 210 km".
func Taken(s string) (days.Took, error) {
	const hint = `write "7h30 over 210 km", or "7h30 over 130 mi"`
	m := over.FindStringSubmatch(strings.TrimSpace(s))
	if m == nil {
		return days.Took{}, input.BadValue(s, "does not say how long over what distance", hint)
	}
	long, err := Length(m[1])
	if err != nil {
		return days.Took{}, err
	}
	d, err := fuel.ParseDistance(m[2])
	if err != nil {
		return days.Took{}, err
	}
	if long == 0 || d < 1000 {
		return days.Took{}, input.BadValue(s, "measures nothing: it is too short", hint)
	}
	return days.Took{Time: long, Over: d}, nil
}
