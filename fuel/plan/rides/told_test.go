package rides_test

import (
	"testing"

	"lastpump/route"
)

// threePumps is a paved strip of 240 km with pumps at 0, 80 and 160, whose sheet says
// what is set here: turn back by 50 km.
func threePumps() *loop {
	l := onStrip(strip(240, 200, level), route.Paved, ten(), pumpAt(0), pumpAt(80), pumpAt(160), pumpAt(240))
	for i := range l.sheet.stops {
		l.sheet.stops[i].name = string(rune('A' + i))
	}
	for i := range l.sheet.legs {
		l.sheet.legs[i].turnBack = 50e3
	}
	return l
}

// Without word from B a rider turns at 50 km, is back with 10 - 100 x 0.05 = 5 L, and
// sets out once more.
func TestTurningBack(t *testing.T) {
	l := threePumps()
	f := l.likely()
	f.silent[1] = true
	r := l.set(f, l.sheet)
	if end := r.bySheet(); end != finished || r.turnedFor != 1 {
		t.Errorf("%v, turned back %d times", end, r.turnedFor)
	}
	wantNear(t, "the least in the tank", r.least, 5)

	// Told to turn at 101 km there is no need to: B is nearer. Told so on a leg of 160
	// km he is dry before he is back.
	l.sheet.stops = append(l.sheet.stops[:1], l.sheet.stops[2:]...)
	l.sheet.legs = l.sheet.legs[:2]
	l.sheet.legs[0].turnBack = 101e3
	r = l.set(f, l.sheet)
	if end := r.bySheet(); end != ranDry || r.strandAt > 2.2e3 {
		t.Errorf("%v at km %.1f, want dry at km 2", end, r.strandAt/1000)
	}
}

// What is done about a dry pump at km 80, with 6 L left.
func TestDryPumpByHand(t *testing.T) {
	for _, c := range []struct {
		name   string
		say    word
		to     string
		noWord bool
		end    ending
		least  float64
	}{
		{"on: 160 km on one tank", goOn, "C", false, finished, 2},
		{"back: 80 there, 80 back", goBack, "A", false, safe, 2},
		{"no word, on: back from 50 km, then past it", goOn, "C", true, finished, 2},
		{"no word, back: back from 50 km, and stays", goBack, "A", true, safe, 5},
		{"on too far", goOn, "D", false, ranDry, 0},
	} {
		l := threePumps()
		l.sheet.stops[1].dry, l.sheet.stops[1].to = c.say, c.to
		f := l.likely()
		f.dry, f.noWord = 1, c.noWord
		r := l.set(f, l.sheet)
		if end := r.bySheet(); end != c.end {
			t.Errorf("%s: %v", c.name, end)
		}
		if c.end != ranDry {
			wantNear(t, c.name+": the least in the tank", r.least, c.least)
		}
	}
}

// The habits on the same strip. At half tank one rides past B with 6 L, and fills at C
// with 2; 80 % of 10.5/0.05 = 210 km are 168, so that the other one fills at C too.
// With C dry both have 2 L for the 80 km to D or back to B. The third fills at each
// and turns round on none: half a tank lasts beyond half way.
func TestHabitsByHand(t *testing.T) {
	for i, c := range []struct{ wet, dry ending }{{finished, ranDry}, {finished, ranDry}, {finished, finished}} {
		l := threePumps()
		f := l.likely()
		if end := l.set(f, l.sheet).byHabit(habits[i]); end != c.wet {
			t.Errorf("%s: %v", habits[i].name, end)
		}
		f.dry = 2
		if end := l.set(f, l.sheet).byHabit(habits[i]); end != c.dry {
			t.Errorf("%s, C dry: %v", habits[i].name, end)
		}
	}
	// On 240 km without a pump half a tank is gone at km 100, before half way.
	l := onStrip(strip(240, 200, level), route.Paved, ten(), pumpAt(0), pumpAt(240))
	r := l.set(l.likely(), l.sheet)
	if end := r.byHabit(habits[2]); end != safe || r.at != 0 {
		t.Errorf("%v at %.1f km", end, r.at/1000)
	}
	wantNear(t, "left on coming back", r.tank, 0)
}

// What is read from the plan of a paved strip with a 3 L can and pumps at 200 and 206
// km of 356. At the high figure 13 L are 225.1 km, there and back 112.6. 3 L fit when
// 3 L are gone at the low figure of 5 ÷ 1.155 L/100 km, after 69.3 km, and one
// is left at the high one after 9 of 10 L, at 155.8. If B is dry, C is 6 km on.
func TestSheetByHand(t *testing.T) {
	d := stripDraft(356, level, 200, 206)
	d.in.Bike.Can = 3
	l, err := d.make()
	if err != nil {
		t.Fatal(err)
	}
	if want := (way{can: 3, pour: true, fits: 70e3, pourBy: 155e3, turnBack: 112e3}); l.sheet.legs[0] != want {
		t.Errorf("leg 1: %+v, want %+v", l.sheet.legs[0], want)
	}
	b := l.sheet.stops[1]
	if wantNear(t, "B at", b.km, 200e3); b.dry != goOn || b.to != "C" || !b.pump || b.sure || b.half != 0 {
		t.Errorf("B: %+v", b)
	}
	if start, end := l.sheet.stops[0], l.sheet.stops[3]; !start.pump || end.pump || end.name != "end" {
		t.Errorf("from %+v to %+v", start, end)
	}
}

// A place is dry whole, and at each passing.
func TestPlacesOfASheet(t *testing.T) {
	s := &sheet{stops: []entry{
		{name: "start", also: []string{"home"}}, {name: "A", also: []string{"A", "A2"}}, {name: "B", also: []string{"B"}},
		{name: "A2", also: []string{"A2", "A3"}}, {name: "A3", also: []string{"A3"}}, {name: "end"},
	}}
	s.numberPlaces()
	same := func(i, j int) bool { return s.stops[i].place == s.stops[j].place }
	if !same(1, 3) || !same(3, 4) || same(1, 2) || same(0, 1) || same(0, 5) {
		t.Errorf("places of %+v", s.stops)
	}
}
