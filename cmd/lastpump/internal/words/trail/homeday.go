package trail

import (
	"fmt"
	"slices"
	"strings"

	"lastpump/cmd/lastpump/internal/words/daily"
	"lastpump/cmd/lastpump/internal/words/when"
	"lastpump/fuel/clock"
	"lastpump/fuel/plan/days"
)

// What those at home read of the days of a ride; all of it only where the clock is followed.

// Timed tells whether the clock is followed.
func (v Voice) Timed() bool { return len(v.Plan.Days) > 0 }

// end gives when the ride ends.
func (v Voice) end() clock.Times { return v.Plan.Days[len(v.Plan.Days)-1].There }

// SetsOut says when the ride sets out, or goes on.
func (v Voice) SetsOut() string { return when.DateAndHour(v.Plan.Days[0].Leave) }

// ExpectedBack says when the ride is likely to end, and how early or late.
func (v Voice) ExpectedBack() string {
	t := v.end()
	return fmt.Sprintf("%s (%s)", when.DateAndHour(t[clock.Likely]), when.Between(t))
}

// WorryFrom gives the late hour of the end, with its zone: before it nobody is late.
func (v Voice) WorryFrom() string {
	return fmt.Sprintf("%s (%s)", when.Late(v.end()), when.Zone(v.end()[clock.Late]))
}

// HomeZone says by which clock the hours on the sheet are.
func (v Voice) HomeZone() string {
	type from struct {
		zone string
		day  int
	}
	var zones []from
	for i, d := range v.Plan.Days {
		for _, t := range []string{when.Zone(d.Leave), when.Zone(d.There[clock.Late])} {
			if n := len(zones); n == 0 || zones[n-1].zone != t {
				zones = append(zones, from{t, i})
			}
		}
	}
	if len(zones) == 1 {
		return zones[0].zone
	}
	var out []string
	for i, z := range zones {
		s := z.zone
		if i > 0 {
			s = fmt.Sprintf("on day %d %s", z.day+1, s)
		}
		out = append(out, s)
	}
	return "the place: " + strings.Join(out, "; ")
}

// lateOften is how often a day ended after its late hour: 27 of 145 days measured.
const lateOften = "about one real day in five ends later than its late hour"

// WorryTold says what the hours to worry are worked out from.
func (v Voice) WorryTold() string {
	t := v.end()
	return fmt.Sprintf("By this plan the ride ends %s, early to late %s; the late hour of each day stands under \"Likely "+
		"nights\". Hours are those of the place (%s). Late is no alarm yet: %s. Agree on the hour to call for help.",
		when.DateAndHour(t[clock.Likely]), when.Between(t), v.HomeZone(), lateOften)
}

// NightCells are what stands of a day in the table of nights.
type NightCells struct{ Day, Km, Ends, Where, There string }

// NightsForHome gives the days with their dates, where each ends, and when.
func (v Voice) NightsForHome() (out []NightCells) {
	for i, d := range v.Plan.Days {
		at := v.Plan.Line.At(d.To)
		if d.Visit >= 0 {
			at = v.Plan.Visits[d.Visit].Stop.At
		}
		out = append(out, NightCells{
			Day: fmt.Sprintf("%d %s", i+1, when.Date(d.Leave)), Km: v.Units.Place(d.From) + "–" + v.Units.Place(d.To),
			Ends: daily.Of(v.Voice).Night(d), Where: Coordinates(at) + "; " + Minutes(at), There: when.Between(d.There)})
	}
	return out
}

// NobodyKnowsOfLodging says of which nights nobody knows a place to sleep; "" for none.
func (v Voice) NobodyKnowsOfLodging() string {
	between := func(d days.Day) bool {
		return d.Visit < 0 && d.Night.By == clock.ByHours && d.Night.Between[1] > d.Night.Between[0]
	}
	if !slices.ContainsFunc(v.Plan.Days, between) {
		return ""
	}
	return "Between two places: nobody knows of lodging there; hours and coordinates are those of the second."
}

// ExpectedAt says when a pump is reached, early to late, and what it is then unless it is open; none
// where that is not known, and where the ride sets out full.
func (v Voice) ExpectedAt(visit int) []string {
	at := v.Plan.Visits[visit]
	p := at.Hour
	if p == nil || !p.Reached || visit == v.Plan.Legs[0].FromVisit && at.Fill != nil && at.Fill.High <= 0 {
		return nil
	}
	out := []string{when.Date(p.There[clock.Early]) + " " + when.Between(p.There)}
	if p.MayBeShut() {
		out = append(out, when.Open(p))
	}
	return out
}
