package rides_test

import (
	"context"
	"fmt"
	"math/rand/v2"
	"slices"
	"testing"

	"lastpump/fuel/leg"
	"lastpump/fuel/plan"
	"lastpump/testdata/kit"
)

// strandingNone plans a loop with the smallest cans of the table of its plan with which no dry
// place strands. The loop is nil where there are none.
func (d draft) strandingNone() (*loop, error) {
	line, err := d.line()
	if err != nil {
		return nil, err
	}
	in := d.in
	in.Line = line
	p, err := plan.Make(context.Background(), in)
	if err != nil {
		return nil, err
	}
	i := slices.IndexFunc(p.Cans.Rows, func(r plan.CanRow) bool { return r.Stranded == 0 })
	if i < 0 {
		return nil, nil
	}
	row := p.Cans.Rows[i]
	in.Bike.Can, in.Options.Carry = 0, plan.Carry{Cans: row.Cans}
	if p, err = plan.Make(context.Background(), in); err != nil {
		return nil, err
	}
	if stranded, bare := p.IfAnyDry(); stranded != row.Stranded || bare != row.Bare {
		return nil, fmt.Errorf("with %v %d strand and %d are bare; the table has %+v", row.Cans, stranded, bare, row)
	}
	return d.loop(in, p), nil
}

// likelyHolds tells whether a plan promises at least those something who drink no more
// than the likely figure: no leg is SHORT, no dry place strands, be it only just.
func likelyHolds(p *plan.Plan) bool {
	for _, l := range p.Legs {
		if l.Verdict == leg.Short {
			return false
		}
	}
	for _, v := range p.Visits {
		if v.IfDry != nil && v.IfDry.Outcome == leg.Stranded {
			return false
		}
	}
	return true
}

// With the smallest cans with which, by the table of a plan, no place strands nobody runs dry
// who drinks up to the likely figure, if no leg is SHORT. Those who drink more may: the table
// goes by the likely figures there, and by the high ones where it says bare.
func TestTheSmallestCansThatStrandNoneAreEnoughAtTheLikelyFigures(t *testing.T) {
	rnd := rand.New(rand.NewPCG(6, 1))
	rides, thirsty := 0, 0
	for seed := range uint64(drawnLoops) {
		l, err := drawLoop(seed).strandingNone()
		if err != nil {
			t.Fatal(err)
		}
		if l == nil || l.holds || !likelyHolds(l.plan) {
			continue
		}
		for range kit.Share(60, 3) {
			f := l.draw(rnd)
			if l.set(f, l.sheet).bySheet() == ranDry {
				thirsty++
			}
			f.pace, f.turns = l.upToLikely(f.pace), nil
			r := l.set(f, l.sheet)
			if end := r.bySheet(); end == ranDry {
				t.Error(ridden{l, f, r, end})
			}
			rides++
		}
	}
	if rides < kit.Share(600, 3) {
		t.Errorf("only %d rides", rides)
	}
	t.Logf("%d rides up to the likely figure; of the same up to the high one %d ran dry", rides, thirsty)
}

// upToLikely is a pace cut off at the likely figures.
func (l *loop) upToLikely(p *pace) *pace {
	cut := l.engine.steady(l.road.days, 0)
	for day := range cut.flat {
		for g := range cut.flat[day] {
			cut.flat[day][g] = min(cut.flat[day][g], p.flat[day][g])
		}
		cut.climb[day] = min(cut.climb[day], p.climb[day])
	}
	return cut
}
