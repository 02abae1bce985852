package route

import (
	"fmt"
	"math"
	"slices"
	"sort"

	"lastpump/route/input"
	"lastpump/route/internal/climb"
	"lastpump/route/internal/earth"

	"github.com/paulmach/orb"
)

// Order says in which order the parts of a file are ridden.
type Order string

// The orders. The zero value is that of the file.
const (
	OrderFile    Order = "file"
	OrderNearest Order = "nearest" // the one in which they meet best, parts turned round where that helps
)

// An Arrangement is what the rider wants otherwise than in the file: parts are
// left out first, then put in order, then all is turned round, then it begins
// elsewhere.
type Arrangement struct {
	SkipParts  []int // numbers of parts to leave out, from 1
	Order      Order
	Reverse    bool
	BeginAt    Metres // where a closed loop begins, along the line as it is without Reverse and this
	HasBeginAt bool
	BeginName  string // what the rider calls that place; may be empty
}

// skipParts leaves out parts by their numbers in the file.
func (b *builder) skipParts(numbers []int) error {
	numbered := b.numberParts()
	var left []strand
	for _, s := range b.strands {
		if !slices.Contains(numbers, numbered[s.part]) {
			left = append(left, s)
		}
	}
	for i, name := range b.names {
		if n := numbered[i]; n > 0 && slices.Contains(numbers, n) {
			b.line.LeftOut = append(b.line.LeftOut, Part{Name: name, Number: n})
		}
	}
	for _, n := range numbers {
		if n < 1 || n > len(numbered) {
			return &input.Error{
				What: fmt.Sprintf("there is no part %d to leave out: the file has %s", n, b.listParts(numbered)),
				Hint: "a part is a track, or a route where there are no tracks"}
		}
	}
	if len(left) == 0 && len(numbers) > 0 {
		return &input.Error{What: "no part is left", Hint: "at least one part is ridden", Cause: ErrNoPartLeft}
	}
	b.strands = left
	return nil
}

// numberParts gives the tracks that have points their numbers, from 1.
func (b *builder) numberParts() map[int]int {
	numbered := map[int]int{}
	for _, s := range b.strands {
		if numbered[s.part] == 0 {
			numbered[s.part] = len(numbered) + 1
		}
	}
	b.numbers = numbered
	return numbered
}

// listParts names the parts of the file for an error, the first few of them.
func (b *builder) listParts(numbered map[int]int) string {
	list := ""
	for i, name := range b.names {
		n := numbered[i]
		switch {
		case n == 0:
			continue
		case n == 10:
			return list + " …"
		case n > 1:
			list += ", "
		}
		list += fmt.Sprint(n)
		if name != "" {
			list += fmt.Sprintf(" %q", name)
		}
	}
	return list
}

// arrange brings the strands into the order and the direction in which they are
// ridden.
func (b *builder) arrange(a Arrangement) error {
	b.line.Arranged = a
	b.line.ordered = b.ride(b.reorder(a.Order == OrderNearest, b.strands))
	b.line.inOrder = b.line.length()
	strands := b.strands
	if a.Reverse {
		turnRound(strands)
	}
	if a.HasBeginAt {
		var err error
		if strands, err = b.beginAt(a.BeginAt, strands); err != nil {
			return err
		}
	}
	b.line.turned = b.ride(strands)
	b.nameParts()
	b.placeHalts()
	b.placeStrays()
	return nil
}

// ride lays the line anew in the order of the strands, and gives where each was;
// nil where they are ridden as they lie.
func (b *builder) ride(strands []strand) moves {
	b.strands = strands
	if b.asInFile(strands) {
		return nil
	}
	return b.relay(strands)
}

// turnRound makes strands be ridden the other way.
func turnRound(strands []strand) {
	slices.Reverse(strands)
	for i := range strands {
		strands[i].backwards = !strands[i].backwards
	}
}

// asInFile tells whether the strands are all of the line, as it lies.
func (b *builder) asInFile(strands []strand) bool {
	at := 0
	for _, s := range strands {
		if s.backwards || s.from != at {
			return false
		}
		at = s.to
	}
	return at == len(b.line.pts)
}

// first and last give the points at which a strand is ridden into and out of.
func (s strand) first() int {
	if s.backwards {
		return s.to - 1
	}
	return s.from
}

func (s strand) last() int {
	if s.backwards {
		return s.from
	}
	return s.to - 1
}

