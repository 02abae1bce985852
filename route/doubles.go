package route

import (
	"cmp"
	"slices"
	"sort"

	"github.com/paulmach/orb"
)

// A Doubling is a part that looks like another way for a stretch that another
// part rides already: the same stretch drawn twice, a detour for high water,
// a variant for experts.
type Doubling struct {
	Part   int    // number of the part to leave out, from 1
	Of     int    // and of the one that it doubles
	Shared Metres // how much of Part runs along Of
	Length Metres // of Part
}

// What doubles: our estimate.
const doubleWithin Metres = 60 // off the other part

const (
	doubleSamples = 400        // places of a part that are looked at
	doubleFrom    = 0.5        // of them
	alike         = 1          // metres by which two parts may differ and be as long
	mostWork      = 50_000_000 // steps that are looked at: about a second
)

// A sampling is how one part runs along the others.
type sampling struct {
	near    []int // of the samples, how many lie by each part
	onwards []int // how many more of these go the way of that part than against it
	ends    []int // how many of the part's two ends lie by each part
}

// findDoubles looks for parts that double others.
func (l *Line) findDoubles(join Metres) {
	if n := len(l.Parts); n < 2 || n > MostParts {
		return
	}
	order := make([]int, len(l.Parts))
	for p := range order {
		order[p] = p
	}
	// The shortest first: what is another way is shorter than what is ridden.
	slices.SortStableFunc(order, func(a, b int) int { return cmp.Compare(l.Parts[a].length(), l.Parts[b].length()) })
	work := mostWork
	without := make([]bool, len(l.Parts)) // the parts that double others
	for _, p := range order {
		s := l.sample(p, &work)
		if work <= 0 {
			break // too many parts lie beside each other: it would take too long
		}
		for of := range l.Parts {
			if d, ok := l.doubling(p, of, s, join, without); ok {
				l.Doubles = append(l.Doubles, d)
				without[p] = true
				break
			}
		}
	}
	if r := l.Reorder; r != nil && !r.Taken && len(l.Doubles) > 0 {
		l.Reorder = nil // it counts a part that is hardly ridden
	}
}

func (p Part) length() Metres { return p.To - p.From }

// doubling tells whether a part doubles another one. It does if half of it runs
// along that one in the same direction; or, since there and back is a ride like
// any other, if it only breaks the way that the others make without it, and half
// of it or both its ends lie by the other. Of two that double each other the
// later one is named.
func (l *Line) doubling(p, of int, s sampling, join Metres, without []bool) (Doubling, bool) {
	part, other := l.Parts[p], l.Parts[of]
	share := float64(s.near[of]) / doubleSamples
	along := share >= doubleFrom
	switch {
	case without[of] || part.Number == other.Number || part.length() == 0:
		return Doubling{}, false
	case along && s.onwards[of] > 0:
		if p < of && other.length() <= part.length()+alike {
			return Doubling{}, false // of two alike the later one is named
		}
	case !l.breaks(p, join, without) || !along && s.ends[of] < 2:
		return Doubling{}, false
	}
	length := part.length()
	return Doubling{part.Number, other.Number, length * Metres(share), length}, true
}

// breaks tells whether the parts before and after one meet without it, and do not
// with it. Parts that are known to double others do not count.
func (l *Line) breaks(p int, join Metres, without []bool) bool {
	before, after := p-1, p+1
	for before >= 0 && without[before] {
		before--
	}
	for after < len(without) && without[after] {
		after++
	}
	gap := func(a, b int) Metres {
		if a < 0 || b >= len(l.Parts) {
			return 0
		}
		return Distance(l.At(l.Parts[a].To), l.At(l.Parts[b].From))
	}
	with := gap(before, p) + gap(p, after)
	return with > join && gap(before, after) <= max(join, with*reorderBelow)
}

// sample looks at places of a part, evenly apart, for other parts beside them.
func (l *Line) sample(p int, work *int) sampling {
	n := len(l.Parts)
	s := sampling{make([]int, n), make([]int, n), make([]int, n)}
	before := make([]Metres, n) // where the last sample lay along each part, plus one
	part := l.Parts[p]
	for i := range doubleSamples {
		at := part.From + (part.To-part.From)*Metres(i)/(doubleSamples-1)
		for of, near := range l.besides(l.At(at), work) {
			s.near[of]++
			if i == 0 || i == doubleSamples-1 {
				s.ends[of]++
			}
			switch {
			case before[of] == 0:
			case near+1 > before[of]:
				s.onwards[of]++
			case near+1 < before[of]:
				s.onwards[of]--
			}
			before[of] = near + 1
		}
	}
	return s
}

// besides gives the parts that pass by a place, and where along the line the first
// step does that comes near enough.
func (l *Line) besides(p orb.Point, work *int) map[int]Metres {
	out := map[int]Metres{}
	l.index.Beside(p, doubleWithin, work, func(step int, share float64) {
		of := l.partAt(step)
		if _, found := out[of]; of >= 0 && !found {
			out[of] = l.at[step] + Metres(share)*(l.at[step+1]-l.at[step])
		}
	})
	return out
}

// partAt gives the part that a step belongs to, -1 for a way between two.
func (l *Line) partAt(step int) int {
	of := sort.Search(len(l.Parts), func(k int) bool { return l.Parts[k].To >= l.at[step+1] })
	if of == len(l.Parts) || l.Parts[of].From > l.at[step] {
		return -1
	}
	return of
}
