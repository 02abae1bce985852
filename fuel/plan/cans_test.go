package plan_test

import (
	"cmp"
	"context"
	"slices"
	"testing"

	"lastpump/fuel"
	"lastpump/fuel/leg"
	"lastpump/fuel/plan"

	"lastpump/route"

	"pgregory.net/rapid"
)

// The can is filled at the last stop before its use that sells what the engine needs, and
// carried past those that do not. B to the end takes 14 L of 10: at A, 60 km on, there is 95,
// at B, 100 km on, 80. So it is filled at A, for the home tank is no pump nearer, rides full to
// B, and is poured behind it.
func TestTheCanIsFilledWhereGoodPetrolIs(t *testing.T) {
	in := ride(straight(t, 380), pump("home", 0, 0, ron(95)), pump("A", 60, 0, ron(95)), pump("B", 100, 0, ron(80)))
	in.Options.Carry = plan.Carry{Cans: leg.Carried{5, 5}}
	p := make1(t, in)
	wantNear(t, "into the can at home", p.Visits[0].Fill.Can, 0)
	wantNear(t, "into the can at A", p.Visits[1].Fill.Can, 10)
	wantNear(t, "into the can at B", p.Visits[2].Fill.Can, 0)
	wantNear(t, "on the leg to B", p.Legs[1].Can, 10)
	wantNear(t, "poured on it", p.Legs[1].Poured, 0)
	wantNear(t, "poured behind B", p.Legs[2].Poured, 10)
	// 8 L left on arriving at B are topped up with 2 of 80.
	before := (8.5*95 + 2*80) / 10.5
	wantNear(t, "the mixture", p.Legs[2].Mixture.Low, before)
	if u := p.Can.Uses[0]; key(p, u.Filled) != "A" || key(p, u.FillAt) != "B" {
		t.Errorf("filled at %s", key(p, u.Filled))
	}
}

// Where a leg before asks for the can, too, and nothing good is sold between, only what is
// needed at the high figure goes in of the worse petrol, in half litres: 280 km take 16.17 L at
// the most, 6.17 more than the tank.
func TestALowFillOfTheCanIsNoLargerThanNeeded(t *testing.T) {
	in := ride(straight(t, 460), pump("home", 0, 0, ron(95)), pump("B", 180, 0, ron(80)))
	in.Options.Carry = plan.Carry{Cans: leg.Carried{10}}
	p := make1(t, in)
	wantNear(t, "into the can at home", p.Visits[0].Fill.Can, 10) // 180 km take 10.4 L at the most
	// By B 9 of the 10 L fit at the likely use, and all of them at the high one.
	wantNear(t, "poured on the way to B", p.Legs[0].Poured, 9)
	wantNear(t, "into the can at B", p.Visits[1].Fill.Can, 6.5)
}

// What is in the can where the rider stands is counted, with its grade; a pump that sells good
// petrol tops it up.
func TestCanNow(t *testing.T) {
	in := ride(straight(t, 240))
	in.Options.Carry = plan.Carry{Cans: leg.Carried{5}}
	in.Options.HasFrom, in.Options.From = true, 20_000
	in.Options.HasStartFuel, in.Options.StartFuel = true, 10
	in.Options.CanNow, in.Options.CanNowGrade = 3, ron(80)
	p := make1(t, in)
	l := p.Legs[0]
	wantNear(t, "in the can", l.Can, 3)
	if l.Verdict != leg.OK { // 220 km take 12.7 L at the most, of 13
		t.Errorf("%+v", l)
	}
	left := 10.5 - 3/lowKm*likelyKm
	wantNear(t, "mixture", l.Mixture.Low, (left*95+3*80)/(left+3))
	in.Options.CanNow = 6
	if _, err := plan.Make(context.Background(), in); err == nil {
		t.Error("6 L go into a can of 5")
	}
}

// The planned cans are the best of all that may be carried, by the order of what is better:
// litres short, places that strand, legs that are tight, places that are bare, the smallest
// total, the fewest cans, equal sizes.
func TestAutoIsTheBestOfAllCans(t *testing.T) {
	sizes := []fuel.Litres{1, 1.5, 2, 3, 4, 5, 7.5, 10, 15, 20} // common practice, no source
	planned := map[int]int{}
	rapid.Check(t, func(t *rapid.T) {
		in := drawRide(t)
		in.Bike.Can = rapid.SampledFrom([]fuel.Litres{0, 0, 2, 5}).Draw(t, "own")
		most := rapid.SampledFrom([]fuel.Litres{5, 10, 15}).Draw(t, "most")
		own := leg.Carried{}
		if in.Bike.Can > 0 {
			own = leg.Carried{in.Bike.Can}
		}
		all := []leg.Carried{own}
		for _, a := range sizes {
			all = append(all, append(slices.Clone(own), a))
			for _, b := range sizes {
				all = append(all, append(slices.Clone(own), a, b))
			}
		}
		all = slices.DeleteFunc(all, func(c leg.Carried) bool { return len(c) > 2 || len(c) > len(own) && c.Total() > most })
		var best []float64
		for _, c := range all {
			in.Options.Carry = plan.Carry{Cans: c}
			if w := carriedWorth(makeRide(t, in), c); best == nil || slices.Compare(w, best) < 0 {
				best = w
			}
		}
		in.Options.Carry = plan.Carry{Most: most}
		p := makeRide(t, in)
		if got := carriedWorth(p, p.Cans.Carried); slices.Compare(got, best) != 0 {
			t.Fatalf("planned %v, worth %v; the best is %v", p.Cans.Carried, got, best)
		}
		planned[len(p.Cans.Carried)]++
		row := p.Cans.Rows[slices.IndexFunc(p.Cans.Rows, func(r plan.CanRow) bool { return r.Planned })]
		if stranded, bare := p.IfAnyDry(); row.Stranded != stranded || row.Bare != bare || row.Cans.Compare(p.Cans.Carried) != 0 {
			t.Fatalf("the row of the plan: %+v", row)
		}
	})
	if planned[1]+planned[2] == 0 {
		t.Errorf("plans by the number of cans: %v", planned)
	}
}

