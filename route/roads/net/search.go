package net

import (
	"math"

	"lastpump/route"
)

// A Source is a place that is looked for: a pump.
type Source struct {
	Node int32
	Off  route.Metres // of a ground, from the node to it
	On   uint8        // that ground
}

// A Query says what is looked for.
type Query struct {
	Sources []Source
	Weights []float64    // by ground, 1 at least
	Keep    int          // how many sources each node keeps, 1 at least
	Bound   route.Metres // of ground of weight 1: what costs more is not looked for, 20,000 km at most
	Closed  uint8        // edges with one of these marks are not ridden
}

// Ways are what a search found: for each node the sources that are the cheapest to come
// to without passing another, so many as are kept.
type Ways struct {
	net     *Net
	query   Query
	at      map[int32][]int32 // sources by their node
	offs    []uint32          // what it costs from the node of a source to it
	weight  [256]float64
	sources []int32          // by node, those that are kept, the cheapest first; -1 for none
	labels  []label          // of the same
	known   map[int32]beyond // by source, what it costs from its node to others
	ahead   *ahead
}

// A label says how a source is come to from a node.
type label struct {
	cost uint32
	arc  uint32 // edge<<1, and 1 where it is ridden backwards; noArc at the node of the source
}

const noArc = math.MaxUint32

// Search searches from all sources backwards [1].
func (n *Net) Search(q Query) *Ways {
	n.link()
	q.Keep = max(q.Keep, 1)
	w := &Ways{net: n, query: q, at: map[int32][]int32{}, sources: make([]int32, n.nodes*q.Keep),
		labels: make([]label, n.nodes*q.Keep), known: map[int32]beyond{}}
	for i := range w.sources {
		w.sources[i] = -1
	}
	for i := range w.weight {
		w.weight[i] = 1
		if i < len(q.Weights) {
			w.weight[i] = max(q.Weights[i], 1)
		}
	}
	in := w.incoming()
	var queue radixHeap
	bound := w.bound()
	w.begin(&queue, bound)
	for {
		r, ok := queue.pop()
		if !ok {
			return w
		}
		if w.settle(r) {
			w.relax(&queue, bound, r, in)
		}
	}
}

// An entry is an arc as it is looked at from its end: what a search backwards wants to
// know of it, side by side with the others of its node.
type entry struct {
	from int32
	cost uint32
	arc  uint32
}

// incoming gives the arcs that lead to each node, in the places that the net has for
// those of the node; what cannot be ridden has no node to come from.
func (w *Ways) incoming() []entry {
	in := make([]entry, len(w.net.arcs))
	for i := range in {
		in[i].from = -1
		a := w.net.arcs[i]
		e := &w.net.edges[a>>1]
		from, arc := e.from, a&^1 // we stand at its end, and it is ridden as drawn
		if a&1 == 0 {
			from, arc = e.to, a|1
		}
		backwards := arc&1 == 1
		if e.from == e.to || e.Marks&w.query.Closed != 0 || backwards && e.Oneway > 0 || !backwards && e.Oneway < 0 {
			continue
		}
		in[i] = entry{from, w.cost(e.cm, e.Ground), arc}
	}
	return in
}

func (w *Ways) begin(queue *radixHeap, bound uint32) {
	for i, s := range w.query.Sources {
		off := w.cost(uint32(min(math.Round(float64(s.Off)*100), math.MaxUint32/4)), s.On)
		w.offs = append(w.offs, off)
		if s.Node < 0 {
			continue
		}
		w.at[s.Node] = append(w.at[s.Node], int32(i))
		if off <= bound {
			queue.push(reached{cost: off, node: s.Node, source: int32(i), arc: noArc})
		}
	}
}

// bound is the most that a way costs.
func (w *Ways) bound() uint32 { return uint32(min(max(float64(w.query.Bound), 0)*100, 2e9)) }

// cost is what a length of a ground costs, rounded.
func (w *Ways) cost(cm uint32, ground uint8) uint32 {
	return uint32(min(math.Round(float64(cm)*w.weight[ground]), math.MaxUint32/2))
}

// settle gives a node the label of what has reached it, unless it has that source
// already or enough of them. It tells whether it is gone on from there: not past another
// source, which is nearer.
func (w *Ways) settle(r reached) (onward bool) {
	kept := w.sources[int(r.node)*w.query.Keep:][:w.query.Keep]
	k := 0
	for ; k < len(kept) && kept[k] >= 0; k++ {
		if kept[k] == r.source {
			return false
		}
	}
	if k == len(kept) {
		return false
	}
	kept[k] = r.source
	w.labels[int(r.node)*w.query.Keep+k] = label{r.cost, r.arc}
	for _, other := range w.at[r.node] {
		// Of two that cost the same there the second may have come first.
		if other != r.source && before(w.offs[other], other, r.cost, r.source) && w.slot(r.node, other) >= 0 {
			return false
		}
	}
	return true
}

// before tells which of two sources comes first: the cheaper, of two that cost the same
// the first.
func before(cost uint32, source int32, than uint32, other int32) bool {
	return cost < than || cost == than && source < other
}

// slot gives where the label of a source is that a node keeps; -1 where it does not.
func (w *Ways) slot(node, source int32) int {
	first := int(node) * w.query.Keep
	for k, s := range w.sources[first : first+w.query.Keep] {
		if s == source {
			return first + k
		}
	}
	return -1
}

// takes tells whether a node would keep one more source.
func (w *Ways) takes(node, source int32) bool {
	for _, s := range w.sources[int(node)*w.query.Keep:][:w.query.Keep] {
		if s == source {
			return false
		}
		if s < 0 {
			return true
		}
	}
	return false
}

// relax goes from a node back along all that leads to it.
func (w *Ways) relax(queue *radixHeap, bound uint32, r reached, in []entry) {
	for _, e := range in[w.net.head[r.node]:w.net.head[r.node+1]] {
		if e.from < 0 || e.arc>>1 == r.arc>>1 { // the way goes on along that very edge
			continue
		}
		cost := r.cost + e.cost
		if cost < r.cost || cost > bound || !w.takes(e.from, r.source) {
			continue
		}
		queue.push(reached{cost: cost, node: e.from, source: r.source, arc: e.arc})
	}
}

// Labels is how many ways from a node to a source are kept.
func (w *Ways) Labels() (n int) {
	for _, s := range w.sources {
		if s >= 0 {
			n++
		}
	}
	return n
}
