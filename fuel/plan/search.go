package plan

import (
	"cmp"
	"math"
	"slices"

	"lastpump/fuel"
)

// The search for the best stops is by dynamic programming over legs. What a ride is
// worth does not add up along the way by itself, so its labels hold what is open:
//
//   - Whether a stop strands if it is dry is known only when the next other place is
//     chosen. A label stands for the leg that leads to its node, not for the node, and
//     keeps the stops that are still waiting for that: nearly always only its own.
//   - Whether the bike's own can rides full on a leg depends on that, too: both are
//     tried, and what turns out to be against the rule is dropped.
//   - The smallest can is no sum, but a largest. It is not in the labels: the search is
//     made for one size after the other, and legs and stops that ask for more are left
//     out.
//   - The mixture in the tank bears on all legs to come, and not evenly: with better
//     petrol in the tank a plan takes a lower grade, and may be worse off for it later.
//     So no mixture is dropped for a better one.
//
// Of two labels for the same leg, with the can in the same state, the same stops
// waiting and the same mixture, all ways on are open to both and cost both the same;
// worths are added in whole numbers and compared in order, which adding to both does
// not change. So the one of the larger worth, which is the worse, is dropped and nothing
// is lost.
//
// Mixtures are seldom quite the same, and there would be as many labels as ways. Those
// in one cell of a grid are joined: the label then has a band, from the worst to the
// best of them, and the smaller worth. A leg counts as below grade only if all
// of the band is, and where a part of it would take one grade and a part another, both
// are followed. So no ride is better than the search says of its labels: what it finds
// is a bound. The ride it finds is planned; where its worth is just the bound, there is
// no better one. Where it is not, the grid is made finer on the legs of that ride,
// and so on, until nothing is found that could be better than the best that was planned:
// in the end no two mixtures share a cell, and the bound is the truth.
type label struct {
	arc     *arc
	can     bool // rides full on it
	before  *label
	worth   worth
	tank    band
	spare   band // in the can
	chain   int  // of the stops of one place that were passed one after the other; 0 for none
	back    fuel.Litres
	waiting []waiting
	out     []edge // on from it
	behind  worth  // the least of all ways on, once that is worked out
}

// An edge is a way on from one label to another, and what it adds.
type edge struct {
	to    *label
	worth worth
}

// A waiting is a stop of which it is not known yet what happens if it is dry.
type waiting struct {
	number    int
	left      fuel.Litres // on arriving, without the bike's can
	canLeft   fuel.Litres // what is in the can on top of it
	noCan     bool        // no can is filled for the leg
	mayBeFull bool        // the leg is OK without the can: it rides full only if the stop would strand
	back, on  fuel.Litres
}

// A found is a ride through some of the nodes, the start and the end left out.
type found struct {
	path   []int
	worth  worth
	labels []*label // of its legs, the last first; nil where it was found without
}

// best gives the best ride that asks for no larger can than one of a rank; nil where
// there is none.
func (c *chooser) best(can int) *found {
	r := c.relax(int64(can))
	best := r.ride()
	switch {
	case best == nil:
		return nil
	case best.worth.can > int64(can): // a place passed twice running, which was not looked at
		best = &found{worth: worst}
	case best.worth.withoutCan() == r.bound:
		return best
	}
	best = r.better(r.scout(best.worth), best)
	var coarser *round
	for {
		f, searched := r.search(best.worth, coarser, 0)
		if f == nil {
			break
		}
		coarser = searched
		best = r.better(f, best)
		if !searched.refine(f) {
			break
		}
	}
	if best.worth == worst {
		return nil
	}
	return best
}

// better plans a ride that was found, and gives it if it is better than another.
func (r *relaxed) better(f, than *found) *found {
	if f == nil {
		return than
	}
	if f.worth = r.worthOf(f.path); f.worth.withoutCan().compare(than.worth.withoutCan()) < 0 {
		return f
	}
	return than
}

// scout looks for a good ride to begin with, with a few labels for each leg. It proves
// nothing: what it finds is only what the search then has to better.
func (r *relaxed) scout(known worth) *found {
	f, _ := r.search(known, nil, scoutMost)
	return f
}

const scoutMost = 8

// worst is worse than any ride.
var worst = worth{missing: math.MaxInt64 / 4}

func (w worth) withoutCan() worth {
	w.can = 0
	return w
}

// worthOf plans a ride over some of the nodes.
func (c *chooser) worthOf(path []int) worth {
	return c.trial(change{chosen: c.taken(path)}).worth()
}

