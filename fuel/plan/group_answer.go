package plan

import (
	"fmt"
	"slices"

	"lastpump/fuel"
)

// answer says in one line how the group fares.
func (g *Group) answer() string {
	worst, lacking, after, uncovered := 0, 0, OK, fuel.Litres(0)
	for i, l := range g.Legs {
		if a, b := g.Bikes[l.SetBy].Legs[i], g.Bikes[g.Legs[worst].SetBy].Legs[worst]; a.worse(b) {
			worst = i
		}
		if l.NotOK > 0 {
			lacking++
			uncovered = max(uncovered, l.Lack)
			if l.Lent.rank() > after.rank() {
				after = l.Lent
			}
		}
	}
	u := g.Bikes[0].Options.Units
	leg := g.Legs[worst]
	sets := fmt.Sprintf("%s sets %s", g.name(leg.SetBy), legName(g.Bikes[0], worst))
	who := fmt.Sprintf("Group of %d: ", len(g.Bikes))
	switch leg.Verdict {
	case Short:
		who += fmt.Sprintf("it does not hold: %s, and is SHORT by %s.", sets, u.Needed(g.Bikes[leg.SetBy].Legs[worst].Short))
	case Tight:
		who += fmt.Sprintf("it holds only just: %s, and is TIGHT.", sets)
	default:
		who += fmt.Sprintf("every leg holds for every bike, within your margin on these figures; %s, the one with least to spare.", sets)
	}
	if lacking > 0 {
		who += g.lending(lacking, after, uncovered)
	}
	return who + g.carry()
}

// lending says what lending does for the legs on which somebody lacks fuel.
func (g *Group) lending(lacking int, after Verdict, uncovered fuel.Litres) string {
	u := g.Bikes[0].Options.Units
	lent := slices.ContainsFunc(g.Legs, func(l GroupLeg) bool { return len(l.Loans) > 0 })
	switch {
	case after == OK:
		return fmt.Sprintf(" If you lend each other fuel it holds on %s.", them(lacking))
	case !lent:
		return " Nobody has fuel to lend there."
	case after == Tight:
		return fmt.Sprintf(" If you lend each other fuel it holds only just: up to %s are lacking on a leg for the margin.", u.Needed(uncovered))
	}
	return fmt.Sprintf(" Lending each other fuel is not enough: up to %s are lacking on a leg.", u.Needed(uncovered))
}

func them(lacking int) string {
	if lacking == 1 {
		return "that leg, too"
	}
	return fmt.Sprintf("all %s where somebody lacks it", count(lacking, "leg"))
}

// carry says what can the group needs.
func (g *Group) carry() string {
	u, c := g.Bikes[0].Options.Units, g.Can
	cans := func(l fuel.Litres, s CanSize) string {
		if s.TooBig {
			return u.Needed(l) + " in cans"
		}
		return fmt.Sprintf("one %s can", u.Can(s.Litres))
	}
	var s string
	switch without := cans(c.WithoutLending, c.SizeWithout); {
	case c.WithoutLending <= 0:
	case c.Litres <= 0:
		s = fmt.Sprintf(" If nobody lends, carry %s between you.", without)
	case c.Size != c.SizeWithout || c.Size.TooBig && c.WithoutLending > c.Litres:
		s = fmt.Sprintf(" Carry %s between you; if nobody lends, %s.", cans(c.Litres, c.Size), without)
	default:
		s = fmt.Sprintf(" Carry %s between you.", without)
	}
	if c.ForAnyDryPump > c.Litres {
		s += fmt.Sprintf(" For any one dry pump, %s between you.", cans(c.ForAnyDryPump, c.SizeForDry))
	}
	if s != "" && slices.ContainsFunc(g.Bikes, func(p *Plan) bool { return p.Bike.Can > 0 }) {
		s += " Your own cans are not counted in that."
	}
	return s
}
