package outward

import (
	"bytes"
	"fmt"
	"io"
	"math"
	"slices"
	"strings"
	"testing"

	"lastpump/fuel/survey"
	"lastpump/fuel/wayout"
	"lastpump/route"
	"lastpump/route/osmfile"
	"lastpump/route/osmfile/osmtest"

	"github.com/paulmach/orb"
)

// valley is a road from west to east, 15.7 km long, with a pump at its beginning, and a
// pump 5.6 km north of its middle, node 3, to which what a test draws may lead.
func valley(more ...any) osmfile.Extract {
	nodes := []any{
		osmtest.Node(1, 10.00, 45, ""), osmtest.Node(2, 10.05, 45, ""), osmtest.Node(3, 10.10, 45, ""),
		osmtest.Node(4, 10.15, 45, ""), osmtest.Node(5, 10.20, 45, ""),
		osmtest.Node(6, 10.0004, 45.0003, "amenity=fuel name=Home"),
		osmtest.Node(7, 10.1004, 45.0503, "amenity=fuel name=North"),
		osmtest.Node(20, 10.10, 45.05, ""), osmtest.Node(21, 10.10, 45.02, ""),
	}
	ways := []any{osmtest.Way(1, "highway=secondary surface=asphalt name=Valley~Road", 1, 2, 3, 4, 5)}
	for _, o := range more {
		if _, ok := o.(*osmfile.Node); ok {
			nodes = append(nodes, o)
		} else {
			ways = append(ways, o)
		}
	}
	data := osmtest.PBF(append(nodes, ways...), 100, false)
	return osmfile.Extract{Name: "valley", Open: func() (io.ReadCloser, error) { return readCloser{bytes.NewReader(data)}, nil }}
}

type readCloser struct{ *bytes.Reader }

func (readCloser) Close() error { return nil }

func valleyLine(t testing.TB) *route.Line {
	var points []orb.Point
	for k := range 401 {
		points = append(points, orb.Point{10 + 0.0005*float64(k), 45.00002})
	}
	return lineOf(t, points...)
}

// told tells of ways in short: from where, to what, in which direction, marks.
func told(f Found) (out []string) {
	for _, w := range f.Ways {
		from := w.From
		if from == "" {
			from = fmt.Sprintf("km %.1f", w.At.Kilometres())
		}
		out = append(out, strings.TrimSpace(from+" "+w.To+" "+w.Toward+" "+w.Marks.String()))
	}
	return out
}

// What a road has to be for a motorcycle to be led over it, by the wiki of the map: keys
// of access, classes, directions, barriers, seasons; marks where it may be shut.
func TestRoadsThatAreUsed(t *testing.T) {
	open, none := []string{"Home North N", "km 7.9 North N"}, []string(nil)
	marked := func(mark string) []string { return []string{"Home North N " + mark, "km 7.9 North N " + mark} }
	for _, c := range []struct {
		way, node string
		want      []string
	}{
		{"highway=tertiary", "", open},
		{"highway=track", "", open}, // there is no larger one near
		{"highway=tertiary access=no", "", none},
		{"highway=tertiary motor_vehicle=no", "", none},
		{"highway=tertiary vehicle=no motorcycle=yes", "", open},
		{"highway=tertiary access=no motor_vehicle=designated", "", open},
		{"highway=tertiary motorcycle=no", "", none},
		{"highway=tertiary access=destination", "", open},
		{"highway=path", "", none},
		{"highway=path access=yes", "", none},
		{"highway=path motorcycle=yes", "", open},
		{"highway=construction", "", none},
		{"highway=tertiary oneway=yes", "", open},
		{"highway=tertiary oneway=-1", "", none},
		{"highway=tertiary oneway=-1 oneway:motorcycle=no", "", open},
		{"highway=track access=private", "", marked("private")},
		{"highway=track motor_vehicle=forestry", "", marked("private")},
		{"highway=track seasonal=summer", "", marked("seasonal")},
		{"highway=track winter_road=yes", "", marked("winter-road")},
		{"highway=track ice_road=yes winter_road=yes", "", marked("winter-road; ice-road")},
		{"highway=track motor_vehicle:conditional=no~@~(Nov-Apr)", "", marked("conditional")},
		{"highway=track oneway=reversible", "", marked("conditional")},
		{"highway=tertiary", "barrier=block", none},
		{"highway=tertiary", "barrier=bollard", open},
		{"highway=tertiary", "barrier=gate", open},
		{"highway=tertiary", "barrier=gate locked=yes", none},
		{"highway=tertiary", "barrier=lift_gate access=no", none},
		{"highway=tertiary", "barrier=lift_gate access=private", marked("private")},
		{"highway=tertiary", "barrier=block motorcycle=yes", open},
		{"route=ferry motorcycle=yes", "", none},
	} {
		extract := valley(osmtest.Node(22, 10.10, 45.03, c.node), osmtest.Way(2, c.way, 3, 21, 22, 20))
		if got := told(Find(surveyOf(t, valleyLine(t), 20_000, extract))); !slices.Equal(got, c.want) {
			t.Errorf("%s, node %s: %q, want %q", c.way, c.node, got, c.want)
		}
	}
}