// taken gives the sightings of nodes, with those at the ends.
func (c *chooser) taken(path []int) []sighting {
	out := slices.Clone(c.ends)
	if out == nil {
		out = []sighting{}
	}
	for _, n := range path {
		out = append(out, c.nodes[n].sighting)
	}
	return out
}

// search searches once on a grid of mixtures, for what is better than a ride that is
// known; nil where nothing is. It keeps no more than most labels for each leg; all where
// that is 0.
func (r *relaxed) search(known worth, coarser *round, most int) (*found, *round) {
	n := &round{relaxed: r, bound: known.withoutCan(), widths: map[*arc]float64{}, coarser: coarser, most: most, chains: map[link]int{}, at: make([]heap, len(r.nodes))}
	if coarser != nil {
		n.chains, n.widths, coarser.coarser = coarser.chains, coarser.widths, nil
	}
	start := &label{}
	n.leave(0, start)
	last := len(r.nodes) - 1
	for i := 1; i < last; i++ {
		for _, l := range n.at[i].labels {
			n.leave(i, l)
		}
	}
	if len(n.at[last].labels) == 0 {
		return nil, n
	}
	n.lookBack()
	best := slices.MinFunc(n.at[last].labels, func(a, b *label) int { return a.worth.compare(b.worth) })
	f := &found{worth: best.worth}
	for l := best; l.arc != nil; l = l.before {
		f.labels = append(f.labels, l)
		if l != best {
			f.path = append(f.path, l.arc.to)
		}
	}
	slices.Reverse(f.path)
	return f, n
}

// refine makes the grid finer on the legs of a ride whose mixtures are not quite known;
// false where all are, so that the search has told the truth of it.
func (r *round) refine(f *found) bool {
	finer := false
	for _, l := range f.labels {
		if l.tank.worst != l.tank.best || l.spare.worst != l.spare.best {
			r.widths[l.arc] = r.widthOf(l.arc) / 8
			finer = finer || r.widths[l.arc] > hair
		}
	}
	return finer
}

// widthOf gives how wide the cells of a leg are.
func (r *round) widthOf(a *arc) float64 {
	if w, is := r.widths[a]; is {
		return w
	}
	return r.grid
}

// A round is a search on one grid.
type round struct {
	*relaxed
	widths  map[*arc]float64 // of the cells, in octane; of legs that are not in it the first grid's
	bound   worth            // of a ride that is known
	coarser *round           // the one before; nil for the first
	most    int              // labels for each leg; 0 for all
	chains  map[link]int
	at      []heap // of labels, for each node
}

// lookBack works out the least that all ways behind each label are worth.
func (r *round) lookBack() {
	for i := len(r.at) - 1; i > 0; i-- {
		h := &r.at[i]
		h.on = map[cell][]*label{}
		for _, l := range h.labels {
			if i < len(r.at)-1 {
				l.behind = worst
			}
			for _, e := range l.out {
				if w := e.worth.plus(e.to.behind); w.compare(l.behind) < 0 {
					l.behind = w
				}
			}
			l.out = nil
			leg := cell{arc: l.arc, can: l.can, chain: l.chain}
			h.on[leg] = append(h.on[leg], l)
		}
		h.of = nil
	}
}

// leastBehind gives a bound of all behind a label: by the grid before, or without
// mixtures. On the grid before, each ride that the label stands for is in the band of
// some label of the same leg, and what is behind it is worth no less than is found there;
// that is some band that the label's own overlaps. It is not ok where there is none, or
// nothing behind it is as good as what is known.
func (r *round) leastBehind(n *label) (least worth, ok bool) {
	if r.coarser == nil {
		return *r.from(n.arc, n.can), true
	}
	least = worst
	for _, l := range r.coarser.at[n.arc.to].on[cell{arc: n.arc, can: n.can, chain: n.chain}] {
		if l.behind.compare(least) < 0 && l.tank.overlaps(n.tank) && l.spare.overlaps(n.spare) {
			least = l.behind
		}
	}
	return least, least != worst
}

// cellFor gives the cell that a label lies in.
func (r *round) cellFor(n *label) cell {
	return cell{arc: n.arc, can: n.can, chain: n.chain, tank: r.cellOf(n.arc, n.tank), rest: r.cellOf(n.arc, n.spare)}
}

// A link is one more stop of a chain of stops of one place.
type link struct {
	chain int
	arc   *arc
	can   bool
}

