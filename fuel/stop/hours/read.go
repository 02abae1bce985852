package hours

import "strings"

// Read reads opening hours. The error is a [*NotUnderstood].
func Read(value string) (Hours, error) {
	switch {
	case strings.TrimSpace(value) == "":
		return Hours{}, &NotUnderstood{Why: Empty}
	case len(value) > MaxLength:
		return Hours{}, &NotUnderstood{Why: Long}
	}
	p := &parser{value: value, tokens: lex(value)}
	rules := p.rules()
	if p.failed != nil {
		return Hours{}, p.failed
	}
	return Hours{readings: readings(rules), always: len(rules) == 1 && rules[0].always}, nil
}

// A parser goes over the tokens of a value once. After a failure it stands still.
type parser struct {
	value  string
	tokens []token
	failed *NotUnderstood
}

func (p *parser) next() token { return p.tokens[0] }

// take steps over the next token if it is of a kind.
func (p *parser) take(k kind) (token, bool) {
	t := p.next()
	if p.failed != nil || t.kind != k || k == end {
		return t, false
	}
	p.tokens = p.tokens[1:]
	return t, true
}

// want steps over a token that has to be there; where it is not its number is 0.
func (p *parser) want(k kind) token {
	t, ok := p.take(k)
	if !ok {
		p.fail(t, t.why)
		t.number = 0
	}
	return t
}

// fail says that a value makes no sense from a token on. The first failure counts.
func (p *parser) fail(t token, why Why) {
	if p.failed != nil {
		return
	}
	if why == "" {
		why = Unwonted
	}
	p.failed = &NotUnderstood{Why: why, Text: strings.TrimSpace(p.value[t.at:])}
}

// follows tells whether tokens of these kinds come next, in this order. After a failure none do.
func (p *parser) follows(kinds ...kind) bool {
	for i, k := range kinds {
		if p.failed != nil || i >= len(p.tokens) || p.tokens[i].kind != k {
			return false
		}
	}
	return true
}

// rules reads all of a value. A semicolon may stand at its end.
func (p *parser) rules() []rule {
	out := []rule{p.rule()}
	for p.failed == nil {
		_, adds := p.take(',')
		if !adds {
			if p.follows(end) || p.follows(';', end) {
				return out
			}
			p.want(';')
		} else if p.follows(allTimes) || out[len(out)-1].always {
			p.fail(p.next(), Unwonted) // [2] does not add to 24/7
		}
		r := p.rule()
		r.adds = adds
		out = append(out, r)
	}
	return out
}

// rule reads months, days and times.
func (p *parser) rule() (r rule) {
	if _, ok := p.take(allTimes); ok {
		p.take(hour)
		r.always, r.spans = true, []span{{0, dayMinutes, Open}}
		return r
	}
	start := p.next()
	if r.periods = p.periods(); r.periods != nil {
		p.take(':')
	}
	if p.weekdays(&r); r.weekdays != 0 || r.holidays {
		p.take(':')
	}
	open := p.times(&r)
	if r.timed {
		if _, closes := p.take(off); closes && open {
			p.fail(start, BadTime) // "20:00+ off": nobody knows what is meant
		} else if closes {
			for i := range r.spans {
				r.spans[i].state = Shut
			}
		}
		return r
	}
	state, given := p.state()
	if t := p.next(); !given && !r.everyDay() && (t.kind == end || t.kind == ';') {
		p.fail(start, NoTimes)
	} else if !given {
		p.fail(t, t.why)
	}
	r.spans = []span{{0, dayMinutes, state}}
	return r
}

// state reads what a rule says of whole days.
func (p *parser) state() (s State, given bool) {
	if _, ok := p.take(off); ok {
		return Shut, true
	}
	_, ok := p.take(unknown)
	return Unclear, ok
}

// weekdays reads weekdays and PH, with commas between them.
func (p *parser) weekdays(r *rule) {
	for p.follows(weekday) || p.follows(holiday) {
		if _, ok := p.take(holiday); ok {
			r.holidays = true
		} else {
			first := p.want(weekday)
			last := first
			if _, ok := p.take('-'); ok {
				last = p.want(weekday)
			}
			if p.follows('[') {
				p.fail(last, Nth)
			}
			for d := first.number; ; d = (d + 1) % 7 {
				r.weekdays |= 1 << d
				if d == last.number {
					break
				}
			}
		}
		if !p.follows(',', weekday) && !p.follows(',', holiday) {
			return
		}
		p.want(',')
	}
}

// periods reads months and dates, with commas between them.
func (p *parser) periods() (out []period) {
	for p.follows(month) {
		m := p.want(month).number
		out = append(out, p.period(m))
		for p.follows(',', number) && out[len(out)-1].first.isDay() {
			p.want(',')
			out = append(out, p.daysOf(m))
		}
		if !p.follows(',', month) {
			return out
		}
		p.want(',')
	}
	return out
}

