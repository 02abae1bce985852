package clock

import (
	"slices"
	"time"

	"lastpump/fuel/leg"
	"lastpump/route"
	"lastpump/route/sun"
)

// A scout goes ahead on a day, as far as riding and daylight allow; the walk that sends it
// stays where it is.
type scout struct {
	walk
	first    int // the first of the places ahead
	trail    []stretch
	limit    bool          // it was stopped by riding or daylight
	dark     bool          // by daylight
	slept    *target       // where it has waited through the night
	ahead    route.Metres  // where it was stopped
	most     time.Duration // of riding
	daylight bool          // whether its rule is kept
	sunrise  time.Time     // or leaving, if the sun is up then
	sunset   time.Time     // where the day begins; zero for none
}

// A stretch is one that a scout has ridden, with the riding of the day before it.
type stretch struct {
	from, to leg.End
	rode     time.Duration
}

// scout goes ahead. The rule of daylight is off where the sun is not up on the day of
// leaving any more; daylight tells whether it is on.
func (w *walk) scout(keep bool) (s *scout, daylight bool) {
	s = &scout{walk: *w, first: w.place, most: w.Pacing.manner.Hours}
	s.clock = &Clock{Days: slices.Clip(w.clock.Days), Passings: slices.Clone(w.clock.Passings)}
	p := w.Point(w.begun)
	rise, set := sun.Next(p, w.left)
	s.sunset, s.sunrise = set, w.left
	daylight = true
	if sun.At(p, w.left) != sun.Day {
		s.sunrise = rise
		daylight = !rise.IsZero() && sameDate(rise.In(w.left.Location()), w.left)
	}
	s.daylight = keep && daylight
	s.explore()
	return s, daylight
}

func sameDate(a, b time.Time) bool { return a.Format(time.DateOnly) == b.Format(time.DateOnly) }

// explore rides until the scout is stopped, sleeps, or is at the end.
func (s *scout) explore() {
	for !s.limit {
		at, i := s.To.At, s.place
		if i < len(s.Places) {
			at = s.Places[i].At
		}
		switch {
		case s.halt < len(s.Halts) && s.Halts[s.halt].At < at:
			if s.advance(leg.End{At: max(s.Halts[s.halt].At, s.pos.At)}) {
				s.stay()
				s.watch()
			}
		case i == len(s.Places):
			s.advance(s.To)
			return
		default:
			s.next(i)
		}
		if s.slept != nil {
			return
		}
	}
}

// next goes on to the next place.
func (s *scout) next(i int) {
	p := s.Places[i]
	to := p.End
	if p.Use != Filled {
		to.Half = 0
	}
	if s.pos != to && !s.advance(to) {
		return
	}
	if s.visit(s.end()) {
		s.slept = &target{By: ByWait, at: p.At, place: i}
		return
	}
	s.watch()
}

// watch stops the scout where it stands if it is too late.
func (s *scout) watch() {
	if s.tooLate(s.pos.At, s.now[Likely]) {
		s.limit, s.dark, s.ahead = true, true, s.pos.At
	}
}

// advance rides on, and tells whether the scout gets there.
func (s *scout) advance(to leg.End) bool {
	from, line := s.pos, leg.End{At: to.At}
	riding := s.Pacing.Riding(from, to)[Likely]
	ahead, stopped := to.At, false
	if s.rode+riding >= s.most {
		ahead, stopped = s.Pacing.reached(from, to, s.most-s.rode), true
	}
	late := func(to leg.End) bool {
		return s.tooLate(to.At, s.now[Likely].Add(s.Pacing.moving(from, to)[Likely]))
	}
	if late(line) {
		dark := firstLate(from.At, to.At, func(m route.Metres) bool { return late(leg.End{At: m}) })
		s.dark = dark <= ahead
		ahead, stopped = min(ahead, dark), true
	} else if late(to) {
		s.dark, stopped = true, true
	}
	s.trail = append(s.trail, stretch{from, to, s.rode})
	if !stopped {
		s.ride(to)
		return true
	}
	s.ride(leg.End{At: ahead})
	s.limit, s.ahead = true, ahead
	return false
}

// firstLate gives where between two places it becomes too late, which it is at the second.
func firstLate(from, to route.Metres, late func(route.Metres) bool) route.Metres {
	const exact route.Metres = 1
	for to-from > exact {
		if middle := (from + to) / 2; late(middle) {
			to = middle
		} else {
			from = middle
		}
	}
	return to
}

// nightSure is how long after sunset where the day begins it is night wherever the scout
// can be.
const nightSure = 3 * time.Hour

// tooLate tells whether at a place and an instant it is an hour before sunset, or later.
func (s *scout) tooLate(at route.Metres, t time.Time) bool {
	if !s.daylight || t.Before(s.sunrise) {
		return false
	}
	return sun.At(s.Point(at), t.Add(beforeSunset)) != sun.Day || !s.sunset.IsZero() && t.After(s.sunset.Add(nightSure))
}

// finishes tells whether so little is left that the ride is finished today, by light where
// the day has any.
func (s *scout) finishes(daylight bool) bool {
	most := time.Duration(stretched * float64(s.most))
	if s.Pacing.Riding(s.pos, s.To)[Likely] > most {
		return false
	}
	on := *s
	on.clock = &Clock{Days: slices.Clip(s.clock.Days), Passings: slices.Clone(s.clock.Passings)}
	on.rode = 0
	if !on.day(on.end()) || on.clock.Days[len(on.clock.Days)-1].Riding > most {
		return false
	}
	return !daylight || sun.At(s.Point(s.To.At), on.now[Likely]) == sun.Day
}

// choose gives where to sleep: the last counted place of the window that is open on arrival,
// else the last whose hours are not known, else somewhere in the window; and there at a
// counted place nearby.
func (s *scout) choose() target {
	from := s.after(time.Duration(windowFrom * float64(s.rode)))
	t := target{By: ByHours, at: s.ahead, place: -1, between: [2]route.Metres{from, s.ahead}}
	open, unknown := -1, -1
	for i := s.first; i < s.place; i++ {
		p, v := s.Places[i], s.clock.Passings[i]
		if p.Use < Counted || p.At < from || p.At > s.ahead {
			continue
		}
		if p.Hours == nil {
			unknown = i
		} else if is, _ := p.Hours(v.There[Likely]); is == IsOpen {
			open = i
		}
	}
	switch {
	case open >= 0:
		return s.at(t, open)
	case unknown >= 0:
		return s.at(t, unknown)
	}
	near := nearNight
	for i := s.first; i < len(s.Places); i++ {
		p := s.Places[i]
		if off := max(p.At-s.ahead, s.ahead-p.At); p.Use >= Counted && off <= near {
			near, t = off, s.at(t, i)
		}
	}
	return t
}

// at moves a target to a place.
func (s *scout) at(t target, i int) target {
	t.at, t.place, t.between = s.Places[i].At, i, [2]route.Metres{}
	return t
}

// after gives where along the line so much of the day is ridden.
func (s *scout) after(riding time.Duration) route.Metres {
	for i := len(s.trail) - 1; i > 0; i-- {
		if t := s.trail[i]; t.rode <= riding {
			return s.Pacing.reached(t.from, t.to, riding-t.rode)
		}
	}
	return s.Pacing.reached(s.trail[0].from, s.trail[0].to, riding)
}
