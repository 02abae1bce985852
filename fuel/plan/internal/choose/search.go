package choose

import (
	"cmp"
	"context"
	"math"
	"slices"

	"lastpump/fuel"
	"lastpump/octane"
)

// The search goes along the line, node after node, with labels: rides up to a node, each
// with what it weighs so far and what is then in tank and can. No mixture is dropped for a
// better one: with better petrol in the tank a plan takes a lower grade, and may be worse
// off for it later. Only of two with the same the heavier goes. Labels that can no more
// become better than a ride that is known, by the bounds, are dropped, and where there are
// still too many, those whose bounds promise least. The least promise of those that went
// for that is what the best may be at the best; where none went, what was found is the best.
type label struct {
	arc    *arc
	stance stance
	before *label
	weight weight
	bound  weight // of all rides that begin so
	load   load
	back   *fuel.Amount // ridden backwards, to the last node of another place; never changed
	open   []unsettled  // but for its own
}

// A round is one search along the line.
type round struct {
	*bounds
	most    int    // labels for each node
	dropped weight // the least bound of the labels that were too many
	at      [][]*label
	same    []map[key]*label
}

// A key tells labels whose ways on are the same.
type key struct {
	arc       *arc // nil where it tells nothing more
	stance    stance
	tank, can octane.Mixture
	low       int64 // of the tank after the fill, in billionths of an octane, where that is known
	in        fuel.Litres
	filled    octane.Grade
}

// search looks for a ride better than the one that is known; nil where it finds none. No ride is
// better than the bound that it gives, or the one that it finds.
func (b *bounds) search(ctx context.Context, most int) (found *label, bound weight, err error) {
	last := len(b.nodes) - 1
	r := &round{bounds: b, most: most, dropped: worst, at: make([][]*label, last+1), same: make([]map[key]*label, last+1)}
	r.leave(&label{weight: b.base, load: b.startLoad()}, 0)
	for i := 1; i < last; i++ {
		if err := ctx.Err(); err != nil {
			return nil, worst, err
		}
		b.tell(i, last)
		r.cut(i, r.most)
		for _, l := range r.at[i] {
			r.leave(l, i)
		}
		r.at[i], r.same[i] = nil, nil
	}
	for _, l := range r.at[last] {
		if found == nil || l.weight.compare(found.weight) < 0 {
			found = l
		}
	}
	return found, r.dropped, nil
}

// path gives the nodes of a ride, the start and the end left out.
func (l *label) path() (nodes []int) {
	for l = l.before; l.arc != nil; l = l.before {
		nodes = append(nodes, l.arc.to)
	}
	slices.Reverse(nodes)
	return nodes
}

// leave goes on from a label of a node over each leg that begins there.
func (r *round) leave(l *label, i int) {
	for _, a := range r.arcs[i] {
		open, ok := r.settle(l, a)
		if !ok {
			continue
		}
		back, stances := &a.back, a.stances
		if a.chained {
			all := a.back.Plus(*l.back)
			back, stances = &all, r.stancesOf(a, all)
		}
		for _, s := range stances {
			r.goOver(l, a, s, back, open)
		}
	}
}

// goOver rides a leg.
func (r *round) goOver(l *label, a *arc, s stance, back *fuel.Amount, open []unsettled) {
	w := l.weight.plus(a.adds).plus(s.weight())
	if w.compare(r.known) >= 0 {
		return
	}
	load, lacks := r.ride(a, s, l.load)
	w[missing] += lacks
	level, low := float64(load.level), load.tank.Low()
	bound := w.plus(r.behind(a.to, span{low, low}, span{level, level}))
	if bound.compare(r.known) < 0 {
		r.put(&label{arc: a, stance: s, before: l, weight: w, bound: bound, load: load, back: back, open: open})
	}
}

// put keeps a label, if none is lighter whose ways on are the same.
func (r *round) put(n *label) {
	i := n.arc.to
	if r.same[i] == nil {
		r.same[i] = map[key]*label{}
	}
	if len(n.open) == 0 && !n.arc.chained {
		k := r.keyOf(n)
		if old := r.same[i][k]; old != nil {
			if n.weight.compare(old.weight) < 0 {
				*old = *n
			}
			return
		}
		r.same[i][k] = n
	}
	r.at[i] = append(r.at[i], n)
	if len(r.at[i]) >= 2*r.most+64 {
		r.cut(i, r.most)
	}
}

// keyOf gives the key of a label.
func (r *round) keyOf(n *label) key {
	k := key{arc: n.arc, stance: n.stance, tank: n.load.tank, can: n.load.can, in: n.load.in}
	if n.load.filled != nil {
		k.filled = *n.load.filled
	}
	if r.pours[n.arc.to] || n.arc.to == len(r.nodes)-1 {
		return k
	}
	if r.trip.Bike.Can <= 0 { // all that tells is what the low end is once it is filled up
		_, tank, _ := r.fill(n.arc.to, n.load, 0, func(tank, _ octane.Mixture) octane.Mixture { return tank })
		k.tank, k.low = octane.Mixture{}, int64(math.Round(tank.Low()*1e9))
		if len(n.arc.stances) == 1 {
			k.arc, k.stance = nil, stance{}
		}
	}
	return k
}

// cut drops the labels of a node that promise least, if there are more than so many.
func (r *round) cut(i, most int) {
	all := r.at[i]
	if len(all) <= most {
		return
	}
	slices.SortStableFunc(all, func(a, b *label) int {
		return cmp.Or(a.bound.compare(b.bound), cmp.Compare(b.load.tank.Low(), a.load.tank.Low()))
	})
	r.dropped = lesser(r.dropped, all[most].bound)
	r.at[i] = all[:most]
	clear(r.same[i])
	for _, l := range r.at[i] {
		if len(l.open) == 0 && !l.arc.chained {
			r.same[i][r.keyOf(l)] = l
		}
	}
}
