package report

import (
	"fmt"
	"math"

	"lastpump/fuel/plan"
	"lastpump/route"

	"github.com/paulmach/orb"
)

// A routeSketch is the line as a small map: north up, with a scale.
type routeSketch struct {
	drawing
	Class      string
	Wide, High float64
	Unnamed    []string // stops whose names find no room
}

var sketchForms = []form{
	{class: "narrow", wide: 340, letter: 12.5},
	{class: "side", wide: 392, letter: 13},
	{class: "large", wide: 620, letter: 13},
}

// A sketcher draws a sketch.
type sketcher struct {
	*texter
	routeSketch
	form
	scale  float64 // dots a metre
	dx, dy float64
	foot   float64 // where the map ends and its scale begins
	names  *placer
}

const (
	sketchEdge = 26 // dots around the line
	sketchFoot = 40 // for the scale and the arrow
)

// sketch draws the plan's line in a form.
func (t *texter) sketch(f form) routeSketch {
	s := &sketcher{texter: t, form: f}
	s.routeSketch = routeSketch{Class: f.class, Wide: f.wide}
	s.fit()
	s.names = newPlacer(s.wide, s.foot)
	s.legs()
	s.pumps()
	s.numbers()
	s.scaleBar()
	s.north()
	return s.routeSketch
}

// fit finds the scale at which the line fits.
func (s *sketcher) fit() {
	b := s.p.Sketch.Bound
	east, north := max(b.Max[0]-b.Min[0], 1), max(b.Max[1]-b.Min[1], 1)
	room := s.wide - 2*sketchEdge
	high := min(max(room*north/east, 0.55*s.wide), 1.25*s.wide)
	s.scale = min(room/east, high/north)
	s.foot = high + 2*sketchEdge
	s.High = s.foot + sketchFoot
	s.dx = s.wide/2 - s.scale*(b.Min[0]+b.Max[0])/2
	s.dy = s.foot/2 + s.scale*(b.Min[1]+b.Max[1])/2
}

// dot gives where metres east and north stand.
func (s *sketcher) dot(p orb.Point) dot { return dot{s.dx + s.scale*p[0], s.dy - s.scale*p[1]} }

func (s *sketcher) place(p orb.Point) dot { return s.dot(s.p.Sketch.Place(p)) }

// legs draws the line as a road, leg by leg: the casing of all first, so that no leg
// covers another where they meet.
func (s *sketcher) legs() {
	roads, gaps := make([]string, len(s.p.Legs)), make([]string, len(s.p.Legs))
	for _, k := range s.p.Sketch.Strokes {
		dots := make([]dot, len(k.Points))
		for i, p := range k.Points {
			dots[i] = s.dot(p)
		}
		s.names.keepClear(dots)
		if k.Gap {
			gaps[k.Leg] += open(dots...)
		} else {
			roads[k.Leg] += open(dots...)
		}
	}
	for i := range s.p.Legs {
		s.path("casing", roads[i])
	}
	for i, l := range s.p.Legs {
		var d drawing
		d.path("touch", roads[i]+gaps[i])
		if roads[i] != "" {
			d.path("road "+mood(string(l.Verdict)), roads[i])
		}
		if gaps[i] != "" {
			d.path("hole", gaps[i])
		}
		s.add(shape{Kind: "link", Leg: i + 1, Title: s.legTitle(i), Inside: d.Shapes})
	}
}

// A pump is a stop on the sketch, however often it is passed.
type pump struct {
	name, class string
	at          dot
	rank        int
	title       string
}

// pumps draws the turn-back points and the stops, and names the stops.
func (s *sketcher) pumps() {
	list := s.pumpsOf()
	for _, p := range list {
		s.names.take(box{p.at.x - 6, p.at.y - 6, p.at.x + 6, p.at.y + 6})
	}
	s.turns()
	for _, p := range list {
		s.add(shape{Kind: "path", Class: "pump " + p.class, D: ring(p.at.x, p.at.y, 4.5), Title: p.title})
		if p.class == "dry" {
			s.path("cross", open(dot{p.at.x - 7, p.at.y - 7}, dot{p.at.x + 7, p.at.y + 7})+open(dot{p.at.x - 7, p.at.y + 7}, dot{p.at.x + 7, p.at.y - 7}))
		}
	}
	for rank := range 4 {
		for _, p := range list {
			if p.rank == rank {
				s.name(p)
			}
		}
	}
}

// name writes the name of a stop where there is room for it.
func (s *sketcher) name(p pump) {
	class := "place"
	if p.class == "uncounted" {
		class += " uncounted"
	}
	name := clipped(p.name, s.letter, s.wide/2, false)
	spot, ok := s.names.label(p.at, textWidth(name, s.letter, false)+2, s.letter)
	if !ok {
		s.Unnamed = append(s.Unnamed, p.name)
		return
	}
	if spot.away > 16 {
		s.path("leader", open(p.at, spot.end))
		s.names.keepClear([]dot{p.at, spot.end})
	}
	s.text(class, "start", spot.box.x0+1, spot.box.y1-s.letter*0.25, name)
}

