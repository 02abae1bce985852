package plan_test

import (
	"fmt"
	"slices"
	"testing"

	"lastpump/fuel"
	"lastpump/fuel/leg"
	"lastpump/fuel/plan"
	"lastpump/fuel/trip"
)

// Sizes sold (common practice, no source): each is enough for just its litres, and
// not for a hundredth more. Without a reserve a ride takes 0.05775 L/km at the high
// figure, so it lacks x litres at (10 + x)/0.05775 km.
func TestCanSizes(t *testing.T) {
	size := func(lack float64) leg.CanSize {
		km := (10 + lack) / highKm
		p := make1(t, ride(lineThrough(t, newPen().North(km).Points)))
		wantNear(t, "for the plan", p.Can.ForPlan, lack)
		wantNear(t, "for any dry pump", p.Can.ForAnyDryPump, lack)
		return p.Can.SizeForPlan
	}
	sold := []fuel.Litres{1, 1.5, 2, 3, 4, 5, 7.5, 10, 15, 20}
	for i, s := range sold {
		if got := size(float64(s)); got != (leg.CanSize{Litres: s}) {
			t.Errorf("just %v L: %+v", s, got)
		}
		want := leg.CanSize{TooBig: true}
		if i+1 < len(sold) {
			want = leg.CanSize{Litres: sold[i+1]}
		}
		if got := size(float64(s) + 0.01); got != want {
			t.Errorf("a little over %v L: %+v, want %+v", s, got, want)
		}
	}
	if got := make1(t, ride(straight(t, 173))).Can; got.ForPlan != 0 || got.SizeForPlan != (leg.CanSize{}) || len(got.Uses) != 0 {
		t.Errorf("where none is needed: %+v", got)
	}
}

// For the plan: max(need + kept, high) − start over the legs. For any dry pump: the
// largest lack of a stranded place, too. Uses are those of the plan, then those
// that only a dry pump asks for.
func TestUsesOfACan(t *testing.T) {
	// 150 km to A, 110 to B, 180 to the end. A dry: 2.5 L left, 5.5 to B. B dry:
	// 4.5 L left, 5.5 back to A, 9 on. The last leg takes 180 × 0.05775 L at most.
	p := make1(t, ride(straight(t, 440), pump("A", 150, 0), pump("B", 260, 0)))
	plan3 := 180*highKm - 10
	want := []trip.Use{
		{Leg: 2, Why: "plan", FillAt: trip.End{Stop: 1}, Litres: fuel.Litres(plan3)},
		{Leg: 0, Why: "dry", FillAt: trip.End{Kind: trip.AtStart, Stop: -1}, Litres: 3, IfDry: 3},
		{Leg: 1, Why: "dry", FillAt: trip.End{Stop: 0}, Litres: 1, IfDry: 1},
	}
	wantUses(t, p, want)
	wantNear(t, "for the plan", p.Can.ForPlan, plan3)
	wantNear(t, "for any dry pump", p.Can.ForAnyDryPump, 3)
	if p.Can.SizeForPlan.Litres != 1 || p.Can.SizeForDry.Litres != 3 {
		t.Errorf("sizes %+v, %+v", p.Can.SizeForPlan, p.Can.SizeForDry)
	}
	// A leg that the plan needs a can for and a dry pump a larger one is one use.
	p = make1(t, ride(straight(t, 380), pump("A", 180, 0), pump("B", 280, 0)))
	wantUses(t, p, []trip.Use{{Leg: 0, Why: "plan", FillAt: trip.End{Kind: trip.AtStart, Stop: -1}, Litres: fuel.Litres(plan3), IfDry: 4}})
}

