package plan_test

import (
	"strings"
	"testing"

	"lastpump/fuel"
	"lastpump/fuel/plan"
	"lastpump/fuel/stop"
	"lastpump/octane"
	"lastpump/route"
)

// The first line: does it hold, and what to carry. Litres and kilometres follow from
// 5 L/100 km, 10 L and 0.05775 L/km at the high figure.
func TestAnswerWhetherItHolds(t *testing.T) {
	paper := func(km float64) stop.Stop { return pump("P"+string(rune('0'+int(km/100))), km, 0) }
	for _, c := range []struct {
		in   plan.Inputs
		want string
	}{
		{ride(straight(t, 100)), "It holds within your margin on these figures: the one leg is OK. No can is needed for it."},
		{ride(straight(t, 190)), "It holds only just: leg 1 is TIGHT. Carry a 1 L can."},
		{ride(straight(t, 380), pump("A", 190, 0)), "It holds only just: legs 1 and 2 are TIGHT. Carry a 1 L can."},
		{ride(straight(t, 570), pump("A", 190, 0), pump("B", 380, 0)), "It holds only just: 3 of 3 legs are TIGHT. Carry a 1 L can."},
		{ride(straight(t, 250)), "It does not hold: leg 1 is SHORT by 2.5 L (50 km). Carry a 5 L can."}, // 14.44 − 10
		{ride(straight(t, 550), paper(250)), "It does not hold: legs 1 and 2 are SHORT, leg 2 by 5.0 L (100 km). Carry a 7.5 L can."},
		{ride(straight(t, 700)), "It does not hold: leg 1 is SHORT by 25.0 L (500 km). No can sold is big enough for the margin: 30.5 L."},
		{changed(ride(straight(t, 190)), ownCan(1)), "It holds within your margin on these figures: the one leg is OK. Your 1 L can is needed for it."},
		{changed(ride(straight(t, 210)), ownCan(1)), "It holds only just: leg 1 is TIGHT. Carry a 3 L can: yours of 1 L is too small."},
		{changed(ride(straight(t, 100)), ownCan(1)), "It holds within your margin on these figures: the one leg is OK. No can is needed for it."},
		{changed(ride(straight(t, 250)), func(in *plan.Inputs) { in.Options.Units = fuel.US }), // 2.5 L and 50 km
			"It does not hold: leg 1 is SHORT by 0.67 US gal (31 mi). Carry a 5 L (1.32 US gal) can."},
	} {
		if got := make1(t, c.in).Answer[0]; got != c.want {
			t.Errorf("%s\nwant\n%s", got, c.want)
		}
	}
}

// The second line: what if a pump is dry.
func TestAnswerIfAPumpIsDry(t *testing.T) {
	mapA, mapB := standing(pump("A", 30, 0), stop.Map), standing(pump("B", 60, 0), stop.Map)
	for _, c := range []struct {
		in   plan.Inputs
		want string
	}{
		{ride(straight(t, 100)), "No fuel stop is given: give them with --stops, or as waypoints in the file."},
		{ride(straight(t, 100), pump("A", 30, 0)), "If any one pump is dry, the next or the last one is within reach."},
		{ride(straight(t, 190), pump("A", 95, 0)), "If a pump is dry: another is in reach, but barely at A."},
		// At the high figure 256 km take 14.784 L, to B past a dry A.
		{ride(straight(t, 345), pump("A", 148, 0), pump("B", 256, 0)), "If a pump is dry: stranded at A, nearly at 1 more. A 3 L can is just enough on the likely figures; at the high ones it takes 5 L."},
		{changed(ride(straight(t, 345), pump("A", 148, 0), pump("B", 256, 0)), ownCan(3)), "If a pump is dry: another is in reach, but barely at 2 stops."},
		// B: 2.5 L left, 7 on, 7.5 back. At the high figure 300 km, past a dry A, take 17.325 L.
		{ride(straight(t, 440), pump("A", 150, 0), pump("B", 300, 0)), "If a pump is dry: stranded at 2 stops. A 5 L can is just enough on the likely figures; at the high ones it takes 7.5 L."},
		{ride(straight(t, 900), pump("A", 399.9, 0), pump("B", 790, 0)), "If a pump is dry: stranded at 2 stops. No can sold is enough for that (29.5 L)."},
		{ride(straight(t, 100), mapA, pump("C", 80, 0)), "If any one pump is dry, the next or the last one is within reach. 1 of 2 is only from a map."},
		{ride(straight(t, 100), mapA, mapB), "If any one pump is dry, the next or the last one is within reach. 2 of 2 are only from a map."},
		// passed twice, counted once
		{ride(lineOf(t, 0, 60, 0), mapA, pump("C", 60, 0)), "If any one pump is dry, the next or the last one is within reach. 1 of 2 is only from a map."},
	} {
		if got := make1(t, c.in).Answer[1]; got != c.want {
			t.Errorf("%s\nwant\n%s", got, c.want)
		}
	}
}

// Two stops of one name are two: maps are full of pumps that bear their brand.
func TestAnswerCountsStopsOfOneName(t *testing.T) {
	in := ride(straight(t, 100), standing(pump("Fuel", 30, 0), stop.Map), standing(pump("Fuel", 60, 0), stop.Map))
	if got := make1(t, in).Answer[1]; !strings.HasSuffix(got, " 2 of 2 are only from a map.") {
		t.Errorf("%s\nwant 2 of 2", got)
	}
}

