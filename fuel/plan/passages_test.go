package plan_test

import (
	"testing"

	"lastpump/fuel"
	"lastpump/fuel/stop"
	"lastpump/fuel/trip"
	"lastpump/octane"
	"lastpump/route"
	"lastpump/testdata/kit/drawn"
)

// A stop is visited within the corridor, and on the line up to 300 m off (design,
// stops on the line).
func TestCorridorAndOnLineBorders(t *testing.T) {
	in := ride(straight(t, 100), pump("A", 50, 1.5), pump("other", 80, 0))
	missed := border(t, 100, 3000, func(m float64) bool {
		in.Options.Corridor = route.Metres(m)
		return len(make1(t, in).NotUsed) == 1
	})
	wantNear(t, "visited from a corridor of", missed, 1500)
	free := border(t, 0, 1, func(off float64) bool {
		return make1(t, ride(straight(t, 100), pump("A", 50, off))).Visits[0].Detour == 0
	})
	wantNear(t, "no detour up to, km", free, 0.3)
	far := make1(t, ride(straight(t, 100), pump("other", 80, 0), pump("A", 50, 3))).NotUsed
	if len(far) != 1 || far[0].Stop != "A" {
		t.Fatalf("not used: %v", far)
	}
	wantNear(t, "off", far[0].Off.Kilometres(), 3)
}

// There and back over a turn d km beyond the stop: two passages only if the line
// goes beyond twice the corridor (d > 2c) and 5 km lie between leaving and entering
// it again (2(d − c) ≥ 5).
func TestOnceOrTwicePassed(t *testing.T) {
	for _, c := range []struct {
		corridor, turn float64
		visits         int
	}{
		{2, 3, 1},   // inside 4 km
		{2, 4.4, 1}, // beyond, but 4.8 km apart
		{2, 4.6, 2}, // beyond, and 5.2 km apart
		{3, 5.9, 1}, // 5.8 km apart, but inside 6 km
		{3, 6.1, 2},
		{1, 3.4, 1}, // beyond 2 km, 4.8 km apart
		{1, 3.6, 2},
	} {
		in := ride(lineThrough(t, newPen().North(50+c.turn).North(-30).Points), pump("A", 50, 0))
		in.Options.Corridor = route.Kilometres(c.corridor)
		if p := make1(t, in); len(p.Visits) != c.visits {
			t.Errorf("corridor %v km, turning %v km on: %d visits, want %d", c.corridor, c.turn, len(p.Visits), c.visits)
		}
	}
}

// On a square the pump at the trailhead is start and end; on a figure eight it is
// passed in the middle, too.
func TestLoopsPassTheTrailhead(t *testing.T) {
	p := make1(t, ride(square(t, 30), pump("home", 0, 0), pump("corner", 30, 0)))
	drawn.WantNames(t, p, "home", "corner", "home")
	last := p.Legs[1]
	if len(p.Legs) != 2 || key(p, last.From) != "corner" || key(p, last.To) != "end" || last.ToVisit != 2 || p.Legs[0].FromVisit != 0 {
		t.Errorf("legs %+v", p.Legs)
	}
	wantNear(t, "the square", p.Loop.Ridden.Kilometres(), 30+30+30+30/narrower(30))
	at := func(e trip.End) string { return p.Stops[e.Stop].Name }
	if at(last.From) != "corner" || at(last.To) != "home" || at(p.Legs[0].From) != "home" || !p.Line.Closed {
		t.Errorf("from %+v to %+v, start %+v", last.From, last.To, p.Legs[0].From)
	}

	p = make1(t, ride(eight(t, 30), pump("home", 0, 0)))
	drawn.WantNames(t, p, "home", "home", "home")
	wantNear(t, "first lobe", p.Legs[0].Drink.Ridden.Kilometres(), 3*30+30/narrower(30))
	wantNear(t, "second lobe", p.Legs[1].Drink.Ridden.Kilometres(), 3*30+30/narrower(-30))
}

// The way to a stop off the line, 2 × 1.3 × 1 km, is ridden half on each leg, on
// the ground that the line has there, without stretch or climb; it is in the
// kilometres and the litres of that ground.
func TestDetourOnTheGroundThere(t *testing.T) {
	points := rising(200, func(km float64) float64 { return 10 * km })
	in := ride(lineWith(t, route.LineOptions{Stretch: 1.2}, points), pump("A", 100, 1))
	in.Grounds.Sections = []route.Section{section(90, 110, route.Sand)}
	p := make1(t, in)
	wantNear(t, "detour", p.Visits[0].Detour.Kilometres(), 2.6)
	for i, l := range p.Legs {
		wantNear(t, "ridden", l.Drink.Ridden.Kilometres(), 100*1.2+1.3)
		wantNear(t, "detour litres", l.Detour, 1.3*sandKm)
		wantNear(t, "climb litres", l.Drink.Climb, 1000*climbL)
		wantNear(t, "likely", l.Drink.Fuel.Likely, 90*1.2*likelyKm+(10*1.2+1.3)*sandKm+1000*climbL)
		paved, sand := l.Drink.Grounds[0], l.Drink.Grounds[1]
		if len(l.Drink.Grounds) != 2 || paved.Ground != route.Paved || sand.Ground != route.Sand {
			t.Fatalf("leg %d: grounds %+v", i, l.Drink.Grounds)
		}
		wantNear(t, "paved", paved.Ridden.Kilometres(), 90*1.2)
		wantNear(t, "sand", sand.Ridden.Kilometres(), 10*1.2+1.3)
		wantNear(t, "litres on sand", sand.Likely, (10*1.2+1.3)*sandKm)
	}
}

