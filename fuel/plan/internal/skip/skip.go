// Package skip tells which stops of a ride may be ridden past.
package skip

import (
	"context"
	"slices"

	"lastpump/fuel/leg"
	"lastpump/fuel/trip"
)

// work is how many legs may be planned again to see which stops may be skipped.
const work = 200_000

// Find says of each stop whether every verdict is kept if it is ridden past. On a
// ride of very many stops it is not told. The error is that of the context.
func Find(ctx context.Context, d *trip.Draft, tell func(done, of int)) error {
	if n := len(d.Nodes); n*d.Trip.Work(n) > work {
		return nil
	}
	asks := d.SpareNeeded()
	for k := 1; k < len(d.Nodes)-1; k++ {
		if err := ctx.Err(); err != nil {
			return err
		}
		tell(k, len(d.Nodes))
		v := &d.Visits[d.Nodes[k].Visit]
		v.Need = trip.MustFill
		if keepsAll(d, k, asks) {
			v.Need = trip.MaySkip
		}
	}
	return nil
}

// keepsAll tells whether riding past the place at a node keeps every verdict: those of
// the legs and of their mixtures, and what happens if another place is dry. What fails
// must not fail by more.
func keepsAll(d *trip.Draft, k int, asks trip.Can) bool {
	without := d.Trip.Trial(passing(d, k))
	if len(without.Nodes) != len(d.Nodes)-1 {
		return false // what else lies there is in the way
	}
	if can := without.SpareNeeded(); can.ForPlan > asks.ForPlan+leg.Hair ||
		can.ForAnyDryPump > asks.ForAnyDryPump+leg.Hair {
		return false
	}
	for i, l := range without.Legs {
		old := d.Legs[i]
		if i >= k {
			old = d.Legs[i+1]
		}
		verdict, mixture, lack := old.Verdict, old.Mixture.Verdict, old.Lack()
		if i == k-1 {
			next := d.Legs[k]
			verdict, lack = leg.Worst(verdict, next.Verdict), max(lack, next.Lack())
			mixture = mixture.Worst(next.Mixture.Verdict)
		}
		if l.Verdict.Rank() > verdict.Rank() || l.Lack() > lack+leg.Hair || l.Mixture.Verdict.Rank() > mixture.Rank() {
			return false
		}
		if i+1 == len(without.Legs) {
			return true
		}
		was := i + 1 // the node at the end of the leg, with the place at k
		if was >= k {
			was++
		}
		if !ifDryAt(without, i+1).NoWorse(ifDryAt(d, was).Dry) {
			return false
		}
	}
	return true
}

// passing gives the change of a draft that rides past the place at a node.
func passing(d *trip.Draft, k int) trip.Change {
	n, c := d.Nodes[k], d.Change
	for _, g := range slices.Concat(d.Trip.Sightings, c.Chosen) {
		if trip.Together(g.At, n.On.At) && slices.Contains(n.Stops, g.Stop) {
			c.Past = append(slices.Clip(c.Past), g)
		}
	}
	return c
}

// ifDryAt gives what a draft says of the place at a node.
func ifDryAt(d *trip.Draft, k int) *trip.IfDry { return d.Visits[d.Nodes[k].Visit].IfDry }
