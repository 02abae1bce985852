package words

import (
	"fmt"
	"slices"
	"strings"
	"time"

	"lastpump/cmd/lastpump/internal/words/phrase"
	"lastpump/cmd/lastpump/internal/words/when"
	"lastpump/fuel/clock"
	"lastpump/fuel/plan"
	"lastpump/fuel/plan/days"
	"lastpump/fuel/trip"
	"lastpump/route"
	"lastpump/route/zone"
)

// Arrival gives when a pump is reached: "Wed 13:19 (12:40–15:10)".
func (v Voice) Arrival(p *clock.Passing) string {
	return fmt.Sprintf("%s (%s)", when.Hour(p.There[clock.Likely]), when.Between(p.There))
}

// Day names a day with its date.
func (v Voice) Day(i int) string {
	if i < 0 || i >= len(v.Plan.Days) {
		return phrase.DayNumber(i)
	}
	return fmt.Sprintf("%s, %s", phrase.DayNumber(i), when.Date(v.Plan.Days[i].Leave))
}

// Standing says how many of the pumps that a ride meets are left out for their hours, shut, or
// doubtful.
func Standing(s days.Standing) string {
	var out []string
	for _, of := range []struct {
		n    int
		what string
	}{{s.LongShut, "left out"}, {s.Shut, "shut"}, {s.Doubtful, "doubtful"}} {
		if of.n > 0 {
			out = append(out, fmt.Sprintf("%d %s", of.n, of.what))
		}
	}
	if len(out) == 0 {
		return "no pump shut or doubtful"
	}
	return strings.Join(out, ", ")
}

// leftOut says which pumps are left out for their hours, and which are taken as dry together; ""
// where none is.
func (v Voice) leftOut() string {
	var out, late []string
	for k, at := range v.Plan.Visits {
		switch {
		case at.WhyNot == trip.LongShut:
			out = append(out, v.Passed(k)+", "+shutFrom(at.Hour))
		case at.Fill != nil && at.Hour != nil && at.Hour.DryIfLate:
			late = append(late, v.Passed(k))
		}
	}
	s := ""
	if n := len(out); n > 0 {
		what := "A pump is left out, shut when you get there: "
		if n > 1 {
			what = fmt.Sprintf("%d pumps are left out, shut when you get there: ", n)
		}
		s = " " + what + strings.Join(phrase.FirstOf(out), "; ") + "."
	}
	switch len(late) {
	case 0:
	case 1:
		s += fmt.Sprintf(" You may find %s shut for too long: that is a dry pump.", late[0])
	default:
		s += fmt.Sprintf(" Who is late may find %s shut for too long: counted as dry together.", phrase.Listed(phrase.FirstOf(late), "and"))
	}
	return s
}

// shutFrom says when a pump is reached that is left out, and until when it is shut then.
func shutFrom(p *clock.Passing) string {
	if p == nil || p.State != clock.Shut {
		return when.Why(p)
	}
	return when.Hour(p.There[clock.Likely]) + ", " + when.Why(p)
}

// hoursAssumed says what is taken of the hours of the ride.
func (v Voice) hoursAssumed(a plan.Assumption) (name, value string) {
	m, o := v.Plan.Manner, v.Plan.Options.Days
	if o == nil {
		o = &days.Options{}
	}
	switch a.Topic {
	case plan.TopicSpeeds:
		return "Speeds", "riding, likely (low–high): " + v.speeds()
	case plan.TopicPauses:
		value = fmt.Sprintf("pauses of %s for each hour of riding, %s at a pump (early, likely, late); %s of riding a day",
			figures(m.Pauses), figures(m.Fill), when.Lasting(m.Hours))
		if m.Pace != 1 {
			value += fmt.Sprintf("; %.2f times as long as that, by your pace", m.Pace)
		}
		return "Hours", value
	case plan.TopicNights:
		return "Nights", v.nights()
	case plan.TopicHolidays:
		if len(o.Holidays) == 0 {
			return "Holidays", "public ones are not known, and taken as ordinary days (--holiday)"
		}
		var dates []string
		for _, d := range o.Holidays {
			dates = append(dates, d.Format(time.DateOnly))
		}
		return "Holidays", strings.Join(dates, ", ")
	case plan.TopicWater:
		return "Water", v.Units.Needed(o.Water) + " a day (--water)"
	case plan.TopicZones:
		if o.Mapped {
			return "Time zones", when.BoundariesCredit + " Within " + v.Units.Distance(zone.Margin) +
				" of a border hours are read by both clocks"
		}
		return "Time zones", "one for all of the ride (--timezone)"
	}
	return "", ""
}

// figures says an early, a likely and a late duration in minutes.
func figures(d clock.Durations) string {
	return fmt.Sprintf("%.0f, %.0f and %.0f min", d[clock.Early].Minutes(), d[clock.Likely].Minutes(), d[clock.Late].Minutes())
}

// nights says what the nights were fixed by.
func (v Voice) nights() string {
	said := map[clock.By]string{
		clock.ByRider: "where you sleep (--night)",
		clock.ByPart:  "at the ends of the parts of the file",
		clock.ByHours: "by hours of riding, an hour before sunset at the latest",
		clock.ByWait:  "at a pump until it opens",
	}
	var out []string
	for _, d := range v.Plan.Days {
		if s := said[d.Night.By]; s != "" && !slices.Contains(out, s) {
			out = append(out, s)
		}
	}
	if len(out) == 0 {
		return "none, the ride is over in a day"
	}
	return strings.Join(out, "; ") + "; nobody knows of lodging or a camp there: ask"
}

// speeds lists those of the grounds on the way.
func (v Voice) speeds() string {
	on := map[route.Ground]bool{}
	for _, l := range v.Plan.Legs {
		for _, g := range l.Drink.Grounds {
			on[g.Ground] = true
		}
	}
	on[route.Unknown] = v.Plan.Loop.Guessed > 1000 // less is the rounding of a list
	perHour := func(s clock.KmPerHour) float64 { return v.Units.DistanceIn(route.Metres(s * 1000)) }
	var parts []string
	for _, g := range append(route.AllGrounds(), route.Unknown) {
		if !on[g] {
			continue
		}
		s, own := v.Plan.Manner.Speed(g), ""
		if _, is := v.Plan.Manner.Own[g]; is {
			own = " (yours)"
		}
		parts = append(parts, fmt.Sprintf("%s %.0f (%.0f–%.0f)%s", g, perHour(s.Likely), perHour(s.Low), perHour(s.High), own))
		on[g] = false
	}
	return strings.Join(parts, ", ") + " " + v.Units.SpeedUnit()
}
