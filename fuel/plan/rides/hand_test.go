package rides_test

import (
	"math"
	"testing"

	"lastpump/fuel"
	"lastpump/route"
	"lastpump/testdata/kit/drawn"
)

// wantNear compares litres or metres that were worked out by hand; a strip lies on
// the sphere to the last bit, but its points do not.
func wantNear(t *testing.T, what string, got, want float64) {
	t.Helper()
	if math.Abs(got-want) > 1e-6*max(1, math.Abs(want)) {
		t.Errorf("%s = %.9g, want %.9g", what, got, want)
	}
}

// onStrip is a loop along a strip on one ground without a plan: its sheet has the
// stops given and nothing else.
func onStrip(tracks []route.Track, ground route.Ground, b fuel.Bike, stops ...entry) *loop {
	l := &loop{road: newRoad(tracks, stretched(1), route.Grounds{Default: ground}), engine: newEngine(b, 1), sheet: &sheet{stops: stops}}
	l.measure()
	l.pavedRange = float64(b.Tank) / float64(b.Consumption) * 100e3
	l.sheet.legs = make([]way, len(stops)-1)
	l.sheet.numberPlaces()
	return l
}

// pumpAt is a pump on the line at a kilometre.
func pumpAt(km float64) entry { return entry{name: "pump", km: km * 1000, pump: true, sure: true} }

// likely is the fate of one who drinks the likely figures and has no mishaps.
func (l *loop) likely() fate {
	return fate{pace: l.engine.steady(1, 0), dry: -1, silent: make([]bool, len(l.sheet.stops))}
}

// A level straight 100 km of sand at 5 L/100 km on paved road, 1.8 times as much here: one who is
// at the end of a band takes as much as one tank on sand alone may.
func TestSandByHand(t *testing.T) {
	l := onStrip(strip(100, 200, level), route.Sand, ten(), pumpAt(0), pumpAt(100))
	low, high := drawn.SteadyOn(5*1.8, 1)
	for where, want := range map[float64]float64{-1: low, 0: 5 * 1.8, 1: high, 0.5: (5*1.8 + high) / 2} {
		wantNear(t, "sand", l.engine.steady(1, where).between(l.road, 0, 100e3), want)
	}
}

// 1000 m up lift 260 kg with a quarter of 32.05 MJ/L: 260 x 9.80665 x 1000 / (0.25 x
// 32.05e6) = 0.3182 L. Down is free; backwards it is the other way round. Bumps of 9
// m are noise, bumps of 11 are not: the last of them is climbed up only.
func TestClimbByHand(t *testing.T) {
	const lift = 260 * 9.80665 * 1000 / (0.25 * 32.05e6)
	flat, high := 0.05*60, 0.05*60*1.155
	tri := func(size float64) func(float64) float64 {
		return func(km float64) float64 { return size * math.Abs(math.Remainder(km, 2)) } // up and down in 2 km
	}
	for _, c := range []struct {
		name                 string
		height               func(km float64) float64
		there, back, highest float64
	}{
		{"pass", func(km float64) float64 { return 50 * min(km, 20) }, flat + lift, flat, high + 1.155*lift},
		{"noise", tri(9), flat, flat, high},
		{"bumps", tri(11), flat + 30*0.011*lift, flat + 30*0.011*lift, high + 1.155*30*0.011*lift},
		// 60 km not known, 8 m a km, 18 in the high figure
		{"unknown", func(float64) float64 { return math.NaN() }, flat + 60*0.008*lift, flat + 60*0.008*lift,
			high + 1.155*60*0.018*lift},
		// 32 km from height to height, which are over 1 km and so not known, though 1000 m higher behind them
		{"hole", func(km float64) float64 {
			switch {
			case km < 15:
				return 0
			case km > 45:
				return 1000
			}
			return math.NaN()
		}, flat + 32*0.008*lift, flat + 32*0.008*lift, high + 1.155*32*0.018*lift},
	} {
		l := onStrip(strip(60, 1000, c.height), route.Paved, ten(), pumpAt(0), pumpAt(60))
		likely, most := l.engine.steady(1, 0), l.engine.steady(1, 1)
		wantNear(t, c.name, likely.between(l.road, 0, 60e3), c.there)
		wantNear(t, c.name+" backwards", likely.between(l.road, 60e3, 0), c.back)
		wantNear(t, c.name+" at the high figure", most.between(l.road, 0, 60e3), c.highest)
	}
}

