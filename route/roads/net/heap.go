package net

import "math/bits"

// A reached node is one to be settled.
type reached struct {
	cost   uint32
	node   int32
	source int32  // to which the way leads; of a search ahead -1, or one that is reached
	arc    uint32 // by which; noArc where a search begins
}

// A radixHeap is a queue of which what is taken never costs less than what was taken
// before [2]. In bucket b lies what differs in bit b-1, as the highest, from the last
// that was taken.
type radixHeap struct {
	buckets [33][]reached
	last    uint32
	n       int
}

func (h *radixHeap) push(r reached) {
	b := bits.Len32(r.cost ^ h.last)
	h.buckets[b] = append(h.buckets[b], r)
	h.n++
}

// pop takes one of those that cost least.
func (h *radixHeap) pop() (r reached, ok bool) {
	if h.n == 0 {
		return r, false
	}
	if len(h.buckets[0]) == 0 {
		h.spread()
	}
	b := h.buckets[0]
	r = b[len(b)-1]
	h.buckets[0] = b[:len(b)-1]
	h.n--
	return r, true
}

// spread shares the first bucket that has something among those before it.
func (h *radixHeap) spread() {
	k := 1
	for len(h.buckets[k]) == 0 {
		k++
	}
	from := h.buckets[k]
	h.last = from[0].cost
	for _, r := range from {
		h.last = min(h.last, r.cost)
	}
	for _, r := range from {
		b := bits.Len32(r.cost ^ h.last)
		h.buckets[b] = append(h.buckets[b], r)
	}
	if cap(from) > largeBucket { // one that was large need not stay so
		h.buckets[k] = nil
		return
	}
	h.buckets[k] = from[:0]
}

const largeBucket = 1 << 16
