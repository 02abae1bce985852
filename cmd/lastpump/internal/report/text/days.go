package text

import (
	"lastpump/cmd/lastpump/internal/report/sheet"
	"lastpump/cmd/lastpump/internal/words/daily"
	"lastpump/cmd/lastpump/internal/words/when"
	"lastpump/fuel/clock"
	"lastpump/fuel/plan/days"
	"lastpump/fuel/trip"
)

// Days lays the days out, with what there is to know of the clock.
func (r *Report) Days() {
	p := r.p
	if len(p.Days) == 0 {
		return
	}
	say := daily.Of(r.say)
	r.Head("DAYS (" + r.u.DistanceUnit() + " ridden; hours: in the saddle, likely; there: early–late; tank: " + r.u.VolumeUnit() +
		" in it at night, without cans; all open if you leave: the hours of leaving, from dawn to 14:00, at which every pump of the day " +
		"whose hours are known is open)")
	var rows [][]string
	for i, d := range p.Days {
		rows = append(rows, r.day(say, i, d))
	}
	r.Table([]sheet.Column{sheet.Number("day"), sheet.Wrapped("date", 10), sheet.Number(r.u.DistanceUnit()), sheet.Number("hours"),
		sheet.Words("leave"), sheet.Words("likely"), sheet.Wrapped("there", 15), sheet.Words("sunset"), sheet.Wrapped("to", 20),
		sheet.Number("tank"), sheet.Wrapped("all open if you leave", 14)}, rows)
	if w := p.Options.Days.Water; w > 0 {
		r.Line("", say.Water(w))
	}
	for _, n := range p.Notes {
		r.Line("  - ", say.ClockNote(n)+".")
	}
}

func (r *Report) day(say daily.Voice, i int, d days.Day) []string {
	sunset := ""
	if !d.Sunset.IsZero() {
		sunset = when.Clock(d.Sunset)
	}
	return []string{legNumber(i), when.Date(d.Leave), r.far(d.Ridden), when.Clocked(d.Riding), when.Clock(d.Leave),
		when.Clock(d.There[clock.Likely]), when.Between(d.There), sunset, say.Night(d), r.held(d.Tank), daily.Fit(d)}
}

// When lays out when each pump is reached that may be filled at or would be but for its hours, and
// what it then is.
func (r *Report) When() {
	var rows [][]string
	for i, v := range r.p.Visits {
		if i == r.p.Legs[0].FromVisit && v.Fill != nil && v.Fill.High <= 0 {
			continue // it is full there
		}
		if v.Hour == nil || v.Fill == nil && v.WhyNot != trip.LongShut && v.WhyNot != trip.NotNeeded {
			continue
		}
		name := v.Stop.Name
		if v.WhyNot == trip.NotNeeded {
			name += " (passed)"
		}
		p := v.Hour
		rows = append(rows, []string{r.u.Place(v.At), name, legNumber(p.Day), when.Hour(p.There[clock.Likely]), when.Between(p.There),
			when.Open(p), when.LastHour(p)})
	}
	if len(rows) == 0 {
		return
	}
	r.Head("OPEN WHEN YOU GET THERE? (there: likely, and early–late; be there by: the last hour before it shuts)")
	r.Table([]sheet.Column{sheet.Number("at " + r.u.DistanceUnit()), stopColumn("stop"), sheet.Number("day"), sheet.Words("likely"),
		sheet.Wrapped("early–late", 16), sheet.Wrapped("it is", 40), sheet.Words("be there by")}, rows)
	if s := daily.Of(r.say).BackNotChecked(); s != "" {
		r.Line("", s)
	}
}
