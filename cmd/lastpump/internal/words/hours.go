package words

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"time"

	"lastpump/cmd/lastpump/internal/words/when"
	"lastpump/fuel/clock"
	"lastpump/fuel/plan"
	"lastpump/fuel/plan/days"
	"lastpump/fuel/stop/hours"
	"lastpump/fuel/trip"
	"lastpump/route"
	"lastpump/route/zone"
)

// ofHours says what is wrong with the hours of pumps, and of days.
func (v Voice) ofHours(w plan.Warning) string {
	switch f := w.Fact.(type) {
	case plan.ShutThere:
		return v.shutThere(w.Visit)
	case plan.MaybeShut:
		return v.maybeShut(w.Visits)
	case plan.HoursNotKnown:
		return v.HoursNotKnown(w.Visits) + ": nobody can say whether they are open when you get there; ring or ask"
	case plan.ArriveDark:
		return v.arriveDark(f.Days)
	}
	return ""
}

// shutThere says of a pump that is shut when it opens, and what the plan makes of that.
func (v Voice) shutThere(visit int) string {
	at := v.Plan.Visits[visit]
	p := at.Hour
	if p == nil {
		return v.passed(visit) + ": shut when you get there"
	}
	s := fmt.Sprintf("%s: you get there %s", v.passed(visit), v.Arrival(p))
	if !p.LongShut {
		return s + ", and it is " + when.Open(p)
	}
	s += ", and it is " + when.Why(p)
	if o := v.Plan.Options.Days; o != nil && p.State == clock.Shut && !p.Opens.IsZero() {
		s += fmt.Sprintf(", longer than the %s that you wait (--wait)", when.Lasting(o.Wait))
	}
	return s + ": it is left out"
}

// Arrival gives when a pump is reached: "Wed 13:19 (12:40–15:10)".
func (v Voice) Arrival(p *clock.Passing) string {
	return fmt.Sprintf("%s (%s)", when.Hour(p.There[clock.Likely]), when.Between(p.There))
}

// maybeShut says of pumps that are doubtful when you get there, and by when to.
func (v Voice) maybeShut(visits []int) string {
	var out []string
	dry := 0
	for _, k := range visits {
		p := v.Plan.Visits[k].Hour
		if p == nil {
			out = append(out, v.passed(k)+", doubtful")
			continue
		}
		s := fmt.Sprintf("%s, %s: %s", v.passed(k), v.Arrival(p), when.Open(p))
		if p.DryIfLate {
			dry++
			s += ", and may be shut for too long: then it is dry to you"
		}
		out = append(out, s)
	}
	s := strings.Join(firstOf(out), "; ") + "; ring, or leave so that you are there in time"
	if dry > 1 {
		s += ". Who is late is late for all of them: they are taken as dry together"
	}
	return "it may be shut when you get there: " + s
}

// HoursNotKnown names pumps of which the hours are not known, and tells which are not given,
// which are not understood, and which keep the clock of a zone that is not known.
func (v Voice) HoursNotKnown(visits []int) string {
	var none, odd, zone []int
	for _, k := range visits {
		h := v.Plan.Visits[k].Stop.Hours
		_, err := hours.Read(h)
		switch {
		case h == "":
			none = append(none, k)
		case err != nil:
			odd = append(odd, k)
		default:
			zone = append(zone, k)
		}
	}
	var out []string
	for _, g := range []struct {
		said   string
		visits []int
	}{{"hours not known: ", none}, {"hours not understood: ", odd}, {"hours of a time zone that is not known: ", zone}} {
		if len(g.visits) > 0 {
			out = append(out, g.said+v.stops(g.visits))
		}
	}
	return strings.Join(out, "; ")
}

