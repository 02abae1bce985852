package page

import (
	"fmt"
	"math"

	"lastpump/cmd/lastpump/internal/report/sheet"
	"lastpump/cmd/lastpump/internal/words"
	"lastpump/cmd/lastpump/internal/words/shown"
	"lastpump/fuel/leg"
	"lastpump/fuel/plan/cue"
	"lastpump/fuel/stop"

	"github.com/paulmach/orb"
)

// A routeSketch is the line as a small map: north up, with a scale.
type routeSketch struct {
	drawing
	Class, Name, Told  string
	Wide, High, Letter float64
	Unnamed            []string // stops whose names find no room
	Unnumbered         string   // which legs have no number; "" where all have
	Whose              string   // map lies under it; "" for none
	Has                landHas
}

var sketchForms = []form{
	{class: "narrow", wide: 340, letter: 12.5},
	{class: "side", wide: 392, letter: 13},
	{class: "large", wide: 620, letter: 13},
}

// A sketchDraft is a sketch in the making.
type sketchDraft struct {
	*planned
	routeSketch
	form
	piece
	scale  float64 // dots a metre
	dx, dy float64
	foot   float64 // where the map ends and its scale begins
	names  *placer
}

const (
	sketchEdge = 26 // dots around the line
	sketchFoot = 40 // for the scale and the arrow
)

// routeSketch draws a piece of the plan's line in a form.
func (t *planned) routeSketch(f form, p piece) routeSketch {
	s := &sketchDraft{planned: t, form: f, piece: p}
	s.routeSketch = routeSketch{Class: f.class, Wide: f.wide, Letter: f.letter,
		Name: t.shown.Sketch(p.first, p.end-1), Told: t.shown.SketchTold(p.first, p.end-1)}
	s.fit()
	s.names = newPlacer(s.wide, s.foot)
	towns := s.landUnder()
	s.roads()
	s.pumps()
	s.numbers()
	s.towns(towns)
	s.scaleBar()
	s.north()
	return s.routeSketch
}

// fit finds the scale at which the line fits.
func (s *sketchDraft) fit() {
	b := s.bound()
	east, north := max(b.Max[0]-b.Min[0], 1), max(b.Max[1]-b.Min[1], 1)
	room := s.wide - 2*sketchEdge
	high := min(max(room*north/east, 0.55*s.wide), 1.25*s.wide)
	s.scale = min(room/east, high/north)
	s.foot = high + 2*sketchEdge
	s.High = s.foot + sketchFoot
	s.dx = s.wide/2 - s.scale*(b.Min[0]+b.Max[0])/2
	s.dy = s.foot/2 + s.scale*(b.Min[1]+b.Max[1])/2
}

// bound gives what the piece covers, in metres east and north.
func (s *sketchDraft) bound() orb.Bound {
	if s.whole() {
		return s.sketch.Bound
	}
	var all orb.MultiLineString
	for _, k := range s.sketch.Strokes {
		if s.has(k.Leg) {
			all = append(all, k.Points)
		}
	}
	return all.Bound()
}

// dot gives where metres east and north stand.
func (s *sketchDraft) dot(p orb.Point) dot { return dot{s.dx + s.scale*p[0], s.dy - s.scale*p[1]} }

func (s *sketchDraft) place(p orb.Point) dot { return s.dot(s.sketch.Place(p)) }

// roads draws the line as a road, leg by leg: the casing of all first, so that no leg
// covers another where they meet.
func (s *sketchDraft) roads() {
	roads, gaps := make([]string, len(s.p.Legs)), make([]string, len(s.p.Legs))
	for _, k := range s.sketch.Strokes {
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
		class := "casing"
		if !s.has(i) {
			class = "beside" // of another piece
		}
		s.path(class, roads[i])
	}
	for i, l := range s.legs() {
		s.path("touch", roads[i]+gaps[i])
		s.last().Leg = i + 1
		if roads[i] != "" {
			s.path("road "+sheet.Look(l.Verdict), roads[i])
			s.last().Leg = i + 1
		}
		if gaps[i] != "" {
			s.path("hole", gaps[i])
			s.last().Leg = i + 1
		}
	}
}

// A pump is a stop on the sketch, however often it is passed.
type pump struct {
	name, class string
	at          dot
	rank        int
	title       string
	strands     bool // if it is dry
}

