package rides_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"sync"
	"testing"

	"lastpump/fuel/plan"
	"lastpump/route"
	"lastpump/testdata/kit"

	"github.com/paulmach/orb"
)

// chosen are drawn loops and the two examples, filled at where it serves the ride best: in a
// long run all of them. On the last two drawn ones riders went down a side road to a dry pump
// where they had nothing to spare for that.
var chosen = sync.OnceValues(func() ([]*loop, error) {
	var some []uint64
	for i, seed := range seeds() {
		if kit.Long() || i%8 == 0 {
			some = append(some, seed)
		}
	}
	return makeLoops(plan.FillChosen, append(some, 471, 569))
})

// chosenHolding gives the loops of chosen stops whose plan promises that nobody runs dry.
func chosenHolding(t *testing.T) (holding []*loop) {
	t.Helper()
	all, err := chosen()
	if err != nil {
		t.Fatal(err)
	}
	for _, l := range all {
		if l.holds {
			holding = append(holding, l)
		}
	}
	if 10*len(holding) < 9*len(all) {
		t.Fatalf("only %d of %d loops of chosen stops hold", len(holding), len(all))
	}
	return holding
}

// Nobody runs dry on chosen stops either, who drinks up to the high figure and finds up to one
// place dry, whether it is filled at or passed. Passed pumps are of use: some fill there for want
// of petrol, and some because another is dry.
func TestNobodyRunsDryOnChosenStops(t *testing.T) {
	holding := chosenHolding(t)
	count, beside, rescued := tally{}, 0, 0
	for _, r := range rideAll(holding, ridesHolding, 10) {
		wantAccounts(t, r)
		count.add(r)
		beside, rescued = beside+r.rider.beside, rescued+r.rider.rescued
		if r.end == ranDry && count.ranDry <= 10 {
			t.Error(r)
		}
	}
	if count.ranDry > 0 {
		t.Errorf("%.0f ran dry", count.ranDry)
	}
	if count.wetFinished < 0.95*count.wet {
		t.Errorf("of %.0f rides without a dry pump %.0f finish", count.wet, count.wetFinished)
	}
	if beside < 50 || rescued < 50 {
		t.Errorf("at passed pumps only %d filled for want of petrol, %d because another was dry", beside, rescued)
	}
	t.Logf("%d loops hold: %s; at passed pumps %d filled for want of petrol, %d because another was dry", len(holding), count, beside, rescued)
}

// On the same loops, with the same tanks, riders stop less often than where they fill at every
// counted stop.
func TestChosenStopsCompared(t *testing.T) {
	scores := []score{{name: "chosen stops"}, {name: "every counted stop"}}
	var loops []*loop
	for _, l := range chosenHolding(t) {
		if l.everywhere.holds {
			loops = append(loops, l)
		}
	}
	rnd := rand.New(rand.NewPCG(11, 1))
	for i := range compared {
		one := loops[i%len(loops)]
		for k, l := range []*loop{one, one.everywhere} {
			r := l.set(l.draw(rnd), l.sheet)
			end := r.bySheet()
			scores[k].add(r, float64(l.plan.Bike.Can), end)
		}
	}
	if few, every := scores[0], scores[1]; few.ranDry+every.ranDry > 0 || few.stops >= every.stops {
		t.Errorf("%v\n%v", few, every)
	}
	t.Log(table(fmt.Sprintf("the %d loops on which both hold", len(loops)), scores))
}

// A sheet that forgets the pumps that are passed, and sends on to the next fill where another
// is dry, strands riders who get home without that.
func TestForgottenPumpsAreFound(t *testing.T) {
	rnd := rand.New(rand.NewPCG(12, 1))
	rides, with, anyway := 0, 0, 0
	for _, l := range chosenHolding(t) {
		s := read(l.plan, l.road)
		forgotten := s.passed
		s.passed = nil
		for i := range s.stops[:s.last()] {
			if e := &s.stops[i]; slices.ContainsFunc(forgotten, func(p passed) bool { return p.name == e.to }) {
				e.dry, e.to = goOn, s.stops[i+1].name
			}
		}
		n := kit.Share(80, 4)
		a, b := strandings(l, s, rnd, n)
		rides, with, anyway = rides+n, with+a, anyway+b
	}
	if with == 0 || anyway > 0 {
		t.Errorf("strands %d of %d, of them %d without it too", with, rides, anyway)
	}
	t.Logf("strands %d of %d", with, rides)
}

