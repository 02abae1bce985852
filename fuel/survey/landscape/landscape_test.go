package landscape

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"lastpump/route/land"
	"lastpump/route/osmfile"

	"github.com/paulmach/orb"
)

// tags reads "key=value key=value".
func tags(text string) (out osmfile.Tags) {
	for _, t := range strings.Fields(text) {
		key, value, _ := strings.Cut(t, "=")
		out = append(out, osmfile.Tag{Key: key, Value: value})
	}
	return out
}

// What the OpenStreetMap wiki says of these tags (pages as in the package comment).
func TestKinds(t *testing.T) {
	for text, want := range map[string]land.Kind{
		"highway=primary":                    land.Road,
		"highway=motorway ref=A1":            land.Road,
		"highway=tertiary surface=gravel":    land.Road,
		"highway=motorway_link":              "",
		"highway=unclassified":               "",
		"highway=primary area=yes":           "",
		"waterway=river":                     land.River,
		"waterway=stream":                    "",
		"waterway=canal":                     "",
		"waterway=canal name=X":              land.River,
		"natural=water":                      land.Lake,
		"natural=water water=lake":           land.Lake,
		"natural=water water=river":          "",
		"landuse=reservoir":                  land.Lake,
		"natural=coastline":                  land.Shore,
		"natural=wood":                       "",
		"building=yes":                       "",
		"natural=water water=wastewater":     "",
		"natural=water water=oxbow name=Old": land.Lake,
	} {
		if got := kindOf(tags(text)); got != want {
			t.Errorf("%s is %q, want %q", text, got, want)
		}
		if Wanted(tags(text)) != (want != "") {
			t.Errorf("%s: wanted %v", text, want == "")
		}
	}
	if !Wanted(nil) {
		t.Error("a way without tags may be part of a lake")
	}
	for text, want := range map[string]bool{"type=multipolygon natural=water": true, "type=multipolygon natural=wood": false, "type=route natural=water": false} {
		if WantedRelation(tags(text)) != want {
			t.Errorf("%s", text)
		}
	}
}

func everywhere(orb.Point) bool { return true }

// A plot has nodes on a plane of a degree or so at the equator, in kilometres.
type plot struct {
	*Collector
	node int64
}

func (p *plot) nodes(at ...[2]float64) (out []Node) {
	for _, xy := range at {
		p.node++
		out = append(out, Node{p.node, orb.Point{xy[0] / 111.195, xy[1] / 111.195}})
	}
	return out
}

// halves of a square of so many kilometres a side, from its lower left corner.
func (p *plot) halves(x, y, side float64) (a, b []Node) {
	n := p.nodes([2]float64{x, y}, [2]float64{x + side, y}, [2]float64{x + side, y + side}, [2]float64{x, y + side})
	return []Node{n[0], n[1], n[2]}, []Node{n[0], n[3], n[2]} // the second goes the other way
}

func member(id int64, role string) osmfile.Member {
	return osmfile.Member{Ref: osmfile.Ref{Kind: osmfile.IsWay, ID: id}, Role: role}
}

func ofKind(l *land.Land, k land.Kind) (out []land.Feature) {
	for _, f := range l.Features {
		if f.Kind == k {
			out = append(out, f)
		}
	}
	return out
}

// A lake of two ways without tags, which have come before it, is one outline against the clock, with its
// island with the clock; 10 by 10 km less 1 by 1 are 99 km².
func TestLakeOfWays(t *testing.T) {
	p := &plot{Collector: New(everywhere)}
	a, b := p.halves(0, 0, 10)
	c, d := p.halves(4, 4, 1)
	p.TakeWay(1, nil, a)
	p.TakeWay(2, nil, b)
	p.TakeWay(3, nil, c)
	p.TakeWay(4, tags("natural=water"), d)
	p.TakeRelation(&osmfile.Relation{ID: 9, Tags: tags("type=multipolygon natural=water name=Urtaz"),
		Members: []osmfile.Member{member(1, "outer"), member(2, ""), member(3, "inner"), member(4, "inner")}})
	l := p.Land(30_000)
	lakes := ofKind(l, land.Lake)
	if len(lakes) != 1 || len(ofKind(l, land.Shore)) != 0 || lakes[0].Name != "Urtaz" {
		t.Fatalf("%+v", l.Features)
	}
	rings := lakes[0].Geometry.(orb.Polygon)
	if len(rings) != 2 || rings[0].Orientation() != orb.CCW || rings[1].Orientation() != orb.CW || !rings[0].Closed() || !rings[1].Closed() {
		t.Fatalf("%v", rings)
	}
	if area := land.Area(rings[0]) - land.Area(rings[1]); math.Abs(area/99e6-1) > 0.005 {
		t.Errorf("%v m²", area)
	}
}

