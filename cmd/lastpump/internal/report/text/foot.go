package text

import (
	"fmt"

	"lastpump/cmd/lastpump/internal/report/sheet"
	"lastpump/cmd/lastpump/internal/words/warned"
)

// Totals says what the ride takes at the pumps, and which cans it asks for.
func (r *Report) Totals() {
	r.Head("TOTALS")
	r.Line("  ", r.say.Totals())
	for _, use := range r.p.Can.Uses {
		r.Line("  ", r.say.CanUse(use))
	}
}

// Cans lays out what none and each sum of cans would hold.
func (r *Report) Cans() {
	r.Head("CANS (the same stops with other cans: legs that are not OK; places that strand if they are dry, at the likely " +
		"use and if the bike is thirsty)")
	var rows [][]string
	for _, row := range r.p.Cans.Rows {
		rows = append(rows, []string{"", r.say.Cans(row.Cans), fmt.Sprint(row.NotOK), fmt.Sprint(row.Stranded),
			fmt.Sprint(row.Stranded + row.Bare), r.u.Weight(row.Weight, 1), r.say.CansWhy(row)})
	}
	r.Table([]sheet.Column{{}, sheet.Wrapped("cans", 24), sheet.Number("legs not OK"), sheet.Number("strand"),
		sheet.Number("if thirsty"), sheet.Number("petrol weighs"), sheet.Wrapped("", 30)}, rows)
}

// Warnings lists the warnings with their cures.
func (r *Report) Warnings() {
	if len(r.p.Warnings) == 0 {
		return
	}
	kept := ""
	if r.p.Choice != nil {
		kept = ", the stops as chosen"
	}
	r.Head("WARNINGS, worst first (a cure was put into the plan and planned again" + kept + ": → the new verdict; " +
		"cheapest first)")
	say := warned.Of(r.say)
	for i, w := range r.p.Warnings {
		r.Line(fmt.Sprintf("%3d ", i+1), string(w.Kind)+": "+say.Warning(w))
		cures, more := warned.CuresShown(w)
		for _, c := range cures {
			r.Line("      cure: ", say.CureWithDetour(w, c)+" → "+c.Verdict)
		}
		if more > 0 {
			r.Line("      ", fmt.Sprintf("and %d more, in --json", more))
		}
		for _, c := range w.Hours {
			r.Line("      cure: ", say.HourCure(c)+" → "+warned.AfterHourCure(c))
		}
		if lacking := say.NoCure(w); lacking != "" {
			r.Line("      ", lacking)
		}
	}
}

// Sums shows the sums of each leg, so that a rider can do them again with a pencil.
func (r *Report) Sums() {
	r.Head(fmt.Sprintf("THE SUMS (likely; by hand: %s ÷ 100 × rate × weight of the ground, and the climb on top)",
		r.u.DistanceUnit()))
	r.Line("  ", r.say.Rate())
	for i, l := range r.p.Legs {
		r.Line(fmt.Sprintf("%3d ", i+1), r.say.Sum(l))
	}
}

// Assumptions lists what the plan takes for granted.
func (r *Report) Assumptions() {
	r.Head("ASSUMPTIONS")
	for _, a := range r.p.Assumptions {
		name, value := r.say.Assumption(a)
		r.Line("  ", fmt.Sprintf("%s: %s [%s]", name, value, a.Mark))
	}
}

// Cautions says what no plan replaces.
func (r *Report) Cautions() {
	r.Head("BEFORE YOU GO")
	r.lines("  - ", r.say.Cautions())
}
