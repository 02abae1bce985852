package when_test

import (
	"strings"
	"testing"
	"time"

	"lastpump/cmd/lastpump/internal/words/when"
	"lastpump/fuel/clock"
)

// 1 July 2026 is a Wednesday.
func TestNotesOnHours(t *testing.T) {
	day := time.Date(2026, 7, 1, 0, 0, 0, 0, time.UTC)
	on := map[int]clock.OClock{5: {Hour: 7, Minute: 15}, 2: {Hour: 10}}
	days := func(n int) (all []time.Time) {
		for i := range n {
			all = append(all, day.AddDate(0, 0, i))
		}
		return all
	}
	for got, want := range map[string]string{
		when.TodayTaken(day, false):                              "no --date is given: you are taken to leave today, Wed 2026-07-01",
		when.TodayTaken(day, true):                               "no --date is given: --now is taken as an hour of today, Wed 2026-07-01",
		when.MorningsTaken(clock.OClock{Hour: 8}):                "no --depart is given: you are taken to leave at 08:00 on the mornings to come",
		strings.Join(when.DaysCounted(on, days(4), false), "; "): `--depart "5 07:15": the ride has no day 5, it has 4`,
		strings.Join(when.DaysCounted(on, days(5), false), "; "): "",
		strings.Join(when.DaysCounted(on, days(4), true), "; "): `--depart "2 10:00": days are counted from --from, so that is Thu 2026-07-02; ` +
			`--depart "5 07:15": from --from on the ride has no day 5, it has 4`,
		strings.Join(when.DaysCounted(nil, days(4), true), "; "): "",
	} {
		if got != want {
			t.Errorf("%q, want %q", got, want)
		}
	}
}
