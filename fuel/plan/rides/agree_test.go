package rides_test

import (
	"math"
	"slices"
	"testing"
)

// The simulator and the planner, each with its own sums, come to the same litres and
// kilometres on each leg, to a hundredth of a millilitre.
func TestLegsAgree(t *testing.T) {
	all, err := loops()
	if err != nil {
		t.Fatal(err)
	}
	some, err := chosen()
	if err != nil {
		t.Fatal(err)
	}
	for _, l := range slices.Concat(all, some) {
		for i, leg := range l.plan.Legs {
			a, b := l.sheet.stops[i], l.sheet.stops[i+1]
			detours := func(p *pace) float64 {
				x, y := l.road.pieces[l.road.on(a.km)], l.road.pieces[l.road.on(b.km)]
				return a.half*p.flat[x.day][x.ground] + b.half*p.flat[y.day][y.ground]
			}
			for _, c := range []struct {
				where      float64
				plan, back float64
			}{
				{-1, float64(leg.Drink.Fuel.Low), math.NaN()},
				{0, float64(leg.Drink.Fuel.Likely), float64(leg.Drink.Back.Likely)},
				{1, float64(leg.Drink.Fuel.High), float64(leg.Drink.Back.High)},
			} {
				p := l.engine.steady(l.road.days, c.where)
				if got := p.between(l.road, a.km, b.km) + detours(p); math.Abs(got-c.plan) > 1e-5 {
					t.Errorf("%s, leg %d at %+.0f: %.4f L, the plan %.4f", l.name, i+1, c.where, got, c.plan)
				}
				if got := p.between(l.road, b.km, a.km) + detours(p); math.Abs(got-c.back) > 1e-5 {
					t.Errorf("%s, leg %d backwards at %+.0f: %.4f L, the plan %.4f", l.name, i+1, c.where, got, c.back)
				}
			}
			if got := l.road.ridden(a.km, b.km) + a.half + b.half; math.Abs(got-float64(leg.Drink.Ridden)) > 1 {
				t.Errorf("%s, leg %d: %.1f m ridden, the plan %.1f", l.name, i+1, got, float64(leg.Drink.Ridden))
			}
		}
	}
}
