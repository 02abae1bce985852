package roads

import (
	"math"
	"slices"
)

// A search finds the shortest ways from one place on the net to others nearby
// (Dijkstra 1959). It is used again and again; what it has seen it tells by the number
// of the round.
type search struct {
	net    *Net
	round  int32
	seen   []int32 // the round in which a junction was reached
	wanted []int32 // the round in which it is one that is asked for
	length []float64
	via    []arrival // by which edge, and from where
	heap   []reached
	from   candidate
}

// A candidate is a place on an edge where the line may be.
type candidate struct {
	edge  int32
	along float64 // metres from its start
}

// An arrival is the riding of an edge to a junction; prior is the junction before,
// or -1 where it is the edge that the search starts on.
type arrival struct {
	edge  int32
	prior int32
}

// A reached junction is one to go on from.
type reached struct {
	junction int32
	length   float64
}

// wrongWay is by how much longer an edge counts that is ridden against its direction.
// It is ridden all the same where the line says so: lines are drawn by hand, and far
// from anywhere nobody cares. Of two carriageways it tells the right one.
const wrongWay = 1.1

func newSearch(net *Net) *search {
	n := len(net.junctions)
	return &search{net: net, seen: make([]int32, n), wanted: make([]int32, n),
		length: make([]float64, n), via: make([]arrival, n)}
}

// cost is what riding a length of an edge counts.
func (s *search) cost(e int32, forwards bool, length float64) float64 {
	if s.net.edges[e].against(forwards) {
		return length * wrongWay
	}
	return length
}

// run searches from a candidate until all ends of the edges that others lie on are
// found, or nothing is left within the bound.
func (s *search) run(from candidate, to []candidate, bound float64) {
	s.round++
	s.from = from
	s.heap = s.heap[:0]
	left := 0
	for _, t := range to {
		e := &s.net.edges[t.edge]
		for _, j := range [2]int32{e.from, e.to} {
			if s.wanted[j] != s.round {
				s.wanted[j] = s.round
				left++
			}
		}
	}
	e := &s.net.edges[from.edge]
	s.reach(e.from, s.cost(from.edge, false, from.along), arrival{from.edge, -1})
	s.reach(e.to, s.cost(from.edge, true, e.length()-from.along), arrival{from.edge, -1})
	for len(s.heap) > 0 && left > 0 {
		r := s.pop()
		if r.length > bound {
			return
		}
		if r.length > s.length[r.junction] {
			continue
		}
		if s.wanted[r.junction] == s.round {
			left--
		}
		for _, k := range s.net.junctions[r.junction].edges {
			e := &s.net.edges[k]
			if e.from == r.junction {
				s.reach(e.to, r.length+s.cost(k, true, e.length()), arrival{k, r.junction})
			}
			if e.to == r.junction {
				s.reach(e.from, r.length+s.cost(k, false, e.length()), arrival{k, r.junction})
			}
		}
	}
}

func (s *search) reach(j int32, length float64, by arrival) {
	if s.seen[j] == s.round && s.length[j] <= length {
		return
	}
	s.seen[j], s.length[j], s.via[j] = s.round, length, by
	s.push(reached{j, length})
}

// lengthTo gives how long the way to a candidate is, as the last run found it, and the
// junction over which it comes; -1 for the way along one edge. It is infinite where
// there is none.
func (s *search) lengthTo(to candidate) (length float64, over int32) {
	length, over = math.Inf(1), -1
	if to.edge == s.from.edge {
		forwards := to.along >= s.from.along
		length = s.cost(to.edge, forwards, math.Abs(to.along-s.from.along))
	}
	e := &s.net.edges[to.edge]
	for _, end := range [2]struct {
		junction int32
		length   float64
	}{{e.from, s.cost(to.edge, true, to.along)}, {e.to, s.cost(to.edge, false, e.length()-to.along)}} {
		if s.seen[end.junction] != s.round {
			continue
		}
		if l := s.length[end.junction] + end.length; l < length {
			length, over = l, end.junction
		}
	}
	return length, over
}

// A hop is a part of a way along one edge, in metres ridden.
type hop struct {
	edge   int32
	length float64
}

// hopsTo gives the way to a candidate edge by edge; nil where there is none.
func (s *search) hopsTo(to candidate) []hop {
	length, over := s.lengthTo(to)
	if math.IsInf(length, 1) {
		return nil
	}
	if over < 0 {
		return []hop{{to.edge, math.Abs(to.along - s.from.along)}}
	}
	e := &s.net.edges[to.edge]
	last := to.along
	if over == e.to && (over != e.from || e.length()-to.along < to.along) {
		last = e.length() - to.along
	}
	backwards := []hop{{to.edge, last}}
	for j := over; j >= 0; {
		v := s.via[j]
		e := &s.net.edges[v.edge]
		switch {
		case v.prior >= 0:
			backwards = append(backwards, hop{v.edge, e.length()})
		case j == e.from && (j != e.to || s.from.along < e.length()-s.from.along):
			backwards = append(backwards, hop{v.edge, s.from.along})
		default:
			backwards = append(backwards, hop{v.edge, e.length() - s.from.along})
		}
		j = v.prior
	}
	slices.Reverse(backwards)
	return backwards
}

func (s *search) push(r reached) {
	s.heap = append(s.heap, r)
	for i := len(s.heap) - 1; i > 0; {
		up := (i - 1) / 2
		if s.heap[up].length <= s.heap[i].length {
			return
		}
		s.heap[up], s.heap[i] = s.heap[i], s.heap[up]
		i = up
	}
}

func (s *search) pop() reached {
	top, end := s.heap[0], len(s.heap)-1
	s.heap[0] = s.heap[end]
	s.heap = s.heap[:end]
	for i := 0; ; {
		low := 2*i + 1
		if low >= end {
			return top
		}
		if low+1 < end && s.heap[low+1].length < s.heap[low].length {
			low++
		}
		if s.heap[i].length <= s.heap[low].length {
			return top
		}
		s.heap[i], s.heap[low] = s.heap[low], s.heap[i]
		i = low
	}
}
