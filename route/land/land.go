// Package land has what a map shows beside a line: main roads, rivers, lakes, shores and
// towns, thinned so far that they can be drawn under it. It is for the eye alone: no figure
// of a plan rests on it.
//
// Start with [Read] and [Write] for the file, land.json, and with [Land.Drawn] for a picture.
// [Joined] and [Thinned] make few points of many.
//
// The idea that surprises: what is not drawn need not be missing on the ground. Roads and
// towns are taken from the greatest class down, as far as there is room for them.
//
// # Sources
//
//	[1] RFC 7946, The GeoJSON Format, August 2016: what the file is.
//	[2] OpenStreetMap wiki, "Key:highway", "Key:place": the classes, greatest first.
package land

import (
	"slices"

	"lastpump/route"

	"github.com/paulmach/orb"
)

// A Kind is what a feature is.
type Kind string

// The kinds.
const (
	Road  Kind = "road"
	River Kind = "river"
	Lake  Kind = "lake"  // with its whole outline
	Shore Kind = "shore" // of a lake of which more is not known, or of the sea
	Town  Kind = "town"
)

// Kinds lists the kinds in the order in which they are drawn, each over those before it.
func Kinds() []Kind { return []Kind{Lake, Shore, River, Road, Town} }

// RoadClasses are the classes of roads that are taken, the greatest first [2].
var RoadClasses = []string{"motorway", "trunk", "primary", "secondary", "tertiary"}

// TownClasses are those of towns [2].
var TownClasses = []string{"city", "town", "village", "hamlet"}

// Rank gives the place of a class among those of its kind, 0 for the greatest; a class that
// is not known comes behind all others.
func Rank(k Kind, class string) int {
	classes := RoadClasses
	if k == Town {
		classes = TownClasses
	}
	if i := slices.Index(classes, class); i >= 0 {
		return i
	}
	return len(classes)
}

// A Feature is one thing on the map. A town has a point, a lake a polygon with its outer ring
// against the clock and islands with it, all others a line. No line crosses 180°: it ends there and
// another begins.
type Feature struct {
	Kind     Kind
	Class    string // as the map has it: primary, river, reservoir, village
	Name     string // of a road its number, if it has one; "" for none
	Geometry orb.Geometry
}

// A Land is what lies beside a line.
type Land struct {
	Features    []Feature
	Line        string       // names the line, see wayout.Sum
	Attribution string       // whose map it is
	Within      route.Metres // how far off the line it was looked for
	Tolerance   route.Metres // how far what is drawn may be off from what the map has
}

// Holds tells whether a line lies where the land was looked for: whether its points lie
// in the box about all features and the room beside it. Of a land without features it does.
func (l *Land) Holds(line *route.Line) bool {
	b, ok := l.box()
	if !ok {
		return true
	}
	const beside = 0.5 // degrees
	for v := range line.Vertices() {
		if !b.has(v.Point, beside) {
			return false
		}
	}
	return true
}

// A box is a part of the earth between two latitudes, and from a longitude eastwards to another.
type box struct{ west, south, east, north float64 }

func (b box) has(p orb.Point, beside float64) bool {
	if p[1] < b.south-beside || p[1] > b.north+beside {
		return false
	}
	east := p[0]
	if b.west > b.east && east < b.east+beside {
		east += 360
	}
	end := b.east
	if b.west > b.east {
		end += 360
	}
	return east >= b.west-beside && east <= end+beside
}

// box gives the box about all features. Where that is more than half the way around the earth
// it is taken across 180°, as the format has it: west is then greater than east.
func (l *Land) box() (b box, ok bool) {
	if len(l.Features) == 0 {
		return b, false
	}
	all := l.Features[0].Geometry.Bound()
	west, east := 180.0, -180.0 // of what lies east of 0°, and west of it
	for _, f := range l.Features {
		fb := f.Geometry.Bound()
		all = all.Union(fb)
		if fb.Min[0] >= 0 {
			west = min(west, fb.Min[0])
		} else {
			east = max(east, fb.Max[0])
		}
	}
	b = box{all.Min[0], all.Min[1], all.Max[0], all.Max[1]}
	if b.east-b.west > 180 && west < 180 && east < west {
		b.west, b.east = west, east
	}
	return b, true
}
