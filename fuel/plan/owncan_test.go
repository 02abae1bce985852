package plan_test

import (
	"testing"

	"lastpump/fuel"
	"lastpump/fuel/leg"
	"lastpump/octane"
	"lastpump/route"
)

// The can rides full to a place that would strand without it, be it on the high figures: it
// is filled at home, and stays full, for nothing asks to pour it. A at 150 km: 2.5 L left, 5.5 to B; with 3 L more B is within
// reach. At B 4.55 are left for the 86 km to the end, which take 4.3; at the high figure 3.7
// and 5.
func TestOwnCanForADryPump(t *testing.T) {
	in := ride(straight(t, 345), pump("A", 150, 0), pump("B", 259, 0))
	in.Bike.Can = 3
	p := make1(t, in)
	for i, want := range []float64{3, 3, 3} {
		wantNear(t, "can", p.Legs[i].Can, want)
	}
	dry := p.Visits[0].IfDry
	if dry.Outcome != leg.On || key(p, dry.To) != "B" || p.Legs[0].Verdict != leg.OK {
		t.Errorf("A dry: %+v", dry)
	}
	wantNear(t, "spare", dry.Spare, 10+3-150*likelyKm-109*likelyKm)
	wantNear(t, "arrives", p.Legs[0].Arrive, 5.5)
	wantNear(t, "litres at A", p.Visits[0].Fill.Litres, 7.5)
	wantNear(t, "into the can", p.Visits[0].Fill.Can, 0)
	wantNear(t, "dry at", p.Legs[0].DryAt.Kilometres(), 13/likelyKm)
}

// A leg's mixture is the worse of before and after pouring. At A 4 L of 91 go
// into 6.5 of 94. A does not sell what is needed, nor has home any: into the can goes only
// what the leg asks at the high figure, 1.55 L, rounded up to 2; they are poured after
// 2/0.04275 km.
func TestPouringMixes(t *testing.T) {
	in := ride(straight(t, 280), pump("A", 80, 0, octane.FromRON(91)))
	in.Bike.Can = 3
	in.Options.StartGrade = octane.FromRON(94)
	p := make1(t, in)
	l := p.Legs[1]
	if l.Can != 2 || l.Poured != 2 {
		t.Fatalf("can %v, poured %v on a leg that takes 11.55 L at the high figure", l.Can, l.Poured)
	}
	before := (6.5*94 + 4*91) / 10.5
	left := 10.5 - 2/lowKm*likelyKm
	after := (left*before + 2*91) / (left + 2)
	wantNear(t, "before", p.Visits[0].Mixture.Low, before)
	wantNear(t, "on the leg", l.Mixture.Low, after)

	// With 98 in the can it is before pouring that is worse.
	in.Stops[0].Grades[0] = octane.FromRON(98)
	in.Options.StartGrade = octane.FromRON(80)
	wantNear(t, "better petrol in the can", make1(t, in).Legs[1].Mixture.Low, (6.5*80+4*98)/10.5)
}

// What does not fit stays in the can for a second pour. At the start, the tank full of 95,
// 8.5 L of 91 go into the can, for 18.48 are asked for at the high figure. The high use leaves
// 1 L after 9/0.05775 km, when the low use has made room for 6.66 L; the rest fits after
// 8.5/0.04275 km.
func TestSecondPour(t *testing.T) {
	in := ride(straight(t, 320), pump("A", 0, 0, octane.FromRON(91)))
	in.Bike.Can = 10
	p := make1(t, in)
	first, second := 9/highKm, 8.5/lowKm
	tank := 10.5 - first*likelyKm
	poured := first * lowKm
	mixed := (tank*95 + poured*91) / (tank + poured)
	tank += poured - (second-first)*likelyKm
	mixed = (tank*mixed + (8.5-poured)*91) / (tank + 8.5 - poured)
	wantNear(t, "after the second pour", p.Legs[0].Mixture.Low, mixed)
	wantNear(t, "arrives", p.Legs[0].Arrive, 18.5-16)
	if f := p.Visits[0].Fill; f.Litres != 0 || f.Can != 8.5 {
		t.Errorf("fill %+v", f)
	}
}

