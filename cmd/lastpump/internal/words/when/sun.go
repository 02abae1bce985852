package when

import (
	"fmt"
	"time"

	"lastpump/route/sun"
)

// What to do about a place or a number of days that sun cannot take.
const (
	HintPlace = "write latitude and longitude in degrees: lastpump sun 41.43,75.99"
	HintDays  = "one day is --days 1, a year --days 366"
)

// SunCaution ends a table of the sun's times.
const SunCaution = "On a flat horizon: behind a mountain the sun goes sooner. Dawn and dusk are the sun 6° down."

// SunState says what the sun does on a day without a rise and a set; "" for one that has either.
func SunState(s sun.State) string {
	switch s {
	case sun.AllDay:
		return "up all day"
	case sun.AllNight:
		return "down all day"
	}
	return ""
}

// SunZone says which days and times a table has: those of a zone, by its name and by how far
// it is from UTC from its first day to its last.
func SunZone(first, last time.Time) string {
	zone := first.Location()
	if zone == time.UTC {
		return "Days and times are UTC; --timezone gives them in another zone."
	}
	a, b := first.Format("-07:00"), last.Format("-07:00")
	switch {
	case zone.String() == "UTC"+a:
		return fmt.Sprintf("Days and times are %s.", zone)
	case a != b:
		return fmt.Sprintf("Days and times are those of %s, UTC%s on the first day and UTC%s on the last.", zone, a, b)
	}
	return fmt.Sprintf("Days and times are those of %s, UTC%s.", zone, a)
}
