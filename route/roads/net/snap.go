package net

import (
	"cmp"
	"math"
	"slices"

	"lastpump/route"
	"lastpump/route/flat"

	"github.com/paulmach/orb"
)

// A Spot is a place on an edge.
type Spot struct {
	Edge  int32
	Along route.Metres // from the start of the edge as it is drawn
	Off   route.Metres // from there to what was snapped, straight
}

// Snap finds for each place the closest spot on the net within a radius; its edge is -1
// where there is none. A piece of net that hangs together with less than so much road is
// taken only where there is no larger one: a forecourt that is joined to nothing.
func (n *Net) Snap(places []orb.Point, radius, least route.Metres) []Spot {
	s := &snapper{Net: n, places: places, radius: float64(radius), near: map[flat.Cell][]int32{},
		grid: flat.NewGrid(snapColumns), large: n.largerThan(least)}
	for i, p := range places {
		dLat := s.radius / flat.MetresPerDegree
		dLon := s.radius / max(flat.At(p).East, 1)
		s.grid.Box(p[0]-dLon, p[0]+dLon, p[1]-dLat, p[1]+dLat, func(c flat.Cell) { s.near[c] = append(s.near[c], int32(i)) })
	}
	var found [Shares]closest
	InShares(len(n.edges), func(part, from, to int) {
		found[part] = closest{large: none(len(places)), other: none(len(places)), cell: flat.Cell{Row: -1}}
		for i := from; i < to; i++ {
			s.try(int32(i), &found[part])
		}
	})
	return s.together(found)
}

// together takes for each place the closest spot of all that were found, of two that are as close
// the one on the first edge.
func (s *snapper) together(found [Shares]closest) []Spot {
	best := none(len(s.places))
	for i := range best {
		other := best[i]
		for _, f := range found {
			if f.large[i].Off < best[i].Off {
				best[i] = f.large[i]
			}
			if f.other[i].Off < other.Off {
				other = f.other[i]
			}
		}
		if best[i].Edge < 0 {
			best[i] = other
		}
	}
	return best
}

func none(n int) []Spot {
	return slices.Repeat([]Spot{{Edge: -1, Off: route.Metres(math.Inf(1))}}, n)
}

const snapColumns = 1 << 15 // cells of 1.2 km

type snapper struct {
	*Net
	places []orb.Point
	radius float64
	grid   flat.Grid
	near   map[flat.Cell][]int32 // by cell, the places that lie near it
	large  func(node int32) bool
}

// closest are the closest spots by place, on a large piece of net and on another, as far as one
// share of the edges tells; and the places near the cell that was looked at last, for the next step
// mostly lies in the same.
type closest struct {
	large, other []Spot
	cell         flat.Cell
	near         []int32
}

// try looks at the steps of an edge that may come near a place.
func (s *snapper) try(k int32, to *closest) {
	e := &s.edges[k]
	points := s.pointsOf(e)
	along := route.Metres(0)
	measured := 0 // points up to which along is
	b := points[0].Point()
	in := s.grid.Cell(b[0], b[1])
	for i := 1; i < len(points); i++ {
		a, from := b, in
		b = points[i].Point()
		if in = s.grid.Cell(b[0], b[1]); in == from {
			if in != to.cell {
				to.cell, to.near = in, s.near[in]
			}
			if len(to.near) == 0 { // nearly always
				continue
			}
		}
		s.around(a, b, from, in, func(place int32) {
			for ; measured < i-1; measured++ {
				along += route.Distance(points[measured].Point(), points[measured+1].Point())
			}
			s.offer(to, place, k, along, a, b)
		})
	}
}

// around calls f with places that may lie near a step from one cell to another.
func (s *snapper) around(a, b orb.Point, c, d flat.Cell, f func(int32)) {
	if c == d {
		for _, i := range s.near[c] {
			f(i)
		}
		return
	}
	// A step longer than some cells is looked at in parts: its box would be all land.
	parts := math.Ceil(float64(route.Distance(a, b))/1000) + 1
	var seen []int32
	for k := range int(parts) {
		from, to := route.Between(a, b, float64(k)/parts), route.Between(a, b, float64(k+1)/parts)
		west, east := min(from[0], to[0]), max(from[0], to[0])
		if east-west > 180 {
			west, east = east, west+360
		}
		s.grid.Box(west, east, min(from[1], to[1]), max(from[1], to[1]), func(c flat.Cell) {
			for _, i := range s.near[c] {
				if !slices.Contains(seen, i) {
					seen = append(seen, i)
					f(i)
				}
			}
		})
	}
}

