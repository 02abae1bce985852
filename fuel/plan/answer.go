package plan

import (
	"fmt"
	"strings"

	"lastpump/fuel/stop"
	"lastpump/octane"
)

// answer gives the three lines that stand first: does it hold and what to carry;
// what if a pump is dry; is the grade there.
func answer(p *Plan) [3]string {
	return [3]string{holds(p), ifAnyDry(p), graded(p)}
}

func holds(p *Plan) string {
	switch {
	case p.Cut.Where != "" && p.Cut.Last:
		return fmt.Sprintf("The file is cut off: this is only the first %s of the ride. %s",
			p.Options.Units.Distance(p.Line.Length()), holdsAsPlanned(p))
	case p.Cut.Where != "":
		return "A file is cut off in the middle of the ride: what is missing of it is planned as a gap. " + holdsAsPlanned(p)
	}
	return holdsAsPlanned(p)
}

func holdsAsPlanned(p *Plan) string {
	short, tight := legsOf(p, Short), legsOf(p, Tight)
	var s string
	switch {
	case len(short) > 0:
		worst := short[0]
		for _, i := range short {
			if p.Legs[i].Short > p.Legs[worst].Short {
				worst = i
			}
		}
		l := p.Legs[worst]
		u := p.Options.Units
		s = fmt.Sprintf("It does not hold: %s SHORT by %s (%s).", legs(short, len(p.Legs)),
			u.Needed(l.Short), u.Distance(rate(l.Drink).Reach(l.Short)))
		if len(short) > 1 {
			s = fmt.Sprintf("It does not hold: %s SHORT, leg %d by %s (%s).", legs(short, len(p.Legs)), worst+1,
				u.Needed(l.Short), u.Distance(rate(l.Drink).Reach(l.Short)))
		}
	case len(tight) > 0:
		s = fmt.Sprintf("It holds only just: %s TIGHT.", legs(tight, len(p.Legs)))
	default:
		s = fmt.Sprintf("It holds within your margin on these figures: all %s OK.", count(len(p.Legs), "leg"))
		if len(p.Legs) == 1 {
			s = "It holds within your margin on these figures: the one leg is OK."
		}
	}
	if len(short) > 0 && len(tight) > 0 {
		s += fmt.Sprintf(" %d TIGHT.", len(tight))
	}
	s += " " + carry(p)
	if in := p.Loop; in.GroundGiven && in.Guessed > in.Ridden/10 {
		s += fmt.Sprintf(" The ground is not known over %s.", p.Options.Units.Distance(in.Guessed))
	}
	if p.Line.Stretch.Coarse {
		s += " The line is drawn too coarsely to trust."
	}
	return s
}

func legsOf(p *Plan, v Verdict) []int {
	var out []int
	for i, l := range p.Legs {
		if l.Verdict == v {
			out = append(out, i)
		}
	}
	return out
}

// legs says which legs: "leg 4 is", "legs 4 and 7 are", "5 of 12 legs are".
func legs(of []int, all int) string {
	switch {
	case len(of) == 1:
		return fmt.Sprintf("leg %d is", of[0]+1)
	case len(of) == 2:
		return fmt.Sprintf("legs %d and %d are", of[0]+1, of[1]+1)
	}
	return fmt.Sprintf("%d of %d legs are", len(of), all)
}

func carry(p *Plan) string {
	if p.Here.OnTheWay() && p.Legs[0].FromVisit < 0 && p.Legs[0].Verdict != OK {
		s := "No can helps on leg 1: there is no pump here to fill it at."
		if p.Can.ForPlan > 0 {
			after := carryFor(p)
			s += " For those after it: " + strings.ToLower(after[:1]) + after[1:]
		}
		return s
	}
	return carryFor(p)
}

// carryFor says what can the legs take before which one can be filled.
func carryFor(p *Plan) string {
	u, c, own := p.Options.Units, p.Can, p.Bike.Can
	switch {
	case c.SizeForPlan.TooBig:
		return fmt.Sprintf("No can sold is big enough for the margin: %s.", u.Needed(c.ForPlan))
	case c.ForPlan <= 0:
		return "No can is needed for it."
	case own <= 0:
		return fmt.Sprintf("Carry a %s can.", u.Can(c.SizeForPlan.Litres))
	case own < c.SizeForPlan.Litres:
		return fmt.Sprintf("Carry a %s can: yours of %s is too small.", u.Can(c.SizeForPlan.Litres), u.Can(own))
	}
	return fmt.Sprintf("Your %s can is needed for it.", u.Can(own))
}

