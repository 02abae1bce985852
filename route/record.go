package route

import (
	"cmp"
	"encoding/json"
	"errors"
	"fmt"
	"hash/crc32"
	"slices"
	"strings"
	"time"
	"unicode/utf16"

	"lastpump/route/input"
)

// A record is what the points of a line do not tell of it: written into a file beside
// them, it makes the same line of them again. [Line.Record] writes it as the version,
// a checksum and JSON, whose names are those of the fields here.
type record struct {
	Length   Metres
	Join     Metres
	Gaps     Gaps
	Strands  []recordStrand // as many as there are segments with points in the file
	Parts    []recordPart   // as many as there are tracks with points in it
	Stretch  Stretch
	Arranged Arrangement
	LeftOut  []Part
	Reorder  *Reorder
	Strays   []Strays
	Halts    []Halt
	Suspects []Halt
	Knots    [][2]Metres // kilometre of the line in the file's order, of the file as given
	Ordered  moves
	InOrder  Metres
	Turned   moves
}

type recordStrand struct {
	Points       int
	Likely, High float64
	Low          float64 // 0 in records of before there was one: as Likely
}

type recordPart struct {
	Number    int
	Backwards bool
}

// recordVersion is the version that is written. Version 1 differs in how it writes the
// methods of a stretch: as sentences.
const recordVersion = "2"

var methodsOfVersion1 = map[Method]Method{
	"evenly spaced points, every second one left out":        EvenlySpaced,
	"evenly spaced points, from the table of recorded rides": FromTable,
	"shape-simplified line, each chord taken as an arc":      ShapeSimplified,
}

// ErrEdited says that points are not those which a record was made of.
var ErrEdited = errors.New("the line is not the one that was recorded")

// Record gives what is needed beside [Line.Tracks] to make the line again. It is one
// line of ASCII.
func (l *Line) Record() (string, error) {
	r := record{
		Length: l.length(), Join: l.join, Gaps: l.rule, Stretch: l.Stretch, Arranged: l.Arranged, LeftOut: l.LeftOut,
		Reorder: l.Reorder, Strays: l.Strays, Halts: l.Halts, Suspects: l.Suspects,
		Ordered: l.ordered, InOrder: l.inOrder, Turned: l.turned,
	}
	for _, s := range l.strands {
		r.Strands = append(r.Strands, recordStrand{s.to - s.from, s.likely, s.high, s.low})
	}
	for _, p := range l.Parts {
		r.Parts = append(r.Parts, recordPart{p.Number, p.Backwards})
	}
	for _, k := range neededMarks(l.marks) {
		r.Knots = append(r.Knots, [2]Metres{k.at, k.given})
	}
	text, err := json.Marshal(r)
	if err != nil {
		return "", err
	}
	plain := asASCII(string(text))
	return fmt.Sprintf("%s %08x %s", recordVersion, crc32.ChecksumIEEE([]byte(plain)), plain), nil
}

// neededMarks gives the marks that say anything: the ends alone where nothing was left
// out of the file.
func neededMarks(marks []mark) []mark {
	if untied(marks) {
		return []mark{marks[0], marks[len(marks)-1]}
	}
	return marks
}

// asASCII writes what is not plain ASCII in a text of JSON as escapes, white space
// too, so that whoever lays out the file anew changes nothing.
func asASCII(text string) string {
	var b strings.Builder
	for _, r := range text {
		if r > ' ' && r < 0x7f {
			b.WriteRune(r)
			continue
		}
		for _, u := range utf16.Encode([]rune{r}) {
			fmt.Fprintf(&b, `\u%04x`, u)
		}
	}
	return b.String()
}

// Tracks gives the line as it is ridden: its parts as tracks, their strands as segments,
// so that what lies between two segments may be a gap.
func (l *Line) Tracks() []Track {
	var out []Track
	last, heights := -1, l.heights
	for _, s := range l.strands {
		if s.part != last {
			last = s.part
			out = append(out, Track{Name: input.OneLine(l.Parts[len(out)].Name)})
		}
		points := make([]Point, 0, s.to-s.from)
		for i := s.from; i < s.to; i++ {
			p := Point{Point: l.pts[i]}
			if len(heights) > 0 && heights[0].Point == i {
				p.Ele, p.HasEle, heights = heights[0].Ele, true, heights[1:]
			}
			points = append(points, p)
		}
		t := &out[len(out)-1]
		t.Segments = append(t.Segments, points)
	}
	return out
}

