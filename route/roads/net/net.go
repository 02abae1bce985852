// Package net finds the ways of least fuel to many places at once on a net of millions
// of roads.
//
// Start with a [Builder], which takes the ways of a map and gives a [Net]. Places are
// put on it by [Net.Snap] and made nodes of it by [Net.Split]; [Net.Search] then goes
// from all sources backwards in one run, and [Ways.Best] gives the ways from a node.
//
// The idea that surprises: it is searched from the pumps and not from the rider, and
// each node keeps only the few pumps that are the best for it. One run answers for every
// place on a line of a thousand kilometres. A way that comes past another pump goes no
// farther than that: who is there asks anew from there.
//
// Costs are whole numbers: a centimetre of a ground of weight 1 costs 1. So sums do not
// depend on the order in which they are made, and two ways can be the same.
//
// # Limits
//
// Signs that forbid a turn are not seen, nor are delays, heights and widths. A climb
// costs nothing here. Of pumps beyond the few that a node keeps it knows nothing.
//
// # Sources
//
//	[1] E. W. Dijkstra, "A note on two problems in connexion with graphs", Numerische
//	    Mathematik 1 (1959): the search.
//	[2] Ahuja, Mehlhorn, Orlin, Tarjan, "Faster algorithms for the shortest path
//	    problem", Journal of the ACM 37 (1990): the queue, a radix heap.
package net

import (
	"iter"
	"math"

	"lastpump/route"

	"github.com/paulmach/orb"
)

// A Place is in steps of 1e-7 degrees, as a map has it.
type Place struct{ Lon, Lat int32 }

// Point gives the place in degrees.
func (p Place) Point() orb.Point { return orb.Point{float64(p.Lon) / 1e7, float64(p.Lat) / 1e7} }

// PlaceOf rounds a point.
func PlaceOf(p orb.Point) Place {
	return Place{int32(math.Round(p[0] * 1e7)), int32(math.Round(p[1] * 1e7))}
}

// Facts are what a way is to the caller, in numbers of his.
type Facts struct {
	Ground uint8 // which of [Query].Weights it has, 15 at most
	Marks  uint8 // see [Query].Closed
	Main   bool
	Oneway int8  // 1 as it is drawn, -1 against, 0 both
	Name   int32 // of a list of the caller's
}

// A Net is ways as edges from node to node, in arrays without pointers: some 90
// bytes an edge of five points.
type Net struct {
	edges  []edge
	points []Place // of all edges
	nodes  int
	head   []uint32 // by node, where its arcs begin; nil until they are needed
	arcs   []uint32 // edge<<1, and 1 for who comes in at the end of the edge
}

// An edge is a way, or a part of one, from node to node.
type edge struct {
	from, to int32
	first, n uint32 // of its points
	cm       uint32
	way      int64
	Facts
}

// mostPoints is how many points an edge has at most, so that none is endless.
const mostPoints = 1 << 16

// Nodes is how many nodes there are; they are numbered from 0.
func (n *Net) Nodes() int { return n.nodes }

// Edges is how many edges there are; they are numbered from 0.
func (n *Net) Edges() int { return len(n.edges) }

// An Edge is one of a net as others see it.
type Edge struct {
	From, To int32
	Length   route.Metres
	Way      int64 // the number of the way that it is a part of
	Facts
}

// Edge gives an edge.
func (n *Net) Edge(e int32) Edge {
	x := &n.edges[e]
	return Edge{x.from, x.to, metresOf(x.cm), x.way, x.Facts}
}

// Points walks along an edge, as it is drawn.
func (n *Net) Points(e int32) iter.Seq[orb.Point] {
	return func(yield func(orb.Point) bool) {
		for _, p := range n.pointsOf(&n.edges[e]) {
			if !yield(p.Point()) {
				return
			}
		}
	}
}

func (n *Net) pointsOf(e *edge) []Place { return n.points[e.first : e.first+e.n] }

func metresOf(cm uint32) route.Metres { return route.Metres(cm) / 100 }

// An Arc is an edge as it is ridden from a node.
type Arc struct {
	Edge      int32
	Backwards bool // against how it is drawn
	To        int32
}

// Leaving gives the arcs that may be ridden from a node.
func (n *Net) Leaving(node int32) iter.Seq[Arc] {
	n.link()
	return func(yield func(Arc) bool) {
		for _, a := range n.arcs[n.head[node]:n.head[node+1]] {
			e := &n.edges[a>>1]
			if against := a&1 == 1; against && e.Oneway > 0 || !against && e.Oneway < 0 {
				continue
			}
			if !yield(n.arc(a)) {
				return
			}
		}
	}
}

// Around gives the edges that begin or end at a node; twice one that does both.
func (n *Net) Around(node int32) iter.Seq[int32] {
	n.link()
	return func(yield func(int32) bool) {
		for _, a := range n.arcs[n.head[node]:n.head[node+1]] {
			if !yield(int32(a >> 1)) {
				return
			}
		}
	}
}

// link lists the arcs of each node, once.
func (n *Net) link() {
	if n.head != nil {
		return
	}
	n.head = make([]uint32, n.nodes+2)
	for i := range n.edges {
		n.head[n.edges[i].from+2]++
		n.head[n.edges[i].to+2]++
	}
	for i := 2; i < len(n.head); i++ {
		n.head[i] += n.head[i-1]
	}
	n.arcs = make([]uint32, 2*len(n.edges))
	put := func(node int32, arc uint32) {
		n.arcs[n.head[node+1]] = arc
		n.head[node+1]++
	}
	for i := range n.edges {
		put(n.edges[i].from, uint32(i)<<1)
		put(n.edges[i].to, uint32(i)<<1|1)
	}
	n.head = n.head[:n.nodes+1]
}

// Where gives the place of a node.
func (n *Net) Where(node int32) orb.Point {
	n.link()
	a := n.arcs[n.head[node]]
	e := &n.edges[a>>1]
	if a&1 == 1 {
		return n.points[e.first+e.n-1].Point()
	}
	return n.points[e.first].Point()
}
