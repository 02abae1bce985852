package plan

import (
	"context"
	"fmt"
	"slices"
	"strings"

	"lastpump/fuel"
	"lastpump/fuel/clock"
	"lastpump/fuel/plan/answer"
	"lastpump/fuel/plan/group"
	"lastpump/fuel/trip"
	"lastpump/octane"
	"lastpump/route"
)

// A Group is several bikes that ride a loop together. Everybody fills at every
// fill, so all have the same legs; on the way one may lend another fuel.
type Group struct {
	group.Ride         // who lends whom, what the group carries
	Bikes      []*Plan // each planned alone, in the order given; none has a Group of its own
	Answer     answer.Group
}

// Holds tells whether nothing fails for any bike, as it is planned alone.
func (g *Group) Holds() bool {
	return !slices.ContainsFunc(g.Bikes, func(p *Plan) bool { return !p.Holds() })
}

// MakeGroup plans a ride for several bikes that fill at the same stops: it gives
// the plan of the first, and with it the [Group]. The fuel and the grade at the
// start are those of the first bike; the others set out full, of what they need.
// For one bike the plan is that of [Make] and has no group; for none it is that
// of the bike in the inputs. The error is as that of Make, in a [*BikeError] where it is
// of one bike.
func MakeGroup(ctx context.Context, in Inputs, bikes []fuel.Bike) (*Plan, error) {
	if len(bikes) > 0 {
		in.Bike = bikes[0]
	}
	if len(bikes) < 2 {
		return Make(ctx, in)
	}
	if err := in.Options.checkGroup(); err != nil {
		return nil, err
	}
	g := &Group{}
	bikes = toldApart(bikes)
	manner := clock.MannerOf(bikes[0].Riding, true)
	in.manner = &manner
	if o := in.Options; o.Days != nil && (o.HasStartFuel || o.SinceFill > 0) {
		at := *o.Days
		at.FirstFill = true
		in.Options.Days = &at
	}
	if err := in.chooseFor(ctx, bikes); err != nil {
		return nil, err
	}
	for i := range bikes {
		p, err := Make(ctx, in.forBike(i, bikes))
		if err != nil {
			return nil, &BikeError{bikes[i].Name, err}
		}
		if p.NoFill(0) {
			return nil, &Refusal{Why: GroupAtNoStop}
		}
		g.Bikes = append(g.Bikes, p)
	}
	g.Ride = group.Of(g.drafts())
	g.Answer = answer.OfGroup(g.Legs, g.drafts())
	for _, p := range g.Bikes {
		p.Assumptions = append(p.Assumptions, g.assumptions()...)
	}
	first := *g.Bikes[0]
	first.Group = g
	first.Warnings = slices.Clone(first.Warnings) // notes are added to them
	return &first, nil
}

// checkGroup refuses what is said of one bike where there are several.
func (o Options) checkGroup() error {
	switch {
	case o.Used != nil:
		return &Refusal{Why: UsedInGroup}
	case o.fromHere() && o.FromStop == "" && o.From > 0:
		return &Refusal{Why: GroupAtNoStop} // nobody fills there
	}
	return nil
}

// chooseFor has the stops chosen and the clock asked once for all bikes, for the one that comes
// the least far on paved road.
func (in *Inputs) chooseFor(ctx context.Context, bikes []fuel.Bike) error {
	if in.Options.FillAt != FillChosen && in.Options.Days == nil {
		return nil
	}
	reach := func(b fuel.Bike) route.Metres { return b.Rate().Reach(b.Usable()) / route.Metres(b.EthanolFactor()) }
	i := 0
	for k, b := range bikes {
		if reach(b) < reach(bikes[i]) {
			i = k
		}
	}
	of := in.forBike(i, bikes)
	if err := of.complete(); err != nil {
		return &BikeError{bikes[i].Name, err}
	}
	whole, t, _, err := of.ride(ctx, of.trip())
	if err != nil {
		return &BikeError{bikes[i].Name, err}
	}
	if whole != nil {
		in.chosenWhole = whole.Change.Chosen
	}
	r, clocked, err := of.timed(ctx, whole, t)
	if err != nil {
		return err
	}
	if clocked != nil {
		in.hours, in.clocked = r.hours, clocked
	}
	if in.chosen, in.choice = r.change.Chosen, r.choice; in.choice != nil {
		in.choice.Bike = bikes[i].Name
	}
	return nil
}

// toldApart names the bikes that have no name by their number, and those that
// have the name of one before them by another number.
func toldApart(bikes []fuel.Bike) []fuel.Bike {
	out := slices.Clone(bikes)
	taken := map[string]bool{}
	for i := range out {
		own := strings.TrimSpace(out[i].Name)
		if own == "" {
			own = fmt.Sprintf("bike %d", i+1)
		}
		name := own
		for n := 2; taken[name]; n++ {
			name = fmt.Sprintf("%s (%d)", own, n)
		}
		taken[name] = true
		out[i].Name = name
	}
	return out
}

// forBike gives what the plan of one bike of a group is made from.
func (in Inputs) forBike(i int, bikes []fuel.Bike) Inputs {
	in.Bike, in.alongside = bikes[i], nil
	for k, b := range bikes {
		if k != i {
			in.alongside = append(in.alongside, b.Needs)
		}
	}
	if o := &in.Options; i > 0 {
		o.HasStartFuel, o.StartFuel, o.SinceFill, o.StartGrade, o.Fills = false, 0, 0, octane.Grade{}, nil
		o.CanNow, o.HasCanNow, o.CanNowGrade = 0, false, octane.Grade{}
	}
	return in
}

// assumptions are those that a group adds.
func (g *Group) assumptions() []Assumption {
	return []Assumption{
		{Topic: TopicGroup, Mark: Given, Bikes: len(g.Bikes), First: g.Bikes[0].Bike.Name},
		{Topic: TopicLending, Mark: OurOwn},
	}
}

// drafts gives the ride of each bike.
func (g *Group) drafts() (of []*trip.Draft) {
	for _, p := range g.Bikes {
		of = append(of, p.draft)
	}
	return of
}

// addLoans adds to the warnings of legs that are not OK what the bike can borrow.
func (g *Group) addLoans() {
	for b, p := range g.Bikes {
		for i := range p.Warnings {
			w := &p.Warnings[i]
			if w.Kind != KindShort && w.Kind != KindTight {
				continue
			}
			if c, ok := g.Borrow(b, w.Leg); ok {
				w.Cures, w.NoCure = append(w.Cures, c), nil
			}
		}
	}
}
