package text

import (
	"fmt"
	"strings"

	"lastpump/cmd/lastpump/internal/report/sheet"
	"lastpump/cmd/lastpump/internal/words"
	"lastpump/fuel/plan"
	"lastpump/fuel/plan/group"
	"lastpump/fuel/trip"
)

// mostBikes is how many bikes have a column each.
const mostBikes = 4

// bikeWidth is the room for a bike's name over a column.
const bikeWidth = 8

// Group shows who sets each leg and who can lend whom.
func (r *Report) Group() {
	g := r.p.Group
	if g == nil {
		return
	}
	r.groupLegs(g)
	r.Gap()
	for i, p := range g.Bikes {
		lead := p.Bike.Name
		if label := r.label(i); label != lead {
			lead = label + ", " + lead
		}
		r.Line("", lead+": "+words.Of(p, r.u).AnswerInOne())
	}
	r.Line("", r.say.FirstBike())
}

// label names a bike in a table: by its own name where the names of all are
// short, else by its number.
func (r *Report) label(bike int) string {
	for _, p := range r.p.Group.Bikes {
		if sheet.Width(p.Bike.Name) > bikeWidth {
			return fmt.Sprintf("bike %d", bike+1)
		}
	}
	return r.p.Group.Bikes[bike].Bike.Name
}

func (r *Report) groupLegs(g *plan.Group) {
	columns := []sheet.Column{sheet.Number("#"), stopColumn("to"), sheet.Number("ridden"),
		sheet.Wrapped("set by", bikeWidth), sheet.Words("verdict")}
	bike := func(head string) sheet.Column { return sheet.Column{Head: head, Right: true, Max: 14} }
	many := len(g.Bikes) > mostBikes
	what := "arrives/reserve of each bike"
	if many {
		what = "arrives/reserve of the bike that sets the leg"
		columns = append(columns, bike("has"), sheet.Number("not OK"))
	} else {
		for b := range g.Bikes {
			columns = append(columns, bike(r.label(b)))
		}
	}
	r.Head(fmt.Sprintf("THE GROUP (%s ridden; %s, each alone: %s; set by: the bike that is worst off)",
		r.u.DistanceUnit(), r.u.VolumeUnit(), what))
	rows := [][]string{}
	for i, l := range g.Legs {
		_, to := words.EndsOf(r.p, i)
		row := []string{legNumber(i), to, r.far(r.p.Legs[i].Drink.Ridden), r.label(l.SetBy), r.paint(string(l.Verdict))}
		if many {
			row = append(row, r.arrivesWith(g.Bikes[l.SetBy].Legs[i]), fmt.Sprintf("%d of %d", l.NotOK, len(g.Bikes)))
		} else {
			for _, p := range g.Bikes {
				row = append(row, r.arrivesWith(p.Legs[i]))
			}
		}
		rows = append(rows, append(row, r.loans(l)))
	}
	r.Table(append(columns, sheet.Wrapped("can lend", 40)), rows)
}

func (r *Report) arrivesWith(l trip.Leg) string { return r.u.Left(l.Arrive) + "/" + r.needed(l.Kept) }

// loans says who can lend whom how much, rounded up where that is enough and down
// where it is all there is.
func (r *Report) loans(l group.Leg) string {
	var lent, lack []string
	for _, loan := range l.Loans {
		litres := r.needed(loan.Litres)
		if l.Lacking[loan.To] > 0 {
			litres = r.held(loan.Litres)
		}
		s := fmt.Sprintf("%s from %s to %s", litres, r.label(loan.From), r.label(loan.To))
		if loan.Worse {
			s += fmt.Sprintf(" (petrol %s)", loan.Grade)
		}
		lent = append(lent, s)
	}
	for b, litres := range l.Lacking {
		if litres > 0 {
			lack = append(lack, fmt.Sprintf("%s lacks %s", r.label(b), r.needed(litres)))
		}
	}
	text := strings.Join(lent, "; ")
	if text != "" {
		text += " → " + r.paint(string(l.Lent))
	}
	switch {
	case len(lack) == 0:
		return text
	case text == "":
		return "nobody: " + strings.Join(lack, ", ")
	}
	return text + "; then " + strings.Join(lack, ", ")
}
