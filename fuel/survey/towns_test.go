package survey

import (
	"math"
	"slices"
	"strings"
	"testing"

	"lastpump/octane"
	"lastpump/route"

	"github.com/paulmach/orb"

	"lastpump/route/flat"
	"lastpump/route/osmfile"
	"lastpump/route/osmfile/osmtest"
)

// Due north along the zero meridian, where a degree is 111.195 km (Moritz's radius):
// pumps at km 0, 111 and 334, places between.
func longRoad() ([]any, []orb.Point) {
	var objects []any
	put := func(lon, lat float64, tags string) {
		objects = append(objects, osmtest.Node(int64(len(objects)+1), lon, lat, tags))
	}
	put(0, 0, "amenity=fuel name=First")
	put(0, 0.5, "place=village name=Nearby")            // only 111 km from pump to pump
	put(0.001, 1, "amenity=fuel name=Second")           //
	put(0, 2, "amenity=fuel name=Drum fuel:diesel=yes") // no petrol: it does not count
	put(0, 1.5, "place=hamlet name=Lone~Barn")
	put(0.02, 2.2, "shop=general name=Store") // 2.2 km off
	put(0.02, 2.3, "shop=convenience")        // no name
	put(0, 2.4, "shop=florist name=Roses")    // sells none
	put(0, 2.5, "place=locality name=Ford")   // nobody lives there
	put(0.2, 2.6, "place=town name=Far")      // 22 km off
	put(0, 2.7, "place=town")                 // no name to ask for
	put(0, 3, "amenity=fuel name=Third")
	put(0.03, 3.2, "amenity=fuel name=Aside")    // 3.3 km off: found, but no plan counts it
	put(0.01, 3.03, "place=village name=Beyond") // near the long stretch, but 3.3 km behind its end
	put(0, 3.5, "place=village name=After")
	return objects, []orb.Point{{0, 0}, {0, 4}}
}

func TestAsksWherePumpsAreFarApart(t *testing.T) {
	objects, road := longRoad()
	for _, c := range []struct {
		gap   route.Metres
		stops []string
		long  [][2]float64 // degrees
	}{
		{150_000, []string{"Lone Barn", "Store", "convenience shop (km 255)"}, [][2]float64{{1, 3}}},
		{110_000, []string{"Nearby", "Lone Barn", "Store", "convenience shop (km 255)", "Beyond", "After"},
			[][2]float64{{0, 1}, {1, 3}, {3, 4}}},
		{300_000, nil, nil},
	} {
		opt := DefaultOptions()
		opt.Towns, opt.Gap = true, c.gap
		s := surveyOf(t, straightLine(t, road), opt, small(objects...))
		var names []string
		for _, p := range s.Asks {
			names = append(names, p.Name)
			if p.Standing != "hearsay" || !strings.HasPrefix(p.note(), "ask here: "+p.AskAt) || p.AskAt == "" {
				t.Errorf("%+v", p)
			}
		}
		if !slices.Equal(names, c.stops) {
			t.Errorf("gap %v: %q, want %q", c.gap, names, c.stops)
		}
		if len(s.Long) != len(c.long) {
			t.Fatalf("gap %v: %v, want %v", c.gap, s.Long, c.long)
		}
		for i, l := range s.Long {
			for k, at := range []route.Metres{l.From, l.To} {
				if math.Abs(float64(at)/111_195-c.long[i][k]) > 0.001 {
					t.Errorf("gap %v: from %v to %v, want %v degrees", c.gap, l.From, l.To, c.long[i])
				}
			}
		}
		if len(s.Pumps) != 5 {
			t.Errorf("%d pumps, want 5", len(s.Pumps))
		}
	}
}

// Without being asked for, no places are listed, but the long stretches are.
func TestNoAsksUnlessWanted(t *testing.T) {
	objects, road := longRoad()
	s := surveyOf(t, straightLine(t, road), DefaultOptions(), small(objects...))
	if len(s.Asks) != 0 || len(s.Long) != 1 {
		t.Errorf("%v, %v", s.Asks, s.Long)
	}
}

// Every stop has a name of its own, and one that a rider can look for.
func TestNamesOfTheirOwn(t *testing.T) {
	var objects []any
	put := func(lat float64, tags string) {
		objects = append(objects, osmtest.Node(int64(len(objects)+1), 0, lat, tags))
	}
	put(0.00, "amenity=fuel name=Ash")
	put(0.01, "amenity=fuel brand=Northpump")
	put(0.02, "amenity=fuel brand=Northpump")
	put(0.03, "amenity=fuel")
	put(0.04, "amenity=fuel")
	put(0.05, "place=village name=Kell")
	put(0.50, "amenity=fuel")
	put(0.51, "amenity=fuel operator=Northpump")
	s := surveyOf(t, straightLine(t, []orb.Point{{0, 0}, {0, 1}}), DefaultOptions(), small(objects...))
	var names []string
	for _, p := range s.Pumps {
		names = append(names, p.Name)
	}
	// 0.50 and 0.51 degrees are 55.6 and 56.7 km; no place is near them.
	want := []string{"Ash", "Northpump (Kell) 1", "Northpump (Kell) 2", "pump (Kell) 1", "pump (Kell) 2", "pump (km 55)",
		"Northpump (km 56)"}
	if !slices.Equal(names, want) {
		t.Errorf("%q, want %q", names, want)
	}
}

