package survey

import (
	"container/heap"
	"slices"

	"lastpump/fuel/survey/surface"
	"lastpump/route"
	"lastpump/route/roads"
)

// shortest is how long a section is at least, unless it is one that stops a rider.
const shortest route.Metres = 50

// keptShort are grounds of which a few metres matter.
var keptShort = []route.Ground{route.Sand, route.DeepSand, route.Mud, route.Rocky}

// A patch is a row of matches with one ground, known or guessed.
type patch struct {
	ground  route.Ground
	guessed bool
	matches []Match
}

func (s patch) from() route.Metres   { return s.matches[0].From }
func (s patch) to() route.Metres     { return s.matches[len(s.matches)-1].To }
func (s patch) length() route.Metres { return s.to() - s.from() }

func (s patch) like(o patch) bool { return s.ground == o.ground && s.guessed == o.guessed }

func (s patch) mayGo() bool { return s.length() < shortest && !slices.Contains(keptShort, s.ground) }

// sections makes of matches the list of ground that a plan reads: those that follow
// each other with one ground are one, short ones go to their neighbours, kilometres
// are those of the file.
func sections(line *route.Line, matches []Match) []Section {
	var out []Section
	for _, s := range smoothed(patches(matches)) {
		from, to := line.FileAt(s.from()), line.FileAt(s.to())
		if k := len(out) - 1; k >= 0 {
			from = out[k].To
		}
		if to > from {
			row := route.Section{From: from, To: to, Ground: s.ground}
			out = append(out, Section{row, roads.Span{From: s.from(), To: s.to()}, s.guessed, s.matches})
		}
	}
	return out
}

func patches(matches []Match) (out []patch) {
	for _, m := range matches {
		out = joined(out, patch{m.Ground, m.Guessed, []Match{m}})
	}
	return out
}

// joined adds a patch to a row, to the last one where it is alike.
func joined(row []patch, s patch) []patch {
	if k := len(row) - 1; k >= 0 && row[k].like(s) {
		row[k].matches = append(row[k].matches, s.matches...)
		return row
	}
	return append(row, s)
}

// smoothed gives short patches to their neighbours, the shortest first: it was only a
// crossing, or the line strayed onto the road beside its own.
func smoothed(row []patch) []patch {
	c := newPatchChain(row)
	for c.Len() > 0 {
		k := heap.Pop(c).(shortPatch)
		if c.gone[k.i] || c.row[k.i].length() != k.length || c.before[k.i] < 0 && c.after[k.i] < 0 {
			continue
		}
		heir, ground, guessed := c.heir(k.i)
		for _, i := range []int{k.i, heir} {
			c.row[i].ground, c.row[i].guessed = ground, guessed
		}
		i := c.join(min(k.i, heir), max(k.i, heir))
		if b := c.before[i]; b >= 0 && c.row[b].like(c.row[i]) {
			i = c.join(b, i)
		}
		if a := c.after[i]; a >= 0 && c.row[a].like(c.row[i]) {
			i = c.join(i, a)
		}
		c.note(i)
	}
	var out []patch
	for i, s := range c.row {
		if !c.gone[i] {
			out = append(out, s)
		}
	}
	return out
}

// A patchChain is a row of patches from which some go, with the short ones in order of
// their length (container/heap).
type patchChain struct {
	row           []patch
	before, after []int // neighbours, -1 where there are none
	gone          []bool
	short         []shortPatch
}

type shortPatch struct {
	i      int
	length route.Metres // when it was noted
}

func newPatchChain(row []patch) *patchChain {
	c := &patchChain{row: row, before: make([]int, len(row)), after: make([]int, len(row)), gone: make([]bool, len(row))}
	for i := range row {
		c.before[i], c.after[i] = i-1, i+1
		if i == len(row)-1 {
			c.after[i] = -1
		}
		c.note(i)
	}
	return c
}

func (c *patchChain) Len() int           { return len(c.short) }
func (c *patchChain) Less(i, j int) bool { return c.short[i].before(c.short[j]) }
func (c *patchChain) Swap(i, j int)      { c.short[i], c.short[j] = c.short[j], c.short[i] }
func (c *patchChain) Push(x any)         { c.short = append(c.short, x.(shortPatch)) }
func (c *patchChain) Pop() any {
	last := c.short[len(c.short)-1]
	c.short = c.short[:len(c.short)-1]
	return last
}

func (s shortPatch) before(o shortPatch) bool {
	return s.length < o.length || s.length == o.length && s.i < o.i
}

// note puts a patch among the short ones if it is one.
func (c *patchChain) note(i int) {
	if c.row[i].mayGo() {
		heap.Push(c, shortPatch{i, c.row[i].length()})
	}
}

// join makes one of two neighbours, in the place of the first.
func (c *patchChain) join(i, j int) int {
	c.row[i].matches = append(c.row[i].matches, c.row[j].matches...)
	c.gone[j] = true
	c.after[i] = c.after[j]
	if n := c.after[j]; n >= 0 {
		c.before[n] = i
	}
	return i
}

// heir gives the neighbour that a short patch goes to, of two the one that is like it,
// else the thirstier, and what both are then taken for: what the neighbour is, but
// where that is short too the thirstier of both. Rough ground in many short pieces
// does not go for smooth.
func (c *patchChain) heir(i int) (next int, ground route.Ground, guessed bool) {
	own := c.row[i]
	next = c.before[i]
	if a := c.after[i]; next < 0 || a >= 0 && c.prefers(i, a, next) {
		next = a
	}
	heir := c.row[next]
	if heir.length() < shortest && surface.Thirstier(heir.ground, own.ground) != heir.ground {
		return next, own.ground, own.guessed
	}
	return next, heir.ground, heir.guessed
}

// prefers tells whether patch i goes to a rather than to b.
func (c *patchChain) prefers(i, a, b int) bool {
	own, first, second := c.row[i].ground, c.row[a].ground, c.row[b].ground
	switch {
	case (first == own) != (second == own):
		return first == own
	case first != second:
		return surface.Thirstier(second, first) == first
	}
	return false
}
