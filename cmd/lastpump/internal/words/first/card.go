package first

import (
	"cmp"
	"fmt"
	"strings"

	"lastpump/cmd/lastpump/internal/words"
	"lastpump/cmd/lastpump/internal/words/bail"
	"lastpump/cmd/lastpump/internal/words/daily"
	"lastpump/cmd/lastpump/internal/words/outward"
	"lastpump/cmd/lastpump/internal/words/trail"
	"lastpump/cmd/lastpump/internal/words/when"
	"lastpump/fuel/clock"
	"lastpump/fuel/leg"
	"lastpump/fuel/stop"
	"lastpump/fuel/trip"

	"github.com/paulmach/orb"
)

// A Card says all that a rider wants of one stop who is on the way to it or stands at it: what
// [Do] says of it, with what else is known.
type Card struct {
	Do
	Leg     int         // that ends here, counted from 1; 0 where the ride begins
	Trip    string      // on the trip meter, with its unit
	Take    string      // into the tank and into the can, in one line
	Verdict leg.Verdict // of the leg that ends here, where it is not OK
	Strands string      // that the pump strands if it is dry; "" where it does not
	Day     int         // on which it is reached, into Plan.Days; 0 without a departure
	Hours   string      // what is not sure of its hours then, in a few words; "" for nothing
	Is      clock.State // what it is then; "" where that is not known or does not matter
	Rows    []CardRow
}

// A CardRow is one thing that is known of a stop.
type CardRow struct {
	Label, Text string
	Strong      bool // it is to be done, or a doubt
	Phone       bool // Text has numbers to ring
	At          *orb.Point
}

// What stands on each card.
const (
	Ticked   = "done"      // of a stop that is behind the rider
	Tick     = "Done here" // to say that it is
	notKnown = "not known" // of what the list of stops does not tell
)

// CardsNote says how the cards are read, by the first fill that there is.
func (v Voice) CardsNote() string {
	note := fmt.Sprintf("Trip is in %s on the trip meter: zero it at each fill.", v.Units.DistanceUnit())
	for _, d := range v.Do() {
		if likely, most, spread := strings.Cut(d.Fill, " ≤ "); spread {
			return note + fmt.Sprintf(" Fill to the brim: %s is likely %s and at most %s; if more goes in, the bike drinks more than planned.",
				d.Fill, likely, v.measured(most))
		}
	}
	return note
}

// Cards gives a card for each line of [Voice.Do].
func (v Voice) Cards() []Card {
	p := v.Plan
	var out []Card
	for i, d := range v.Do() {
		c := Card{Do: d, Leg: i, Trip: d.Trip + " " + v.Units.DistanceUnit(), Take: v.taken(d)}
		visit := p.Legs[0].FromVisit
		if i > 0 {
			l := p.Legs[i-1]
			visit = l.ToVisit
			if l.Verdict != leg.OK {
				c.Verdict = l.Verdict
			}
			c.Rows = append(c.Rows, v.wayRows(i-1, d)...)
		}
		v.onTheClock(&c, visit, out)
		c.Rows = append(c.Rows, v.doRows(d)...)
		if visit >= 0 {
			if dry := p.Visits[visit].IfDry; dry != nil && (dry.Outcome == leg.Stranded || dry.Bare) {
				c.Strands = d.IfDry
			}
			c.Rows = append(c.Rows, v.stopRows(p.Visits[visit], d)...)
		}
		if help := bail.Of(v.Voice).OnLeg(i - 1); len(help) > 0 {
			c.Rows = append(c.Rows, CardRow{Label: bail.Label, Text: strings.Join(help, ". ")})
		}
		out = append(out, c)
	}
	return out
}

// taken gives in one line what goes into the tank and into the can.
func (v Voice) taken(d Do) string {
	if d.Fill == "" {
		return "" // the ride ends where no pump is
	}
	likely, _, _ := strings.Cut(d.Fill, " ≤")
	s := v.measured(likely) + " " + d.Grade
	if strings.HasPrefix(d.Can, "+") {
		s += ", can"
	}
	return s
}

// measured puts the unit behind a figure of a fill.
func (v Voice) measured(fill string) string {
	if fill == full {
		return fill
	}
	return fill + " " + v.Units.VolumeUnit()
}

// wayRows tell of the leg that ends at a stop: whether it holds, where to pour and by where to
// turn back.
func (v Voice) wayRows(i int, d Do) (rows []CardRow) {
	for _, s := range trail.Of(v.Voice).Failing(i) {
		rows = append(rows, CardRow{Label: fmt.Sprintf("leg %d", i+1), Text: s.Text, Strong: true})
	}
	unit := v.Units.DistanceUnit()
	if d.Pour != "" {
		rows = append(rows, CardRow{Label: "pour", Text: fmt.Sprintf("the can at trip %s %s", d.Pour, unit)})
	}
	if out := v.Plan.Legs[i].WayOut; out != nil {
		rows = append(rows, CardRow{Label: "way out", Text: fmt.Sprintf("at trip %s %s: %s", v.Units.Nearest(out.Trip), unit,
			outward.Of(v.Voice).Told(out))})
	}
	switch d.Turn {
	case "":
	case none:
		rows = append(rows, CardRow{Label: "turn", Text: trail.NoTurningBack})
	default:
		from, _ := v.Ends(i)
		rows = append(rows, CardRow{Label: "turn", Text: fmt.Sprintf("back to %s by trip %s %s, if you doubt", from, d.Turn, unit)})
	}
	return rows
}

