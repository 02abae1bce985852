package plan

import (
	"context"
	"slices"
	"sort"

	"lastpump/fuel"
	"lastpump/fuel/leg"
	"lastpump/fuel/trip"
)

// Carry says which cans a plan may carry.
type Carry struct {
	Cans leg.Carried // those that the rider has, two at the most; nil for the bike's own
	Most fuel.Litres // up to how many litres in all cans are added to them; 0 for none
}

// Cans says which cans the plan carries, beside what others would hold.
type Cans struct {
	Carried leg.Carried // by the plan
	Own     leg.Carried // of those, what the rider has
	Auto    bool        // cans might be added to those
	Most    fuel.Litres // up to how many litres in all
	Rows    []CanRow    // none, and each sum that can be carried, the smallest first
}

// A CanRow says how the ride over the same stops fares with other cans.
type CanRow struct {
	Cans           leg.Carried
	NotOK          int // legs
	Stranded, Bare int // places, if they are dry: on the likely figures, and at the most alone
	Weight         fuel.Kilograms
	Planned        bool
}

// A ready is a ride of which cans and stops are decided.
type ready struct {
	trip   *trip.Trip
	change trip.Change
	choice *Choice
	hours  trip.Hours // by which both are decided; nil where no clock was asked
}

// own gives the cans that the rider has.
func (in *Inputs) own() leg.Carried {
	switch c := in.Options.Carry.Cans; {
	case c != nil:
		return c
	case in.Bike.Can > 0:
		return leg.Carried{in.Bike.Can}
	case in.Options.CanNow > 0:
		if s := in.Options.Cans.Smallest(in.Options.CanNow); !s.TooBig {
			return leg.Carried{s.Litres}
		}
		return leg.Carried{in.Options.CanNow}
	}
	return leg.Carried{}
}

// carriable lists what may be carried, the smallest first.
func (in *Inputs) carriable() []leg.Carried {
	if in.Options.Carry.Most <= 0 {
		return []leg.Carried{in.own()}
	}
	return in.Options.Cans.UpTo(in.own(), in.Options.Carry.Most)
}

// settle decides cans and stops; on the way the cans are those of the whole.
func (in *Inputs) settle(ctx context.Context, whole *trip.Draft, t *trip.Trip) (r ready, err error) {
	if whole == nil {
		return in.decide(ctx, t)
	}
	r.trip = t
	r.change, r.choice, err = in.choose(ctx, t)
	return r, err
}

// decide finds the smallest cans with which the ride is as good as with the largest that may be
// carried, before their size counts, and chooses the stops for them. A larger can never makes
// that worse: what a leg or a dry pump asks for is in it, if it holds that.
func (in *Inputs) decide(ctx context.Context, t *trip.Trip) (ready, error) {
	cans := in.carriable()
	tried := make([]*ready, len(cans))
	worth := make([]trip.Worth, len(cans))
	try := func(i int) error {
		if tried[i] != nil {
			return nil
		}
		r := ready{trip: t.Carrying(cans[i])}
		var err error
		if r.change, r.choice, err = in.choose(ctx, r.trip); err == nil {
			tried[i], worth[i] = &r, r.trip.Trial(r.change).Worth()
		}
		return err
	}
	last := len(cans) - 1
	if err := try(last); err != nil {
		return ready{}, err
	}
	var failed error
	i := sort.Search(last, func(i int) bool {
		if failed == nil {
			failed = try(i)
		}
		at, best := worth[i].BeforeCans(), worth[last].BeforeCans()
		return failed == nil && slices.Compare(at[:], best[:]) <= 0
	})
	if failed == nil {
		failed = try(i)
	}
	if failed != nil {
		return ready{}, failed
	}
	return *tried[i], nil
}

// cansOf lays the table of cans for a ride: the same stops with none and with each sum that can
// be carried.
func (in *Inputs) cansOf(d *trip.Draft) Cans {
	c := Cans{Carried: d.Trip.Carried, Own: in.own(), Auto: in.Options.Carry.Most > 0, Most: in.Options.Carry.Most}
	rows := in.carriable()
	if len(rows[0]) > 0 {
		rows = append([]leg.Carried{{}}, rows...)
	}
	for _, cans := range rows {
		tried := d.Trip.Carrying(cans).Trial(d.Change)
		r := CanRow{Cans: cans, Weight: weight(cans.Total()), Planned: cans.Compare(c.Carried) == 0}
		for _, l := range tried.Legs {
			if l.Verdict != leg.OK {
				r.NotOK++
			}
		}
		r.Stranded, r.Bare = tried.IfAnyDry()
		c.Rows = append(c.Rows, r)
	}
	return c
}
