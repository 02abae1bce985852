package plan_test

import (
	"math"
	"testing"

	"lastpump/fuel"
	"lastpump/fuel/leg"
	"lastpump/fuel/plan"
	"lastpump/route"
)

// Over 100 km of paved road the bike takes 5 L, 5.775 L at the high figure. OK is
// from need + kept, and from the high figure, whichever is more; TIGHT from the
// need (design, legs). The tank is tried on both sides of each border.
func TestVerdictBordersWorkedOut(t *testing.T) {
	for _, c := range []struct {
		name    string
		reserve leg.Reserve
		ok      float64
	}{
		{"no reserve: the high figure", leg.Reserve{}, 100 * highKm},
		{"5 %, 0.5 L: the high figure", leg.Reserve{Share: 0.05}, 100 * highKm},
		{"15 %, 1.5 L", leg.Reserve{Share: 0.15}, 5 + 1.5},
		{"40 km, 2 L", leg.Reserve{Distance: 40000}, 5 + 2},
		{"1.5 L", leg.Reserve{Litres: 1.5}, 5 + 1.5},
		{"15 % and 2 L, 1.5 L and 2 L", leg.Reserve{Share: 0.15, Litres: 2}, 5 + 2},
		{"20 % and 30 km, 2 L and 1.5 L", leg.Reserve{Share: 0.20, Distance: 30000}, 5 + 2},
		{"10 % and 50 km, 1 L and 2.5 L", leg.Reserve{Share: 0.10, Distance: 50000}, 5 + 2.5},
	} {
		in := ride(straight(t, 100))
		in.Options.Reserve, in.Options.HasStartFuel = c.reserve, true
		under := func(v leg.Verdict) func(float64) bool {
			return func(l float64) bool {
				in.Options.StartFuel = fuel.Litres(l)
				got := make1(t, in).Legs[0].Verdict
				return got == leg.Short || v == leg.OK && got == leg.Tight
			}
		}
		wantNear(t, c.name+": OK from", border(t, 0, 10, under(leg.OK)), c.ok)
		wantNear(t, c.name+": TIGHT from", border(t, 0, 10, under(leg.Tight)), 5)
	}
}

// Just the reserve is the reserve whole, and just enough to the next stop is within
// reach. Not all sums of binary fractions are exact; the cases that are must be.
func TestJustEnoughIsEnough(t *testing.T) {
	exact := 0
	for km := 100; km < 150; km++ {
		in := ride(straight(t, 2*km), pump("A", float64(km), 0))
		in.Options.HasStartFuel, in.Options.StartFuel = true, 10
		need := make1(t, in).Legs[0].Drink.Fuel.Likely
		in.Options.Reserve.Share, in.Options.StartFuel = 0.15, need+1.5
		if l := make1(t, in).Legs[0]; l.Arrive == l.Kept {
			exact++
			if l.Verdict != leg.OK {
				t.Errorf("arrives with %v of %v kept: %s", l.Arrive, l.Kept, l.Verdict)
			}
			in.Options.StartFuel = fuel.Litres(math.Nextafter(float64(in.Options.StartFuel), 0))
			if v := make1(t, in).Legs[0].Verdict; v != leg.Tight {
				t.Errorf("one ulp less: %s", v)
			}
		}
		in.Bike.Tank, in.Options.Reserve.Share = 20.5, 0
		on := make1(t, in).Legs[1].Drink.Fuel.Likely
		in.Options.StartFuel = need + on
		if p := make1(t, in); p.Legs[0].Arrive == on {
			exact++
			if p.Visits[0].IfDry.Outcome != leg.On {
				t.Errorf("A dry with %v L left and %v to the end: %+v", p.Legs[0].Arrive, on, p.Visits[0].IfDry)
			}
		}
	}
	if exact < 20 {
		t.Errorf("only %d exact cases", exact)
	}
}

// The default is 15 % and 30 km (common practice, no source).
func TestDefaultReserve(t *testing.T) {
	for _, c := range []struct {
		usable fuel.Litres
		ground route.Ground
		want   float64
	}{
		{20, route.Paved, 0.15 * 20},    // 30 km are 1.5 L
		{5, route.Paved, 30 * likelyKm}, // 15 % are 0.75 L
		{10, route.Sand, 30 * sandKm},   // 15 % are 1.5 L
	} {
		in := ride(straight(t, 40))
		in.Options.Reserve = plan.DefaultOptions().Reserve
		in.Bike.Tank = c.usable + in.Bike.Unusable
		in.Grounds.Default = c.ground
		wantNear(t, "kept", make1(t, in).Legs[0].Kept, c.want)
	}
}

// A distance is kept at the leg's mean rate, its climb included.
func TestReserveAtTheMeanRate(t *testing.T) {
	in := ride(lineThrough(t, rising(100, func(km float64) float64 { return 20 * km })))
	in.Grounds.Sections = []route.Section{section(0, 50, route.Sand)}
	in.Options.Reserve.Distance = 30000
	wantNear(t, "kept", make1(t, in).Legs[0].Kept, 0.30*(50*sandKm+50*likelyKm+2000*climbL))
}

// Headroom is what is there over the need, less 1; there is none where the need is
// nothing: a leg that is all ferry.
func TestHeadroom(t *testing.T) {
	wantNear(t, "200 km of fuel for 80", make1(t, ride(straight(t, 80))).Legs[0].Headroom, 200.0/80-1)

	var here, there []route.Point
	for k := range 51 {
		here = append(here, route.Point{Point: at(float64(k), 0), HasEle: true})
		there = append(there, route.Point{Point: at(float64(k)+80, 0), HasEle: true})
	}
	l := lineWith(t, route.LineOptions{Stretch: 1, Gaps: route.GapsSkip}, here, there)
	p := make1(t, ride(l, pump("quay", 50, 0), pump("pier", 80, 0)))
	ferry := p.Legs[1]
	if ferry.HasHeadroom || ferry.Headroom != 0 || ferry.Drink.Fuel.High != 0 || ferry.Verdict != leg.OK {
		t.Errorf("the leg on the ferry: %+v", ferry)
	}
	wantNear(t, "ridden in all", p.Loop.Ridden.Kilometres(), 100)
	wantNear(t, "last leg begins at", p.Legs[2].FromAt.Kilometres(), 80) // the gap counts along the line
}

// With a stop at the end of every leg the SHORT ones start full again, and what
// they lacked is theirs alone.
func TestShortLegsInARow(t *testing.T) {
	p := make1(t, ride(straight(t, 900), pump("A", 250, 0), pump("B", 500, 0), pump("C", 800, 0)))
	for i, short := range []float64{2.5, 2.5, 5, 0} {
		wantNear(t, "start", p.Legs[i].Start, 10)
		wantNear(t, "short", p.Legs[i].Short, short)
	}
	wantNear(t, "last arrives", p.Legs[3].Arrive, 5)
}
