package land_test

import (
	"bytes"
	"errors"
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"lastpump/route"
	"lastpump/route/input"
	"lastpump/route/land"

	"github.com/google/go-cmp/cmp"
	"github.com/paulmach/orb"
	"github.com/paulmach/orb/geojson"
	"github.com/paulmach/orb/planar"
	"pgregory.net/rapid"
)

var sum = strings.Repeat("0123456789abcdef", 4)

// lineAt is a short line at a place.
func lineAt(t testing.TB, lon, lat float64) *route.Line {
	t.Helper()
	line, err := route.NewLine([]route.Track{{Segments: [][]route.Point{{{Point: orb.Point{lon, lat}}, {Point: orb.Point{lon, lat + 0.01}}}}}},
		route.LineOptions{Stretch: 1})
	if err != nil {
		t.Fatal(err)
	}
	return line
}

// written is a place as the file has it.
func written(t *rapid.T) orb.Point {
	return land.Rounded(orb.Point{rapid.Float64Range(-180, 180).Draw(t, "lon"), rapid.Float64Range(-90, 90).Draw(t, "lat")})
}

// drawnLand draws a land with odd names, as the file can hold it.
func drawnLand(t *rapid.T) *land.Land {
	l := &land.Land{Line: sum, Attribution: "map data © its makers", Within: 30_000, Tolerance: 50}
	name := rapid.SampledFrom([]string{"", "A 4", `Mine "Road" <b>`, "Талас", "東京", "a\u2028b"})
	for range rapid.IntRange(0, 6).Draw(t, "features") {
		f := land.Feature{Kind: rapid.SampledFrom(land.Kinds()).Draw(t, "kind"), Class: "primary", Name: input.OneLine(name.Draw(t, "name"))}
		switch f.Kind {
		case land.Town:
			f.Geometry = written(t)
		case land.Lake:
			p := land.Rounded(orb.Point{rapid.Float64Range(-170, 170).Draw(t, "x"), rapid.Float64Range(-80, 80).Draw(t, "y")})
			q := land.Rounded(orb.Point{p[0] + 1, p[1] + 1})
			f.Geometry = orb.Polygon{{p, {q[0], p[1]}, q, {p[0], q[1]}, p}}
		default:
			at := written(t)
			var line orb.LineString
			for range rapid.IntRange(2, 9).Draw(t, "points") {
				line = append(line, at)
				at = land.Rounded(orb.Point{max(-180, min(180, at[0]+rapid.Float64Range(-5, 5).Draw(t, "east"))),
					max(-90, min(90, at[1]+rapid.Float64Range(-5, 5).Draw(t, "north")))})
				if at == line[len(line)-1] {
					at = land.Rounded(orb.Point{line[0][0], max(-90, min(90, 1-line[len(line)-1][1]))})
				}
			}
			f.Geometry = line
		}
		l.Features = append(l.Features, f)
	}
	return l
}

// What is written is read again, by another reader of GeoJSON, too; the same land is the same bytes.
func TestLandComesBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		l := drawnLand(t)
		var b, again bytes.Buffer
		if err := errors.Join(land.Write(&b, l), land.Write(&again, l)); err != nil || !bytes.Equal(b.Bytes(), again.Bytes()) {
			t.Fatalf("%v, or other bytes", err)
		}
		got, notes, err := land.Read(bytes.NewReader(b.Bytes()), "land.json", nil, sum)
		if err != nil || notes.Left > 0 || notes.OtherLine {
			t.Fatalf("%v %+v\n%s", err, notes, b.String())
		}
		if diff := cmp.Diff(l, got); diff != "" {
			t.Fatal(diff)
		}
		c, err := geojson.UnmarshalFeatureCollection(b.Bytes())
		if err != nil || len(c.Features) != len(l.Features) || c.ExtraMembers.MustString("line") != sum {
			t.Fatalf("%v\n%s", err, b.String())
		}
		for i, f := range c.Features {
			if f.Properties.MustString("kind") != string(l.Features[i].Kind) || !orb.Equal(f.Geometry, l.Features[i].Geometry) {
				t.Fatalf("%v for %v", f, l.Features[i])
			}
		}
	})
}