// arriveDark says on which days the end is in the dark.
func (v Voice) arriveDark(which []int) string {
	var out []string
	for _, i := range which {
		s := dayNumber(i)
		if i < len(v.Plan.Days) {
			d := v.Plan.Days[i]
			s += ", " + when.Hour(d.There[clock.Likely])
			if !d.Sunset.IsZero() {
				s += ", sunset " + when.Clock(d.Sunset)
			}
		}
		out = append(out, s)
	}
	return "you arrive in the dark on " + strings.Join(firstOf(out), "; ") + ": animals are on the road at dusk, and a pump is hard to find; " +
		"leave earlier or ride less that day"
}

// dayNumber names a day as a rider counts.
func dayNumber(i int) string { return fmt.Sprintf("day %d", i+1) }

// HourCure says what a rider may do about a pump that is shut or may be.
func (v Voice) HourCure(c days.Cure) string {
	name := v.passed(c.Visit)
	switch c.Kind {
	case days.Phone:
		return v.phone(c.Visit)
	case days.LeaveAt:
		return fmt.Sprintf("leave at %s instead of %s on %s (--depart \"%d %s\"): at %s %s", c.Leave.Format("15:04"),
			c.Was.Format("15:04"), v.Day(c.Day), c.Day+1, c.Leave.Format("15:04"), name, v.there(c.There))
	case days.WaitThere:
		return fmt.Sprintf("wait %s at %s until it opens (--wait %.0fh)", when.Lasting(c.Wait), name, math.Ceil(c.Wait.Hours()))
	case days.PassBy:
		return "ride past " + name + " without filling"
	case days.SleepAt:
		return fmt.Sprintf("sleep at %s at the end of %s (--night, with all other nights: those named take the place of all): there %s", name, dayNumber(c.Day), v.there(c.There))
	case days.StartOn:
		return fmt.Sprintf("start on %s instead of %s (--date %s): at %s %s", when.Date(c.Leave), when.Date(c.Was),
			c.Leave.Format(time.DateOnly), name, v.there(c.There))
	}
	return ""
}

func (v Voice) there(t clock.Times) string {
	return fmt.Sprintf("%s (%s)", when.Hour(t[clock.Likely]), when.Between(t))
}

// Day names a day with its date.
func (v Voice) Day(i int) string {
	if i < 0 || i >= len(v.Plan.Days) {
		return dayNumber(i)
	}
	return fmt.Sprintf("%s, %s", dayNumber(i), when.Date(v.Plan.Days[i].Leave))
}

// phone says whom to ring, and what to ask.
func (v Voice) phone(visit int) string {
	at := v.Plan.Visits[visit]
	s := "ask ahead at "
	if at.Stop.Phone != "" {
		s = "ring "
	}
	s += v.passed(visit)
	if at.Stop.Phone != "" {
		s += ", " + at.Stop.Phone + ","
	}
	if at.Hour == nil {
		return s + " whether it is open when you get there"
	}
	return s + " whether it is open " + v.Arrival(at.Hour)
}

// AfterHourCure says how the pumps of the whole ride then stand, in a verdict of a few words.
func AfterHourCure(c days.Cure) string {
	if c.Kind == days.Phone {
		return "sure"
	}
	return Standing(c.Standing)
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
			out = append(out, v.passed(k)+", "+shutFrom(at.Hour))
		case at.Fill != nil && at.Hour != nil && at.Hour.DryIfLate:
			late = append(late, v.passed(k))
		}
	}
	s := ""
	if n := len(out); n > 0 {
		what := "A pump is left out, shut when you get there: "
		if n > 1 {
			what = fmt.Sprintf("%d pumps are left out, shut when you get there: ", n)
		}
		s = " " + what + strings.Join(firstOf(out), "; ") + "."
	}
	switch len(late) {
	case 0:
	case 1:
		s += fmt.Sprintf(" You may find %s shut for too long: that is a dry pump.", late[0])
	default:
		s += fmt.Sprintf(" Who is late may find %s shut for too long: counted as dry together.", listed(firstOf(late), "and"))
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
