package page

import (
	"lastpump/cmd/lastpump/internal/words/landed"
	"lastpump/route/land"

	"github.com/paulmach/orb"
)

// How a land is drawn under a sketch, in dots.
const (
	landFine  = 0.7  // what strays less from a straight is drawn as one
	landLeast = 7.0  // lakes that are no longer are left out
	landRoom  = 30.0 // between roads, if they lay side by side
	landTowns = 24
	hatchStep = 4.0
	townSide  = 2.6 // of half a town's square
)

// landUnder draws what a map has beside the line: waters, then roads. The towns are left for
// when the names of pumps have their places.
func (s *sketchDraft) landUnder() (towns []land.Spot) {
	at := func(p orb.Point) orb.Point { d := s.place(p); return orb.Point{d.x, d.y} }
	v := s.p.Land.Drawn(land.Frame{Place: at, Bound: orb.Bound{Max: orb.Point{s.wide, s.foot}}, Fine: landFine,
		Least: landLeast, Ink: s.wide * s.foot / landRoom, Towns: landTowns})
	if v.Empty() {
		return nil
	}
	s.Whose = landed.Whose(s.p.Land)
	s.Has = landHas{Roads: len(v.Roads) > 0, Rivers: len(v.Rivers) > 0, Lakes: len(v.Lakes) > 0, Shores: len(v.Shores) > 0}
	var hatch, edge, shores, rivers, roads string
	for _, l := range v.Lakes {
		hatch += paths(land.Hatch(l.Fill, hatchStep))
		edge += paths(l.Edge)
	}
	shores = paths(v.Shores)
	for _, r := range v.Rivers {
		rivers += open(dots(r.Points)...)
	}
	for _, r := range v.Roads {
		roads += open(dots(r.Points)...)
	}
	for _, layer := range [][2]string{{"land hatch", hatch}, {"land edge", edge}, {"land shore", shores},
		{"land river", rivers}, {"land main", roads}} {
		if layer[1] != "" {
			s.path(layer[0], layer[1])
		}
	}
	return v.Towns
}

// A landHas tells what of a land a sketch shows.
type landHas struct{ Roads, Rivers, Lakes, Shores, Towns bool }

func dots(line orb.LineString) []dot {
	out := make([]dot, len(line))
	for i, p := range line {
		out[i] = dot{p[0], p[1]}
	}
	return out
}

func paths(lines []orb.LineString) (path string) {
	for _, l := range lines {
		path += open(dots(l)...)
	}
	return path
}

// towns sets the towns whose names find room hard beside them: what is of the ride comes
// first.
func (s *sketchDraft) towns(all []land.Spot) {
	for _, t := range all {
		at := dot{t.At[0], t.At[1]}
		mark := around(at, townSide+1)
		if !s.names.free(mark) || t.Name == "" {
			continue
		}
		name := clipped(t.Name, s.letter, s.wide/3, false)
		b, ok := s.names.beside(at, textWidth(name, s.letter, false)+2, s.letter)
		if !ok {
			continue
		}
		s.names.take(mark)
		s.names.take(b)
		s.Has.Towns = true
		s.rect("land town", at.x-townSide, at.y-townSide, 2*townSide, 2*townSide)
		s.text("land-name", "start", b.x0+1, b.y1-s.letter*0.25, name)
	}
}

// beside finds room for a name hard beside a place: on nothing that is there, and not on the line.
func (p *placer) beside(at dot, wide, size float64) (box, bool) {
	high := size * 1.15
	const gap = 5
	for _, b := range []box{
		{at.x + gap, at.y - high/2, at.x + gap + wide, at.y + high/2},
		{at.x - gap - wide, at.y - high/2, at.x - gap, at.y + high/2},
		{at.x - wide/2, at.y - gap - high, at.x + wide/2, at.y - gap},
		{at.x - wide/2, at.y + gap, at.x + wide/2, at.y + gap + high},
	} {
		if p.free(b) && p.onLine(b) == 0 {
			return b, true
		}
	}
	return box{}, false
}

// An under is the key to what lies under the sketches.
type under struct {
	Has                                 landHas
	Key, Road, River, Lake, Shore, Town string
}

// underOf makes the key of what some sketch shows.
func underOf(all []routeSketch) *under {
	u := under{Key: landed.UnderKey, Road: landed.RoadKey, River: landed.RiverKey, Lake: landed.LakeKey, Shore: landed.ShoreKey,
		Town: landed.TownKey}
	any := false
	for _, s := range all {
		any = any || s.Whose != ""
		u.Has = landHas{u.Has.Roads || s.Has.Roads, u.Has.Rivers || s.Has.Rivers, u.Has.Lakes || s.Has.Lakes,
			u.Has.Shores || s.Has.Shores, u.Has.Towns || s.Has.Towns}
	}
	if !any {
		return nil
	}
	return &u
}
