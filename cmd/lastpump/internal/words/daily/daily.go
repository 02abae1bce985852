// Package daily has the words of the days of a ride: when a pump is reached, where the nights are,
// and what there is to know of the clock. Start with [Of].
package daily

import (
	"fmt"
	"strings"
	"time"

	"lastpump/cmd/lastpump/internal/words"
	"lastpump/cmd/lastpump/internal/words/when"
	"lastpump/fuel"
	"lastpump/fuel/clock"
	"lastpump/fuel/leg"
	"lastpump/fuel/plan/days"
	"lastpump/fuel/trip"
	"lastpump/route"
)

// A Voice says what there is to say of the days of a ride.
type Voice struct{ words.Voice }

// Of gives the voice for a plan.
func Of(v words.Voice) Voice { return Voice{v} }

// NoDeparture says that hours are not looked at, and how they are.
const NoDeparture = "not checked for when you get there: --depart 08:00 does (--date for the day)."

// HolidaysNotKnown says how public holidays are taken.
const HolidaysNotKnown = "Public holidays are not known, and taken as ordinary days: name them with --holiday 2026-12-25."

// BackNotChecked says what nobody knows of a way back; "" where no dry pump asks for one.
func (v Voice) BackNotChecked() string {
	for _, at := range v.Plan.Visits {
		if d := at.IfDry; d != nil && d.Back.HasStop() && (d.Outcome == leg.Back || d.High == leg.Back) {
			return "If you ride back from a dry pump, the one behind may be shut by then: ask as you pass it."
		}
	}
	return ""
}

// HoursTold says of a visit when it is reached, whether it is open then, and the last hour to be
// there: "day 3, Wed 13:19 (12:40–15:10): open; be there by 18:00".
func (v Voice) HoursTold(visit int) string {
	p := v.Plan.Visits[visit].Hour
	return fmt.Sprintf("day %d, %s: %s", p.Day+1, v.Arrival(p), Open(p))
}

// Open says what a pump is when somebody is there, and the last hour to be: "open; be there by 18:00".
func Open(p *clock.Passing) string {
	if last := when.LastHour(p); last != "" && p.Fill != clock.InMorning {
		return when.Open(p) + "; be there by " + last
	}
	return when.Open(p)
}

// Night says where a day ends.
func (v Voice) Night(d days.Day) string {
	switch n := d.Night; {
	case n.By == clock.ByEnd:
		return v.RideEnd()
	case d.Visit >= 0:
		return v.Name(v.Plan.Visits[d.Visit].Stop.Name)
	case n.By == clock.ByHours && n.Between[1] > n.Between[0]:
		return fmt.Sprintf("between %s and %s", v.Km(n.Between[0]), v.Units.Place(n.Between[1]))
	default:
		return v.by(d.To)
	}
}

// near is how far along the line from a pump a night is by it.
const near route.Metres = 3000

// by names a place along the line, with the pump that it is by.
func (v Voice) by(at route.Metres) string {
	best, off := "", near
	for _, p := range v.Plan.Visits {
		if d := max(p.At-at, at-p.At); d <= off && (p.Counted || p.WhyNot == trip.NotNeeded) {
			best, off = p.Stop.Name, d
		}
	}
	if best == "" {
		return v.Km(at)
	}
	return fmt.Sprintf("by %s (%s)", v.Name(best), v.Km(at))
}

// Fit says at which hours of leaving every pump of a day is open.
func Fit(d days.Day) string {
	if !d.Asked {
		return "any"
	}
	if len(d.Fit) == 0 {
		return "none"
	}
	var out []string
	for _, w := range d.Fit {
		s := w.From.Format("15:04")
		if w.To.After(w.From) {
			s += "–" + w.To.Format("15:04")
		}
		out = append(out, s)
	}
	return strings.Join(out, ", ")
}

// Water says how much to have at hand over all days.
func (v Voice) Water(each fuel.Litres) string {
	all := fuel.Litres(len(v.Plan.Days)) * each
	over := "the one day"
	if n := len(v.Plan.Days); n > 1 {
		over = fmt.Sprintf("all %d days", n)
	}
	return fmt.Sprintf("Water, to drink and to cook with: %s a day for each rider, %s over %s (--water); more in heat.",
		v.Units.Needed(each), v.Units.Needed(all), over)
}

// ClockNote says what there is to know of a day, of the clock, or of how the days came about.
func (v Voice) ClockNote(n clock.Note) string {
	switch n.Kind {
	case clock.PartNoDay:
		return fmt.Sprintf("%s takes %s, which is no day: nights are by hours of riding and daylight, not at the ends of the parts",
			v.part(n.Part), when.Lasting(n.Takes))
	case clock.SunNeverUp:
		return fmt.Sprintf("%s: the sun does not rise: its night is by hours of riding alone", v.Day(n.Day))
	case clock.HardlyRidden:
		return fmt.Sprintf("%s: less than an hour of riding is left before dark: its night is by hours of riding alone", v.Day(n.Day))
	case clock.GapNoTime:
		return fmt.Sprintf("the gap at %s is skipped, and takes no time here: say how long it takes with --halt \"2h at %s\"",
			v.Km(n.At), v.Km(n.At))
	case clock.ZoneNotKnown:
		return fmt.Sprintf("at %s no time zone is known: the last that was is kept; --timezone gives one for all of the ride", v.Km(n.At))
	}
	return v.clockTurned(n)
}

// clockTurned says of clocks that are put on or back, and of ends of days that are late.
func (v Voice) clockTurned(n clock.Note) string {
	switch n.Kind {
	case clock.ZoneChanges:
		return fmt.Sprintf("by %s clocks are %s: %s is then %s (%s)", v.Km(n.At), turned(n), n.Before.Format("15:04"),
			when.Hour(n.After), n.After.Location())
	case clock.ClocksChange:
		return fmt.Sprintf("%s: the clocks are changed, by %s they are %s: %s is then %s", v.Day(n.Day), v.Km(n.At), turned(n),
			n.Before.Format("15:04"), when.Hour(n.After))
	case clock.LateAtNight:
		return fmt.Sprintf("%s: who is late gets in after the hour of leaving next day: shorten the day, or leave later",
			v.Day(n.Day))
	case clock.ArrivesDark:
		s := v.Day(n.Day) + " ends in the dark"
		if n.Day < len(v.Plan.Days) {
			s += ", " + when.Hour(v.Plan.Days[n.Day].There[clock.Likely])
		}
		return s
	}
	return ""
}

// turned says by how much clocks are put on or back.
func turned(n clock.Note) string {
	_, was := n.Before.Zone()
	_, is := n.After.Zone()
	by := time.Duration(is-was) * time.Second
	if by < 0 {
		return when.Lasting(-by) + " back"
	}
	return when.Lasting(by) + " on"
}

// part names a part of the line.
func (v Voice) part(i int) string {
	if i < 0 || i >= len(v.Plan.Line.Parts) || v.Plan.Line.Parts[i].Name == "" {
		return fmt.Sprintf("part %d", i+1)
	}
	return fmt.Sprintf("part %d, %s,", i+1, v.Plan.Line.Parts[i].Name)
}