// A road that crosses the line without a node of its road is a bridge: nobody leaves the
// line there. Where the line lies on no road of the map it is left at what it crosses.
func TestBridges(t *testing.T) {
	over := []any{osmtest.Node(30, 10.10001, 44.97, ""), osmtest.Node(31, 10.10001, 45.03, ""),
		osmtest.Way(2, "highway=motorway oneway=no bridge=yes", 30, 31, 20)}
	if got := told(Find(surveyOf(t, valleyLine(t), 20_000, valley(over...)))); len(got) > 0 {
		t.Errorf("over a bridge: %q", got)
	}
	var points []orb.Point // 1.1 km north of the road
	for k := range 401 {
		points = append(points, orb.Point{10 + 0.0005*float64(k), 45.01})
	}
	want := []string{"km 7.9 North N"}
	got := told(Find(surveyOf(t, lineOf(t, points...), 20_000, valley(over...))))
	if got = slices.DeleteFunc(got, func(s string) bool { return !strings.HasPrefix(s, "km") }); !slices.Equal(got, want) {
		t.Errorf("across open country: %q, want %q", got, want)
	}
}

// A roundabout is ridden around, and the ground of each metre is that of its way: the
// lengths are worked out here.
func TestKilometresByGround(t *testing.T) {
	const metre = 1 / 111194.9 // degrees of latitude on the sphere of the design
	ring := []any{
		osmtest.Node(41, 10.10+100*metre/math.Sqrt2*math.Sqrt2, 45+100*metre, ""), osmtest.Node(42, 10.10, 45+200*metre, ""),
		osmtest.Node(43, 10.10-100*metre*math.Sqrt2, 45+100*metre, ""),
		osmtest.Way(2, "highway=tertiary surface=compacted junction=roundabout", 3, 41, 42, 43, 3),
		osmtest.Node(44, 10.11, 45+100*metre, ""), osmtest.Node(45, 10.11, 45.05, ""),
		osmtest.Way(3, "highway=track surface=sand", 43, 44, 45, 20),
	}
	s := surveyOf(t, valleyLine(t), 40_000, valley(ring...))
	f := Find(s)
	i := slices.IndexFunc(f.Ways, func(w Way) bool { return w.From == "" })
	if i < 0 {
		t.Fatalf("%q", told(f))
	}
	at := func(id int64) orb.Point {
		for _, o := range append(ring, osmtest.Node(3, 10.10, 45, ""), osmtest.Node(20, 10.10, 45.05, "")) {
			if n, ok := o.(*osmfile.Node); ok && n.ID == id {
				return orb.Point{n.Lon, n.Lat}
			}
		}
		t.Fatal(id)
		return orb.Point{}
	}
	length := func(ids ...int64) (sum route.Metres) {
		for k := 1; k < len(ids); k++ {
			sum += route.Distance(at(ids[k-1]), at(ids[k]))
		}
		return sum
	}
	w := f.Ways[i]
	off := route.Distance(at(20), orb.Point{10.1004, 45.0503})
	wantRing, wantSand := length(3, 41, 42, 43)+2.22, length(43, 44, 45, 20) // the line lies 2 m beside the road
	ground := func(g route.Ground) route.Metres { return w.Ground[slices.Index(route.AllGrounds(), g)] }
	if math.Abs(float64(ground(route.PackedGravel)-wantRing)) > 0.1 || ground(route.Sand) < wantSand || ground(route.Sand) > wantSand+off+1 {
		t.Errorf("%v m of ring, want %v; %v m of sand, want %v and up to %v to the pump", ground(route.PackedGravel), wantRing,
			ground(route.Sand), wantSand, off)
	}
	if w.Length() != ground(route.PackedGravel)+ground(route.Sand) || w.TurnOff != (orb.Point{10.10, 45}) {
		t.Errorf("%+v", w)
	}
}

