package plan

import (
	"cmp"
	"context"
	"slices"
	"strings"

	"lastpump/fuel"
	"lastpump/fuel/learn"
	"lastpump/fuel/learn/fills"
	"lastpump/fuel/leg"

	"lastpump/fuel/plan/here"
	"lastpump/fuel/trip"
	"lastpump/octane"
	"lastpump/route"
)

// Whereabouts say from where the rest of a ride is planned. The zero value plans
// all of it.
//
// Kilometres stay those of the whole line, so that they agree with the paper in
// the rider's hand. At a counted stop he fills to the brim; Options.StartFuel and
// SinceFill are then what is in the tank on arriving there. Where no pump is
// counted one of them has to be given.
//
// With both a stop and a place he stands at the stop, at its passing nearest to the place: a stop
// may lie so far off the line that a place alone is not at it.
type Whereabouts struct {
	From     route.Metres // along the line; meaningless unless HasFrom
	HasFrom  bool
	FromStop string      // the stop he stands at, as the list has it; "" for none
	Used     *here.Used  // nil where it has not been measured
	Fills    *here.Fills // the tanks of the ride so far, instead of Used; nil where they are not written down
}

func (w Whereabouts) fromHere() bool { return w.HasFrom || w.FromStop != "" }

// trip looks up what all drafts of the whole line share.
func (in *Inputs) trip() *trip.Trip {
	return trip.New(trip.Inputs{
		Line: in.Line, Grounds: in.Grounds, Stops: in.Stops, Bike: in.Bike, Options: in.Options.Options,
		Alongside: in.alongside, Roads: in.Roads,
	})
}

// ride gives the trip that is planned, from where the rider stands on and as thirsty as
// the bike has been measured; what it says of that; and the whole as it was planned, full
// at its start. Where all is planned there is no whole.
func (in *Inputs) ride(ctx context.Context, line *trip.Trip) (whole *trip.Draft, t *trip.Trip, h *here.Here, err error) {
	t = line
	if err := in.nothingPassed(t); err != nil || !in.Options.fromHere() {
		return nil, t, nil, err
	}
	stands, err := in.stand(t)
	if err != nil {
		return nil, nil, nil, err
	}
	if whole, err = in.whole(ctx, *t); err != nil {
		return nil, nil, nil, err
	}
	stands.Tank = here.TankAt(whole, stands.At)
	t = t.From(stands).Carrying(whole.Trip.Carried)
	h = &here.Here{At: stands.At, Stop: -1, Factor: 1, Ahead: 1, Before: in.Options.Thirst, Thirst: in.Options.Thirst}
	if stands.AtStop {
		h.Stop = stands.Stop
	}
	learnt, err := in.learn(h, whole, stands)
	if err != nil {
		return nil, nil, nil, err
	}
	if learnt != nil {
		h.Thirst = h.Before * here.Moved(in.Bike, learnt)
		before := t.Course
		t = t.Drinking(learnt)
		h.Ahead = here.Ahead(before, t.Course, stands.At)
	}
	in.fuelSince(h, whole, t, stands)
	return whole, t, h, nil
}

// fuelSince sets what is in the tank where that is not said: what the fills say.
func (in *Inputs) fuelSince(h *here.Here, whole *trip.Draft, t *trip.Trip, stands trip.Standpoint) {
	f, o := in.Options.Fills, &t.Options
	if f == nil {
		return
	}
	h.Remarks = f.Remarks
	h.Beyond, h.HasBeyond = f.Beyond(stands.At)
	if o.HasStartFuel || o.SinceFill > 0 {
		return
	}
	now := *whole
	now.Trip = t // as thirsty as it was found
	if tank, ok := f.TankAt(&now, stands); ok {
		o.HasStartFuel, o.StartFuel, h.Tank = true, tank.Left, &tank
	}
}

// learn gives what the ride so far has taught of the bike; nil where nothing of it is said.
func (in *Inputs) learn(h *here.Here, whole *trip.Draft, stands trip.Standpoint) (l *fuel.Learnt, err error) {
	switch o := in.Options; {
	case o.Used != nil:
		behind := here.Behind(whole, stands)
		if err := measure(h, behind, *o.Used); err != nil {
			return nil, err
		}
		one := here.Fills{Tanks: []here.Ridden{{Tank: learn.Tank{Needs: behind.LastNeeds(o.Used.Trip), Litres: o.Used.Litres}}}}
		var tanks []here.Happened
		if l, tanks, err = one.Learn(in.Bike); err == nil {
			h.Why = tanks[0].Why
		}
		return l, err
	case o.Fills != nil && o.Fills.Tell():
		if l, h.Tanks, err = o.Fills.Learn(in.Bike); err != nil {
			return nil, err
		}
		here.Name(h.Tanks, whole)
		var planned, burnt fuel.Litres
		for _, t := range h.Tanks {
			if t.Counts() {
				planned, burnt = planned+t.Planned.Likely, burnt+t.Real
			}
		}
		if planned > 0 {
			h.Factor = float64(burnt / planned)
		}
	}
	return l, nil
}

