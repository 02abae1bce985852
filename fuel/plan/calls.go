package plan

import (
	"context"
	"errors"
	"math/bits"
	"slices"
	"strings"

	"lastpump/fuel/leg"
	"lastpump/fuel/plan/call"
	"lastpump/fuel/stop"
	"lastpump/fuel/trip"
)

// Calls finds whom to phone before the ride, and puts it into the plan, of each bike where it is
// a group's; the plan of a group has the calls of its first bike. The error is that of the
// context.
func Calls(ctx context.Context, p *Plan) error {
	if p.Group != nil {
		for _, b := range p.Group.Bikes {
			if err := Calls(ctx, b); err != nil {
				return err
			}
		}
		p.Calls, p.NotCalled = p.Group.Bikes[0].Calls, p.Group.Bikes[0].NotCalled
		return nil
	}
	found, err := call.Find(ctx, p.draft, p.decider(), p.tell.at(TryingAnswers))
	p.Calls, p.NotCalled = found.Calls, found.NotTried
	return err
}

// choosing is how many legs planned again take as long as the choice of stops among so many,
// squared: measured, on 20 to 80 stops 25 to 43.
const choosing = 40

// decider gives what decides stops and cans of the plan anew. Where the stops are those of a
// group they are not chosen for one bike alone.
func (p *Plan) decider() call.Decider {
	in := p.in
	in.Tell = nil
	t, cans := p.draft.Trip, in.carriable()
	times := bits.Len(uint(len(cans))) + 1 // a binary search, and the largest
	d := call.Decider{Anew: func(ctx context.Context, i int, s stop.Stop) (*trip.Draft, error) {
		return in.withStop(ctx, p.line, i, s)
	}, Work: times * t.Work(len(p.Legs))}
	if in.Options.FillAt == FillChosen {
		middle, _ := t.Candidates()
		d.Work += choosing * len(middle) * len(middle)
	}
	if in.choice != nil {
		d.Anew = nil
	}
	if i := slices.IndexFunc(cans, func(c leg.Carried) bool { return c.Compare(t.Carried) == 0 }); i > 0 {
		d.Smaller, d.HasSmaller = cans[i-1], true
	}
	return d
}

// withStop decides stops and cans of all of the line anew, with one stop as it is told of. The
// draft is nil where nothing can be planned so.
func (in Inputs) withStop(ctx context.Context, line *trip.Trip, i int, s stop.Stop) (*trip.Draft, error) {
	whole, t, _, err := in.ride(ctx, line.Told(i, s))
	if err == nil {
		var r ready
		if r, err = in.settle(ctx, whole, t); err == nil {
			d := r.trip.Trial(r.change)
			if err = in.tankKnown(d); err == nil {
				return d, nil
			}
		}
	}
	var refused *Refusal
	if errors.As(err, &refused) {
		return nil, nil
	}
	return nil, err
}

// Answer puts what a stop has answered into the list, as phoned on the day of the plan. The list
// is copied first. The error is a [*Refusal] where none or several are called so.
func (in *Inputs) Answer(name string, a stop.Answer) error {
	var called []int
	for i, s := range in.Stops {
		if strings.EqualFold(s.Name, name) {
			called = append(called, i)
		}
	}
	switch {
	case len(called) == 0:
		return &Refusal{Why: UnknownAnswer, Name: name, Names: in.stopNames()}
	case len(called) > 1:
		r := &Refusal{Why: AnswerOfSeveral, Name: in.Stops[called[0]].Name}
		for _, i := range called {
			near, _ := in.Line.Nearest(in.Stops[i].At, 0, in.Line.Length())
			r.Passed = append(r.Passed, near.At)
		}
		return r
	}
	in.Stops = slices.Clone(in.Stops)
	in.Stops[called[0]] = in.Stops[called[0]].Answered(a, in.Options.Today)
	return nil
}
