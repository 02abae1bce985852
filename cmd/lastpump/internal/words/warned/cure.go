package warned

import (
	"fmt"
	"math"
	"strings"

	"lastpump/cmd/lastpump/internal/words"
	"lastpump/cmd/lastpump/internal/words/phrase"
	"lastpump/fuel/leg"
	"lastpump/fuel/plan"
	"lastpump/fuel/plan/cure"
	"lastpump/fuel/plan/lowgrade"
)

// Cure says what cures a warning, without the verdict that comes of it.
func (v Voice) Cure(w plan.Warning, c cure.Cure) string {
	s := v.cure(c) + v.price(c)
	if len(w.Legs) > 1 && len(c.Mends) > 0 {
		s += mends(c.Mends, len(w.Legs))
	}
	if c.CanLegs > 0 {
		s += fmt.Sprintf(" (with the can full on %s)", phrase.Count(c.CanLegs, "more leg"))
	}
	if c.Below > 0 {
		s += fmt.Sprintf(" (but %s more below grade)", phrase.Count(c.Below, "leg"))
	}
	return s
}

// mends says how many of several legs are mended.
func mends(legs []int, of int) string {
	if len(legs) == of {
		return fmt.Sprintf(" (mends %s)", phrase.AllOf(of, "leg"))
	}
	return fmt.Sprintf(" (mends %d of %d legs: %s)", len(legs), of, numbers(legs))
}

func (v Voice) cure(c cure.Cure) string {
	u := v.Units
	switch c.Kind {
	case cure.SetOutFull:
		return fmt.Sprintf("set out full: %s more in the tank", u.Needed(c.Litres))
	case cure.Slower:
		return v.slower(c)
	case cure.PassBy:
		return "do not fill at " + strings.Join(c.Stops, ", ") + ": the petrol in the tank lasts"
	case cure.Confirmed:
		return fmt.Sprintf("fill at %s, %s%s", c.Stops[0], v.Km(c.At), unconfirmed(c.Standing))
	case cure.InCan:
		from, _ := v.Ends(c.Leg)
		return fmt.Sprintf("%s, filled at %s; %s", words.CanWith(u, c.Size, c.Litres, " in it"), from, v.Pouring(c.Use))
	case cure.Less:
		return v.takeOnly(*c.Low, c.Upto, c.Cuts)
	case cure.Lift:
		return v.carryGood(*c.Low)
	case cure.OffLine:
		return fmt.Sprintf("fill at %s, %s off the line at %s%s", c.Stops[0], u.Distance(c.Off), v.Km(c.At),
			unconfirmed(c.Standing))
	case cure.Reverse:
		how := "(--reverse)"
		if v.Plan.Line.Arranged.Reverse {
			how = "(without --reverse)"
		}
		return "ride the loop the other way round " + how
	case cure.Begin:
		at := fmt.Sprintf("%.1f%s", u.DistanceIn(c.BeginWas), u.DistanceUnit())
		if c.BeginOnce {
			at = fmt.Sprintf("%q", c.Stops[0])
		}
		return fmt.Sprintf("begin the loop at %s, full (--begin-at %s)", c.Stops[0], at)
	case cure.Borrow:
		return v.borrow(c)
	}
	return ""
}

// price says what else it costs to take the least of a low grade.
func (v Voice) price(c cure.Cure) string {
	if !c.Risky {
		return ""
	}
	var but []string
	if len(c.Low.Risks) > 0 {
		but = append(but, fmt.Sprintf("if %s is dry you are stranded or close to it", strings.Join(v.AllCalled(c.Low.Risks), " or ")))
	}
	if c.Cuts {
		but = append(but, "it cuts into the reserve")
	}
	return fmt.Sprintf(" (but %s)", strings.Join(but, ", and "))
}

// slower says how little the bike may drink on the leg.
func (v Voice) slower(c cure.Cure) string {
	return fmt.Sprintf("ride slower, %s on this leg as the bike shows it (%s planned): thirst %.2f",
		v.Units.AtMost(c.Rate), v.Units.Rate(c.Planned), math.Floor(c.Thirst*100)/100)
}

// takeOnly says how little low grade to take up to the end of a leg.
func (v Voice) takeOnly(s lowgrade.Dearth, leg int, cuts bool) string {
	var nothing, parts []string
	to := ""
	for _, f := range s.Fills {
		if f.Leg > leg {
			break
		}
		_, to = v.Ends(f.Leg)
		name := v.Name(v.Plan.Visits[f.Visit].Stop.Name)
		if f.Litres <= 0 {
			nothing = append(nothing, name)
			continue
		}
		parts = append(parts, fmt.Sprintf("only %s of %s at %s", v.Units.Needed(f.Litres), gradeName(f), name))
	}
	if len(nothing) > 0 {
		parts = append([]string{"none at " + strings.Join(nothing, ", ")}, parts...)
	}
	if cuts {
		return fmt.Sprintf("take %s: that reaches %s", strings.Join(parts, ", "), to)
	}
	return fmt.Sprintf("take %s: that reaches %s with the reserve untouched", strings.Join(parts, ", "), to)
}

