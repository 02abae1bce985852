package plan

import (
	"math"
	"slices"

	"lastpump/octane"
)

// A Need says whether a stop has to be filled at.
type Need string

// The needs of a stop.
const (
	MustFill Need = "must fill"
	MaySkip  Need = "may skip" // ridden past it, every verdict is kept
)

// skipWork is how many legs may be planned again to see which stops may be skipped.
const skipWork = 200_000

// maySkip says of each stop whether every verdict is kept if it is ridden past. On a
// ride of very many stops it is not told.
func (d *draft) maySkip() {
	if n := len(d.nodes); n*n > skipWork {
		return
	}
	asks := d.can()
	for k := 1; k < len(d.nodes)-1; k++ {
		v := &d.plan.Visits[d.nodes[k].visit]
		v.Need = MustFill
		if d.keepsAll(k, asks) {
			v.Need = MaySkip
		}
	}
}

// keepsAll tells whether riding past the place at a node keeps every verdict: those of
// the legs and of their mixtures, and what happens if another place is dry. What fails
// must not fail by more.
func (d *draft) keepsAll(k int, asks Can) bool {
	p := d.placeAt(k)
	var past []sighting
	for _, g := range slices.Concat(d.sightings, d.change.extra, d.change.chosen) {
		if slices.Contains(p.stops, g.stop) && math.Abs(float64(g.At-d.nodes[k].at)) <= float64(placeReach) {
			past = append(past, g)
		}
	}
	c := d.change
	c.past = slices.Concat(c.past, past)
	without := d.trial(c)
	if len(without.nodes) != len(d.nodes)-1 {
		return false // what else lies there is in the way
	}
	if can := without.can(); can.ForPlan > asks.ForPlan+hair || can.ForAnyDryPump > asks.ForAnyDryPump+hair {
		return false
	}
	for i, l := range without.plan.Legs {
		old := d.plan.Legs[i]
		if i >= k {
			old = d.plan.Legs[i+1]
		}
		verdict, mixture, lack := old.Verdict, old.Mixture.Verdict, old.lack()
		if i == k-1 {
			next := d.plan.Legs[k]
			verdict, lack = worseOf(verdict, next.Verdict), max(lack, next.lack())
			mixture = worseMixture(mixture, next.Mixture.Verdict)
		}
		if l.Verdict.rank() > verdict.rank() || l.lack() > lack+hair || l.Mixture.Verdict.Rank() > mixture.Rank() {
			return false
		}
		if i+1 < len(without.plan.Legs) && !d.keepsDry(without, i+1, k) {
			return false
		}
	}
	return true
}

// keepsDry tells whether what happens if a place is dry is no worse without the place at
// node k.
func (d *draft) keepsDry(without *draft, i, k int) bool {
	j := i
	if i >= k {
		j++
	}
	now, was := without.plan.Visits[without.nodes[i].visit].IfDry, d.plan.Visits[d.nodes[j].visit].IfDry
	order := []Outcome{On, Back, Stranded}
	if now.Outcome == Stranded && was.Outcome == Stranded {
		return now.Spare >= was.Spare-hair
	}
	return slices.Index(order, now.Outcome) <= slices.Index(order, was.Outcome) && (!now.Bare || was.Bare)
}

func worseMixture(a, b octane.Verdict) octane.Verdict {
	if b.Rank() > a.Rank() {
		return b
	}
	return a
}
