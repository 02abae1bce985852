package leg_test

import (
	"math"
	"testing"

	"lastpump/fuel"
	"lastpump/fuel/leg"
	"lastpump/octane"
	"lastpump/route"
	"lastpump/testdata/kit/band"
)

// flat gives the way over level paved ground between two kilometres of a bike that needs
// no calculator: 10.5 L, of which 10 usable, 5 L/100 km, so 200 km to the last drop. Low and
// high are the band on paved road of a figure from own tanks.
func flat(from, to float64, half ...float64) leg.Way {
	runs := []route.Run{{To: 1000e3, Ridden: 1000e3, RiddenLow: 1000e3, RiddenHigh: 1000e3, Ground: route.Paved}}
	a, b := leg.End{At: km(from)}, leg.End{At: km(to)}
	if len(half) == 2 {
		a.Half, b.Half = km(half[0]), km(half[1])
	}
	return leg.NewWay(fuel.NewCourse(runs, bike(), 1), a, b)
}

func bike() fuel.Bike {
	b := fuel.DefaultBike()
	b.Tank, b.Consumption, b.ConsumptionTanks = 10.5, 5, 3
	return b
}

func km(v float64) route.Metres { return route.Metres(v * 1000) }

// paved gives the figures of so many litres on paved road.
func paved(litres float64) fuel.Figures {
	return band.Sure(0, map[route.Ground]float64{route.Paved: litres}).Figures(band.Own, fuel.GeneralWeight)
}

// most is what a dry place is judged by, of so many litres on paved road.
func most(litres float64) fuel.Litres {
	return band.Sure(0, map[route.Ground]float64{route.Paved: litres}).Most(band.Own, fuel.GeneralWeight)
}

// likelyOn gives how many likely litres on paved road take so many by a figure.
func likelyOn(litres float64, by fuel.Figure) float64 {
	low, high := 0.0, 2*litres
	for range 100 {
		mid := (low + high) / 2
		takes := by.Of(paved(mid))
		if by == fuel.Most {
			takes = most(mid)
		}
		if float64(takes) < litres {
			low = mid
		} else {
			high = mid
		}
	}
	return low
}

// way gives what so many litres on paved road are.
func way(litres float64) fuel.Amount { return flat(0, litres/0.05).Drink.Amount }

func wantNear[T ~float64](t *testing.T, what string, got T, want float64) {
	t.Helper()
	if math.Abs(float64(got)-want) > 1e-9*max(1, math.Abs(want)) { // a few roundings, or what a search leaves
		t.Errorf("%s = %.12g, want %.12g", what, float64(got), want)
	}
}

// A leg takes 5 L and 6.42 at the high figure, and keeps 1 back. It is judged on either
// side of each border, one rounding apart.
func TestVerdictOnEitherSideOfItsBorders(t *testing.T) {
	drink := flat(0, 100).Drink
	high := drink.Fuel.High
	below := func(l fuel.Litres) fuel.Litres { return fuel.Litres(math.Nextafter(float64(l), 0)) }
	for _, c := range []struct {
		name        string
		start, kept fuel.Litres
		want        leg.Verdict
	}{
		{"all asked", high, 0, leg.OK},
		{"dry at the high figure", below(high), 0, leg.Tight},
		{"the reserve whole", drink.Fuel.Likely + 2, 2, leg.OK},
		{"the reserve touched", below(drink.Fuel.Likely + 2), 2, leg.Tight},
		{"the last drop", drink.Fuel.Likely, 1, leg.Tight},
		{"short of it", below(drink.Fuel.Likely), 1, leg.Short},
	} {
		if got := (leg.Leg{Drink: drink, Start: c.start, Kept: c.kept}).Judged().Verdict; got != c.want {
			t.Errorf("%s: %s, want %s", c.name, got, c.want)
		}
	}
}

