package plan_test

import (
	"testing"

	"lastpump/fuel/leg"
	"lastpump/route"
)

// The tank may end on other ground than the leg: 100 km of paved road to A, sand
// behind it. 10 L are 100 km and 5 L of sand, as if A were not there.
func TestDryAtOnTheGroundAhead(t *testing.T) {
	in := ride(straight(t, 300), pump("A", 100, 0))
	in.Grounds.Sections = []route.Section{section(100, 300, route.Sand)}
	in.Options.Reserve.Share = 0.2
	l := make1(t, in).Legs[0]
	wantNear(t, "dry at", l.DryAt.Kilometres(), 100+5/sandKm)
	wantNear(t, "safe to", l.SafeTo.Kilometres(), 100+3/sandKm)
}

// Past the end of the line it goes on at the leg's mean rate: 50 km paved and 50 km
// of sand are 7 L, so 3 L more are 300/7 km.
func TestDryAtPastTheEnd(t *testing.T) {
	in := ride(straight(t, 100))
	in.Grounds.Sections = []route.Section{section(50, 100, route.Sand)}
	in.Bike.Odometer, in.Bike.TrueRate = 1.02, true
	l := make1(t, in).Legs[0]
	wantNear(t, "dry at", l.DryAt.Kilometres(), (100+3/0.07)*1.02)
}

// With less in the tank than is kept the reserve is never whole and there is no
// place to turn back from; the tank is dry where it is dry.
func TestTripFiguresUnderTheReserve(t *testing.T) {
	in := ride(straight(t, 100))
	in.Options.Reserve.Share, in.Options.HasStartFuel, in.Options.StartFuel = 0.2, true, 1.5
	l := make1(t, in).Legs[0]
	if l.SafeTo != 0 || l.TurnBack != 0 || l.TurnBackAt != in.Line.At(0) {
		t.Errorf("safe to %v, turn back %v at %v", l.SafeTo, l.TurnBack, l.TurnBackAt)
	}
	wantNear(t, "dry at", l.DryAt.Kilometres(), 30)
	in.Options.StartFuel = 0
	if l = make1(t, in).Legs[0]; l.DryAt != 0 || l.Verdict != leg.Short {
		t.Errorf("with nothing in the tank: dry at %v, %s", l.DryAt, l.Verdict)
	}
}

// The half detour comes first. A lies 1 km off in sand from km 90 to 110, so 1.3 km
// of it are ridden before the line is reached.
func TestTripFiguresBehindADetour(t *testing.T) {
	in := ride(straight(t, 400), pump("A", 100, 1))
	in.Grounds.Sections = []route.Section{section(90, 110, route.Sand)}
	in.Options.Reserve.Share = 0.15
	l := make1(t, in).Legs[1]
	sand := 1.3*sandKm + 10*sandKm
	wantNear(t, "safe to", l.SafeTo.Kilometres(), 11.3+(8.5-sand)/likelyKm)
	wantNear(t, "dry at", l.DryAt.Kilometres(), 11.3+(10-sand)/likelyKm)
	wantNear(t, "turn back", l.TurnBack.Kilometres(), 11.3+(8.5-2*sand)/(2*likelyKm))
	wantNear(t, "there, km north", (l.TurnBackAt.Lat()-40)*perDegree, 100+10+(8.5-2*sand)/(2*likelyKm))

	in.Options.Reserve.Share = 0.99 // 0.1 L: less than the 0.117 of the half detour
	l = make1(t, in).Legs[1]
	wantNear(t, "safe to, on the detour", l.SafeTo.Kilometres(), 0.1/sandKm)
	wantNear(t, "turn back, on the detour", l.TurnBack.Kilometres(), 0.05/sandKm)
	wantNear(t, "there, km north", (l.TurnBackAt.Lat()-40)*perDegree, 100)
}

// 8.5 L are 85 km out and back. The stop ahead lies 2 km off the line, so 2.6 km
// of the leg are its half detour; the place is where that leaves the line.
func TestTurnBackOnTheWayToAStop(t *testing.T) {
	for _, c := range []struct{ km, want, at float64 }{
		{80, 80 + 2.6, 80}, // turning at the pump still works
		{84, 85, 84},       // 1 km up the detour
		{90, 85, 85},
	} {
		in := ride(straight(t, 250), pump("A", c.km, 1.9999999999))
		in.Options.Reserve.Share = 0.15
		l := make1(t, in).Legs[0]
		if !near(l.TurnBack.Kilometres(), c.want) || !near((l.TurnBackAt.Lat()-40)*perDegree, c.at) {
			t.Errorf("A at km %v: turn back by %v at %v, want %v at %v", c.km,
				l.TurnBack.Kilometres(), (l.TurnBackAt.Lat()-40)*perDegree, c.want, c.at)
		}
	}
}

// Going back swaps climb and descent. Up 1500 m in the first 30 km, or down them:
// there and back again both climb them once.
func TestTurnBackSwapsTheClimb(t *testing.T) {
	for name, height := range map[string]func(km float64) float64{
		"up first":   func(km float64) float64 { return 50 * min(km, 30) },
		"down first": func(km float64) float64 { return 1500 - 50*min(km, 30) },
	} {
		in := ride(lineThrough(t, rising(150, height)))
		in.Options.Reserve.Share = 0.15
		l := make1(t, in).Legs[0]
		wantNear(t, name, l.TurnBack.Kilometres(), (8.5-1500*climbL)/(2*likelyKm))
	}
}

// --since-fill takes the distance off at the first leg's rate, here that of sand.
func TestSinceFillAtTheFirstLegsRate(t *testing.T) {
	in := ride(straight(t, 200), pump("A", 50, 0))
	in.Grounds.Sections = []route.Section{section(0, 50, route.Sand)}
	in.Options.SinceFill = 40000
	p := make1(t, in)
	wantNear(t, "start", p.Legs[0].Start, 10-40*sandKm)
	wantNear(t, "after A", p.Legs[1].Start, 10)
	wantNear(t, "fill at A", p.Visits[0].Fill.Litres, 90*sandKm)
}
