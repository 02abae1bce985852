package route

import (
	"cmp"
	"slices"

	"github.com/paulmach/orb"
)

// A Reorder is an order in which the parts of a file meet much better than in the
// file's own.
type Reorder struct {
	Parts    []PartRef
	Gaps     Metres // between the parts, in all
	FileGaps Metres // the same in the file's order
	Taken    bool   // false where it is only offered
}

// A PartRef is a part by its number in the file, from 1.
type PartRef struct {
	Number    int
	Backwards bool
}

// reorderBelow is how much better an order must be to be worth a word: our
// estimate.
const reorderBelow = 0.1

// MostParts is up to how many parts another order is looked for: more are pieces of
// a recording, not days.
const MostParts = 100

// reorder looks for an order in which the parts meet, and gives the strands in it
// if that is asked for.
func (b *builder) reorder(order Order, strands []strand) []strand {
	parts := partsOf(strands)
	if len(parts) < 2 || len(parts) > MostParts {
		return strands
	}
	t := b.newTour(parts)
	gaps := t.length(t.asGiven())
	if gaps <= b.join()*Metres(len(parts)-1) {
		return strands
	}
	best := t.best(gaps * reorderBelow)
	if order == OrderNearest && t.length(best) >= gaps || order != OrderNearest && t.length(best) >= gaps*reorderBelow {
		return strands
	}
	r := &Reorder{Gaps: t.length(best), FileGaps: gaps, Taken: order == OrderNearest}
	for _, v := range best {
		r.Parts = append(r.Parts, PartRef{b.numbers[parts[v.part][0].part], v.backwards})
	}
	b.line.Reorder = r
	if !r.Taken {
		return strands
	}
	var out []strand
	for _, v := range best {
		p := slices.Clone(parts[v.part])
		if v.backwards {
			turnRound(p)
		}
		out = append(out, p...)
	}
	return out
}

// partsOf gathers the strands of each part.
func partsOf(strands []strand) [][]strand {
	var out [][]strand
	for _, s := range strands {
		if n := len(out); n > 0 && out[n-1][0].part == s.part {
			out[n-1] = append(out[n-1], s)
		} else {
			out = append(out, []strand{s})
		}
	}
	return out
}

// A tour looks for the order of parts with the shortest way between them. Parts
// are taken as wholes, in either direction.
type tour struct {
	parts int
	apart [][]Metres // between ends: of part p the first is 2p, the last 2p+1
}

// A visit is a part in its place in a tour.
type visit struct {
	part      int
	backwards bool
}

func (b *builder) newTour(parts [][]strand) tour {
	t := tour{parts: len(parts)}
	var ends []orb.Point
	for _, p := range parts {
		ends = append(ends, b.line.pts[p[0].first()], b.line.pts[p[len(p)-1].last()])
	}
	for _, p := range ends {
		row := make([]Metres, len(ends))
		for i, q := range ends {
			row[i] = Distance(p, q)
		}
		t.apart = append(t.apart, row)
	}
	return t
}

func (t tour) asGiven() []visit {
	out := make([]visit, t.parts)
	for i := range out {
		out[i].part = i
	}
	return out
}

// into and outOf give the ends at which a part is ridden into and out of.
func (v visit) into() int {
	if v.backwards {
		return 2*v.part + 1
	}
	return 2 * v.part
}

func (v visit) outOf() int { return v.into() ^ 1 }

func (t tour) between(a, c visit) Metres { return t.apart[a.outOf()][c.into()] }

// length is the way between the parts, in all.
func (t tour) length(way []visit) (d Metres) {
	for i := 1; i < len(way); i++ {
		d += t.between(way[i-1], way[i])
	}
	return d
}

