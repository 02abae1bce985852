package plan_test

import (
	"math/rand/v2"
	"slices"
	"testing"

	"lastpump/fuel/plan"
	"lastpump/octane"
)

// A brancher looks for the best stops by branch and bound, stop after stop along the
// line. It knows nothing of how the plan searches: it plans each beginning of a ride by
// the ordinary planner, and counts what can no longer change: not the last two legs,
// for what comes next tells what happens if the stop between them is dry.
type brancher struct {
	plan.Weigher
	middle, ends []plan.Sighting
	threes       map[[3]int]sums // what each three of stops adds, as far as it tells
	can          int64           // the rank of the largest that may be asked for
	ahead        map[[2]int]sums // the least from a leg on: by three stops at a time, without grades
	best         sums
	left         int // beginnings that may still be planned
}

var none = sums{1 << 60}

type sums = [6]int64

func add(a, b sums) sums {
	for i := range a {
		if i == 3 {
			a[i] = max(a[i], b[i])
		} else {
			a[i] += b[i]
		}
	}
	return a
}

func sum(tallies []plan.Tally) (s sums) {
	for _, t := range tallies {
		s = add(s, sums{t.Missing, t.Stranded, t.Below, t.Can, t.Detour, t.Stops})
	}
	return s
}

// taken gives the stops of a beginning; -1 is the start, len(middle) the end.
func (b *brancher) taken(path ...int) []plan.Sighting {
	out := slices.Clone(b.ends)
	for _, i := range path {
		if i >= 0 && i < len(b.middle) {
			out = append(out, b.middle[i])
		}
	}
	return out
}

func (b *brancher) apart(i, j int) bool {
	return i < 0 || j == len(b.middle) || !plan.Together(b.middle[i], b.middle[j])
}

// lookAhead plans all threes of stops, from the end backwards.
func (b *brancher) lookAhead() {
	end := len(b.middle)
	b.ahead = map[[2]int]sums{}
	for j := end; j >= 0; j-- {
		for i := j - 1; i >= -1; i-- {
			if !b.apart(i, j) {
				continue
			}
			if j == end {
				b.ahead[[2]int{i, j}] = sums{}
				continue
			}
			b.ahead[[2]int{i, j}] = none
			for k := j + 1; k <= end; k++ {
				if !b.apart(j, k) || b.ahead[[2]int{j, k}] == none {
					continue
				}
				s := b.middleOf(i, j, k)
				if s[3] > b.can {
					continue
				}
				s[3] = 0
				if s = add(s, b.ahead[[2]int{j, k}]); less(s, b.ahead[[2]int{i, j}]) {
					b.ahead[[2]int{i, j}] = s
				}
			}
		}
	}
}

// middleOf gives what the leg from i to j adds where k comes next, grades and cans left
// out. What a stop that is passed twice running adds is not known from three.
func (b *brancher) middleOf(i, j, k int) sums {
	if s, known := b.threes[[3]int{i, j, k}]; known {
		return s
	}
	legs := b.Tallies(b.taken(i, j, k))
	t := legs[0]
	if i >= 0 {
		t = legs[1]
	}
	s := sums{t.Missing, t.Stranded, 0, t.Can, t.Detour, t.Stops}
	same := func(a, c int) bool { return a >= 0 && c < len(b.middle) && b.SamePlace(b.middle[a], b.middle[c]) }
	if same(j, k) || same(i, j) {
		s[1], s[3] = 0, 0
	}
	if last := legs[len(legs)-1]; k == len(b.middle) {
		s[0] += last.Missing
		s[3] = max(s[3], last.Can)
	}
	b.threes[[3]int{i, j, k}] = s
	return s
}

func less(a, b sums) bool { return slices.Compare(a[:], b[:]) < 0 }

