package drawn

import (
	"context"
	"math"
	"slices"

	"lastpump/fuel"
	"lastpump/fuel/plan"
	"lastpump/fuel/plan/cure"
	"lastpump/fuel/plan/picture"
	"lastpump/fuel/plan/whatif"
	"lastpump/fuel/trip"
	"lastpump/route"

	"pgregory.net/rapid"
)

// Plan plans a ride, for several bikes where there are any.
func Plan(t rapid.TB, in plan.Inputs, bikes ...fuel.Bike) *plan.Plan {
	t.Helper()
	p, err := plan.Make(context.Background(), in)
	if len(bikes) > 0 {
		p, err = plan.MakeGroup(context.Background(), in, bikes)
	}
	if err != nil {
		t.Fatal(err)
	}
	return p
}

// Cured plans a ride, with its cures.
func Cured(t rapid.TB, in plan.Inputs, bikes ...fuel.Bike) *plan.Plan {
	t.Helper()
	p := Plan(t, in, bikes...)
	if err := plan.Cures(context.Background(), p); err != nil {
		t.Fatal(err)
	}
	return p
}

// Asked plans a ride, with all that can be asked for.
func Asked(t rapid.TB, in plan.Inputs, bikes ...fuel.Bike) *plan.Plan {
	t.Helper()
	p := Cured(t, in, bikes...)
	Cases(t, p)
	return p
}

// Cases asks what if.
func Cases(t rapid.TB, p *plan.Plan) []whatif.Case {
	t.Helper()
	if err := plan.WhatIf(context.Background(), p); err != nil {
		t.Fatal(err)
	}
	return p.Cases
}

// Key gives the end of a leg: the name of the stop where one is on the way, else start or
// end.
func Key(p *plan.Plan, e trip.End) string { return e.Key(p.Stops) }

// Trace gives the figures that pictures are drawn from, as fine as a page has them.
func Trace(p *plan.Plan) picture.Trace {
	return plan.Trace(p, picture.Fineness{Wide: 1200, High: 120})
}

// Sketch gives the small map, as fine as a page has it.
func Sketch(p *plan.Plan) picture.Sketch { return plan.Sketch(p, 1500) }

// Near tells whether two figures agree to a millionth; the rides lie on the
// sphere to the last bit, the estimates of the test do not.
func Near(a, b float64) bool { return math.Abs(a-b) <= 1e-6*max(1, math.Abs(b)) }

// WantNear wants two figures to agree to a millionth.
func WantNear[T ~float64](t rapid.TB, what string, got T, want float64) {
	t.Helper()
	if !Near(float64(got), want) {
		t.Errorf("%s = %.9g, want %.9g", what, got, want)
	}
}

// Visit gives the first visit of a stop.
func Visit(t rapid.TB, p *plan.Plan, name string) trip.Visit {
	t.Helper()
	for _, v := range p.Visits {
		if v.Stop.Name == name {
			return v
		}
	}
	t.Fatalf("no visit at %s", name)
	return trip.Visit{}
}

// WarningOf gives the first warning of a kind.
func WarningOf(t rapid.TB, p *plan.Plan, k plan.Kind) plan.Warning {
	t.Helper()
	for _, w := range p.Warnings {
		if w.Kind == k {
			return w
		}
	}
	t.Fatalf("no %s among %v", k, Kinds(p))
	return plan.Warning{}
}

// CureBy gives the cure of a kind, at a stop if one is named.
func CureBy(t rapid.TB, w plan.Warning, k cure.Kind, at ...string) cure.Cure {
	t.Helper()
	for _, c := range w.Cures {
		if c.Kind == k && (len(at) == 0 || slices.Equal(c.Stops, at)) {
			return c
		}
	}
	t.Fatalf("no cure by %s at %q among %+v (%+v)", k, at, w.Cures, w.NoCure)
	return cure.Cure{}
}

// Kinds lists the kinds of the warnings.
func Kinds(p *plan.Plan) []plan.Kind {
	var out []plan.Kind
	for _, w := range p.Warnings {
		out = append(out, w.Kind)
	}
	return out
}

// Names lists the stops of the visits.
func Names(p *plan.Plan) []string {
	var out []string
	for _, v := range p.Visits {
		out = append(out, v.Stop.Name)
	}
	return out
}

// WantNames wants the visits to be at these stops.
func WantNames(t rapid.TB, p *plan.Plan, want ...string) {
	t.Helper()
	if got := Names(p); !slices.Equal(got, want) {
		t.Errorf("visits %v, want %v", got, want)
	}
}

// WantFinite fails where a figure of a plan is no number.
func WantFinite(t rapid.TB, p *plan.Plan) {
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
		check("leg", m(d.Ridden), m(d.Up), f(d.Climb), f(d.Fuel.Low), f(d.Fuel.Likely), f(d.Fuel.High), f(d.Back.Likely), f(d.Back.At(fuel.High)),
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
			check("then and now", f(l.Then.Need), f(l.Then.Arrive), float64(l.Allowed), float64(l.AllowedDry))
		}
	}
	for _, n := range p.NotUsed {
		check("not used", m(n.Off))
	}
}
