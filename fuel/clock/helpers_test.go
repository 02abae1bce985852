package clock_test

import (
	"testing"
	"time"

	"lastpump/fuel/clock"
	"lastpump/fuel/leg"
	"lastpump/route"
	"lastpump/testdata/kit"

	"github.com/paulmach/orb"
)

// utc is the zone of most rides here. They are ridden along the meridian of Greenwich from
// the equator north. On 1 September the equation of time is nought (Astronomical Almanac), so
// the sun sets at 18:03:30 on the equator: half the disc and refraction are 3.5 min. At 3.3° N
// and a declination of 8.3° it sets asin(tan 3.3° tan 8.3°) = 0.48° or 2 min later.
var utc = time.UTC

// day gives a time of a day of September 2026.
func day(d int, clock string) time.Time {
	t, err := time.ParseInLocation("15:04", clock, utc)
	if err != nil {
		panic(err)
	}
	return time.Date(2026, 9, d, t.Hour(), t.Minute(), 0, 0, utc)
}

// ground gives the runs of a line: kilometres and what they are.
func ground(pairs ...any) (runs []route.Run) {
	at := route.Metres(0)
	for i := 0; i < len(pairs); i += 2 {
		km := route.Kilometres(float64(pairs[i].(int)))
		runs = append(runs, route.Run{From: at, To: at + km, Ridden: km, RiddenLow: km * 0.9, RiddenHigh: km * 1.1,
			Ground: pairs[i+1].(route.Ground)})
		at += km
	}
	return runs
}

// along gives a ride over the whole of some runs, leaving on 1 September at 08:00.
func along(runs []route.Run, m clock.Manner, places ...clock.Place) clock.Ride {
	return clock.Ride{
		Pacing: clock.NewPacing(runs, m), To: leg.End{At: runs[len(runs)-1].To}, Places: places,
		Leaving: clock.Leaving{First: day(1, "08:00"), Every: clock.OClock{Hour: 8}}, Wait: clock.DefaultWait,
		Point: func(at route.Metres) orb.Point { return orb.Point{0, at.Kilometres() / 111.195} },
		Zone:  func(route.Metres) *time.Location { return utc },
	}
}

// pump gives a place on the line that is filled at.
func pump(km float64, h clock.Hours) clock.Place {
	return clock.Place{End: leg.End{At: route.Kilometres(km)}, Use: clock.Filled, Hours: h}
}

// daily gives hours that are the same every day, in UTC: from one hour to another.
func daily(from, to int) clock.Hours { return dailyMinutes(from*60, to*60) }

// dailyMinutes is daily, from and to a minute of the day.
func dailyMinutes(from, to int) clock.Hours {
	return func(t time.Time) (clock.Openness, time.Time) {
		y, m, d := t.UTC().Date()
		at := func(d, minute int) time.Time { return time.Date(y, m, d, 0, minute, 0, 0, utc) }
		switch {
		case t.Before(at(d, from)):
			return clock.IsShut, at(d, from)
		case t.Before(at(d, to)):
			return clock.IsOpen, at(d, to)
		}
		return clock.IsShut, at(d+1, from)
	}
}

func always(time.Time) (clock.Openness, time.Time)  { return clock.IsOpen, time.Time{} }
func unclear(time.Time) (clock.Openness, time.Time) { return clock.Unclear, time.Time{} }
func never(time.Time) (clock.Openness, time.Time)   { return clock.IsShut, time.Time{} }

// wantTimes compares early, likely and late to the second.
func wantTimes(t *testing.T, what string, got clock.Times, want ...time.Time) {
	t.Helper()
	for f, w := range want {
		if d := got[f].Sub(w).Abs(); d > time.Second {
			t.Errorf("%s: %v, want %v", what, got, want)
			return
		}
	}
}

// at gives an instant so many hours after another.
func at(t time.Time, hours float64) time.Time {
	return t.Add(time.Duration(hours * float64(time.Hour)))
}

// noted gives the kinds of the notes of a clock.
func noted(c *clock.Clock) (kinds []clock.Kind) {
	for _, n := range c.Notes {
		kinds = append(kinds, n.Kind)
	}
	return kinds
}

func init() { kit.Draws(30) }
