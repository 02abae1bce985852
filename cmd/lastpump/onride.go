package main

import (
	"fmt"
	"slices"

	"lastpump/cmd/lastpump/internal/words/filled"
	"lastpump/fuel"
	"lastpump/fuel/learn/fills"
	"lastpump/fuel/plan"
	"lastpump/fuel/plan/here"
)

// rideSoFar reads what was filled on the ride so far, for the first bike, and gives what there is to
// say of the file.
func (a *app) rideSoFar(f planFlags, in *plan.Inputs) (notes []string, err error) {
	if f.fills == "" {
		return nil, nil
	}
	l, err := read(a, f.fills, fills.Read)
	if err != nil {
		return nil, err
	}
	course := fuel.NewCourse(in.Line.Runs(in.Grounds), in.Bike, in.Options.Thirst)
	t, err := l.Tanks(in.Bike, &fills.Ride{Course: course, Half: detours(in.Line, in.Stops, in.Options.Corridor)})
	if err != nil {
		return nil, err
	}
	in.Options.Fills = onRide(l, t, in.Bike)
	for _, r := range in.Options.Fills.Remarks {
		notes = append(notes, fmt.Sprintf("%s: %s", f.fills, filled.LogRemark(r)))
	}
	return append(notes, l.Notes...), nil
}

// onRide gives the tanks of a log as a plan takes them.
func onRide(l *fills.Log, t fills.Tanks, b fuel.Bike) *here.Fills {
	out := &here.Fills{Open: t.Open, Levels: l.Levels(b), Remarks: slices.Concat(l.Remarks, t.Remarks)}
	for _, x := range t.Tanks {
		r := here.Ridden{Tank: x.Tank, HasSpan: x.To.HasSpan, From: x.To.From, To: x.To.To,
			NoGround: x.Ground == fills.NoGround}
		if x.From.HasSpan {
			r.From = min(r.From, x.From.To)
		}
		out.Tanks = append(out.Tanks, r)
	}
	return out
}
