package words

import (
	"fmt"
	"math"
	"strings"

	"lastpump/cmd/lastpump/internal/words/units"
	"lastpump/fuel"
	"lastpump/fuel/leg"
	"lastpump/fuel/plan"
	"lastpump/fuel/trip"
)

// Cans names cans: "none", "5 L", "2 × 4 L", "5 L + 1.5 L".
func (v Voice) Cans(c leg.Carried) string {
	switch {
	case len(c) == 0:
		return "none"
	case len(c) == 2 && c[0] == c[1]:
		return "2 × " + v.Units.Can(c[0])
	}
	names := make([]string, len(c))
	for i, l := range c {
		names[i] = v.Units.Can(l)
	}
	return strings.Join(names, " + ")
}

// inCans says what is carried: "a 5 L can", "8 L in cans (2 × 4 L)".
func (v Voice) inCans() string {
	c := v.Plan.Cans.Carried
	if len(c) == 1 {
		return article(v.Cans(c)) + " can"
	}
	return fmt.Sprintf("%s in cans (%s)", v.Units.Can(c.Total()), v.Cans(c))
}

// needed tells whether anything fails without the cans of the plan.
func (v Voice) needed() bool {
	if v.Plan.Bike.Can <= 0 || len(v.Plan.Cans.Rows) == 0 {
		return false
	}
	none := v.Plan.Cans.Rows[0]
	return none.NotOK+none.Stranded+none.Bare > 0
}

// article puts a or an before a figure.
func article(figure string) string {
	for _, vowel := range []string{"8", "11 ", "18 "} {
		if strings.HasPrefix(figure, vowel) {
			return "an " + figure
		}
	}
	return "a " + figure
}

func (v Voice) withCans() string {
	if !v.needed() {
		return ""
	}
	return " with " + v.inCans()
}

func (v Voice) evenWithCans() string {
	if v.Plan.Bike.Can <= 0 {
		return ""
	}
	return ", even with " + v.inCans()
}

// carry says what cans would help, where those of the plan are not enough, or that none are
// needed.
func (v Voice) carry() string {
	u, c, has := v.Units, v.Plan.Can, v.Plan.Bike.Can
	s := ""
	if v.Plan.Answer.NoCan {
		s = " No can helps on leg 1: there is no pump here to fill it at."
	}
	switch {
	case c.ForPlan <= 0 && c.ForDryHigh <= 0 && s == "":
		return " No can is needed."
	case c.ForPlan > has+leg.Hair && has <= 0 && !c.SizeForPlan.TooBig:
		which := "every leg"
		if s != "" {
			which = "every other leg"
		}
		return s + " " + raised(article(u.Can(c.SizeForPlan.Litres))) + fmt.Sprintf(" can would make %s OK.", which)
	case c.ForPlan > has+leg.Hair:
		s += fmt.Sprintf(" For every leg to be OK it takes %s", u.Needed(c.ForPlan))
		if c.SizeForPlan.TooBig {
			return s + ", more than any one can sold." + v.withoutOwn()
		}
		return s + " in cans." + v.withoutOwn()
	}
	return s + v.withoutOwn()
}

// withoutOwn says which cans would do in place of what the rider has; "" where that is not so.
func (v Voice) withoutOwn() string {
	r := v.Plan.Cans.WithoutOwn
	if r == nil {
		return ""
	}
	own := v.Cans(v.Plan.Cans.Own) + " can"
	if len(v.Plan.Cans.Own) > 1 {
		own += "s"
	}
	would := v.Cans(r.Cans)
	if len(r.Cans) == 1 {
		would = article(would) + " can"
	}
	s := fmt.Sprintf(" Without your own %s, %s would do: every leg is OK, no dry pump strands you", own, would)
	if r.Bare > 0 {
		s += " unless the bike is thirsty"
	}
	return s + "."
}

// dryCan says what can would keep dry pumps from stranding, where that of the plan does not.
func (v Voice) dryCan() string {
	switch c, has := v.Plan.Can, v.Plan.Bike.Can; {
	case c.SizeForDry.TooBig:
		return fmt.Sprintf(" No one can sold is enough for that (%s).", v.Units.Needed(c.ForDryHigh))
	case c.SizeForDryHigh.TooBig && c.ForAnyDryPump > has+leg.Hair:
		return " " + raised(article(v.Units.Can(c.SizeForDry.Litres))) + fmt.Sprintf(" can is enough for that, but not "+
			"if the bike is thirsty: it then takes %s, more than any one can sold.", v.Units.Needed(c.ForDryHigh))
	case c.SizeForDryHigh.TooBig:
		return ""
	case c.ForDryHigh > has+leg.Hair:
		return " " + raised(article(v.Units.Can(c.SizeForDryHigh.Litres))) + " can is enough for that."
	}
	return ""
}