// A bike that shows 105 where 100 are ridden was measured in its own kilometres: it
// drinks 5.25 L on 100 true ones, with thirst 1.1 and E10 after E0 more.
func TestOdometerAndPetrolByHand(t *testing.T) {
	b := ten()
	b.Odometer, b.MeasuredOn, b.RiddenOn = 1.05, 0, 0.10
	e10 := 1 / (0.9 + 0.1*76.0/115)
	wantNear(t, "a metre", newEngine(b, 1.1).flat[0].likely, 5.25e-5*1.1*e10)
	b.TrueRate = true
	wantNear(t, "a metre at the true rate", newEngine(b, 1).flat[0].likely, 5e-5*e10)
	l := onStrip(strip(100, 200, level), route.Paved, b, pumpAt(0), pumpAt(100))
	r := l.set(l.likely(), l.sheet)
	if end := r.bySheet(); end != finished {
		t.Fatal(end)
	}
	wantNear(t, "trip", r.trip, 105e3)
}

// 100 km of line with a stretch of 1.1 and a hole of 5 km in it, which is ridden at
// 1.3: 95 x 1.1 + 5 x 1.3 km.
func TestStretchAndGapByHand(t *testing.T) {
	points := strip(100, 200, level)[0].Segments[0]
	tracks := []route.Track{{Segments: [][]route.Point{points[:201], points[225:]}}} // km 40 to 45 are left out
	r := newRoad(tracks, stretched(1.1), route.Grounds{})
	wantNear(t, "line", r.length(), 100e3)
	wantNear(t, "ridden", r.ridden(0, 100e3), 95e3*1.1+5e3*1.3)
}

// At the likely figure a rider has saved 50 x (0.05775 - 0.05) = 0.3875 L after 50 km,
// which are 7.75 km: 3.875 km out and back, however far he would go. One at the high
// figure has saved nothing.
func TestWrongTurnByHand(t *testing.T) {
	l := onStrip(strip(100, 200, level), route.Paved, ten(), pumpAt(0), pumpAt(100))
	f := l.likely()
	f.turns = []wrongTurn{{50e3, 6e3}}
	r := l.set(f, l.sheet)
	r.bySheet()
	wantNear(t, "trip", r.trip, 107.75e3)
	wantNear(t, "tank", r.tank, 10-107.75*0.05)
	f.turns[0].out = 2e3
	r = l.set(f, l.sheet)
	r.bySheet()
	wantNear(t, "trip of a shorter one", r.trip, 104e3)
	f.pace = l.most
	r = l.set(f, l.sheet)
	r.bySheet()
	wantNear(t, "trip at the high figure", r.trip, 100e3)
}

// 3 L in the can, told to pour at 40 km: 2 L are drunk by then and 2 fit; the last
// litre goes in when one is left in the tank, at 220 km. 260 km are the end of 13 L.
func TestPouringByHand(t *testing.T) {
	l := onStrip(strip(250, 200, level), route.Paved, ten(), pumpAt(0), pumpAt(250))
	l.sheet.stops[0].can = true
	l.sheet.legs[0] = way{can: 3, pour: true, fits: 40e3, pourBy: 40e3}
	r := l.set(l.likely(), l.sheet)
	if end := r.bySheet(); end != finished {
		t.Errorf("%v with 13 L on 250 km", end)
	}
	wantNear(t, "tank", r.tank, 0.5)
	wantNear(t, "poured", r.poured, 3)
	l.sheet.legs[0] = way{}
	r = l.set(l.likely(), l.sheet)
	if end := r.bySheet(); end != ranDry || math.Abs(r.strandAt-200e3) > 201 { // a step is 200 m
		t.Errorf("%v at km %.1f with 10 L, want dry at 200", end, r.strandAt/1000)
	}
	// Half way between 40, where it fits, and 60.
	l.sheet.legs[0] = way{can: 1, pour: true, fits: 40e3, pourBy: 60e3}
	f := l.likely()
	f.pour = 0.5
	r = l.set(f, l.sheet)
	r.fill(0)
	wantNear(t, "where it is poured", r.pourAt, 50e3)
}

// Detours of 1 km there: half of it on each leg, and no stretch.
func TestDetourByHand(t *testing.T) {
	middle := pumpAt(60)
	middle.half = 1000
	l := onStrip(strip(100, 200, level), route.Paved, ten(), pumpAt(0), middle, pumpAt(100))
	r := l.set(l.likely(), l.sheet)
	if end := r.bySheet(); end != finished {
		t.Fatal(end)
	}
	wantNear(t, "trip", r.trip, 41e3)
	wantNear(t, "tank", r.tank, 10-41*0.05)
}

// Steps of 10 m and of 1 km come to the same.
func TestStepsByHand(t *testing.T) {
	hill := func(km float64) float64 { return 20 * math.Min(km, 100-km) }
	var tanks []float64
	for _, every := range []float64{10, 1000} {
		l := onStrip(strip(100, every, hill), route.Dirt, ten(), pumpAt(0), pumpAt(100))
		r := l.set(l.likely(), l.sheet)
		r.bySheet()
		tanks = append(tanks, r.tank)
	}
	wantNear(t, "tank", tanks[0], tanks[1])
}
