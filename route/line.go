package route

import (
	"cmp"
	"slices"
	"time"

	"lastpump/route/input"
	"lastpump/route/internal/climb"
	"lastpump/route/internal/earth"
	"lastpump/route/internal/near"

	"github.com/paulmach/orb"
)

// A Track is what a file calls a track: segments of points under one name,
// often one day of a loop. A segment ends where reception was lost or the
// recorder was switched off.
type Track struct {
	Name     string // may be empty
	Segments [][]Point
}

// Gaps says what to do with the gaps of a line.
type Gaps string

// The rules for gaps. The zero value rides them, and refuses one of over
// [maxGap], which is more likely a missing file than a ride.
const (
	GapsRide Gaps = "ride" // 1.3 times the straight distance
	GapsSkip Gaps = "skip" // costs nothing: a ferry, a lift
)

// StraysRule says what to do with runs of up to five points that leap over 5 km away and back.
type StraysRule string

// The rules for strays. The zero value rides what may have been ridden: all but what asks
// for over 250 km/h, or lies over 50 km away without times. Stops that only a leap of a
// recording reaches are not passed then.
const (
	StraysRide StraysRule = "ride" // all that the times allow, the stops on it as well
	StraysDrop StraysRule = "drop" // all left out
)

// LineOptions say how a line is made of a file's tracks.
type LineOptions struct {
	Stretch float64 // how much longer the ride is than the line; 0 estimates it
	Gaps    Gaps
	Strays  StraysRule
	Arrangement
}

// A Part is a track of the file as a stretch of the line. One in whose middle the
// loop begins comes twice.
type Part struct {
	Name      string
	From, To  Metres // along the line
	Number    int    // in the file, from 1; tracks without points are not counted
	Backwards bool   // ridden against the order of the file
}

// A Gap is a hole in the line: nothing is known of the way between its ends.
type Gap struct {
	At       Metres // along the line, where it begins
	Straight Metres // between its ends
	Ridden   bool   // false where it costs nothing
}

// Strays is a run of points that leapt away and back.
type Strays struct {
	Track   string // its name
	Points  int    // 1 to 5
	Away    Metres // how far the first of them leapt
	Ridden  bool   // false where it was left out
	Doubted bool   // no stop is passed on it
	From    Metres // along the line: where it leaves; the same as To where it was left out
	To      Metres
	Far     orb.Point // the farthest of the points; 0, 0 in records of before it was kept

	points []int // of the line: the one before, the leap's own where they are ridden, the one behind
	part   int   // into the file's tracks
}

// A Halt is a place where the recorder ran on while the bike stood, and drew a
// cloud of points that nobody rode.
type Halt struct {
	At     Metres // along the line
	Points int    // of the cloud; one of them is left
	Taken  Metres // how much shorter the line is without it
	For    time.Duration

	point, part int // of the line, and into the file's tracks
}

// A Line is a way on the ground with the distance along it. Positions along it
// are in metres of the file's own line: gaps count at their straight length,
// ridden or not, so that a kilometre stays where it is.
//
// It is made once by [NewLine] and never changes.
type Line struct {
	pts     []orb.Point
	at      []Metres       // along the line, at each point
	heights []climb.Height // of the points that have one, in order
	pieces  []piece        // in order, without holes, from 0 to the end
	climb   climb.Climb
	index   *near.Index
	// What the file's kilometres have become: of the file as given, of the line in
	// the file's order, of that with its parts left out and put in order, of this
	// line. Nil moves leave them as they are.
	marks           []mark
	ordered, turned moves
	inOrder         Metres // length of the line before it was turned
	strands         []strand
	join            Metres // how far apart strands may lie and still be one way
	rule            Gaps   // as given

	Parts    []Part
	Gaps     []Gap
	Strays   []Strays
	Halts    []Halt
	Suspects []Halt // what may be halts, but is not taken out
	Stretch  Stretch
	Closed   bool // the ends lie within 500 m of each other
	Arranged Arrangement
	LeftOut  []Part     // the parts that are left out, by name and number alone
	Reorder  *Reorder   // a much better order of the parts, taken or offered; nil if there is none
	Doubles  []Doubling // parts that look like another way for the same stretch
}