// whole plans all of the line, full at its start.
func (in *Inputs) whole(ctx context.Context, t trip.Trip) (*trip.Draft, error) {
	o := &t.Options
	o.StartFuel, o.HasStartFuel, o.SinceFill, o.StartGrade, o.CanNow, o.HasCanNow = 0, false, 0, octane.Grade{}, 0, false
	of := *in
	of.chosen = in.chosenWhole
	r, err := of.decide(ctx, &t)
	if err != nil {
		return nil, err
	}
	return r.trip.Draft(r.change), nil
}

// stand finds where the rider stands.
func (in *Inputs) stand(t *trip.Trip) (trip.Standpoint, error) {
	s := trip.Standpoint{At: in.Options.From}
	if in.Options.FromStop != "" {
		g, err := in.standsAt(t, in.Options.FromStop)
		if err != nil {
			return s, err
		}
		s = trip.Standpoint{At: g.At, AtStop: true, Stop: g.Stop, On: t.EndAt(g), Point: t.Stops[g.Stop].At}
	}
	if !(s.At >= 0 && s.At < t.Length) {
		return s, &Refusal{Why: FromBeyondEnd, At: s.At, Limit: t.Length}
	}
	if !s.AtStop {
		s.Point, s.On = t.Line.At(s.At), leg.End{At: s.At}
	}
	return s, nil
}

// fromNear is how far from the place that is said a stop may be passed, for who reads it off a plan,
// a road sign or his trip meter: our estimate.
const fromNear route.Metres = 5000

// standsAt finds the passing of the stop of a name: the only one, or the nearest to the place that is
// said.
func (in *Inputs) standsAt(t *trip.Trip, name string) (trip.Sighting, error) {
	if !in.hasStop(name) {
		return trip.Sighting{}, &Refusal{Why: UnknownFrom, Name: name, Names: in.stopNames()}
	}
	on := in.passingsOf(t, name)
	if len(on) == 0 {
		return trip.Sighting{}, &Refusal{Why: FromNotPassed, Name: name}
	}
	r := &Refusal{Why: FromPassedTwice, Name: t.Stops[on[0].Stop].Name}
	for _, g := range on {
		r.Passed = append(r.Passed, g.At)
	}
	if !in.Options.HasFrom {
		if len(on) > 1 {
			return trip.Sighting{}, r
		}
		return on[0], nil
	}
	said := in.Options.From
	far := func(g trip.Sighting) route.Metres { return max(g.At-said, said-g.At) }
	nearest := slices.MinFunc(on, func(a, b trip.Sighting) int { return cmp.Compare(far(a), far(b)) })
	if !(far(nearest) <= fromNear) {
		r.Why, r.At, r.Limit = FromPassedElsewhere, said, fromNear
		return trip.Sighting{}, r
	}
	return nearest, nil
}

// passingsOf gives the passings of the stops of a name, in the order of the ride. One off the line may
// have been chosen, and is then passed where the line comes closest.
func (in *Inputs) passingsOf(t *trip.Trip, name string) (on []trip.Sighting) {
	called := func(g trip.Sighting) bool { return strings.EqualFold(t.Stops[g.Stop].Name, name) }
	for _, g := range t.Sightings {
		if called(g) {
			on = append(on, g)
		}
	}
	if len(on) == 0 && in.Options.FillAt == FillChosen {
		for _, g := range t.Beside {
			if g.Off <= in.Options.Detours && called(g) {
				on = append(on, g)
			}
		}
		if !in.Options.HasFrom && len(on) > 1 {
			on = on[:1]
		}
	}
	trip.InOrder(on)
	return on
}

// tankKnown refuses to take the tank for full in the middle of a ride, where no pump has
// filled it.
func (in *Inputs) tankKnown(d *trip.Draft) error {
	if o := d.Trip.Options; o.HasStartFuel || o.SinceFill > 0 || !d.NoFill(0) {
		return nil
	}
	stands := d.Trip.Stands()
	r := &Refusal{Why: TankNotSaid, At: stands.At}
	if stands.AtStop {
		r.Name = in.Stops[stands.Stop].Name
	}
	return r
}

// A bike that drinks half or twice of what is planned has been measured wrong, or
// elsewhere: our estimate.
const (
	leastFactor = 0.5
	mostFactor  = 2
)

// measure compares what has been used with what the plan of the whole expected for the
// same kilometres, on the way that is behind the rider.
func measure(h *here.Here, behind here.Way, used here.Used) error {
	shown := behind.Shown()
	if !(used.Trip > 0 && used.Litres > 0) {
		return &Refusal{Why: NothingUsed}
	}
	if used.Trip > shown*(1+fills.OffSaid)+tripHair {
		return &Refusal{Why: UsedOverMore, Used: used, At: h.At, Shown: shown}
	}
	f := behind.Last(used.Trip)
	h.Used, h.Low, h.Likely, h.High = &used, f.Low, f.Likely, f.High
	h.Factor = float64(used.Litres / f.Likely)
	if !(h.Factor >= leastFactor && h.Factor <= mostFactor) {
		return &Refusal{Why: UsedUnlikely, Used: used, Number: h.Factor, Likely: f.Likely}
	}
	return nil
}

// tripHair keeps a trip of just what is accepted from being too long by rounding.
const tripHair route.Metres = 1e-3