// Of a lake that is not wholly known there is the shore; a small one is left out.
func TestLakesThatAreNot(t *testing.T) {
	p := &plot{Collector: New(everywhere)}
	a, b := p.halves(0, 0, 10)
	p.TakeWay(1, nil, a)
	b[1].ID = 0 // lies beyond the map
	p.TakeWay(2, nil, append(b, p.nodes([2]float64{12, 12})...))
	p.TakeRelation(&osmfile.Relation{ID: 9, Tags: tags("type=multipolygon natural=water"), Members: []osmfile.Member{member(1, "outer"), member(2, "outer"), member(7, "outer")}})
	pond, back := p.halves(30, 30, 0.3)
	p.TakeWay(3, tags("natural=water"), append(pond, back[1], pond[0]))
	house, rest := p.halves(40, 40, 0.02)
	if p.TakeWay(4, nil, append(house, rest[1], house[0])) {
		t.Error("the outline of a house is held")
	}
	l := p.Land(30_000)
	if shores := ofKind(l, land.Shore); len(ofKind(l, land.Lake)) != 0 || len(shores) != 2 {
		t.Errorf("%+v", l.Features)
	}
}

// What is not known is not drawn, and a way that leaves and comes back is two; towns outside are none.
func TestOnlyWhatIsInside(t *testing.T) {
	p := &plot{Collector: New(func(at orb.Point) bool { return at[1] < 10/111.195 })}
	nodes := p.nodes([2]float64{0, 0}, [2]float64{1, 9}, [2]float64{2, 11}, [2]float64{3, 9}, [2]float64{9, 0})
	nodes[2] = Node{}
	p.TakeWay(1, tags("highway=primary ref=A~1"), nodes)
	p.TakeTown(osmfile.Ref{ID: 1}, tags("place=village name=In"), orb.Point{0, 0})
	p.TakeTown(osmfile.Ref{ID: 2}, tags("place=village name=Out"), orb.Point{0, 1})
	p.TakeTown(osmfile.Ref{ID: 3}, tags("place=suburb name=None"), orb.Point{0, 0})
	l := p.Land(30_000)
	if roads, towns := ofKind(l, land.Road), ofKind(l, land.Town); len(roads) != 2 || len(towns) != 1 || towns[0].Name != "In" {
		t.Errorf("%+v", l.Features)
	}
}

// A way that is handed over again takes the place of the old one.
func TestTakenAgain(t *testing.T) {
	p := &plot{Collector: New(everywhere)}
	p.TakeWay(1, tags("highway=primary"), p.nodes([2]float64{0, 0}, [2]float64{0, 9}))
	p.TakeWay(1, tags("highway=unclassified"), p.nodes([2]float64{0, 0}, [2]float64{0, 9}))
	if l := p.Land(1); len(l.Features) != 0 {
		t.Errorf("%+v", l.Features)
	}
}

// Where there is too much the tertiary roads go, and then what is left is drawn more roughly; the file
// stays within its budget, the greater roads stay.
func TestBudget(t *testing.T) {
	p := &plot{Collector: New(everywhere)}
	p.budget = mostBytes / 10
	id := int64(0)
	draw := func(class string, n int, y float64) {
		for k := range n {
			var at [][2]float64
			for i := range 400 { // bends of 120 m, which 50 m do not straighten
				at = append(at, [2]float64{float64(i) * 0.3, y + float64(k)*0.5 + 0.12*float64(i%2)})
			}
			id++
			p.TakeWay(id, tags("highway="+class+" ref="+fmt.Sprint(id)), p.nodes(at...))
		}
	}
	draw("primary", 6, 0)
	draw("tertiary", 2, 40)
	l := p.Land(1)
	classes := map[string]int{}
	for _, f := range l.Features {
		classes[f.Class]++
	}
	if classes["primary"] != 6 || classes["tertiary"] != 2 || l.Tolerance != 50 {
		t.Fatalf("%v, %v", classes, l.Tolerance)
	}
	draw("tertiary", 6, 50)
	if l = p.Land(1); l.Tolerance != 50 || slices.ContainsFunc(l.Features, func(f land.Feature) bool { return f.Class == "tertiary" }) {
		t.Errorf("tolerance %v", l.Tolerance)
	}
	draw("primary", 10, 80)
	if l = p.Land(1); l.Tolerance <= 50 || bytes(l.Features) > p.budget || len(l.Features) != 16 {
		t.Errorf("tolerance %v, %d bytes, %d features", l.Tolerance, bytes(l.Features), len(l.Features))
	}
}

// Hamlets are there where there are few places, and go where there are many.
func TestTownsByClass(t *testing.T) {
	for n, want := range map[int]int{10: 20, 1000: 1000} {
		c := New(everywhere)
		for k := range n {
			c.TakeTown(osmfile.Ref{ID: int64(2 * k)}, tags("place=village name=V"), orb.Point{1, 1})
			c.TakeTown(osmfile.Ref{ID: int64(2*k + 1)}, tags("place=hamlet name=H"), orb.Point{1, 1})
		}
		if got := len(c.Land(1).Features); got != want {
			t.Errorf("%d and %d: %d", n, n, got)
		}
	}
}
