// Package bailout holds where a rider in trouble gets help: what stands in bail_outs.csv.
//
// Start with [Read] and [Write]. A [Way] leads by road from a mark of the line, one every
// [Apart], to the nearest of one [Kind] of help. [Gather] puts the ways beside the marks of a
// line, for a plan to hold.
//
// The idea that surprises: what is not here is not known. A map that ends, or has nothing
// where there is something, looks the same as a desert; so no mark ever says that there is
// none of a kind.
//
// # Limits
//
// Shortest is by kilometres, for who pushes a bike or is fetched does not ask what the ground
// drinks. Nothing here says whether a clinic is open, a well has water or a road can be
// ridden today: it is what a map says.
package bailout

import (
	"cmp"
	"slices"

	"lastpump/fuel/wayout"
	"lastpump/route"

	"github.com/paulmach/orb"
)

// A Kind is what a rider in trouble looks for, as the file and programs have it.
type Kind string

// The kinds.
const (
	Village  Kind = "village"  // a city, town, village or hamlet
	Road     Kind = "road"     // where a road of the secondary class or above is come to
	Pump     Kind = "pump"     // with petrol
	Clinic   Kind = "clinic"   // a hospital, a clinic or doctors
	Pharmacy Kind = "pharmacy" //
	Shelter  Kind = "shelter"  // a roof or a hut
	Water    Kind = "water"    // that can be drunk
)

// Kinds are all there are, in the order in which they are told of.
func Kinds() []Kind { return []Kind{Village, Road, Pump, Clinic, Pharmacy, Shelter, Water} }

// Apart is how far apart along the line the marks are.
const Apart route.Metres = 25_000

// leastRest is how far from the last mark the end of the line has one of its own: our estimate.
const leastRest route.Metres = 5000

// A Way is one from a mark of the line to the nearest of a kind: along the line to where it
// is left, and by road from there.
type Way struct {
	At     route.Metres // of the line in its file: the mark
	Mark   orb.Point
	Kind   Kind
	What   string // what it is by the map: village, secondary, hospital, alpine_hut
	To     string // its name, or what it is
	Goal   orb.Point
	Length route.Metres // all of it, what is ridden along the line to Leave too
	Leave  route.Metres // of the line in its file, before or behind the mark: where it is left
	Road   string       // name, number or class of the first road behind that; "" where there is none
	Toward string       // which way that goes: N, NE …; "" where there is none
	Marks  wayout.Marks
	Row    int // in its file, for messages
}

// A Mark is a place on the line with what is near it by road.
type Mark struct {
	At    route.Metres // along the line
	Place orb.Point
	Ways  []Way // in the order of [Kinds], At and Leave along the line; two of a kind at most, see [Mark.Perhaps]; a kind without one is not known

	Leg  int          // of a plan, on which it lies
	Trip route.Metres // on the trip meter there; below zero how far it is behind the rider
}

// Way gives the way to a kind, over open roads if one is known; nil where none is known at all.
func (m *Mark) Way(k Kind) *Way { return m.nth(k, 0) }

// Perhaps gives another to the same kind, over roads that may be shut: it is much nearer, if they are
// not; nil where none is known.
func (m *Mark) Perhaps(k Kind) *Way { return m.nth(k, 1) }

func (m *Mark) nth(k Kind, n int) *Way {
	for i := range m.Ways {
		if m.Ways[i].Kind != k {
			continue
		}
		if n == 0 {
			return &m.Ways[i]
		}
		n--
	}
	return nil
}

// Drop leaves ways out.
func (m *Mark) Drop(which func(Way) bool) { m.Ways = slices.DeleteFunc(slices.Clone(m.Ways), which) }

// Nearer puts a way in place of those of its kind, if it is shorter than each.
func (m *Mark) Nearer(w Way) {
	same := func(o Way) bool { return o.Kind == w.Kind }
	if slices.ContainsFunc(m.Ways, func(o Way) bool { return same(o) && o.Length <= w.Length }) {
		return
	}
	m.Ways = append(slices.DeleteFunc(slices.Clone(m.Ways), same), w)
	slices.SortStableFunc(m.Ways, func(a, b Way) int {
		return cmp.Compare(slices.Index(Kinds(), a.Kind), slices.Index(Kinds(), b.Kind))
	})
}