// A private road that is shorter stands behind the open one, and never in its place.
func TestPrivateBesideOpen(t *testing.T) {
	extract := valley(osmtest.Way(2, "highway=tertiary access=private", 3, 21, 20),
		osmtest.Node(30, 10.13, 45.03, ""), osmtest.Way(3, "highway=tertiary", 3, 30, 20))
	want := []string{"Home North NE", "Home North N private", "km 7.9 North NE", "km 7.9 North N private"}
	if got := told(Find(surveyOf(t, valleyLine(t), 20_000, extract))); !slices.Equal(got, want) {
		t.Errorf("%q, want %q", got, want)
	}
}

// Where an extract lacks the nodes of a road it says where; a second one that has them
// makes it whole.
func TestExtractThatEnds(t *testing.T) {
	road := osmtest.Way(2, "highway=tertiary", 3, 21, 50, 20)
	beyond := osmtest.Node(50, 10.10, 45.03, "")
	s := surveyOf(t, valleyLine(t), 20_000, valley(road))
	f := Find(s)
	if len(f.Ways) > 0 || len(s.Roads.Cuts) != 2 {
		t.Fatalf("%q, %v", told(f), s.Roads.Cuts)
	}
	if c := s.Roads.Cuts[0]; c.At != (orb.Point{10.10, 45.02}) || math.Abs(float64(c.Off)-2222) > 10 || math.Abs(float64(c.Km)-7863) > 20 {
		t.Errorf("cut at %+v", c)
	}
	rest := osmtest.PBF([]any{beyond}, 100, false)
	second := osmfile.Extract{Name: "rest", Open: func() (io.ReadCloser, error) { return readCloser{bytes.NewReader(rest)}, nil }}
	s = surveyOf(t, valleyLine(t), 20_000, valley(road), second)
	if f := Find(s); len(f.Ways) != 2 || len(s.Roads.Cuts) > 0 {
		t.Errorf("with the rest: %q, %v", told(f), s.Roads.Cuts)
	}
}

// From a stop the pumps beside it are as dry as it is: the way to the next leads past
// them. From the line it ends at the first.
func TestPumpsOfOnePlace(t *testing.T) {
	extract := valley(osmtest.Way(2, "highway=tertiary", 3, 21, 20),
		osmtest.Node(30, 10.0105, 45.0001, "amenity=fuel name=Neighbour"),
		osmtest.Node(31, 10.1002, 45.0200, "amenity=fuel name=Halfway"))
	s := surveyOf(t, valleyLine(t), 20_000, extract)
	want := []string{"Home Halfway N", "Neighbour Halfway N", "km 7.9 Halfway N"}
	got := told(Find(s))
	got = slices.DeleteFunc(got, func(s string) bool { return strings.HasPrefix(s, "Halfway") })
	if !slices.Equal(got, want) {
		t.Errorf("%q, want %q", got, want)
	}
}

// The list that is written is read again, for this line and no other.
func TestListComesBack(t *testing.T) {
	s := surveyOf(t, valleyLine(t), 20_000, valley(osmtest.Way(2, "highway=tertiary", 3, 21, 20)))
	f := Find(s)
	var b bytes.Buffer
	if err := wayout.Write(&b, f.List(), wayout.Sum(s.Line), survey.Attribution); err != nil {
		t.Fatal(err)
	}
	ways, notes, err := wayout.Read(&b, "roads.csv", wayout.Sum(valleyLine(t)))
	if err != nil || len(notes) > 0 || len(ways) != len(f.Ways) || len(ways) == 0 {
		t.Errorf("%v, %v, %v", ways, notes, err)
	}
}