const good = `{"type":"FeatureCollection",
"attribution":"© all", "line":"` + "SUM" + `",
"features":[
{"type":"Feature","properties":{"kind":"road","class":"primary","name":"A 4"},"geometry":{"type":"LineString","coordinates":[[10,45],[10.1,45.2,300]]}},
{"type":"Feature","properties":{"kind":"lake"},"geometry":{"type":"Polygon","coordinates":[[[10,45],[10.1,45],[10.1,45.1],[10,45]]]}},
{"type":"Feature","properties":{"kind":"town","name":"Oldash"},"geometry":{"type":"Point","coordinates":[10.3,45.1]}}
]}`

func text(old, with string) string {
	return strings.ReplaceAll(strings.Replace(good, old, with, 1), "SUM", sum)
}

// Each fault is told with its place; what is not known is left out and told.
func TestFaultsOfALand(t *testing.T) {
	if l, _, err := land.Read(strings.NewReader(text("", "")), "land.json", nil, sum); err != nil || len(l.Features) != 3 ||
		!orb.Equal(l.Features[0].Geometry, orb.LineString{{10, 45}, {10.1, 45.2}}) || l.Attribution != "© all" {
		t.Fatalf("%+v, %v", l, err)
	}
	for old, c := range map[string]struct{ new, want string }{
		"[10,45],[10.1,45.2,300]":    {"[10,45],[10.1,95.2]", "land.json:4:1: 10.1, 95.2 are not degrees"},
		"[10.3,45.1]":                {"[-190,45.1]", "land.json:6:1: -190, 45.1 are not degrees"},
		"[[10,45],[10.1,45.2,300]]":  {"[[10,45]]", "land.json:4:1: it has 1 positions, and needs 2"},
		"[10.1,45.1],[10,45]]":       {"[10.1,45.1],[10,45.1]]", "land.json:5:1: an outline does not end where it begins"},
		`"coordinates":[10.3,45.1]`:  {`"coordinates":"here"`, "land.json:6:1: its coordinates are not those of a Point"},
		`,"coordinates":[10.3,45.1]`: {`,"coordinates":[10.3]`, "land.json:6:1: a position without"},
		`"Oldash"`:                   {`Oldash`, "land.json:6:54: this is no JSON"},
		`"features":[`:               {`"features":7,"x":[`, "land.json:3:12: features is no list"},
		`"FeatureCollection"`:        {`"Feature"`, "land.json:1:1: this is no land.json"},
		`"kind":"town"`:              {`"kind":7`, "land.json:6:"},
		"\n]}":                       {"", "land.json:6:118: the file is cut off"},
		"]}":                         {"]} x", "land.json:7:4: this is no JSON"},
	} {
		_, _, err := land.Read(strings.NewReader(text(old, c.new)), "land.json", nil, sum)
		var place *input.Error
		if old == "]}" {
			_, _, err = land.Read(strings.NewReader(text("\n]}", "\n]} x")), "land.json", nil, sum)
		}
		if err == nil || !strings.Contains(err.Error(), c.want) || !errors.As(err, &place) || place.Hint == "" {
			t.Errorf("%s for %s: %v, want %s", c.new, old, err, c.want)
		}
	}
	if _, _, err := land.Read(strings.NewReader("lat,lon\n1,2\n"), "stops.csv", nil, sum); err == nil || !strings.HasPrefix(err.Error(), "stops.csv:1:1: ") {
		t.Errorf("a list of stops: %v", err)
	}
	l, _, err := land.Read(strings.NewReader(text("Oldash", `Old\u001b[31m\nash\u202e`)), "land.json", nil, sum)
	if err != nil || strings.ContainsAny(l.Features[2].Name, "\x1b\n\u202e") {
		t.Errorf("a name that steers a terminal: %+v, %v", l, err)
	}
	l, notes, err := land.Read(strings.NewReader(text(`"kind":"lake"`, `"kind":"border"`)), "land.json", nil, sum)
	if err != nil || len(l.Features) != 2 || notes.Left != 1 || !slices.Equal(notes.Unknown, []string{"border"}) {
		t.Errorf("%+v, %+v, %v", l, notes, err)
	}
}

