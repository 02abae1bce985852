package order

import (
	"math/bits"

	"lastpump/route/internal/earth"
)

// exactParts is up to where the best order is found by trying all: twelve parts
// take some milliseconds, each further one twice as long.
const exactParts = 12

// exact gives the shortest order that begins with one of the starts, by dynamic
// programming over the parts that are ridden and the one ridden last.
//
//	M. Held, R. M. Karp, A Dynamic Programming Approach to Sequencing Problems,
//	J. SIAM 10 (1962).
func (g Gaps) exact(starts []Part) []Part {
	p := newTable(g)
	for _, v := range starts {
		p.at(1<<v.Index, v.into()).length = 0
	}
	for ridden := range 1 << g.parts {
		for last := range p.ends {
			if from := p.at(ridden, last); from.length >= 0 {
				p.goOn(ridden, last, from.length)
			}
		}
	}
	return p.shortest()
}

// A table holds the shortest ways to have ridden a set of parts and left by an end. A
// set is a number with a bit for each part; part p is left by end 2p+1 if it was
// ridden into at 2p, and the other way round. They are kept by the end ridden into.
type table struct {
	Gaps
	ends    int
	entries []entry
}

type entry struct {
	length earth.Metres // negative where there is no such way yet
	before int          // the end at which the part before the last was ridden into
}

func newTable(g Gaps) table {
	p := table{g, 2 * g.parts, make([]entry, 2*g.parts<<g.parts)}
	for i := range p.entries {
		p.entries[i].length = -1
	}
	return p
}

func (p table) at(ridden, last int) *entry { return &p.entries[ridden*p.ends+last] }

// goOn adds each part that is not ridden yet to a way.
func (p table) goOn(ridden, last int, length earth.Metres) {
	for next := range p.ends {
		if ridden>>(next/2)&1 == 1 {
			continue
		}
		to := p.at(ridden|1<<(next/2), next)
		if d := length + p.apart[last^1][next]; to.length < 0 || d < to.length-earth.Hair {
			*to = entry{d, last}
		}
	}
}

// shortest gives the shortest way over all parts, traced back from its end.
func (p table) shortest() []Part {
	all := 1<<p.parts - 1
	best := -1
	for v := range p.ends {
		if d := p.at(all, v).length; d >= 0 && (best < 0 || d < p.at(all, best).length-earth.Hair) {
			best = v
		}
	}
	way := make([]Part, p.parts)
	for ridden, last := all, best; ridden != 0; {
		way[bits.OnesCount(uint(ridden))-1] = Part{last / 2, last%2 == 1}
		ridden, last = ridden&^(1<<(last/2)), p.at(ridden, last).before
	}
	return way
}
