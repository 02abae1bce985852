package route

import (
	"fmt"
	"slices"
)

// A knot ties a place of the line, the file's parts being in the file's order, to
// the kilometre of the file as given: with strays, the jitter of halts and parts
// that are left out all counted. Between two knots both run evenly.
type knot struct{ at, given Metres }

// addKnots notes where a segment begins and ends in the file as given, and where
// points are left out of it. kept are the points that are left; nil for all.
func (b *builder) addKnots(points []Point, steps []Metres, kept []int) {
	if b.given > 0 || len(b.line.pts) > 0 {
		b.given += Distance(b.end, points[0].Point)
	}
	b.end = points[len(points)-1].Point
	along := Metres(0) // of the line, from its last point
	if n := len(b.line.pts); n > 0 {
		first := 0
		if kept != nil {
			first = kept[0]
		}
		along = b.line.at[n-1] + Distance(b.line.pts[n-1], points[first].Point)
	}
	if kept == nil {
		b.tie(along, b.given)
		for _, s := range steps {
			along += s
			b.given += s
		}
		b.tie(along, b.given)
		return
	}
	b.addKnotsOfKept(points, steps, kept, along)
}

// addKnotsOfKept ties both ends of every run of points that is left whole.
func (b *builder) addKnotsOfKept(points []Point, steps []Metres, kept []int, along Metres) {
	next := 0 // into kept
	for i, s := range steps {
		b.given += s
		if next == len(kept) || kept[next] != i {
			continue
		}
		if next > 0 {
			along += Distance(points[kept[next-1]].Point, points[i].Point)
		}
		alone := next == 0 || kept[next-1] != i-1
		if alone || next+1 == len(kept) || kept[next+1] != i+1 {
			b.tie(along, b.given)
		}
		next++
	}
}

func (b *builder) tie(at, given Metres) { b.line.knots = append(b.line.knots, knot{at, given}) }

// untied tells whether the file's kilometres are those of the line, up to
// rounding.
func untied(knots []knot) bool {
	return !slices.ContainsFunc(knots, func(k knot) bool { return max(k.at-k.given, k.given-k.at) > 0.01 })
}

// clear turns a kilometre of the file as given into one of the line in the file's
// order.
func (l *Line) clear(given Metres) Metres {
	n, _ := slices.BinarySearchFunc(l.knots, given, func(k knot, m Metres) int {
		if k.given < m {
			return -1
		}
		return 1
	})
	switch n {
	case 0:
		return l.knots[0].at
	case len(l.knots):
		last := l.knots[n-1]
		return last.at + (given - last.given) // an overrun stays one
	}
	a, b := l.knots[n-1], l.knots[n]
	if b.given == a.given {
		return b.at
	}
	return a.at + (b.at-a.at)*(given-a.given)/(b.given-a.given)
}

// A link ties a stretch of the line to the one that it was before it was laid anew.
type link struct {
	file, line span
	backwards  bool
}

type links []link

// A Measure says how the kilometres of a list were counted.
type Measure string

// The measures. They differ only where something was left out of the file.
const (
	AsGiven Measure = "as given" // with strays, the jitter of halts and parts left out
	Cleaned Measure = "cleaned"  // without strays and jitter, all parts in the file's order
	Ordered Measure = "ordered"  // and without the parts left out
)

// FileLength is the length of the file in a measure, all its parts in their order.
func (l *Line) FileLength(m Measure) Metres {
	switch m {
	case AsGiven:
		return l.knots[len(l.knots)-1].given
	case Cleaned:
		return l.knots[len(l.knots)-1].at
	}
	return l.inOrder
}

// Lay lays sections by the kilometres of the file on the line, wherever its parts
// have come to lie and in whichever direction they are ridden. A way between two
// parts that the file does not have has the ground of what is ridden before it.
//
// The kilometres are those of the file as given. Only where the sections do not end
// with it but, within 100 m, with the line as it is cleaned, or without the parts
// left out, they were measured on that one, such as this program prints it. The
// error is an [*InputError] without a file: sections beyond the end.
func (l *Line) Lay(sections []Section) ([]Section, Measure, error) {
	m := l.measure(sections)
	if err := fit(sections, l.FileLength(m)); err != nil {
		return nil, m, err
	}
	if m == AsGiven && !untied(l.knots) {
		sections = slices.Clone(sections)
		for i := range sections {
			s := &sections[i]
			s.From, s.To = l.clear(s.From), l.clear(s.To)
		}
	}
	if m != Ordered {
		sections = l.ordered.move(sections)
	}
	return l.turned.move(sections), m, nil
}

