// Package group is how several bikes ride a loop together: who sets each leg, who lends
// whom, and how much spare fuel there has to be between all. Each is planned alone, and
// what is here is computed from the finished plans. Start with [Of].
package group

import (
	"lastpump/fuel"
	"lastpump/fuel/leg"
	"lastpump/fuel/trip"
	"lastpump/route"
)

// A Ride is a loop as a group rides it. Everybody fills at every fill, so all have the
// same legs; on the way one may lend another fuel.
type Ride struct {
	Legs []Leg
	Can  Can

	bikes []*trip.Draft
}

// Of says how bikes ride together that are planned over the same stops.
func Of(bikes []*trip.Draft) Ride {
	r := Ride{bikes: bikes}
	r.lay()
	r.carry()
	return r
}

// A Leg is a leg as the group rides it. Bikes are numbered in the order in which they are given.
type Leg struct {
	From, To trip.End
	ToAt     route.Metres
	SetBy    int         // the bike that sets the leg: the worst verdict, then the least headroom
	Verdict  leg.Verdict // of that bike, before anybody lends
	NotOK    int         // how many bikes are not OK on it
	Loans    []Loan
	Lent     leg.Verdict   // the worst of all bikes, after the loans
	Lacking  []fuel.Litres // of each bike to be OK, after the loans
	Lack     fuel.Litres   // all of that together
}

// A Can is how much spare fuel the group has to carry between all, as if
// nobody had a can.
type Can struct {
	Litres         fuel.Litres // so that every leg is OK for everybody, if those who can spare some lend it
	WithoutLending fuel.Litres // the same if nobody lends
	ForAnyDryPump  fuel.Litres // so that no dry pump strands anybody; at least Litres
	Size           leg.CanSize
	SizeWithout    leg.CanSize
	SizeForDry     leg.CanSize
}

// lay says of each leg who sets it and who lends whom.
func (r *Ride) lay() {
	for i, l := range r.bikes[0].Legs {
		with := Leg{From: l.From, To: l.To, ToAt: l.ToAt, SetBy: r.setter(i)}
		with.Verdict = r.bikes[with.SetBy].Legs[i].Verdict
		for _, d := range r.bikes {
			if d.Legs[i].Verdict != leg.OK {
				with.NotOK++
			}
		}
		with.Loans, with.Lacking = r.lend(i, r.lacks(i))
		for _, l := range with.Lacking {
			with.Lack += l
		}
		with.Lent = r.afterLoans(i, with.Loans)
		r.Legs = append(r.Legs, with)
	}
}

// setter gives the bike for which a leg is worst: by its verdict, then by its
// headroom, then the first.
func (r *Ride) setter(i int) int {
	worst := 0
	for b := range r.bikes {
		if r.bikes[b].Legs[i].Worse(r.bikes[worst].Legs[i].Leg) {
			worst = b
		}
	}
	return worst
}

// carry says how much spare fuel the group has to carry. If a pump is dry, each
// bike is counted to the stop that it lacks less to.
func (r *Ride) carry() {
	c := &r.Can
	for i := range r.Legs {
		var lack, spare, dry fuel.Litres
		for _, d := range r.bikes {
			over := d.Legs[i].Over(d.Legs[i].Start)
			lack += max(0, -over)
			spare += max(0, over)
			dry += d.DryLack(i, fuel.Likely)
		}
		if left := lack - spare; left > leg.Hair {
			c.Litres = max(c.Litres, left)
		}
		c.WithoutLending = max(c.WithoutLending, lack)
		c.ForAnyDryPump = max(c.ForAnyDryPump, dry)
	}
	c.ForAnyDryPump = max(c.ForAnyDryPump, c.Litres)
	sold := r.bikes[0].Trip.Options.Cans
	c.Size, c.SizeWithout, c.SizeForDry = sold.Smallest(c.Litres), sold.Smallest(c.WithoutLending),
		sold.Smallest(c.ForAnyDryPump)
}
