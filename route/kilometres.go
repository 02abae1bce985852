package route

import (
	"fmt"
	"slices"

	"lastpump/route/input"
	"lastpump/route/internal/earth"
)

// A mark ties a place of the line, the file's parts being in the file's order, to
// the kilometre of the file as given: with strays, the jitter of halts and parts
// that are left out all counted. Between two marks both run evenly.
type mark struct{ at, given Metres }

// addMarks notes where a segment begins and ends in the file as given, and where points
// are left out of it: both ends of what is left whole. kept are the points that are left;
// nil for all.
func (b *builder) addMarks(points []Point, steps []Metres, kept []int) {
	l, end := b.line, len(b.line.pts)
	if b.given > 0 || end > 0 {
		b.given += Distance(b.end, points[0].Point)
	}
	b.end = points[len(points)-1].Point
	along, last, next := Metres(0), -1, 0 // of the line; the last point that is left; into kept
	for i, s := range steps {
		b.given += s
		if kept != nil && (next == len(kept) || kept[next] != i) {
			continue
		}
		next++
		whole := last >= 0 && last == i-1 // with the point before
		switch {
		case whole:
			along += s
		case last >= 0:
			along += Distance(points[last].Point, points[i].Point)
		case end > 0:
			along = l.at[end-1] + Distance(l.pts[end-1], points[i].Point)
		}
		if !whole || i+1 == len(points) || kept != nil && (next == len(kept) || kept[next] != i+1) {
			l.marks = append(l.marks, mark{along, b.given})
		}
		last = i
	}
}

// untied tells whether the file's kilometres are those of the line, up to
// rounding.
func untied(marks []mark) bool {
	return !slices.ContainsFunc(marks, func(k mark) bool { return max(k.at-k.given, k.given-k.at) > 0.01 })
}

// FromFile gives the place along a line, which is not arranged otherwise than its file, of a
// kilometre of the file as [Line.FileAt] gives it.
func (l *Line) FromFile(given Metres) Metres { return min(max(l.fromGiven(given), 0), l.length()) }

// fromGiven turns a kilometre of the file as given into one of the line in the file's
// order.
func (l *Line) fromGiven(given Metres) Metres {
	n, _ := slices.BinarySearchFunc(l.marks, given, func(k mark, m Metres) int {
		if k.given < m {
			return -1
		}
		return 1
	})
	switch n {
	case 0:
		return l.marks[0].at
	case len(l.marks):
		last := l.marks[n-1]
		return last.at + (given - last.given) // an overrun stays one
	}
	a, b := l.marks[n-1], l.marks[n]
	if b.given == a.given {
		return b.at
	}
	return a.at + (b.at-a.at)*(given-a.given)/(b.given-a.given)
}

// A move ties a stretch of the line to the one that it was before it was laid anew. Its
// names are those that a record of the line has.
type move struct {
	File, Line earth.Span
	Backwards  bool
}

type moves []move

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
		return l.marks[len(l.marks)-1].given
	case Cleaned:
		return l.marks[len(l.marks)-1].at
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
// error is an [*input.Error] without a file: sections beyond the end.
func (l *Line) Lay(sections []Section) ([]Section, Measure, error) {
	m := l.measure(sections)
	if err := fit(sections, l.FileLength(m)); err != nil {
		return nil, m, err
	}
	sections = cutAt(sections, l.FileLength(m))
	if m == AsGiven && !untied(l.marks) {
		sections = slices.Clone(sections)
		for i := range sections {
			s := &sections[i]
			s.From, s.To = l.fromGiven(s.From), l.fromGiven(s.To)
		}
	}
	if m != Ordered {
		sections = l.ordered.lay(sections)
	}
	return l.turned.lay(sections), m, nil
}

// Within cuts sections off where the file ends, for one that is itself cut off. left is
// the stretch that they reach beyond it, by the kilometres of the file; ok tells whether
// there is one.
func (l *Line) Within(sections []Section) (kept []Section, left Section, ok bool) {
	end := l.FileLength(AsGiven)
	kept = cutAt(sections, end)
	if n := len(sections); n > 0 && sections[n-1].To > end+overrun {
		return kept, Section{From: end, To: sections[n-1].To}, true
	}
	return kept, Section{}, false
}

// cutAt leaves out what lies beyond the end of a line.
func cutAt(sections []Section, end Metres) []Section {
	if n := len(sections); n == 0 || sections[n-1].To <= end {
		return sections
	}
	var kept []Section
	for _, s := range sections {
		if s.To = min(s.To, end); s.From < end {
			kept = append(kept, s)
		}
	}
	return kept
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
		if s.To > length+Overrun(length) {
			return &input.Error{Line: s.Row, Col: 1,
				What: fmt.Sprintf("the section ends at km %s, the line at km %.1f", km(s.To), length.Kilometres()),
				Hint: "from_km and to_km are kilometres along the line in the file: " +
					"is this the ground of another track?"}
		}
	}
	return nil
}

// lay takes sections along with the parts of the line that they lie on.
func (ls moves) lay(sections []Section) []Section {
	if ls == nil {
		return sections
	}
	var out []Section
	for _, k := range ls {
		if k.File.From == k.File.To {
			out = append(out, k.join(sections)...)
			continue
		}
		begin := len(out)
		for _, s := range sections {
			if on, ok := k.carry(earth.Span{From: s.From, To: s.To}); ok {
				s.From, s.To = on.From, on.To
				out = append(out, s)
			}
		}
		if k.Backwards {
			slices.Reverse(out[begin:])
		}
	}
	return out
}

// join gives the ground of a way that the file does not have: that of the end of
// what is ridden before it, or where that has no length, of what touches it.
func (k move) join(sections []Section) []Section {
	at := k.File.From
	var touching *Section
	for _, s := range sections {
		before := s.From < at-earth.Hair && at <= s.To+earth.Hair
		if k.Backwards {
			before = s.From <= at+earth.Hair && at < s.To-earth.Hair
		}
		if before || touching == nil && s.From <= at+earth.Hair && at <= s.To+earth.Hair {
			touching = &s
		}
		if before {
			break
		}
	}
	if touching == nil || k.Line.From == k.Line.To {
		return nil
	}
	s := *touching
	s.From, s.To = k.Line.From, k.Line.To
	return []Section{s}
}

// carry gives where a stretch of the file lies on the line.
func (k move) carry(s earth.Span) (earth.Span, bool) {
	from, to := max(s.From, k.File.From), min(s.To, k.File.To)
	if from >= to {
		return earth.Span{}, false
	}
	scale := (k.Line.To - k.Line.From) / (k.File.To - k.File.From)
	if k.Backwards {
		return earth.Span{From: k.Line.From + (k.File.To-to)*scale, To: k.Line.From + (k.File.To-from)*scale}, true
	}
	return earth.Span{From: k.Line.From + (from-k.File.From)*scale, To: k.Line.From + (to-k.File.From)*scale}, true
}

// BeforeTurning gives where a place of the line lies on it as it is neither turned
// round nor begun elsewhere: what [Arrangement].BeginAt asks for.
func (l *Line) BeforeTurning(at Metres) Metres {
	for _, k := range l.turned {
		if at < k.Line.From || at > k.Line.To || k.Line.From == k.Line.To {
			continue
		}
		share := (at - k.Line.From) / (k.Line.To - k.Line.From)
		if k.Backwards {
			return k.File.To - share*(k.File.To-k.File.From)
		}
		return k.File.From + share*(k.File.To-k.File.From)
	}
	return at
}