// InFileOrder tells whether the line is all of its file, in the file's order and
// direction.
func (l *Line) InFileOrder() bool { return l.ordered == nil && l.turned == nil }

// Recorded makes the line again that [Line.Record] and [Line.Tracks] tell of. Nothing
// is cleaned, estimated or arranged anew: of the options only a stretch counts, for all
// that is no gap, and a rule for gaps; without one it is as recorded. The error is
// [ErrEdited] where the points are others than those recorded, else an [*input.Error]
// without a file: the record is damaged, or of another version.
func Recorded(text string, tracks []Track, opt LineOptions) (*Line, error) {
	r, err := readRecord(text)
	if err != nil {
		return nil, err
	}
	return r.line(tracks, opt)
}

func readRecord(text string) (*record, error) {
	version, rest, _ := strings.Cut(text, " ")
	sum, plain, _ := strings.Cut(rest, " ")
	if version != recordVersion && version != "1" && sum != "" {
		return nil, damagedRecord(fmt.Sprintf("is of version %.20q; known are 1 and %s", version, recordVersion))
	}
	if sum != fmt.Sprintf("%08x", crc32.ChecksumIEEE([]byte(plain))) {
		return nil, damagedRecord("is damaged: its checksum does not fit")
	}
	return decodeRecord(plain)
}

func decodeRecord(plain string) (*record, error) {
	d := json.NewDecoder(strings.NewReader(plain))
	d.DisallowUnknownFields()
	r := new(record)
	if err := d.Decode(r); err != nil {
		return nil, damagedRecord("is damaged: " + err.Error())
	}
	r.addLow()
	for i, e := range r.Stretch.From {
		if m, old := methodsOfVersion1[e.Method]; old {
			r.Stretch.From[i].Method = m
		}
	}
	if what := r.fault(); what != "" {
		return nil, damagedRecord("is damaged: " + what)
	}
	return r, nil
}

// addLow gives a record of before there was a low figure the likely ones in its place.
func (r *record) addLow() {
	r.Stretch.Low = cmp.Or(r.Stretch.Low, r.Stretch.Factor)
	for i, e := range r.Stretch.From {
		r.Stretch.From[i].Low = cmp.Or(e.Low, e.Factor)
	}
	for i, s := range r.Strands {
		r.Strands[i].Low = cmp.Or(s.Low, s.Likely)
	}
}

func damagedRecord(what string) error {
	return &input.Error{What: "what a plan has recorded of the line " + what,
		Hint: "plan the file that this one was made from; " +
			"or delete the <extensions> that hold it, and it is read like any other"}
}

// line makes the line of tracks.
func (r *record) line(tracks []Track, opt LineOptions) (*Line, error) {
	b := &builder{line: &Line{}, numbers: map[int]int{}, median: r.Join / 2}
	for _, t := range tracks {
		b.addTrack(t)
	}
	if !r.fits(b) {
		return nil, ErrEdited
	}
	l := b.line
	for k := range b.strands {
		s := &b.strands[k]
		o := r.Strands[k]
		s.low, s.likely, s.high, s.turned = o.Low, o.Likely, o.High, r.Parts[s.part].Backwards
	}
	for i, p := range r.Parts {
		b.numbers[i] = p.Number
	}
	b.nameParts()
	l.Stretch, l.Arranged, l.LeftOut, l.Reorder = r.Stretch, r.Arranged, r.LeftOut, r.Reorder
	l.Strays, l.Halts, l.Suspects = r.Strays, r.Halts, r.Suspects
	l.ordered, l.inOrder, l.turned = r.Ordered, r.InOrder, r.Turned
	for i := range l.Strays {
		l.Strays[i].Doubted = l.Strays[i].Doubted && opt.Strays != StraysRide
	}
	for _, k := range r.Knots {
		l.marks = append(l.marks, mark{k[0], k[1]})
	}
	if opt.Stretch > 0 {
		b.giveStretch(opt.Stretch)
	}
	return b.finish(cmp.Or(opt.Gaps, r.Gaps))
}

// addTrack adds a track as it is; one without points is not counted.
func (b *builder) addTrack(t Track) {
	part := len(b.names)
	for _, s := range t.Segments {
		if len(s) == 0 {
			continue
		}
		if part == len(b.names) {
			b.names = append(b.names, t.Name)
		}
		b.addPoints(part, s, appendSteps(nil, s))
	}
}

