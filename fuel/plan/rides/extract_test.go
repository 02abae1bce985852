package rides_test

import (
	"fmt"
	"math/rand/v2"
	"slices"
	"sync"
	"testing"

	"lastpump/fuel/plan"
	"lastpump/fuel/wayout"
	"lastpump/testdata/kit"
)

// mappedLoops are made once: ten over each region, filled at every counted stop and at chosen ones.
// Maps take seconds to read: a short run does with one loop over one region.
func mappedLoops(t *testing.T) []*mapped {
	t.Helper()
	mappedOnce.Do(func() {
		for _, g := range regions {
			if !kit.Long() && g.name != "Delaware" {
				continue
			}
			roads := g.roadsOf(t)
			for seed := range uint64(10) {
				if kit.Long() || seed == 2 {
					m := g.drawMapped(t, roads, seed)
					mappedAll = append(mappedAll, m.planAt(t, plan.FillEverywhere), m.planAt(t, plan.FillChosen))
				}
			}
		}
	})
	return mappedAll
}

var (
	mappedOnce sync.Once
	mappedAll  []*mapped
)

// Over the roads of real maps nobody runs dry either where a plan promises it: what it takes to ride
// by road is worked out by a search of its own. The ways out save cans. Two things no list of ways
// tells, and they are told apart: how far it is to a stop off the line where the guess has to do, and
// that home from it may be farther than there, where streets go one way.
func TestNobodyRunsDryOverRealRoads(t *testing.T) {
	rnd := rand.New(rand.NewPCG(31, 1))
	var known, guessed, home tally
	scores := []score{{name: "with ways out"}, {name: "detours by road"}, {name: "detours guessed"}}
	off, left, loops := 0, 0, 0
	all := mappedLoops(t)
	for _, m := range all {
		compared := m.with.holds && m.detours.holds && m.guessed.holds
		if compared {
			loops++
		}
		for k, l := range []*loop{m.with, m.detours, m.guessed} {
			for range kit.Share(200, 4) {
				if !l.holds {
					break
				}
				f := l.draw(rnd)
				if rnd.Float64() < 0.1 {
					f.leave = l.sheet.wantsOut(rnd)
				}
				one := l.rides(f, l.sheet)
				if compared {
					scores[k].add(one.rider, float64(l.plan.Bike.Can), one.end)
				}
				off, left = off+one.rider.ridOff-one.rider.leftLine, left+one.rider.leftLine
				if m.on[k].guessed {
					guessed.add(one)
					continue
				}
				if m.on[k].longer {
					home.add(one)
					one = l.rides(f, l.sheet.homeAsOut())
				}
				if known.add(one); one.end == ranDry && known.ranDry <= 10 {
					t.Error(one)
				}
			}
		}
	}
	if off == 0 || left == 0 || known.rides == 0 {
		t.Errorf("%d left a dry pump by road, %d the line", off, left)
	}
	if scores[0].cans >= scores[1].cans {
		t.Errorf("the ways out save nothing: %v, %v", scores[0], scores[1])
	}
	t.Logf("all detours known: %v", known)
	t.Logf("a detour guessed: %v", guessed)
	t.Logf("home farther than there: %v", home)
	t.Logf("%d left a dry pump by road, %d the line by the last way out of a leg; %s", off, left,
		table(fmt.Sprintf("%d loops of %d over real roads", loops, len(all)), scores))
}

// rides rides a loop by a sheet.
func (l *loop) rides(f fate, s *sheet) ridden {
	r := l.set(f, s)
	return ridden{l, f, r, r.bySheet()}
}

// homeAsOut is a sheet by which the way home from a stop is that there.
func (s *sheet) homeAsOut() *sheet {
	c := *s
	c.stops, c.passed = slices.Clone(s.stops), slices.Clone(s.passed)
	for i := range c.stops {
		c.stops[i].homeward = nil
	}
	for i := range c.passed {
		c.passed[i].homeward = nil
	}
	return &c
}

// Sheets made of ways that are told a third too short strand riders: what is ridden by road is not
// what the plan has for it.
func TestWaysToldTooShortAreFound(t *testing.T) {
	if !kit.Long() {
		t.Skip("it takes many loops until the end of a way matters: a long run")
	}
	rnd := rand.New(rand.NewPCG(32, 1))
	rides, with := 0, 0
	for _, m := range mappedLoops(t) {
		if !m.with.holds {
			continue
		}
		short := *m
		short.in.Options.FillAt, short.in.Bike.Tank, short.in.Roads = m.with.planIn.Options.FillAt, m.with.planIn.Bike.Tank, nil
		for _, w := range m.in.Roads {
			for g := range w.Ground {
				w.Ground[g] *= 2.0 / 3
			}
			short.in.Roads = append(short.in.Roads, w)
		}
		l, _ := short.planOn(t, func(wayout.Way) bool { return true })
		if !l.holds {
			continue
		}
		for range 100 {
			f := l.draw(rnd)
			rides++
			if l.set(f, l.sheet).bySheet() == ranDry {
				with++
			}
		}
	}
	if with == 0 {
		t.Errorf("strands none of %d", rides)
	}
	t.Logf("strands %d of %d", with, rides)
}

// Who takes the last way out of a leg gets to its pump on the high figure, by the roads there are,
// with what is told.
func TestTheLastWayOutOverRealRoads(t *testing.T) {
	outs := 0
	for _, m := range mappedLoops(t) {
		l := m.with
		s := read(l.plan, l.road)
		for i, leg := range l.plan.Legs {
			if leg.WayOut == nil {
				continue
			}
			outs++
			w := l.plan.Ways.All[leg.WayOut.Way]
			b, ok := m.roads.leaving(l.plan.Line, leg.WayOut.At, w.Pump)
			if !ok {
				t.Errorf("%s, leg %d: no road to %s", l.name, i+1, w.To)
				continue
			}
			from := s.stops[i]
			way := l.half(from, true).plus(l.engine.between(l.road, from.km, float64(leg.WayOut.At))).plus(l.engine.byway(&b.byway, false))
			left, told := float64(leg.Start+leg.Can)-l.engine.high(way), float64(leg.WayOut.Spare)
			if left < -thimble || told > left+0.01 || told < left-0.05 { // 10 mL are 100 m and more
				t.Errorf("%s, leg %d: %.4f L are left at the high figure, %.4f are told", l.name, i+1, left, told)
			}
		}
	}
	if outs == 0 {
		t.Error("no leg has a way out")
	}
	t.Logf("%d legs have a way out", outs)
}