// A land of another line is refused where that lies elsewhere, and noted where this one lies in it,
// across 180°, too.
func TestLandOfAnotherLine(t *testing.T) {
	other := strings.Repeat("0", 64)
	if _, notes, err := land.Read(strings.NewReader(text("", "")), "land.json", lineAt(t, 10.2, 45), other); err != nil || !notes.OtherLine {
		t.Errorf("%+v, %v", notes, err)
	}
	if _, _, err := land.Read(strings.NewReader(text("", "")), "land.json", lineAt(t, 12, 45), other); !errors.Is(err, land.ErrOtherLine) {
		t.Errorf("far off: %v", err)
	}
	l := &land.Land{Features: []land.Feature{{Kind: land.Town, Geometry: orb.Point{179.5, 10}}, {Kind: land.Town, Geometry: orb.Point{-179, 11}}}}
	for lon, want := range map[float64]bool{179.9: true, -179.9: true, -178.7: true, 179.2: true, 0: false, 178: false, -177: false} {
		if got := l.Holds(lineAt(t, lon, 10.5)); got != want {
			t.Errorf("a line at %v: %v", lon, got)
		}
	}
	var b bytes.Buffer
	if err := land.Write(&b, l); err != nil || !strings.Contains(b.String(), `"bbox":[179.5,10,-179,11]`) { // RFC 7946, 5.2
		t.Errorf("%v\n%s", err, b.String())
	}
}

// winding draws a line of degrees that turns as it likes.
func winding(t *rapid.T) (line orb.LineString) {
	lon, lat := rapid.Float64Range(-170, 170).Draw(t, "lon"), rapid.Float64Range(-70, 70).Draw(t, "lat")
	heading := rapid.Float64Range(0, 7).Draw(t, "heading")
	for range rapid.IntRange(2, 150).Draw(t, "points") {
		line = append(line, orb.Point{lon, lat})
		heading += rapid.Float64Range(-1, 1).Draw(t, "turn")
		step := rapid.Float64Range(0.0001, 0.01).Draw(t, "step")
		lat += step * math.Cos(heading)
		lon += step * math.Sin(heading)
	}
	return line
}

// onPlane gives places in metres about one: over some tenths of a degree right to a hundredth.
func onPlane(line orb.LineString, about orb.Point) (out orb.LineString) {
	const degree = 111195
	for _, p := range line {
		out = append(out, orb.Point{(p[0] - about[0]) * degree * math.Cos(about[1]*math.Pi/180), (p[1] - about[1]) * degree})
	}
	return out
}

// No point of a line lies farther than the tolerance from what is left of it, by the distances of orb;
// its ends stay, and nothing is there that was not.
func TestThinnedStaysWithinTheTolerance(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		line, tolerance := winding(t), route.Metres(rapid.Float64Range(5, 500).Draw(t, "tolerance"))
		thin := land.Thinned(line, tolerance)
		if thin[0] != line[0] || thin[len(thin)-1] != line[len(line)-1] {
			t.Fatalf("from %v to %v of %v", thin[0], thin[len(thin)-1], line)
		}
		k := 0
		for _, p := range line {
			if k < len(thin) && p == thin[k] {
				k++
			}
		}
		if k != len(thin) {
			t.Fatalf("%v are not of %v", thin, line)
		}
		for _, p := range line {
			about := orb.LineString{p}
			if d := planar.DistanceFrom(onPlane(thin, p), onPlane(about, p)[0]); d > float64(tolerance)*1.03 {
				t.Fatalf("%v lies %v m from what is left, tolerance %v", p, d, tolerance)
			}
		}
	})
}