// between gives how far two strands lie apart that are ridden one after the other.
func (b *builder) between(s, next strand) Metres {
	return Distance(b.line.pts[s.last()], b.line.pts[next.first()])
}

// beginAt turns the strands of a closed loop in a ring until they begin at a
// place, which cuts the strand that it lies on.
func (b *builder) beginAt(at Metres, strands []strand) ([]strand, error) {
	if d := b.between(strands[len(strands)-1], strands[0]); d > closedWithin {
		what := "the loop is not closed, so it cannot begin elsewhere: its ends lie %.1f km apart"
		return nil, &input.Error{What: fmt.Sprintf(what, d.Kilometres()),
			Hint: "only a loop that comes back to its start can begin elsewhere", Cause: ErrNotClosed}
	}
	k, on, ok := b.strandAt(at, strands)
	if !ok {
		return nil, &input.Error{What: fmt.Sprintf("no line at km %.1f for the loop to begin at", at.Kilometres()),
			Hint: "give a kilometre of the line as it is neither turned round nor begun elsewhere", Cause: ErrNotOnLine}
	}
	point, inserted := b.pointAt(on, strands[k])
	if inserted {
		for i := range strands {
			strands[i] = strands[i].shifted(point)
		}
	}
	s := strands[k]
	head, tail := s, s // of the strand as it is ridden: up to the place, and from there on
	if s.backwards {
		head.from, tail.to = point, point+1
	} else {
		head.to, tail.from = point+1, point
	}
	ring := append([]strand{tail}, strands[k+1:]...)
	ring = append(append(ring, strands[:k]...), head)
	return ring, nil
}

// strandAt gives the strand that a place lies on, or that it lies so near to that
// the way between is joined; the place is moved onto it.
func (b *builder) strandAt(at Metres, strands []strand) (k int, on Metres, ok bool) {
	least := max(b.join(), overrun)
	for i, s := range strands {
		there := min(max(at, b.line.at[s.from]), b.line.at[s.to-1])
		if off := max(at-there, there-at); off < least || !ok && off == least {
			k, on, ok, least = i, there, true, off
		}
	}
	return k, on, ok
}

// shifted makes room for a point that was put in.
func (s strand) shifted(point int) strand {
	if s.from >= point {
		s.from++
	}
	if s.to > point {
		s.to++
	}
	return s
}

// pointAt gives the point of a strand at a place, putting one in between two
// where there is none.
func (b *builder) pointAt(at Metres, s strand) (point int, inserted bool) {
	l := b.line
	const there = 1e-3 // metres
	i := min(s.from+earth.StepAt(l.at[s.from:s.to], at), s.to-1)
	switch {
	case at-l.at[i] <= there:
		return i, false
	case l.at[i+1]-at <= there:
		return i + 1, false
	}
	share := float64((at - l.at[i]) / (l.at[i+1] - l.at[i]))
	b.insertHeight(i, share)
	l.pts = slices.Insert(l.pts, i+1, earth.OnCircle(l.pts[i], l.pts[i+1], share))
	l.at = slices.Insert(l.at, i+1, at)
	for _, halts := range [][]Halt{l.Halts, l.Suspects} {
		for k := range halts {
			if halts[k].point > i {
				halts[k].point++
			}
		}
	}
	for _, s := range l.Strays {
		for k, point := range s.points {
			if point > i {
				s.points[k]++
			}
		}
	}
	return i + 1, true
}

// insertHeight gives a point that is put in behind another the height between its
// neighbours, if both have one.
func (b *builder) insertHeight(i int, share float64) {
	k := b.heightFrom(i)
	both := k+1 < len(b.heights) && b.heights[k].Point == i && b.heights[k+1].Point == i+1
	next := b.heightFrom(i + 1)
	for n := next; n < len(b.heights); n++ {
		b.heights[n].Point++
	}
	if both {
		ele := b.heights[k].Ele + share*(b.heights[k+1].Ele-b.heights[k].Ele)
		b.heights = slices.Insert(b.heights, next, climb.Height{Point: i + 1, Ele: ele})
	}
}

// heightFrom gives the first height at a point or behind it.
func (b *builder) heightFrom(point int) int {
	return sort.Search(len(b.heights), func(n int) bool { return b.heights[n].Point >= point })
}

