package call

import (
	"cmp"
	"context"
	"slices"

	"lastpump/fuel/leg"
	"lastpump/fuel/stop"
	"lastpump/fuel/trip"
)

// Found are whom to call, who matters most first, and how many doubtful stops were not tried.
type Found struct {
	Calls    []Call
	NotTried int
}

// A Decider makes a plan anew.
type Decider struct {
	// Anew decides stops and cans with one stop as it is told of; the draft is nil where nothing
	// can be planned so. It is nil where they cannot be decided for one ride alone.
	Anew func(ctx context.Context, i int, s stop.Stop) (*trip.Draft, error)
	Work int // of one decision, in legs planned again

	Smaller    leg.Carried // the next smaller cans than those carried
	HasSmaller bool
}

// How many legs are planned again at the most, with the fills as they are and with all decided
// anew, so that nobody waits longer than some seconds: 300 pumps that nobody is sure of take both.
const (
	mostTried   = 200_000
	mostDecided = 80_000
)

// mostCalls is for how many calls all is decided anew.
const mostCalls = 10

// Find plans a ride again with each answer of each doubtful stop, at first with fills and cans as
// they are; for the ten calls that matter most stops and cans are decided anew. What changes
// nothing is left out. The error is that of the context.
func Find(ctx context.Context, d *trip.Draft, by Decider, tell func(done, of int)) (Found, error) {
	f := finder{Draft: d, by: by, before: outcomeOf(d)}
	all := questions(d)
	var found Found
	var tries []*tried
	left := mostTried
	for k, q := range all {
		tell(k, len(all)+mostCalls)
		if left <= 0 {
			found.NotTried = len(all) - k
			break
		}
		t, ok, err := f.try(ctx, q, func(_ context.Context, i int, s stop.Stop) (*trip.Draft, error) {
			return f.asItIs(i, s, &left), nil
		})
		if err != nil {
			return found, err
		}
		if ok && t.matters() {
			tries = append(tries, t)
		}
	}
	rank(tries)
	n, err := f.decide(ctx, tries, func(done int) { tell(len(all)+done, len(all)+mostCalls) })
	if err != nil {
		return found, err
	}
	rank(tries[:n])
	for _, t := range tries {
		if t.matters() {
			found.Calls = append(found.Calls, t.Call)
		}
	}
	return found, nil
}

// A finder tries answers on a ride.
type finder struct {
	*trip.Draft
	by     Decider
	before outcome
}

// A tried call has what its worst and its best answer make of the ride, which is never better or
// worse than it is without a call.
type tried struct {
	Call
	worst, best trip.Worth
}

// matters tells whether any answer changes something.
func (t *tried) matters() bool {
	return slices.ContainsFunc(t.If, func(i If) bool { return !i.Changes.Nothing() })
}

// rank sorts calls: by the worst loss, then by the best gain, then along the line.
func rank(tries []*tried) {
	slices.SortStableFunc(tries, func(a, b *tried) int {
		return cmp.Or(-a.worst.Compare(b.worst), a.best.Compare(b.best), cmp.Compare(a.At, b.At))
	})
}

// decide decides stops and cans anew for the first calls, and tells for how many.
func (f *finder) decide(ctx context.Context, tries []*tried, tell func(done int)) (n int, err error) {
	left := mostDecided
	for n < min(len(tries), mostCalls) && f.by.Anew != nil {
		tell(n)
		left -= f.by.Work * len(tries[n].If)
		if left < 0 {
			break
		}
		t, ok, err := f.try(ctx, tries[n].Call, f.by.Anew)
		if err != nil {
			return n, err
		}
		if ok {
			*tries[n] = *t
			tries[n].Decided = true
		}
		n++
	}
	return n, nil
}

// try plans again with each answer to a call; not ok where one of them leaves nothing to plan.
func (f *finder) try(ctx context.Context, c Call,
	plan func(ctx context.Context, i int, s stop.Stop) (*trip.Draft, error)) (*tried, bool, error) {
	t := &tried{Call: c, worst: f.before.Worth, best: f.before.Worth}
	t.If = slices.Clone(c.If)
	for k := range t.If {
		if err := ctx.Err(); err != nil {
			return nil, false, err
		}
		d, err := plan(ctx, c.Stop, f.Trip.Stops[c.Stop].Answered(t.If[k].Answer, f.Trip.Options.Today))
		if err != nil || d == nil {
			return nil, false, err
		}
		o := outcomeOf(d)
		t.If[k].Changes = o.since(f.before)
		if o.Compare(t.worst) > 0 {
			t.worst = o.Worth
		}
		if o.Compare(t.best) < 0 {
			t.best = o.Worth
		}
	}
	return t, true, nil
}

// asItIs plans again with fills and cans as they are. A stop that was not counted is filled at if
// it is now; if nothing is worse with the next smaller cans then, those are carried.
func (f *finder) asItIs(i int, s stop.Stop, left *int) *trip.Draft {
	trial := func(t *trip.Trip, c trip.Change) *trip.Draft {
		*left -= t.Work(len(f.Legs))
		return t.Trial(c)
	}
	t, change := f.Trip.Told(i, s), f.Change
	out := slices.ContainsFunc(unsureOuts(f.Draft), func(g trip.Sighting) bool { return g.Stop == i })
	doubted := f.Trip.Doubted(i)
	if !doubted && !out || t.Unfit(i, trip.Change{}) != "" {
		return trial(t, change)
	}
	if doubted && change.Chosen != nil {
		for _, g := range within(f.Draft) {
			if g.Stop == i {
				change.Extra = append(slices.Clip(change.Extra), g)
			}
		}
	}
	d := trial(t, change)
	if !f.by.HasSmaller {
		return d
	}
	smaller := trial(t.Carrying(f.by.Smaller), change)
	if smaller.Worth().BeforeCans() == d.Worth().BeforeCans() {
		return smaller
	}
	return d
}
