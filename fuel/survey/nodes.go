package survey

import (
	"cmp"
	"math"
	"slices"

	"github.com/paulmach/orb"
)

// A place is where a node lies, in steps of 1e-7 degrees, as the map has it: about
// a centimetre.
type place struct{ lon, lat int32 }

func placeAt(lon, lat float64) place {
	return place{int32(math.Round(lon * 1e7)), int32(math.Round(lat * 1e7))}
}

func (p place) point() orb.Point { return orb.Point{float64(p.lon) / 1e7, float64(p.lat) / 1e7} }

// A node is a place with its number.
type node struct {
	id int64
	place
}

// A nodeTable holds where nodes lie, by number, in twelve bytes each. It is filled
// first and searched then.
type nodeTable struct {
	firsts []int64 // number of the first node of each block
	blocks []*nodeBlock
	late   []node // those that do not come in the order of their numbers
	last   int64
	n      int
	recent int // the block in which the last search ended: neighbours on a way are neighbours here
}

// A nodeBlock holds nodes in order, each by its distance in number from the first.
type nodeBlock struct {
	n      int
	from   [blockNodes]uint32
	places [blockNodes]place
}

const blockNodes = 63 // with which a block fills a size of the allocator, 768 bytes

// add adds a node. Of two with one number the first counts, for an extract has each
// once and extracts that overlap have the same.
func (t *nodeTable) add(n node) {
	if t.n > 0 && n.id <= t.last {
		t.late = append(t.late, n)
		return
	}
	t.append(n)
}

func (t *nodeTable) append(n node) {
	k := len(t.blocks) - 1
	if k < 0 || t.blocks[k].n == blockNodes || n.id-t.firsts[k] > math.MaxUint32 {
		t.firsts = append(t.firsts, n.id)
		t.blocks = append(t.blocks, new(nodeBlock))
		k++
	}
	b := t.blocks[k]
	b.from[b.n], b.places[b.n] = uint32(n.id-t.firsts[k]), n.place
	b.n++
	t.last = n.id
	t.n++
}

// sort puts the late ones where they belong. It must be called between the last add
// and the first find.
func (t *nodeTable) sort() {
	if len(t.late) == 0 {
		return
	}
	late := t.late
	slices.SortStableFunc(late, func(a, b node) int { return cmp.Compare(a.id, b.id) })
	sorted := nodeTable{}
	add := func(n node) {
		if sorted.n == 0 || n.id != sorted.last {
			sorted.append(n)
		}
	}
	for k, b := range t.blocks {
		for i := range b.n {
			n := node{t.firsts[k] + int64(b.from[i]), b.places[i]}
			for len(late) > 0 && late[0].id < n.id {
				add(late[0])
				late = late[1:]
			}
			add(n)
		}
		t.blocks[k] = nil // no two tables side by side
	}
	for _, n := range late {
		add(n)
	}
	*t = sorted
}

// find tells where a node lies; ok is false for one that is not held.
func (t *nodeTable) find(id int64) (p place, ok bool) {
	k := t.recent
	if k >= len(t.firsts) || id < t.firsts[k] || k+1 < len(t.firsts) && id >= t.firsts[k+1] {
		k, ok = slices.BinarySearch(t.firsts, id)
		if !ok {
			k--
		}
		if k < 0 {
			return place{}, false
		}
		t.recent = k
	}
	b := t.blocks[k]
	if id-t.firsts[k] > math.MaxUint32 {
		return place{}, false
	}
	i, ok := slices.BinarySearch(b.from[:b.n], uint32(id-t.firsts[k]))
	if !ok {
		return place{}, false
	}
	return b.places[i], true
}
