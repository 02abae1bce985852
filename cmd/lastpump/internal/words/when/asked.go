package when

import (
	"fmt"
	"maps"
	"slices"
	"time"

	"lastpump/fuel/clock"
)

// dayOf writes a day with its weekday, which shops go by.
func dayOf(t time.Time) string { return t.Format("Mon 2006-01-02") }

// oClock writes a time of day.
func oClock(c clock.OClock) string { return fmt.Sprintf("%02d:%02d", c.Hour, c.Minute) }

// TodayTaken says that no day is given, and which one is taken.
func TodayTaken(day time.Time, onTheWay bool) string {
	if onTheWay {
		return fmt.Sprintf("no --date is given: --now is taken as an hour of today, %s", dayOf(day))
	}
	return fmt.Sprintf("no --date is given: you are taken to leave today, %s", dayOf(day))
}

// MorningsTaken says at which hour days are begun of which none is said.
func MorningsTaken(at clock.OClock) string {
	return fmt.Sprintf("no --depart is given: you are taken to leave at %s on the mornings to come", oClock(at))
}

// DaysCounted says which hours of leaving are of no day of the ride and, where days are counted from
// where the rider is, on which day each of the others falls. leaves are when the days are begun.
func DaysCounted(on map[int]clock.OClock, leaves []time.Time, fromHere bool) (notes []string) {
	for _, day := range slices.Sorted(maps.Keys(on)) {
		said := fmt.Sprintf("--depart %q: ", fmt.Sprintf("%d %s", day, oClock(on[day])))
		switch {
		case day > len(leaves) && fromHere:
			notes = append(notes, said+fmt.Sprintf("from --from on the ride has no day %d, it has %d", day, len(leaves)))
		case day > len(leaves):
			notes = append(notes, said+fmt.Sprintf("the ride has no day %d, it has %d", day, len(leaves)))
		case fromHere:
			notes = append(notes, said+"days are counted from --from, so that is "+dayOf(leaves[day-1]))
		}
	}
	return notes
}
