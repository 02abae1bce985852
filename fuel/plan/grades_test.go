package plan_test

import (
	"fmt"
	"math"
	"testing"

	"lastpump/fuel"
	"lastpump/fuel/stop"
	"lastpump/octane"
)

// Of the grades that meet the need the lowest with which the mixture meets it, else the
// highest sold: never one below the need where one that meets is sold. Each time 5.5 L of
// the start's grade are in the tank, the unusable half litre included, and 5 L go in; the
// engine needs 95, and 94.9 will do.
func TestWhichGrade(t *testing.T) {
	for _, c := range []struct {
		start float64
		sold  []octane.Grade
		want  octane.Grade
	}{
		{95, []octane.Grade{ron(98), ron(95), ron(92)}, ron(95)},
		{95, []octane.Grade{ron(92), ron(98), ron(95)}, ron(95)},              // in any order
		{98, []octane.Grade{ron(91), ron(92), ron(95)}, ron(95)},              // though 92 would make 95.1
		{98, []octane.Grade{ron(91), octane.FromAKI(90)}, octane.FromAKI(90)}, // 94 to 95: none meets by itself
		{100, []octane.Grade{ron(80), ron(91)}, ron(91)},                      // 90.5 and 95.7
		{92, []octane.Grade{ron(95), ron(98)}, ron(98)},                       // 93.4 and 94.9 (94.857 is under)
		{80, []octane.Grade{ron(92), ron(95)}, ron(95)},                       // none: the highest
		{95, []octane.Grade{octane.FromAKI(87), octane.FromAKI(91), octane.FromAKI(93)}, octane.FromAKI(91)},
		{95, []octane.Grade{octane.FromAKI(91), ron(95)}, ron(95)}, // 95 to 96 is more than 95
	} {
		in := ride(straight(t, 200), pump("A", 100, 0, c.sold...))
		in.Options.StartGrade = ron(c.start)
		v := make1(t, in).Visits[0]
		if v.Fill.Grade != c.want || !v.Fill.HasGrade {
			t.Errorf("%v RON in the tank, %v sold: %v, want %v", c.start, c.sold, v.Fill.Grade, c.want)
		}
		worth := c.want.In(octane.ScaleRON)
		wantNear(t, "low", v.Mixture.Low, (5.5*c.start+5*worth.Low)/10.5)
		wantNear(t, "high", v.Mixture.High, (5.5*c.start+5*worth.High)/10.5)
	}
}

// A mixture meets up to 0.1 under the need and is doubtful up to 0.5 under it
// (design, grades). A d km on takes 0.05 d litres of 92 into 10.5: 3 × 0.05 d/10.5
// under.
func TestMixtureBorders(t *testing.T) {
	verdict := func(d float64) octane.Verdict {
		return make1(t, ride(straight(t, 100), pump("A", d, 0, ron(92)))).Visits[0].Mixture.Verdict
	}
	wantNear(t, "meets up to", border(t, 1, 30, func(d float64) bool { return verdict(d) == octane.Meets }), 0.1*10.5/3/likelyKm)
	wantNear(t, "doubtful up to", border(t, 10, 90, func(d float64) bool { return verdict(d) == octane.Doubtful }), 0.5*10.5/3/likelyKm)
}

// Petrol of no known grade counts as 80 RON to the need. It fades: each 100 km 5.5
// of 10.5 L stay. With a share s of it the low end is 95 − 15 s: not known while s
// is over 2 %, then doubtful, and it meets from 0.1 under on.
func TestUnknownGradeFades(t *testing.T) {
	var stops []stop.Stop
	for i := range 9 {
		stops = append(stops, pump(fmt.Sprint(i), float64(100*(i+1)), 0))
	}
	stops[0].Grades = nil
	p := make1(t, ride(straight(t, 1000), stops...))
	seen := map[octane.Verdict]int{}
	for i, v := range p.Visits {
		share := 5 / 10.5 * math.Pow(5.5/10.5, float64(i))
		want := octane.NotKnown
		switch {
		case 15*share <= 0.1:
			want = octane.Meets
		case share <= 0.02:
			want = octane.Doubtful
		}
		seen[want]++
		wantNear(t, "low", v.Mixture.Low, 95-15*share)
		wantNear(t, "high", v.Mixture.High, 95)
		if v.Mixture.Verdict != want || p.Legs[i+1].Mixture.Verdict != want {
			t.Errorf("after fill %d, %.2f %% not known: %s, leg %s, want %s", i, 100*share, v.Mixture.Verdict, p.Legs[i+1].Mixture.Verdict, want)
		}
	}
	if len(seen) != 3 || p.Visits[0].Fill.Verdict != octane.NotKnown || p.Visits[0].Fill.HasGrade {
		t.Errorf("verdicts %v, first fill %+v", seen, p.Visits[0].Fill)
	}
}