// withoutCans says what becomes of the ride without the cans of the plan.
func (v Voice) withoutCans() string {
	rows := v.Plan.Cans.Rows
	if !v.needed() {
		return ""
	}
	var parts []string
	switch none := rows[0]; {
	case none.NotOK == 1:
		parts = append(parts, "one leg is not OK")
	case none.NotOK > 1:
		parts = append(parts, fmt.Sprintf("%d legs are not OK", none.NotOK))
	}
	switch none := rows[0]; {
	case none.Stranded > 0:
		parts = append(parts, fmt.Sprintf("%s strand you if dry", pumps(none.Stranded)))
	case none.Bare > 0:
		parts = append(parts, fmt.Sprintf("%s strand you if dry and the bike is thirsty", pumps(none.Bare)))
	}
	return "Without a can " + strings.Join(parts, " and ") + ". "
}

func pumps(n int) string {
	if n == 1 {
		return "one pump would"
	}
	return fmt.Sprintf("%d pumps would", n)
}

// CanToCarry says what cans to take along.
func (v Voice) CanToCarry() string {
	if c := v.Plan.Cans.Carried; len(c) > 1 {
		return "CANS: " + v.Cans(c)
	}
	return "CAN: " + v.Cans(v.Plan.Cans.Carried)
}

// CansWhy says why the plan carries what it does.
func (v Voice) CansWhy(row plan.CanRow) string {
	c := v.Plan.Cans
	holds := row.NotOK+row.Stranded+row.Bare == 0
	switch {
	case !row.Planned:
		return ""
	case !c.Auto && len(c.Carried) == 0:
		return "planned: no can, as you say"
	case !c.Auto:
		return "planned: what you have"
	case len(c.Carried) > 0 && c.Carried.Compare(c.Own) == 0:
		return "planned: what you have"
	case holds && len(c.Carried) == 0:
		return "planned: all holds without"
	case holds:
		return "planned: the smallest with which all holds"
	}
	if own := len(c.Own); own > 0 {
		beside := "more beside your own can"
		if own > 1 {
			beside = "more beside your own cans"
		}
		return fmt.Sprintf("planned: %s, up to %s in two cans, is no better", beside, v.Units.Can(c.Largest()))
	}
	return fmt.Sprintf("planned: more, up to %s, is no better", v.Units.Can(c.Most))
}

// CanUse says of one leg that asks for a can where it is filled, and where it is poured or
// that it is kept.
func (v Voice) CanUse(use trip.Use) string {
	_, to := EndsOf(v.Plan, use.Leg)
	why := "so that the leg is OK"
	switch {
	case use.Bare:
		why = fmt.Sprintf("in case %s is dry and the bike is thirsty", to)
	case use.Why == trip.ForDryPump:
		why = fmt.Sprintf("in case %s is dry", to)
	case use.IfDry > use.Litres:
		why += fmt.Sprintf(", %s in case %s is dry", v.Units.Needed(use.IfDry), to)
	}
	s := fmt.Sprintf("can on leg %d: %s or more %s; filled at %s", use.Leg+1, v.Units.Needed(use.Litres), why,
		NameOf(v.Plan, use.Filled))
	if v.Plan.Bike.Can > 0 {
		s += fmt.Sprintf(", %s in it", v.Units.Held(use.Full))
		if v.Plan.Legs[use.Leg].Poured <= 0 {
			return s + "; a reserve, not poured by plan"
		}
	}
	return s + "; " + v.Pouring(use)
}

// CanWith names a can and what has to be in it at the least: full, where that rounds to
// more than its mark.
func CanWith(u units.System, size, least fuel.Litres, of string) string {
	if u.VolumeIn(size) < u.VolumeIn(least)+0.01 && u.Needed(least) != u.Held(size) {
		return fmt.Sprintf("a full %s can%s", u.Can(size), strings.TrimSuffix(of, " in it"))
	}
	return fmt.Sprintf("a %s can with at least %s%s", u.Can(size), u.Needed(least), of)
}

// Pouring says when a can is poured, by the trip meter: from where on all of it
// fits, and by where a thirsty bike wants it. The one is rounded up, the other
// down. Where they cross it takes two pours.
func (v Voice) Pouring(use trip.Use) string {
	u := v.Units
	unit := u.DistanceUnit()
	// +0: no minus before a nought
	from, by := math.Ceil(u.DistanceIn(use.FullAt)-leg.Hair)+0, math.Floor(u.DistanceIn(use.PourBy)+leg.Hair)
	switch {
	case use.Full <= 0:
		return fmt.Sprintf("that much fits from trip %.0f %s on", math.Ceil(u.DistanceIn(use.PourAt)-leg.Hair), unit)
	case from > by:
		return fmt.Sprintf("of %s in the can pour what fits by trip %.0f %s, the rest later", u.Held(use.Full), by, unit)
	}
	return fmt.Sprintf("all %s in the can fit from trip %.0f %s on; pour them by %.0f", u.Held(use.Full), from, unit, by)
}
