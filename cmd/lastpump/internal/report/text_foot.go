package report

import (
	"fmt"
	"strings"

	"lastpump/fuel"
	"lastpump/fuel/plan"
	"lastpump/route"
)

func (t *texter) totals() {
	p := t.p
	var parts []string
	for _, g := range p.Totals.Grades {
		parts = append(parts, fmt.Sprintf("%s of %s", t.u.Needed(g.Litres), g.Grade))
	}
	if len(parts) == 0 {
		parts = []string{"nothing to buy on the way"}
	}
	text := "fills " + strings.Join(parts, ", ") + "."
	for _, m := range p.Totals.Money {
		text += fmt.Sprintf(" About %.0f %s", m.Amount, m.Currency)
		if p.Totals.Unpriced > 0 {
			text += fmt.Sprintf(", without %s of which the price is not known", t.u.Needed(p.Totals.Unpriced))
		}
		text += "."
	}
	t.head("TOTALS")
	t.line("  ", text)
	for _, use := range p.Can.Uses {
		t.line("  ", t.use(use))
	}
	if c := p.Can.SizeForPlan.Litres; c > 0 {
		t.line("  ", fmt.Sprintf("a full %s can weighs %.1f kg more than an empty one", t.u.Can(c), float64(p.Totals.CanWeight)))
	}
	if c := p.Can.SizeForDry.Litres; c > p.Can.SizeForPlan.Litres {
		t.line("  ", fmt.Sprintf("a full %s can, enough for any one dry pump, %.1f kg", t.u.Can(c), float64(p.Totals.DryWeight)))
	}
}

// use says of one leg that asks for a can where it is filled and poured.
func (t *texter) use(use plan.Use) string {
	p := t.p
	_, to := p.Ends(use.Leg)
	why := "for the margin"
	switch {
	case use.Why == "dry":
		why = fmt.Sprintf("in case %s is dry", to)
	case use.IfDry > use.Litres:
		why += fmt.Sprintf(", %s in case %s is dry", t.u.Needed(use.IfDry), to)
	}
	return fmt.Sprintf("can on leg %d: %s or more %s: fill it at %s; %s",
		use.Leg+1, t.u.Needed(use.Litres), why, p.NameOf(use.FillAt), use.Pouring(t.u))
}

// mostCures is how many are shown of one warning, the cheapest.
const mostCures = 6

func (t *texter) warnings() {
	if len(t.p.Warnings) == 0 {
		return
	}
	kept := ""
	if t.p.Choice != nil {
		kept = ", the stops as chosen"
	}
	t.head("WARNINGS, worst first (a cure was put into the plan and planned again" + kept + ": → the new verdict; cheapest first)")
	for i, w := range t.p.Warnings {
		lead := fmt.Sprintf("%3d ", i+1)
		t.line(lead, string(w.Kind)+": "+w.Text)
		for k, c := range w.Cures {
			if k == mostCures {
				t.line("      ", fmt.Sprintf("and %d more, in --json", len(w.Cures)-k))
				break
			}
			t.line("      cure: ", t.cure(c)+" → "+c.Verdict)
		}
		if w.NoCure != "" {
			t.line("      ", w.NoCure)
		}
	}
}

// cure says what cures, without the verdict that comes of it.
func (t *texter) cure(c plan.Cure) string {
	if c.HasDetour {
		return fmt.Sprintf("%s (%s there and back)", c.Text, t.u.Distance(c.Detour))
	}
	return c.Text
}

// pencil shows the sums of each leg, so that a rider can do them again.
func (t *texter) pencil() {
	b, o := t.p.Bike, t.p.Options
	d, v := t.u.DistanceUnit(), t.u.VolumeUnit()
	hundred := route.Metres(100 / t.u.DistanceIn(1)) // km or miles
	rate := func(c fuel.Consumption) float64 { return t.u.VolumeIn(c.Over(hundred)) }
	t.head(fmt.Sprintf("THE SUMS (likely; by hand: %s ÷ 100 × rate × weight of the ground, and the climb on top)", d))
	t.line("  ", fmt.Sprintf("rate %.3f %s/100 %s = %.3f × odometer %.4g × ethanol %.4f × thirst %.4g",
		rate(b.Rate())*b.EthanolFactor()*o.Thirst, v, d, rate(b.Consumption), float64(b.Rate()/b.Consumption), b.EthanolFactor(), o.Thirst))
	for i, l := range t.p.Legs {
		var parts []string
		for _, g := range l.Drink.Grounds {
			parts = append(parts, fmt.Sprintf("%s %.1f %s × %.2f = %.2f", g.Ground, t.u.DistanceIn(g.Ridden), d,
				b.Weight(g.Ground).Likely, t.u.VolumeIn(g.Likely)))
		}
		parts = append(parts, t.climbSum(l), fmt.Sprintf("together %.2f %s", t.u.VolumeIn(l.Drink.Fuel.Likely), v))
		sum := strings.Join(parts, "; ")
		if l.Detour > 0 {
			sum += fmt.Sprintf(" (%.2f of it for the detour)", t.u.VolumeIn(l.Detour))
		}
		t.line(fmt.Sprintf("%3d ", i+1), sum)
	}
}

func (t *texter) climbSum(l plan.Leg) string {
	d := l.Drink
	switch {
	case d.NoHeights > 0 && d.Up <= 0:
		return "climb not known"
	case d.NoHeights > 0:
		return fmt.Sprintf("climb, as far as known, %s = %.2f", t.height(d.Up), t.u.VolumeIn(d.Climb))
	}
	return fmt.Sprintf("climb %s = %.2f", t.height(d.Up), t.u.VolumeIn(d.Climb))
}

func (t *texter) assumptions() {
	t.head("ASSUMPTIONS")
	for _, a := range t.p.Assumptions {
		t.line("  ", fmt.Sprintf("%s: %s [%s]", a.Name, a.Value, a.Mark))
	}
}

// cautions are what no plan replaces.
var cautions = []string{
	"These are estimates, not promises: they hold within your margin on these figures. Ask on the way; a pump that was there may be dry, shut or gone.",
	"Carry water, and leave the plan with someone who knows when to worry.",
	"Fill a can on the ground, away from the bike, engine off, to its mark and no further; carry it upright and closed. The law on carrying fuel varies: local law and ferries decide.",
	"The maker's manual decides on the grade; altitude gives no credit. On low grade ride gently, without lugging: climbs are where it knocks.",
}

func (t *texter) cautions() {
	t.head("BEFORE YOU GO")
	for _, c := range cautions {
		t.line("  - ", c)
	}
	if t.p.Group != nil {
		t.line("  - ", lendingCaution)
	}
}
