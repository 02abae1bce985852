package cure_test

import (
	"slices"
	"strconv"
	"testing"

	"lastpump/fuel/plan"
	"lastpump/fuel/plan/cure"
	"lastpump/fuel/stop"
	"lastpump/route"
	"lastpump/testdata/kit"
	"lastpump/testdata/kit/drawn"
)

// Off the line every stop that cures is listed, the nearest first.
func TestStopsOffTheLine(t *testing.T) {
	in := drawn.Ride(drawn.Straight(t, 250), drawn.Pump("on", 1, 0))
	for i, off := range []float64{14, 8, 12, 10, 29.9} {
		in.Stops = append(in.Stops, drawn.Pump("B"+strconv.Itoa(i), 125, off))
	}
	for i := range 20 { // from km 10 the rest is as far as before
		in.Stops = append(in.Stops, drawn.Pump("N"+strconv.Itoa(i), 10, 5+float64(i)/10))
	}
	var got []string
	for _, c := range drawn.WarningOf(t, drawn.Cured(t, in), plan.KindShort).Cures {
		if c.HasDetour {
			got = append(got, c.Stops[0]+" "+c.Verdict)
		}
	}
	want := []string{ // 125 km and 1.3 times as far off take 6.77, 6.9, 7.03, 7.16 and 8.19 L of 10
		"B1 OK", "B3 OK", "B2 OK", "B0 OK", "B4 OK"}
	if !slices.Equal(got, want) {
		t.Errorf("cures %q, want %q", got, want)
	}
}

// Of stops that nobody has confirmed those in the middle of the stretch are given
// first.
func TestHearsayInTheMiddleFirst(t *testing.T) {
	from := []float64{0, -10, 20, -30, 40, -50, 60, -65, 68, -70} // the middle, km 95
	in := drawn.Ride(drawn.Straight(t, 190))
	for _, d := range from {
		in.Stops = append(in.Stops, drawn.Hearsay("H"+strconv.Itoa(int(95+d)), 95+d))
	}
	var got []string
	for _, c := range drawn.WarningOf(t, drawn.Cured(t, in), plan.KindTight).Cures {
		if c.Kind == cure.Confirmed {
			got = append(got, c.Stops[0])
		}
	}
	if want := []string{"H95", "H85", "H115", "H65", "H135", "H45", "H155", "H30", "H163", "H25"}; !slices.Equal(got,
		want) {
		t.Errorf("cures at %v, want %v", got, want)
	}
}

// A hopeless ride is not looked at for ever: 750 legs that are all SHORT, each
// planned again with a can, are over half a million.
func TestWorkOnCuresIsBounded(t *testing.T) {
	if !kit.Long() {
		t.Skip("400 000 legs are planned: a long run")
	}
	points := drawn.NewPen().North(-750 * 11).Points
	in := drawn.Ride(drawn.LineThrough(t, points))
	in.Bike.Tank, in.Bike.Unusable = 0.5, 0
	for i := range 749 {
		in.Stops = append(in.Stops, drawn.Pump(strconv.Itoa(i), float64(-11*(i+1)), 0))
	}
	ws := drawn.Cured(t, in).Warnings
	given := 0
	for _, w := range ws {
		if w.NoCure != nil && w.NoCure.Untried {
			given++
		}
	}
	if first := ws[0]; len(first.Cures) != 1 || given == 0 || given == len(ws) {
		t.Errorf("%d of %d are not looked at; first %+v", given, len(ws), first)
	}
}

// What would strand the rider elsewhere is no cure of a TIGHT leg: over B, 12 km off,
// both legs are OK, but B dry leaves 4.5 L, and 5.5 are needed either way.
func TestACureMakesNothingWorse(t *testing.T) {
	w := drawn.WarningOf(t, drawn.Cured(t, drawn.Ride(drawn.Straight(t, 190), drawn.Pump("B", 95, 12), drawn.Pump("on", 1, 0))), plan.KindTight)
	for _, c := range w.Cures {
		if c.HasDetour {
			t.Errorf("cure %+v", c)
		}
	}
}

