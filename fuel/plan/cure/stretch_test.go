package cure_test

import (
	"slices"
	"testing"

	"lastpump/fuel/plan"
	"lastpump/fuel/plan/cure"
	"lastpump/testdata/kit/drawn"
)

// All of 40 to 165 km is ridden on what N and W, 80 RON, leave in the tank; from G on there is
// better. Past both it is 150 km to G, 7.5 L, 8.66 at the high figure: that mends every leg, and
// is said once.
func TestACureOfAllLegsInARow(t *testing.T) {
	in := drawn.Ride(drawn.Straight(t, 165), drawn.Pump("N", 40, 0, drawn.RON(80)), drawn.Pump("W", 100, 0, drawn.RON(80)),
		drawn.Pump("G", 150, 0))
	w := drawn.WarningOf(t, drawn.Cured(t, in), plan.KindBelowGrade)
	c := drawn.CureBy(t, w, cure.PassBy, "N", "W")
	if !slices.Equal(w.Legs, []int{1, 2, 3}) || !slices.Equal(c.Mends, w.Legs) || c.Verdict != "meets" || w.NoCure != nil {
		t.Errorf("legs %v, cure %+v, lacking %+v", w.Legs, c, w.NoCure)
	}
}

// 2.5 L are kept. From km 10 on 10 L of 95 last past N to W, 140 km, which leaves 3: N is not
// needed, and the leg from it is mended. To G, 155 km, they leave 2.25: at W something has to be
// filled, be it the quarter of a litre that makes (3.5 × 95 + 0.25 × 80)/3.75 = 94 of the rest.
// So the worst leg, from W, has no cure, and what mends the other is said all the same.
func TestACureOfOneOfTheLegs(t *testing.T) {
	in := drawn.Changed(drawn.Ride(drawn.Straight(t, 265), drawn.Pump("N", 50, 0, drawn.RON(80)),
		drawn.Pump("W", 150, 0, drawn.RON(80)), drawn.Pump("G", 165, 0)), drawn.Keep(0.25))
	w := drawn.WarningOf(t, drawn.Cured(t, drawn.From(in, 10, 10)), plan.KindBelowGrade)
	c := drawn.CureBy(t, w, cure.PassBy, "N")
	if w.Leg != 2 || !slices.Equal(w.Legs, []int{1, 2, 3}) || !slices.Equal(c.Mends, []int{1}) || c.Verdict != "meets" {
		t.Errorf("worst leg %d of %v, cure %+v", w.Leg, w.Legs, c)
	}
	if w.NoCure == nil || !slices.Contains(w.NoCure.Tried, cure.PassBy) || slices.Contains(w.NoCure.Tried, cure.InCan) {
		t.Errorf("lacking %+v", w.NoCure)
	}
}
