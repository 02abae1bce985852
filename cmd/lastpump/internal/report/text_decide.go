package report

import (
	"fmt"
	"math"
	"strings"

	"lastpump/fuel/plan"
)

// chosen says what the stops were chosen for.
func (t *texter) chosen() {
	if c := t.p.Choice; c != nil {
		who := ""
		if c.Bike != "" {
			who = ", for " + c.Bike + ", which comes the least far"
		}
		t.line("", fmt.Sprintf("Stops chosen, %d of %d passings%s. What for: %s.", c.Taken, c.Candidates, who, c.Objective))
	}
}

// lowCaution stands beside what is said of low grade.
const lowCaution = "The minimum in the maker's manual decides. On low grade ride gently and do not lug the engine; climbs are where it knocks. " +
	"With little in the tank a dry pump is worse: ask before you pass a good one."

// lowGrade sets the least that does where only low grade is sold against a full fill.
func (t *texter) lowGrade() {
	if len(t.p.LowGrade) == 0 {
		return
	}
	d, v := t.u.DistanceUnit(), t.u.VolumeUnit()
	t.head(fmt.Sprintf("LOW GRADE (from a stop that sells only below %s to the next that surely meets it; least: reaches that with the reserve whole; %s)", t.p.Bike.Needs, v))
	var rows [][]string
	for _, s := range t.p.LowGrade {
		for _, f := range s.Fills {
			rows = append(rows, t.lowFill(f))
		}
	}
	t.table([]column{{"at " + d, true, 0}, {"stop", false, nameWidth}, {"least", true, 0}, {"of", false, 10}, {"mixture then", false, 18},
		{"full", true, 0}, {"mixture then", false, 18}, {"climb ahead", true, 0}}, rows)
	for _, s := range t.p.LowGrade {
		for _, line := range t.lowLines(s) {
			t.line("  ", line)
		}
	}
	t.line("  ", lowCaution)
}

func (t *texter) lowFill(f plan.LowFill) []string {
	v, l := t.p.Visits[f.Visit], t.p.Legs[f.Leg]
	least, of := "nothing", ""
	if f.Litres > 0 {
		least, of = t.needed(f.Litres), "not known"
	}
	if f.HasGrade {
		of = f.Grade.String()
	}
	if !f.Whole {
		of += " (not whole)"
	}
	climb := "?"
	if l.Drink.NoHeights <= 0 {
		climb = t.height(l.Drink.Up)
	}
	return []string{t.reach(v.At), v.Stop.Name, least, of, t.worth(f.Mixture), t.needed(v.Fill.Litres), t.worth(*v.Mixture), climb}
}

// worth gives a mixture and its verdict.
func (t *texter) worth(m plan.Mixture) string { return m.String() + " " + t.paint(string(m.Verdict)) }

// lowLines says what else there is to a low stretch.
func (t *texter) lowLines(s plan.LowStretch) []string {
	var out []string
	first := t.p.Visits[s.Visits[0]].Stop.Name
	to := t.p.NameOf(s.To)
	if len(s.Visits) > 1 {
		out = append(out, fmt.Sprintf("%s to %s: least %s, full %s in all", first, to, t.u.Needed(s.Least), t.u.Needed(s.Full)))
	}
	if l := s.Lift; l != nil {
		var pours []string
		for i, p := range l.Pours {
			if p > 0 {
				pours = append(pours, fmt.Sprintf("%s at %s", t.u.Needed(p), t.p.Visits[s.Visits[i]].Stop.Name))
			}
		}
		out = append(out, fmt.Sprintf("%s to %s: %s of %s from %s in a can, poured in place of as much (%s), keep what meets in the tank",
			first, to, t.u.Needed(l.Litres), l.Grade, t.p.NameOf(l.From), strings.Join(pours, ", ")))
	}
	if len(s.Risks) > 0 {
		out = append(out, fmt.Sprintf("with the least from %s on: if %s is dry you are stranded or nearly; not so on a full tank", first, strings.Join(s.Risks, " or ")))
	}
	if len(s.Steeper) > 1 {
		i := s.Steeper[0]
		from, leg := t.p.Ends(i)
		out = append(out, fmt.Sprintf("below grade it climbs most on leg %d, %s to %s", i+1, from, leg))
	}
	return out
}

// whatIf shows what becomes of the worst leg and of the can if something turns out
// otherwise.
func (t *texter) whatIf() {
	if len(t.p.Cases) == 0 {
		return
	}
	t.head(fmt.Sprintf("WHAT IF (the worst leg then, what it arrives with in %s, and how many legs are not OK; the can it takes to have all OK, and that no dry pump strands, in L)", t.u.VolumeUnit()))
	var rows [][]string
	for _, c := range t.p.Cases {
		switch c.Kind {
		case plan.CaseThirst:
			what := fmt.Sprintf("thirst %.1f", c.Thirst)
			if math.Abs(math.Round(c.Thirst*10)-c.Thirst*10) > 1e-9 {
				what = fmt.Sprintf("thirst %.2f", c.Thirst)
			}
			if c.Thirst == t.p.Options.Thirst {
				what += ", as planned"
			}
			rows = append(rows, t.caseRow(what, c))
		case plan.CaseHearsay:
			rows = append(rows, t.caseRow(c.Stops[0]+" is real", c))
		}
	}
	var dry [][]string
	for _, kind := range []plan.CaseKind{plan.CaseDry, plan.CaseTwoDry} {
		if worst, all := t.worstCase(kind); all > 0 {
			what := strings.Join(worst.Stops, " and ") + " dry"
			if all > 1 {
				what += fmt.Sprintf(", the worst of %d", all)
			}
			dry = append(dry, t.caseRow(what, worst))
		}
	}
	n := 0
	for n < len(t.p.Cases) && t.p.Cases[n].Kind == plan.CaseThirst {
		n++
	}
	rows = append(rows[:n:n], append(dry, rows[n:]...)...)
	t.table([]column{{"if", false, 30}, {"worst leg", false, 24}, {"verdict", false, 0}, {"arrives", true, 0}, {"not OK", true, 0},
		{"can", true, 0}, {"can if any is dry", true, 8}}, rows)
}

func (t *texter) caseRow(what string, c plan.Case) []string {
	dry := ""
	if c.DryIsKnown {
		dry = t.size(c.SizeDry)
	}
	return []string{what, t.p.NameOf(c.From) + " to " + t.p.NameOf(c.To), t.paint(string(c.Verdict)), t.left(c.Arrive), fmt.Sprint(c.NotOK), t.size(c.Size), dry}
}

// size gives a can's size as the number of a column.
func (t *texter) size(s plan.CanSize) string {
	switch {
	case s.TooBig:
		return "none"
	case s.Litres <= 0:
		return "-"
	}
	return strings.TrimSuffix(fmt.Sprintf("%.1f", float64(s.Litres)), ".0")
}

// worstCase gives the worst case of a kind, and says how many there are.
func (t *texter) worstCase(kind plan.CaseKind) (worst plan.Case, all int) {
	for _, c := range t.p.Cases {
		if c.Kind == kind {
			all++
		}
		if c.Kind == kind && c.Worst {
			worst = c
		}
	}
	return worst, all
}
