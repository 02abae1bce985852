package words

import (
	"fmt"
	"slices"
	"strings"

	"lastpump/cmd/lastpump/internal/words/phrase"
	"lastpump/fuel"
	"lastpump/fuel/leg"
	"lastpump/fuel/plan/group"
)

// Group says in one line how a group fares.
func (v Voice) Group() string {
	g := v.Plan.Group
	a := g.Answer
	worst := g.Legs[a.Worst]
	sets := fmt.Sprintf("%s sets %s", g.Bikes[worst.SetBy].Bike.Name, v.LegNamed(a.Worst))
	who := fmt.Sprintf("Group of %d: ", len(g.Bikes))
	all := len(g.Legs)
	switch worst.Verdict {
	case leg.Short:
		who += "not enough fuel: "
		if len(a.Short) > 1 {
			who += fmt.Sprintf("%s SHORT for somebody. ", legs(a.Short, all))
		}
		who += fmt.Sprintf("%s, and is SHORT by %s.", sets, v.Units.Needed(g.Bikes[worst.SetBy].Legs[a.Worst].Short))
		who += moreTight(len(a.Tight))
	case leg.Tight:
		who += lowered(v.opening("Only just enough", a.Stranded)) + ": "
		if len(a.Tight) > 1 {
			who += fmt.Sprintf("%s TIGHT for somebody. ", legs(a.Tight, all))
		}
		who += fmt.Sprintf("%s, and is TIGHT.", sets)
	default:
		who += lowered(v.opening("Enough fuel"+within, a.Stranded)) + fmt.Sprintf(": every leg is OK for every bike; %s, the one "+
			"with least to spare.", sets)
	}
	if a.Lacking > 0 {
		who += v.lending()
	}
	return who + v.carryBetween()
}

// ifAnyDryOfGroup says what becomes of the group if a pump is dry.
func (v Voice) ifAnyDryOfGroup() string {
	a, first := v.Plan.Group.Answer, v.Plan.Answer
	if len(a.Stranded)+len(a.Bare) == 0 {
		return v.ifAnyDry() // which is then the same for all
	}
	s := ""
	if len(a.Stranded) > 0 {
		stuck := v.Plan.Group.Bikes[a.Stuck]
		s = fmt.Sprintf("If a pump is dry: somebody is stranded at %s", v.stopsAt(a.Stranded))
		if n := len(stuck.Answer.Stranded); len(a.Stranded) > 1 {
			s += fmt.Sprintf(", %s at %s", v.Name(stuck.Bike.Name), ofThem(n, len(a.Stranded)))
		} else {
			s += ", such as " + v.Name(stuck.Bike.Name)
		}
		if len(a.Bare) > 0 {
			s += fmt.Sprintf("; close to it at %s", phrase.Count(len(a.Bare), "more stop"))
		}
	} else {
		s = fmt.Sprintf("If a pump is dry: another is in reach of all, but barely at %s", v.stopsAt(a.Bare))
	}
	return s + "." + leans(a.Leans) + v.noPump(first) + fromMap(first)
}

// FirstBike says of which bike all is that is told of one bike alone.
func (v Voice) FirstBike() string {
	return fmt.Sprintf("All that follows is the plan of %s, the first bike.", v.Name(v.Plan.Group.Bikes[0].Bike.Name))
}

// ofThem says how many of several: "all of them", "3 of them".
func ofThem(n, all int) string {
	if n == all {
		return "all of them"
	}
	return fmt.Sprintf("%d of them", n)
}

// gradedOfGroup says whose petrol is below the need.
func (v Voice) gradedOfGroup() string {
	g := v.Plan.Group
	a, all := g.Answer, len(g.Bikes)
	bike := func(i int) string {
		return fmt.Sprintf("%s: %s", v.Name(g.Bikes[i].Bike.Name),
			strings.TrimPrefix(Voice{g.Bikes[i], v.Units, v.Name}.graded(), "Grade: "))
	}
	switch {
	case len(a.Below) == 1:
		return "Grade, " + bike(a.Below[0])
	case len(a.Below) > 1:
		return fmt.Sprintf("Grade: %d of %d bikes ride below their need. %s", len(a.Below), all, bike(a.Lowest))
	case len(a.Doubtful) > 0:
		return fmt.Sprintf("Grade: doubtful or not known for %d of %d bikes. %s", len(a.Doubtful), all, bike(a.Doubtful[0]))
	}
	return "Grade: the petrol on the way meets what each bike needs on every leg."
}

// lending says what lending does for the legs on which somebody lacks fuel.
func (v Voice) lending() string {
	g := v.Plan.Group
	a := g.Answer
	lent := slices.ContainsFunc(g.Legs, func(l group.Leg) bool { return len(l.Loans) > 0 })
	switch {
	case a.After == leg.OK:
		them := "that leg is"
		if a.Lacking != 1 {
			them = fmt.Sprintf("all %s where somebody lacks it are", phrase.Count(a.Lacking, "leg"))
		}
		return fmt.Sprintf(" If you lend each other fuel, %s OK.", them)
	case !lent:
		return " Nobody has fuel to lend there."
	case a.After == leg.Tight:
		return fmt.Sprintf(" If you lend each other fuel there is only just enough: up to %s are lacking on a leg for "+
			"the margin.", v.Units.Needed(a.Uncovered))
	}
	return fmt.Sprintf(" Lending each other fuel is not enough: up to %s are lacking on a leg.",
		v.Units.Needed(a.Uncovered))
}

// carryBetween says what can the group needs.
func (v Voice) carryBetween() string {
	u, c := v.Units, v.Plan.Group.Can
	var with []string
	for _, p := range v.Plan.Group.Bikes {
		if p.Bike.Can > 0 {
			with = append(with, fmt.Sprintf("%s carries %s", v.Name(p.Bike.Name), v.Cans(p.Cans.Carried)))
		}
	}
	s := ""
	if len(with) > 0 {
		s = fmt.Sprintf(" Cans: %s.", strings.Join(with, "; "))
	}
	if a := v.Plan.Group.Answer; len(with) > 0 && len(a.Short)+len(a.Tight)+len(a.Stranded)+len(a.Bare) == 0 {
		return s
	}
	cans := func(l fuel.Litres, s leg.CanSize) string {
		if s.TooBig {
			return u.Needed(l) + " in cans"
		}
		return fmt.Sprintf("one %s can", u.Can(s.Litres))
	}
	switch without := cans(c.WithoutLending, c.SizeWithout); {
	case c.WithoutLending <= 0:
	case c.Litres <= 0:
		s += fmt.Sprintf(" If nobody lends, carry %s between you.", without)
	case c.Size != c.SizeWithout || c.Size.TooBig && c.WithoutLending > c.Litres:
		s += fmt.Sprintf(" Carry %s between you; if nobody lends, %s.", cans(c.Litres, c.Size), without)
	default:
		s += fmt.Sprintf(" Carry %s between you.", without)
	}
	if c.ForAnyDryPump > c.Litres {
		s += fmt.Sprintf(" For any one dry pump, %s between you.", cans(c.ForAnyDryPump, c.SizeForDry))
	}
	if len(with) > 0 && c.WithoutLending > 0 {
		s += " The cans that you have are not counted in that."
	}
	return s
}