// pumps draws the turn-back points and the stops, and names the stops.
func (s *sketchDraft) pumps() {
	list := s.pumpsOf()
	for _, p := range list {
		s.names.take(around(p.at, 6))
	}
	s.turns()
	for _, p := range list {
		s.add(shape{Kind: "path", Class: "pump " + p.class, D: ring(p.at.x, p.at.y, 4.5), Title: p.title})
		if p.strands {
			s.path("cross", cross(p.at, 7))
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
func (s *sketchDraft) name(p pump) {
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
func (s *sketchDraft) pumpsOf() []pump {
	var out []pump
	at := map[string]int{}
	for i, v := range s.p.Visits {
		if !s.shows(i) {
			continue
		}
		p := pump{name: v.Stop.Name, at: s.place(v.Stop.At), class: "sure", rank: 1}
		p.title = v.Stop.Name + ", " + s.u.Km(v.At)
		if v.Counted && v.Stop.Standing == stop.Map {
			p.class, p.rank, p.title = "mapped", 2, p.title+": "+words.OnMap
		}
		switch d := v.IfDry; {
		case !v.Counted:
			p.class, p.rank, p.title = "uncounted", 3, p.title+": "+string(v.WhyNot)
		case d != nil && d.Outcome == leg.Stranded:
			p.strands, p.rank, p.title = true, 0, p.title+": if it is dry you are stranded"
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
func (s *sketchDraft) ends(out []pump) []pump {
	first, last := s.p.Legs[0], s.p.Legs[len(s.p.Legs)-1]
	end := func(name string, place orb.Point) {
		out = append(out, pump{name: name, at: s.dot(place), class: "end", rank: 0, title: name})
	}
	around := s.p.Line.Closed && !s.p.Here.OnTheWay() // it ends where it begins
	if first.FromVisit < 0 && s.first == 0 {
		name := s.say.Called(first.From)
		if around && last.ToVisit < 0 {
			name = "the start and the end"
		}
		end(name, s.sketch.Tenths[0][0])
	}
	if last.ToVisit < 0 && s.end == len(s.p.Legs) && (!around || first.FromVisit >= 0) {
		end("the end", s.sketch.Tenths[len(s.p.Legs)-1][10])
	}
	return out
}

// turns marks where to turn back at the latest on the legs that do not hold and behind a
// last sure fuel.
func (s *sketchDraft) turns() {
	for _, q := range s.p.Cues {
		if q.Kind != cue.TurnBack || !s.has(q.Leg) {
			continue
		}
		l := s.p.Legs[q.Leg]
		if l.Verdict == leg.OK && !(l.FromVisit >= 0 && s.p.Visits[l.FromVisit].LastFuel != nil) {
			continue
		}
		at := s.place(q.Point)
		b := around(at, 7)
		if !s.names.free(b) {
			continue
		}
		s.names.take(b)
		s.add(shape{Kind: "path", Class: "flag", Leg: q.Leg + 1, D: ring(at.x, at.y, 6.5) + backArrow(at.x+4, at.y),
			Title: fmt.Sprintf("Leg %d: turn back by trip %s %s", q.Leg+1, s.u.Whole(q.Trip), s.u.DistanceUnit())})
	}
}

// numbers sets the numbers of the legs on the line where there is room.
func (s *sketchDraft) numbers() {
	var without []int
	for i, l := range s.legs() {
		text := fmt.Sprint(i + 1)
		wide, high := textWidth(text, s.letter, true)/2+3, s.letter/2+2
		placed := false
		for _, at := range s.platePlaces(i) {
			b := box{at.x - wide, at.y - high, at.x + wide, at.y + high}
			if placed = s.names.free(b); !placed {
				continue
			}
			s.names.take(b)
			s.rect("plate "+sheet.Look(l.Verdict), b.x0, b.y0, 2*wide, 2*high)
			s.last().Leg = i + 1
			s.text("number "+sheet.Look(l.Verdict), "middle", at.x, at.y+s.letter*0.34, text)
			s.last().Leg = i + 1
			break
		}
		if !placed {
			without = append(without, i+1)
		}
	}
	if len(without) > 0 {
		s.Unnumbered = shown.Unnumbered(without)
	}
}

// platePlaces gives where the number of a leg may stand: on the line, or hard beside it.
func (s *sketchDraft) platePlaces(leg int) (out []dot) {
	for _, aside := range []float64{0, 14, -14, 20, -20} {
		for _, tenth := range []int{5, 4, 6, 3, 7, 2, 8} {
			a, b := s.dot(s.sketch.Tenths[leg][tenth-1]), s.dot(s.sketch.Tenths[leg][tenth+1])
			at, long := s.dot(s.sketch.Tenths[leg][tenth]), max(a.far(b), 1e-9)
			out = append(out, dot{at.x - (b.y-a.y)/long*aside, at.y + (b.x-a.x)/long*aside})
		}
	}
	return out
}

// scaleBar draws a round distance, black and white by turns as on old maps.
func (s *sketchDraft) scaleBar() {
	perUnit := s.scale / s.u.DistanceIn(1) // dots
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

// north draws the arrow.
func (s *sketchDraft) north() {
	x, y := s.wide-22, s.foot+6
	s.path("needle", closed(dot{x, y}, dot{x + 5, y + 24}, dot{x, y + 19}, dot{x - 5, y + 24}))
	s.path("needle half", closed(dot{x, y}, dot{x, y + 19}, dot{x - 5, y + 24}))
	s.text("figure", "middle", x-16, y+15, "N")
}

// far gives how far two dots lie apart.
func (d dot) far(o dot) float64 { return math.Hypot(d.x-o.x, d.y-o.y) }
