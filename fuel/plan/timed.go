package plan

import (
	"context"
	"slices"

	"lastpump/fuel/clock"
	"lastpump/fuel/plan/days"
	"lastpump/fuel/trip"
)

// rides gives the manner in which the ride is ridden.
func (in *Inputs) rides() clock.Manner {
	if in.manner != nil {
		return *in.manner
	}
	return clock.MannerOf(in.Bike.Riding, false)
}

// timed decides stops and cans by the clock. At first the clock goes over a ride that fills
// everywhere. What is shut for longer than anybody waits is then not counted, all is decided
// anew, and the clock goes over what comes of that, until nothing more is shut and it has gone over
// the very stops that are filled at: each round shuts one passing at the least, or finds it worse.
// Without a clock it is settled at once, and there is no reckoning.
func (in *Inputs) timed(ctx context.Context, whole *trip.Draft, t *trip.Trip) (ready, *days.Reckoning, error) {
	if in.Options.Days == nil {
		r, err := in.settle(ctx, whole, t)
		return r, nil, err
	}
	hours := in.hours
	if hours == nil {
		all, err := in.reckon(t.Trial(trip.Change{}))
		if err != nil {
			return ready{}, nil, err
		}
		hours = all.Hours
	}
	for _, g := range in.barred {
		h := hours[g]
		h.LongShut = true
		hours[g] = h
	}
	for {
		r, err := in.settle(ctx, whole, t.ByClock(hours))
		if err != nil {
			return ready{}, nil, err
		}
		if in.hours != nil { // all bikes of a group fill at the same stops, by one clock
			r.hours = hours
			return r, in.clocked, nil
		}
		clocked, err := in.atNights(&r)
		if err != nil {
			return ready{}, nil, err
		}
		later, more := hours.With(clocked.Hours)
		hours = later
		followed := filledAt(r.trip.Trial(r.change))
		r.trip, r.hours = r.trip.ByClock(hours), hours
		if !more && slices.Equal(filledAt(r.trip.Trial(r.change)), followed) {
			return r, clocked, nil
		}
	}
}

// filledAt lists the stops that a draft fills at.
func filledAt(d *trip.Draft) (stops []int) {
	for _, n := range d.Nodes {
		stops = append(stops, n.Stop)
	}
	return stops
}

// reckon follows a draft by the clock.
func (in *Inputs) reckon(d *trip.Draft) (*days.Reckoning, error) {
	return days.Of(d, in.rides(), *in.Options.Days)
}

// atNights follows a ride by the clock, and has it fill where it sleeps.
func (in *Inputs) atNights(r *ready) (*days.Reckoning, error) {
	for {
		d := r.trip.Trial(r.change)
		clocked, err := in.reckon(d)
		if err != nil || r.change.Chosen == nil {
			return clocked, err
		}
		more := slices.DeleteFunc(clocked.NightsToFill(d), func(g trip.Sighting) bool {
			return slices.Contains(r.change.Chosen, g) || d.Near(g)
		})
		if len(more) == 0 {
			return clocked, nil
		}
		r.change.Chosen = append(slices.Clone(r.change.Chosen), more...)
		trip.InOrder(r.change.Chosen)
		if r.choice != nil {
			c := *r.choice
			c.Taken += len(more)
			c.Worth = r.trip.Trial(r.change).Worth()
			r.choice = &c
		}
	}
}

// byClock puts into a plan what the clock says of it.
func (p *Plan) byClock(d *trip.Draft, clocked *days.Reckoning) {
	p.Manner = p.in.rides()
	if clocked != nil {
		p.clocked = clocked
		p.Manner, p.Notes, p.Days = clocked.Manner, clocked.Notes, clocked.Days(d)
		p.line = p.line.ByClock(d.Trip.Hours())
	}
	pacing := clock.NewPacing(d.Trip.Runs(), p.Manner)
	for i := range d.Legs {
		p.Riding = append(p.Riding, pacing.Riding(d.Nodes[i].On, d.Nodes[i+1].On))
	}
}

// byClock warns of pumps that are shut or may be, of hours that nobody knows, and of days that end
// in the dark. Where the ride begins and ends no pump is needed.
func (w *warner) byClock() {
	var may, unknown []int
	for i, v := range w.Visits {
		if v.Hour == nil || !days.NeedsPump(&w.Ride, i) {
			continue
		}
		switch {
		case v.WhyNot == trip.LongShut || v.Fill != nil && v.Hour.State == clock.Shut:
			w.ofVisits(KindShut, []int{i}, ShutThere{}, v.Hour.Wait[clock.Likely].Hours())
		case v.Fill == nil:
		case v.Hour.State == clock.Doubtful:
			may = append(may, i)
		case v.Hour.State == clock.NotKnown:
			unknown = append(unknown, i)
		}
	}
	w.ofVisits(KindMaybeShut, may, MaybeShut{}, 0)
	w.ofVisits(KindHoursNotKnown, unknown, HoursNotKnown{}, 0)
	var dark []int
	for _, n := range w.Notes {
		if n.Kind == clock.ArrivesDark {
			dark = append(dark, n.Day)
		}
	}
	if len(dark) > 0 {
		w.add(KindDark, ArriveDark{dark})
	}
}
