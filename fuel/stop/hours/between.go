package hours

import (
	"slices"
	"time"
)

// A Span is a time in one state. To is not part of it.
type Span struct {
	From, To time.Time
	State    State
}

// At gives the state at an instant, by the clock of its location.
func (h Hours) At(t time.Time) State {
	d, second := clock(t)
	var buf [2][16]span
	l := h.layers(d, &buf)
	s, _ := l.at(second / 60)
	return s
}

// Between gives the spans between two instants in which a place is open or unclear, by the clock of
// from's location: in order, joined over midnight, clipped to the two. The rest is shut.
func (h Hours) Between(from, to time.Time) []Span {
	var out []Span
	h.walk(from, to, func(s Span) bool {
		if last := len(out) - 1; last >= 0 && out[last].State == s.State && out[last].To.Equal(s.From) {
			out[last].To = s.To
		} else if s.State != Shut {
			out = append(out, s)
		}
		return true
	})
	return out
}

// NextOpen gives the first instant from t on, before until, at which a place is open: t itself if
// it is open then. ok is false if there is none. Unclear is not open.
func (h Hours) NextOpen(t, until time.Time) (open time.Time, ok bool) {
	h.walk(t, until, func(s Span) bool {
		if s.State == Open {
			open, ok = s.From, true
		}
		return !ok
	})
	return open, ok
}

// Lasts gives the state at an instant, by the clock of its location, and until when it stays so:
// zero where it does up to another instant.
func (h Hours) Lasts(t, to time.Time) (is State, until time.Time) {
	first := true
	h.walk(t, to, func(s Span) bool {
		if first {
			is, first = s.State, false
		} else if s.State != is {
			until = s.From
		}
		return until.IsZero()
	})
	return is, until
}

// walk goes over all spans between two instants, shut ones too, until yield says no. Neighbours
// may be in the same state.
func (h Hours) walk(from, to time.Time, yield func(Span) bool) {
	for from.Before(to) {
		until := to
		// In between the clock on the wall is never put on or back.
		if _, change := from.ZoneBounds(); !change.IsZero() && change.Before(to) {
			until = change.In(from.Location())
		}
		if !h.walkSteady(from, until, yield) {
			return
		}
		from = until
	}
}

// walkSteady is walk where the clock on the wall runs on steadily.
func (h Hours) walkSteady(from, to time.Time, yield func(Span) bool) bool {
	d, second := clock(from)
	midnight := from.Add(-time.Duration(second)*time.Second - time.Duration(from.Nanosecond()))
	minute := second / 60
	for ; from.Before(to); d++ {
		var buf [2][16]span
		l := h.layers(d, &buf)
		for minute < dayMinutes && from.Before(to) {
			s, until := l.at(minute)
			end := midnight.Add(time.Duration(until) * time.Minute)
			if end.After(to) {
				end = to
			}
			if !yield(Span{from, end, s}) {
				return false
			}
			from, minute = end, until
		}
		minute, midnight = 0, midnight.Add(dayMinutes*time.Minute)
	}
	return true
}

// layers are the spans that each reading of the hours lays over a day, a later one over those before it.
type layers [2][]span

// layers gives the spans of a numbered day. They lie in buf if they find room there.
func (h Hours) layers(d int, buf *[2][16]span) (out layers) {
	before, today := h.day(d-1), h.day(d)
	for i := range out {
		if i < len(h.readings) {
			out[i] = paint(buf[i][:0], h.readings[i], before, today, !h.NamesHolidays())
		} else {
			out[i] = out[0]
		}
	}
	return out
}

func (h Hours) day(d int) day {
	_, is := slices.BinarySearch(h.holidays, d)
	return day{d, is}
}

// at gives the state at a minute of the day, and until when it lasts at least. Where two readings
// differ it is unclear.
func (l layers) at(minute int) (s State, until int) {
	s, until = top(l[0], minute)
	other, otherUntil := top(l[1], minute)
	if other != s {
		s = Unclear
	}
	return s, min(until, otherUntil)
}

// top gives the state of the last span over a minute, and how long none begins or ends.
func top(spans []span, minute int) (s State, until int) {
	until = dayMinutes
	for _, p := range spans {
		switch {
		case minute < p.from:
			until = min(until, p.from)
		case minute < p.to:
			s, until = p.state, min(until, p.to)
		}
	}
	return s, until
}