// One can of one's own leaves room for one more: 320 km take 18.48 L at the most, 8.48 over the tank.
// With 3 L of one's own 5 more are 8, and 7.5 more are over 10; without it 7.5 and 1 do. Up to 15 L it
// stands in no way.
func TestOwnCanThatStandsInTheWay(t *testing.T) {
	for _, c := range []struct {
		in      plan.Inputs
		most    fuel.Litres
		carried fuel.Litres
		want    leg.Carried
	}{
		{ride(straight(t, 320)), 10, 8, leg.Carried{7.5, 1}},
		{ride(straight(t, 320)), 15, 10.5, nil},
		{ride(straight(t, 400)), 10, 8, nil}, // 23.1 L: no cans of 10 L hold that
	} {
		c.in.Bike.Can, c.in.Options.Carry.Most = 3, c.most
		p := make1(t, c.in)
		if got := p.Cans.Carried.Total(); c.want == nil && p.Cans.WithoutOwn != nil || p.Cans.Largest() < got ||
			c.most == 15 && got != c.carried || c.most == 10 && p.Worth.Holds() {
			t.Errorf("up to %v L: %v, without one's own %+v", c.most, p.Cans.Carried, p.Cans.WithoutOwn)
		}
		if w := p.Cans.WithoutOwn; c.want != nil && (w == nil || w.Cans.Compare(c.want) != 0 || w.NotOK+w.Stranded+w.Bare > 0) {
			t.Errorf("up to %v L: without one's own %+v, want %v", c.most, w, c.want)
		}
	}
}

// What would do without the rider's own cans are the smallest of all that may be carried, and none is
// named where they do no more than his. The first rides are such that some are named.
func TestWithoutOwnIsTheSmallestOfAll(t *testing.T) {
	named := 0
	lines := map[int]*route.Line{}
	for km := 200; km <= 520; km += 20 {
		lines[km] = straight(t, km)
	}
	check := func(t rapid.TB, km, a, b int, own, most fuel.Litres) {
		in := ride(lines[km], pump("A", float64(a), 0), pump("B", float64(b), 0))
		in.Bike.Can, in.Options.Carry = own, plan.Carry{Most: most}
		p := makeRide(t, in)
		if err := plan.Cures(context.Background(), p); err != nil {
			t.Fatal(err)
		}
		fails := carriedWorth(p, nil)[:4]
		best := smallestWithoutOwn(t, in, fails, most)
		got := p.Cans.WithoutOwn
		if (got == nil) != (best == nil) || got != nil && got.Cans.Compare(best) != 0 {
			t.Fatalf("with %v: %v; without one's own %+v, want %v", p.Cans.Carried, fails, got, best)
		}
		if got != nil {
			named++
		}
	}
	for km := 300; km <= 520; km += 20 {
		check(t, km, km/5, km*4/5, 3, 10)
	}
	if named == 0 {
		t.Error("none is ever named")
	}
	rapid.Check(t, func(t *rapid.T) {
		km := 20 * rapid.IntRange(10, 26).Draw(t, "km")
		check(t, km, rapid.IntRange(1, km/2).Draw(t, "A"), rapid.IntRange(km/2, km-1).Draw(t, "B"),
			rapid.SampledFrom([]fuel.Litres{1, 3, 5}).Draw(t, "own"), rapid.SampledFrom([]fuel.Litres{5, 10, 15}).Draw(t, "most"))
	})
}

