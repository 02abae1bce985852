package plan_test

import (
	"testing"

	"lastpump/fuel/plan"
	"lastpump/fuel/stop"
	"lastpump/octane"
)

func TestTotals(t *testing.T) {
	a, b := pump("A", 100, 0, octane.FromRON(95), octane.FromRON(92)), pump("B", 160, 0, octane.FromRON(95))
	a.Prices = []stop.Price{{Amount: 2, Currency: "EUR", Per: "L"}, {Amount: 1, Currency: "EUR", Per: "L"}}
	b.Prices = []stop.Price{{Amount: 3.785411784, Currency: "USD", Per: "USgal"}} // 1 USD a litre
	free := pump("C", 180, 0, octane.FromRON(98))
	p := make1(t, ride(straight(t, 360), a, b, free))
	// 100, 60 and 20 km at 5 L/100 km.
	want := map[string]float64{"95 RON": 8, "98 RON": 1}
	if len(p.Totals.Grades) != 2 || len(p.Totals.Money) != 2 {
		t.Fatalf("totals %+v", p.Totals)
	}
	for _, g := range p.Totals.Grades {
		wantNear(t, g.Grade, float64(g.Litres), want[g.Grade])
	}
	wantNear(t, p.Totals.Money[0].Currency, p.Totals.Money[0].Amount, 10)
	wantNear(t, p.Totals.Money[1].Currency, p.Totals.Money[1].Amount, 3)
	wantNear(t, "unpriced", float64(p.Totals.Unpriced), 1)
	// The last leg takes 180 km × 1.155 × 0.05 = 10.4 L: a can of 1 L. EN 228 has
	// 720 to 775 kg/m³ at 15 °C; 750 is between.
	wantNear(t, "weight", float64(p.Totals.CanWeight), 0.75)
}

// Common practice, no source: the middle of many riders' rules, a share and a
// distance.
func TestDefaults(t *testing.T) {
	o := plan.DefaultOptions()
	if o.Reserve != (plan.Reserve{Share: 0.15, Distance: 30000}) || o.Corridor != 2000 || o.Trust != stop.Map || o.Thirst != 1 {
		t.Errorf("%+v", o)
	}
}