// branch goes on from a beginning, whose last stop is path's last: first where the least
// that is still to come is best.
func (b *brancher) branch(path []int) {
	if b.left--; b.left < 0 {
		return
	}
	legs := b.Tallies(b.taken(path...))
	if s := sum(legs); s[3] <= b.can {
		if s[3] = 0; less(s, b.best) {
			b.best = s
		}
	}
	settled := max(0, len(path)-2)
	for settled > 0 && b.chained(path, settled) {
		settled-- // what stops of one place do is told by those before and behind
	}
	so := sum(legs[:settled])
	if so[3] > b.can {
		return
	}
	so[3] = 0
	type way struct {
		next  int
		bound sums
	}
	var ways []way
	last := path[len(path)-1]
	for k := last + 1; k < len(b.middle); k++ {
		if b.apart(last, k) {
			ways = append(ways, way{k, add(so, b.aheadOf(path, k))})
		}
	}
	slices.SortFunc(ways, func(a, c way) int { return slices.Compare(a.bound[:], c.bound[:]) })
	for _, w := range ways {
		if less(w.bound, b.best) {
			b.branch(append(slices.Clone(path), w.next))
		}
	}
}

// aheadOf gives the least that comes from the last leg of a path on, where k is next.
func (b *brancher) aheadOf(path []int, k int) sums {
	last := path[len(path)-1]
	ahead := b.ahead[[2]int{last, k}]
	if len(path) < 2 || ahead == none {
		return ahead
	}
	s := b.middleOf(path[len(path)-2], last, k)
	if s[3] > b.can {
		return none
	}
	s[3] = 0
	return add(s, ahead)
}

// chained tells whether the leg before a stop of a path lies between stops of one place.
func (b *brancher) chained(path []int, leg int) bool {
	for _, i := range []int{leg - 1, leg, leg + 1} {
		if i > 0 && i+1 < len(path) && path[i] >= 0 && b.SamePlace(b.middle[path[i]], b.middle[path[i+1]]) {
			return true
		}
	}
	return false
}

// mostlyGood leaves every eighth stop its grades, and has the others sell what meets:
// without a bound on grades a beginning is soon one of too many.
func mostlyGood(in plan.Inputs) plan.Inputs {
	for i := range in.Stops {
		if i%8 > 0 {
			in.Stops[i].Grades = []octane.Grade{in.Bike.Needs}
		}
	}
	return in
}

// twice tells whether a place is passed twice. What its passings add is told late, and
// there are too many beginnings; loops of twelve have such places.
func (b *brancher) twice() bool {
	for i, g := range b.middle {
		if slices.ContainsFunc(b.middle[i+1:], func(o plan.Sighting) bool { return !plan.Together(g, o) && b.SamePlace(g, o) }) {
			return true
		}
	}
	return false
}

// find gives the best worth there is with cans up to a rank; none where there is none.
func (b *brancher) find(can int64) sums {
	b.can, b.best = can, none
	b.lookAhead()
	b.branch([]int{-1})
	return b.best
}

// findAll gives the best worth there is: with the smallest can that spoils nothing of
// what comes before it.
func (b *brancher) findAll() sums {
	first := b.find(99)
	for can := int64(0); can <= 11 && b.left >= 0; can++ {
		if s := b.find(can); [3]int64(s[:3]) == [3]int64(first[:3]) {
			s[3] = can
			return s
		}
	}
	return none
}

// What is chosen is worth as much as what branch and bound finds, on loops of forty
// passings of stops.
func TestChosenAmongForty(t *testing.T) {
	compared := 0
	for seed := uint64(0); compared < 8 && seed < 60; seed++ {
		in := mostlyGood(pumps(t, rand.New(rand.NewPCG(seed, 9)), 40))
		b := &brancher{Weigher: plan.NewWeigher(in), left: 30000, threes: map[[3]int]sums{}}
		b.middle, b.ends = plan.Candidates(in)
		if len(b.middle) < 36 || len(b.middle) > 44 || len(b.ends) > 0 || b.twice() {
			continue
		}
		want := b.findAll()
		t.Log(seed, len(b.middle), b.left, want)
		if b.left < 0 {
			continue // too many beginnings
		}
		taken, err := b.Choose(0)
		if err != nil {
			t.Fatal(err)
		}
		if got := b.Worth(taken); got != want {
			t.Errorf("seed %d: %d passings, chosen %v, the best is %v", seed, len(b.middle), got, want)
		}
		compared++
	}
	if compared < 8 {
		t.Errorf("only %d loops were compared", compared)
	}
}
