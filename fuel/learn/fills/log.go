package fills

import (
	"cmp"
	"math"
	"slices"
	"time"

	"lastpump/fuel"
	"lastpump/route"
	"lastpump/route/input"
)

// A Log is a file of fills, in the order in which they happened.
type Log struct {
	File     string
	Odometer bool     // its distances go on from fill to fill, else they are trips
	Miles    bool     // as it is written
	Volume   string   // the column of amounts: litres, gal_us or gal_uk
	Rows     []Row    // without those of service and repeats
	Notes    []string // what the table of the file says, see [input.Table.Notes]
	Remarks  []Remark // what was made of it
}

// A Row is one line of it.
type Row struct {
	Line        int // in the file
	Date        time.Time
	Distance    route.Metres // as the bike shows it, trip or odometer; meaningless unless HasDistance
	HasDistance bool
	Litres      fuel.Litres // meaningless unless HasLitres
	HasLitres   bool
	Event       Event
	Grade       string // as it is written
	From, To    route.Metres
	HasSpan     bool                           // the tank was ridden from From to To, along the line
	Shown       [fuel.WeightCount]route.Metres // ridden on each ground, as the bike shows it
	HasGrounds  bool
	Note        string

	said bool // what event it is
}

// A Remark is something that a reader of a log should know.
type Remark struct {
	Kind  RemarkKind
	Line  int     // of the row it is about; 0 where it is about all
	Other int     // of the row that it repeats
	Lines []int   // of all rows it is about
	Ratio float64 // see the kind
}

// RemarkKind says what a remark tells.
type RemarkKind string

// The kinds.
const (
	Sorted         RemarkKind = "sorted"           // the rows were not in the order of their dates
	Reversed       RemarkKind = "newest-first"     // the last row stood first
	Repeated       RemarkKind = "repeated"         // a row says what another one says: left out
	OfService      RemarkKind = "service"          // rows that have nothing to do with fuel: left out
	TakenForMissed RemarkKind = "taken-for-missed" // a row without litres and event: perhaps a fill
	OneRowOff      RemarkKind = "one-row-off"      // distances seem to: the scatter would be Ratio of what it is
	NotZeroed      RemarkKind = "trip-not-zeroed"  // the trip grows from tank to tank
	BeforeBrim     RemarkKind = "before-a-brim"    // rows before the first full tank tell nothing
	SpansNotUsed   RemarkKind = "spans-not-used"   // spans of a line, and no line is given
	SpanOff        RemarkKind = "span-off"         // the trip is Ratio times the span, over 10 % off
	GroundOff      RemarkKind = "ground-off"       // over 25 % off, or of columns over 10 %: without ground
	LearntBefore   RemarkKind = "learnt-before"    // rows that were learnt from before: left out
	NotThere       RemarkKind = "last-not-there"   // rows of days before that of the row learnt last, which is not there: left out
	NoMark         RemarkKind = "no-mark"          // rows of lamp or tap, and the bike has none
)

// RemarkKinds gives all of them.
func RemarkKinds() []RemarkKind {
	return []RemarkKind{Sorted, Reversed, Repeated, OfService, TakenForMissed, OneRowOff, NotZeroed, BeforeBrim, SpansNotUsed, SpanOff,
		GroundOff, LearntBefore, NotThere, NoMark}
}

func (l *Log) remark(kind RemarkKind, lines ...int) {
	r := Remark{Kind: kind, Lines: lines}
	if len(lines) == 1 {
		r.Line = lines[0]
	}
	l.Remarks = append(l.Remarks, r)
}

// arrange puts the rows into the order in which they happened, and leaves repeats out.
func (l *Log) arrange() {
	byDate := func(a, b Row) int { return a.Date.Compare(b.Date) }
	switch {
	case slices.IsSortedFunc(l.Rows, byDate):
	case slices.IsSortedFunc(l.Rows, func(a, b Row) int { return byDate(b, a) }):
		slices.Reverse(l.Rows)
		l.remark(Reversed)
	default:
		before := slices.Clone(l.Rows)
		slices.SortStableFunc(l.Rows, func(a, b Row) int {
			if l.Odometer && a.HasDistance && b.HasDistance {
				return cmp.Or(byDate(a, b), cmp.Compare(a.Distance, b.Distance))
			}
			return byDate(a, b)
		})
		l.remark(Sorted, moved(before, l.Rows)...)
	}
	l.dropRepeats()
}