// 240 km take 12 L, at the high figure 14.9: 10 L in the tank lack 4.9, 2 of them to
// arrive. A can of just what is lacking is enough; a drop less is not.
func TestCanOfJustWhatIsLacking(t *testing.T) {
	l := leg.Leg{Drink: flat(0, 240).Drink, Start: 10}.Judged()
	if l.Verdict != leg.Short {
		t.Errorf("%s, want SHORT", l.Verdict)
	}
	wantNear(t, "short", l.Short, 2)
	wantNear(t, "lack", l.Lack(), float64(paved(12).High)-10)
	wantNear(t, "headroom", l.Headroom, 10.0/12-1)
	if with := l.WithCan(l.Lack()); with.Verdict != leg.OK || with.Short != 0 {
		t.Errorf("with just what is lacking: %s, short by %v", with.Verdict, with.Short)
	}
	if with := l.WithCan(l.Lack() - 1e-6); with.Verdict != leg.Tight {
		t.Errorf("with a drop less: %s, want TIGHT", with.Verdict)
	}
}

// The larger of a share of the tank and a distance at the leg's own rate.
func TestReserve(t *testing.T) {
	d := flat(0, 100).Drink
	for _, c := range []struct {
		r    leg.Reserve
		want float64
	}{
		{leg.Reserve{Share: 0.15}, 1.5},
		{leg.Reserve{Distance: km(30)}, 1.5},
		{leg.Reserve{Share: 0.15, Distance: km(50)}, 2.5},
		{leg.Reserve{Share: 0.3, Distance: km(50)}, 3},
		{leg.Reserve{}, 0},
		{leg.Reserve{Litres: 2}, 2},
		{leg.Reserve{Share: 0.15, Litres: 2}, 2}, // the largest of the three
		{leg.Reserve{Share: 0.3, Litres: 2}, 3},
		{leg.Reserve{Share: 0.15, Distance: km(50), Litres: 2}, 2.5},
	} {
		wantNear(t, "kept", c.r.Kept(d, 10), c.want)
	}
	wantNear(t, "of a leg of no length", leg.Reserve{Share: 0.1, Distance: km(30)}.Kept(fuel.Drink{}, 10), 1)
}

// What goes in at the end of 100 km that took 5 L, or the low or the high figure of that.
func TestRoom(t *testing.T) {
	l := leg.Leg{Drink: flat(0, 100).Drink, Start: 10}
	room := l.Room(10)
	wantNear(t, "low", room.Low, float64(paved(5).Low))
	wantNear(t, "likely", room.Likely, 5)
	wantNear(t, "high", room.High, float64(paved(5).High))
	l.Can, l.Poured = 4, 3 // the rest stays in the can
	wantNear(t, "with a can", l.Room(10).Likely, 2)
	l.Start, l.Can, l.Poured = 3, 0, 0
	wantNear(t, "ridden dry", l.Room(10).Likely, 10)
}

// Half detours of 2 and 3 km: 1 L is used after 20 km, and 205 km are ridden in all.
func TestWayWithDetours(t *testing.T) {
	w := flat(100, 300, 2, 3)
	wantNear(t, "ridden", w.Drink.Ridden, 205e3)
	wantNear(t, "detour", w.Detour, 0.25)
	wantNear(t, "until 1 L", w.Until(1, fuel.Likely), 20e3)
	wantNear(t, "until half the first detour", w.Until(0.05, fuel.Likely), 1e3)
	wantNear(t, "used over 20 km", w.Used(20e3, fuel.Likely), 1)
	wantNear(t, "used over all", w.Used(205e3, fuel.High), float64(paved(205*0.05).High))
	wantNear(t, "along after 20 km", w.Along(20e3), 118e3)
	wantNear(t, "along at the end", w.Along(205e3), 300e3)
	wantNear(t, "ridden to 118", w.Ridden(118e3), 20e3)
	if got := w.Until(-1, fuel.Likely); got != 0 {
		t.Errorf("until nothing: %v", got)
	}
}

// What a way takes is the same asked for by itself: on the line, off it as the crow flies, and by
// a road uphill.
func TestTakesIsWhatAWayTakes(t *testing.T) {
	runs := []route.Run{{To: 1000e3, Ridden: 1010e3, RiddenLow: 1000e3, RiddenHigh: 1020e3, Ground: route.Dirt, Up: 900, Down: 400}}
	c := fuel.NewCourse(runs, bike(), 1.1)
	uphill := &fuel.Road{Ground: []fuel.RoadGround{{Ground: route.Paved, Length: 4e3}, {Ground: route.Sand, Length: 1e3}},
		Up: 300, Down: 20, HasClimb: true}
	ends := []leg.End{{At: 100e3}, {At: 250e3, Half: 2e3}, {At: 400e3, Half: 5e3, Off: uphill}}
	for i, from := range ends {
		for _, to := range ends[i:] {
			d := leg.NewWay(c, from, to).Drink
			if ahead, back := leg.Takes(c, from, to); ahead != d.Amount || back != d.Back {
				t.Errorf("%v to %v takes %v and back %v, as a way %v and %v", from, to, ahead, back, d.Amount, d.Back)
			}
		}
	}
}

