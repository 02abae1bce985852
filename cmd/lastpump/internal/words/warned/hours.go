package warned

import (
	"fmt"
	"math"
	"strings"
	"time"

	"lastpump/cmd/lastpump/internal/words"
	"lastpump/cmd/lastpump/internal/words/phrase"
	"lastpump/cmd/lastpump/internal/words/when"
	"lastpump/fuel/clock"
	"lastpump/fuel/plan"
	"lastpump/fuel/plan/days"
	"lastpump/fuel/stop/hours"
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
		return v.Passed(visit) + ": shut when you get there"
	}
	s := fmt.Sprintf("%s: you get there %s", v.Passed(visit), v.Arrival(p))
	if !p.LongShut {
		return s + ", and it is " + when.Open(p)
	}
	s += ", and it is " + when.Why(p)
	if o := v.Plan.Options.Days; o != nil && p.State == clock.Shut && !p.Opens.IsZero() {
		s += fmt.Sprintf(", longer than the %s that you wait (--wait)", when.Lasting(o.Wait))
	}
	return s + ": it is left out"
}

// maybeShut says of pumps that are doubtful when you get there, and by when to.
func (v Voice) maybeShut(visits []int) string {
	var out []string
	dry := 0
	for _, k := range visits {
		p := v.Plan.Visits[k].Hour
		if p == nil {
			out = append(out, v.Passed(k)+", doubtful")
			continue
		}
		s := fmt.Sprintf("%s, %s: %s", v.Passed(k), v.Arrival(p), when.Open(p))
		if p.DryIfLate {
			dry++
			s += ", and may be shut for too long: then it is dry to you"
		}
		out = append(out, s)
	}
	s := strings.Join(phrase.FirstOf(out), "; ") + "; ring, or leave so that you are there in time"
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
		s := phrase.DayNumber(i)
		if i < len(v.Plan.Days) {
			d := v.Plan.Days[i]
			s += ", " + when.Hour(d.There[clock.Likely])
			if !d.Sunset.IsZero() {
				s += ", sunset " + when.Clock(d.Sunset)
			}
		}
		out = append(out, s)
	}
	return "you arrive in the dark on " + strings.Join(phrase.FirstOf(out), "; ") + ": animals are on the road at dusk, and a pump is hard to find; " +
		"leave earlier or ride less that day"
}

// HourCure says what a rider may do about a pump that is shut or may be.
func (v Voice) HourCure(c days.Cure) string {
	name := v.Passed(c.Visit)
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
		return fmt.Sprintf("sleep at %s at the end of %s (--night, with all other nights: those named take the place of all): there %s", name, phrase.DayNumber(c.Day), v.there(c.There))
	case days.StartOn:
		return fmt.Sprintf("start on %s instead of %s (--date %s): at %s %s", when.Date(c.Leave), when.Date(c.Was),
			c.Leave.Format(time.DateOnly), name, v.there(c.There))
	}
	return ""
}

func (v Voice) there(t clock.Times) string {
	return fmt.Sprintf("%s (%s)", when.Hour(t[clock.Likely]), when.Between(t))
}

// phone says whom to ring, and what to ask.
func (v Voice) phone(visit int) string {
	at := v.Plan.Visits[visit]
	s := "ask ahead at "
	if at.Stop.Phone != "" {
		s = "ring "
	}
	s += v.Passed(visit)
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
	return words.Standing(c.Standing)
}
