package rides_test

import (
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"lastpump/fuel/plan"
	"lastpump/testdata/kit"
)

// drawTimedRoads draws a loop with hours on which roads lead out, to pumps that have hours, too. Of
// some it is as if they were always open.
func drawTimedRoads(t *testing.T, seed uint64, always bool) *timedLoop {
	t.Helper()
	d, weeks := drawTimedLoop(seed)
	if seed%2 == 0 { // nothing but the way out helps where neither on nor back holds
		d.in.Options.Carry = plan.Carry{}
	}
	d = d.withRoads(t, seed)
	zone := d.in.Options.Days.Zone(d.in.Stops[0].At)
	rnd := rand.New(rand.NewPCG(seed, 20260802))
	for i := range d.in.Stops {
		s := &d.in.Stops[i]
		if !strings.HasPrefix(s.Name, "far ") {
			continue
		}
		w := drawWeek(rnd, zone)
		if s.Hours, weeks[s.Name] = w.String(), w; always {
			s.Hours = "24/7"
		}
	}
	l, err := d.timed(weeks)
	if err != nil {
		t.Fatal(seed, err)
	}
	return l
}

// A kind of ride by the clock: as the plan foresees it, or told apart, for no plan promises it.
type kind int

const (
	foreseen kind = iota
	later         // than late, or at a pump that is shut then
	shutAndDry
)

func kindOf(f fate, r *rider) kind {
	switch {
	case f.tempo.beyond > 1 || slices.ContainsFunc(r.shut, func(f found) bool { return !f.within }):
		return later
	case f.dry >= 0 && len(r.shut) > 0:
		return shutAndDry
	}
	return foreseen
}

// By the clock and by road nobody runs dry either where a plan promises it, and nobody stands at the
// end of a way out before a pump that does not open while he waits: not who leaves a dry pump, nor
// who takes the last way out of a leg.
func TestNobodyRunsDryByRoadAndClock(t *testing.T) {
	rnd := rand.New(rand.NewPCG(41, 1))
	var counts [3]timedTally
	var off, left, shut [3]int
	loops, holding := 0, 0
	for seed := range uint64(kit.Share(120, 12)) {
		l := drawTimedRoads(t, 2000+seed, false)
		if loops++; !l.holds {
			continue
		}
		holding++
		for i := range kit.Share(120, 4) {
			f := l.drawTimedFate(rnd, i%10 == 9)
			if i%5 == 4 {
				f.leave = l.sheet.wantsOut(rnd)
			}
			r := l.set(f, l.sheet)
			one := ridden{l.loop, f, r, r.bySheet()}
			k := kindOf(f, r)
			counts[k].add(one)
			off[k], left[k] = off[k]+r.ridOff-r.leftLine, left[k]+r.leftLine
			if r.shutOut != "" {
				shut[k]++
			}
			if k == foreseen && one.end == ranDry && counts[k].ranDry <= 10 {
				t.Errorf("%v; found shut %v, and %q at the end of a way out, at %v", one, r.shut, r.shutOut, r.now)
			}
		}
	}
	if left[foreseen] == 0 || kit.Long() && off[foreseen] == 0 {
		t.Errorf("%d left a dry pump by road, %d the line", off, left)
	}
	t.Logf("%d of %d loops hold", holding, loops)
	for k, what := range []string{"foreseen", "later", "shut and dry"} {
		t.Logf("%s: %v; %d left a dry pump by road, %d the line, %d to a pump that was shut", what, counts[k], off[k], left[k], shut[k])
	}
}

// A plan that knows no hours of the pumps at the ends of its ways strands riders before them.
func TestForgottenHoursOffTheLineAreFound(t *testing.T) {
	rnd := rand.New(rand.NewPCG(42, 1))
	rides, shut := 0, 0
	for seed := range uint64(kit.Share(120, 12)) {
		l := drawTimedRoads(t, 2000+seed, true)
		for range kit.Share(80, 4) {
			f := l.drawTimedFate(rnd, false)
			f.leave = l.sheet.wantsOut(rnd) * rnd.IntN(2)
			r := l.set(f, l.sheet)
			r.bySheet()
			if rides++; kindOf(f, r) == foreseen && r.shutOut != "" {
				shut++
			}
		}
	}
	if shut == 0 {
		t.Errorf("none of %d rides ends before a pump that is shut", rides)
	}
	t.Logf("%d of %d rides end before a pump that is shut", shut, rides)
}