func ifAnyDry(p *Plan) string {
	var stranded, bare []string
	places, noPump := 0, 0
	for _, v := range p.Visits {
		if v.IfDry == nil {
			continue
		}
		places++
		if v.IfDry.Outcome == Back && v.IfDry.To == "start" && p.Legs[0].FromVisit < 0 {
			noPump++
		}
		switch {
		case v.IfDry.Outcome == Stranded:
			stranded = append(stranded, v.Stop.Name)
		case v.IfDry.Bare:
			bare = append(bare, v.Stop.Name)
		}
	}
	var s string
	switch {
	case places == 0 && len(p.Visits) == 0 && len(p.NotUsed) == 0 && p.Here == nil:
		return "No fuel stop is given: give them with --stops, or as waypoints in the file."
	case places == 0:
		s = fmt.Sprintf("No pump is counted between %s and the end.", p.endName("start"))
	case len(stranded) > 0:
		s = fmt.Sprintf("If a pump is dry: stranded at %s", names(stranded))
		if len(bare) > 0 {
			s += fmt.Sprintf(", nearly at %d more", len(bare))
		}
		s += "." + dryCan(p)
	case len(bare) > 0:
		s = fmt.Sprintf("If a pump is dry: another is in reach, but barely at %s.", names(bare))
	default:
		s = "If any one pump is dry, the next or the last one is within reach."
	}
	if noPump > 0 {
		s += fmt.Sprintf(" From %s only back to %s, where no pump is counted.", stops(noPump), p.endName("start"))
	}
	return s + fromMap(p)
}

func stops(n int) string {
	if n == 1 {
		return "one stop"
	}
	return fmt.Sprintf("%d stops", n)
}

func names(n []string) string {
	if len(n) > 1 {
		return fmt.Sprintf("%d stops", len(n))
	}
	return n[0]
}

func dryCan(p *Plan) string {
	c := p.Can
	switch {
	case c.SizeForDry.TooBig:
		return fmt.Sprintf(" No can sold is enough for that (%s).", p.Options.Units.Needed(c.ForAnyDryPump))
	case c.SizeForDry.Litres > p.Bike.Can:
		return fmt.Sprintf(" A %s can is just enough%s.", p.Options.Units.Can(c.SizeForDry.Litres), onTheHigh(p))
	}
	return ""
}

// onTheHigh says what can it takes if the bike drinks the high figure.
func onTheHigh(p *Plan) string {
	switch c := p.Can; {
	case c.SizeForDryHigh.TooBig:
		return " on the likely figures; at the high ones no can sold is"
	case c.SizeForDryHigh.Litres > c.SizeForDry.Litres:
		return fmt.Sprintf(" on the likely figures; at the high ones it takes %s", p.Options.Units.Can(c.SizeForDryHigh.Litres))
	}
	return ""
}

// fromMap says how many of the counted stops nobody has confirmed.
func fromMap(p *Plan) string {
	seen := map[spot]bool{}
	all, unsure := 0, 0
	for _, v := range p.Visits {
		once := spot{v.Stop.Name, v.Stop.At}
		if !v.Counted || seen[once] {
			continue
		}
		seen[once] = true
		all++
		if v.Stop.Standing == stop.Map {
			unsure++
		}
	}
	switch {
	case unsure == 0:
		return ""
	case unsure == 1:
		return fmt.Sprintf(" 1 of %d is only from a map.", all)
	}
	return fmt.Sprintf(" %d of %d are only from a map.", unsure, all)
}

func graded(p *Plan) string {
	var below, doubtful []int
	var worst Mixture
	for i, l := range p.Legs {
		switch l.Mixture.Verdict {
		case octane.Below:
			if below = append(below, i); len(below) == 1 || l.Mixture.Low < worst.Low {
				worst = l.Mixture
			}
		case octane.Doubtful, octane.NotKnown:
			doubtful = append(doubtful, i)
		}
	}
	switch {
	case len(below) > 0:
		return fmt.Sprintf("Grade: %s below %s, at worst %s", legs(below, len(p.Legs)), p.Bike.Needs, worst) + doubtToo(doubtful)
	case len(doubtful) > 0:
		return fmt.Sprintf("Grade: %s doubtful or not known for %s; none is below it for sure.", legs(doubtful, len(p.Legs)), p.Bike.Needs)
	}
	if len(p.Legs) == 1 && p.Legs[0].FromVisit < 0 {
		return fmt.Sprintf("Grade: no petrol is bought on the way; the tank at the start meets %s.", p.Bike.Needs)
	}
	return fmt.Sprintf("Grade: the petrol on the way meets %s on every leg.", p.Bike.Needs)
}

func doubtToo(doubtful []int) string {
	if len(doubtful) == 0 {
		return "."
	}
	return fmt.Sprintf("; %d more doubtful or not known.", len(doubtful))
}
