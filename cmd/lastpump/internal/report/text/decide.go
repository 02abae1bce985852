package text

import (
	"fmt"
	"strings"

	"lastpump/cmd/lastpump/internal/report/sheet"
	"lastpump/cmd/lastpump/internal/words"
	"lastpump/fuel/leg"
	"lastpump/fuel/plan/lowgrade"
	"lastpump/fuel/plan/whatif"
)

// Chosen says what the stops were chosen for.
func (r *Report) Chosen() {
	if r.p.Choice != nil {
		r.Line("", r.say.Chosen())
	}
}

// LowGrade sets the least that does where only low grade is sold against a full fill.
func (r *Report) LowGrade() {
	if len(r.p.LowGrade) == 0 {
		return
	}
	r.Head(fmt.Sprintf("LOW GRADE (where only petrol below %[1]s is sold: least gets you, with the reserve untouched, "+
		"to the next stop that surely sells %[1]s or better; full is to the brim; %[2]s)", r.p.Bike.Needs, r.u.VolumeUnit()))
	var rows [][]string
	for _, s := range r.p.LowGrade {
		for _, f := range s.Fills {
			rows = append(rows, r.lowFill(f))
		}
	}
	r.Table([]sheet.Column{sheet.Number("at " + r.u.DistanceUnit()), stopColumn("stop"),
		{Head: "least", Right: true, Max: 11}, sheet.Wrapped("grade", 10), sheet.Wrapped("mixture with the least", 18),
		sheet.Number("full"), sheet.Wrapped("mixture when full", 18), {Head: "climb ahead", Right: true, Max: 7}}, rows)
	for _, s := range r.p.LowGrade {
		r.lines("  ", r.say.Low(s))
	}
	r.Line("  ", words.LowCaution)
}

func (r *Report) lowFill(f lowgrade.Fill) []string {
	v := r.p.Visits[f.Visit]
	least, of := "none needed", ""
	if f.Litres > 0 {
		least, of = r.needed(f.Litres), "not known"
	}
	if f.HasGrade {
		of = f.Grade.String()
	}
	if !f.Whole {
		of += " (cuts into the reserve)"
	}
	return []string{r.u.Place(v.At), v.Stop.Name, least, of, r.mixture(f.Mixture), r.needed(v.Fill.Litres),
		r.mixture(*v.Mixture), climb(r.p.Legs[f.Leg], r.u.Height)}
}

// mixture gives a mixture and its verdict.
func (r *Report) mixture(m leg.Mixture) string {
	return words.Mixture(m) + " " + r.paint(string(m.Verdict))
}

// WhatIf shows what becomes of the worst leg and of the can if something turns out
// otherwise.
func (r *Report) WhatIf() {
	if len(r.p.Cases) == 0 {
		return
	}
	r.Head(fmt.Sprintf("WHAT IF (the worst leg then, what it arrives with in %[1]s, and how many legs are not OK; the "+
		"can it takes to have all OK, and that no dry pump strands, in %[1]s)", r.u.VolumeUnit()))
	var rows [][]string
	for _, c := range r.p.Cases {
		if c.Telling() {
			rows = append(rows, r.caseRow(c))
		}
	}
	r.Table([]sheet.Column{sheet.Wrapped("if", 30), sheet.Wrapped("worst leg", 24), sheet.Words("verdict"),
		sheet.Number("arrives"), sheet.Number("not OK"), sheet.Number("can"),
		{Head: "can if any is dry", Right: true, Max: 10}}, rows)
}

func (r *Report) caseRow(c whatif.Case) []string {
	dry := ""
	if c.DryIsKnown {
		dry = r.canSize(c.SizeDry)
	}
	return []string{r.say.Case(c), r.say.Called(c.From) + " to " + r.say.Called(c.To), r.paint(string(c.Verdict)),
		r.u.Left(c.Arrive), fmt.Sprint(c.NotOK), r.canSize(c.Size), dry}
}

// canSize gives a can's size as the number of a column.
func (r *Report) canSize(s leg.CanSize) string {
	switch {
	case s.TooBig:
		return "none"
	case s.Litres <= 0:
		return "-"
	}
	return strings.TrimSuffix(fmt.Sprintf("%.1f", r.u.VolumeIn(s.Litres)), ".0")
}
