package trail

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"lastpump/cmd/lastpump/internal/words"
	"lastpump/cmd/lastpump/internal/words/daily"
	"lastpump/cmd/lastpump/internal/words/units"
	"lastpump/cmd/lastpump/internal/words/warned"
	"lastpump/fuel/leg"
	"lastpump/fuel/plan/cue"
	"lastpump/fuel/stop"
	"lastpump/fuel/trip"
	"lastpump/route"
)

// VisitsOf gives the visits of a stop; none for one that stands in the list before.
func (v Voice) VisitsOf(i int) (visits []int) {
	s := v.Plan.Stops[i]
	same := func(o stop.Stop) bool { return o.Name == s.Name && o.At == s.At }
	if slices.IndexFunc(v.Plan.Stops, same) < i {
		return nil
	}
	for k, at := range v.Plan.Visits {
		if same(at.Stop) {
			visits = append(visits, k)
		}
	}
	return visits
}

// fillGrade gives the grade of a fill, or of what is in a tank that is full at the start;
// "" where it is not known.
func (v Voice) fillGrade(f *leg.Fill) string {
	first := v.Plan.Legs[0].FromVisit
	switch s := v.Plan.Start; {
	case f.High <= 0 && s.Mixture == nil && first >= 0 && v.Plan.Visits[first].Fill == f:
		return s.Grade.String()
	case f.HasGrade:
		return f.Grade.String()
	}
	return ""
}

// FillTold says what to do at a visit.
func (v Voice) FillTold(k int) []string {
	at := v.Plan.Visits[k]
	f := at.Fill
	take := "the tank is full here"
	if f.High > 0 {
		take = fmt.Sprintf("fill to the brim, %s (%s–%s; if more goes in, the bike is using more than planned)",
			v.Units.Needed(f.Litres), v.Units.VolumeUp(f.Low), v.Units.VolumeUp(f.High))
	}
	told := []string{fmt.Sprintf("%s: %s; %s; zero the trip meter", v.Km(at.At), take,
		cmp.Or(v.fillGrade(f), "grade unknown: ask"))}
	if way := v.OffTheLine(v.cueOf(k)); way != "" {
		told = append(told, way)
	}
	if f.Can > 0 {
		told = append(told, "into the can: "+v.Units.Needed(f.Can))
	}
	if at.Mixture != nil {
		told = append(told, fmt.Sprintf("in the tank then: %s, %s for %s", words.Mixture(*at.Mixture), at.Mixture.Verdict,
			v.Plan.Bike.Needs))
	}
	for _, c := range v.Plan.Cues {
		if c.Visit == k && c.Use >= 0 {
			told = append(told, v.CanUse(v.Plan.Can.Uses[c.Use]))
		}
	}
	if at.Hour != nil {
		told = append(told, daily.Of(v.Voice).HoursTold(k))
	}
	return append(told, v.doubtsTold(k)...)
}

// cueOf gives the cue at which a visit is filled at.
func (v Voice) cueOf(k int) cue.Cue {
	return v.Plan.Cues[slices.IndexFunc(v.Plan.Cues, func(c cue.Cue) bool { return c.Visit == k })]
}

// doubtsTold says what may be wrong with a stop.
func (v Voice) doubtsTold(k int) (told []string) {
	at := v.Plan.Visits[k]
	switch {
	case at.LastFuel != nil:
		told = append(told, v.lastFuelTold(k)...)
	case at.UnsureAhead:
		told = append(told, warned.UnsureToo)
	}
	if at.IfDry != nil {
		told = append(told, "if it is dry: "+v.IfDryTold(*at.IfDry))
	}
	if len(at.Also) > 0 {
		told = append(told, "also here: "+strings.Join(at.Also, ", "))
	}
	return told
}

// WhyNot says why no fill is planned at a stop.
func (v Voice) WhyNot(i int) string {
	s := v.Plan.Stops[i]
	for _, k := range v.VisitsOf(i) {
		if why := words.WhyNot(v.Plan.Visits[k]); why != "" {
			return why
		}
	}
	for _, at := range v.Plan.Visits {
		if slices.Contains(at.Also, s.Name) {
			return "one place with " + at.Stop.Name + ", which is planned"
		}
	}
	for _, n := range v.Plan.NotUsed {
		if n.Stop == s.Name {
			return v.OffLine(n)
		}
	}
	return "not on the way that is planned"
}

// TurnBackTold says what to know of the last place to turn back from.
func (v Voice) TurnBackTold(c cue.Cue) []string {
	l := v.Plan.Legs[c.Leg]
	from, to := v.Ends(c.Leg)
	return []string{
		fmt.Sprintf("Leg %d, %s to %s: the last place to turn back from, trip %s %s.", c.Leg+1, from, to,
			v.Units.Whole(c.Trip), v.Units.DistanceUnit()),
		fmt.Sprintf("Is anything wrong ahead, with the way, the weather or the fuel? Turn round here at the latest: "+
			"by the likely figures you are back at %s with the reserve untouched, by the high ones not yet dry.", from),
		fmt.Sprintf("Farther on go on to %s, at trip %s %s.", to, v.far(l.Trip(v.Plan.Bike)), v.Units.DistanceUnit()),
	}
}

// PourTold says what to know of the place where the can is poured.
func (v Voice) PourTold(c cue.Cue) []string {
	u := v.Plan.Can.Uses[c.Use]
	told := []string{fmt.Sprintf("Pour the can, engine off: %s.", strings.TrimSuffix(v.CanUse(u), "."))}
	if u.Full > 0 {
		told = append(told, fmt.Sprintf("If you ride on past trip %s %s a thirsty bike has less than %s left.",
			v.Units.Whole(u.PourBy), v.Units.DistanceUnit(), v.Units.Needed(1)))
	}
	return told
}

// lastFuelTold says what to know of the last sure fuel.
func (v Voice) lastFuelTold(k int) []string {
	told := []string{"fill up: doubtful ahead, this is the last sure fuel; do not ride past, and ask about what " +
		"comes next"}
	next := slices.IndexFunc(v.Plan.Legs, func(l trip.Leg) bool { return l.FromVisit == k })
	if next < 0 {
		return told
	}
	l := v.Plan.Legs[next]
	_, to := words.EndsOf(v.Plan, next)
	text := fmt.Sprintf("next: leg %d to %s, trip %s %s, %s", next+1, to, v.far(l.Trip(v.Plan.Bike)),
		v.Units.DistanceUnit(), l.Verdict)
	if l.ToVisit >= 0 && v.Plan.Visits[l.ToVisit].IfDry != nil {
		text += "; if that is dry: " + v.IfDryTold(*v.Plan.Visits[l.ToVisit].IfDry)
	}
	return append(told, text)
}

// far gives the number of a distance, to a tenth.
func (v Voice) far(m route.Metres) string { return units.Near(v.Units.DistanceIn(m)) }