// Lines that are cut in pieces anywhere, and turned, are one again, of the same points.
func TestJoined(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		line := winding(t)
		var pieces []orb.LineString
		for from := 0; from < len(line)-1; {
			to := rapid.IntRange(from+1, len(line)-1).Draw(t, "to")
			piece := line[from : to+1].Clone()
			if rapid.Bool().Draw(t, "turned") {
				piece.Reverse()
			}
			pieces, from = append(pieces, piece), to
		}
		pieces = rapid.Permutation(pieces).Draw(t, "order")
		got := land.Joined(pieces)
		if len(got) != 1 {
			t.Fatalf("%d lines", len(got))
		}
		if got[0][0] != line[0] {
			got[0].Reverse()
		}
		if diff := cmp.Diff(line, got[0]); diff != "" {
			t.Fatal(diff)
		}
	})
	fork := []orb.LineString{{{0, 0}, {1, 1}}, {{1, 1}, {2, 2}}, {{1, 1}, {2, 0}}}
	if got := land.Joined(fork); len(got) != 3 {
		t.Errorf("at a fork: %v", got)
	}
}

// A line across 180° is cut there, at the latitude where it goes across.
func TestCut(t *testing.T) {
	got := land.Cut(orb.LineString{{179, 10}, {-179, 12}, {-178, 12}, {179, 9}})
	want := []orb.LineString{{{179, 10}, {180, 11}}, {{-180, 11}, {-179, 12}, {-178, 12}, {-180, 10}}, {{180, 10}, {179, 9}}}
	if diff := cmp.Diff(want, got); diff != "" {
		t.Error(diff)
	}
	if got := land.Cut(orb.LineString{{1, 2}, {3, 4}}); len(got) != 1 || len(got[0]) != 2 {
		t.Errorf("%v", got)
	}
}

// A square of a tenth of a degree at 60° N is 11.1195 by 5.5598 km; both ways round.
func TestArea(t *testing.T) {
	ring := orb.Ring{{10, 59.95}, {10.1, 59.95}, {10.1, 60.05}, {10, 60.05}, {10, 59.95}}
	for range 2 {
		if got := land.Area(ring); math.Abs(got/(11119.5*5559.75)-1) > 0.001 {
			t.Errorf("%v", got)
		}
		ring.Reverse()
	}
}

// Every place of a road that is in the frame is drawn, as fine as is asked for, and nothing is
// drawn beyond the frame.
func TestDrawnKeepsWhatIsInside(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		line := winding(t)
		at := line[len(line)/2]
		place := func(p orb.Point) orb.Point { return orb.Point{(p[0] - at[0]) * 1000, (at[1] - p[1]) * 1000} }
		half := rapid.Float64Range(1, 60).Draw(t, "half")
		bound := orb.Bound{Min: orb.Point{-half, -half}, Max: orb.Point{half, half}}
		l := &land.Land{Features: []land.Feature{{Kind: land.Road, Class: "primary", Geometry: line}}}
		v := l.Drawn(land.Frame{Place: place, Bound: bound, Fine: 0.5, Ink: 1})
		var all orb.MultiLineString
		for _, s := range v.Roads {
			all = append(all, s.Points)
			if b := s.Points.Bound(); !bound.Pad(1e-9).Contains(b.Min) || !bound.Pad(1e-9).Contains(b.Max) {
				t.Fatalf("%v is drawn beyond %v", b, bound)
			}
		}
		for i := 1; i < len(line); i++ {
			a, b := place(line[i-1]), place(line[i])
			for k := range 5 {
				p := orb.Point{a[0] + (b[0]-a[0])*float64(k)/4, a[1] + (b[1]-a[1])*float64(k)/4}
				if bound.Pad(-1e-6).Contains(p) && planar.DistanceFrom(all, p) > 0.5+1e-6 {
					t.Fatalf("%v is not drawn", p)
				}
			}
		}
	})
}