// The unusable fuel is in the mixture: 5 + 2.5 L of 95 and 5 of 92.
func TestUnusableFuelMixes(t *testing.T) {
	in := ride(straight(t, 200), pump("A", 100, 0, ron(92)))
	in.Bike.Tank, in.Bike.Unusable = 12.5, 2.5
	wantNear(t, "mixture", make1(t, in).Visits[0].Mixture.Low, (7.5*95+5*92)/12.5)
}

// A fill at the start mixes with what is in the tank there: 4 + 0.5 L of 95 and 6 of
// 92; with nothing usable in it, 0.5 L and 10.
func TestFillAtTheStartMixes(t *testing.T) {
	in := ride(straight(t, 100), pump("A", 0, 0, ron(92)))
	for left, want := range map[fuel.Litres]float64{4: (4.5*95 + 6*92) / 10.5, 0: (0.5*95 + 10*92) / 10.5} {
		in.Options.HasStartFuel, in.Options.StartFuel = true, left
		p := make1(t, in)
		wantNear(t, "mixture", p.Visits[0].Mixture.Low, want)
		wantNear(t, "on the leg", p.Legs[0].Mixture.Low, want)
	}
}

// After a SHORT leg only the unusable is left of what was in the tank.
func TestMixtureAfterAShortLeg(t *testing.T) {
	p := make1(t, ride(straight(t, 300), pump("A", 250, 0, ron(92))))
	wantNear(t, "mixture", p.Visits[0].Mixture.Low, (0.5*95+10*92)/10.5)
}

// Grades are compared in the scale of the need: 95 RON is 90 to 91 AKI, 95/85 is 90
// AKI exactly, 98/88 is 93 (15 U.S.C. § 2821: the mean of RON and MON; for RON
// alone a sensitivity of 8 to 10, common practice).
func TestGradesInTheScaleOfTheNeed(t *testing.T) {
	for _, c := range []struct {
		sold      octane.Grade
		low, high float64
		own, mix  octane.Verdict
	}{
		{ron(95), 90, 91, octane.Doubtful, octane.Doubtful}, // mixture 90.52 to 91
		{octane.FromPair(95, 85), 90, 90, octane.Below, octane.Doubtful},
		{octane.FromPair(98, 88), 93, 93, octane.Meets, octane.Meets},
		{octane.FromAKI(91), 91, 91, octane.Meets, octane.Meets},
		{octane.FromAKI(87), 87, 87, octane.Below, octane.Below},
	} {
		in := ride(straight(t, 200), pump("A", 100, 0, c.sold))
		in.Bike.Needs = octane.FromAKI(91)
		v := make1(t, in).Visits[0]
		if v.Fill.Verdict != c.own || v.Mixture.Verdict != c.mix || v.Mixture.Scale != octane.ScaleAKI {
			t.Errorf("%v for 91 AKI: fill %s, mixture %s %s", c.sold, v.Fill.Verdict, v.Mixture.Verdict, v.Mixture.Scale)
		}
		wantNear(t, "low", v.Mixture.Low, (5.5*91+5*c.low)/10.5)
		wantNear(t, "high", v.Mixture.High, (5.5*91+5*c.high)/10.5)
	}
}

// The first leg is ridden on what is in the tank: the need itself, assumed, or what
// the rider says.
func TestStartGrade(t *testing.T) {
	in := ride(straight(t, 100))
	p := make1(t, in)
	if !p.Start.Assumed || p.Start.Grade != ron(95) || p.Legs[0].Mixture.Verdict != octane.Meets {
		t.Errorf("start %+v, leg %+v", p.Start, p.Legs[0].Mixture)
	}
	in.Options.StartGrade = octane.FromAKI(87)
	p = make1(t, in)
	if p.Start.Assumed || p.Start.Grade != octane.FromAKI(87) || p.Legs[0].Mixture.Verdict != octane.Below || p.Holds() {
		t.Errorf("start %+v, leg %+v", p.Start, p.Legs[0].Mixture)
	}
	wantNear(t, "low", p.Legs[0].Mixture.Low, 91)
	wantNear(t, "high", p.Legs[0].Mixture.High, 92)
}
