package plan_test

import (
	"fmt"
	"math/rand/v2"
	"slices"
	"testing"

	"lastpump/fuel"
	"lastpump/fuel/plan"
	"lastpump/fuel/stop"
	"lastpump/octane"
	"lastpump/route"
)

// pumps makes a random ride of so many pumps, on the line and off it, with all that
// makes choosing among them hard: a road ridden out and back, so that stops are passed
// twice; several grades and none known; a can of the bike's own; stops of one place;
// hills.
func pumps(t testing.TB, rnd *rand.Rand, n int) plan.Inputs {
	one := func(of ...float64) float64 { return of[rnd.IntN(len(of))] }
	km := n * (10 + rnd.IntN(30))
	turn := km
	if rnd.IntN(2) == 0 {
		turn = km - 20 - rnd.IntN(km/2-20)
	}
	var points []route.Point
	hill := one(0, 5, 20)
	for i := range km + 1 {
		points = append(points, route.Point{Point: at(0, float64(min(i, 2*turn-i))), Ele: hill * float64(i%40), HasEle: true})
	}
	in := ride(lineThrough(t, points))
	b := &in.Bike
	b.Tank = b.Unusable + fuel.Litres(3+6*rnd.Float64())
	b.Can = fuel.Litres(one(0, 0, 1.5, 3))
	b.Needs = []octane.Grade{ron(95), ron(92), octane.FromAKI(91)}[rnd.IntN(3)]
	in.Options.Reserve.Share = one(0, 0.1, 0.2)
	in.Options.SinceFill = route.Kilometres(one(0, 0, 30))
	for i := range n {
		s := pump(fmt.Sprint("P", i), 0, 0)
		s.At = at(one(0, 0.2, 1, 1.5, 6, 15, 25), float64(turn)*rnd.Float64())
		s.Standing = stop.Standings[rnd.IntN(3)]
		s.Grades = nil
		for range rnd.IntN(4) {
			s.Grades = append(s.Grades, []octane.Grade{ron(80), ron(91), ron(92), ron(95), ron(98), octane.FromAKI(87), octane.FromAKI(91)}[rnd.IntN(7)])
		}
		in.Stops = append(in.Stops, s)
	}
	return in
}

// bestOfAll plans every ride over some of the stops, no two of one place, and gives the
// best worth there is.
func bestOfAll(in plan.Inputs) [6]int64 {
	w := plan.NewWeigher(in)
	middle, ends := plan.Candidates(in)
	var best [6]int64
	first := true
	for set := range 1 << len(middle) {
		taken := slices.Clone(ends)
		apart := true
		var last *plan.Sighting
		for i, g := range middle {
			if set>>i&1 == 0 {
				continue
			}
			apart = apart && (last == nil || !plan.Together(*last, g))
			last = &middle[i]
			taken = append(taken, g)
		}
		if !apart {
			continue
		}
		if worth := w.Worth(taken); first || slices.Compare(worth[:], best[:]) < 0 {
			best, first = worth, false
		}
	}
	return best
}

// What is chosen is worth as much as the best of all choices, on loops of twelve
// passings of stops and fewer.
func TestChosenIsTheBestOfAll(t *testing.T) {
	full := 0
	worths := map[[6]int64]bool{}
	for seed := range uint64(300) {
		rnd := rand.New(rand.NewPCG(seed, 5))
		in := pumps(t, rnd, 5+int(seed%8))
		if seed%3 == 0 { // the rest from somewhere on the way
			in.Options.SinceFill, in.Options.StartFuel, in.Options.HasStartFuel = 0, in.Bike.Usable()/2, true
			in.Options.From, in.Options.HasFrom = in.Line.Length()*route.Metres(0.4*rnd.Float64()), true
		}
		middle, _ := plan.Candidates(in)
		if len(middle) > 12 {
			continue
		}
		if len(middle) == 12 {
			full++
		}
		w, want := plan.NewWeigher(in), bestOfAll(in)
		for _, grid := range []float64{0, 0.4} { // by itself the search joins all mixtures at first
			taken, err := w.Choose(grid)
			if err != nil {
				t.Fatal(err)
			}
			if got := w.Worth(taken); got != want {
				t.Errorf("seed %d, grid %v: chosen %v, worth %v; the best is %v", seed, grid, taken, got, want)
			}
		}
		worths[want] = true
	}
	if full < 10 || len(worths) < 50 {
		t.Errorf("%d loops of twelve, %d different worths: too little is tested", full, len(worths))
	}
}

// Among a thousand pumps four kilometres apart nothing is chosen for minutes: that is said.
func TestTooManyToChooseAmong(t *testing.T) {
	in := ride(straight(t, 4200))
	for i := range 1000 {
		in.Stops = append(in.Stops, pump(fmt.Sprint("P", i), 10+4*float64(i), 0))
	}
	in.Bike.Tank = 60
	in.Options.Detours = plan.DetoursAuto
	_, err := plan.Make(in)
	if want := "--detours auto: 1000 stops are too many to choose among, with so many in reach of each other"; err == nil || err.Error() != want {
		t.Errorf("%v, want %s", err, want)
	}
}