// Within cuts sections off where the file ends, for one that is itself cut off. The
// note says what was left out; "" for nothing.
func (l *Line) Within(sections []Section) (kept []Section, note string) {
	end := l.FileLength(AsGiven)
	for _, s := range sections {
		if s.From < end {
			s.To = min(s.To, end)
			kept = append(kept, s)
		}
	}
	if n := len(sections); n > 0 && sections[n-1].To > end+overrun {
		note = fmt.Sprintf("the ground from km %.1f to %s lies beyond what is whole of the file: left out", end.Kilometres(), km(sections[n-1].To))
	}
	return kept, note
}

func (l *Line) measure(sections []Section) Measure {
	if len(sections) == 0 {
		return AsGiven
	}
	end := sections[len(sections)-1].To
	off := func(m Measure) Metres { return max(end-l.FileLength(m), l.FileLength(m)-end) }
	inOrder := l.Reorder != nil && l.Reorder.Taken // then nobody knows where such a list begins
	switch {
	case off(AsGiven) <= overrun:
	case off(Cleaned) <= overrun:
		return Cleaned
	case off(Ordered) <= overrun && !inOrder:
		return Ordered
	}
	return AsGiven
}

// fit tells whether the sections lie on a line of that length.
func fit(sections []Section, length Metres) error {
	for _, s := range sections {
		if s.To > length+overrun {
			return &InputError{Line: s.Row, Col: 1,
				What: fmt.Sprintf("the section ends at km %s, the line at km %.1f", km(s.To), length.Kilometres()),
				Hint: "from_km and to_km are kilometres along the line in the file: is this the ground of another track?"}
		}
	}
	return nil
}

// move takes sections along with the parts of the line that they lie on.
func (ls links) move(sections []Section) []Section {
	if ls == nil {
		return sections
	}
	var out []Section
	for _, k := range ls {
		if k.file.from == k.file.to {
			out = append(out, k.join(sections)...)
			continue
		}
		begin := len(out)
		for _, s := range sections {
			if on, ok := k.carry(span{s.From, s.To}); ok {
				s.From, s.To = on.from, on.to
				out = append(out, s)
			}
		}
		if k.backwards {
			slices.Reverse(out[begin:])
		}
	}
	return out
}

// join gives the ground of a way that the file does not have: that of the end of
// what is ridden before it, or where that has no length, of what touches it.
func (k link) join(sections []Section) []Section {
	at := k.file.from
	var touching *Section
	for _, s := range sections {
		before := s.From < at-hair && at <= s.To+hair
		if k.backwards {
			before = s.From <= at+hair && at < s.To-hair
		}
		if before || touching == nil && s.From <= at+hair && at <= s.To+hair {
			touching = &s
		}
		if before {
			break
		}
	}
	if touching == nil || k.line.from == k.line.to {
		return nil
	}
	s := *touching
	s.From, s.To = k.line.from, k.line.to
	return []Section{s}
}

// carry gives where a stretch of the file lies on the line.
func (k link) carry(s span) (span, bool) {
	from, to := max(s.from, k.file.from), min(s.to, k.file.to)
	if from >= to {
		return span{}, false
	}
	scale := (k.line.to - k.line.from) / (k.file.to - k.file.from)
	if k.backwards {
		return span{k.line.from + (k.file.to-to)*scale, k.line.from + (k.file.to-from)*scale}, true
	}
	return span{k.line.from + (from-k.file.from)*scale, k.line.from + (to-k.file.from)*scale}, true
}

// BeforeTurning gives where a place of the line lies on it as it is neither turned
// round nor begun elsewhere: what [Arrangement].BeginAt asks for.
func (l *Line) BeforeTurning(at Metres) Metres {
	for _, k := range l.turned {
		if at < k.line.from || at > k.line.to || k.line.from == k.line.to {
			continue
		}
		share := (at - k.line.from) / (k.line.to - k.line.from)
		if k.backwards {
			return k.file.to - share*(k.file.to-k.file.from)
		}
		return k.file.from + share*(k.file.to-k.file.from)
	}
	return at
}