// offer takes a step for a place if it is the closest so far.
func (s *snapper) offer(to *closest, place, k int32, along route.Metres, a, b orb.Point) {
	foot := flat.At(s.places[place]).Foot(a, b)
	if foot.Off > s.radius {
		return
	}
	list := to.large
	if !s.large(s.edges[k].from) {
		list = to.other
	}
	if off := route.Metres(foot.Off); off < list[place].Off {
		list[place] = Spot{k, along + route.Distance(a, b)*route.Metres(foot.Share), off}
	}
}

// largerThan tells of nodes whether they hang together with more road than so much,
// whatever its direction.
func (n *Net) largerThan(least route.Metres) func(node int32) bool {
	up := make([]int32, n.nodes)
	for i := range up {
		up[i] = int32(i)
	}
	root := func(i int32) int32 {
		for up[i] != i {
			up[i] = up[up[i]]
			i = up[i]
		}
		return i
	}
	for i := range n.edges {
		a, b := root(n.edges[i].from), root(n.edges[i].to)
		up[max(a, b)] = min(a, b)
	}
	length := make([]float32, n.nodes)
	for i := range n.edges {
		length[root(n.edges[i].from)] += float32(n.edges[i].cm) / 100
	}
	for i := range up {
		up[i] = root(int32(i)) // so that asking changes nothing: two may ask at once
	}
	return func(node int32) bool { return route.Metres(length[up[node]]) > least }
}

// Split makes nodes of spots, and gives the number of each; -1 for one without an edge.
// Spots that lie within a centimetre of a node of their edge are that node.
func (n *Net) Split(spots []Spot) []int32 {
	out := slices.Repeat([]int32{-1}, len(spots))
	var order []int
	for i, s := range spots {
		if s.Edge >= 0 {
			order = append(order, i)
		}
	}
	slices.SortFunc(order, func(a, b int) int {
		return cmp.Or(cmp.Compare(spots[a].Edge, spots[b].Edge), cmp.Compare(spots[a].Along, spots[b].Along),
			cmp.Compare(a, b))
	})
	for len(order) > 0 {
		k := 1
		for k < len(order) && spots[order[k]].Edge == spots[order[0]].Edge {
			k++
		}
		n.splitEdge(spots, order[:k], out)
		order = order[k:]
	}
	n.head, n.arcs = nil, nil
	n.link() // so that what is asked from here on changes nothing: many may ask at once
	return out
}

// A splitting is an edge being split from its start on.
type splitting struct {
	*Net
	whole  edge
	points []Place      // of the whole
	next   int          // the point that comes next
	at     route.Metres // along the edge, of the point before it
	from   int32        // node at which the part begins
	part   []Place
	parts  []edge
}

// splitEdge splits an edge at spots that are in order along it.
func (n *Net) splitEdge(spots []Spot, order []int, out []int32) {
	k := spots[order[0]].Edge
	s := &splitting{Net: n, whole: n.edges[k], points: slices.Clone(n.pointsOf(&n.edges[k])), next: 1}
	s.from, s.part = s.whole.from, []Place{s.points[0]}
	last := route.Metres(-1)
	for _, i := range order {
		along := spots[i].Along
		step := s.goTo(along)
		switch rest := s.at + step - along; {
		case last >= 0 && along-last < centimetre:
			out[i] = s.from
		case along < centimetre:
			out[i] = s.whole.from
		case s.next == len(s.points)-1 && rest < centimetre:
			out[i] = s.whole.to
		default:
			share := float64((along - s.at) / step)
			s.part = append(s.part, PlaceOf(route.Between(s.points[s.next-1].Point(), s.points[s.next].Point(), share)))
			out[i] = int32(n.nodes)
			n.nodes++
			s.end(out[i])
			last = along
		}
	}
	if len(s.parts) == 0 {
		return
	}
	s.part = append(s.part, s.points[s.next:]...)
	s.end(s.whole.to)
	n.edges[k] = s.parts[0]
	n.edges = append(n.edges, s.parts[1:]...)
}

// goTo goes to the step in which a place along the edge lies, and gives its length.
func (s *splitting) goTo(along route.Metres) route.Metres {
	for {
		step := route.Distance(s.points[s.next-1].Point(), s.points[s.next].Point())
		if s.next == len(s.points)-1 || s.at+step > along {
			return step
		}
		s.at += step
		s.part = append(s.part, s.points[s.next])
		s.next++
	}
}

// end ends a part at a node; the next begins there.
func (s *splitting) end(to int32) {
	e := edge{from: s.from, to: to, first: uint32(len(s.Net.points)), n: uint32(len(s.part)), way: s.whole.way,
		Facts: s.whole.Facts}
	s.Net.points = append(s.Net.points, s.part...)
	e.cm = s.measure(&e)
	s.parts = append(s.parts, e)
	s.from, s.part = to, s.part[len(s.part)-1:]
}

const centimetre route.Metres = 0.01
