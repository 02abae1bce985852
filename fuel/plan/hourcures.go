package plan

import (
	"cmp"
	"context"
	"errors"
	"slices"
	"time"

	"lastpump/fuel/clock"
	"lastpump/fuel/plan/days"
	"lastpump/fuel/trip"
)

// mostReplanned is for how many cures of shut pumps all of a ride is planned anew at the most, so
// that nobody waits longer than some seconds.
const mostReplanned = 24

// hourCures finds what a rider may do about pumps that are shut or may be, and puts it into the
// warnings of them. Stops that are a group's are not chosen anew for one of its bikes.
func (p *Plan) hourCures(ctx context.Context) error {
	if p.clocked == nil {
		return nil
	}
	f := hourFinder{Plan: p, ctx: ctx, left: mostReplanned, before: days.StandingOf(&p.Ride), worth: p.Worth.BeforeCans()}
	for i := range p.Warnings {
		w := &p.Warnings[i]
		if w.Kind != KindShut && w.Kind != KindMaybeShut {
			continue
		}
		for _, v := range w.Visits {
			w.Hours = append(w.Hours, f.of(v)...)
		}
		if f.err != nil {
			return f.err
		}
	}
	return nil
}

// An hourFinder tries cures of pumps that are shut or may be.
type hourFinder struct {
	*Plan
	ctx    context.Context
	left   int // rides to be planned anew
	before days.Standing
	worth  [4]int64
	starts []time.Time // other days to start on, the best first; nil before they are asked for
	err    error
}

// of gives the cures of one pump.
func (f *hourFinder) of(visit int) (out []days.Cure) {
	v := f.Visits[visit]
	g := sightingOf(v)
	waits := false
	if v.Stop.Phone != "" {
		out = append(out, days.Cure{Kind: days.Phone, Visit: visit})
	}
	for _, try := range []func(int, trip.Sighting, *clock.Passing) (days.Cure, bool){
		f.leaveAt, f.waitThere, f.passBy, f.sleepAt, f.startOn,
	} {
		c, ok := try(visit, g, v.Hour)
		if !ok || c.Kind == days.SleepAt && c.Day == v.Hour.Day && waits { // the same said twice
			continue
		}
		waits = waits || c.Kind == days.WaitThere
		c.Visit = visit
		out = append(out, c)
	}
	return out
}

// sightingOf gives the passing of a visit.
func sightingOf(v trip.Visit) (g trip.Sighting) {
	g.Stop, g.At, g.Off = v.Number, v.At, v.Off
	return g
}

// leaveAt tries another hour for the day on which the pump is reached.
func (f *hourFinder) leaveAt(_ int, g trip.Sighting, at *clock.Passing) (c days.Cure, ok bool) {
	leave, ok := f.clocked.Leaving(at.Day, g)
	if !ok || at.Day >= len(f.Days) {
		return c, false
	}
	o := f.days()
	hour := clock.OClock{Hour: leave.Hour(), Minute: leave.Minute()}
	if at.Day == 0 {
		o.First = hour
	} else {
		o.On[at.Day+1] = hour
	}
	c = days.Cure{Kind: days.LeaveAt, Day: at.Day, Leave: leave, Was: f.Days[at.Day].Leave}
	return c, f.planned(&c, o, g)
}

// mostWaited is longer than anybody waits for a pump to open whom nothing else helps: our estimate.
const mostWaited = 36 * time.Hour

// waitThere tries to wait for as long as it takes.
func (f *hourFinder) waitThere(_ int, g trip.Sighting, at *clock.Passing) (c days.Cure, ok bool) {
	wait := at.Opens.Sub(at.There[clock.Likely])
	if !at.LongShut || at.Opens.IsZero() || wait > mostWaited {
		return c, false
	}
	o := f.days()
	o.Wait = wait + time.Minute
	c = days.Cure{Kind: days.WaitThere, Wait: wait}
	return c, f.planned(&c, o, g)
}

// passBy tries not to fill at a pump that is counted.
func (f *hourFinder) passBy(visit int, g trip.Sighting, at *clock.Passing) (c days.Cure, ok bool) {
	if f.Visits[visit].Fill == nil {
		return c, false
	}
	in := f.in
	in.barred = []trip.Sighting{g}
	r, _, ok := f.again(in)
	c = days.Cure{Kind: days.PassBy}
	if ok {
		d := r.trip.Draft(r.change)
		c.Standing = days.StandingOf(&d.Ride)
		c.Standing.LongShut-- // this one
		ok = f.better(c.Standing, d)
	}
	return c, ok
}

