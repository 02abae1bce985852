package text

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"lastpump/cmd/lastpump/internal/report/sheet"
	"lastpump/cmd/lastpump/internal/words"
	"lastpump/fuel/plan"
	"lastpump/fuel/trip"
)

// Fills lays out what to take at each stop.
func (r *Report) Fills() {
	columns := []sheet.Column{sheet.Number("at " + r.u.DistanceUnit()), stopColumn("stop"), sheet.Wrapped("fill", 4),
		sheet.Number("take"), sheet.Number("low–high"), sheet.Words("grade"), sheet.Number("into the can"),
		sheet.Wrapped("mixture after", 16), sheet.Wrapped("if it is dry", 40)}
	const canColumn = 6 // which a plan without a can has no use for
	var rows [][]string
	cans := false
	for _, v := range r.p.Visits {
		if v.Fill != nil {
			rows = append(rows, r.fill(v))
			cans = cans || v.Fill.Can > 0
		}
	}
	if len(rows) == 0 {
		r.Head("FILLS: none")
		return
	}
	if !cans {
		columns = slices.Delete(columns, canColumn, canColumn+1)
		for k := range rows {
			rows[k] = slices.Delete(rows[k], canColumn, canColumn+1)
		}
	}
	skip := ""
	if slices.ContainsFunc(r.p.Visits, func(v trip.Visit) bool { return v.Need == trip.MaySkip }) {
		skip = "; may skip: one of them, then plan again with --skip"
	}
	r.Head(fmt.Sprintf("FILLS (%s, to the brim: %s usable; if more than the high figure goes in, the bike is "+
		"using more than planned%s)", r.u.VolumeUnit(), r.held(r.p.Bike.Usable()), skip))
	r.Table(columns, rows)
}

func (r *Report) fill(v trip.Visit) []string {
	f := v.Fill
	name, grade, can := v.Stop.Name, "not known", ""
	if v.LastFuel != nil {
		name += " (last sure fuel)"
	}
	if f.HasGrade {
		grade = f.Grade.String()
	}
	if f.Can > 0 {
		can = r.needed(f.Can)
	}
	take, spread := r.needed(f.Litres), r.spread(f.Low, f.High)
	if f.High <= 0 {
		take, spread = "full", ""
		if f.Can <= 0 {
			grade = ""
		}
	}
	need := strings.TrimSuffix(string(v.Need), " fill")
	return []string{r.u.Place(v.At), name, need, take, spread, grade, can, words.Mixture(*v.Mixture),
		r.say.IfDryCell(v.IfDry, r.paint)}
}

// Stops lays out what is known of each stop where there is a fill.
func (r *Report) Stops() {
	rows := [][]string{}
	seen := map[string]bool{}
	for _, v := range r.p.Visits {
		if v.Fill == nil || seen[v.Stop.Name] {
			continue
		}
		seen[v.Stop.Name] = true
		s := v.Stop
		sure := string(s.Standing)
		if s.HasConfirmed {
			sure += ", " + words.Age(s.Confirmed, r.p.Options.Today)
		}
		note := s.Note
		if len(v.Also) > 0 {
			note = strings.TrimPrefix(note+"; also here: "+strings.Join(v.Also, ", "), "; ")
		}
		rows = append(rows, []string{s.Name, sure, sheet.Hours(s.Hours), cmp.Or(s.Pay, "?"), cmp.Or(s.Phone, "?"), note})
	}
	if len(rows) == 0 {
		return
	}
	unheld := ""
	if len(r.p.Days) == 0 {
		unheld = ", nor whether they suit (--depart)"
	}
	r.Head("THE STOPS (? is not known: ask, or phone ahead; hours are as given, nobody has checked them" + unheld + ")")
	r.Table([]sheet.Column{stopColumn("stop"), sheet.Wrapped("how sure", 16), sheet.Wrapped("hours", 24),
		sheet.Wrapped("pay", 12), sheet.Wrapped("phone", 20), sheet.Wrapped("note", 40)}, rows)
}

// Calls says whom to phone before the ride, in a group of each bike.
func (r *Report) Calls() {
	of := []*plan.Plan{r.p}
	if r.p.Group != nil {
		of = r.p.Group.Bikes
	}
	headed := false
	for _, p := range of {
		if len(p.Calls)+p.NotCalled == 0 {
			continue
		}
		if !headed {
			r.Head("CALL FIRST (whoever may cost or save most; what an answer changes in this plan)")
			headed = true
		}
		if r.p.Group != nil {
			r.Line("", p.Bike.Name+":")
		}
		say := words.Of(p, r.u)
		r.lines("", say.Calls())
		if beside := say.CallsBeside(); beside != "" {
			r.Line("", beside)
		}
	}
}

// Others lists the stops that are not counted and those that are not passed.
func (r *Report) Others() {
	if lines := r.say.NotCounted(); len(lines) > 0 {
		r.Head("NOT COUNTED")
		r.lines("  ", lines)
	}
}
