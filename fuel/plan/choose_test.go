package plan_test

import (
	"fmt"
	"math/rand/v2"
	"slices"
	"testing"
	"time"

	"lastpump/fuel"
	"lastpump/fuel/plan"
	"lastpump/fuel/stop"
	"lastpump/fuel/trip"
	"lastpump/octane"
	"lastpump/route"
	"lastpump/testdata/kit"
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
	if b.Can = fuel.Litres(one(0, 3, 5, 10)); b.Can > 0 && rnd.IntN(3) == 0 {
		in.Options.CanNow = b.Can * fuel.Litres(rnd.Float64())
		in.Options.CanNowGrade = ron(91)
	}
	in.Options.Detours = trip.Reach
	in.Options.Today = time.Date(2026, 7, 1, 0, 0, 0, 0, time.UTC)
	b.Needs = []octane.Grade{ron(95), ron(92), octane.FromAKI(91)}[rnd.IntN(3)]
	in.Options.Reserve.Share = one(0, 0.1, 0.2)
	in.Options.SinceFill = route.Kilometres(one(0, 0, 30))
	for i := range n {
		s := pump(fmt.Sprint("P", i), 0, 0)
		s.At = at(one(0, 0.2, 1, 1.5, 6, 15, 25), float64(turn)*rnd.Float64())
		s.Standing = stop.Standings()[rnd.IntN(3)]
		s.HasConfirmed = rnd.IntN(3) > 0
		s.Confirmed = in.Options.Today.AddDate(0, -3*rnd.IntN(6), 0)
		s.Grades = nil
		for range rnd.IntN(4) {
			s.Grades = append(s.Grades, []octane.Grade{ron(80), ron(91), ron(92), ron(95), ron(98), octane.FromAKI(87), octane.FromAKI(91)}[rnd.IntN(7)])
		}
		in.Stops = append(in.Stops, s)
	}
	return in
}

// bestOfAll plans every ride over some of the stops, no two of one place, and the one that fills
// everywhere, and gives the best worth there is and how many guards it breaks.
func bestOfAll(in plan.Inputs) (best trip.Worth, breaks int) {
	w := plan.NewWeigher(in)
	middle, ends := plan.Candidates(in)
	best, breaks = w.Everywhere()
	for set := range 1 << len(middle) {
		taken := slices.Clone(ends)
		apart := true
		var last *trip.Sighting
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
		if worth, n := w.Worth(taken); plan.Compare(worth, n, best, breaks) < 0 {
			best, breaks = worth, n
		}
	}
	return best, breaks
}

// What is chosen is worth as much as the best of all choices, on loops of twelve
// passings of stops and fewer, with cans of 0, 3, 5 and 10 L.
func TestChosenIsTheBestOfAll(t *testing.T) {
	full, leaning, unproven := 0, 0, 0
	worths := map[string]bool{}
	seeds := kit.Share(300, 10)
	for seed := range uint64(seeds) {
		rnd := rand.New(rand.NewPCG(seed, 5))
		in := pumps(t, rnd, 5+int(seed%8))
		if seed%3 == 0 { // the rest from somewhere on the way
			in.Options.SinceFill, in.Options.StartFuel, in.Options.HasStartFuel = 0, in.Bike.Usable()/2, true
			in.Options.From, in.Options.HasFrom = in.Line.Length()*route.Metres(0.4*rnd.Float64()), true
		}
		if seed%2 == 1 {
			in = withWays(in, rand.New(rand.NewPCG(seed, 6)))
		}
		middle, _ := plan.Candidates(in)
		if len(middle) > 12 {
			continue
		}
		if len(middle) == 12 {
			full++
		}
		w := plan.NewWeigher(in)
		want, breaks := bestOfAll(in)
		for _, width := range []float64{0, 1.3} { // how wide the cells of the finest bounds are
			c, err := w.ChooseWith(plan.Work{Legs: 1e6, Nodes: 1200, Pairs: 60_000, Width: width})
			if err != nil {
				t.Fatal(err)
			}
			if got, n := w.Worth(c.Taken); plan.Compare(got, n, want, breaks) != 0 || !c.Proven() || c.Worth.Compare(got) != 0 {
				t.Errorf("seed %d, width %v: %d broken, worth %+v (%+v); the best is %d, %+v", seed, width, n, got, c, breaks,
					want)
			}
		}
		// With next to no work, and among next to no stops, it is within its bound still.
		for _, work := range []plan.Work{{Legs: 1, Nodes: 1200, Pairs: 60_000}, {Legs: 1e6, Nodes: 6, Pairs: 12}} {
			c, err := w.ChooseWith(work)
			if err != nil {
				t.Fatal(err)
			}
			got, n := w.Worth(c.Taken)
			all, allBreak := w.Everywhere()
			if c.Worth.Compare(got) != 0 || n > breaks || plan.Compare(got, n, all, allBreak) > 0 ||
				plan.Compare(c.Bound, 0, want, breaks) > 0 {
				t.Errorf("seed %d, work %+v: %d broken, worth %+v, bound %+v; the best is %d, %+v; everywhere %d, %+v", seed, work,
					n, got, c.Bound, breaks, want, allBreak, all)
			}
			if !c.Proven() {
				unproven++
			}
		}
		worths[fmt.Sprint(want)] = true
		if in.Bike.Can > 0 {
			leaning++
		}
	}
	if full*30 < seeds || len(worths)*6 < seeds || leaning*3 < seeds || unproven*4 < seeds {
		t.Errorf("%d loops of twelve, %d different worths, %d with a can, %d not proven with little work: too little is tested",
			full, len(worths), leaning, unproven)
	}
}