// What is skipped, sells no petrol or lies over 30 km off is no cure; a hearsay stop
// off the line is one if it is confirmed.
func TestWhichStopsAreTried(t *testing.T) {
	diesel := drawn.Pump("diesel", 125, 6)
	diesel.Grades, diesel.Other = nil, []string{"diesel"}
	said := drawn.Pump("said", 125, 9)
	said.Standing = stop.Hearsay
	in := drawn.Ride(drawn.Straight(t, 250), drawn.Pump("on", 1, 0), diesel, drawn.Pump("skipped", 125, 7), said, drawn.Pump("far", 125, 30.1))
	in.Options.Skip = []string{"skipped"}
	var got []string
	for _, c := range drawn.WarningOf(t, drawn.Cured(t, in), plan.KindShort).Cures {
		if c.HasDetour {
			got = append(got, c.Stops[0]+" "+string(c.Standing))
			drawn.WantNear(t, "detour", c.Detour, float64(2*1.3*9*1000*route.Metres(1)))
		}
	}
	if want := "said hearsay"; !slices.Equal(got, []string{want}) {
		t.Errorf("cures %q, want %q", got, want)
	}
}

// Cures are given cheapest first: what costs nothing, a phone call, a can, detours by
// their length, another ride.
func TestCheapestCuresFirst(t *testing.T) {
	in := drawn.Ride(drawn.Straight(t, 205), drawn.Hearsay("said", 100), drawn.Pump("far", 110, 12), drawn.Pump("near", 100, 6), drawn.Pump("start", 0.1, 0))
	var got []cure.Cost
	w := drawn.WarningOf(t, drawn.Cured(t, in), plan.KindShort)
	var km []float64
	for _, c := range w.Cures {
		got = append(got, c.Cost)
		if c.Cost == cure.Detour {
			km = append(km, c.Detour.Kilometres())
		}
	}
	want := []cure.Cost{cure.Call, cure.Carry, cure.Detour, cure.Detour}
	if !slices.Equal(got, want) || !slices.IsSorted(km) {
		t.Errorf("%v %v, want %v: %+v", got, km, want, w.Cures)
	}
	// 192 km take 1.155 × 9.6 = 11.088 L of 10 at the high figure.
	in.Line = drawn.Straight(t, 192)
	c := drawn.WarningOf(t, drawn.Cured(t, in), plan.KindTight).Cures[0]
	if c.Cost != cure.Nothing {
		t.Errorf("first %+v", c)
	}
	drawn.WantNear(t, "rate", c.Rate, 5*10/11.088)
	// A rate under 0.9 of the likely is not asked of any bike: 195 km ask for 0.888. Nor is a rate a
	// rescue: not for a leg that is SHORT, nor from a dry pump, however little is missing (201 km; A
	// at 150 km and 51 back, or B 51 km on).
	for _, c := range []struct {
		in   plan.Inputs
		kind plan.Kind
	}{
		{drawn.Ride(drawn.Straight(t, 195)), plan.KindTight}, {drawn.Ride(drawn.Straight(t, 201)), plan.KindShort},
		{drawn.Ride(drawn.Straight(t, 300), drawn.Pump("A", 150, 0), drawn.Pump("B", 201, 0)), plan.KindStranded},
	} {
		for _, found := range drawn.WarningOf(t, drawn.Cured(t, c.in), c.kind).Cures {
			if found.HasRate {
				t.Errorf("%s: cure %+v", c.kind, found)
			}
		}
	}
	for _, c := range drawn.WarningOf(t, drawn.Cured(t, drawn.Ride(drawn.Straight(t, 205))), plan.KindShort).Cures {
		if c.HasRate {
			t.Errorf("cure %+v: 205 km at the high figure are 0.845 of what is likely", c)
		}
	}
}

// Better petrol is not worth a drier tank: without the pump of low grade the next, if dry,
// would be bare: 4.2 L are left at the high figure, 4.6 take one back to the low pump.
func TestPassingByIsNoCureWhereItIsARisk(t *testing.T) {
	in := drawn.Ride(drawn.Straight(t, 200), drawn.Pump("low", 20, 0, drawn.RON(80)), drawn.Pump("good", 100, 0))
	for _, c := range drawn.WarningOf(t, drawn.Cured(t, in), plan.KindBelowGrade).Cures {
		if c.Kind == cure.PassBy || c.Cost == cure.Nothing && !c.Risky { // it is said what it costs
			t.Errorf("cure %+v", c)
		}
	}
}