// A piece is a stretch of line with one rule for the distance ridden on it.
type piece struct {
	from, to Metres
	factor   float64 // ridden ÷ line
	low      float64 // the same for the low figure
	high     float64 // and for the high one
	gap      bool
	skipped  bool // a gap that is not ridden: not part of the way at all
}

const (
	joinWithin   Metres = 50     // between segments: reception lost for a moment
	gapBeyond    Metres = 1000   // a step inside a segment that is recorded or thinned evenly,
	gapFine      Metres = 500    // with no more than that from point to point on the mean
	gapDrawn     Metres = 50000  // the same where long straights are real
	recordedFine Metres = 100    // median step of a recording: a leap in it may well be an error
	maxGap       Metres = 100000 // refused unless the rider says what it is
	closedWithin Metres = 500
)

// GapDetour is ridden ÷ straight in a gap: our estimate.
const GapDetour = 1.3

// NewLine joins tracks into one line, in the order given unless the options
// arrange them otherwise. The error is an [*input.Error] without a file where there
// are fewer than two places, where a gap is over 100 km and no rule for gaps was
// given, where the line is drawn too coarsely for its stretch to be estimated, or
// where it cannot be arranged as asked.
func NewLine(tracks []Track, opt LineOptions) (*Line, error) {
	b := newBuilder(tracks, opt.Strays)
	b.cutGaps()
	if err := b.skipParts(opt.SkipParts); err != nil {
		return nil, err
	}
	if b.line.length() == 0 {
		return nil, noLength(len(b.line.pts))
	}
	if err := b.estimateStretch(opt.Stretch); err != nil {
		return nil, err
	}
	if err := b.arrange(opt.Arrangement); err != nil {
		return nil, err
	}
	if b.line.length() == 0 { // without the parts left out
		return nil, noLength(len(b.line.pts))
	}
	return b.finish(opt.Gaps)
}

// finish finds the gaps and makes what is looked up on a line.
func (b *builder) finish(rule Gaps) (*Line, error) {
	l := b.line
	b.findGaps(rule)
	b.layPieces()
	l.strands, l.join, l.rule = b.strands, b.join(), rule
	l.Closed = Distance(l.pts[0], l.pts[len(l.pts)-1]) <= closedWithin
	l.heights = b.heights
	l.climb = climb.New(l.heights, l.at, b.skipped)
	l.index = near.New(l.pts, l.at, l.unknownSpans())
	l.findDoubles(l.join)
	if err := l.refuseLongGaps(rule); err != nil {
		return nil, err
	}
	return l, nil
}

// gapSpans gives where the gaps lie along the line.
func (l *Line) gapSpans() (gaps []earth.Span) {
	for _, p := range l.pieces {
		if p.gap {
			gaps = append(gaps, earth.Span{From: p.from, To: p.to})
		}
	}
	return gaps
}

// unknownSpans gives where the line passes no stop, in order: its gaps, and leaps that may
// be errors of the recorder.
func (l *Line) unknownSpans() []earth.Span {
	spans := l.gapSpans()
	for _, s := range l.Strays {
		if s.Doubted && s.From < s.To {
			spans = append(spans, earth.Span{From: s.From, To: s.To})
		}
	}
	slices.SortFunc(spans, func(a, b earth.Span) int { return cmp.Compare(a.From, b.From) })
	return spans
}

func noLength(points int) error {
	what := "the line has no length: all its points are at one place"
	switch points {
	case 0:
		what = "no track and no route with points in it"
	case 1:
		what = "one point is no line"
	}
	return &input.Error{What: what, Hint: "give a GPX file with the loop as a track (trk) or a route (rte)"}
}

// Length is the length of the line in the file, gaps at their straight length.
func (l *Line) Length() Metres { return l.length() }

func (l *Line) length() Metres {
	if len(l.at) == 0 {
		return 0
	}
	return l.at[len(l.at)-1]
}

// Points is the number of points of the line, strays left out.
func (l *Line) Points() int { return len(l.pts) }

// At gives the place at a position along the line, from 0 to its length;
// positions beyond its ends give the ends.
func (l *Line) At(m Metres) orb.Point {
	i := earth.StepAt(l.at, m)
	d := l.at[i+1] - l.at[i]
	if d <= 0 {
		return l.pts[i]
	}
	return Between(l.pts[i], l.pts[i+1], float64(min(max(m-l.at[i], 0), d)/d))
}
