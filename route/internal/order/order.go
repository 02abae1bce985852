// Package order finds the order of the parts of a file in which they meet best: the one
// with the shortest ways between them. Parts are taken as wholes, in either direction.
package order

import (
	"cmp"
	"slices"

	"github.com/paulmach/orb"

	"lastpump/route/internal/earth"
)

// Gaps are the distances between the ends of parts.
type Gaps struct {
	parts int
	apart [][]earth.Metres // between ends: of part p the first is 2p, the last 2p+1
}

// NewGaps measures the distances between parts by their ends: of each part the first and
// the last point, one part after the other.
func NewGaps(ends []orb.Point) Gaps {
	g := Gaps{parts: len(ends) / 2}
	for _, p := range ends {
		row := make([]earth.Metres, len(ends))
		for i, q := range ends {
			row[i] = earth.Distance(p, q)
		}
		g.apart = append(g.apart, row)
	}
	return g
}

// A Part is a part in a direction.
type Part struct {
	Index     int // in the order of the file, from 0
	Backwards bool
}

// AsGiven gives the order of the file.
func (g Gaps) AsGiven() []Part {
	out := make([]Part, g.parts)
	for i := range out {
		out[i].Index = i
	}
	return out
}

// into and outOf give the ends at which a part is ridden into and out of.
func (v Part) into() int {
	if v.Backwards {
		return 2*v.Index + 1
	}
	return 2 * v.Index
}

func (v Part) outOf() int { return v.into() ^ 1 }

func (g Gaps) between(a, c Part) earth.Metres { return g.apart[a.outOf()][c.into()] }

// Length is the way between the parts, in all.
func (g Gaps) Length(way []Part) (d earth.Metres) {
	for i := 1; i < len(way); i++ {
		d += g.between(way[i-1], way[i])
	}
	return d
}

// Best gives the best order found; up to twelve parts it is the best there is. One
// that begins with the file's first part, as it is, is kept if it is good enough:
// a loop may begin anywhere, but the rider knows where.
func (g Gaps) Best(enough earth.Metres) []Part {
	if g.parts <= exactParts {
		best := g.exact([]Part{{}})
		if g.Length(best) >= enough || mostlyBackwards(best) {
			best = mostlyAsGiven(g.exact(g.starts()))
		}
		return best
	}
	best := g.improved(g.greedy(Part{}), 1)
	if g.Length(best) < enough && !mostlyBackwards(best) {
		return best
	}
	var ways [][]Part
	for _, from := range g.starts() {
		ways = append(ways, g.greedy(from))
	}
	slices.SortStableFunc(ways, func(a, b []Part) int { return cmp.Compare(g.Length(a), g.Length(b)) })
	for _, way := range ways[:worthImproving] {
		if way = g.improved(way, 0); g.Length(way) < g.Length(best)-earth.Hair {
			best = way
		}
	}
	return mostlyAsGiven(best)
}

// worthImproving is how many of the greedy orders are worked on.
const worthImproving = 12

// starts gives every part in either direction.
func (g Gaps) starts() []Part {
	var out []Part
	for part := range g.parts {
		out = append(out, Part{part, false}, Part{part, true})
	}
	return out
}

// mostlyAsGiven turns an order round that has more parts backwards than not: it is
// as long.
func mostlyAsGiven(way []Part) []Part {
	if mostlyBackwards(way) {
		turnRound(way)
	}
	return way
}

func mostlyBackwards(way []Part) bool {
	back := 0
	for _, v := range way {
		if v.Backwards {
			back++
		}
	}
	return 2*back > len(way)
}

func turnRound(way []Part) {
	slices.Reverse(way)
	for i := range way {
		way[i].Backwards = !way[i].Backwards
	}
}

// greedy goes from each part to the nearest end of one not yet ridden.
func (g Gaps) greedy(from Part) []Part {
	way := []Part{from}
	ridden := make([]bool, g.parts)
	for ridden[from.Index] = true; len(way) < g.parts; {
		next, least := Part{}, earth.Metres(-1)
		for part := range g.parts {
			for _, v := range []Part{{part, false}, {part, true}} {
				if d := g.between(way[len(way)-1], v); !ridden[part] && (least < 0 || d < least) {
					next, least = v, d
				}
			}
		}
		ridden[next.Index] = true
		way = append(way, next)
	}
	return way
}

// improved turns stretches of the order round and moves single parts as long as
// that makes it shorter (2-opt and or-opt). The first parts stay where they are.
func (g Gaps) improved(way []Part, fixed int) []Part {
	for better := true; better; {
		better = false
		for i := fixed; i < len(way); i++ {
			for j := i; j < len(way); j++ {
				better = g.tryTurn(way, i, j) || better
			}
			better = g.tryMove(way, i, fixed) || better
		}
	}
	return way
}

// joint is the way from one place of an order to the next, 0 beyond its ends.
func (g Gaps) joint(way []Part, i int) earth.Metres {
	if i < 0 || i+1 >= len(way) {
		return 0
	}
	return g.between(way[i], way[i+1])
}

// tryTurn turns a stretch round if that is shorter. The ways inside it stay as long
// as they are.
func (g Gaps) tryTurn(way []Part, i, j int) bool {
	after := earth.Metres(0)
	if i > 0 {
		after += g.apart[way[i-1].outOf()][way[j].outOf()]
	}
	if j+1 < len(way) {
		after += g.apart[way[i].into()][way[j+1].into()]
	}
	if after >= g.joint(way, i-1)+g.joint(way, j)-earth.Hair {
		return false
	}
	turnRound(way[i : j+1])
	return true
}

// tryMove puts a part elsewhere, in whichever direction, if that is shorter.
func (g Gaps) tryMove(way []Part, i, fixed int) bool {
	length, v := g.Length(way), way[i]
	rest := slices.Delete(slices.Clone(way), i, i+1)
	without := g.Length(rest)
	for j := fixed; j <= len(rest); j++ {
		for range 2 {
			with := without - g.joint(rest, j-1)
			if j > 0 {
				with += g.between(rest[j-1], v)
			}
			if j < len(rest) {
				with += g.between(v, rest[j])
			}
			if with < length-earth.Hair {
				copy(way, slices.Insert(rest, j, v))
				return true
			}
			v.Backwards = !v.Backwards
		}
	}
	return false
}