// The third line: is the grade there. 5.5 L stay in the tank each time and 5 go in.
func TestAnswerOnTheGrade(t *testing.T) {
	untagged := func(km float64) stop.Stop {
		return changedStop(pump("U", km, 0), func(s *stop.Stop) { s.Grades = nil })
	}
	for _, c := range []struct {
		in   plan.Inputs
		want string
	}{
		{ride(straight(t, 190), pump("A", 100, 0)), "Grade: the petrol on the way meets 95 RON on every leg."},
		{ride(straight(t, 190), pump("A", 100, 0, octane.FromAKI(90))), "Grade: leg 2 is doubtful or not known for 95 RON; none is below it for sure."},
		{ride(straight(t, 190), untagged(100)), "Grade: leg 2 is doubtful or not known for 95 RON; none is below it for sure."},
		{ride(straight(t, 190), pump("A", 100, 0, ron(92))), "Grade: leg 2 is below 95 RON, at worst 93.5 RON."}, // 93.57
		// Then (5.5 × 93.571 + 5 × 92)/10.5 = 92.82.
		{ride(straight(t, 290), pump("A", 100, 0, ron(92)), pump("B", 200, 0, ron(92))), "Grade: legs 2 and 3 are below 95 RON, at worst 92.8 RON."},
		// 90 AKI is 94 to 95 RON: 94.52 to 95, and with 92 RON 93.32 to 93.57.
		{ride(straight(t, 290), pump("A", 100, 0, octane.FromAKI(90)), pump("B", 200, 0, ron(92))),
			"Grade: leg 3 is below 95 RON, at worst 93.3 to 93.5 RON; 1 more doubtful or not known."},
	} {
		if got := make1(t, c.in).Answer[2]; got != c.want {
			t.Errorf("%s\nwant\n%s", got, c.want)
		}
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

// Every figure that the plan rests on is among the assumptions, with its mark.
func TestAssumptions(t *testing.T) {
	in := ride(straight(t, 190), changedStop(pump("A", 100, 0), func(s *stop.Stop) { s.Grades = nil }))
	in.Options.Reserve = plan.DefaultOptions().Reserve
	in.Bike.Own = map[route.Ground]fuel.Weight{route.Paved: {Low: 0.9, Likely: 1, High: 1.1}}
	got := map[string]plan.Assumption{}
	for _, a := range make1(t, in).Assumptions {
		got[a.Name] = a
	}
	for name, want := range map[string]plan.Assumption{
		"Stretch":            {Value: "the ride is 1.000 times as long as the line", Mark: plan.Given},
		"Reserve":            {Value: "the larger of 15 % of the usable tank and 30 km", Mark: plan.Common},
		"Fuel at the start":  {Value: "10.0 L usable in the tank", Mark: plan.OurOwn},
		"Grade at the start": {Value: "what the engine needs, 95 RON", Mark: plan.OurOwn},
		"Usable fuel":        {Value: "10.0 L of 10.5 L; the rest does not reach the engine", Mark: plan.Common},
		"Consumption":        {Value: "5.00 L/100 km on paved road, by the kilometres the bike shows; odometer 1", Mark: plan.Given},
		"Thirst":             {Value: "1 times", Mark: plan.Given},
		"Ground":             {Value: "times paved road: paved 1.00 (0.90–1.10) (yours)", Mark: plan.OurOwn},
		"Ethanol": {Value: "measured on E10, ridden on E10: 1.000 times (US Department of Energy, heating values)",
			Mark: plan.Published},
		"Grade not known": {Value: "somewhere from 80 RON to the need", Mark: plan.OurOwn},
	} {
		if a := got[name]; a.Value != want.Value || a.Mark != want.Mark {
			t.Errorf("%s: %q (%s), want %q (%s)", name, a.Value, a.Mark, want.Value, want.Mark)
		}
	}
	for name := range got {
		if name == "Gaps" || name == "Climb not known" {
			t.Errorf("%s is assumed, and there is none", name)
		}
	}
}

// Assumptions that only some rides rest on.
func TestAssumptionsOfTheLine(t *testing.T) {
	far := newPen()
	far.here, far.points = at(120, 0), nil
	far.dot().north(50)
	points := newPen().north(100).points
	for i := range points {
		points[i].HasEle = false
	}
	in := ride(lineWith(t, route.LineOptions{}, points, far.points))
	in.Bike.TrueRate = true
	in.Options.StartGrade = ron(98)
	in.Options.SinceFill = 20000
	got := map[string]plan.Assumption{}
	for _, a := range make1(t, in).Assumptions {
		got[a.Name] = a
	}
	for name, want := range map[string]plan.Assumption{
		"Gaps":               {Value: "ridden at 1.3 times the straight, unless skipped", Mark: plan.OurOwn},
		"Climb not known":    {Value: "15 m a kilometre in the high figures, none in the likely", Mark: plan.OurOwn},
		"Grade at the start": {Value: "98 RON", Mark: plan.Given},
		"Consumption":        {Value: "5.00 L/100 km on paved road, by true kilometres", Mark: plan.Given},
	} {
		if a := got[name]; a.Value != want.Value || a.Mark != want.Mark {
			t.Errorf("%s: %q (%s), want %q (%s)", name, a.Value, a.Mark, want.Value, want.Mark)
		}
	}
	if got["Fuel at the start"].Mark != plan.Given || got["Stretch"].Mark != plan.OurOwn || !strings.Contains(got["Stretch"].Value, "1.0 km apart") {
		t.Errorf("%+v, %+v", got["Fuel at the start"], got["Stretch"])
	}
}
