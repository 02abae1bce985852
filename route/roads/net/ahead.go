package net

import (
	"cmp"
	"iter"
	"slices"
)

// From gives the ways from a node as [Ways.Best] does, but to all sources within the
// bound, and each by a search of its own: for the few nodes that have more sources around
// them than a node keeps. Those that dry names count as not there: they are neither
// given nor in the way. While these are walked along nothing else may be asked of the
// ways.
func (w *Ways) From(node int32, dry func(source int32) bool) iter.Seq[Way] {
	return func(yield func(Way) bool) {
		if node < 0 {
			return
		}
		w.searchAhead(node, w.bound(), dry, func(r arrived) bool {
			if r.past || dry(r.source) {
				return true
			}
			return yield(Way{Source: r.source, Cost: r.cost, arcs: w.ahead.arcsTo(r.node)})
		})
	}
}

// An ahead is the state of a search forwards from one node [1]. It is used again and
// again; what it has seen it tells by the number of the round.
type ahead struct {
	net   *Net
	round int32
	seen  []int32  // the round in which a node was reached
	cost  []uint32 // of it
	by    []uint32 // the arc by which, noArc at the node that the search is from
	first []passed // of the sources that the way there passes, the first
	queue radixHeap
}

// passed is a source with what it costs; its number is -1 for none.
type passed struct {
	cost   uint32
	source int32
}

func (p passed) before(o passed) bool {
	return p.source >= 0 && (o.source < 0 || before(p.cost, p.source, o.cost, o.source))
}

// arrived is a source that a search ahead has come to.
type arrived struct {
	source, node int32
	cost         uint32
	past         bool // past another that comes before it
}

func newAhead(n *Net) *ahead {
	return &ahead{net: n, seen: make([]int32, n.nodes), cost: make([]uint32, n.nodes), by: make([]uint32, n.nodes),
		first: make([]passed, n.nodes)}
}

// searchAhead searches from a node up to a bound and tells of each source, the cheapest
// first, until it is told to stop. Nobody stops, or passes, those that are dry.
func (w *Ways) searchAhead(from int32, bound uint32, dry func(int32) bool, tell func(arrived) bool) {
	if w.ahead == nil {
		w.ahead = newAhead(w.net)
	}
	a := w.ahead
	a.round++
	a.queue = radixHeap{buckets: a.queue.buckets}
	for i := range a.queue.buckets {
		a.queue.buckets[i] = a.queue.buckets[i][:0]
	}
	a.reach(from, 0, noArc, passed{source: -1})
	var waiting []reached // sources that cost the same
	for {
		r, ok := a.queue.pop()
		if len(waiting) > 0 && (!ok || r.cost > waiting[0].cost) {
			slices.SortFunc(waiting, func(a, b reached) int { return cmp.Compare(a.source, b.source) })
			for _, s := range waiting {
				if !tell(arrived{s.source, s.node, s.cost, w.isPast(s)}) {
					return
				}
			}
			waiting = waiting[:0]
		}
		if !ok {
			return
		}
		if r.source >= 0 { // a source, and not a node
			waiting = append(waiting, r)
			continue
		}
		if r.cost > a.cost[r.node] || r.arc != a.by[r.node] {
			continue
		}
		w.meet(a, r, bound, dry)
		w.goOn(a, r, bound)
	}
}

// isPast tells whether the way to a source passes another that comes before it.
func (w *Ways) isPast(r reached) bool {
	return w.ahead.first[r.node].before(passed{r.cost, r.source})
}

// meet meets the sources at a node: they are told of when their turn comes, with what
// lies between them and the node.
func (w *Ways) meet(a *ahead, r reached, bound uint32, dry func(int32) bool) {
	for _, s := range w.at[r.node] {
		cost := r.cost + w.offs[s]
		if cost <= bound {
			a.queue.push(reached{cost: cost, node: r.node, source: s})
		}
		if p := (passed{cost, s}); !dry(s) && p.before(a.first[r.node]) {
			a.first[r.node] = p
		}
	}
}

func (w *Ways) goOn(a *ahead, r reached, bound uint32) {
	for arc := range w.net.Leaving(r.node) {
		e := &w.net.edges[arc.Edge]
		if e.Marks&w.query.Closed != 0 {
			continue
		}
		number := uint32(arc.Edge) << 1
		if arc.Backwards {
			number |= 1
		}
		if cost := r.cost + w.cost(e.cm, e.Ground); cost >= r.cost && cost <= bound {
			a.reach(arc.To, cost, number, a.first[r.node])
		}
	}
}

// reach reaches a node. Of two ways that cost the same the one counts that passes a
// source.
func (a *ahead) reach(node int32, cost, by uint32, first passed) {
	if a.seen[node] == a.round && a.cost[node] < cost {
		return
	}
	if a.seen[node] == a.round && a.cost[node] == cost {
		if first.before(a.first[node]) {
			a.first[node] = first
		}
		return
	}
	a.seen[node], a.cost[node], a.by[node], a.first[node] = a.round, cost, by, first
	a.queue.push(reached{cost: cost, node: node, source: -1, arc: by})
}

// arcsTo gives the way to a node that was reached.
func (a *ahead) arcsTo(node int32) []Arc {
	arcs := []Arc{}
	for a.by[node] != noArc {
		arc := a.net.arc(a.by[node])
		arcs = append(arcs, arc)
		e := &a.net.edges[arc.Edge]
		if node = e.from; arc.Backwards {
			node = e.to
		}
	}
	slices.Reverse(arcs)
	return arcs
}
