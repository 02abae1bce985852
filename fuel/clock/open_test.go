package clock_test

import (
	"strings"
	"testing"
	"time"

	"lastpump/fuel/clock"
	"lastpump/route"
)

// A pump after 65 km of paved road, which take 1.0625, 1.583 and 2.3 h: 09:03:45, 09:35 and
// 10:18; the late run would have filled at 10:48, and 14 min beyond (a tenth of 2.3 h) it is
// 11:02.
func TestStatesAndWaits(t *testing.T) {
	const (
		none   = ""
		filled = "09:13:45 09:50:00 10:48:00" // 10, 15 and 30 min later
		past   = "09:03:45 09:35:00 10:18:00"
	)
	for _, c := range []struct {
		name                 string
		hours                clock.Hours
		state                clock.State
		turns, opens, closes string
		leaves               string // the pump
		late                 bool   // it is dry for the late run
	}{
		{"always", always, clock.Open, none, none, none, filled, false},
		{"not known", nil, clock.NotKnown, none, none, none, filled, false},
		{"unclear", unclear, clock.Doubtful, none, none, none, filled, false},
		{"long enough", daily(6, 12), clock.Open, none, none, "12:00", filled, false},
		{"not long enough beyond late", daily(6, 11), clock.Doubtful, "11:00", none, "11:00", filled, false},
		{"opens on the way", daily(10, 20), clock.Doubtful, "10:00", "10:00", "20:00", "10:10:00 10:15:00 10:48:00", false},
		{"shut, and they wait", daily(11, 20), clock.Shut, none, "11:00", "20:00", "11:10:00 11:15:00 11:30:00", false},
		{"shut for the late run", daily(6, 10), clock.Doubtful, "10:00", none, "10:00", filled, true}, // for a rider just before 10:00 fills,
		{"shut for too long", daily(22, 23), clock.Shut, none, "22:00", "23:00", past, true},
		{"shut for good", never, clock.Shut, none, none, none, past, true},
		{"of two zones", clock.Either(daily(6, 12), daily(7, 10)), clock.Doubtful, "10:00", none, "10:00",
			filled, false}, // unclear from 10:00 on
	} {
		got := clock.Reckon(along(ground(130, route.Paved), clock.DefaultManner(), pump(65, c.hours)))
		v := got.Passings[0]
		turns, opens, closes := shown(v.Turns, "15:04"), shown(v.Opens, "15:04"), shown(v.Closes, "15:04")
		if v.State != c.state || turns != c.turns || opens != c.opens || closes != c.closes || v.DryIfLate != c.late {
			t.Errorf("%s: %+v", c.name, v)
		}
		if long := c.leaves == past; v.LongShut != long || (v.Fill == clock.NoFill) != long {
			t.Errorf("%s: %+v", c.name, v)
		}
		var leaves []string
		for f, there := range got.Days[0].There { // as long again after the pump
			leaves = append(leaves, shown(there.Add(-v.There[f].Sub(got.Days[0].Leave)), time.TimeOnly))
		}
		if strings.Join(leaves, " ") != c.leaves {
			t.Errorf("%s: leaves at %v", c.name, leaves)
		}
		if left := v.There[clock.Likely].Add(v.Wait[clock.Likely] + 15*time.Minute); !v.LongShut &&
			shown(left, time.TimeOnly) != leaves[clock.Likely] {
			t.Errorf("%s: waits %v", c.name, v.Wait)
		}
	}
}

// The late run is no earlier for riding on than who fills just before it is there.
func TestLateIsNotBeforeWhoFills(t *testing.T) {
	got := clock.Reckon(along(ground(130, route.Paved), clock.DefaultManner(),
		pump(0.65, dailyMinutes(6*60, 8*60+1)))) // likely at 08:00:57, late at 08:01:23
	if v := got.Passings[0]; !v.DryIfLate || v.Fill != clock.OnArrival {
		t.Errorf("%+v", v)
	}
	// 129.35 km more, from 08:31:23: 1.99 h of likely riding, 2.587 h of slow.
	want := at(day(1, "08:00"), 0.013+0.01+0.5+1.99*1.3+1.99)
	if d := got.Days[0].There[clock.Late].Sub(want).Abs(); d > time.Second {
		t.Errorf("%v, want %v", got.Days[0].There, want)
	}
}

// shown gives an instant to the second, "" for none.
func shown(t time.Time, layout string) string {
	if t.IsZero() {
		return ""
	}
	return t.Round(time.Second).Format(layout)
}

// A wait of over 4 h between 22:00 and 06:00 is that night, at the pump; nobody leaves before
// the hour of the morning, nor before it opens, nor within 8 h.
func TestWaitThroughTheNight(t *testing.T) {
	for _, c := range []struct {
		leave string // 1 h 35 before the pump is reached
		opens int
		night bool
		next  time.Time // leaving, or filled
	}{
		{"14:35", 3, true, day(2, "08:00")},
		{"16:00", 5, true, day(2, "08:00")},
		{"13:00", 2, false, day(2, "02:15")}, // 4 h of it
		{"13:00", 23, false, day(1, "23:15")},
		{"22:25", 9, true, day(2, "09:00")},  // from midnight on: opens after the hour, waited for 9 h
		{"14:35", 5, false, day(1, "16:10")}, // 12 h 50, longer than anybody waits
		{"01:25", 8, false, day(1, "08:15")}, // 3 h to 6 h
	} {
		r := along(ground(1000, route.Paved), clock.DefaultManner(), pump(65, dailyMinutes(c.opens*60, c.opens*60+30)))
		r.Leaving.First, r.Nights = day(1, c.leave), []route.Metres{900000}
		got := clock.Reckon(r)
		v, d := got.Passings[0], got.Days[0]
		if (d.Night.By == clock.ByWait) != c.night {
			t.Errorf("%s, opens at %d: %+v", c.leave, c.opens, d)
			continue
		}
		if c.night && (d.To != 65000 || d.Night.Place != 0 || v.Fill != clock.InMorning || !got.Days[1].Leave.Equal(c.next)) {
			t.Errorf("%s, opens at %d: %+v, leaves %v", c.leave, c.opens, v, got.Days[1].Leave)
		}
		left := v.There[clock.Likely].Add(v.Wait[clock.Likely])
		if !v.LongShut {
			left = left.Add(15 * time.Minute)
		}
		if !c.night && !left.Round(time.Second).Equal(c.next) {
			t.Errorf("%s, opens at %d: filled at %v", c.leave, c.opens, left)
		}
	}
}

// Where the hours of a place are read in two zones they are doubtful where these differ.
func TestEither(t *testing.T) {
	h := clock.Either(daily(6, 12), daily(7, 13))
	for at, want := range map[string]clock.Openness{"05:59": clock.IsShut, "06:00": clock.Unclear, "07:00": clock.IsOpen,
		"12:00": clock.Unclear, "13:00": clock.IsShut} {
		if got, until := h(day(1, at)); got != want || !until.After(day(1, at)) {
			t.Errorf("%s: %v until %v", at, got, until)
		}
	}
	if clock.Either(always, nil) != nil {
		t.Error("hours that are not known are known")
	}
	is, until := clock.Either(always, daily(6, 12))(day(1, "07:00"))
	if is != clock.IsOpen || !until.Equal(day(1, "12:00")) {
		t.Errorf("%v until %v", is, until)
	}
}
