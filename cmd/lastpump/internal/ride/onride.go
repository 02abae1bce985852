package ride

import (
	"cmp"
	"fmt"
	"slices"

	"lastpump/cmd/lastpump/internal/app"
	"lastpump/cmd/lastpump/internal/words/filled"
	"lastpump/fuel"
	"lastpump/fuel/learn/fills"
	"lastpump/fuel/plan"
	"lastpump/fuel/plan/here"
	"lastpump/fuel/stop"
	"lastpump/fuel/trip"
	"lastpump/route"
)

// rideSoFar reads what was filled on the ride so far, for the first bike, and gives what there is to
// say of the file.
func rideSoFar(a *app.App, f Flags, in *plan.Inputs) (notes []string, err error) {
	if f.Fills == "" {
		return nil, nil
	}
	l, err := app.Read(a, f.Fills, fills.Read)
	if err != nil {
		return nil, err
	}
	course := fuel.NewCourse(in.Line.Runs(in.Grounds), in.Bike, in.Options.Thirst)
	t, err := l.Tanks(in.Bike, &fills.Ride{Course: course, Half: Detours(in.Line, in.Stops, in.Options.Corridor)})
	if err != nil {
		return nil, err
	}
	in.Options.Fills = onRide(l, t, in.Bike)
	for _, r := range in.Options.Fills.Remarks {
		notes = append(notes, fmt.Sprintf("%s: %s", f.Fills, filled.LogRemark(r)))
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

// atPlace is how near along the line a place stands to where a tank was filled, as the
// rider wrote it down.
const atPlace route.Metres = 1000

// Detours gives the way from the line to the stop at which a tank was filled, by where along
// the line that was.
func Detours(line *route.Line, stops []stop.Stop, corridor route.Metres) func(route.Metres) route.Metres {
	var all []trip.Sighting
	for i, s := range stops {
		for _, p := range line.Passages(s.At, corridor) {
			all = append(all, trip.Sighting{Stop: i, Passage: p})
		}
	}
	return func(at route.Metres) route.Metres {
		far := func(s trip.Sighting) route.Metres { return max(s.At-at, at-s.At) }
		near := slices.DeleteFunc(slices.Clone(all), func(s trip.Sighting) bool { return far(s) > atPlace })
		if len(near) == 0 {
			return 0
		}
		return slices.MinFunc(near, func(a, b trip.Sighting) int {
			return cmp.Or(cmp.Compare(far(a), far(b)), cmp.Compare(a.Off, b.Off))
		}).Detour() / 2
	}
}
