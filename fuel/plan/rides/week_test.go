package rides_test

import (
	"fmt"
	"math/rand/v2"
	"strings"
	"time"
)

// A week is when a pump is open, by the clock of its place.
type week struct {
	known bool        // else nobody knows, and it is open whenever one comes
	days  [7][][2]int // from Sunday on: minutes from one midnight, from and to
	zone  *time.Location
}

// weekdays are those of an opening_hours value, from Sunday on.
var weekdays = []string{"Su", "Mo", "Tu", "We", "Th", "Fr", "Sa"}

// String writes a week as a list of stops has it.
func (w *week) String() string {
	if !w.known {
		return ""
	}
	var all []string
	for d, spans := range w.days {
		var times []string
		for _, s := range spans {
			times = append(times, fmt.Sprintf("%02d:%02d-%02d:%02d", s[0]/60, s[0]%60, s[1]/60, s[1]%60))
		}
		if times == nil {
			times = []string{"off"}
		}
		all = append(all, weekdays[d]+" "+strings.Join(times, ","))
	}
	return strings.Join(all, "; ")
}

// drawWeek draws the hours of a pump: most are open at all hours or every day, some are shut on
// a day or two, some at noon, some open late, and of some nobody knows.
func drawWeek(rnd *rand.Rand, zone *time.Location) *week {
	w := &week{known: true, zone: zone}
	every := func(spans ...[2]int) {
		for d := range w.days {
			w.days[d] = spans
		}
	}
	opens, shuts := 60*(5+rnd.IntN(4)), 60*(16+rnd.IntN(7))+15*rnd.IntN(4)
	every([2]int{opens, shuts})
	switch rnd.IntN(12) {
	case 0, 1:
		w.known = false
	case 2, 3, 4, 5:
		every([2]int{0, 24 * 60})
	case 6:
		w.days[0] = nil
	case 7: // and Saturday is short
		w.days[0], w.days[6] = nil, [][2]int{{opens, 12 * 60}}
	case 8:
		w.days[rnd.IntN(7)] = nil
	case 9:
		every([2]int{opens, 12 * 60}, [2]int{13*60 + 30*rnd.IntN(4), shuts})
	case 10:
		every([2]int{60 * (9 + rnd.IntN(4)), shuts})
	}
	return w
}

// opens gives when somebody who is there can fill: at once, or when it next opens; zero where it
// does not within 14 days.
func (w *week) opens(t time.Time) time.Time {
	if w == nil || !w.known {
		return t
	}
	local := t.In(w.zone)
	y, m, d := local.Date()
	for day := range 15 {
		for _, s := range w.days[(int(local.Weekday())+day)%7] {
			from, to := time.Date(y, m, d+day, 0, s[0], 0, 0, w.zone), time.Date(y, m, d+day, 0, s[1], 0, 0, w.zone)
			if t.Before(to) {
				if from.After(t) {
					return from
				}
				return t
			}
		}
	}
	return time.Time{}
}