// best gives the best order found; up to twelve parts it is the best there is. One
// that begins with the file's first part, as it is, is kept if it is good enough:
// a loop may begin anywhere, but the rider knows where.
func (t tour) best(enough Metres) []visit {
	if t.parts <= exactParts {
		best := t.exact([]visit{{}})
		if t.length(best) >= enough || mostlyBackwards(best) {
			best = mostlyAsGiven(t.exact(t.starts()))
		}
		return best
	}
	best := t.improved(t.greedy(visit{}), 1)
	if t.length(best) < enough && !mostlyBackwards(best) {
		return best
	}
	var ways [][]visit
	for _, from := range t.starts() {
		ways = append(ways, t.greedy(from))
	}
	slices.SortStableFunc(ways, func(a, b []visit) int { return cmp.Compare(t.length(a), t.length(b)) })
	for _, way := range ways[:worthImproving] {
		if way = t.improved(way, 0); t.length(way) < t.length(best)-hair {
			best = way
		}
	}
	return mostlyAsGiven(best)
}

// worthImproving is how many of the greedy tours are worked on.
const worthImproving = 12

// starts gives every part in either direction.
func (t tour) starts() []visit {
	var out []visit
	for part := range t.parts {
		out = append(out, visit{part, false}, visit{part, true})
	}
	return out
}

// mostlyAsGiven turns a tour round that has more parts backwards than not: it is
// as long.
func mostlyAsGiven(way []visit) []visit {
	if mostlyBackwards(way) {
		turnTour(way)
	}
	return way
}

func mostlyBackwards(way []visit) bool {
	back := 0
	for _, v := range way {
		if v.backwards {
			back++
		}
	}
	return 2*back > len(way)
}

func turnTour(way []visit) {
	slices.Reverse(way)
	for i := range way {
		way[i].backwards = !way[i].backwards
	}
}

// greedy goes from each part to the nearest end of one not yet ridden.
func (t tour) greedy(from visit) []visit {
	way := []visit{from}
	ridden := make([]bool, t.parts)
	for ridden[from.part] = true; len(way) < t.parts; {
		next, least := visit{}, Metres(-1)
		for part := range t.parts {
			for _, v := range []visit{{part, false}, {part, true}} {
				if d := t.between(way[len(way)-1], v); !ridden[part] && (least < 0 || d < least) {
					next, least = v, d
				}
			}
		}
		ridden[next.part] = true
		way = append(way, next)
	}
	return way
}

// improved turns stretches of the tour round and moves single parts as long as
// that makes it shorter (2-opt and or-opt). The first visits stay where they are.
func (t tour) improved(way []visit, fixed int) []visit {
	for better := true; better; {
		better = false
		for i := fixed; i < len(way); i++ {
			for j := i; j < len(way); j++ {
				better = t.tryTurn(way, i, j) || better
			}
			better = t.tryMove(way, i, fixed) || better
		}
	}
	return way
}

// joint is the way from one place of a tour to the next, 0 beyond its ends.
func (t tour) joint(way []visit, i int) Metres {
	if i < 0 || i+1 >= len(way) {
		return 0
	}
	return t.between(way[i], way[i+1])
}

// tryTurn turns a stretch round if that is shorter. The ways inside it stay as long
// as they are.
func (t tour) tryTurn(way []visit, i, j int) bool {
	after := Metres(0)
	if i > 0 {
		after += t.apart[way[i-1].outOf()][way[j].outOf()]
	}
	if j+1 < len(way) {
		after += t.apart[way[i].into()][way[j+1].into()]
	}
	if after >= t.joint(way, i-1)+t.joint(way, j)-hair {
		return false
	}
	turnTour(way[i : j+1])
	return true
}

// tryMove puts a part elsewhere, in whichever direction, if that is shorter.
func (t tour) tryMove(way []visit, i, fixed int) bool {
	length, v := t.length(way), way[i]
	rest := slices.Delete(slices.Clone(way), i, i+1)
	without := t.length(rest)
	for j := fixed; j <= len(rest); j++ {
		for range 2 {
			with := without - t.joint(rest, j-1)
			if j > 0 {
				with += t.between(rest[j-1], v)
			}
			if j < len(rest) {
				with += t.between(v, rest[j])
			}
			if with < length-hair {
				copy(way, slices.Insert(rest, j, v))
				return true
			}
			v.backwards = !v.backwards
		}
	}
	return false
}
