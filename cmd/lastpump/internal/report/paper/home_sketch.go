package paper

import (
	"math"
	"slices"
	"strconv"
	"strings"

	"lastpump/fuel/plan"

	"github.com/paulmach/orb"
)

// A homeSketch is the way as a small map, north up, in points from its upper left corner.
type homeSketch struct {
	Wide, High float64
	Under      []landLine   // what lies under it
	Towns      []sketchMark // likewise
	Lines      []sketchLine
	Marks      []sketchMark
	Names      []sketchName
	Caption    string
	Told       string // what lies under it, and whose map that is; "" where nothing does
}

// A sketchLine is a bit of the way, or of the scale.
type sketchLine struct {
	Points []orb.Point
	Bold   bool // of a leg that is doubtful
	Gap    bool // nothing is known of the way between its two ends
}

// A sketchMark is a place: a pump is a dot, the end of a part an open one.
type sketchMark struct {
	At     orb.Point
	Radius float64
	Open   bool
}

// A sketchName stands with the left end of its base at a place.
type sketchName struct {
	At   orb.Point
	Text string
}

const (
	sketchWide  = 205.0
	sketchHigh  = 130.0
	sketchEdge  = 15.0 // around the way, for numbers
	sketchFoot  = 14.0 // for the scale
	sketchFine  = 500
	sketchSize  = 9.0 // of its letters
	sketchDot   = 2.2
	letterWidth = 0.56 // of its digits over their size, and a little more
)

// A sketcher draws one.
type sketcher struct {
	home
	homeSketch
	place func(orb.Point) orb.Point // from degrees
	taken []orb.Bound
}

// sketch draws the way with the numbers of its legs at the pumps where they end.
func (h home) sketch() *homeSketch {
	s := sketcher{home: h}
	s.Caption = "Numbers: the pump at the end of that leg; rings: where a part ends; heavy: doubtful legs."
	s.way()
	towns := s.under()
	s.marks()
	s.towns(towns)
	return &s.homeSketch
}

// way fits the line into the sketch and draws it, with a scale under it.
func (s *sketcher) way() {
	drawn := plan.Sketch(s.say.Plan, sketchFine)
	b := drawn.Bound
	east, north := max(b.Max[0]-b.Min[0], 1), max(b.Max[1]-b.Min[1], 1)
	scale := min((sketchWide-2*sketchEdge)/east, (sketchHigh-sketchFoot-2*sketchEdge)/north)
	s.Wide, s.High = sketchWide, math.Ceil(scale*north+2*sketchEdge+sketchFoot)
	dot := func(p orb.Point) orb.Point {
		return orb.Point{s.Wide/2 + scale*(p[0]-(b.Min[0]+b.Max[0])/2), sketchEdge + scale*(b.Max[1]-p[1])}
	}
	s.place = func(p orb.Point) orb.Point { return dot(drawn.Place(p)) }
	for _, k := range drawn.Strokes {
		line := sketchLine{Gap: k.Gap, Bold: slices.Contains(s.doubtful, k.Leg)}
		for _, p := range k.Points {
			line.Points = append(line.Points, dot(p))
		}
		s.Lines = append(s.Lines, line)
	}
	s.scale(scale)
}

// scale draws a bar of a round length, and says that north is up.
func (s *sketcher) scale(scale float64) {
	unit := scale * 1000
	if s.say.Units.Miles() {
		unit = scale * 1609.344
	}
	long := 1.0
	for _, n := range []float64{2, 5, 10, 20, 50, 100, 200, 500, 1000} {
		if n*unit <= s.Wide/3 {
			long = n
		}
	}
	y := s.High - 6
	s.Lines = append(s.Lines, sketchLine{Points: []orb.Point{{2, y}, {2 + long*unit, y}}})
	s.Names = append(s.Names, sketchName{orb.Point{6 + long*unit, y + 3},
		strconv.FormatFloat(long, 'f', -1, 64) + " " + s.say.Units.DistanceUnit() + ", north is up"})
}

