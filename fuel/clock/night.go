package clock

import (
	"time"

	"lastpump/route"
)

// fixed ends the days at places that are given.
func fixed(by By, at []route.Metres) planner {
	return func(w *walk) target {
		for _, m := range at {
			if m > w.begun+here && m < w.To.At-here {
				return w.targetAt(by, m)
			}
		}
		return w.end()
	}
}

// end is the target of a day that ends the ride.
func (w *walk) end() target { return target{By: ByEnd, at: w.To.At, place: -1} }

// targetAt gives a place along the line as a target: that of a counted place, if one is there.
func (w *walk) targetAt(by By, at route.Metres) target {
	for i := w.place; i < len(w.Places); i++ {
		if p := w.Places[i]; p.Use >= Counted && max(p.At-at, at-p.At) <= here {
			return target{By: by, at: p.At, place: i}
		}
	}
	return target{By: by, at: at, place: -1}
}

// The hours that a part takes whose end is a night.
const (
	shortPart = time.Hour
	longPart  = 14 * time.Hour
)

// partEnds gives the ends of the parts ahead but the last, and whether there are two or more.
func (r *Ride) partEnds() (ends []route.Metres, several bool) {
	for _, p := range r.Parts {
		if p.To > r.From.At+here && p.To < r.To.At-here {
			ends = append(ends, p.To)
		}
	}
	return ends, len(r.Parts) > 1 && len(ends) > 0
}

// partNoDay gives the first part that takes too short or too long for a day, everything but
// nights counted, and whether there is none. The one that the ride begins in is not whole,
// and may be short.
func (w *walk) partNoDay() (n Note, fits bool) {
	takes := time.Duration(0)
	at, whole := w.From.At, w.partBegins(w.From.At)
	for i, d := range w.clock.Days {
		takes += d.There[Likely].Sub(d.Leave)
		if d.Night.By == ByWait {
			continue
		}
		if takes > longPart || takes < shortPart && whole {
			return Note{Kind: PartNoDay, Day: i, At: at, Part: w.partAt(d.To), Takes: takes}, false
		}
		takes, at, whole = 0, d.To, true
	}
	return n, true
}

// partBegins tells whether a part begins at a place.
func (w *walk) partBegins(at route.Metres) bool {
	for _, p := range w.Parts {
		if max(p.From-at, at-p.From) <= here {
			return true
		}
	}
	return false
}

// partAt gives the number of the part that ends at a place, or that it lies in.
func (w *walk) partAt(at route.Metres) int {
	for i, p := range w.Parts {
		if p.To >= at-here {
			return i
		}
	}
	return len(w.Parts) - 1
}

// The window for a night by hours. Our estimates; riders say: be there two to three hours
// before sunset, and do not ride at dusk.
const (
	beforeSunset = time.Hour
	windowFrom   = 0.75 // of the riding of that day
	stretched    = 0.15 // of the hours a day: so much more is ridden to finish
	nearNight    = route.Metres(3000)
	leastRidden  = time.Hour // by daylight, else its rule is off
)

// byHours ends a day by riding and daylight.
func byHours(w *walk) target {
	s, daylight := w.scout(true)
	if s.dark && s.rode < leastRidden {
		w.note(Note{Kind: HardlyRidden, Day: len(w.clock.Days), At: w.begun})
		s, _ = w.scout(false)
		daylight = false
	} else if !daylight {
		w.note(Note{Kind: SunNeverUp, Day: len(w.clock.Days), At: w.begun})
	}
	switch {
	case s.slept != nil:
		return *s.slept
	case !s.limit || s.finishes(daylight):
		return w.end()
	}
	return s.choose()
}