// spotAt is a place in metres about 0,0, where a degree is the same both ways.
func spotAt(x, y float64) orb.Point {
	return orb.Point{x / flat.MetresPerDegree, y / flat.MetresPerDegree}
}

// A station drawn twice is one, and what the one does not say the other may.
func TestDoublesAreOne(t *testing.T) {
	node := func(id int64, x, y float64, tags string) any {
		p := spotAt(x, y)
		return osmtest.Node(id, p[0], p[1], tags)
	}
	roof := func(id int64, tags string, nodes ...int64) any {
		return osmtest.Way(id, tags, append(nodes, nodes[0])...)
	}
	objects := []any{
		// A node under a roof, of another name.
		node(1, 1000, 50, "amenity=fuel name=Ash phone=12"),
		node(2, 980, 40, ""), node(3, 1020, 40, ""), node(4, 1020, 60, ""), node(5, 980, 60, ""),
		// Two of one name 59 m apart, and one 60.5 m from the next.
		node(11, 3000, 100, "amenity=fuel name=Birch"), node(12, 3059, 100, "amenity=fuel name=BIRCH opening_hours=24/7"),
		node(13, 3119.5, 100, "amenity=fuel name=Birch"),
		// Two side by side of different names, and two without.
		node(21, 5000, 10, "amenity=fuel name=Elm"), node(22, 5010, 10, "amenity=fuel name=Fir"),
		node(23, 6000, 10, "amenity=fuel"), node(24, 6010, 10, "amenity=fuel"),
		roof(1, "amenity=fuel brand=Northpump building=roof opening_hours=24/7", 2, 3, 4, 5),
	}
	s := surveyOf(t, straightLine(t, []orb.Point{spotAt(0, 0), spotAt(7000, 0)}), DefaultOptions(), small(objects...))
	if len(s.Pumps) != 7 {
		t.Fatalf("%d stations, want 7: %+v", len(s.Pumps), s.Pumps)
	}
	first := s.Pumps[0]
	if first.Name != "Ash" || first.Hours != "24/7" || first.Phone != "12" || math.Abs(float64(first.Off)-40) > 0.6 {
		t.Errorf("the first is %+v", first)
	}
	if birch := s.Pumps[1]; birch.Hours != "24/7" {
		t.Errorf("the second is %+v", birch)
	}
}

// A pump within the outline of one that is left out is left out with it.
func TestPumpWithinARefusedOne(t *testing.T) {
	objects := hamlet()
	for _, o := range objects {
		if w, ok := o.(*osmfile.Way); ok && w.ID == 3 {
			w.Tags = tagsOf("amenity=fuel name=Depot access=private")
		}
	}
	objects = objects[:10] // without the relation
	inside := osmtest.Node(8, 10.03025, 45.00025, "amenity=fuel")
	objects = append(objects[:7:7], append([]any{inside}, objects[7:]...)...)
	s := surveyOf(t, hamletLine(t), DefaultOptions(), small(objects...))
	if len(s.Pumps) != 1 || s.Pumps[0].Name != "Ash Creek" || len(s.Refused) != 2 {
		t.Errorf("%+v, left out: %v", s.Pumps, s.Refused)
	}
}

// The ring of a relation may be several ways, in whatever direction: what lies within is
// the same station, and what is refused refuses it.
func TestRingOfSeveralWays(t *testing.T) {
	for _, private := range []string{"", " access=private"} {
		objects := append(hamlet()[:9:9],
			osmtest.Node(21, 10.02, 45.001, ""), osmtest.Node(22, 10.022, 45.001, ""),
			osmtest.Node(23, 10.022, 45.003, ""), osmtest.Node(24, 10.02, 45.003, ""),
			osmtest.Way(11, "", 21, 22, 23),
			osmtest.Way(12, "", 21, 24, 23),
			&osmfile.Relation{ID: 5, Edit: osmtest.First,
				Tags:    tagsOf("type=multipolygon amenity=fuel name=Ring opening_hours=24/7" + private),
				Members: []osmfile.Member{{Ref: wayRef(11), Role: "outer"}, {Ref: wayRef(12), Role: "outer"}}})
		s := surveyOf(t, hamletLine(t), DefaultOptions(), small(objects...))
		if private == "" && (len(s.Pumps) != 1 || s.Pumps[0].Hours != "24/7") ||
			private != "" && (len(s.Pumps) != 0 || len(s.Refused) != 2) {
			t.Errorf("%q: %+v, left out %v", private, s.Pumps, s.Refused)
		}
	}
}