// gradeName names the grade of a fill.
func gradeName(f lowgrade.Fill) string {
	if !f.HasGrade {
		return "no known grade"
	}
	return f.Grade.String()
}

// carryGood says how to keep a tank up with good petrol from a can.
func (v Voice) carryGood(s lowgrade.Dearth) string {
	u := v.Units
	var parts []string
	for i, f := range s.Fills {
		if s.Lift.Pours[i] <= 0 {
			continue
		}
		with := "and nothing"
		if rest := f.Litres - s.Lift.Pours[i]; rest > leg.Hair {
			with = fmt.Sprintf("with only %s of %s", u.Needed(rest), gradeName(f))
		}
		parts = append(parts, fmt.Sprintf("%s at %s, %s", u.Needed(s.Lift.Pours[i]),
			v.Name(v.Plan.Visits[f.Visit].Stop.Name), with))
	}
	return fmt.Sprintf("%s from %s: pour %s", words.CanWith(u, s.Lift.Size.Litres, s.Lift.Litres,
		" of "+s.Lift.Grade.String()),
		v.Called(s.Lift.From), strings.Join(parts, "; "))
}

// borrow says from whom to borrow, and what speaks against it.
func (v Voice) borrow(c cure.Cure) string {
	var from, but []string
	for _, l := range c.Loans {
		from = append(from, fmt.Sprintf("%s from %s", v.Units.Needed(l.Litres), l.From))
		if l.Worse != nil {
			but = append(but, fmt.Sprintf("it is %s, which for %s is %s", words.Mixture(*l.Worse), l.Need, l.Grade))
		}
		if l.IfDry != "" {
			but = append(but, fmt.Sprintf("if %s is dry, %s no longer gets %s to %s", words.NameOf(v.Plan, l.DryAt), l.From, l.IfDry,
				words.NameOf(v.Plan, l.DryGoal)))
		}
	}
	if !c.AllLent {
		but = append(but, "not all who lack fuel on it can be lent enough")
	}
	who := "both"
	if len(c.Loans) > 1 {
		who = "all"
	}
	s := fmt.Sprintf("borrow %s on this leg; %s still arrive with the reserve", strings.Join(from, " and "), who)
	if len(but) > 0 {
		s += " (but " + strings.Join(but, "; ") + ")"
	}
	return s
}

// NoCure says what is missing where nothing cures, and what was tried; "" where something does
// or none was wanted.
func (v Voice) NoCure(w plan.Warning) string {
	l := w.NoCure
	switch {
	case l == nil:
		return ""
	case l.Untried:
		return "no cure was looked for: there are too many failures, see to those above first"
	case w.Kind == plan.KindBelowGrade:
		what := ""
		if len(w.Legs) > 1 {
			what = fmt.Sprintf(" for leg %d, the worst", w.Leg+1)
		}
		return fmt.Sprintf("no cure found%s: the tank is up to %.1f %s under the need%s", what, l.Octane,
			v.Plan.Bike.Needs.Scale, tried(l.Tried))
	}
	what := map[plan.Kind]string{plan.KindShort: "to arrive", plan.KindTight: "to keep the reserve",
		plan.KindStranded: "to reach the next or the last stop if it is dry"}[w.Kind]
	return fmt.Sprintf("no cure found: %s or %s are missing %s%s", v.Units.Needed(l.Litres), v.Units.Distance(l.Distance),
		what, tried(l.Tried))
}

// tried says what was tried in vain.
func tried(kinds []cure.Kind) string {
	if len(kinds) == 0 {
		return ""
	}
	what := map[cure.Kind]string{cure.SetOutFull: "setting out full", cure.Slower: "riding slower",
		cure.PassBy: "filling at fewer pumps", cure.Confirmed: "pumps that nobody has confirmed", cure.InCan: "a can",
		cure.Less: "taking less of the low grade", cure.Lift: "good petrol in a can", cure.OffLine: "pumps off the line",
		cure.Reverse: "the other way round", cure.Begin: "beginning elsewhere"}
	var said []string
	for _, k := range kinds {
		said = append(said, what[k])
	}
	return "; tried: " + strings.Join(said, ", ")
}

// mostCures is how many are shown of one warning, the cheapest.
const mostCures = 6

// CuresShown gives the cures of a warning that are shown, the cheapest, and how many more
// there are.
func CuresShown(w plan.Warning) (shown []cure.Cure, more int) {
	n := min(len(w.Cures), mostCures)
	return w.Cures[:n], len(w.Cures) - n
}

// CureWithDetour says what cures and how far it is there and back, without the verdict that
// comes of it.
func (v Voice) CureWithDetour(w plan.Warning, c cure.Cure) string {
	if c.HasDetour {
		return fmt.Sprintf("%s (%s there and back)", v.Cure(w, c), v.Units.Distance(c.Detour))
	}
	return v.Cure(w, c)
}
