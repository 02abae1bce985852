package net

import (
	"cmp"
	"math"
	"slices"
	"sync"

	"lastpump/route"
	"lastpump/route/internal/earth"
)

// A Builder takes the ways of a net. The zero value is ready.
type Builder struct {
	ways   []way
	ids    []int64
	points []Place
}

// A way is one that was added: where its nodes are, and what it is.
type way struct {
	id      int64
	first   uint32
	n       uint32
	removed bool
	Facts
}

// A Node is a point of a way. Ways meet where they have a node of the same number, and
// not where they only cross: that is a bridge. A number of 0 is a hole: what lies on
// either side of it is not joined.
type Node struct {
	ID int64
	Place
}

// Add adds a way and gives the number that [Builder.Remove] knows it by.
func (b *Builder) Add(id int64, nodes []Node, f Facts) int {
	b.ways = append(b.ways, way{id: id, first: uint32(len(b.ids)), n: uint32(len(nodes)), Facts: f})
	for _, n := range nodes {
		b.ids, b.points = append(b.ids, n.ID), append(b.points, n.Place)
	}
	return len(b.ways) - 1
}

// Remove takes a way out again.
func (b *Builder) Remove(number int) { b.ways[number].removed = true }

// Net makes the net, the same of the same ways in whatever order. The builder is empty
// then.
func (b *Builder) Net() *Net {
	b.ways = slices.DeleteFunc(b.ways, func(w way) bool { return w.removed })
	slices.SortStableFunc(b.ways, func(a, c way) int { return cmp.Compare(a.id, c.id) })
	m := &maker{Builder: *b, Net: &Net{points: b.points}}
	*b = Builder{}
	room := m.findMeetings()
	m.cutAll(room)
	m.Net.nodes = len(m.meetings)
	m.number()
	return m.Net
}

// A maker makes a net of what a builder has.
type maker struct {
	Builder
	*Net
	meetings []int64 // numbers of the nodes in which edges begin and end, in order
	sieve    sieve
}

// findMeetings finds the nodes that several ways have, or one way twice, and those at
// the ends. It gives how many edges each share of the ways has at the most.
func (m *maker) findMeetings() (room [Shares]int) {
	once, twice := make(sieve, sieveBits/64), make(sieve, sieveBits/64)
	InShares(Shares, func(part, _, _ int) { // each fills a part of the sieves: of any number one knows all
		for _, id := range m.ids {
			h := sieveHash(id)
			switch {
			case int(h>>sieveShift) != part:
			case once.has(h):
				twice.set(h)
			default:
				once.set(h)
			}
		}
	})
	var found [Shares][]int64 // that may be one, with a bit for an end
	InShares(len(m.ways), func(part, from, to int) {
		for i := from; i < to; i++ {
			found[part] = m.mayMeet(found[part], m.idsOf(&m.ways[i]), twice)
		}
		// Each way has one edge fewer than it has meetings, at the most.
		room[part] = max(0, len(found[part])-(to-from))
	})
	all := slices.Concat(found[:]...)
	slices.Sort(all)
	m.sieve = once
	clear(m.sieve)
	for i, a := range all {
		id := a >> 1
		more := i+1 < len(all) && all[i+1]>>1 == id
		if a&1 == 0 && !more || len(m.meetings) > 0 && m.meetings[len(m.meetings)-1] == id {
			continue
		}
		m.meetings = append(m.meetings, id)
		m.sieve.set(sieveHash(id))
	}
	return room
}

// mayMeet adds the nodes of a way in which edges may begin and end.
func (m *maker) mayMeet(all, ids []int64, twice sieve) []int64 {
	for k, id := range ids {
		switch {
		case id == 0:
		case k == 0 || k == len(ids)-1 || ids[k-1] == 0 || ids[k+1] == 0 || k%mostPoints == 0:
			all = append(all, id<<1|1)
		case twice.has(sieveHash(id)):
			all = append(all, id<<1)
		}
	}
	return all
}

// Shares is into how many parts long work is shared that has no order; what comes of it is the
// same however many there are.
const Shares = 2

// InShares does such work on numbers from 0, each part by itself, and waits for all.
func InShares(n int, do func(part, from, to int)) {
	var all sync.WaitGroup
	for part := range Shares {
		all.Go(func() { do(part, n*part/Shares, n*(part+1)/Shares) })
	}
	all.Wait()
}

func (m *maker) idsOf(w *way) []int64 { return m.ids[w.first : w.first+w.n] }

// A sieve tells of most numbers at a glance that they are not in it.
type sieve []uint64

