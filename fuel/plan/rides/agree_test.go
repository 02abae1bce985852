package rides_test

import (
	"math"
	"slices"
	"testing"
)

// The simulator and the planner, each with its own sums, come to the same litres and
// kilometres on each leg, to a fiftieth of a millilitre.
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
			there, back := l.between(i, i+1), l.between(i+1, i)
			f, b := leg.Drink.Fuel, leg.Drink.Back.Figures()
			for _, c := range []struct {
				what      string
				got, plan float64
			}{
				{"likely", there.likely, float64(f.Likely)}, {"low", l.engine.low(there), float64(f.Low)},
				{"high", l.engine.high(there), float64(f.High)},
				{"likely, backwards", back.likely, float64(b.Likely)}, {"high, backwards", l.engine.high(back), float64(b.High)},
			} {
				if math.Abs(c.got-c.plan) > 2e-5 {
					t.Errorf("%s, leg %d, %s: %.5f L, the plan %.5f", l.name, i+1, c.what, c.got, c.plan)
				}
			}
			from, to := l.sheet.stops[i], l.sheet.stops[i+1]
			if got := l.road.ridden(from.km, to.km) + from.half + to.half; math.Abs(got-float64(leg.Drink.Ridden)) > 1 {
				t.Errorf("%s, leg %d: %.1f m ridden, the plan %.1f", l.name, i+1, got, float64(leg.Drink.Ridden))
			}
		}
	}
}
