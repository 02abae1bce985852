package report

import (
	"fmt"
	"slices"
	"strings"
	"time"

	"lastpump/fuel/plan"
)

func (t *texter) fills() {
	d, v := t.u.DistanceUnit(), t.u.VolumeUnit()
	columns := []column{{"at " + d, true, 0}, {"stop", false, nameWidth}, {"fill", false, 4}, {"take", true, 0}, {"low–high", true, 0},
		{"grade", false, 0}, {"into the can", true, 0}, {"mixture after", false, 16}, {"if it is dry", false, 40}}
	var rows [][]string
	cans := false
	for _, v := range t.p.Visits {
		if v.Fill != nil {
			rows = append(rows, t.fill(v))
			cans = cans || v.Fill.Can > 0
		}
	}
	if len(rows) == 0 {
		t.head("FILLS: none")
		return
	}
	if !cans {
		columns, rows = without(columns, rows, canColumn)
	}
	skip := ""
	if slices.ContainsFunc(t.p.Visits, func(v plan.Visit) bool { return v.Need == plan.MaySkip }) {
		skip = "; may skip: one of them, then plan again with --skip"
	}
	t.head(fmt.Sprintf("FILLS (%s, to the brim: %s usable; more in than the high figure: it drinks more than planned%s)",
		v, t.held(t.p.Bike.Usable()), skip))
	t.table(columns, rows)
}

// canColumn is the number of the column that a plan without a can has no use
// for.
const canColumn = 6

func without(columns []column, rows [][]string, i int) ([]column, [][]string) {
	for k, r := range rows {
		rows[k] = slices.Delete(r, i, i+1)
	}
	return slices.Delete(columns, i, i+1), rows
}

func (t *texter) fill(v plan.Visit) []string {
	f := v.Fill
	name, grade, can := v.Stop.Name, "not known", ""
	if v.LastFuel {
		name += " (last sure fuel)"
	}
	if f.HasGrade {
		grade = f.Grade.String()
	}
	if f.Can > 0 {
		can = t.needed(f.Can)
	}
	take, spread := t.needed(f.Litres), t.needed(f.Low)+"–"+t.needed(f.High)
	if f.High <= 0 {
		take, spread = "full", ""
		if f.Can <= 0 {
			grade = ""
		}
	}
	need := strings.TrimSuffix(string(v.Need), " fill")
	return []string{t.reach(v.At), name, need, take, spread, grade, can, v.Mixture.String(), t.ifDry(v.IfDry)}
}

func (t *texter) ifDry(d *plan.IfDry) string {
	if d == nil {
		return "-"
	}
	if d.Outcome == plan.Stranded {
		return fmt.Sprintf("%s, %s short of %s", t.paint(string(d.Outcome)), t.needed(-d.Spare), t.p.NameOf(d.To))
	}
	s := fmt.Sprintf("%s to %s, %s spare", t.paint(string(d.Outcome)), t.p.NameOf(d.To), t.held(d.Spare))
	if d.Bare {
		s += ", not at the high figure"
	}
	return s
}

func (t *texter) stops() {
	rows := [][]string{}
	seen := map[string]bool{}
	for _, v := range t.p.Visits {
		if v.Fill == nil || seen[v.Stop.Name] {
			continue
		}
		seen[v.Stop.Name] = true
		s := v.Stop
		sure := string(s.Standing)
		if s.HasConfirmed {
			sure += ", " + age(s.Confirmed, t.p.Options.Today)
		}
		note := s.Note
		if len(v.Also) > 0 {
			note = strings.TrimPrefix(note+"; also here: "+strings.Join(v.Also, ", "), "; ")
		}
		rows = append(rows, []string{s.Name, sure, orNot(spaced(s.Hours)), orNot(s.Pay), orNot(s.Phone), note})
	}
	if len(rows) == 0 {
		return
	}
	t.head("THE STOPS (? is not known: ask, or phone ahead; hours are as given, nobody has checked them)")
	t.table([]column{{"stop", false, nameWidth}, {"how sure", false, 16}, {"hours", false, 24}, {"pay", false, 12}, {"phone", false, 20}, {"note", false, 40}}, rows)
}

// spaced gives opening hours room to wrap.
func spaced(hours string) string {
	return strings.ReplaceAll(strings.ReplaceAll(hours, ", ", ","), ",", ", ")
}

// age says how long ago a day was, as a rider would.
func age(day, today time.Time) string {
	months := int(today.Sub(day).Hours() / 24 / 30.44)
	switch {
	case months < 1:
		return "under a month ago"
	case months == 1:
		return "1 month ago"
	case months < 24:
		return fmt.Sprintf("%d months ago", months)
	}
	return fmt.Sprintf("%d years ago", months/12)
}

func orNot(s string) string {
	if s == "" {
		return "?"
	}
	return s
}

// others lists the stops that are not counted and those that are not passed.
func (t *texter) others() {
	var lines []string
	for _, v := range t.p.Visits {
		if v.Counted {
			continue
		}
		lines = append(lines, fmt.Sprintf("%s at %s %s: %s", v.Stop.Name, t.u.DistanceUnit(), t.reach(v.At), v.WhyNot))
	}
	for i, n := range t.p.NotUsed {
		if i == 10 {
			lines = append(lines, fmt.Sprintf("and %d more off the line", len(t.p.NotUsed)-i))
			break
		}
		lines = append(lines, fmt.Sprintf("%s: %s off the line", n.Stop, t.u.Distance(n.Off)))
	}
	if len(lines) > 0 {
		t.head("NOT COUNTED")
		for _, l := range lines {
			t.line("  ", l)
		}
	}
}