// marks sets the pumps that are filled at, and where parts end.
func (s *sketcher) marks() {
	p := s.say.Plan
	numbers := map[int][]string{} // of the legs that end at a stop
	var order []int
	for i, l := range p.Legs {
		if l.ToVisit < 0 {
			continue
		}
		stop := p.Visits[l.ToVisit].Number
		if numbers[stop] == nil {
			order = append(order, stop)
		}
		numbers[stop] = append(numbers[stop], strconv.Itoa(i+1))
	}
	at := s.place(p.Cues[0].Point)
	s.dot(at, true)
	for _, part := range p.Line.Parts {
		if len(p.Line.Parts) > 1 && (p.Here == nil || part.To > p.Here.At) {
			s.Marks = append(s.Marks, sketchMark{s.place(p.Line.At(part.To)), sketchDot + 1, true})
		}
	}
	for _, stop := range order {
		s.dot(s.place(p.Stops[stop].At), false)
	}
	s.name(at, "S")
	for _, stop := range order {
		s.name(s.place(p.Stops[stop].At), strings.Join(numbers[stop], ","))
	}
}

// dot sets a pump, or where the ride sets out.
func (s *sketcher) dot(at orb.Point, start bool) {
	s.Marks = append(s.Marks, sketchMark{at, sketchDot, false})
	r := sketchDot
	if start {
		r *= 1.5
	}
	s.taken = append(s.taken, orb.Bound{Min: orb.Point{at[0] - r, at[1] - r}, Max: orb.Point{at[0] + r, at[1] + r}})
}

// name sets a number beside a dot where it lies on nothing else, or at the least on no other
// number and no dot; where there is no room for that it is left out, for the table has it.
func (s *sketcher) name(at orb.Point, text string) {
	for _, clear := range []func(orb.Bound) bool{s.onPaper, s.onNothing} {
		if box, ok := s.room(at, letterWidth*sketchSize*float64(len(text)), clear); ok {
			s.taken = append(s.taken, box)
			s.Names = append(s.Names, sketchName{orb.Point{box.Min[0], box.Min[1] + ascent*sketchSize}, text})
			return
		}
	}
}

// room finds a box beside a dot, the nearest first, to the right before all.
func (s *sketcher) room(at orb.Point, wide float64, clear func(orb.Bound) bool) (box orb.Bound, ok bool) {
	const high = leading * sketchSize
	for _, far := range []float64{4.5, 9, 14} {
		for _, side := range [][2]float64{{1, 0}, {-1, 0}, {0, -1}, {0, 1}, {1, -1}, {-1, -1}, {1, 1}, {-1, 1}} {
			// The letters fill the middle of their line.
			x, y := at[0]+side[0]*(far+wide/2)-wide/2, at[1]+side[1]*(far+0.35*sketchSize)-high/2
			box = orb.Bound{Min: orb.Point{x, y}, Max: orb.Point{x + wide, y + high}}
			if clear(box) {
				return box, true
			}
		}
	}
	return box, false
}

// onNothing tells whether a box is in the sketch and on no number and no dot.
func (s *sketcher) onNothing(box orb.Bound) bool {
	return box.Min[0] >= 0 && box.Min[1] >= 0 && box.Max[0] <= s.Wide && box.Max[1] <= s.High-sketchFoot &&
		!slices.ContainsFunc(s.taken, box.Intersects)
}

// onPaper tells whether a box is on nothing at all, the way included.
func (s *sketcher) onPaper(box orb.Bound) bool {
	const step = 2.0
	if !s.onNothing(box) {
		return false
	}
	for _, l := range s.Lines {
		for i, to := range l.Points[1:] {
			from := l.Points[i]
			n := math.Ceil(math.Hypot(to[0]-from[0], to[1]-from[1]) / step)
			for k := 0.0; k <= n; k++ {
				if f := k / max(n, 1); box.Contains(orb.Point{from[0] + f*(to[0]-from[0]), from[1] + f*(to[1]-from[1])}) {
					return false
				}
			}
		}
	}
	return true
}

// X and Y are where a mark and a name stand, as SVG wants it.
func (m sketchMark) X() string { return num(m.At[0]) }
func (m sketchMark) Y() string { return num(m.At[1]) }
func (n sketchName) X() string { return num(n.At[0]) }
func (n sketchName) Y() string { return num(n.At[1]) }

func num(x float64) string { return strconv.FormatFloat(x, 'f', 1, 64) }

// Path writes a line as SVG does.
func (l sketchLine) Path() string {
	var b strings.Builder
	for i, p := range l.Points {
		b.WriteByte("ML"[min(i, 1)])
		b.WriteString(num(p[0]) + " " + num(p[1]))
	}
	return b.String()
}
