package report

import (
	"fmt"
	"strconv"
	"strings"

	"lastpump/fuel/plan"
)

// mostBikes is how many bikes have a column each.
const mostBikes = 4

// bikeWidth is the room for a bike's name over a column.
const bikeWidth = 8

// lendingCaution stands beside the cautions where several ride together.
const lendingCaution = "Lending fuel on the way wants a hose or a can, and somebody who has tried it at home: engines off, on the ground, away from the bikes and from fire."

// group shows who sets each leg and who can lend whom.
func (t *texter) group() {
	g := t.p.Group
	if g == nil {
		return
	}
	t.gap()
	t.line("", g.Answer)
	t.groupLegs(g)
	t.gap()
	for i, p := range g.Bikes[1:] {
		lead := p.Bike.Name
		if label := t.label(i + 1); label != lead {
			lead = label + ", " + lead
		}
		t.line("", lead+": "+strings.Join(p.Answer[:], " "))
	}
	t.line("", fmt.Sprintf("All else in this report, the first lines too, is the plan of %s, the first bike.", g.Bikes[0].Bike.Name))
}

// label names a bike in a table: by its own name where the names of all are
// short, else by its number.
func (t *texter) label(bike int) string {
	for _, p := range t.p.Group.Bikes {
		if columnWidth(p.Bike.Name) > bikeWidth {
			return fmt.Sprintf("bike %d", bike+1)
		}
	}
	return t.p.Group.Bikes[bike].Bike.Name
}

func (t *texter) groupLegs(g *plan.Group) {
	d, v := t.u.DistanceUnit(), t.u.VolumeUnit()
	columns := []column{{"#", true, 0}, {"to", false, nameWidth}, {"ridden", true, 0}, {"set by", false, bikeWidth}, {"verdict", false, 0}}
	what := "arrives/reserve of each bike"
	if len(g.Bikes) > mostBikes {
		what = "arrives/reserve of the bike that sets the leg"
		columns = append(columns, column{"has", true, 14}, column{"not OK", true, 0})
	} else {
		for b := range g.Bikes {
			columns = append(columns, column{t.label(b), true, 14})
		}
	}
	columns = append(columns, column{"can lend", false, 40})
	t.head(fmt.Sprintf("THE GROUP (%s ridden; %s, each alone: %s; set by: the bike that is worst off%s)", d, v, what, t.first(g)))
	rows := [][]string{}
	for i, l := range g.Legs {
		_, to := t.p.Ends(i)
		row := []string{strconv.Itoa(i + 1), to, t.far(t.p.Legs[i].Drink.Ridden), t.label(l.SetBy), t.paint(string(l.Verdict))}
		if len(g.Bikes) > mostBikes {
			row = append(row, t.arrivesWith(g.Bikes[l.SetBy].Legs[i]), fmt.Sprintf("%d of %d", l.NotOK, len(g.Bikes)))
		} else {
			for _, p := range g.Bikes {
				row = append(row, t.arrivesWith(p.Legs[i]))
			}
		}
		rows = append(rows, append(row, t.loans(l)))
	}
	t.table(columns, rows)
}

// first says which bike is the first where the table has numbers: the others are
// named below it.
func (t *texter) first(g *plan.Group) string {
	if name := g.Bikes[0].Bike.Name; t.label(0) != name {
		return "; bike 1: " + name
	}
	return ""
}

func (t *texter) arrivesWith(l plan.Leg) string {
	return t.left(l.Arrive) + "/" + t.needed(l.Kept)
}

// loans says who can lend whom how much, rounded up where that is enough and down
// where it is all there is.
func (t *texter) loans(l plan.GroupLeg) string {
	var lent, lack []string
	for _, loan := range l.Loans {
		litres := t.needed(loan.Litres)
		if l.Lacking[loan.To] > 0 {
			litres = t.held(loan.Litres)
		}
		s := fmt.Sprintf("%s from %s to %s", litres, t.label(loan.From), t.label(loan.To))
		if loan.Worse {
			s += fmt.Sprintf(" (petrol %s)", loan.Grade)
		}
		lent = append(lent, s)
	}
	for b, litres := range l.Lacking {
		if litres > 0 {
			lack = append(lack, fmt.Sprintf("%s lacks %s", t.label(b), t.needed(litres)))
		}
	}
	text := strings.Join(lent, "; ")
	if text != "" {
		text += " → " + t.paint(string(l.Lent))
	}
	switch {
	case len(lack) == 0:
		return text
	case text == "":
		return "nobody: " + strings.Join(lack, ", ")
	}
	return text + "; then " + strings.Join(lack, ", ")
}
