package survey

import (
	"bytes"
	"context"
	"math"
	"slices"
	"testing"

	"lastpump/octane"
	"lastpump/route"
	"lastpump/route/land"
	"lastpump/route/osmfile"
	"lastpump/testdata/kit"
	"lastpump/testdata/kit/extracts"

	"github.com/paulmach/orb"
	"github.com/paulmach/orb/geojson"
	"github.com/paulmach/orb/planar"
)

// landLines go through the extracts from end to end.
var landLines = map[string][]route.Point{
	extracts.Andorra:  straight(orb.Point{1.42, 42.44}, orb.Point{1.77, 42.64}),
	extracts.Delaware: straight(orb.Point{-75.55, 38.46}, orb.Point{-75.6, 39.8}),
}

func straight(a, b orb.Point) (out []route.Point) {
	for i := range 2001 {
		out = append(out, route.Point{Point: route.Between(a, b, float64(i)/2000)})
	}
	return out
}

// onPlane gives places in metres about one of them; over a degree or two that is right to a
// hundredth.
func onPlane(about orb.Point) func(orb.Point) orb.Point {
	const degree = 111195
	return func(p orb.Point) orb.Point {
		return orb.Point{(p[0] - about[0]) * degree * math.Cos(about[1]*math.Pi/180), (p[1] - about[1]) * degree}
	}
}

// Every point of every main road of the extract that lies within the reach is drawn within the
// tolerance, by a road of its class, but for crumbs and roundabouts no wider than twice that; and nothing is drawn where there is none; what is left out is
// whole classes. Distances are those of orb on the plane.
func TestLandOfExtracts(t *testing.T) {
	if !kit.Long() {
		t.Skip("LASTPUMP_LONG=1 runs it")
	}
	for name, points := range landLines {
		t.Run(name, func(t *testing.T) {
			line := lineOf(t, points)
			opt := DefaultOptions()
			opt.Scale = octane.ScaleRON
			s := surveyOf(t, line, opt, extracts.CopyOf(t, name))
			see := onPlane(points[1000].Point)
			raw, all := mainRoads(extracts.WorldOf(t, name), line, see)
			drawn := map[string][]orb.LineString{}
			for _, f := range s.Land.Features {
				if f.Kind == land.Road {
					var on orb.LineString
					for _, p := range f.Geometry.(orb.LineString) {
						on = append(on, see(p))
					}
					drawn[f.Class] = append(drawn[f.Class], on)
				}
			}
			tolerance := float64(s.Land.Tolerance) * 1.02 // for the plane of this test
			for class, lines := range raw {
				if len(drawn[class]) == 0 {
					if class != "tertiary" {
						t.Errorf("no %s is drawn", class)
					}
					continue
				}
				if off := farthest(lines, drawn[class], 2*tolerance); off > tolerance {
					t.Errorf("a %s lies %.0f m from what is drawn, tolerance %.0f", class, off, tolerance)
				}
				if off := farthest(drawn[class], all[class], 2*tolerance); off > tolerance {
					t.Errorf("a %s is drawn %.0f m from where there is one, tolerance %.0f", class, off, tolerance)
				}
				t.Logf("%s: %d ways, drawn %d", class, len(lines), len(drawn[class]))
			}
			asGeoJSON(t, s.Land)
		})
	}
}

// mainRoads gives the main roads of an extract by class, on a plane: what of them lies within the reach of
// a line, and all of them.
func mainRoads(w *extracts.World, line *route.Line, see func(orb.Point) orb.Point) (near, all map[string][]orb.LineString) {
	near, all = map[string][]orb.LineString{}, map[string][]orb.LineString{}
	for _, way := range w.Ways {
		class := way.Tags.Find("highway")
		if !slices.Contains(land.RoadClasses, class) || way.Tags.Find("area") == "yes" {
			continue
		}
		var bit, whole orb.LineString
		end := func() {
			if len(bit) > 1 {
				near[class] = append(near[class], bit)
			}
			bit = nil
		}
		for _, id := range way.Nodes {
			n := w.Nodes[id]
			if n == nil {
				end()
				continue
			}
			at := orb.Point{n.Lon, n.Lat}
			whole = append(whole, see(at))
			if c, ok := line.Nearest(at, 0, line.Length()); ok && c.Off < landReach {
				bit = append(bit, see(at))
			} else {
				end()
			}
		}
		end()
		all[class] = append(all[class], whole)
	}
	return near, all
}

// farthest gives how far the points of some lines lie from others at the most; lines that are no
// larger than a crumb are passed over.
func farthest(of, from []orb.LineString, crumb float64) (most float64) {
	for _, l := range of {
		b := l.Bound()
		if math.Hypot(b.Max[0]-b.Min[0], b.Max[1]-b.Min[1]) < crumb {
			continue
		}
		b = b.Pad(700)
		var near []orb.LineString
		for _, f := range from {
			if f.Bound().Intersects(b) {
				near = append(near, f)
			}
		}
		for _, p := range l {
			least := math.Inf(1)
			for _, f := range near {
				for i := 1; i < len(f); i++ {
					if least > 10 && math.Abs(f[i][0]-p[0]) < 40_000 {
						least = min(least, planar.DistanceFromSegment(f[i-1], f[i], p))
					}
				}
			}
			most = max(most, least)
		}
	}
	return most
}

