// Package whatif tries what may turn out otherwise than planned: a thirstier bike, dry
// pumps, a stop of hearsay that is there after all. The ride is planned again, or for dry pumps
// the legs over them are judged anew.
package whatif

import (
	"context"
	"math"
	"slices"

	"lastpump/fuel"
	"lastpump/fuel/leg"
	"lastpump/fuel/trip"
)

// A Kind sorts what may turn out otherwise than planned.
type Kind string

// The kinds of cases.
const (
	Thirst  Kind = "thirst"
	Dry     Kind = "dry"     // one place is dry
	TwoDry  Kind = "two-dry" // two places are dry that follow each other
	Hearsay Kind = "hearsay" // a stop that is not counted is there after all
)

// A Case is one thing that turns out otherwise, and what becomes of the plan.
type Case struct {
	Kind       Kind
	Thirst     float64     // of the whole ride; meaningless but for Thirst
	Stops      []string    // that are dry, or there after all
	From, To   trip.End    // of the worst leg
	Verdict    leg.Verdict // of it
	Arrive     fuel.Litres
	NotOK      int         // legs that are SHORT or TIGHT
	Can        fuel.Litres // so that every leg is OK
	Size       leg.CanSize
	Stranding  int         // places that would strand if they were dry, too; not told of dry ones
	CanDry     fuel.Litres // for any one dry pump; not told of dry ones
	SizeDry    leg.CanSize
	DryIsKnown bool // the three above are told
	Worst      bool // the worst of the dry ones of its kind
}

// Telling tells whether a case is worth telling: of the dry ones of a kind only the worst is.
func (c Case) Telling() bool { return c.Worst || c.Kind != Dry && c.Kind != TwoDry }

// thirsts are what is tried for the whole ride.
var thirsts = []float64{0.9, 1, 1.1, 1.2, 1.3, 1.4, 1.5}

// mostHearsay is how many stops that are not counted are tried one by one.
const mostHearsay = 100

// Try makes a ride again for each thirst, each dry place, each two dry places that
// follow each other, and each stop that is only said to be there. The error is that of
// the context.
func Try(ctx context.Context, d *trip.Draft, tell func(done, of int)) ([]Case, error) {
	tell(0, 3)
	out, err := ifThirstier(ctx, d)
	if err != nil {
		return nil, err
	}
	tell(1, 3)
	dry, err := ifGone(ctx, d)
	if err != nil {
		return nil, err
	}
	tell(2, 3)
	hearsay, err := ifThere(ctx, d)
	return slices.Concat(out, dry, hearsay), err
}

// ifThirstier plans again for each thirst.
func ifThirstier(ctx context.Context, d *trip.Draft) ([]Case, error) {
	own := d.Trip.Options.Thirst
	all := slices.Clone(thirsts)
	if !slices.ContainsFunc(all, func(t float64) bool { return math.Abs(t-own) < leg.Hair }) {
		all = append(all, own)
		slices.Sort(all)
	}
	var out []Case
	for _, t := range all {
		if err := ctx.Err(); err != nil {
			return nil, err
		}
		c := caseOf(d.Trip.Trial(trip.Change{Thirst: t / own}.On(d.Change)))
		c.Kind, c.Thirst = Thirst, t
		out = append(out, c)
	}
	return out, nil
}

// ifThere plans again with each stop that is passed but not counted.
func ifThere(ctx context.Context, d *trip.Draft) ([]Case, error) {
	var out []Case
	tried, t := 0, d.Trip
	for _, g := range t.Sightings {
		st := t.Stops[g.Stop]
		if g.At < t.StartAt() || !t.Doubted(g.Stop) || tried == mostHearsay {
			continue
		}
		if err := ctx.Err(); err != nil {
			return nil, err
		}
		tried++
		c := caseOf(t.Trial(trip.Change{Believe: g.Stop + 1, Extra: []trip.Sighting{g}}.On(d.Change)))
		c.Kind, c.Stops = Hearsay, []string{st.Name}
		if !slices.ContainsFunc(out, func(o Case) bool { return o.Stops[0] == st.Name }) {
			out = append(out, c)
		}
	}
	return out, nil
}

// caseOf sums up a draft.
func caseOf(d *trip.Draft) Case {
	worst := d.Legs[0]
	c := Case{DryIsKnown: true}
	for i, l := range d.Legs {
		if l.Leaner(worst.Leg) {
			worst = l
		}
		c.count(l, 0, d.NoFill(i))
	}
	can := d.SpareNeeded()
	c.From, c.To, c.Verdict, c.Arrive = worst.From, worst.To, worst.Verdict, worst.Arrive
	c.Can, c.CanDry, c.SizeDry = can.ForPlan, can.ForAnyDryPump, can.SizeForDry
	if !c.Size.TooBig {
		c.Size = can.SizeForPlan
	}
	c.Stranding, _ = d.IfAnyDry()
	return c
}

// count takes a leg into account. Where no can is filled before it, none is big enough.
func (c *Case) count(l trip.Leg, lack fuel.Litres, noCan bool) {
	if l.Verdict != leg.OK {
		c.NotOK++
		c.Size.TooBig = c.Size.TooBig || noCan
	}
	if !noCan {
		c.Can = max(c.Can, lack)
	}
}