// period reads what follows a month: "Apr-Oct", "Dec 24-26", "Dec 24-Jan 2", "Mar Su[-1]-Oct Su[-1]".
func (p *parser) period(m int) period {
	switch {
	case p.follows(number, '-', number), p.follows(number) && !p.follows(number, '-'):
		return p.daysOf(m)
	case p.follows(number), p.follows(weekday, '['):
		first := p.date(m)
		if _, ok := p.take('-'); !ok {
			return period{first, first}
		}
		t := p.want(month)
		if !p.follows(number) && !p.follows(weekday, '[') {
			p.fail(t, BadDate) // from a date to a month
		}
		last := p.date(t.number)
		if last.month == first.month && (last.day < first.day || last.nth != 0 || first.nth != 0) {
			p.fail(t, BadDate) // nearly a year, or an order that changes with the year
		}
		return period{first, last}
	}
	last := m
	if _, ok := p.take('-'); ok {
		t := p.want(month)
		if last = t.number; p.follows(number) || p.follows(weekday, '[') {
			p.fail(t, BadDate) // from a month to a date
		}
	}
	return period{date{month: m, day: 1}, date{month: last, day: 31}}
}

// daysOf reads a day of a month, or several in a row.
func (p *parser) daysOf(m int) period {
	t := p.next()
	first := p.date(m)
	last := first
	if p.follows('-', number) {
		p.want('-')
		last = p.date(m)
	}
	if last.day < first.day {
		p.fail(t, BadDate)
	}
	return period{first, last}
}

// isDay tells whether a date is written as a day of its month: the first of a whole month is not.
func (d date) isDay() bool { return d.written }

var daysOfMonth = [...]int{1: 31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31}

// date reads the day of a date, or "Su[-1]".
func (p *parser) date(m int) date {
	if t, ok := p.take(number); ok {
		if t.number < 1 || t.number > daysOfMonth[m] {
			p.fail(t, BadDate)
		}
		return date{month: m, day: t.number, written: true}
	}
	d := p.want(weekday)
	p.want('[')
	_, fromEnd := p.take('-')
	n := p.want(number)
	p.want(']')
	if n.number < 1 || n.number > 4 { // not every month has a fifth
		p.fail(d, BadDate)
	}
	if fromEnd {
		n.number = -n.number
	}
	return date{month: m, nth: n.number, weekday: d.number}
}

// times reads times with commas between them, and tells whether one has an open end.
func (p *parser) times(r *rule) (open bool) {
	for p.follows(clockAt) {
		r.timed = true
		if p.span(r) {
			open = true
		}
		if !p.follows(',', clockAt) {
			break
		}
		p.want(',')
	}
	return open
}

// span reads a time: "08:00-20:00", "08:00-20:00+", "08:00+". It tells whether its end is open.
func (p *parser) span(r *rule) (open bool) {
	t := p.want(clockAt)
	from, to := t.number, t.number
	if from == dayMinutes {
		p.fail(t, BadTime)
	}
	_, ends := p.take('-')
	if ends {
		to = p.want(clockAt).number
	}
	_, open = p.take('+')
	switch {
	case !ends && !open:
		p.fail(p.next(), p.next().why) // a time alone
	case open && (to == 0 && !ends || ends && to == from):
		p.fail(t, BadTime) // [2] takes "00:00+" as open all day, and "08:00-08:00+" as if it had no "+"
	case open && p.follows(',', clockAt), open && len(r.spans) > 0 && from < r.spans[len(r.spans)-1].to:
		p.fail(t, BadTime) // times out of order, of which one has an open end
	}
	if ends && to <= from {
		to += dayMinutes
	}
	if ends {
		r.spans = append(r.spans, span{from, to, Open})
	}
	if open {
		r.spans = append(r.spans, span{to, openEnd(to), Unclear})
	}
	if openEnd(to) > 2*dayMinutes && open {
		p.fail(t, BadTime) // it would last into the day after next
	}
	return open
}

// openEnd tells how long it is unclear after a time with "+": as [2] takes it, until midnight, from
// 17:00 on for 10 hours, from 22:00 on for 8.
func openEnd(from int) int {
	switch {
	case from >= 22*60:
		return from + 8*60
	case from >= 17*60:
		return from + 10*60
	}
	return dayMinutes
}

// readings gives the ways to read rules of which not all say for which days they are: as the
// rule before them, or for all. Both only add to what stands before.
func readings(rules []rule) [][]rule {
	all, same := make([]rule, len(rules)), make([]rule, len(rules))
	twofold, dated := false, false
	for i, r := range rules {
		all[i], same[i] = r, r
		if i > 0 && r.timed && r.everyDay() && dated {
			all[i].adds, same[i].adds = !rules[i-1].everyDay(), true // [2]: after two without days the last drops all
			before := same[i-1]
			same[i].periods, same[i].weekdays, same[i].holidays = before.periods, before.weekdays, before.holidays
			twofold = true
		} else if i > 0 && r.periods == nil && !r.everyDay() && !r.closes() && same[i-1].periods != nil {
			same[i].periods = same[i-1].periods
			twofold = true
		}
		dated = dated || !r.everyDay()
	}
	if !twofold {
		return [][]rule{all}
	}
	return [][]rule{all, same}
}
