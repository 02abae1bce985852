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

	// WithoutOwn are the smallest, in place of what the rider has, with which every leg is OK and no dry
	// pump strands, or leaves bare where that alone fails, as [Cures] has found them, with the stops that
	// suit them; nil where all holds as it is or no such cans would do.
	WithoutOwn *CanRow
}

// Largest gives how much can be carried in all.
func (c Cans) Largest() fuel.Litres {
	if len(c.Rows) == 0 {
		return 0
	}
	return c.Rows[len(c.Rows)-1].Cans.Total()
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
// carried, before their size counts, and chooses the stops for them.
func (in *Inputs) decide(ctx context.Context, t *trip.Trip) (ready, error) {
	s := in.sizing(t)
	most, err := s.at(ctx, len(s.cans)-1)
	if err != nil {
		return ready{}, err
	}
	best := most.worth.BeforeCans()
	least, err := s.smallest(ctx, func(w trip.Worth) bool {
		now := w.BeforeCans()
		return slices.Compare(now[:], best[:]) <= 0
	})
	if err != nil {
		return ready{}, err
	}
	return least.ready, nil
}

// A sizing tries the cans that may be carried, with the stops that suit each.
type sizing struct {
	in    *Inputs
	trip  *trip.Trip
	cans  []leg.Carried // the smallest first
	tried []*sized
}

// A sized ride is decided for some cans.
type sized struct {
	ready
	worth trip.Worth
}

func (in *Inputs) sizing(t *trip.Trip) sizing {
	cans := in.carriable()
	return sizing{in: in, trip: t, cans: cans, tried: make([]*sized, len(cans))}
}

// at decides the ride with the cans of a number.
func (s *sizing) at(ctx context.Context, i int) (*sized, error) {
	if s.tried[i] != nil {
		return s.tried[i], nil
	}
	r := sized{ready: ready{trip: s.trip.Carrying(s.cans[i])}}
	var err error
	if r.change, r.choice, err = s.in.choose(ctx, r.trip); err != nil {
		return nil, err
	}
	r.worth = r.trip.Trial(r.change).Worth()
	s.tried[i] = &r
	return &r, nil
}

// smallest gives the ride with the smallest cans that are good enough, as the largest have to be. A
// larger can never makes that worse: what a leg or a dry pump asks for is in it, if it holds that.
func (s *sizing) smallest(ctx context.Context, good func(trip.Worth) bool) (*sized, error) {
	var failed error
	i := sort.Search(len(s.cans)-1, func(i int) bool {
		if failed != nil {
			return false
		}
		var r *sized
		r, failed = s.at(ctx, i)
		return failed == nil && good(r.worth)
	})
	if failed != nil {
		return nil, failed
	}
	return s.at(ctx, i)
}

// withoutOwn finds the smallest cans, up to the most, with which all holds that does not with those
// that the rider has: two are the most, and his own may leave no room for the size that it takes. Of
// the rest of a ride, and where something is in his can, it finds none: he has what he has.
func (p *Plan) withoutOwn(ctx context.Context) error {
	c := &p.Cans
	if !c.Auto || len(c.Own) == 0 || p.Here != nil || p.Options.CanNow > 0 || p.Worth.Holds() {
		return nil
	}
	good := trip.Worth.Holds
	if !p.Worth.HoldsLikely() {
		good = trip.Worth.HoldsLikely
	}
	in := p.in
	in.Options.Carry.Cans = leg.Carried{}
	s := in.sizing(p.draft.Trip)
	most, err := s.at(ctx, len(s.cans)-1)
	if err != nil || !good(most.worth) {
		return err
	}
	least, err := s.smallest(ctx, good)
	if err != nil {
		return err
	}
	row := rowOf(least.trip.Trial(least.change))
	c.WithoutOwn = &row
	return nil
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
		r := rowOf(d.Trip.Carrying(cans).Trial(d.Change))
		r.Planned = cans.Compare(c.Carried) == 0
		c.Rows = append(c.Rows, r)
	}
	return c
}

// rowOf says how a ride fares with the cans that it carries.
func rowOf(d *trip.Draft) CanRow {
	r := CanRow{Cans: d.Trip.Carried, Weight: weight(d.Trip.Carried.Total())}
	for _, l := range d.Legs {
		if l.Verdict != leg.OK {
			r.NotOK++
		}
	}
	r.Stranded, r.Bare = d.IfAnyDry()
	return r
}
