package clock

import "time"

// An Openness is what a pump is at an instant, by its hours.
type Openness int

// What a pump is.
const (
	IsShut Openness = iota
	IsOpen
	Unclear
)

// Hours tell what a pump is at an instant, and until when it stays so: zero where it does
// for good, else after the instant. A nil Hours is not known, or not understood.
type Hours func(time.Time) (is Openness, until time.Time)

// Either gives hours of which it is not known whether they are a or b, as near the border of
// two time zones: unclear where these differ.
func Either(a, b Hours) Hours {
	if a == nil || b == nil {
		return nil
	}
	return func(t time.Time) (Openness, time.Time) {
		is, until := a(t)
		other, end := b(t)
		if until.IsZero() || !end.IsZero() && end.Before(until) {
			until = end
		}
		if is != other {
			is = Unclear
		}
		return is, until
	}
}

// A State is whether a pump is open when somebody gets there, over the whole of early to late.
type State string

// The states. Open needs the pump open from early until the fill of the late run is done,
// and for a tenth of the late run's hours since leaving beyond: 27 of 145 recorded days were
// later than late.
const (
	Open     State = "open"
	Shut     State = "shut"
	Doubtful State = "doubtful"
	NotKnown State = "not known"
)

// beyondLate is how much longer a pump has to stay open, by the hours since leaving.
const beyondLate = 0.10

// over gives the state from one instant to another, and for a doubtful one when it first turns.
func (h Hours) over(from, to time.Time) (s State, turns time.Time) {
	if h == nil {
		return NotKnown, turns
	}
	first, until := h.lasts(from, to)
	switch {
	case !until.IsZero():
		return Doubtful, until
	case first == IsOpen:
		return Open, until
	case first == IsShut:
		return Shut, until
	}
	return Doubtful, until
}

// lasts gives what a pump is at an instant, and when it first becomes something else before
// another; zero where it does not.
func (h Hours) lasts(from, to time.Time) (Openness, time.Time) {
	first, until := h(from)
	for until.After(from) && until.Before(to) {
		is, next := h(until)
		if is != first {
			return first, until
		}
		from, until = until, next
	}
	return first, time.Time{}
}

// state gives what a pump is for runs that arrive at these times, after leaving together.
func (h Hours) state(there Times, left time.Time, fill time.Duration) (State, time.Time) {
	end := there[Late].Add(fill)
	s, turns := h.over(there[Early], end)
	if s == Open {
		beyond := time.Duration(beyondLate * float64(there[Late].Sub(left)))
		return h.over(there[Early], end.Add(beyond))
	}
	return s, turns
}

// lookAhead is how far an opening is looked for.
const lookAhead = 14 * 24 * time.Hour

// opening gives when somebody who is there can fill: at once unless it is shut, else when it
// next opens, or may; zero where it does not within 14 days.
func (h Hours) opening(t time.Time) time.Time {
	if h == nil {
		return t
	}
	if is, until := h.lasts(t, t.Add(lookAhead)); is == IsShut {
		return until
	}
	return t
}

// firstOutOfReach gives when, of all who arrive between early and late, the first finds a pump
// shut and does not wait for it: reaches tells who does, the later the sooner. It is zero where all do.
func (h Hours) firstOutOfReach(there Times, reaches func(t, opens time.Time) bool) time.Time {
	if h == nil {
		return time.Time{}
	}
	for t := there[Early]; ; {
		is, until := h.lasts(t, t.Add(lookAhead))
		if is == IsShut && !reaches(t, until) {
			return t
		}
		if until.IsZero() || until.After(there[Late]) {
			return time.Time{}
		}
		t = until
	}
}

// closes gives when a pump shuts that is open at an instant; zero where it does not within 14
// days, or is not open.
func (h Hours) closes(t time.Time) time.Time {
	if h == nil || t.IsZero() {
		return time.Time{}
	}
	is, until := h.lasts(t, t.Add(lookAhead))
	if is != IsOpen {
		return time.Time{}
	}
	return until
}