// Classes are taken whole from the greatest down as long as there is room, and drawn the greatest last.
func TestDrawnByClass(t *testing.T) {
	l := &land.Land{}
	for i, class := range []string{"tertiary", "primary", "secondary", "motorway"} {
		y := float64(10 * i)
		l.Features = append(l.Features, land.Feature{Kind: land.Road, Class: class, Geometry: orb.LineString{{0, y}, {100, y}}},
			land.Feature{Kind: land.Town, Class: land.TownClasses[i], Name: class, Geometry: orb.Point{50, y}})
	}
	f := land.Frame{Place: func(p orb.Point) orb.Point { return p }, Bound: orb.Bound{Max: orb.Point{100, 100}}}
	for _, c := range []struct {
		ink   float64
		towns int
		want  string
	}{{0, 0, "motorway / "}, {299, 1, "primary motorway / city"}, {300, 3, "secondary primary motorway / city town village"},
		{400, 9, "tertiary secondary primary motorway / city town village hamlet"}} {
		f.Ink, f.Towns = c.ink, c.towns
		v := l.Drawn(f)
		var said []string
		for _, s := range v.Roads {
			said = append(said, s.Class)
		}
		said = append(said, "/")
		for _, s := range v.Towns {
			said = append(said, s.Class)
		}
		if got := strings.Join(said, " "); strings.TrimSpace(got) != strings.TrimSpace(c.want) {
			t.Errorf("ink %v, %d towns: %s, want %s", c.ink, c.towns, got, c.want)
		}
	}
	if v := (*land.Land)(nil).Drawn(f); !v.Empty() {
		t.Errorf("of nothing: %+v", v)
	}
}

// The strokes of a lake lie in it and not on its island, and none is missing: their length times how
// far apart they are is its area.
func TestHatch(t *testing.T) {
	lake := orb.Polygon{{{0, 0}, {100, 0}, {120, 60}, {50, 90}, {0, 0}}, {{50, 30}, {50, 50}, {80, 50}, {80, 30}, {50, 30}}}
	long := 0.0
	for _, s := range land.Hatch(lake, 0.5) {
		long += planar.Length(s)
		for k := 1; k < 20; k++ {
			p := orb.Point{s[0][0] + (s[1][0]-s[0][0])*float64(k)/20, s[0][1]}
			if !planar.PolygonContains(lake, p) {
				t.Fatalf("%v is not in the lake", p)
			}
		}
	}
	if area := planar.Area(lake); math.Abs(long*0.5/area-1) > 0.01 {
		t.Errorf("%v of %v", long*0.5, area)
	}
}

// Whatever stands in a file, it is a land with finite places or a fault at a place.
func FuzzRead(f *testing.F) {
	f.Add(text("", ""))
	f.Add(text(`"kind":"lake"`, `"kind":"shore"`))
	f.Add(`{"type":"FeatureCollection","features":[{"type":"Feature","properties":null,"geometry":null}]}`)
	f.Add(`{"type":"FeatureCollection","features":[{"properties":{"kind":"road"},"geometry":{"type":"MultiLineString","coordinates":[[[179,1],[-179,1]]]}}]}`)
	line := lineAt(f, 10, 45)
	f.Fuzz(func(t *testing.T, text string) {
		l, _, err := land.Read(strings.NewReader(text), "f", line, sum)
		var place *input.Error
		if err != nil {
			if !errors.As(err, &place) || place.Line < 0 || strings.Contains(fmt.Sprint(err), "panic") {
				t.Fatalf("%v", err)
			}
			return
		}
		for _, f := range l.Features {
			b := f.Geometry.Bound()
			if !(b.Min[0] >= -180 && b.Max[0] <= 180 && b.Min[1] >= -90 && b.Max[1] <= 90) {
				t.Fatalf("%+v", f)
			}
		}
	})
}

func ExampleLand_Drawn() {
	l := &land.Land{Features: []land.Feature{{Kind: land.Road, Class: "primary", Name: "A 4", Geometry: orb.LineString{{9, 45}, {11, 45}}}}}
	v := l.Drawn(land.Frame{Place: func(p orb.Point) orb.Point { return orb.Point{(p[0] - 10) * 100, (45 - p[1]) * 100} },
		Bound: orb.Bound{Min: orb.Point{-50, -50}, Max: orb.Point{50, 50}}, Fine: 0.5})
	fmt.Println(v.Roads[0].Name, v.Roads[0].Points)
	// Output: A 4 [[-50 0] [50 0]]
}