// What is said of a fuel in one drawing of a station and denied in the other is not
// known.
func TestDoublesThatDisagree(t *testing.T) {
	node := func(id int64, tags string) any {
		return osmtest.Node(id, 10.021, 45.001+float64(id)*1e-5, tags)
	}
	opt := DefaultOptions()
	opt.Scale = octane.ScaleRON
	s := surveyOf(t, hamletLine(t), opt, small(
		node(1, "amenity=fuel name=Ash fuel:octane_95=yes fuel:octane_92=yes phone=1"),
		node(2, "amenity=fuel name=Ash fuel:octane_95=no"),
	))
	if len(s.Pumps) != 1 || len(s.Pumps[0].Grades) != 1 || s.Pumps[0].Grades[0].Number != 92 ||
		!strings.Contains(s.Pumps[0].note(), "octane_95: the map says yes and no") {
		t.Errorf("%+v", s.Pumps)
	}
}

// Where the map has no road for kilometres, pumps are not known, and it is said where;
// an extract that has nothing near the line at all is named.
func TestWhereThereIsNoMap(t *testing.T) {
	objects := hamlet() // roads from 10.00 to 10.04 degrees at 45°
	far := []any{osmtest.Node(1, 80, 10, "")}
	line := straightLine(t, []orb.Point{{10.001, 45}, {10.4, 45}})
	s := surveyOf(t, line, DefaultOptions(), named("here", objects), named("elsewhere", far))
	if !slices.Equal(s.Idle, []string{"elsewhere"}) || s.NoRoads {
		t.Errorf("nothing near the line on %q, no roads: %v", s.Idle, s.NoRoads)
	}
	// A degree of longitude is 78.6 km here; a few cells of 1.2 km beyond the last road.
	if len(s.Blank) != 1 || s.Blank[0].To != line.Length() || s.Blank[0].From < 3000 || s.Blank[0].From > 8500 {
		t.Errorf("no road for %v of %v", s.Blank, line.Length())
	}
	if s.Longest.To != line.Length() {
		t.Errorf("the longest stretch without a pump is %v", s.Longest)
	}
	if p := s.Pumps[0]; len(p.Passes) != 1 || math.Abs(float64(p.Passes[0]-p.Km)) > 1 {
		t.Errorf("%s is passed at %v", p.Name, p.Passes)
	}
}

// There and back: every passing of a pump is told.
func TestPassedTwice(t *testing.T) {
	line := straightLine(t, []orb.Point{{10.001, 45}, {10.3, 45}, {10.001, 45.0001}})
	s := surveyOf(t, line, DefaultOptions(), small(hamlet()...))
	// Ash Creek is 0.020 degrees, 1.57 km, from the start and 0.02 from the end.
	i := slices.IndexFunc(s.Pumps, func(p Pump) bool { return p.Name == "Ash Creek" })
	passes := s.Pumps[i].Passes
	if len(passes) != 2 || math.Abs(float64(passes[0])-1573) > 10 || math.Abs(float64(line.Length()-passes[1])-1573) > 10 {
		t.Errorf("it is passed at %v of %v", passes, line.Length())
	}
}

// The distances that hold where nobody says otherwise: pumps up to 5 km off, those up
// to 2 km off between which it may be 150 km.
func TestDefaultDistances(t *testing.T) {
	var objects []any
	put := func(x, y float64, name string) {
		p := spotAt(x, y)
		objects = append(objects, osmtest.Node(int64(len(objects)+1), p[0], p[1], "amenity=fuel name="+name))
	}
	put(0, 0, "Start")
	put(4990, 1000, "Near")
	put(5010, 2000, "Far")
	put(1990, 149_900, "Counted")
	put(2010, 225_000, "Aside")
	put(0, 300_100, "End")
	a, b := spotAt(0, 0), spotAt(0, 300_100)
	s := surveyOf(t, straightLine(t, []orb.Point{a, b}), DefaultOptions(), small(objects...))
	var names []string
	for _, p := range s.Pumps {
		names = append(names, p.Name)
	}
	if want := []string{"Start", "Near", "Counted", "Aside", "End"}; !slices.Equal(names, want) {
		t.Errorf("%q, want %q", names, want)
	}
	// From 149.9 to 300.1 km it is 150.2 km; from 0 to 149.9 it is less than 150.
	if len(s.Long) != 1 || math.Abs(float64(s.Long[0].Length())-150_200) > 20 {
		t.Errorf("too long is %v", s.Long)
	}
}