// A cell is where labels are joined.
type cell struct {
	arc        *arc
	can        bool
	chain      int
	tank, rest [4]int64 // low and high ends of the worst and the best mixture in the tank and in the can
}

// A heap of labels has one for each cell, in the order in which they were found.
type heap struct {
	labels []*label
	of     map[cell]int
	on     map[cell][]*label // of each leg, whatever the mixtures; once all are found
}

// leave goes on from a label of node i over each leg that begins there.
func (r *round) leave(i int, l *label) {
	for _, a := range r.arcs[i] {
		if a.lack > r.can {
			continue
		}
		w, open, ok := r.settle(l.waiting, a)
		if !ok {
			continue
		}
		w = w.plus(l.worth).plus(a.worth)
		for _, full := range r.cans(a) {
			r.ride(l, a, full, w, open)
		}
	}
}

// ride fills at the beginning of a leg and rides it.
func (r *round) ride(l *label, a *arc, full bool, w worth, open []waiting) {
	b := &boarding{round: r, arc: a, leg: a.rides[0], tank: l.tank, spare: band{}}
	if full {
		b.leg, b.spare = a.rides[1], l.spare
	}
	w.missing += a.missing(full)
	n := label{arc: a, can: full, before: l, worth: w, back: a.back}
	if from, to := r.nodes[a.from], r.nodes[a.to]; a.from > 0 && to.isStop && from.number == to.number {
		n.back += l.back
		n.chain = r.chained(link{l.chain, l.arc, l.can})
	}
	n.waiting = open
	if r.nodes[a.to].isStop {
		n.waiting = append(slices.Clone(open), a.waits(full, n.back, r.relaxed))
	}
	b.fill(func(tank, spare band, below bool) {
		to := n
		to.tank, to.spare = tank, spare
		if below { // or known to be so, and in the worth of the leg
			to.worth.below += micro(a.leg.Drink.Fuel.Likely) - a.worth.below
		}
		r.put(l, to)
	})
}

// chained gives the number of a chain.
func (r *round) chained(k link) int {
	if _, known := r.chains[k]; !known {
		r.chains[k] = len(r.chains) + 1
	}
	return r.chains[k]
}

// put keeps a label that another leads to, or joins it with the one in its cell.
func (r *round) put(from *label, n label) {
	behind, ok := r.leastBehind(&n)
	if !ok || n.worth.plus(behind).compare(r.bound) >= 0 {
		return
	}
	if r.most > 0 {
		r.putFew(n)
		return
	}
	adds := edge{worth: n.worth.minus(from.worth)}
	key := r.cellFor(&n)
	h := &r.at[n.arc.to]
	i, taken := h.of[key]
	if !taken {
		if h.of == nil {
			h.of = map[cell]int{}
		}
		h.of[key] = len(h.labels)
		h.labels = append(h.labels, &n)
		adds.to = &n
		from.out = append(from.out, adds)
		return
	}
	old := h.labels[i]
	n.tank, n.spare = old.tank.or(n.tank), old.spare.or(n.spare)
	if n.worth.compare(old.worth) < 0 {
		*old = n
	}
	old.tank, old.spare = n.tank, n.spare
	adds.to = old
	from.out = append(from.out, adds)
}

// putFew keeps a label if it is among the few best of its leg.
func (r *round) putFew(n label) {
	h := &r.at[n.arc.to]
	if h.on == nil {
		h.on = map[cell][]*label{}
	}
	leg := cell{arc: n.arc, can: n.can, chain: n.chain}
	few := h.on[leg]
	if slices.ContainsFunc(few, func(l *label) bool { return l.tank == n.tank && l.spare == n.spare && l.worth.compare(n.worth) <= 0 }) {
		return
	}
	if len(few) < r.most {
		h.on[leg] = append(few, &n)
		h.labels = append(h.labels, &n)
		return
	}
	better := func(a, b *label) int {
		return cmp.Or(a.worth.compare(b.worth), cmp.Compare(b.tank.worst.Low(), a.tank.worst.Low()))
	}
	if last := slices.MaxFunc(few, better); better(&n, last) < 0 {
		*last = n
	}
}

// cellOf gives the cell of the grid that a band lies in.
func (r *round) cellOf(a *arc, b band) [4]int64 {
	width := r.widthOf(a)
	at := func(octane float64) int64 { return int64(math.Floor(octane / width)) }
	return [4]int64{at(b.worst.Low()), at(b.worst.High()), at(b.best.Low()), at(b.best.High())}
}