// What does not fit stays in the can. Of 2 L in the tank the high use leaves 1 after
// 1/0.05775 km, where the low use has left 1.26: 8.74 of the can's 10 L are poured there, and
// 0.26 more fit by A at the likely use. At the high one 0.845 do not: they are counted on.
func TestARestStaysInTheCan(t *testing.T) {
	in := ride(straight(t, 210), pump("A", 20, 0))
	in.Bike.Can = 10
	in.Options.HasStartFuel, in.Options.StartFuel = true, 2
	in.Options.Reserve.Distance = 30000
	p := make1(t, in)
	f := p.Visits[0].Fill
	wantNear(t, "can on the first leg", p.Legs[0].Can, 10)
	wantNear(t, "arrives", p.Legs[0].Arrive, 11)
	wantNear(t, "poured", p.Legs[0].Poured, 9)
	wantNear(t, "into the tank", f.Litres, 0)
	rest := 12 - 20*highKm - 10
	wantNear(t, "into the can", f.Can, 10-rest)
	wantNear(t, "can on the second leg", p.Legs[1].Can, 10)

	// On a leg that does without, the rest rides on and nothing is filled.
	in.Line = straight(t, 120)
	p = make1(t, in)
	wantNear(t, "the rest", p.Legs[1].Can, rest)
	if p.Legs[1].Poured != 0 || p.Visits[0].Fill.Can != 0 || p.Legs[1].Start != 10 {
		t.Errorf("fill %+v, leg %+v", p.Visits[0].Fill, p.Legs[1])
	}
}

// A fill is what the leg used, and low and high what it may have used.
func TestLitresOfAFill(t *testing.T) {
	in := ride(straight(t, 200), pump("A", 100, 0))
	f := make1(t, in).Visits[0].Fill
	wantNear(t, "low", f.Low, 100*lowKm)
	wantNear(t, "likely", f.Litres, 100*likelyKm)
	wantNear(t, "high", f.High, 100*highKm)
	wantNear(t, "after", f.TankAfter, 10)
	in.Stops[0].At = at(190, 0) // the high figure is over a tankful: no more goes in
	wantNear(t, "high", make1(t, in).Visits[0].Fill.High, 10)
}

// A can that would be poured behind the leg's end stays full: the leg is ridden on the 95 of
// the start, though the can holds 80, and so is what follows.
func TestNoRoomForTheCan(t *testing.T) {
	in := ride(straight(t, 300), pump("home", 0, 0, ron(80)), pump("A", 60, 0, ron(80)))
	in.Bike.Can = 7.5
	in.Options.Reserve.Share = 0.75 // 7.5 L kept: 3 L used leave 7
	p := make1(t, in)
	l := p.Legs[0]
	// 0.5 L are asked for. Room for them comes after 0.5/0.04275 = 12 km: they are poured.
	if l.Can != 0.5 || l.Poured != 0.5 || l.Verdict != leg.OK {
		t.Fatalf("leg %+v", l)
	}
	in.Options.CanNow, in.Options.CanNowGrade = 7.5, octane.FromRON(80)
	p = make1(t, in)
	l = p.Legs[0]
	// Room for 7.5 L comes after 7.5/0.04275 = 175 km, and 1 L would be left after 156.
	if l.Can != 7.5 || l.Poured != 0 || l.Verdict != leg.OK {
		t.Fatalf("leg %+v", l)
	}
	wantNear(t, "mixture", l.Mixture.Low, 95)
	wantNear(t, "into the tank", p.Visits[1].Fill.Litres, 3)
	wantNear(t, "into the can", p.Visits[1].Fill.Can, 0)
	wantNear(t, "mixture at A", p.Visits[1].Mixture.Low, (7.5*95+3*80)/10.5)
}

// After a SHORT leg the can is as empty as the tank, however uncertain the ground:
// on mud (weights 1.4, 1.7, 2.5) 10 L and a can of 20 are gone after 353 km.
func TestNothingIsLeftInTheCanAfterAShortLeg(t *testing.T) {
	in := ride(straight(t, 530), pump("A", 400, 0))
	in.Grounds.Default = route.Mud
	in.Bike.Can = 20
	p := make1(t, in)
	if p.Legs[0].Verdict != leg.Short || p.Legs[1].Can != 20 {
		t.Fatalf("legs %+v", p.Legs)
	}
	wantNear(t, "short", p.Legs[0].Short, 400*likelyKm*1.7-30)
	wantNear(t, "into the tank", p.Visits[0].Fill.Litres, 10)
	wantNear(t, "into the can", p.Visits[0].Fill.Can, 20)
}

// Looking what a leg lacks without a can leaves the leg as it is, to the last bit.
// From about −15 to −13.5 L, 3 L less are beyond −16, where a bit is lost.
func TestLookingAtALegDoesNotChangeIt(t *testing.T) {
	for i := range 40 {
		in := ride(straight(t, 460+i))
		in.Bike.Tank = 7.6 + fuel.Litres(i)/1000
		in.Bike.Can = 3
		l := make1(t, in).Legs[0]
		if l.Arrive != l.Start+l.Can-l.Drink.Fuel.Likely || l.Short != max(0, -l.Arrive) {
			t.Errorf("arrives with %v, is short by %v; %v L less %v", l.Arrive, l.Short, l.Start+l.Can, l.Drink.Fuel.Likely)
		}
	}
}
