package land

import (
	"math"
	"slices"

	"github.com/paulmach/orb"
	"github.com/paulmach/orb/clip"
	"github.com/paulmach/orb/planar"
	"github.com/paulmach/orb/simplify"
)

// A Frame is a picture that a land is drawn in. Its dots may be anything: points of
// paper, pixels.
type Frame struct {
	Place func(orb.Point) orb.Point // from degrees to dots
	Bound orb.Bound                 // of the picture, in dots: nothing is drawn beyond
	Fine  float64                   // dots: what strays less from a straight is drawn as one
	Least float64                   // dots: lakes that are no longer and shores that are shorter are left out
	Ink   float64                   // dots of road that there is room for
	Towns int                       // that there is room for
}

// A View is a land as far as a picture has it, in dots of the picture.
type View struct {
	Lakes  []Water
	Shores []orb.LineString
	Rivers []Stroke
	Roads  []Stroke // the greater over the lesser ones
	Towns  []Spot   // the greatest first
}

// Empty tells whether nothing of the land is in the picture.
func (v View) Empty() bool {
	return len(v.Lakes)+len(v.Shores)+len(v.Rivers)+len(v.Roads)+len(v.Towns) == 0
}

// A Water is a lake: what is filled, and its outline as far as that is in the picture.
type Water struct {
	Name string
	Fill orb.Polygon
	Edge []orb.LineString
}

// A Stroke is a bit of a road or a river.
type Stroke struct {
	Class, Name string
	Points      orb.LineString
}

// A Spot is a town.
type Spot struct {
	Class, Name string
	At          orb.Point
}

// Drawn gives what a picture shows of a land; of none, nothing. Classes of roads and of towns
// are taken from the greatest down, each whole, as long as there is room; the greatest that there
// is in the picture is always taken.
func (l *Land) Drawn(f Frame) (v View) {
	if l == nil {
		return v
	}
	roads, towns := map[int][]Stroke{}, map[int][]Spot{}
	for _, feature := range l.Features {
		switch g := feature.Geometry.(type) {
		case orb.Point:
			if p := f.Place(g); f.Bound.Contains(p) {
				rank := Rank(Town, feature.Class)
				towns[rank] = append(towns[rank], Spot{feature.Class, feature.Name, p})
			}
		case orb.Polygon:
			v.Lakes = append(v.Lakes, f.lake(feature.Name, g)...)
		case orb.LineString:
			v.take(roads, feature, f.lines(g))
		}
	}
	v.Shores = long(v.Shores, f.Least)
	v.Roads, v.Towns = roadsWithin(roads, f.Ink), townsWithin(towns, f.Towns)
	return v
}

// take puts the lines of a feature where they belong.
func (v *View) take(roads map[int][]Stroke, feature Feature, lines []orb.LineString) {
	for _, line := range lines {
		s := Stroke{feature.Class, feature.Name, line}
		switch feature.Kind {
		case River:
			v.Rivers = append(v.Rivers, s)
		case Shore:
			v.Shores = append(v.Shores, line)
		case Road:
			rank := Rank(Road, feature.Class)
			roads[rank] = append(roads[rank], s)
		}
	}
}

// lines gives what of a line is in the picture.
func (f Frame) lines(line orb.LineString) []orb.LineString {
	return f.inside(f.placed(line))
}

func (f Frame) placed(line orb.LineString) orb.LineString {
	out := make(orb.LineString, len(line))
	for i, p := range line {
		out[i] = f.Place(p)
	}
	return out
}

// inside clips a line of dots, and thins what is left.
func (f Frame) inside(dots orb.LineString) (out []orb.LineString) {
	if !f.Bound.Intersects(dots.Bound()) {
		return nil
	}
	for _, bit := range clip.LineString(f.Bound, dots) {
		if bit = simplify.DouglasPeucker(f.Fine).LineString(bit); len(bit) > 1 {
			out = append(out, bit)
		}
	}
	return out
}

// lake gives a lake as far as it is in the picture, if it is long enough to be seen.
func (f Frame) lake(name string, rings orb.Polygon) []Water {
	w := Water{Name: name}
	var placed orb.Polygon
	for i, ring := range rings {
		dots := f.placed(orb.LineString(ring))
		b := dots.Bound()
		if max(b.Max[0]-b.Min[0], b.Max[1]-b.Min[1]) < f.Least {
			if i == 0 {
				return nil
			}
			continue // a small island
		}
		thin := simplify.DouglasPeucker(f.Fine).LineString(dots)
		if len(thin) < 4 {
			continue
		}
		placed = append(placed, orb.Ring(thin.Clone()))
		w.Edge = append(w.Edge, f.inside(thin)...)
	}
	if len(placed) == 0 || !f.Bound.Intersects(placed.Bound()) {
		return nil
	}
	if w.Fill = clip.Polygon(f.Bound, placed); len(w.Fill) == 0 {
		return nil
	}
	return []Water{w}
}

// long gives the lines that are not too short.
func long(lines []orb.LineString, least float64) (out []orb.LineString) {
	for _, l := range lines {
		if planar.Length(l) >= least {
			out = append(out, l)
		}
	}
	return out
}

// roadsWithin takes classes of roads from the greatest down as long as there is room, and
// gives them the least first.
func roadsWithin(by map[int][]Stroke, ink float64) (out []Stroke) {
	used, any := 0.0, false
	for rank := range len(RoadClasses) + 1 {
		class := by[rank]
		if len(class) == 0 {
			continue
		}
		long := 0.0
		for _, s := range class {
			long += planar.Length(s.Points)
		}
		if any && used+long > ink {
			break
		}
		used, any = used+long, true
		out = append(class, out...)
	}
	return out
}

// townsWithin does the same with towns; of the greatest class there may be too many, too, and
// the first of them are taken then.
func townsWithin(by map[int][]Spot, most int) (out []Spot) {
	for rank := range len(TownClasses) + 1 {
		if len(out) > 0 && len(out)+len(by[rank]) > most {
			break
		}
		out = append(out, by[rank]...)
	}
	return out[:int(math.Min(float64(len(out)), float64(max(most, 0))))]
}

// Hatch gives level strokes over a polygon, so far apart, by which a lake is told from land
// without colour. Strokes of pictures that lie beside each other meet.
func Hatch(p orb.Polygon, apart float64) (out []orb.LineString) {
	if len(p) == 0 || !(apart > 0) {
		return nil
	}
	b := p.Bound()
	for y := (math.Floor(b.Min[1]/apart) + 0.5) * apart; y < b.Max[1]; y += apart {
		var at []float64
		for _, ring := range p {
			for i := 1; i < len(ring); i++ {
				u, v := ring[i-1], ring[i]
				if (u[1] <= y) != (v[1] <= y) {
					at = append(at, u[0]+(v[0]-u[0])*(y-u[1])/(v[1]-u[1]))
				}
			}
		}
		slices.Sort(at)
		for i := 0; i+1 < len(at); i += 2 {
			out = append(out, orb.LineString{{at[i], y}, {at[i+1], y}})
		}
	}
	return out
}
