package hours

import "time"

// dayMinutes are the minutes of a day on the wall.
const dayMinutes = 24 * 60

// A rule says of some days when it is open, or shut.
type rule struct {
	periods  []period // of the year; none: the whole of it
	weekdays uint8    // a bit for each, Sunday the lowest
	holidays bool     // PH; with no weekdays on these alone, with neither on all days
	spans    []span   // a later one wins
	always   bool     // it is 24/7
	adds     bool     // to the rules before it; else it drops them on its days
	timed    bool     // times are given
}

// A span is a time in minutes from the midnight that a day begins with, 0 <= from < to and to at most
// two days. What is over one day spills into the next.
type span struct {
	from, to int
	state    State
}

// A period is a part of every year, first and last day included; it may go over New Year.
type period struct{ first, last date }

// A date is a day of every year: of a month, or its n-th weekday, from its end where n is under 0.
type date struct {
	month, day int
	nth        int  // 0: day counts
	written    bool // as a day: the first and last of whole months are not
	weekday    int
}

// in gives a date in a year as a number that grows with the days of that year.
func (d date) in(year int) int {
	day := d.day
	switch {
	case d.nth > 0:
		first := time.Date(year, time.Month(d.month), 1, 0, 0, 0, 0, time.UTC)
		day = 1 + (d.weekday-int(first.Weekday())+7)%7 + 7*(d.nth-1)
	case d.nth < 0:
		last := time.Date(year, time.Month(d.month)+1, 0, 0, 0, 0, 0, time.UTC)
		day = last.Day() - (int(last.Weekday())-d.weekday+7)%7 + 7*(d.nth+1)
	}
	return inYear(d.month, day)
}

// inYear numbers the days of a year in their order.
func inYear(month, day int) int { return 32*month + day }

func (p period) has(year, day int) bool {
	first, last := p.first.in(year), p.last.in(year)
	if first <= last {
		return first <= day && day <= last
	}
	return first <= day || day <= last
}

// A day is a day of the calendar.
type day struct {
	number  int // see [clock]
	holiday bool
}

// A match says whether a rule is for a day.
type match uint8

const (
	isNot    match = iota
	doubtful       // by its weekdays, on a holiday
	sure
)

// everyDay tells whether a rule is for all days of the year.
func (r rule) everyDay() bool { return len(r.periods) == 0 && r.weekdays == 0 && !r.holidays }

// of tells whether a rule is for a day. sureAlways says that 24/7 holds on holidays, too.
func (r rule) of(d day, sureAlways bool) match {
	if !r.inSeason(d) {
		return isNot
	}
	switch {
	case d.holiday && r.holidays:
		return sure
	case r.weekdays == 0 && r.holidays, r.weekdays != 0 && r.weekdays&(1<<weekdayOf(d.number)) == 0:
		return isNot
	case d.holiday && !(r.always && sureAlways):
		return doubtful
	}
	return sure
}

// inSeason tells whether a day is in one of a rule's periods.
func (r rule) inSeason(d day) bool {
	if len(r.periods) == 0 {
		return true
	}
	year, month, dom := time.Unix(int64(d.number)*secondsOfDay, 0).UTC().Date()
	for _, p := range r.periods {
		if p.has(year, inYear(int(month), dom)) {
			return true
		}
	}
	return false
}

// drops tells whether a rule, where it is for a day, puts those before it out of force.
func (r rule) drops() bool { return !r.adds && !r.closes() }

// closes tells whether a rule only closes.
func (r rule) closes() bool {
	for _, s := range r.spans {
		if s.state != Shut {
			return false
		}
	}
	return true
}

// paint gives the spans that rules lay over a day, from 0 to [dayMinutes], a later one over
// those before it: what spills from the day before, then the day's own.
func paint(out []span, rules []rule, before, today day, sureAlways bool) []span {
	from, fromBefore := inForce(rules, today, sureAlways), inForce(rules, before, sureAlways)
	for i := from; i < len(rules); i++ {
		spilling, own := rules[i].of(before, sureAlways), rules[i].of(today, sureAlways)
		if spilling == sure && (i < fromBefore || shutAll(rules[i+1:], before, sureAlways)) {
			// Another rule has put it out of force the day before. By [2] it spills all the
			// same; who reads that day as shut does not expect it.
			spilling = doubtful
		}
		for _, s := range rules[i].spans {
			if spilling != isNot && s.to > dayMinutes {
				out = append(out, span{max(0, s.from-dayMinutes), s.to - dayMinutes, doubted(s.state, spilling)})
			}
			if own != isNot && s.from < dayMinutes {
				out = append(out, span{s.from, min(s.to, dayMinutes), doubted(s.state, own)})
			}
		}
	}
	return out
}

// inForce gives the first rule that counts on a day.
func inForce(rules []rule, d day, sureAlways bool) int {
	for i := len(rules) - 1; i > 0; i-- {
		if rules[i].drops() && rules[i].of(d, sureAlways) != isNot {
			return i
		}
	}
	return 0
}

// shutAll tells whether one of some rules closes a whole day.
func shutAll(rules []rule, d day, sureAlways bool) bool {
	for _, r := range rules {
		if r.closes() && !r.timed && r.of(d, sureAlways) != isNot {
			return true
		}
	}
	return false
}

// doubted gives the state that a rule asks for where it may not be for a day.
func doubted(s State, m match) State {
	if m == doubtful && s == Open {
		return Unclear
	}
	return s
}