// passing is a paved strip of 240 km with pumps at 0, 80 and 240, and one that is passed, 1 km off it.
func passing(km float64, p passed) *loop {
	p.entry = pumpAt(km)
	p.name, p.also, p.half = "P", []string{"P"}, 1000
	l := onStrip(strip(240, 200, level), route.Paved, ten(), pumpAt(0), pumpAt(80), pumpAt(240))
	for i := range l.sheet.stops {
		e := &l.sheet.stops[i]
		e.name = string(rune('A' + i))
		e.also = []string{e.name}
	}
	for i := range l.sheet.legs {
		l.sheet.legs[i].turnBack = never
	}
	l.sheet.passed = []passed{p}
	l.sheet.numberPlaces()
	return l
}

// On likely figures of 0.05 L/km.
func TestPassedPumpsByHand(t *testing.T) {
	for _, c := range []struct {
		name        string
		at          float64 // of P
		under       float64
		dry         string
		word        word
		end         ending
		least, left float64
		stops       int
	}{
		{"past it with 7.5 L", 130, 7, "", nothing, finished, 2, 2, 2},
		{"to it with 7.5 L", 130, 8, "", nothing, finished, 10 - 111*0.05, 10 - 111*0.05, 3},
		{"to it in vain", 130, 8, "P", nothing, finished, 10 - 162*0.05, 10 - 162*0.05, 2},
		{"on to it from a dry pump", 130, 0, "B", goOn, finished, 10 - 131*0.05, 10 - 111*0.05, 2},
		{"back to it from a dry pump", 40, 0, "B", goBack, safe, 10 - 121*0.05, 10 - 121*0.05, 1},
		{"back to one of the same place", 78, 0, "B", goBack, ranDry, 0, 0, 1},
	} {
		l := passing(c.at, passed{leg: int(c.at / 80), under: c.under})
		l.sheet.stops[1].dry, l.sheet.stops[1].to = c.word, "P"
		f := l.likely()
		switch c.dry {
		case "B":
			f.dry = l.sheet.stops[1].place
		case "P":
			f.dry = l.sheet.passed[0].place
		}
		r := l.set(f, l.sheet)
		if end := r.bySheet(); end != c.end || r.stops != c.stops {
			t.Errorf("%s: %v with %d fills, want %v with %d", c.name, end, r.stops, c.end, c.stops)
		}
		if c.end != ranDry {
			wantNear(t, c.name+": the least in the tank", r.least, c.least)
			wantNear(t, c.name+": left", r.tank, c.left)
		}
	}
}

// The can is filled at a passed pump as the sheet has it on that leg.
func TestCanAtAPassedPumpByHand(t *testing.T) {
	l := passing(130, passed{leg: 1})
	l.sheet.stops[1].dry, l.sheet.stops[1].to, l.sheet.legs[1].can = goOn, "P", 2
	f := l.likely()
	f.dry = l.sheet.stops[1].place
	r := l.set(f, l.sheet)
	r.bySheet()
	wantNear(t, "in the can", r.can, 2)
}

// On 240 km of paved strip B at 120 is filled at, for P at 80 lies off the road. At P, with 40
// km to B, and back from there if B is dry, it takes 80 km and the way down the side road at the
// most, 0.05 × 1.155^1.3 L/km, to ride on.
func TestPassedPumpsOfASheetByHand(t *testing.T) {
	d := stripDraft(240, level, 120, 80)
	d.in.Options.FillAt = plan.FillChosen
	d.in.Stops[2].At = orb.Point{20.012, d.in.Stops[2].At[1]}
	l, err := d.make()
	if err != nil {
		t.Fatal(err)
	}
	s := l.sheet
	if len(s.stops) != 3 || len(s.passed) != 1 || s.stops[1].name != "B" || s.stops[1].dry != goBack || s.stops[1].to != "C" {
		t.Fatalf("%+v", s)
	}
	half := 1.3 * haversine(north(80), d.in.Stops[2].At)
	p := s.passed[0]
	wantNear(t, "P at", p.km, 80e3)
	wantNear(t, "off the road", p.half, half)
	wantNear(t, "fill under", p.under, (80e3+half)*0.05*math.Pow(1.155, 1.3)*1e-3)
	if p.name != "C" || p.leg != 0 || p.place == s.stops[1].place {
		t.Errorf("%+v", p)
	}
}
