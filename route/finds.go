package route

import (
	"cmp"
	"slices"
)

// movedTo gives halts their new points; those that are not ridden are forgotten.
func movedTo(halts []Halt, now map[int]int) []Halt {
	for i := range halts {
		halts[i].point = now[halts[i].point]
	}
	return slices.DeleteFunc(halts, func(h Halt) bool { return h.point < 0 })
}

// placeHalts says where the halts lie, now that the line is laid.
func (b *builder) placeHalts() {
	l := b.line
	for _, halts := range [][]Halt{l.Halts, l.Suspects} {
		for i := range halts {
			halts[i].At = l.at[halts[i].point]
		}
		slices.SortFunc(halts, func(a, c Halt) int { return a.point - c.point })
	}
}

// placeStrays says where the leaps lie, and forgets those of parts that are not ridden. One
// in which the ride begins has no stretch of its own any more.
func (b *builder) placeStrays() {
	l := b.line
	ridden := map[int]bool{}
	for _, s := range b.strands {
		ridden[s.part] = true
	}
	l.Strays = slices.DeleteFunc(l.Strays, func(s Strays) bool {
		return !ridden[s.part] || slices.Contains(s.points, -1)
	})
	for i := range l.Strays {
		s := &l.Strays[i]
		first, last := slices.Min(s.points), slices.Max(s.points)
		s.From = l.at[first]
		if s.To = s.From; s.Ridden && last-first < len(s.points)+2 {
			s.To = l.at[last]
		}
	}
	slices.SortFunc(l.Strays, func(a, c Strays) int { return cmp.Compare(a.From, c.From) })
}
