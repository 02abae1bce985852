// Package text writes for a terminal or a sheet of paper: a plan with [Write], and what a
// bike reaches on each ground with [WriteRanges]. A [Report] lays the sections of a plan
// on any sheet, that of a page too.
package text

import (
	"fmt"
	"io"
	"strconv"

	"lastpump/cmd/lastpump/internal/report/sheet"
	"lastpump/cmd/lastpump/internal/words"
	"lastpump/cmd/lastpump/internal/words/units"
	"lastpump/cmd/lastpump/internal/words/when"
	"lastpump/fuel"
	"lastpump/fuel/clock"
	"lastpump/fuel/plan"
	"lastpump/fuel/trip"
	"lastpump/route"
)

// A Style is how text is set.
type Style struct {
	Units  units.System
	Colour bool // on a terminal; never the only sign of anything
}

// Write writes a plan for a terminal or a sheet of paper, at most 100 columns wide: the
// answer first, in three lines.
func Write(w io.Writer, p *plan.Plan, style Style) error {
	s := sheet.NewText(w)
	r := On(s, p, style.Units, painter(style))
	for _, section := range []func(){
		r.Answer, r.ThenAndNow, r.Group, r.Start, r.Chosen, r.Days, r.Legs, r.Trip, r.Ways, r.Bail, r.Fills, r.When, r.LowGrade, r.Stops, r.Calls, r.Others,
		r.Totals, r.Cans, r.Warnings, r.WhatIf, r.Sums, r.Assumptions, r.Cautions,
	} {
		section()
	}
	return s.Flush()
}

// painter makes verdicts stand out on a terminal.
func painter(style Style) func(verdict string) string {
	if style.Colour {
		return coloured
	}
	return func(verdict string) string { return verdict }
}

// coloured gives a verdict with the codes of a terminal around it.
func coloured(verdict string) string {
	switch sheet.Look(verdict) {
	case sheet.Bad:
		return "\x1b[1;31m" + verdict + "\x1b[0m"
	case sheet.Doubt:
		return "\x1b[33m" + verdict + "\x1b[0m"
	}
	return verdict
}

// A Report lays a plan on a sheet, section by section.
type Report struct {
	sheet.Sheet
	p     *plan.Plan
	u     units.System
	say   words.Voice
	paint func(verdict string) string
}

// On begins a report on a sheet; paint makes verdicts stand out.
func On(s sheet.Sheet, p *plan.Plan, u units.System, paint func(verdict string) string) *Report {
	return &Report{s, p, u, words.Of(p, u), paint}
}

// lines lays paragraphs behind a lead each.
func (r *Report) lines(lead string, texts []string) {
	for _, text := range texts {
		r.Line(lead, text)
	}
}

// Answer gives the answer in three lines.
func (r *Report) Answer() {
	answer := r.say.Answer()
	r.lines("", answer[:])
}

// Start says what is ridden, on which bike, and what is in the tank where it begins.
func (r *Report) Start() {
	r.Gap()
	r.Line("", r.say.Ride())
	if how := r.say.RiddenOtherwise(); how != "" {
		r.Line("", how)
	}
	r.Line("", r.say.Start())
}

// Numbers of a column, without their unit, which stands in its head.
func (r *Report) held(l fuel.Litres) string   { return r.u.VolumeDown(l) }
func (r *Report) needed(l fuel.Litres) string { return r.u.VolumeUp(l) }
func (r *Report) far(m route.Metres) string   { return units.Near(r.u.DistanceIn(m)) }
func (r *Report) spread(low, high fuel.Litres) string {
	return r.needed(low) + "–" + r.needed(high)
}

// climb gives the climb of a leg as show writes it.
func climb(l trip.Leg, show func(route.Metres) string) string {
	if !l.Drink.HasClimb() {
		return "?"
	}
	return show(l.Drink.Up)
}

// stopColumn gives a column of names of stops; long ones wrap.
func stopColumn(head string) sheet.Column { return sheet.Wrapped(head, 22) }

// legNumber gives the number of a leg, as a rider counts them.
func legNumber(i int) string { return strconv.Itoa(i + 1) }

// Legs lays the legs out.
func (r *Report) Legs() {
	d, u := r.u.DistanceUnit(), r.u
	r.Head(fmt.Sprintf("LEGS (%[1]s ridden, with detours; %s, needs rounded up; climb in %s; hours: in the "+
		"saddle, likely; at %[1]s: along the line%[4]s)", d, u.VolumeUnit(), u.HeightUnit(), r.say.LineAs()))
	height := func(m route.Metres) string { return fmt.Sprintf("%.0f", u.HeightIn(m)) }
	rows := [][]string{}
	for i, l := range r.p.Legs {
		tank := r.held(l.Start)
		if l.Can > 0 {
			tank += "+" + r.held(l.Can)
		}
		f := l.Drink.Fuel
		_, to := words.EndsOf(r.p, i)
		rows = append(rows, []string{legNumber(i), to, u.Place(l.ToAt), r.far(l.Drink.Ridden), when.Clocked(r.p.Riding[i][clock.Likely]),
			climb(l, height), r.needed(f.Likely), r.spread(f.Low, f.High), tank, u.Left(l.Arrive), r.needed(l.Kept),
			r.paint(string(l.Verdict))})
	}
	from, _ := r.say.Ends(0)
	r.Line("   ", "from "+from)
	r.Table([]sheet.Column{sheet.Number("#"), stopColumn("to"), sheet.Number("at " + d), sheet.Number("ridden"),
		sheet.Number("hours"), sheet.Number("climb"), sheet.Number("takes"), sheet.Number("low–high"), sheet.Number("in tank"),
		sheet.Number("arrives"), sheet.Number("reserve"), sheet.Words("verdict")}, rows)
}

// Trip lays the figures of the trip meter out, leg by leg.
func (r *Report) Trip() {
	r.Head(fmt.Sprintf("ON THE TRIP METER (%s as the bike shows them; zero it at each fill; likely figures, and the "+
		"high one for where it is dry; turn back is the sooner of likely with the reserve untouched and high with "+
		"nothing left)", r.u.DistanceUnit()))
	rows := [][]string{}
	for i, l := range r.p.Legs {
		_, to := words.EndsOf(r.p, i)
		rows = append(rows, []string{legNumber(i), to, r.far(l.Trip(r.p.Bike)), r.u.Whole(l.SafeTo),
			r.u.Whole(l.TurnBackBy), r.u.Whole(l.DryAt), r.u.Whole(l.DryAtHigh), words.Mixture(l.Mixture),
			r.paint(string(l.Mixture.Verdict))})
	}
	r.Table([]sheet.Column{sheet.Number("#"), stopColumn("to"), sheet.Number("pump at"),
		{Head: "reserve untouched to", Right: true, Max: 12}, sheet.Number("turn back by"),
		{Head: "dry at likely", Right: true, Max: 6}, {Head: "dry at high", Right: true, Max: 6},
		sheet.Words("in the tank"), sheet.Words("grade")}, rows)
}
