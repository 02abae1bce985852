package net

import (
	"cmp"
	"iter"
	"slices"

	"lastpump/route"
)

// A Way is one from a node to a source.
type Way struct {
	Source int32
	Cost   uint32 // centimetres of ground of weight 1
	from   int32
	arcs   []Arc // where no node keeps it
}

// Best gives the ways from a node to those of the sources it keeps that are the cheapest
// to come to, the cheapest first. A source is left out to which the cheapest way leads
// past another that comes before it: who is there goes on to it.
func (w *Ways) Best(node int32) iter.Seq[Way] {
	return func(yield func(Way) bool) {
		if node < 0 {
			return
		}
		var given, kept []Way
		for k := range w.query.Keep {
			if s := w.sources[int(node)*w.query.Keep+k]; s >= 0 {
				kept = append(kept, Way{Source: s, Cost: w.labels[int(node)*w.query.Keep+k].cost, from: node})
			}
		}
		slices.SortFunc(kept, func(a, b Way) int {
			return cmp.Or(cmp.Compare(a.Cost, b.Cost), cmp.Compare(a.Source, b.Source))
		})
		for _, way := range kept {
			if w.continues(way, given) {
				continue
			}
			given = append(given, way)
			if !yield(way) {
				return
			}
		}
	}
}

// continues tells whether a way costs no less than one past a source that comes before
// it.
func (w *Ways) continues(way Way, given []Way) bool {
	return slices.ContainsFunc(given, func(b Way) bool {
		left := way.Cost - (b.Cost - w.offs[b.Source])
		if w.straight(b.Source, way.Source) > float64(left) {
			return false
		}
		past, ok := w.past(b.Source, left)[way.Source]
		return ok && past <= left
	})
}

// straight gives less than what it costs at the least from one source to another: no
// ground has a weight below 1.
func (w *Ways) straight(a, b int32) float64 {
	const rounded = 0.99 // of lengths to the centimetre, and places
	from, to := w.net.Where(w.query.Sources[a].Node), w.net.Where(w.query.Sources[b].Node)
	return rounded * 100 * float64(route.Distance(from, to))
}

// beyond is what it costs from the node of a source to others, as far as a bound.
type beyond struct {
	bound uint32
	cost  map[int32]uint32
}

// past gives what it costs from the node of a source to all others up to a bound.
func (w *Ways) past(source int32, bound uint32) map[int32]uint32 {
	known, ok := w.known[source]
	if ok && known.bound >= bound {
		return known.cost
	}
	if ok {
		bound = max(bound, 2*known.bound)
	}
	known = beyond{bound, map[int32]uint32{}}
	w.searchAhead(w.query.Sources[source].Node, bound, nobody, func(r arrived) bool {
		known.cost[r.source] = r.cost
		return true
	})
	w.known[source] = known
	return known.cost
}

func nobody(int32) bool { return false }

// Steps walks along a way, arc by arc.
func (w *Ways) Steps(way Way) iter.Seq[Arc] {
	return func(yield func(Arc) bool) {
		for _, a := range way.arcs {
			if !yield(a) {
				return
			}
		}
		if way.arcs != nil {
			return
		}
		for at := way.from; ; {
			l := w.labels[w.slot(at, way.Source)]
			if l.arc == noArc {
				return
			}
			arc := w.net.arc(l.arc)
			if !yield(arc) {
				return
			}
			at = arc.To
		}
	}
}

// arc gives an arc by its number: edge<<1, and 1 where it is ridden backwards.
func (n *Net) arc(number uint32) Arc {
	e := &n.edges[number>>1]
	a := Arc{Edge: int32(number >> 1), Backwards: number&1 == 1, To: e.to}
	if a.Backwards {
		a.To = e.from
	}
	return a
}

// Cost gives what it costs from a node to a source that it keeps.
func (w *Ways) Cost(node, source int32) (cost uint32, ok bool) {
	if k := w.slot(node, source); k >= 0 {
		return w.labels[k].cost, true
	}
	return 0, false
}

// Off gives how far a source lies off its node, and on what ground that is counted.
func (w *Ways) Off(source int32) (route.Metres, uint8) {
	s := w.query.Sources[source]
	return s.Off, s.On
}
