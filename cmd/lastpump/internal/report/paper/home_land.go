package paper

import (
	"strings"

	"lastpump/cmd/lastpump/internal/words/landed"
	"lastpump/route/land"

	"github.com/paulmach/orb"
)

// How a land is drawn on paper, in black alone: what it is tells the pattern.
const (
	roadThick  = 0.35
	waterThick = 0.4
	hatchThick = 0.25
	hatchApart = 2.6
	townHalf   = 1.5 // of its square's side
)

// The patterns of strokes: dash, gap and so on, in points.
var (
	riverDash = []float64{5, 1.2, 0.8, 1.2}
	shoreDash = []float64{0.8, 1.2}
)

// A landLine is a bit of a land on a sketch, with how HTML calls it.
type landLine struct {
	Class  string // main, river, shore, edge or hatch
	Points []orb.Point
}

// Path writes it as SVG does.
func (l landLine) Path() string { return sketchLine{Points: l.Points}.Path() }

// stroke gives it as a line on paper, moved to the right.
func (l landLine) stroke(left float64) line {
	out := line{points: make([]orb.Point, len(l.Points)), width: waterThick}
	for i, p := range l.Points {
		out.points[i] = orb.Point{left + p[0], p[1]}
	}
	switch l.Class {
	case "main":
		out.width = roadThick
	case "hatch":
		out.width = hatchThick
	case "river":
		out.dash = riverDash
	case "shore":
		out.dash = shoreDash
	}
	return out
}

// landLines gives what a view shows, the lowest first.
func landLines(v land.View) (out []landLine) {
	add := func(class string, lines ...orb.LineString) {
		for _, l := range lines {
			out = append(out, landLine{class, l})
		}
	}
	for _, w := range v.Lakes {
		add("hatch", land.Hatch(w.Fill, hatchApart)...)
		add("edge", w.Edge...)
	}
	add("shore", v.Shores...)
	for _, r := range v.Rivers {
		add("river", r.Points)
	}
	for _, r := range v.Roads {
		add("main", r.Points)
	}
	return out
}

// under draws the land, and gives its towns.
func (s *sketcher) under() []land.Spot {
	const room, towns = 22.0, 16
	bound := orb.Bound{Max: orb.Point{s.Wide, s.High - sketchFoot}}
	v := s.say.Plan.Land.Drawn(land.Frame{Place: s.place, Bound: bound, Fine: 0.4, Least: 5,
		Ink: s.Wide * s.High / room, Towns: towns})
	if v.Empty() {
		return nil
	}
	s.Under, s.Told = landLines(v), landed.HomeKey(s.say.Plan.Land)
	return v.Towns
}

// towns sets towns where mark and name have room; the numbers of pumps come first.
func (s *sketcher) towns(all []land.Spot) {
	for _, t := range all {
		name := s.say.Name(t.Name)
		mark := orb.Bound{Min: t.At, Max: t.At}.Pad(townHalf + 0.5)
		if name == "" || strings.ContainsRune(name, substitute) || !s.onPaper(mark) {
			continue
		}
		box, ok := s.room(t.At, letterWidth*sketchSize*float64(len([]rune(name))), s.onPaper)
		if !ok || box.Max[0]-t.At[0] > 90 || t.At[0]-box.Min[0] > 90 {
			continue
		}
		s.taken = append(s.taken, mark, box)
		s.Towns = append(s.Towns, sketchMark{t.At, townHalf, true})
		s.Names = append(s.Names, sketchName{orb.Point{box.Min[0], box.Min[1] + ascent*sketchSize}, name})
	}
}

// Square writes a town's square as SVG does.
func (m sketchMark) Square() string { return sketchLine{Points: m.frame(0).points}.Path() }

// frame gives the sides of a town's square, moved to the right.
func (m sketchMark) frame(left float64) line {
	x, y, r := left+m.At[0], m.At[1], m.Radius
	return line{points: []orb.Point{{x - r, y - r}, {x + r, y - r}, {x + r, y + r}, {x - r, y + r}, {x - r, y - r}}, width: 0.6}
}
