package plan_test

import (
	"testing"

	"lastpump/fuel"
	"lastpump/fuel/leg"
	"lastpump/fuel/plan"
	"lastpump/fuel/stop"
	"lastpump/fuel/trip"
	"lastpump/octane"
	"lastpump/route"
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
	if o.Reserve != (leg.Reserve{Share: 0.15, Distance: 30000}) || o.Corridor != 2000 || o.Trust != stop.Map ||
		o.Thirst != 1 {
		t.Errorf("%+v", o)
	}
}

// What the ride takes at the pumps, by grade in the order of the first fill, and the
// money. 5 L at 1.50 EUR, 5 L at 4.00 USD per US gallon of 3.785411784 L, 4.5 L without
// a price. Petrol weighs 0.75 kg/L (EN 228: 0.720 to 0.775).
func TestTotalsByGradeAndCurrency(t *testing.T) {
	euro, dollar, free := pump("A", 100, 0), pump("B", 200, 0, ron(98)), pump("C", 290, 0)
	euro.Prices = []stop.Price{{Amount: 1.50, Currency: "EUR", Per: "L"}}
	dollar.Prices = []stop.Price{{Amount: 4, Currency: "USD", Per: "USgal"}}
	p := make1(t, ride(straight(t, 480), euro, dollar, free))
	if g := p.Totals.Grades; len(g) != 2 || g[0].Grade != "95 RON" || g[1].Grade != "98 RON" {
		t.Fatalf("grades %+v", g)
	}
	wantNear(t, "95 RON", p.Totals.Grades[0].Litres, 5+4.5)
	wantNear(t, "98 RON", p.Totals.Grades[1].Litres, 5)
	if m := p.Totals.Money; len(m) != 2 || m[0].Currency != "EUR" || m[1].Currency != "USD" {
		t.Fatalf("money %+v", m)
	}
	wantNear(t, "EUR", p.Totals.Money[0].Amount, 7.50)
	wantNear(t, "USD", p.Totals.Money[1].Amount, 4*5/3.785411784)
	wantNear(t, "without a price", p.Totals.Unpriced, 4.5)
	// The last leg of 190 km lacks 0.97 L: a 1 L can; dry pumps ask for no more.
	wantNear(t, "weight of the can", p.Totals.CanWeight, 0.75)
	wantNear(t, "weight for any dry pump", p.Totals.DryWeight, 0.75*float64(p.Can.SizeForDry.Litres))
}

// What goes into the can is bought, too: 3 L of 13 at A.
func TestTotalsCountTheCan(t *testing.T) {
	in := ride(straight(t, 250), pump("A", 50, 0))
	in.Bike.Can = 3
	in.Stops[0].Prices = []stop.Price{{Amount: 2, Currency: "EUR", Per: "L"}}
	tot := make1(t, in).Totals
	wantNear(t, "litres", tot.Grades[0].Litres, 2.5+3)
	wantNear(t, "EUR", tot.Money[0].Amount, 11)
}

// Money in one currency adds up, and so do fills of a grade not known.
func TestTotalsAddUp(t *testing.T) {
	stops := []stop.Stop{pump("A", 100, 0), pump("B", 200, 0), pump("C", 300, 0)}
	for i := range stops {
		stops[i].Grades = nil
		stops[i].Prices = []stop.Price{{Amount: 2, Currency: "EUR", Per: "L"}}
	}
	tot := make1(t, ride(straight(t, 400), stops...)).Totals
	if len(tot.Grades) != 1 || tot.Grades[0].Grade != "not known" || len(tot.Money) != 1 {
		t.Fatalf("%+v", tot)
	}
	wantNear(t, "litres", tot.Grades[0].Litres, 15)
	wantNear(t, "EUR", tot.Money[0].Amount, 30)
}

// A full tank goes as far as the legs say that set out full and without a can: the worst at
// the high figure and with the reserve whole, the best at the likely one.
func TestFullTank(t *testing.T) {
	full := func(high, dry, safe route.Metres) trip.Leg {
		l := trip.Leg{DryAtHigh: high, DryAt: dry, SafeTo: safe}
		l.Start = 10
		return l
	}
	half, can := full(1, 999, 1), full(1, 999, 1)
	half.Start, can.Can = 5, 3
	p := plan.Plan{Ride: trip.Ride{
		Bike: fuel.Bike{Tank: 10.5, Unusable: 0.5},
		Legs: []trip.Leg{half, full(220, 250, 180), full(200, 300, 190), can},
	}}
	if got, ok := p.FullTank(); !ok || got != (plan.Reach{DryHigh: 200, Dry: 300, Safe: 180}) {
		t.Errorf("%+v, %v", got, ok)
	}
	p.Legs = []trip.Leg{half, can}
	if got, ok := p.FullTank(); ok {
		t.Errorf("%+v of no full tank", got)
	}
}
