package rides_test

import (
	"math/rand/v2"
	"testing"

	"lastpump/fuel/plan"
)

// asked plans a loop with just the can that its plan asks for against any dry pump.
// The plan is nil where no can is big enough.
func (d draft) asked() (*loop, error) {
	line, err := d.line()
	if err != nil {
		return nil, err
	}
	in := d.in
	in.Line = line
	p, err := plan.Make(in)
	if err != nil || p.Can.SizeForDry.TooBig {
		return nil, err
	}
	if size := p.Can.SizeForDry.Litres; size > in.Bike.Can {
		in.Bike.Can = size
		if p, err = plan.Make(in); err != nil {
			return nil, err
		}
	}
	return d.loop(in, p), nil
}

// likelyHolds tells whether a plan promises at least those something who drink no more
// than the likely figure: no leg is SHORT, no dry place strands, be it only just.
func likelyHolds(p *plan.Plan) bool {
	for _, l := range p.Legs {
		if l.Verdict == plan.Short {
			return false
		}
	}
	for _, v := range p.Visits {
		if v.IfDry != nil && v.IfDry.Outcome == plan.Stranded {
			return false
		}
	}
	return true
}

// With the can that a plan asks for against any dry pump no leg is SHORT and no place
// strands any more, and nobody runs dry who drinks up to the likely figure. Those who
// drink more may: the size goes by the likely figures, and the plan says "nearly" of
// such places.
func TestTheCanAskedForIsEnoughAtTheLikelyFigures(t *testing.T) {
	rnd := rand.New(rand.NewPCG(6, 1))
	rides, thirsty := 0, 0
	for seed := range uint64(drawnLoops) {
		l, err := drawLoop(seed).asked()
		if err != nil {
			t.Fatal(err)
		}
		if l == nil || l.holds {
			continue
		}
		if !likelyHolds(l.plan) {
			t.Errorf("%s: with the can asked for: %s", l.name, l.plan.Answer)
			continue
		}
		for range 60 {
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
	if rides < 600 {
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
