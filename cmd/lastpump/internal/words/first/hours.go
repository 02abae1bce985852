package first

import (
	"fmt"
	"slices"
	"strings"

	"lastpump/cmd/lastpump/internal/words/daily"
	"lastpump/cmd/lastpump/internal/words/warned"
	"lastpump/cmd/lastpump/internal/words/when"
	"lastpump/fuel/clock"
	"lastpump/fuel/plan"
	"lastpump/fuel/plan/days"
	"lastpump/fuel/stop/hours"
	"lastpump/fuel/trip"
)

// Timed tells whether the ride has hours.
func (v Voice) Timed() bool { return len(v.Plan.Days) > 0 }

// Nights says where the rider sleeps, when he gets there and when he leaves, or in short only where;
// "" where he does not.
func (v Voice) Nights(short bool) string {
	p := v.Plan
	if len(p.Days) < 2 {
		return ""
	}
	var out []string
	for i, d := range p.Days[:len(p.Days)-1] {
		if short {
			out = append(out, v.Units.Place(d.To))
			continue
		}
		s := fmt.Sprintf("%s %s", when.Hour(d.There[clock.Likely]), daily.Of(v.Voice).Night(d))
		if leave := when.Clock(p.Days[i+1].Leave); i == 0 || leave != when.Clock(d.Leave) {
			s += ", leave " + leave
		}
		out = append(out, s)
	}
	if short {
		return fmt.Sprintf("Nights: %s %s; when, in --full.", v.Units.DistanceUnit(), strings.Join(out, ", "))
	}
	return "Nights: " + strings.Join(out, "; ") + "."
}

// Hours says what is not sure of the hours of pumps, and where there is room what mends it; without a
// departure only that nobody has looked.
func (v Voice) Hours(room bool) []string {
	if !v.Timed() {
		return []string{"Hours: " + daily.NoDeparture}
	}
	var said []string
	dark := ""
	for _, w := range v.Plan.Warnings {
		switch w.Kind {
		case plan.KindShut:
			if at := v.Plan.Visits[w.Visit]; at.WhyNot != trip.LongShut { // the verdict has said so of those
				said = append(said, v.Name(at.Stop.Name)+" "+when.Open(at.Hour))
			}
		case plan.KindMaybeShut:
			var doubtful []string
			for _, k := range w.Visits {
				at := v.Plan.Visits[k]
				doubtful = append(doubtful, fmt.Sprintf("%s, %s: %s", v.Name(at.Stop.Name), v.Arrival(at.Hour), when.Open(at.Hour)))
			}
			said = append(said, few(doubtful))
		case plan.KindHoursNotKnown:
			said = append(said, warned.Of(v.Voice).HoursNotKnown(w.Visits))
		case plan.KindDark:
			dark = "Dark: you arrive after sunset on " + warned.DaysNamed(w.Fact.(plan.ArriveDark).Days) +
				"; leave earlier, or ride less."
		}
	}
	if len(said) == 0 {
		said = []string{"every pump to fill at is open when you get there, early or late"}
	}
	out := []string{"Hours: " + strings.Join(said, "; ") + "."}
	if dark != "" {
		out = append(out, dark)
	}
	if s := v.mend(); s != "" && room {
		out = append(out, "To mend it: "+s+".")
	}
	if s := daily.Of(v.Voice).BackNotChecked(); s != "" && room {
		out = append(out, s)
	}
	if v.asksForHolidays() {
		out = append(out, daily.HolidaysNotKnown)
	}
	return out
}

// mend gives the cure of hours that is more than a call and leaves the fewest pumps shut; "" where
// there is none, or where the pump is left out and there is enough fuel all the same.
func (v Voice) mend() string {
	var best *days.Cure
	for _, w := range v.Plan.Warnings {
		for _, c := range w.Hours {
			if c.Kind == days.Phone || v.Plan.Visits[c.Visit].Fill == nil && v.Plan.Worth.Holds() {
				continue
			}
			if best == nil || c.Standing.Compare(best.Standing) < 0 {
				best = &c
			}
		}
	}
	if best == nil {
		return ""
	}
	return warned.Of(v.Voice).HourCure(*best) + " → " + warned.AfterHourCure(*best)
}

// asksForHolidays tells whether a public holiday might change what is said of hours, and none is
// named.
func (v Voice) asksForHolidays() bool {
	o := v.Plan.Options.Days
	return o != nil && len(o.Holidays) == 0 && slices.ContainsFunc(v.Plan.Visits, func(at trip.Visit) bool {
		h, err := hours.Read(at.Stop.Hours)
		return at.Fill != nil && at.Stop.Hours != "" && err == nil && !h.Always()
	})
}