const (
	sieveBits  = 1 << 27
	sieveShift = 26 // of a hash: the share of a sieve that it is in
)

func sieveHash(id int64) uint64 { return uint64(id) * 0x9E3779B97F4A7C15 >> (64 - 27) }

func (s sieve) has(h uint64) bool { return s[h/64]&(1<<(h%64)) != 0 }
func (s sieve) set(h uint64)      { s[h/64] |= 1 << (h % 64) }

// meeting gives the number of a node in which edges meet.
func (m *maker) meeting(id int64) (n int32, ok bool) {
	if !m.sieve.has(sieveHash(id)) {
		return 0, false
	}
	k, ok := slices.BinarySearch(m.meetings, id)
	return int32(k), ok
}

// cutAll cuts the ways into edges, each share of them in its own room, which are then put
// together.
func (m *maker) cutAll(room [Shares]int) {
	edges := make([]edge, room[0]+room[1])
	parts := [Shares][]edge{edges[:0:room[0]], edges[room[0]:room[0]]}
	InShares(len(m.ways), func(part, from, to int) {
		for i := from; i < to; i++ {
			parts[part] = m.cut(parts[part], &m.ways[i])
		}
	})
	m.Net.edges = slices.Clip(append(parts[0], parts[1]...))
}

// cut cuts a way into edges where it meets others.
func (m *maker) cut(edges []edge, w *way) []edge {
	ids := m.idsOf(w)
	from, start := int32(-1), 0
	for k, id := range ids {
		if id == 0 {
			from = -1
			continue
		}
		n, ok := m.meeting(id)
		if !ok {
			continue
		}
		if from >= 0 {
			e := edge{from: from, to: n, first: w.first + uint32(start), n: uint32(k - start + 1), way: w.id, Facts: w.Facts}
			if e.cm = m.measure(&e); e.cm > 0 || e.from != e.to { // one without a length joins two nodes all the same
				edges = append(edges, e)
			}
		}
		from, start = n, k
	}
	return edges
}

// number numbers the nodes that have an edge anew, so that those which lie near each
// other have numbers that do: a search goes from neighbour to neighbour.
func (m *maker) number() {
	type placed struct {
		order uint64
		node  int32
	}
	where := make([]placed, m.Net.nodes)
	for i := range m.Net.edges {
		e := &m.Net.edges[i]
		first, last := m.Net.points[e.first], m.Net.points[e.first+e.n-1]
		where[e.from] = placed{first.interleaved(), e.from + 1}
		where[e.to] = placed{last.interleaved(), e.to + 1}
	}
	where = slices.DeleteFunc(where, func(p placed) bool { return p.node == 0 })
	slices.SortFunc(where, func(a, b placed) int {
		return cmp.Or(cmp.Compare(a.order, b.order), cmp.Compare(a.node, b.node))
	})
	number := make([]int32, m.Net.nodes)
	for i, p := range where {
		number[p.node-1] = int32(i)
	}
	for i := range m.Net.edges {
		e := &m.Net.edges[i]
		e.from, e.to = number[e.from], number[e.to]
	}
	m.Net.nodes = len(where)
}

// interleaved gives a number by which places that lie near each other mostly stand near
// each other (Morton, "A computer oriented geodetic data base", 1966).
func (p Place) interleaved() uint64 {
	return spread(uint32(p.Lon)^1<<31) | spread(uint32(p.Lat)^1<<31)<<1
}

// spread puts a zero before each bit.
func spread(v uint32) uint64 {
	x := uint64(v)
	for _, s := range []struct {
		by   int
		mask uint64
	}{{16, 0x0000FFFF0000FFFF}, {8, 0x00FF00FF00FF00FF}, {4, 0x0F0F0F0F0F0F0F0F}, {2, 0x3333333333333333},
		{1, 0x5555555555555555}} {
		x = (x | x<<s.by) & s.mask
	}
	return x
}

// measure gives the length of an edge in centimetres, 40,000 km at most.
func (n *Net) measure(e *edge) uint32 {
	points := n.points[e.first : e.first+e.n]
	sum := route.Metres(0)
	a := points[0].Point()
	cosA := math.Cos(a[1] * earth.Degree)
	for _, p := range points[1:] {
		b := p.Point()
		cosB := math.Cos(b[1] * earth.Degree)
		sum += route.Metres(earth.Haversine(a, b, cosA, cosB))
		a, cosA = b, cosB
	}
	return uint32(min(math.Round(float64(sum)*100), math.MaxUint32))
}
