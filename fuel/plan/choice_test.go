package plan_test

import (
	"testing"

	"lastpump/fuel/leg"
	"lastpump/fuel/plan"
	"lastpump/fuel/trip"
)

// A stop that is chosen is no detour of the others' making: with --detours auto a line
// without a pump on it is planned over those beside it.
func TestChosenOffTheLine(t *testing.T) {
	in := ride(straight(t, 350), pump("A", 120, 9), pump("B", 240, 9), pump("far", 180, 31))
	in.Options.FillAt, in.Options.Detours = plan.FillChosen, trip.Reach
	p := make1(t, in)
	if p.Choice == nil || p.Choice.Taken != 2 || p.Choice.Candidates != 2 || len(p.NotUsed) != 1 || p.NotUsed[0].Stop != "far" {
		t.Fatalf("%+v, not used %+v", p.Choice, p.NotUsed)
	}
	wantNear(t, "detour", visit(t, p, "A").Detour.Kilometres(), 2*1.3*9)
	for _, l := range p.Legs {
		if l.Verdict != leg.OK {
			t.Errorf("%v to %v: %s", l.From, l.To, l.Verdict)
		}
	}
	// None is needed on a short ride; they are shown, and passed by.
	in = ride(straight(t, 100), pump("on", 50, 0))
	in.Options.FillAt, in.Options.Detours = plan.FillChosen, trip.Reach
	if v := visit(t, make1(t, in), "on"); v.Counted || v.WhyNot != "not needed" {
		t.Errorf("%+v", v)
	}
}

// What no can holds is not chosen for what two cans hold: with half the tank kept, 620 km
// from A to C lack 26 L, and 310 km twice, over B, 10.5 L each, for which 15 L cans are sold.
func TestNoChoiceThatNoCanHolds(t *testing.T) {
	in := changed(ride(straight(t, 800), pump("A", 100, 0), pump("B", 410, 0), pump("C", 720, 0)), keep(0.5))
	in.Options.FillAt, in.Options.Detours = plan.FillChosen, trip.Reach
	p := make1(t, in)
	if v := visit(t, p, "B"); !v.Counted || p.Can.SizeForPlan.Litres != 15 {
		t.Errorf("%+v, %+v", v, p.Can)
	}
}
