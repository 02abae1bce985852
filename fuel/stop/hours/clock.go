package hours

import (
	"time"
)

const secondsOfDay = 24 * 60 * 60

// clock gives the day, numbered from 1970-01-01, and the second of it that the clock on the
// wall shows at an instant.
func clock(t time.Time) (day, second int) {
	_, offset := t.Zone()
	s := t.Unix() + int64(offset)
	second = int((s%secondsOfDay + secondsOfDay) % secondsOfDay)
	return int((s - int64(second)) / secondsOfDay), second
}

// weekdayOf gives the weekday of a numbered day, 0 for Sunday. 1970-01-01 was a Thursday.
func weekdayOf(day int) int { return ((day+4)%7 + 7) % 7 }
