package trail

import (
	"fmt"
	"slices"

	"lastpump/cmd/lastpump/internal/words/daily"
	"lastpump/cmd/lastpump/internal/words/when"
	"lastpump/fuel/clock"
	"lastpump/fuel/plan/cue"
	"lastpump/fuel/plan/days"
)

// A Step is what stands at one place of the strip: a day begins, it ends where the night is, or
// there is something to do.
type Step struct {
	Day, Night int // into Plan.Days: which begins, or ends; -1 for neither
	Cue        cue.Cue
	Named      bool // Cue is the part of the file that begins with the day
}

// Steps lists what stands on the strip, in the order of the ride: the cues, and where the clock
// is followed the days among them. A part that is a day stands with it.
func (v Voice) Steps() (out []Step) {
	cues := v.Plan.Cues
	for i, d := range v.Plan.Days {
		out = append(out, Step{Day: i, Night: -1})
		if v.byParts(i) {
			cues = partFirst(cues)
			if len(cues) > 0 && cues[0].Kind == cue.Part {
				last := &out[len(out)-1]
				last.Cue, last.Named = cues[0], true
				cues = cues[1:]
			}
		}
		n := len(cues)
		if i+1 < len(v.Plan.Days) {
			if n = slices.IndexFunc(cues, func(c cue.Cue) bool { return v.after(c, i, d) }); n < 0 {
				n = len(cues)
			}
		}
		for _, c := range cues[:n] {
			out = append(out, Step{Day: -1, Night: -1, Cue: c})
		}
		filled := n > 0 && cues[n-1].Visit >= 0 && v.sleepsAt(cues[n-1].Visit) == i
		if d.Night.By != clock.ByEnd && !filled {
			out = append(out, Step{Day: -1, Night: i})
		}
		cues = cues[n:]
	}
	for _, c := range cues {
		out = append(out, Step{Day: -1, Night: -1, Cue: c})
	}
	return out
}

// byParts tells whether a day begins with a part of the file; the first does where another does.
func (v Voice) byParts(day int) bool {
	if day > 0 {
		return v.Plan.Days[day-1].Night.By == clock.ByPart
	}
	return slices.ContainsFunc(v.Plan.Days, func(d days.Day) bool { return d.Night.By == clock.ByPart })
}

// partFirst has the part that begins where the ride does stand before the start.
func partFirst(cues []cue.Cue) []cue.Cue {
	if len(cues) < 2 || cues[0].Kind != cue.Start || cues[1].Kind != cue.Part || cues[1].Trip > 0 {
		return cues
	}
	out := slices.Clone(cues)
	out[0], out[1] = out[1], out[0]
	return out
}

// after tells whether a cue comes after the night of a day.
func (v Voice) after(c cue.Cue, day int, d days.Day) bool {
	if c.Visit >= 0 {
		if p := v.Plan.Visits[c.Visit].Hour; p != nil && p.Reached {
			return p.Day > day || p.Day == day && p.Fill == clock.InMorning && c.Visit == d.Visit
		}
	}
	return c.At > d.To || c.At == d.To && c.Kind == cue.Part
}

// sleepsAt gives the day that ends at a visit where the tank is filled in the evening; -1 for none.
func (v Voice) sleepsAt(visit int) int {
	p := v.Plan.Visits[visit].Hour
	if p == nil || p.Fill == clock.InMorning {
		return -1
	}
	return slices.IndexFunc(v.Plan.Days, func(d days.Day) bool { return d.Visit == visit && d.Night.By != clock.ByEnd })
}

// DayHead is what stands where a day begins.
type DayHead struct {
	Day  string // with its number and date
	Part string // of the file, which begins with it; "" for none
	Told []Sentence
}

// DayHead gives the head of a day.
func (v Voice) DayHead(s Step) DayHead {
	d := v.Plan.Days[s.Day]
	head := DayHead{Day: fmt.Sprintf("DAY %d %s", s.Day+1, when.Date(d.Leave))}
	if s.Named {
		head.Part = v.Part(s.Cue.Part)
	}
	text := fmt.Sprintf("leave %s, %s riding", when.Clock(d.Leave), when.Clocked(d.Riding))
	if !d.Sunset.IsZero() {
		text += ", sunset " + when.Clock(d.Sunset)
	}
	to := Sentence{Text: v.nightOf(d) + ", " + there(d.There)}
	switch {
	case d.Sunset.IsZero():
	case d.There[clock.Likely].After(d.Sunset):
		to.How, to.Text = Strong, to.Text+": after sunset"
	case d.There[clock.Late].After(d.Sunset):
		to.How, to.Text = Strong, to.Text+": after sunset if late"
	}
	head.Told = []Sentence{{Text: text, How: Firm}, to}
	return head
}

// nightOf says where a day ends.
func (v Voice) nightOf(d days.Day) string {
	where := daily.Of(v.Voice).Night(d)
	if d.Night.By == clock.ByEnd {
		return "end: " + where
	}
	return "night: " + where
}

// there gives when a place is reached: "Wed 13:19 (12:40–15:10)".
func there(t clock.Times) string {
	return fmt.Sprintf("%s (%s)", when.Hour(t[clock.Likely]), when.Between(t))
}

// NightOnStrip says where a night is that is no pump to fill at.
func (v Voice) NightOnStrip(day int) CueText {
	d := v.Plan.Days[day]
	return CueText{Figure: v.Units.Nearest(d.Trip), Place: "NIGHT", Do: []Sentence{
		{Text: daily.Of(v.Voice).Night(d), How: Strong}, {Text: there(d.There), How: Firm}}}
}

// nightHere says of a pump that the night is there, after the fill.
func (v Voice) nightHere(visit int) []Sentence {
	i := v.sleepsAt(visit)
	if i < 0 || i+1 >= len(v.Plan.Days) {
		return nil
	}
	return []Sentence{{Text: "NIGHT HERE, leave " + when.Hour(v.Plan.Days[i+1].Leave), How: Strong}}
}

// hour says of a pump when it is reached, whether it is open then, and the last hour to be there
// where a puncture or the late figure misses it.
func (v Voice) hour(visit int) []Sentence {
	p := v.Plan.Visits[visit].Hour
	if p == nil || !p.Reached {
		return nil
	}
	s := Sentence{Text: v.Arrival(p) + ": " + when.Open(p), How: Firm}
	if p.State != clock.Open {
		s.How = Strong
	}
	if last := when.LastHour(p); last != "" && p.Fill != clock.InMorning && (p.MayBeShut() || when.HasToHurry(p)) {
		s.Text, s.How = s.Text+"; BE THERE BY "+last, Strong
	}
	return []Sentence{s}
}

// NightName says in a few letters which night it is.
func (v Voice) NightName(day int) WaypointName {
	return WaypointName{What: fmt.Sprintf("NIGHT%d", day+1), Place: v.Km(v.Plan.Days[day].To)}
}

// NightTold says what to know of a night.
func (v Voice) NightTold(day int) []string {
	d := v.Plan.Days[day]
	told := []string{fmt.Sprintf("Night of %s: %s; there %s.", v.Day(day), daily.Of(v.Voice).Night(d), there(d.There))}
	if !d.Sunset.IsZero() {
		told[0] += fmt.Sprintf(" Sunset %s.", when.Clock(d.Sunset))
	}
	if next := day + 1; next < len(v.Plan.Days) {
		n := v.Plan.Days[next]
		told = append(told, fmt.Sprintf("Leave %s; %s of riding that day.", when.Hour(n.Leave), when.Lasting(n.Riding)))
	}
	return told
}
