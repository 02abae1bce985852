package when_test

import (
	"testing"
	"time"

	"lastpump/cmd/lastpump/internal/words/when"
	"lastpump/fuel/clock"
)

// on gives an hour of a day of July 2026, the first being a Wednesday.
func on(day, hour, minute, second int) time.Time {
	return time.Date(2026, 7, day, hour, minute, second, 0, time.UTC)
}

// An early hour is rounded down and a late one up, so that who is there between them is not out of
// them; past midnight the late one has its day.
func TestBetween(t *testing.T) {
	for want, there := range map[string]clock.Times{
		"12:40–15:11":     {on(1, 12, 40, 59), on(1, 13, 0, 0), on(1, 15, 10, 1)},
		"22:10–Thu 00:40": {on(1, 22, 10, 0), on(1, 23, 0, 0), on(2, 0, 40, 0)},
	} {
		if got := when.Between(there); got != want {
			t.Errorf("%q, want %q", got, want)
		}
	}
}

// What is said of a pump, and by when to be there, in each of its states: with the first turn of a
// doubtful one the right way round, by what the likely run finds, and from the longest cell of the
// first screen to the shortest.
func TestOpen(t *testing.T) {
	there := clock.Times{on(5, 9, 0, 0), on(5, 9, 30, 0), on(5, 10, 30, 0)} // a Sunday
	for name, c := range map[string]struct {
		is               clock.Passing
		open, last, cell string
		shortest         string
	}{
		"always open":           {clock.Passing{State: clock.Open}, "open", "", "", ""},
		"open for hours":        {clock.Passing{State: clock.Open, Closes: on(5, 20, 0, 0)}, "open", "20:00", "", ""},
		"shuts soon":            {clock.Passing{State: clock.Open, Closes: on(5, 13, 0, 0)}, "open", "13:00", "by 13:00", "13:00"},
		"opens before likely":   {clock.Passing{State: clock.Doubtful, Turns: on(5, 9, 15, 0), Closes: on(5, 20, 0, 0)}, "doubtful till 09:15", "20:00", "doubtful till 09:15", "?09:15"},
		"opens after likely":    {clock.Passing{State: clock.Doubtful, Turns: on(5, 10, 0, 0), Opens: on(5, 10, 0, 0), Closes: on(5, 20, 0, 0), Wait: clock.Durations{time.Hour, 30 * time.Minute, 0}}, "doubtful till 10:00, wait 30 min", "20:00", "doubtful till 10:00", "?10:00"},
		"shuts after likely":    {clock.Passing{State: clock.Doubtful, Turns: on(5, 10, 0, 0), Closes: on(5, 10, 0, 0)}, "doubtful from 10:00", "10:00", "doubtful from 10:00", "?10:00"},
		"shuts before likely":   {clock.Passing{State: clock.Doubtful, Turns: on(5, 9, 15, 0), Opens: on(6, 7, 0, 0), Closes: on(6, 20, 0, 0)}, "doubtful from 09:15", "Mon 20:00", "doubtful from 09:15", "?09:15"},
		"unclear all the while": {clock.Passing{State: clock.Doubtful}, "doubtful", "", "doubtful", "?"},
		"turns to what nobody knows": {clock.Passing{State: clock.Doubtful, Turns: on(5, 9, 15, 0)}, "doubtful, turns 09:15", "",
			"doubtful, turns 09:15", "?09:15"},
		"not known": {clock.Passing{State: clock.NotKnown}, "hours not known", "", "ask", "ask"},
		"waits": {clock.Passing{State: clock.Shut, Opens: on(5, 14, 0, 0), Closes: on(5, 20, 0, 0), Wait: clock.Durations{0, 270 * time.Minute, 0}},
			"shut until 14:00, wait 4 h 30 min", "20:00", "shut until 14:00", "shut"},
		"in the morning": {clock.Passing{State: clock.Shut, Opens: on(6, 7, 0, 0), Closes: on(6, 20, 0, 0), Fill: clock.InMorning},
			"shut until Mon 07:00, fill in the morning", "Mon 20:00", "shut until Mon 07:00", "shut"},
		"left out":        {clock.Passing{State: clock.Shut, Opens: on(6, 7, 0, 0), Closes: on(6, 20, 0, 0), LongShut: true}, "shut until Mon 07:00", "", "shut until Mon 07:00", "shut"},
		"left out before": {clock.Passing{State: clock.Open, LongShut: true}, "shut at an hour at which this ride may get there", "", "", ""},
		"shut for good":   {clock.Passing{State: clock.Shut, LongShut: true}, "shut for the next 14 days", "", "shut", "shut"},
	} {
		c.is.There = there
		cells := when.Cells(&c.is)
		if got := [4]string{when.Open(&c.is), when.LastHour(&c.is), cells[0], cells[2]}; got != [4]string{c.open, c.last, c.cell, c.shortest} {
			t.Errorf("%s: %q, want %q", name, got, [4]string{c.open, c.last, c.cell, c.shortest})
		}
	}
	if c := when.Cells(nil); c != [3]string{} {
		t.Errorf("%q of a ride without hours", c)
	}
}

func TestLasting(t *testing.T) {
	for d, want := range map[time.Duration][2]string{
		40 * time.Minute: {"40 min", "0:40"}, 2 * time.Hour: {"2 h", "2:00"}, 135*time.Minute + 29*time.Second: {"2 h 15 min", "2:15"},
		59*time.Minute + 31*time.Second: {"1 h", "1:00"},
	} {
		if got := [2]string{when.Lasting(d), when.Clocked(d)}; got != want {
			t.Errorf("%v: %q, want %q", d, got, want)
		}
	}
}

// On a folded line stands what is not sure of a pump, or that it shuts within hours; nothing of one
// that is open for hours, nor of a ride without any.
func TestFolded(t *testing.T) {
	there := clock.Times{on(5, 9, 0, 0), on(5, 9, 30, 0), on(5, 10, 30, 0)}
	for _, c := range []struct {
		is   *clock.Passing
		want string
	}{
		{nil, ""},
		{&clock.Passing{There: there, State: clock.Open}, ""},
		{&clock.Passing{There: there, State: clock.Open, Closes: on(5, 20, 0, 0)}, ""},
		{&clock.Passing{There: there, State: clock.Open, Closes: on(5, 13, 0, 0)}, "be there by 13:00"},
		{&clock.Passing{There: there, State: clock.Doubtful, Turns: on(5, 9, 15, 0), Closes: on(5, 20, 0, 0)}, "doubtful till 09:15"},
		{&clock.Passing{There: there, State: clock.Shut, Opens: on(5, 14, 0, 0)}, "shut until 14:00"},
		{&clock.Passing{There: there, State: clock.NotKnown}, "hours not known"},
	} {
		if got := when.Folded(c.is); got != c.want {
			t.Errorf("%q, want %q", got, c.want)
		}
	}
}