// relay lays the line anew, strand by strand, and gives where each was.
func (b *builder) relay(strands []strand) moves {
	old := *b.line
	heights := b.heights
	l := b.line
	l.pts, l.at = make([]orb.Point, 0, len(old.pts)+1), make([]Metres, 0, len(old.pts)+1)
	b.heights = make([]climb.Height, 0, len(heights)+1)
	was := moves{}
	now := map[int]int{} // where the points of halts and strays are; -1 for those not met yet
	for _, h := range slices.Concat(l.Halts, l.Suspects) {
		now[h.point] = -1
	}
	for _, s := range l.Strays {
		for _, point := range s.points {
			now[point] = -1
		}
	}
	var before strand // as it was
	for k, s := range strands {
		from := len(l.pts)
		if k > 0 {
			was = append(was, joinMove(&old, before, s, l.at[from-1], Distance(l.pts[from-1], old.pts[s.first()])))
		}
		before = s
		b.copyStrand(&old, s, now)
		b.copyHeights(heights, s, from)
		was = append(was, move{
			File:      earth.Span{From: old.at[s.from], To: old.at[s.to-1]},
			Line:      earth.Span{From: l.at[from], To: l.at[len(l.at)-1]},
			Backwards: s.backwards,
		})
		strands[k].from, strands[k].to, strands[k].backwards = from, len(l.pts), false
		strands[k].turned = s.turned != s.backwards
	}
	l.Halts, l.Suspects = movedTo(l.Halts, now), movedTo(l.Suspects, now)
	for _, s := range l.Strays {
		for k := range s.points {
			s.points[k] = now[s.points[k]]
		}
	}
	return was
}

// joinMove ties the way between two strands to the file, if the file has it.
func joinMove(old *Line, s, next strand, at, length Metres) move {
	k := move{Line: earth.Span{From: at, To: at + length}, Backwards: s.backwards}
	switch a, c := s.last(), next.first(); {
	case c == a+1 && !s.backwards && !next.backwards:
		k.File = earth.Span{From: old.at[a], To: old.at[c]}
	case c == a-1 && s.backwards && next.backwards:
		k.File = earth.Span{From: old.at[c], To: old.at[a]}
	default:
		k.File = earth.Span{From: old.at[a], To: old.at[a]}
	}
	return k
}

// copyStrand copies the points of a strand in the order in which it is ridden. The
// distances are measured anew, so that the points alone give the same to the last bit.
func (b *builder) copyStrand(old *Line, s strand, marked map[int]int) {
	l := b.line
	at := Metres(0)
	if n := len(l.at); n > 0 {
		at = l.at[n-1] + Distance(l.pts[n-1], old.pts[s.first()])
	}
	cos := 0.0 // of the latitude of the point before
	for i := range s.to - s.from {
		from := s.from + i
		if s.backwards {
			from = s.to - 1 - i
		}
		p := old.pts[from]
		next := math.Cos(p.Lat() * earth.Degree)
		if i > 0 {
			at += earth.Haversine(l.pts[len(l.pts)-1], p, cos, next)
		}
		cos = next
		if to, is := marked[from]; is && to < 0 {
			marked[from] = len(l.pts)
		}
		l.pts, l.at = append(l.pts, p), append(l.at, at)
	}
}

// copyHeights copies the heights of a strand that now begins at a point.
func (b *builder) copyHeights(heights []climb.Height, s strand, at int) {
	from := sort.Search(len(heights), func(n int) bool { return heights[n].Point >= s.from })
	to := sort.Search(len(heights), func(n int) bool { return heights[n].Point >= s.to })
	if !s.backwards {
		for _, h := range heights[from:to] {
			b.heights = append(b.heights, climb.Height{Point: at + h.Point - s.from, Ele: h.Ele})
		}
		return
	}
	for n := to - 1; n >= from; n-- {
		b.heights = append(b.heights, climb.Height{Point: at + s.to - 1 - heights[n].Point, Ele: heights[n].Ele})
	}
}

// nameParts makes a part of the strands of each track that follow each other.
func (b *builder) nameParts() {
	l := b.line
	last := -1
	for _, s := range b.strands {
		if s.part != last {
			last = s.part
			l.Parts = append(l.Parts, Part{
				Name: b.names[s.part], From: l.at[s.from], Number: b.numbers[s.part], Backwards: s.turned,
			})
		}
		l.Parts[len(l.Parts)-1].To = l.at[s.to-1]
	}
}