// Of what is chosen among forty passings no neighbour is better than the bound: not with a stop
// more, with one less, with another in place of one.
func TestNoNeighbourIsBetterThanTheBound(t *testing.T) {
	proven := 0
	seeds := kit.Share(24, 6)
	for seed := range uint64(seeds) {
		in := pumps(t, rand.New(rand.NewPCG(seed, 9)), 40)
		w := plan.NewWeigher(in)
		c, err := w.Choose()
		if err != nil {
			t.Fatal(err)
		}
		if c.Proven() {
			proven++
		}
		_, breaks := w.Worth(c.Taken)
		middle, ends := plan.Candidates(in)
		for _, in := range append(slices.Clone(middle), trip.Sighting{Stop: -1}) {
			for out := -1; out < len(c.Taken); out++ {
				taken := slices.Clone(c.Taken)
				if out >= 0 && slices.Contains(ends, taken[out]) {
					continue
				}
				if out >= 0 {
					taken = slices.Delete(taken, out, out+1)
				}
				if slices.ContainsFunc(taken, func(g trip.Sighting) bool { return plan.Together(g, in) }) {
					continue
				}
				if in.Stop >= 0 {
					taken = append(taken, in)
				}
				trip.InOrder(taken)
				if worth, n := w.Worth(taken); n <= breaks && worth.Compare(c.Bound) < 0 {
					t.Errorf("seed %d: %+v with %v in place of %d is better than %+v", seed, worth, in, out, c.Bound)
				}
			}
		}
	}
	t.Logf("%d of %d proven", proven, seeds)
}

// Among very many stops what is chosen is no worse than filling everywhere, breaks no guard,
// and is within its bound.
func TestChosenAmongVeryMany(t *testing.T) {
	for i, n := range []int{1000, 3000} {
		in := manyStops(t, n, false)
		in.Bike.Can = fuel.Litres(5 * i)
		rnd := rand.New(rand.NewPCG(uint64(n), 5))
		for i := range in.Stops {
			s := &in.Stops[i]
			s.Grades = []octane.Grade{ron([]float64{95, 95, 92, 80}[i%4])}
			s.HasConfirmed, s.Confirmed = rnd.IntN(9) == 0, in.Options.Today.AddDate(0, -1, 0)
		}
		w := plan.NewWeigher(in)
		c, err := w.Choose()
		if err != nil {
			t.Fatal(err)
		}
		got, breaks := w.Worth(c.Taken)
		all, allBreak := w.Everywhere()
		if breaks > 0 || plan.Compare(got, breaks, all, allBreak) > 0 || c.Worth.Compare(got) != 0 ||
			c.Bound.Compare(got) > 0 {
			t.Errorf("%d: %d broken, worth %+v, bound %+v; everywhere %d, %+v", n, breaks, got, c.Bound, allBreak, all)
		}
		t.Logf("%+v, bound %+v", got, c.Bound)
	}
}