// Out and back on what is left: 10 L take 200 km, so 100 out; 2 km of them are the
// detour to the line and back. Where the fuel lasts all the way and back, it is the end.
func TestFarthest(t *testing.T) {
	w := flat(100, 300, 2, 3)
	ridden, at := w.Farthest(10, fuel.Likely)
	wantNear(t, "out", ridden, 100e3)
	wantNear(t, "along", at, 198e3)
	ridden, _ = w.Farthest(10, fuel.High)
	wantNear(t, "out, high", ridden, likelyOn(10, fuel.High)/0.05/2*1e3)
	ridden, at = w.Farthest(20.5, fuel.Likely)
	wantNear(t, "all the way", ridden, 205e3)
	wantNear(t, "to the end", at, 300e3)
	ridden, at = w.Farthest(20.3, fuel.Likely) // 0.2 L lack: 2 km of the way to the stop and back
	wantNear(t, "into the last detour", ridden, 203e3)
	wantNear(t, "which leaves the line", at, 300e3)
	if ridden, at = w.Farthest(0, fuel.Likely); ridden != 0 || at != 100e3 {
		t.Errorf("on nothing: %v, %v", ridden, at)
	}
}

// Left 2 L of 7, on takes 1.5 and back 3. At the most 5 and 1.5 L ridden on one brim are
// 8.4.
func TestIfDry(t *testing.T) {
	l := leg.Leg{Drink: flat(0, 100).Drink, Start: 7}
	on, back := way(1.5), way(3)
	to := func(on, back fuel.Amount) leg.Rescues { return leg.Rescues{On: on, Back: back} }
	if d := l.IfDry(to(on, back)); d.Outcome != leg.On || !d.Ahead || !d.Bare || math.Abs(float64(d.Spare)-0.5) > 1e-9 {
		t.Errorf("on: %+v", d)
	}
	if d := l.IfDry(to(back, on)); d.Outcome != leg.Back || d.Ahead || math.Abs(float64(d.Spare)-0.5) > 1e-9 {
		t.Errorf("back: %+v", d)
	}
	// At the most 5.3 likely litres are all: the way back may be what holds then.
	if d := l.IfDry(to(on, way(likelyOn(7, fuel.Most)-5))); d.Outcome != leg.On || d.High != leg.Back || d.Bare {
		t.Errorf("on, and back at the most: %+v", d)
	}
	far := way(5)
	d := l.IfDry(to(far, back))
	if d.Outcome != leg.Stranded || d.Ahead || d.Bare || d.Risk() != 2 {
		t.Errorf("stranded: %+v", d)
	}
	wantNear(t, "lack to the nearer", d.Spare, -1)
	wantNear(t, "lack without a can", l.DryLack(to(far, back), fuel.Likely), 1)
	wantNear(t, "at the most", l.DryLack(to(far, back), fuel.Most), float64(most(8))-7)
	if d := l.IfDryWith(8, to(far, back)); d.Outcome != leg.Back || d.Spare != 0 {
		t.Errorf("with the litres just worked out: %+v", d)
	}
}

// Outcomes, best first; of two that strand, the one that lacks less.
func TestDryNoWorse(t *testing.T) {
	order := []leg.Dry{
		{Outcome: leg.On}, {Outcome: leg.Back}, {Outcome: leg.Stranded, Spare: -1}, {Outcome: leg.Stranded, Spare: -2},
	}
	for i, a := range order {
		for k, b := range order {
			if got := a.NoWorse(b); got != (i <= k) {
				t.Errorf("%+v no worse than %+v: %v", a, b, got)
			}
		}
	}
	if (leg.Dry{Outcome: leg.On, Bare: true}).NoWorse(leg.Dry{Outcome: leg.On}) {
		t.Error("what fails at the most is no worse than what does not")
	}
}

