package route

import "math/bits"

// exactParts is up to where the best tour is found by trying all: twelve parts
// take some milliseconds, each further one twice as long.
const exactParts = 12

// exact gives the shortest tour that begins with one of the starts, by dynamic
// programming over the parts that are ridden and the one ridden last.
//
//	M. Held, R. M. Karp, A Dynamic Programming Approach to Sequencing Problems,
//	J. SIAM 10 (1962).
func (t tour) exact(starts []visit) []visit {
	type state struct {
		length Metres // of the way so far; negative where there is none yet
		before int    // the visit before the last
	}
	n := 2 * t.parts // visits: part p onwards is 2p, backwards 2p+1
	table := make([]state, n<<t.parts)
	for i := range table {
		table[i] = state{-1, -1}
	}
	at := func(ridden, last int) *state { return &table[ridden*n+last] }
	for _, v := range starts {
		at(1<<v.part, v.into()).length = 0
	}
	for ridden := range 1 << t.parts {
		for last := range n {
			from := at(ridden, last)
			if from.length < 0 {
				continue
			}
			for next := range n {
				if ridden>>(next/2)&1 == 1 {
					continue
				}
				to := at(ridden|1<<(next/2), next)
				if d := from.length + t.apart[last^1][next]; to.length < 0 || d < to.length-hair {
					*to = state{d, last}
				}
			}
		}
	}
	all := 1<<t.parts - 1
	last := 0
	for v := range n {
		if s := at(all, v); s.length >= 0 && (at(all, last).length < 0 || s.length < at(all, last).length-hair) {
			last = v
		}
	}
	way := make([]visit, t.parts)
	for ridden := all; ridden != 0; {
		way[bits.OnesCount(uint(ridden))-1] = visit{last / 2, last%2 == 1}
		ridden, last = ridden&^(1<<(last/2)), at(ridden, last).before
	}
	return way
}