// pumpsOf gives the stops that are passed, each once: the worst that is said of any of
// its passings.
func (s *sketcher) pumpsOf() []pump {
	var out []pump
	at := map[string]int{}
	for _, v := range s.p.Visits {
		p := pump{name: v.Stop.Name, at: s.place(v.Stop.At), class: "sure", rank: 1, title: v.Stop.Name + ", " + s.kilometre(v.At)}
		switch d := v.IfDry; {
		case !v.Counted:
			p.class, p.rank, p.title = "uncounted", 3, p.title+": "+v.WhyNot
		case d != nil && d.Outcome == plan.Stranded:
			p.class, p.rank, p.title = "dry", 0, p.title+": if it is dry you are stranded"
		case v.Stop.Standing == "map":
			p.class, p.rank, p.title = "mapped", 2, p.title+": only from a map"
		}
		k, seen := at[v.Stop.Name]
		switch {
		case !seen:
			at[v.Stop.Name] = len(out)
			out = append(out, p)
		case p.rank < out[k].rank:
			out[k] = p
		}
	}
	return s.ends(out)
}

// ends adds the start and the end of the ride where no stop is.
func (s *sketcher) ends(out []pump) []pump {
	first, last := s.p.Legs[0], s.p.Legs[len(s.p.Legs)-1]
	if first.FromVisit < 0 {
		name := s.p.NameOf(first.From)
		if s.p.Line.Closed && last.ToVisit < 0 && !s.p.Here.OnTheWay() {
			name = "the start and the end"
		}
		out = append(out, pump{name: name, at: s.place(s.p.Line.At(first.FromAt)), class: "end", rank: 0, title: name})
	}
	if last.ToVisit < 0 && (!s.p.Line.Closed || first.FromVisit >= 0 || s.p.Here.OnTheWay()) {
		out = append(out, pump{name: "the end", at: s.place(s.p.Line.At(last.ToAt)), class: "end", rank: 0, title: "the end"})
	}
	return out
}

// turns marks where to turn back at the latest on the legs that do not hold and behind a
// last sure fuel.
func (s *sketcher) turns() {
	for _, q := range s.p.Roll {
		if q.Kind != plan.CueTurnBack {
			continue
		}
		l := s.p.Legs[q.Leg]
		if l.Verdict == plan.OK && !(l.FromVisit >= 0 && s.p.Visits[l.FromVisit].LastFuel) {
			continue
		}
		at := s.place(q.Point)
		b := box{at.x - 7, at.y - 7, at.x + 7, at.y + 7}
		if !s.names.free(b) {
			continue
		}
		s.names.take(b)
		s.add(shape{Kind: "path", Class: "flag", Leg: q.Leg + 1, D: ring(at.x, at.y, 6.5) + backArrow(at.x+4, at.y),
			Title: fmt.Sprintf("Leg %d: turn back by trip %s %s", q.Leg+1, s.reach(q.Trip), s.u.DistanceUnit())})
	}
}

// numbers sets the numbers of the legs on the line where there is room.
func (s *sketcher) numbers() {
	for i, l := range s.p.Legs {
		text := fmt.Sprint(i + 1)
		wide, high := textWidth(text, s.letter, true)/2+3, s.letter/2+2
		for _, share := range []float64{0.5, 0.4, 0.6, 0.3, 0.7, 0.2, 0.8} {
			at := s.place(s.p.Line.At(l.FromAt + route.Metres(share)*(l.ToAt-l.FromAt)))
			b := box{at.x - wide, at.y - high, at.x + wide, at.y + high}
			if s.names.free(b) {
				s.names.take(b)
				s.add(shape{Kind: "rect", Class: "plate " + mood(string(l.Verdict)), Leg: i + 1, X: num(b.x0), Y: num(b.y0), W: num(2 * wide), H: num(2 * high)})
				s.add(shape{Kind: "text", Class: "number " + mood(string(l.Verdict)), Anchor: "middle", X: num(at.x), Y: num(at.y + s.letter*0.34), Text: text, Leg: i + 1})
				break
			}
		}
	}
}

// scaleBar draws a round distance, black and white by turns as on old maps.
func (s *sketcher) scaleBar() {
	perUnit := s.dotsFor(1)
	step := nice(s.wide*0.4/perUnit, 2)
	x, y, bit := 10.0, s.foot+12, step*perUnit/4
	for i := range 4 {
		class := "bar"
		if i%2 == 1 {
			class = "bar light"
		}
		s.rect(class, x+float64(i)*bit, y, bit, 5)
	}
	s.text("figure", "middle", x+4, y+18, "0")
	s.text("figure", "middle", max(x+4*bit, x+30), y+18, fmt.Sprintf("%g %s", step, s.u.DistanceUnit()))
}

// dotsFor gives how many dots a distance in the plan's units takes.
func (s *sketcher) dotsFor(distance float64) float64 {
	return s.scale * distance / s.u.DistanceIn(1)
}

// north draws the arrow.
func (s *sketcher) north() {
	x, y := s.wide-22, s.foot+6
	s.path("needle", closed(dot{x, y}, dot{x + 5, y + 24}, dot{x, y + 19}, dot{x - 5, y + 24}))
	s.path("needle half", closed(dot{x, y}, dot{x, y + 19}, dot{x - 5, y + 24}))
	s.text("figure", "middle", x-16, y+15, "N")
}

// far gives how far two dots lie apart.
func (d dot) far(o dot) float64 { return math.Hypot(d.x-o.x, d.y-o.y) }