// 240 km with a can of 4 L: all of it fits where the low use is 4 L.
func TestPourAllAtOnce(t *testing.T) {
	w := flat(0, 240)
	l := leg.Leg{Drink: w.Drink, Start: 10, Can: 4}.Judged()
	pours := w.Pours(l, 10)
	if len(pours) != 1 {
		t.Fatalf("%d pours, want 1", len(pours))
	}
	fits := likelyOn(4, fuel.Low)
	wantNear(t, "at", pours[0].At, fits/0.05*1e3)
	wantNear(t, "litres", pours[0].Litres, 4)
	wantNear(t, "used by then", pours[0].Used, fits)
	from, by := w.FullCan(10, 10, 4)
	wantNear(t, "fits from", from, fits/0.05*1e3)
	wantNear(t, "pour by", by, likelyOn(9, fuel.High)/0.05*1e3)
}

// A can is never poured beyond the end of a leg, and none is poured that is empty.
func TestNothingToPour(t *testing.T) {
	w := flat(0, 50)
	if p := w.Pours(leg.Leg{Drink: w.Drink, Start: 10, Can: 5}, 10); p != nil {
		t.Errorf("a full tank over 50 km: %v", p)
	}
	if p := flat(0, 240).Pours(leg.Leg{Drink: flat(0, 240).Drink, Start: 10}, 10); p != nil {
		t.Errorf("no can: %v", p)
	}
}

// 10.5 L of 91 RON; where 4 L fit, x are burnt, and 4 L of 98 go in: by volume
// (10.5−x)·91 + 4·98 over the litres together. The worst is what it set out on.
func TestBurnMixesByVolume(t *testing.T) {
	need := octane.FromRON(95)
	b := bike()
	w := flat(0, 240)
	l := leg.Leg{Drink: w.Drink, Start: 10, Can: 4}.Judged()
	low, good := octane.FromRON(91), octane.FromRON(98)
	burnt := l.Burn(b, w.Pours(l, b.Usable()), leg.Add(octane.Mixture{}, 10.5, &low, need), leg.Add(octane.Mixture{}, 4, &good, need))
	left := 10.5 - likelyOn(4, fuel.Low)
	wantNear(t, "mixture", burnt.Tank.Low(), (left*91+4*98)/(left+4))
	wantNear(t, "in the tank at the end", burnt.Tank.Volume(), 14.5-12)
	wantNear(t, "worst", burnt.Worst.Low(), 91)
	wantNear(t, "in the can", burnt.Can.Volume(), 0)
}

// Of those that meet the need the lowest with which it meets, else the highest; the scale of
// the need decides what is lower: 91 AKI is 95 to 96 RON. The 92 is never taken where one
// that meets is sold, however good the tank, and is nothing but worse where none is.
func TestTake(t *testing.T) {
	need := octane.FromRON(95)
	sold := leg.LowestFirst([]octane.Grade{octane.FromRON(98), octane.FromAKI(91), octane.FromRON(92)}, need)
	if sold[0] != octane.FromRON(92) || sold[1] != octane.FromAKI(91) || sold[2] != octane.FromRON(98) {
		t.Fatalf("order %v", sold)
	}
	for _, c := range []struct {
		meets func(octane.Grade) bool
		want  int
	}{
		{func(octane.Grade) bool { return true }, 1},
		{func(g octane.Grade) bool { return g == octane.FromRON(98) }, 2},
		{func(octane.Grade) bool { return false }, 2},
	} {
		if got := leg.Take(sold, need, c.meets); got != c.want {
			t.Errorf("takes %d, want %d", got, c.want)
		}
	}
	both := []octane.Grade{octane.FromRON(80), octane.FromRON(92)}
	if got := leg.Take(both, need, func(octane.Grade) bool { return true }); got != 1 {
		t.Errorf("where none meets it takes %d, want the highest", got)
	}
	if got := leg.Take(nil, need, nil); got != -1 {
		t.Errorf("of nothing known it takes %d", got)
	}
	if !leg.SellsMeeting(sold, need) || leg.SellsMeeting(sold[:1], need) {
		t.Error("which of them meet by themselves")
	}
	if leg.SellsOnlyBelow(nil, need) || !leg.SellsOnlyBelow(sold[:1], need) || leg.SellsOnlyBelow(sold[:2], need) {
		t.Error("where only what is below is sold")
	}
}