// wantUses compares all but where to pour; that is the room for the litres at the
// low use, and these are poured on the line from a full tank.
func wantUses(t *testing.T, p *plan.Plan, want []trip.Use) {
	t.Helper()
	got := slices.DeleteFunc(slices.Clone(p.Can.Uses), func(u trip.Use) bool { return u.Bare })
	if len(got) != len(want) {
		t.Fatalf("uses %+v, want %+v", got, want)
	}
	for i, u := range got {
		w := want[i]
		if u.Leg != w.Leg || u.Why != w.Why || u.FillAt != w.FillAt {
			t.Errorf("use %+v, want %+v", u, w)
		}
		wantNear(t, "litres", u.Litres, float64(w.Litres))
		wantNear(t, "if dry", u.IfDry, float64(w.IfDry))
		wantNear(t, "pour at", u.PourAt.Kilometres(), float64(w.Litres)/lowKm)
	}
}

// Pour where the low use has made room, but not past where the high use leaves 1 L.
func TestPourAt(t *testing.T) {
	for _, c := range []struct {
		start, lack, want float64
	}{
		{10, 2, 2 / lowKm},
		{10, 7, 9 / highKm},            // room only at 163.7 km, 1 L left at 155.8
		{6, 6, min(2/lowKm, 5/highKm)}, // 4 L fit at once
		{6, 8, min(4/lowKm, 5/highKm)},
		{5, 4, 0},   // all of it fits at once
		{0.5, 5, 0}, // less than 1 L in the tank
	} {
		in := ride(lineThrough(t, newPen().North((c.start+c.lack)/highKm).Points))
		in.Options.HasStartFuel, in.Options.StartFuel = true, fuel.Litres(c.start)
		in.Bike.Odometer, in.Bike.TrueRate = 1.04, true
		use := make1(t, in).Can.Uses[0]
		wantNear(t, fmt.Sprintf("%v L in the tank: litres", c.start), use.Litres, c.lack)
		wantNear(t, fmt.Sprintf("%v L in the tank, %v missing: pour at", c.start, c.lack), use.PourAt.Kilometres(), c.want*1.04)
	}
}

// What is advised is as if the bike had no can, whatever it carries.
func TestAdviceIsAsIfThereWereNoCan(t *testing.T) {
	in := ride(straight(t, 440), pump("A", 150, 0), pump("B", 260, 0))
	without := make1(t, in).Can
	for _, size := range []fuel.Litres{1, 3, 7.5, 20} {
		in.Bike.Can = size
		with := make1(t, in).Can
		if !near(float64(with.ForPlan), float64(without.ForPlan)) || !near(float64(with.ForAnyDryPump), float64(without.ForAnyDryPump)) ||
			!slices.EqualFunc(with.Uses, without.Uses, func(a, b trip.Use) bool { return a.Leg == b.Leg && near(float64(a.Litres), float64(b.Litres)) }) {
			t.Errorf("with a can of %v L: %+v, without %+v", size, with, without)
		}
	}
}

// The can advised must do, also where the litres that are missing are just a size
// sold and the sums round: A at d km, B at 260, so that a dry A lacks 13 L − 10 L.
func TestACanOfJustTheSizeIsEnough(t *testing.T) {
	for d := 131.0; d < 160; d++ {
		in := ride(straight(t, 350), pump("A", d, 0), pump("B", 260, 0))
		if c := make1(t, in).Can; c.SizeForDry.Litres == 3 {
			in.Bike.Can = 3
			if dry := make1(t, in).Visits[0].IfDry; dry.Outcome == leg.Stranded {
				t.Errorf("A at km %v, dry: %v L are missing, with a 3 L can still %v", d, c.ForAnyDryPump, dry.Spare)
			}
		}
	}
}

// The same for a leg: 3 L are missing to keep the reserve.
func TestACanOfJustTheSizeKeepsTheReserve(t *testing.T) {
	for d := 100.0; d < 140; d++ {
		in := ride(straight(t, int(d)))
		in.Options.Reserve.Share = (13 - d*likelyKm) / 10
		if c := make1(t, in).Can; c.SizeForPlan.Litres == 3 {
			in.Bike.Can = 3
			if l := make1(t, in).Legs[0]; l.Verdict != leg.OK {
				t.Errorf("%v km: %v L are missing, with a 3 L can still %s by %v", d, c.ForPlan, l.Verdict, l.Kept-l.Arrive)
			}
		}
	}
}
