package plan_test

import (
	"testing"

	"lastpump/fuel"
	"lastpump/fuel/plan"
	"lastpump/octane"
	"lastpump/route"
)

// The bike's own can rides full to a place that would strand without it; else it
// rides empty. A at 150 km: 2.5 L left, 5.5 to B; with 3 L more B is within reach.
func TestOwnCanForADryPump(t *testing.T) {
	in := ride(straight(t, 345), pump("A", 150, 0), pump("B", 259, 0))
	in.Bike.Can = 3
	p := make1(t, in)
	for i, want := range []float64{3, 0, 0} {
		wantNear(t, "can", p.Legs[i].Can, want)
	}
	dry := p.Visits[0].IfDry
	if dry.Outcome != plan.On || dry.To != "B" || p.Legs[0].Verdict != plan.OK {
		t.Errorf("A dry: %+v", dry)
	}
	wantNear(t, "spare", dry.Spare, 10+3-150*likelyKm-109*likelyKm)
	wantNear(t, "arrives", p.Legs[0].Arrive, 5.5)
	// What is left of it goes into the tank at A, so less is bought there.
	wantNear(t, "litres at A", p.Visits[0].Fill.Litres, 4.5)
	wantNear(t, "dry at", p.Legs[0].DryAt.Kilometres(), 13/likelyKm)
}

// A leg's mixture is the worse of before and after pouring. At A 4.5 L of 91 go
// into 6 of 95, and 3 L of 91 into the can; they are poured after 3/0.04275 km.
func TestPouringMixes(t *testing.T) {
	in := ride(straight(t, 290), pump("A", 90, 0, octane.FromRON(91)))
	in.Bike.Can = 3
	p := make1(t, in)
	l := p.Legs[1]
	if l.Can != 3 {
		t.Fatalf("can %v on a leg that takes 11.55 L at the high figure", l.Can)
	}
	before := (6*95 + 4.5*91) / 10.5
	left := 10.5 - 3/lowKm*likelyKm
	after := (left*before + 3*91) / (left + 3)
	wantNear(t, "before", p.Visits[0].Mixture.Low, before)
	wantNear(t, "on the leg", l.Mixture.Low, after)

	// With 98 in the can it is before pouring that is worse.
	in.Stops[0].Grades[0] = octane.FromRON(98)
	in.Options.StartGrade = octane.FromRON(80)
	wantNear(t, "better petrol in the can", make1(t, in).Legs[1].Mixture.Low, (6*80+4.5*98)/10.5)
}

// What does not fit stays in the can for a second pour. A 10 L can filled with 91 at
// the start, the tank full of 95: the high use leaves 1 L after 9/0.05775 km, when
// the low use has made room for 6.66 L; the rest fits after 10/0.04275 km.
func TestSecondPour(t *testing.T) {
	in := ride(straight(t, 320), pump("A", 0, 0, octane.FromRON(91)))
	in.Bike.Can = 10
	p := make1(t, in)
	first, second := 9/highKm, 10/lowKm
	tank := 10.5 - first*likelyKm
	poured := first * lowKm
	mixed := (tank*95 + poured*91) / (tank + poured)
	tank += poured - (second-first)*likelyKm
	mixed = (tank*mixed + (10-poured)*91) / (tank + 10 - poured)
	wantNear(t, "after the second pour", p.Legs[0].Mixture.Low, mixed)
	wantNear(t, "arrives", p.Legs[0].Arrive, 20-16)
	if f := p.Visits[0].Fill; f.Litres != 0 || f.Can != 10 {
		t.Errorf("fill %+v", f)
	}
}

// What neither the leg nor the tank takes stays in the can: 12 L are there and 1 L
// is used to A, so the tank is full and 1 L is in the can.
func TestARestStaysInTheCan(t *testing.T) {
	in := ride(straight(t, 210), pump("A", 20, 0))
	in.Bike.Can = 10
	in.Options.HasStartFuel, in.Options.StartFuel = true, 2
	in.Options.Reserve.Distance = 30000
	p := make1(t, in)
	f := p.Visits[0].Fill
	wantNear(t, "can on the first leg", p.Legs[0].Can, 10)
	wantNear(t, "arrives", p.Legs[0].Arrive, 11)
	wantNear(t, "into the tank", f.Litres, 0)
	wantNear(t, "into the can", f.Can, 9)
	wantNear(t, "can on the second leg", p.Legs[1].Can, 10)

	// On a leg that does without, the can rides empty and the rest is not counted.
	in.Line = straight(t, 120)
	p = make1(t, in)
	if p.Legs[1].Can != 0 || p.Visits[0].Fill.Can != 0 || p.Legs[1].Start != 10 {
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

// A can that would be poured behind the leg's end is poured at the stop: the leg is
// ridden on the 95 of the start, though the can holds 80.
func TestPouredAtTheStop(t *testing.T) {
	in := ride(straight(t, 300), pump("home", 0, 0, ron(80)), pump("A", 60, 0, ron(80)))
	in.Bike.Can = 7.5
	in.Options.Reserve.Share = 0.75 // 7.5 L kept: 3 L used leave 7
	p := make1(t, in)
	l := p.Legs[0]
	// Room for 7.5 L comes after 7.5/0.04275 = 175 km, and 1 L would be left after 156.
	if l.Can != 7.5 || l.Verdict != plan.OK {
		t.Fatalf("leg %+v", l)
	}
	wantNear(t, "mixture", l.Mixture.Low, 95)
	// 14.5 L at A: 10 in the tank, 3 of them out of the can, and 4.5 in the can.
	wantNear(t, "into the tank", p.Visits[1].Fill.Litres, 0)
	wantNear(t, "into the can", p.Visits[1].Fill.Can, 3)
	wantNear(t, "mixture at A", p.Visits[1].Mixture.Low, (7.5*95+3*80)/10.5)
}

// After a SHORT leg the can is as empty as the tank, however uncertain the ground:
// on mud (weights 1.4, 1.7, 2.5) 10 L and a can of 20 are gone after 353 km.
func TestNothingIsLeftInTheCanAfterAShortLeg(t *testing.T) {
	in := ride(straight(t, 530), pump("A", 400, 0))
	in.Grounds.Default = route.Mud
	in.Bike.Can = 20
	p := make1(t, in)
	if p.Legs[0].Verdict != plan.Short || p.Legs[1].Can != 20 {
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