// sleepAt tries to be at the pump the evening before, or else to sleep there.
func (f *hourFinder) sleepAt(_ int, g trip.Sighting, at *clock.Passing) (c days.Cure, ok bool) {
	for _, day := range []int{at.Day - 1, at.Day} {
		if day < 0 || day >= len(f.Days)-1 {
			continue
		}
		o := f.days()
		o.Nights = f.clocked.Nights(day, g.At)
		c = days.Cure{Kind: days.SleepAt, Day: day}
		if f.planned(&c, o, g) {
			return c, true
		}
	}
	return c, false
}

// startOn tries other days for all of the ride.
func (f *hourFinder) startOn(_ int, g trip.Sighting, _ *clock.Passing) (c days.Cure, ok bool) {
	if f.Here != nil { // on the way it is too late
		return c, false
	}
	const most = 3
	for i, date := range f.otherStarts() {
		if i == most {
			break
		}
		o := f.days()
		o.Date = date
		try := days.Cure{Kind: days.StartOn, Leave: date, Was: f.Options.Days.Date}
		if f.planned(&try, o, g) && (!ok || try.Standing.Compare(c.Standing) < 0) {
			c, ok = try, true
		}
	}
	return c, ok
}

// startsAround is how many days earlier or later a ride may be begun.
const startsAround = 3

// otherStarts gives the other days that are better to start on, as a ride stands that fills
// everywhere: the best first, of the same the nearest, then the later.
func (f *hourFinder) otherStarts() []time.Time {
	if f.starts != nil {
		return f.starts
	}
	type start struct {
		date     time.Time
		off      int
		standing days.Standing
	}
	everywhere := f.in.trip().Trial(trip.Change{})
	standing := func(date time.Time) days.Standing {
		o := f.days()
		o.Date = date
		r, err := days.Of(everywhere, f.in.rides(), *o)
		if err != nil {
			f.err = err
			return f.before
		}
		return r.Standing()
	}
	was := f.Options.Days.Date
	now := standing(was)
	var all []start
	for off := -startsAround; off <= startsAround; off++ {
		date := was.AddDate(0, 0, off)
		if s := (start{date, off, standing(date)}); off != 0 && s.standing.Compare(now) < 0 {
			all = append(all, s)
		}
	}
	slices.SortStableFunc(all, func(a, b start) int {
		return cmp.Or(a.standing.Compare(b.standing), max(a.off, -a.off)-max(b.off, -b.off), b.off-a.off)
	})
	f.starts = []time.Time{}
	for _, s := range all {
		f.starts = append(f.starts, s.date)
	}
	return f.starts
}

// days gives a copy of what the rider says of his days.
func (f *hourFinder) days() *days.Options {
	o := *f.in.Options.Days
	on := map[int]clock.OClock{}
	for day, hour := range o.On {
		on[day] = hour
	}
	o.On = on
	return &o
}

// planned plans all anew with other days, and tells whether the pump of a passing is open then, and
// nothing is worse.
func (f *hourFinder) planned(c *days.Cure, o *days.Options, g trip.Sighting) bool {
	in := f.in
	in.Options.Days = o
	r, _, ok := f.again(in)
	if !ok {
		return false
	}
	d := r.trip.Draft(r.change)
	i := d.VisitAt(g)
	if i < 0 || d.Visits[i].Hour == nil {
		return false
	}
	h := d.Visits[i].Hour
	c.There, c.Standing = h.There, days.StandingOf(&d.Ride)
	open := h.State == clock.Open || h.Fill != clock.NoFill && c.Kind != days.LeaveAt && h.State != clock.Doubtful
	return open && d.Visits[i].Counted && f.better(c.Standing, d)
}

// better tells whether a ride stands better by its hours, and its fuel no worse.
func (f *hourFinder) better(s days.Standing, d *trip.Draft) bool {
	now := d.Worth().BeforeCans()
	return s.Compare(f.before) < 0 && slices.Compare(now[:], f.worth[:]) <= 0
}

// again decides all anew; not ok where that cannot be planned, or too much was tried.
func (f *hourFinder) again(in Inputs) (r ready, clocked *days.Reckoning, ok bool) {
	if f.left <= 0 || f.err != nil {
		return r, nil, false
	}
	f.left--
	in.Tell = nil
	in.hours, in.clocked = nil, nil
	whole, t, _, err := in.ride(f.ctx, in.trip())
	if err == nil {
		r, clocked, err = in.timed(f.ctx, whole, t)
	}
	var refused *Refusal
	var fault *days.Fault
	if err != nil && !errors.As(err, &refused) && !errors.As(err, &fault) {
		f.err = err
	}
	return r, clocked, err == nil
}