// The sizes sold, at their nominal mark: common practice, no source.
func TestSmallestCan(t *testing.T) {
	for _, c := range []struct {
		litres, want fuel.Litres
		tooBig       bool
	}{
		{0, 0, false}, {-1, 0, false}, {0.3, 1, false}, {1, 1, false}, {1 + 1e-12, 1, false}, {1.01, 1.5, false},
		{2.5, 3, false}, {5.01, 7.5, false}, {20, 20, false}, {20.01, 0, true},
	} {
		if got := leg.Cans(nil).Smallest(c.litres); got.Litres != c.want || got.TooBig != c.tooBig {
			t.Errorf("%v L: %+v, want %v", c.litres, got, c.want)
		}
	}
	last := -1
	for _, l := range []fuel.Litres{0, 1, 1.5, 2, 3, 4, 5, 7.5, 10, 15, 20, 21} {
		if r := leg.Cans(nil).Rank(leg.Cans(nil).Smallest(l)); r != last+1 {
			t.Errorf("rank of %v L is %d after %d", l, r, last)
		} else {
			last = r
		}
	}
}

// In a tank of another bike the same petrol is compared with its own need: 95 RON is 90
// to 91 AKI.
func TestMixtureAgainstAnotherNeed(t *testing.T) {
	need := octane.FromRON(95)
	m := leg.MixtureOf(octane.Mixture{}.AddGrade(10, need, need), need)
	for _, c := range []struct {
		need octane.Grade
		want octane.Verdict
	}{
		{octane.FromRON(98), octane.Below}, {octane.FromAKI(90), octane.Meets}, {octane.FromAKI(91), octane.Doubtful}, {octane.FromAKI(93), octane.Below},
	} {
		if got := m.Against(c.need); got != c.want {
			t.Errorf("95 RON for %s: %s, want %s", c.need, got, c.want)
		}
	}
	m.Verdict = octane.NotKnown
	if got := m.Against(need); got != octane.NotKnown {
		t.Errorf("not known: %s", got)
	}
}

// By road to another pump, at the most alone: 7 L are that for so many likely ones, of which 5
// are ridden.
func TestIfDryByRoad(t *testing.T) {
	l := leg.Leg{Drink: flat(0, 100).Drink, Start: 7}
	left := likelyOn(7, fuel.Most) - 5
	off := func(likely float64) leg.Rescues {
		return leg.Rescues{On: way(5), Back: way(5), Off: way(likely), HasOff: true}
	}
	spare := func(likely float64) float64 { return 7 - float64(most(5+likely)) }
	if d := l.IfDry(off(left - 0.02)); d.Outcome != leg.Off || d.High != leg.Off || !d.Aside || d.Bare || math.Abs(float64(d.Spare)-spare(left-0.02)) > 1e-9 {
		t.Errorf("off: %+v", d)
	}
	d := l.IfDry(off(left + 0.05)) // the likely figures would do
	if d.Outcome != leg.Stranded || !d.Aside || d.Risk() != 2 {
		t.Errorf("not at the most: %+v", d)
	}
	lack := spare(left + 0.05)
	wantNear(t, "lack", d.Spare, lack)
	for _, by := range []fuel.Figure{fuel.Likely, fuel.Most} {
		wantNear(t, "lack, at the most always", l.DryLack(off(left+0.05), by), -lack)
	}
	r := off(left - 0.02)
	r.On = way(1.5) // on holds on the likely figures, off at the most
	if d := l.IfDry(r); d.Outcome != leg.On || d.High != leg.Off || d.Bare || d.Risk() != 0 {
		t.Errorf("on, and off at the most: %+v", d)
	}
	wantNear(t, "the least of all", l.Through(r, fuel.Most), float64(most(5+left-0.02)))
	r.HasOff = false
	wantNear(t, "without a way", l.Through(r, fuel.Most), float64(most(6.5)))
	if d := l.IfDry(r); !d.Bare {
		t.Errorf("without a way: %+v", d)
	}
}