// Where a gap was ridden nobody knows: its straight brings no stop onto the line.
func TestAGapPassesNoStop(t *testing.T) {
	a, b := newPen().North(50), newPen()
	b.Here = at(70, 0)
	b.Points = nil
	b.Dot().North(50)
	p := make1(t, ride(lineThrough(t, a.Points, b.Points), pump("between", 60, 0), pump("A", 30, 0)))
	drawn.WantNames(t, p, "A")
	if len(p.NotUsed) != 1 || p.NotUsed[0].Stop != "between" {
		t.Fatalf("not used %v", p.NotUsed)
	}
	wantNear(t, "off", p.NotUsed[0].Off.Kilometres(), 10)
	wantNear(t, "ridden", p.Loop.Ridden.Kilometres(), 50+1.3*20+50)
}

// The rest of the model in one leg: odometer, ethanol, thirst. 5 L per 100 km
// shown are 5.15 per 100 ridden; E0 has 115 000 Btu per US gallon, ethanol 76 000
// (US Department of Energy), so E10 has 1 − 0.1 × 39/115 of the energy.
func TestLitresOfALeg(t *testing.T) {
	in := ride(lineThrough(t, rising(100, func(km float64) float64 { return 8 * km })))
	in.Bike.Odometer, in.Bike.MeasuredOn, in.Bike.RiddenOn = 1.03, 0, 0.10
	in.Options.Thirst = 1.15
	whole := 1 / (1 - 0.1*39.0/115) * 1.15
	flat, climb := 100*0.05*1.03*whole, 800*climbL*whole
	f := make1(t, in).Legs[0].Drink.Fuel
	wantNear(t, "low", f.Low, drawn.LowShare*(flat+climb))
	wantNear(t, "likely", f.Likely, flat+climb)
	wantNear(t, "high", f.High, drawn.HighShare*(flat+climb))
}

// Only seen and phoned stops are counted with --trust phoned, only seen ones with
// --trust seen.
func TestTrust(t *testing.T) {
	var stops []stop.Stop
	for i, s := range stop.Standings() {
		stops = append(stops, pump(string(s), float64(20*(i+1)), 0))
		stops[i].Standing = s
	}
	for trust, want := range map[stop.Standing][]string{
		stop.Seen:   {"", "only phoned", "only map", "hearsay"},
		stop.Phoned: {"", "", "only map", "hearsay"},
		stop.Map:    {"", "", "", "hearsay"},
	} {
		in := ride(straight(t, 100), stops...)
		in.Options.Trust = trust
		for i, v := range make1(t, in).Visits {
			if string(v.WhyNot) != want[i] || v.Counted != (want[i] == "") {
				t.Errorf("--trust %s, %s: %q, want %q", trust, v.Stop.Name, v.WhyNot, want[i])
			}
		}
	}
}

// An uncounted stop is shown where it is passed; it neither fills nor ends a leg,
// and its way there is not ridden.
func TestUncountedStopsCostNothing(t *testing.T) {
	said := pump("said", 50, 1.5)
	said.Standing = stop.Hearsay
	p := make1(t, ride(straight(t, 100), said))
	v := p.Visits[0]
	if v.Counted || v.Detour != 0 || v.Fill != nil || v.IfDry != nil || v.LastFuel != nil || len(p.Legs) != 1 {
		t.Errorf("%+v", v)
	}
	wantNear(t, "off", v.Off.Kilometres(), 1.5)
	wantNear(t, "ridden", p.Loop.Ridden.Kilometres(), 100)
}

// The nearest counted stop to the start, straight.
func TestNearestToTheStart(t *testing.T) {
	said := pump("said", 5, 0)
	said.Standing = stop.Hearsay
	p := make1(t, ride(straight(t, 100), pump("A", 40, 0), said, pump("off", 0, -12)))
	if p.Start.Nearest != "off" {
		t.Errorf("nearest %q", p.Start.Nearest)
	}
	wantNear(t, "away", p.Start.Away.Kilometres(), 12)
	if !p.Start.Assumed || p.Start.Grade != octane.FromRON(95) || p.Start.Fuel != fuel.Litres(10) {
		t.Errorf("start %+v", p.Start)
	}
}