// asGeoJSON reads what is written of a land with another reader, and asks for the rules of RFC
// 7946: rings are closed (3.1.6), the outer one goes against the clock and the others with it.
func asGeoJSON(t *testing.T, l *land.Land) {
	t.Helper()
	var b bytes.Buffer
	if err := land.Write(&b, l); err != nil {
		t.Fatal(err)
	}
	c, err := geojson.UnmarshalFeatureCollection(b.Bytes())
	if err != nil || len(c.Features) != len(l.Features) {
		t.Fatalf("%v, %d features of %d", err, len(c.Features), len(l.Features))
	}
	kinds, points := map[string]int{}, 0
	for _, f := range c.Features {
		kinds[f.Properties.MustString("kind")]++
		switch g := f.Geometry.(type) {
		case orb.LineString:
			points += len(g)
		case orb.Polygon:
			for i, r := range g {
				points += len(r)
				want := orb.CW
				if i == 0 {
					want = orb.CCW
				}
				if !r.Closed() || r.Orientation() != want || len(r) < 4 {
					t.Errorf("ring %d of %v: %v", i, f.Properties, r)
				}
			}
		}
	}
	t.Logf("%d bytes, %d points, %v, tolerance %v m, within %v km", b.Len(), points, kinds, l.Tolerance, l.Within.Kilometres())
	if b.Len() > 1_000_000 {
		t.Error("over a megabyte")
	}
}

// besideLine is 20 km north along 10° E at the equator.
func besideLine(t testing.TB) *route.Line {
	return lineOf(t, straight(orb.Point{10, 0}, orb.Point{10, 20 / 111.195}))
}

// eastOf gives a node so many kilometres east of 10° E and north of the equator.
func eastOf(id int64, east, north float64, tags ...osmfile.Tag) *osmfile.Node {
	return &osmfile.Node{ID: id, Lon: 10 + east/111.195, Lat: north / 111.195, Tags: tags}
}

func primary(id int64, nodes ...int64) *osmfile.Way {
	return &osmfile.Way{ID: id, Nodes: nodes, Tags: osmfile.Tags{{Key: "highway", Value: "primary"}}}
}

// landWithin reads a land that looks for no more than so many nodes beyond those that are held anyway.
func landWithin(t *testing.T, most int, extracts ...osmfile.Extract) *land.Land {
	t.Helper()
	line := besideLine(t)
	c := newCollection(line, DefaultOptions())
	c.beside.most = most
	if err := c.read(context.Background(), extracts); err != nil {
		t.Fatal(err)
	}
	return c.landOf(line)
}

// points lists the kilometres east of all points of roads, in order.
func roadKm(l *land.Land) (km []float64) {
	for _, f := range l.Features {
		if f.Kind == land.Road {
			for _, p := range f.Geometry.(orb.LineString) {
				km = append(km, math.Round((p[0]-10)*111.195))
			}
		}
	}
	slices.Sort(km)
	return km
}

// What lies beyond the corridor of pumps is drawn, in whatever order the file has it, and from whichever
// of two extracts; what lies beyond the reach is not.
func TestLandFromAllExtracts(t *testing.T) {
	nodes := []any{eastOf(1, 1, 5), eastOf(2, 20, 5), eastOf(3, 50, 8), eastOf(4, 50, 50), eastOf(5, 90, 9)}
	ways := []any{primary(1, 1, 2, 3, 4, 5)}
	want := []float64{1, 20, 50, 50}
	for name, l := range map[string]*land.Land{
		"in order":       landWithin(t, mostOuter, named("a", slices.Concat(nodes, ways))),
		"ways first":     landWithin(t, mostOuter, named("a", slices.Concat(ways, nodes))),
		"two extracts":   landWithin(t, mostOuter, named("a", slices.Concat(nodes[:2], ways)), named("b", slices.Concat(nodes[2:], ways))),
		"nodes turned":   landWithin(t, mostOuter, named("a", slices.Concat([]any{nodes[4], nodes[2], nodes[3], nodes[1], nodes[0]}, ways))),
		"ways elsewhere": landWithin(t, mostOuter, named("a", slices.Concat(nodes[:1], nodes[3:])), named("b", slices.Concat(nodes[1:3], ways))),
	} {
		if got := roadKm(l); !slices.Equal(got, want) {
			t.Errorf("%s: %v, want %v", name, got, want)
		}
		if l.Within != landReach || l.Attribution != Attribution || len(l.Line) != 64 {
			t.Errorf("%s: %+v", name, l)
		}
	}
}

// Where there are more nodes than memory is given to, less far off is looked at, down to what is held
// anyway; what is still near is all there.
func TestLandInDenseCountry(t *testing.T) {
	var nodes []any
	id := int64(0)
	for east := 1.0; east < 59; east++ {
		for north := range 20 {
			id++
			nodes = append(nodes, eastOf(id, east, float64(north)))
		}
	}
	first := int64(1)
	var along []int64
	for east := range int64(58) {
		along = append(along, first+20*east)
	}
	for _, c := range []struct {
		most  int
		reach route.Metres
	}{{2000, 60_000}, {900, 40_000}, {600, 26_667}, {10, 5000}} {
		l := landWithin(t, c.most, named("a", append(slices.Clone(nodes), primary(1, along...))))
		if math.Abs(float64(l.Within-c.reach)) > 1 {
			t.Errorf("%d nodes: within %v, want %v", c.most, l.Within, c.reach)
		}
		km := roadKm(l)
		if len(km) < 2 || km[0] != 1 || km[len(km)-1] < math.Floor(min(c.reach.Kilometres(), 58)) || km[len(km)-1] > c.reach.Kilometres()+7 {
			t.Errorf("%d nodes, within %v: roads from %v to %v km", c.most, l.Within, km[0], km[len(km)-1])
		}
	}
}
