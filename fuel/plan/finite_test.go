package plan_test

import (
	"math"

	"lastpump/fuel"
	"lastpump/fuel/plan"
	"lastpump/route"

	"pgregory.net/rapid"
)

// allFinite fails where a figure of a plan is no number.
func allFinite(t rapid.TB, p *plan.Plan) {
	t.Helper()
	check := func(what string, xs ...float64) {
		for _, x := range xs {
			if math.IsNaN(x) || math.IsInf(x, 0) {
				t.Fatalf("%s: %v", what, xs)
			}
		}
	}
	f := func(l fuel.Litres) float64 { return float64(l) }
	m := func(d route.Metres) float64 { return float64(d) }
	check("loop", m(p.Loop.Ridden), m(p.Loop.Ascent), m(p.Loop.Guessed), m(p.Loop.NoHeights), f(p.Start.Fuel), m(p.Start.Away))
	for _, l := range p.Legs {
		d := l.Drink
		check("leg", m(d.Ridden), m(d.Up), f(d.Climb), f(d.Fuel.Low), f(d.Fuel.Likely), f(d.Fuel.High), f(d.Back.Likely), f(d.Back.High),
			f(l.Detour), f(l.Start), f(l.Can), f(l.Kept), f(l.Arrive), f(l.Short), l.Headroom, m(l.SafeTo), m(l.DryAt), m(l.TurnBack),
			l.TurnBackAt[0], l.TurnBackAt[1], l.Mixture.Low, l.Mixture.High)
	}
	for _, v := range p.Visits {
		check("visit", m(v.At), m(v.Off), m(v.Detour))
		if v.Fill != nil {
			check("fill", f(v.Fill.Litres), f(v.Fill.Low), f(v.Fill.High), f(v.Fill.Can), v.Mixture.Low, v.Mixture.High)
		}
		if v.IfDry != nil {
			check("if dry", f(v.IfDry.Spare))
		}
	}
	check("can", f(p.Can.ForPlan), f(p.Can.ForAnyDryPump))
	for _, u := range p.Can.Uses {
		check("use", m(u.PourAt), f(u.Litres), f(u.IfDry))
	}
	if h := p.Here; h != nil {
		check("here", m(h.At), f(h.Low), f(h.Likely), f(h.High), h.Factor, h.Before, h.Thirst)
		for _, l := range h.Legs {
			check("then and now", f(l.Then.Need), f(l.Then.Arrive), f(l.Now.Need), f(l.Now.Arrive), float64(l.Allowed), float64(l.AllowedDry))
		}
	}
	for _, n := range p.NotUsed {
		check("not used", m(n.Off))
	}
}