// fits tells whether the points are those that were recorded. A program that rounds
// their positions does not change a line by as much as is let pass here.
func (r *record) fits(b *builder) bool {
	within := 1 + r.Length/100_000
	off := b.line.length() - r.Length
	return len(b.names) == len(r.Parts) && max(off, -off) <= within && b.line.length() > 0 &&
		slices.EqualFunc(b.strands, r.Strands, func(s strand, o recordStrand) bool { return s.to-s.from == o.Points })
}

// longest is more of line than any file holds, most a larger stretch than any estimate.
const (
	longest = 1e15 // metres
	most    = 1e12
)

func length(m Metres) bool { return m >= 0 && m <= longest }
func factor(low, likely, high float64) bool {
	return low >= 0.1 && low <= likely && likely <= high && high <= most
}

// fault says what is wrong with a record; "" for nothing. That its numbers are finite,
// JSON has seen to.
func (r *record) fault() string {
	switch {
	case !length(r.Length) || !length(r.Join) || !length(r.InOrder) || r.Join < joinWithin:
		return "a length out of range"
	case r.Gaps != "" && r.Gaps != GapsRide && r.Gaps != GapsSkip:
		return "no rule for gaps"
	case slices.ContainsFunc(r.Strands, recordStrand.outOfRange):
		return "a segment out of range"
	case slices.ContainsFunc(r.Parts, func(p recordPart) bool { return p.Number < 1 }) ||
		slices.ContainsFunc(r.LeftOut, func(p Part) bool { return p.Number < 1 }):
		return "a part without a number"
	case !r.stretchIsSound():
		return "a stretch out of range"
	case !r.arrangementIsSound():
		return "an arrangement that is none"
	case !r.findsAreSound():
		return "a stray or a halt out of range"
	case !r.marksAreSound() || !movesAreSound(r.Ordered) || !movesAreSound(r.Turned):
		return "kilometres out of order"
	}
	return ""
}

func (s recordStrand) outOfRange() bool { return s.Points < 1 || !factor(s.Low, s.Likely, s.High) }

func (r *record) stretchIsSound() bool {
	methods := []Method{EvenlySpaced, FromTable, ShapeSimplified}
	outOfRange := func(e Estimate) bool {
		return !slices.Contains(methods, e.Method) || !factor(e.Low, e.Factor, e.High) ||
			!(e.Error >= 0 && e.Error < most) || !length(e.Step) || !length(e.Length)
	}
	return factor(r.Stretch.Low, r.Stretch.Factor, r.Stretch.High) &&
		!slices.ContainsFunc(r.Stretch.From, outOfRange)
}

func (r *record) arrangementIsSound() bool {
	a := r.Arranged
	sound := slices.Contains([]Order{"", OrderFile, OrderNearest}, a.Order) && length(a.BeginAt) &&
		!slices.ContainsFunc(a.SkipParts, func(n int) bool { return n < 1 })
	if o := r.Reorder; o != nil {
		sound = sound && length(o.Gaps) && length(o.FileGaps) &&
			!slices.ContainsFunc(o.Parts, func(p PartRef) bool { return p.Number < 1 })
	}
	return sound
}

func (r *record) findsAreSound() bool {
	return !slices.ContainsFunc(r.Strays, func(s Strays) bool {
		return s.Points < 1 || !length(s.Away) || !length(s.From) || !length(s.To) || s.To < s.From
	}) &&
		!slices.ContainsFunc(slices.Concat(r.Halts, r.Suspects), func(h Halt) bool {
			return h.Points < 1 || !length(h.At) || !length(h.Taken) || h.For < 0 || h.For > (1<<32)*time.Second
		})
}

func (r *record) marksAreSound() bool {
	last := [2]Metres{}
	for _, k := range r.Knots {
		if k[0] < last[0] || k[1] < last[1] || !length(k[0]) || !length(k[1]) {
			return false
		}
		last = k
	}
	return len(r.Knots) > 0
}

func movesAreSound(ls moves) bool {
	last := Metres(0)
	for _, k := range ls {
		if k.File.From < 0 || k.File.From > k.File.To || !length(k.File.To) ||
			k.Line.From < last || k.Line.From > k.Line.To || !length(k.Line.To) {
			return false
		}
		last = k.Line.To
	}
	return true
}