// Along gives where the marks of a line are, along the line: every [Apart] from its beginning,
// and its end where that is not close to the last.
func Along(line *route.Line) (at []route.Metres) {
	end := line.Length()
	for m := route.Metres(0); m <= end; m += Apart {
		at = append(at, m)
	}
	if end-at[len(at)-1] >= leastRest {
		at = append(at, end)
	}
	return at
}

// SilentFrom gives the mark from which on a list tells of nothing at all, where that is not only the last: it
// may be cut off.
func SilentFrom(marks []Mark) (at route.Metres, ok bool) {
	n := len(marks)
	for n > 0 && len(marks[n-1].Ways) == 0 {
		n--
	}
	if n >= len(marks)-1 {
		return 0, false
	}
	return marks[n].At, true
}

// sameMark is how far a mark of a file may lie from one of the line, which is written to the
// metre.
const sameMark route.Metres = 10

// Gather puts ways beside the marks of the line, those without a way too, in the order of the
// line, and their kilometres along it in place of those of its file. A way from anywhere else
// makes a mark of its own. Of ways from a mark to one kind the first counts, and the
// next if it may be shut and is nearer.
func Gather(line *route.Line, ways []Way) []Mark {
	var marks []Mark
	for _, at := range Along(line) {
		marks = append(marks, Mark{At: at, Place: line.At(at)})
	}
	for _, w := range ways {
		w.At, w.Leave = line.FromFile(w.At), line.FromFile(w.Leave)
		i := slices.IndexFunc(marks, func(m Mark) bool { return max(m.At-w.At, w.At-m.At) <= sameMark })
		if i < 0 {
			i = len(marks)
			marks = append(marks, Mark{At: w.At, Place: w.Mark})
		}
		first := marks[i].Way(w.Kind)
		nearer := first != nil && w.Length < first.Length && w.Marks&wayout.Doubtful != 0 && marks[i].Perhaps(w.Kind) == nil
		if first == nil || nearer {
			marks[i].Ways = append(marks[i].Ways, w)
		}
	}
	for _, m := range marks {
		slices.SortStableFunc(m.Ways, func(a, b Way) int {
			return cmp.Compare(slices.Index(Kinds(), a.Kind), slices.Index(Kinds(), b.Kind))
		})
	}
	slices.SortStableFunc(marks, func(a, b Mark) int { return cmp.Compare(a.At, b.At) })
	return marks
}

// From gives the marks that are still ahead of a place on the line, with the last one behind
// it: nobody is farther from that than from the place where he stands. at is along the
// line.
func From(marks []Mark, at route.Metres) []Mark {
	for i := len(marks) - 1; i > 0; i-- {
		if marks[i].At <= at {
			return marks[i:]
		}
	}
	return marks
}

// A Place is one that ways lead to.
type Place struct {
	Kind Kind
	What string
	Name string
	At   orb.Point
	Near []route.Metres // the marks that it is the nearest of its kind to, along the line

	Doubtful bool // all ways to it are over roads that may be shut
}

// Places gives what ways of some kinds lead to, each once, in the order of the marks: where
// those who search ask first.
func Places(marks []Mark, kinds ...Kind) (out []Place) {
	for _, m := range marks {
		for _, w := range m.Ways {
			if !slices.Contains(kinds, w.Kind) {
				continue
			}
			i := slices.IndexFunc(out, func(p Place) bool { return p.Kind == w.Kind && p.Name == w.To && p.At == w.Goal })
			if i < 0 {
				i = len(out)
				out = append(out, Place{Kind: w.Kind, What: w.What, Name: w.To, At: w.Goal, Doubtful: true})
			}
			out[i].Near = append(out[i].Near, m.At)
			out[i].Doubtful = out[i].Doubtful && w.Marks&wayout.Doubtful != 0
		}
	}
	return out
}
