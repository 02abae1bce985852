package when

import (
	"fmt"
	"time"

	"lastpump/fuel/clock"
)

// BoundariesCredit is what the licence of the boundaries of zones asks to be said where they are
// used.
const BoundariesCredit = "boundaries © OpenStreetMap contributors, ODbL 1.0."

// Hour gives a day of the week and an hour, to the nearest minute: "Wed 13:19".
func Hour(t time.Time) string { return t.Round(time.Minute).Format("Mon 15:04") }

// Clock gives an hour, to the nearest minute: "13:19".
func Clock(t time.Time) string { return t.Round(time.Minute).Format("15:04") }

// Date gives a day: "Wed 1 Jul".
func Date(t time.Time) string { return t.Format("Mon 2 Jan") }

// DateAndHour gives a day and an hour, to the nearest minute: "Wed 1 Jul 13:19".
func DateAndHour(t time.Time) string { return t.Round(time.Minute).Format("Mon 2 Jan 15:04") }

// Late gives the day and the hour of a late arrival, rounded up to the minute.
func Late(t clock.Times) string { return DateAndHour(roundedUp(t[clock.Late])) }

func roundedUp(t time.Time) time.Time {
	if whole := t.Truncate(time.Minute); whole.Before(t) {
		return whole.Add(time.Minute)
	}
	return t
}

// Zone names the zone of an hour, by how far it is from UTC then, too: "UTC+07:00",
// "Asia/Almaty, UTC+05:00".
func Zone(t time.Time) string {
	off := "UTC" + t.Format("-07:00")
	switch name := t.Location().String(); name {
	case off:
		return off
	case "UTC":
		return name
	default:
		return name + ", " + off
	}
}

// Between gives the hours from an early to a late arrival, the early one rounded down and the
// late one up: "12:40–15:10", or "22:10–Thu 00:40" over midnight.
func Between(t clock.Times) string {
	early, late := t[clock.Early].Truncate(time.Minute), roundedUp(t[clock.Late])
	return early.Format("15:04") + "–" + beside(early, late)
}

// beside gives an hour as one reads it beside another: with its day where that is another.
func beside(of, t time.Time) string {
	of = of.In(t.Location())
	if of.YearDay() == t.YearDay() && of.Year() == t.Year() {
		return t.Format("15:04")
	}
	if days := t.Sub(of); days > 6*24*time.Hour { // the weekday alone might be this week's
		return t.Format("Mon 2 Jan 15:04")
	}
	return t.Format("Mon 15:04")
}

// Lasting gives how long something takes, to the nearest minute: "40 min", "2 h", "2 h 15 min".
func Lasting(d time.Duration) string {
	minutes := int(d.Round(time.Minute) / time.Minute)
	switch h, m := minutes/60, minutes%60; {
	case h == 0:
		return fmt.Sprintf("%d min", m)
	case m == 0:
		return fmt.Sprintf("%d h", h)
	default:
		return fmt.Sprintf("%d h %d min", h, m)
	}
}

// Clocked gives a duration as the number of a column, to the nearest minute: "2:15".
func Clocked(d time.Duration) string {
	minutes := int(d.Round(time.Minute) / time.Minute)
	return fmt.Sprintf("%d:%02d", minutes/60, minutes%60)
}

// A turning says which way a pump turns that is doubtful.
type turning int

const (
	anyWay turning = iota // it is not known
	toOpen
	toShut
)

// turns tells which way a doubtful pump first turns between the early run and the late: by what
// the likely run finds.
func turns(p *clock.Passing) turning {
	later := p.Turns.After(p.There[clock.Likely])
	switch {
	case p.Turns.IsZero():
		return anyWay
	case !p.Opens.IsZero() && later, p.Opens.IsZero() && !p.Closes.IsZero() && !later:
		return toOpen
	case !p.Opens.IsZero(), !p.Closes.IsZero():
		return toShut
	}
	return anyWay
}

