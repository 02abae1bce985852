package survey

import (
	"bytes"
	"math"
	"slices"
	"testing"

	"lastpump/octane"
	"lastpump/route"
	"lastpump/route/land"

	"github.com/paulmach/orb"
	"github.com/paulmach/orb/geojson"
	"github.com/paulmach/orb/planar"
)

// landLines go through the extracts from end to end.
var landLines = map[string][]route.Point{
	andorra:  straight(orb.Point{1.42, 42.44}, orb.Point{1.77, 42.64}),
	delaware: straight(orb.Point{-75.55, 38.46}, orb.Point{-75.6, 39.8}),
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
	if !long() {
		t.Skip("LASTPUMP_LONG=1 runs it")
	}
	for name, points := range landLines {
		t.Run(name, func(t *testing.T) {
			line := lineOf(t, points)
			opt := DefaultOptions()
			opt.Scale = octane.ScaleRON
			s := surveyOf(t, line, opt, copyOf(t, name))
			see := onPlane(points[1000].Point)
			w := worldOf(t, name)
			raw, all := map[string][]orb.LineString{}, map[string][]orb.LineString{} // on the plane; raw is what is near
			for _, way := range w.ways {
				class := way.Tags.Find("highway")
				if !slices.Contains(land.RoadClasses, class) || way.Tags.Find("area") == "yes" {
					continue
				}
				var bit, whole orb.LineString
				for _, id := range way.Nodes {
					if n := w.nodes[id]; n != nil {
						at := orb.Point{n.Lon, n.Lat}
						whole = append(whole, see(at))
						if c, ok := line.Nearest(at, 0, line.Length()); ok && c.Off < landReach {
							bit = append(bit, see(at))
							continue
						}
					}
					if len(bit) > 1 {
						raw[class] = append(raw[class], bit)
					}
					bit = nil
				}
				all[class] = append(all[class], whole)
				if len(bit) > 1 {
					raw[class] = append(raw[class], bit)
				}
			}
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