// smallestWithoutOwn tries every can and pair of cans up to the most on a ride that fails with one's own.
func smallestWithoutOwn(t rapid.TB, in plan.Inputs, fails []float64, most fuel.Litres) (best leg.Carried) {
	sizes := []fuel.Litres{1, 1.5, 2, 3, 4, 5, 7.5, 10, 15, 20} // common practice, no source
	upTo := 3
	if fails[0]+fails[1]+fails[2] == 0 {
		upTo = 4
	}
	if fails[0]+fails[1]+fails[2]+fails[3] == 0 {
		return nil
	}
	all := []leg.Carried{{}}
	for _, a := range sizes {
		all = append(all, leg.Carried{a})
		for _, b := range sizes {
			all = append(all, leg.Carried{max(a, b), min(a, b)})
		}
	}
	for _, c := range all {
		if c.Total() > most {
			continue
		}
		in.Options.Carry = plan.Carry{Cans: c}
		ok := true
		for _, f := range carriedWorth(makeRide(t, in), c)[:upTo] {
			ok = ok && f == 0
		}
		if ok && (best == nil || c.Compare(best) < 0) {
			best = c
		}
	}
	return best
}

// carriedWorth lists what speaks against a ride with cans, to a millionth of a litre.
func carriedWorth(p *plan.Plan, c leg.Carried) []float64 {
	var short, tight float64
	for _, l := range p.Legs {
		short += float64(trip6(l.Short))
		if l.Verdict == leg.Tight {
			tight++
		}
	}
	stranded, bare := p.IfAnyDry()
	spread := fuel.Litres(0)
	if len(c) == 2 {
		spread = max(c[0]-c[1], c[1]-c[0])
	}
	return []float64{short, float64(stranded), tight, float64(bare), float64(c.Total()), float64(len(c)), float64(spread)}
}

// trip6 counts litres in whole millionths.
func trip6(l fuel.Litres) int64 { return int64(float64(l)*1e6 + 0.5) }

// Sold in litres up to 10 and at most two cans: each total once, by the fewest cans, then the
// most equal ones: 8 L are 4 + 4, not 5 + 3.
func TestCansUpTo(t *testing.T) {
	got := leg.Cans{1, 2, 3, 4, 5, 7.5, 10}.UpTo(nil, 10)
	for _, want := range []leg.Carried{{}, {4}, {3, 3}, {4, 4}, {5, 4}, {10}} {
		i := slices.IndexFunc(got, func(c leg.Carried) bool { return cmp.Compare(c.Total(), want.Total()) == 0 })
		if i < 0 || !slices.Equal(got[i], want) {
			t.Errorf("of %v L: %v in %v", want.Total(), want, got)
		}
	}
	for i := 1; i < len(got); i++ {
		if got[i].Total() <= got[i-1].Total() || len(got[i]) > 2 {
			t.Errorf("%v after %v", got[i], got[i-1])
		}
	}
	// The bike's own is always among them, even over the limit.
	if got := (leg.Cans{1, 2, 5}).UpTo(leg.Carried{12}, 10); len(got) != 1 || got[0].Total() != 12 {
		t.Errorf("own of 12 L: %v", got)
	}
}

// What only a thirsty bike has poured is not in the can any more. On 110 km of sand, 0.0675,
// 0.09 and 0.154 L/km, 16.94 L are asked for of 10 and a can of 10. At the likely use 9.9 L of
// it fit by B, at the high one all. So for the 200 km behind A, which sells nothing good either
// and where 1.55 L are asked for, nothing of it is counted: 2 L are filled.
func TestARestThatTheHighUsePoursIsNotCounted(t *testing.T) {
	in := ride(straight(t, 314), pump("home", 0, 0), pump("B", 110, 0, ron(80)), pump("A", 114, 0, ron(80)))
	in.Grounds.Sections = []route.Section{{From: 0, To: 110_000, Ground: route.Sand}}
	in.Options.Carry = plan.Carry{Cans: leg.Carried{10}}
	p := make1(t, in)
	wantNear(t, "on the sand", p.Legs[0].Can, 10)
	wantNear(t, "poured on it", p.Legs[0].Poured, 9.9)
	wantNear(t, "behind it", p.Legs[1].Can, 0)
	wantNear(t, "into the can at A", p.Visits[2].Fill.Can, 2)
	wantNear(t, "behind A", p.Legs[2].Can, 2)
	if stranded, bare := p.IfAnyDry(); stranded+bare > 0 || p.Legs[0].Verdict != leg.OK || p.Legs[2].Verdict != leg.OK {
		t.Errorf("%d strand, %d bare, legs %+v", stranded, bare, p.Legs)
	}
}

// What the rider says is in the can where no pump is, is in it: it is not filled at home.
func TestCanNowAtAStartWithoutAPump(t *testing.T) {
	in := ride(straight(t, 240), pump("A", 220, 0))
	in.Options.Carry = plan.Carry{Cans: leg.Carried{5}}
	wantNear(t, "filled at home", make1(t, in).Legs[0].Can, 5)
	in.Options.CanNow = 2
	p := make1(t, in)
	wantNear(t, "in the can", p.Legs[0].Can, 2)
	if p.Legs[0].Verdict != leg.Tight { // 220 km take 12.7 L at the high figure
		t.Errorf("%+v", p.Legs[0])
	}
	in.Options.StartGrade = ron(80) // then only what is asked would go in
	wantNear(t, "in the can", make1(t, in).Legs[0].Can, 2)
}
