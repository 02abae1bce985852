package sun

import (
	"time"

	"github.com/paulmach/orb"
)

// A Light is what there is to see by.
type Light string

// From the brightest.
const (
	Day      Light = "day"      // the sun is up
	Twilight Light = "twilight" // it is down, and not by more than 6°
	Dark     Light = "dark"
)

// At tells the light at a place and an instant.
func At(p orb.Point, t time.Time) Light {
	switch h := Altitude(p, t); {
	case h >= Horizon:
		return Day
	case h >= Civil:
		return Twilight
	}
	return Dark
}

// A State is what the sun does on a day.
type State string

// The states of a day.
const (
	Normal   State = "normal"    // it rises, or sets, or both
	AllDay   State = "all-day"   // it is never down
	AllNight State = "all-night" // it is never up
)

// Times are what the sun does at a place in a span of time: the first instant of each kind,
// zero where there is none.
type Times struct {
	State      State
	Rise, Set  time.Time // it passes [Horizon]
	Dawn, Dusk time.Time // it passes [Civil]
}

// On gives the times of the day that an instant is in, in the zone of that instant.
func On(p orb.Point, day time.Time) Times {
	y, m, d := day.Date()
	midnight := func(d int) time.Time { return time.Date(y, m, d, 0, 0, 0, 0, day.Location()) }
	return Between(p, midnight(d), midnight(d+1))
}

// Between gives the times from one instant until before another.
func Between(p orb.Point, from, to time.Time) Times {
	t := Times{State: AllNight}
	t.Dawn, t.Dusk = passings(p, from, to, Civil)
	t.Rise, t.Set = passings(p, from, to, Horizon)
	switch {
	case !t.Rise.IsZero() || !t.Set.IsZero():
		t.State = Normal
	case Altitude(p, from) >= Horizon:
		t.State = AllDay
	}
	return t
}

// Next gives when the sun next rises and sets at a place, of what comes within 25 hours of
// an instant; zero for what does not. It is more than a day because a rise comes later than
// on the day before for half of the year: right after one, the next is over 24 hours away.
func Next(p orb.Point, from time.Time) (rise, set time.Time) {
	return passings(p, from, from.Add(25*time.Hour), Horizon)
}

// step is how far apart the altitude is sampled: in 20 minutes it has one turning point at
// most, and changes by 5° at most.
const (
	step  = 20 * time.Minute
	exact = 50 * time.Millisecond
	near  = Degrees(5)
)

// passings gives when the sun first passes an altitude upwards and downwards.
func passings(p orb.Point, from, to time.Time, h Degrees) (up, down time.Time) {
	over := func(t time.Time) bool { return Altitude(p, t) >= h }
	look := func(a, b time.Time) {
		at := &down
		if over(b) {
			at = &up
		}
		if over(a) != over(b) && at.IsZero() {
			*at = bisect(a, b, over)
		}
	}
	before := Altitude(p, from)
	for a := from; a.Before(to) && (up.IsZero() || down.IsZero()); a = a.Add(step) {
		b := a.Add(step)
		if b.After(to) {
			b = to
		}
		after := Altitude(p, b)
		switch {
		case before >= h != (after >= h):
			look(a, b)
		case max(before-h, h-before) < near: // it may pass, turn and pass again
			turn := turning(p, a, b)
			look(a, turn)
			look(turn, b)
		}
		before = after
	}
	return up, down
}

// turning gives the instant between two at which the sun is highest or lowest; the second
// where it only rises or only sinks.
func turning(p orb.Point, a, b time.Time) time.Time {
	rises := func(t time.Time) bool { return Altitude(p, t.Add(time.Second)) > Altitude(p, t) }
	if rises(a) == rises(b) {
		return b
	}
	return bisect(a, b, rises)
}

// bisect gives the instant between two at which what is told changes.
func bisect(a, b time.Time, told func(time.Time) bool) time.Time {
	before := told(a)
	for b.Sub(a) > exact {
		if middle := a.Add(b.Sub(a) / 2); told(middle) == before {
			a = middle
		} else {
			b = middle
		}
	}
	return b
}