// moved gives the lines of the rows that stand before one of an earlier date.
func moved(before, after []Row) (lines []int) {
	latest := time.Time{}
	for _, r := range before {
		if r.Date.Before(latest) {
			lines = append(lines, r.Line)
		} else {
			latest = r.Date
		}
	}
	return lines
}

// dropRepeats leaves out rows that say all that another one says; those without a figure
// may well be two of a kind.
func (l *Log) dropRepeats() {
	seen := map[Row]int{}
	l.Rows = slices.DeleteFunc(l.Rows, func(r Row) bool {
		line := r.Line
		r.Line = 0
		first, again := seen[r]
		if again && r.HasDistance && r.HasLitres {
			l.Remarks = append(l.Remarks, Remark{Kind: Repeated, Line: line, Other: first})
			return true
		}
		seen[r] = line
		return false
	})
}

// withoutLitres says what rows are that have no litres and do not say what they tell of: a
// full tank at the beginning; else where there is a distance perhaps a fill, of which not
// all is known, and where there is none nothing to do with fuel. It gives the lines of
// those, which are left out.
func (l *Log) withoutLitres() (lines []int) {
	first := true
	l.Rows = slices.DeleteFunc(l.Rows, func(r Row) bool {
		drop := !first && !r.said && !r.HasLitres && !r.HasDistance
		if first = false; drop {
			lines = append(lines, r.Line)
		}
		return drop
	})
	for i := range l.Rows {
		if r := &l.Rows[i]; i > 0 && !r.said && !r.HasLitres {
			r.Event = Missed
			l.remark(TakenForMissed, r.Line)
		}
	}
	return lines
}

// check finds rows that cannot have followed each other.
func (l *Log) check() (faults []error) {
	var last *Row // with a distance
	for i := range l.Rows {
		r := &l.Rows[i]
		if last != nil && r.HasDistance {
			if what, hint := l.goesBack(*last, *r); what != "" {
				faults = append(faults, l.fault(*r, what, hint))
			}
		}
		if r.HasDistance || r.Event.fills() && !l.Odometer {
			last = r
		}
	}
	return faults
}

func (l *Log) fault(r Row, what, hint string) error {
	return &input.Error{File: l.File, Line: r.Line, Col: 1, What: what, Hint: hint}
}

// offBy is the least scatter by which a shifted log is told, and how many tanks it takes.
const (
	shiftedScatter = 0.75
	shiftedTanks   = 10
)

// seemsShifted tells whether litres fit the distances of the row before or behind better
// than those of their own, and what the scatter then is of what it is: whole logs are
// written one row off.
func (l *Log) seemsShifted() (ratio float64, ok bool) {
	var d, v []float64
	for i, r := range l.Rows {
		far := r.Distance
		if l.Odometer && i > 0 {
			far -= l.Rows[i-1].Distance
		}
		if r.Event != Full || !r.HasLitres || !r.HasDistance || !(far > 0) || l.Odometer && i == 0 {
			continue
		}
		d, v = append(d, math.Log(float64(far))), append(v, math.Log(float64(r.Litres)))
	}
	n := len(d)
	if n < shiftedTanks {
		return 0, false
	}
	is := scatter(v, d)
	shifted := min(scatter(v[1:], d[:n-1]), scatter(v[:n-1], d[1:]))
	return shifted / is, is > 0 && shifted < shiftedScatter*is
}

// growingTanks are how many trips that each are longer than the one before are not by chance: one log in
// 720 has six in a row so.
const growingTanks = 6

// seemsNotZeroed tells whether the trip was never zeroed: what is called a trip grows from tank to
// tank, as an odometer does.
func (l *Log) seemsNotZeroed() bool {
	n, last := 0, route.Metres(0)
	for _, r := range l.Rows {
		if l.Odometer || r.HasDistance && !(r.Distance > last) {
			return false
		}
		if r.HasDistance {
			n, last = n+1, r.Distance
		}
	}
	return n >= growingTanks
}

// scatter is the standard deviation of the difference of two rows of numbers.
func scatter(a, b []float64) float64 {
	var sum, squares float64
	for i := range a {
		x := a[i] - b[i]
		sum, squares = sum+x, squares+x*x
	}
	n := float64(len(a))
	return math.Sqrt(max(0, squares/n-sum/n*sum/n))
}