// onTheClock puts on a card the day and the hour at which the stop is reached, and whether it is open
// then. The cards before it are those of the days before, or of the same.
func (v Voice) onTheClock(c *Card, visit int, before []Card) {
	p := v.Plan
	if !v.Timed() {
		return
	}
	var hour *clock.Passing
	if visit >= 0 {
		hour = p.Visits[visit].Hour
	}
	last := len(p.Days) - 1
	switch {
	case c.Leg == 0:
		c.Rows = append(c.Rows, CardRow{Label: "leave", Text: c.When, Strong: true})
		if hour != nil && p.Visits[visit].Fill != nil && p.Visits[visit].Fill.High > 0 { // else it is full there
			c.Rows = append(c.Rows, openRow(hour))
		}
		return
	case c.Leg == len(p.Legs):
		c.Day = last
	case hour != nil:
		c.Day, c.Hours, c.Is = hour.Day, when.Folded(hour), hour.State
	default:
		c.Day = before[len(before)-1].Day
	}
	switch {
	case hour != nil:
		c.Rows = append(c.Rows, CardRow{Label: "there", Text: v.Arrival(hour), Strong: true}, openRow(hour))
	case c.Leg == len(p.Legs):
		c.Rows = append(c.Rows, CardRow{Label: "there", Text: v.Arrival(&clock.Passing{There: p.Days[last].There}), Strong: true})
	}
	if visit >= 0 && c.Day < last && p.Days[c.Day].Visit == visit {
		c.Rows = append(c.Rows, CardRow{Label: "night", Text: "here; leave " + when.Hour(p.Days[c.Day+1].Leave)})
	}
}

// openRow says whether a pump is open when one is there, and by when to be.
func openRow(p *clock.Passing) CardRow {
	return CardRow{Label: "open", Text: daily.Open(p), Strong: p.State != clock.Open}
}

// doRows tell what to do at a stop.
func (v Voice) doRows(d Do) (rows []CardRow) {
	if d.Fill != "" {
		rows = append(rows, CardRow{Label: "fill", Text: v.measured(d.Fill) + ", " + d.Grade, Strong: true})
	}
	switch litres, filled := strings.CutPrefix(d.Can, "+"); {
	case filled:
		rows = append(rows, CardRow{Label: "can", Text: fmt.Sprintf("+%s in it on leaving: filled up here", v.measured(litres)), Strong: true})
	case litres != "":
		rows = append(rows, CardRow{Label: "can", Text: v.measured(litres) + " in it on leaving"})
	}
	if d.Tank != "" {
		rows = append(rows, CardRow{Label: "tank", Strong: true,
			Text: fmt.Sprintf("then worth %s %s, needs %s", d.Tank, v.Plan.Bike.Needs.Scale, v.Plan.Bike.Needs)})
	}
	return rows
}

// stopRows tell what is known of a stop.
func (v Voice) stopRows(at trip.Visit, d Do) (rows []CardRow) {
	for _, s := range trail.DoubtAhead(at) {
		rows = append(rows, CardRow{Label: "ahead", Text: s.Text, Strong: true})
	}
	if at.IfDry != nil {
		rows = append(rows, CardRow{Label: "if dry", Strong: d.IfDry != "", Text: v.dryTold(*at.IfDry, d)})
	}
	s := at.Stop
	paid := d.Pay
	if s.Pay != "" && !strings.EqualFold(s.Pay, paid) {
		paid += ": " + s.Pay
	}
	rows = append(rows,
		CardRow{Label: "hours", Text: cmp.Or(s.Hours, notKnown)},
		CardRow{Label: "pay", Text: strings.TrimPrefix(paid, "?: ")},
		CardRow{Label: "phone", Text: cmp.Or(s.Phone, notKnown), Phone: s.Phone != ""},
		CardRow{Label: "where", Text: v.where(at), At: &s.At},
		CardRow{Label: "sure", Text: v.howSure(s, d.Sure)})
	if len(at.Also) > 0 {
		names := make([]string, len(at.Also))
		for i, n := range at.Also {
			names[i] = v.Name(n)
		}
		rows = append(rows, CardRow{Label: "also here", Text: strings.Join(names, ", ")})
	}
	if s.Note != "" {
		rows = append(rows, CardRow{Label: "note", Text: s.Note})
	}
	return rows
}

// where says where a stop lies.
func (v Voice) where(at trip.Visit) string {
	s := v.Km(at.At) + " of the line"
	if at.Way > 0 {
		s += fmt.Sprintf("; then %s, %s", outward.Of(v.Voice).Turn(at.Way-1), v.RoadFar(at.Way-1))
	} else if at.Off > stop.OnLine {
		s += fmt.Sprintf(", %s off it", v.Units.Distance(at.Off))
	}
	return s
}

// howSure says how sure a stop is, and when somebody was.
func (v Voice) howSure(s stop.Stop, sure string) string {
	if sure != string(s.Standing) {
		sure += ": " + string(s.Standing)
	}
	if s.HasConfirmed {
		sure += ", " + words.Age(s.Confirmed, v.Plan.Options.Today)
	}
	return sure
}

// dryTold says what becomes of the ride if a pump is dry, by the word of the first screen and in
// full.
func (v Voice) dryTold(dry trip.IfDry, d Do) string {
	told := trail.Of(v.Voice).IfDryTold(dry)
	if dry.Off != nil && dry.Off.Why != "" && (dry.Outcome == leg.Stranded || dry.Bare) {
		told += "; " + v.PerhapsOff(*dry.Off)
	}
	if dry.Outcome == leg.Stranded || dry.Bare {
		return d.IfDry + ": " + told
	}
	return told
}