// hour gives an hour as one reads it beside that of the likely arrival.
func hour(p *clock.Passing, t time.Time) string { return beside(p.There[clock.Likely], t) }

// Why is said of a pump that is left out for its hours: "shut until Mon 07:00".
func Why(p *clock.Passing) string {
	switch {
	case p == nil || p.State != clock.Shut: // another round of the clock came to it at another hour
		return "shut at an hour at which this ride may get there"
	case p.Opens.IsZero():
		return "shut for the next 14 days"
	}
	return "shut until " + Hour(p.Opens)
}

// Open says what a pump is when somebody is there, and what comes of it: "open", "doubtful till
// 10:00", "shut until 14:00, wait 40 min".
func Open(p *clock.Passing) string {
	switch {
	case p.LongShut:
		return Why(p)
	case p.State == clock.Shut && p.Fill == clock.InMorning:
		return "shut until " + hour(p, p.Opens) + ", fill in the morning"
	case p.State == clock.Shut && p.Opens.IsZero():
		return Why(p)
	case p.State == clock.Shut:
		return "shut until " + hour(p, p.Opens) + wait(p)
	case p.State == clock.Doubtful:
		return doubtful(p) + wait(p)
	case p.State == clock.NotKnown:
		return "hours not known"
	}
	return "open"
}

// wait says how long the likely run waits; "" where it does not.
func wait(p *clock.Passing) string {
	if w := p.Wait[clock.Likely]; w > 0 {
		return ", wait " + Lasting(w)
	}
	return ""
}

func doubtful(p *clock.Passing) string {
	if p.Turns.IsZero() {
		return "doubtful"
	}
	return map[turning]string{anyWay: "doubtful, turns ", toOpen: "doubtful till ", toShut: "doubtful from "}[turns(p)] +
		hour(p, p.Turns)
}

// Folded says of the hours of a pump what is not sure, or that it shuts soon; "" of one that is open
// for hours.
func Folded(p *clock.Passing) string {
	switch {
	case p == nil:
		return ""
	case p.State != clock.Open:
		return Open(p)
	case HasToHurry(p):
		return "be there by " + LastHour(p)
	}
	return ""
}

// LastHour gives the last hour to be at a pump, "" where it does not shut within 14 days of being
// reached, or nobody knows.
func LastHour(p *clock.Passing) string {
	if p.Closes.IsZero() || p.LongShut {
		return ""
	}
	return hour(p, p.Closes)
}

// HasToHurry tells whether a pump shuts within three hours of the late arrival: a puncture takes
// less. Our estimate.
func HasToHurry(p *clock.Passing) bool {
	const puncture = 3 * time.Hour
	return !p.Closes.IsZero() && !p.LongShut && p.Fill != clock.InMorning && p.Closes.Sub(p.There[clock.Late]) < puncture
}

// Cells gives what stands in the line of a pump on the first screen, from the longest way of
// writing it to the shortest. Nothing is said of one that is open for hours.
func Cells(p *clock.Passing) [3]string {
	same := func(s string) [3]string { return [3]string{s, s, s} }
	switch {
	case p == nil:
		return same("")
	case p.State == clock.NotKnown:
		return same("ask")
	case p.State == clock.Shut && p.Opens.IsZero():
		return same("shut")
	case p.State == clock.Shut:
		at := hour(p, p.Opens)
		return [3]string{"shut until " + at, "opens " + at, "shut"}
	case p.State == clock.Doubtful && p.Turns.IsZero():
		return [3]string{"doubtful", "doubtful", "?"}
	case p.State == clock.Doubtful:
		at := hour(p, p.Turns)
		short := map[turning]string{anyWay: at + "?", toOpen: "till " + at + "?", toShut: "by " + at + "?"}[turns(p)]
		return [3]string{doubtful(p), short, "?" + at}
	case HasToHurry(p):
		by := "by " + hour(p, p.Closes)
		return [3]string{by, by, hour(p, p.Closes)}
	}
	return same("")
}
