package survey

import (
	"cmp"
	"math"
	"slices"
	"strings"
	"testing"

	"lastpump/octane"
	"lastpump/route"

	"github.com/paulmach/orb"

	"lastpump/route/osmfile"
	"lastpump/testdata/kit"
	"lastpump/testdata/kit/extracts"
)

// Here the pumps near a line are found by looking at every object of the extract and
// every few metres of the line, with a sphere of our own: nothing of the package is
// used but the tags that it leaves out.

type bruteStation struct {
	id       osmfile.Ref
	name     string
	outlines [][]orb.Point
	off      float64
}

// sphereDistance is by the spherical law of cosines in its half-angle form, on the
// mean radius of Moritz (2000).
func sphereDistance(a, b orb.Point) float64 {
	const r, d = 6371008.8, math.Pi / 180
	s := math.Pow(math.Sin((b[1]-a[1])*d/2), 2) + math.Cos(a[1]*d)*math.Cos(b[1]*d)*math.Pow(math.Sin((b[0]-a[0])*d/2), 2)
	return 2 * r * math.Asin(math.Sqrt(s))
}

// dense gives points no more than so many metres apart.
func dense(points []orb.Point, apart float64) (out []orb.Point) {
	for i, p := range points {
		if i > 0 {
			q := points[i-1]
			n := math.Ceil(sphereDistance(q, p) / apart)
			for k := 1.0; k < n; k++ {
				out = append(out, orb.Point{q[0] + (p[0]-q[0])*k/n, q[1] + (p[1]-q[1])*k/n})
			}
		}
		out = append(out, p)
	}
	return out
}

// leastDistance leaves out what is farther than the best so far in latitude or, up to
// 47° where a degree of longitude is over 75 km, in longitude alone.
func leastDistance(a, b []orb.Point) float64 {
	least := math.Inf(1)
	for _, p := range a {
		for _, q := range b {
			if math.Abs(p[1]-q[1])*111_000 < least && math.Abs(p[0]-q[0])*75_000 < least {
				least = min(least, sphereDistance(p, q))
			}
		}
	}
	return least
}

// toLine is the least distance from a place to a line, straight from point to point, on
// a plane about the place.
func toLine(p orb.Point, line []orb.Point) float64 {
	const d = math.Pi / 180 * 6371008.8
	east := d * math.Cos(p[1]*math.Pi/180)
	least := math.Inf(1)
	for i := 1; i < len(line); i++ {
		ax, ay := (line[i-1][0]-p[0])*east, (line[i-1][1]-p[1])*d
		dx, dy := (line[i][0]-line[i-1][0])*east, (line[i][1]-line[i-1][1])*d
		t := math.Max(0, math.Min(1, -(ax*dx+ay*dy)/(dx*dx+dy*dy)))
		least = math.Min(least, math.Hypot(ax+t*dx, ay+t*dy))
	}
	return least
}

// brute lists the pumps of a world with their distance to a line, of those within
// a kilometre beyond the corridor.
func (w world) brute(line []orb.Point, corridor float64) (out []bruteStation) {
	along := dense(line, 200) // as straightLine draws it
	for _, o := range w.Objects {
		s := bruteStation{off: math.Inf(1)}
		var tags osmfile.Tags
		switch o := o.(type) {
		case *osmfile.Node:
			s.id, tags, s.outlines = nodeRef(o.ID), o.Tags, [][]orb.Point{{pointOf(o)}}
		case *osmfile.Way:
			s.id, tags = wayRef(o.ID), o.Tags
			if tags.Find("amenity") == "fuel" {
				s.outlines = [][]orb.Point{w.outline(o)}
			}
		case *osmfile.Relation:
			s.id, tags = relationRef(o.ID), o.Tags
			if tags.Find("amenity") == "fuel" {
				s.outlines = w.members(o)
			}
		}
		if tags.Find("amenity") != "fuel" || tags.Find("access") == "private" || tags.Find("access") == "no" {
			continue
		}
		s.name = strings.ToLower(cmp.Or(tags.Find("name"), tags.Find("brand"), tags.Find("operator")))
		for _, l := range s.outlines {
			for _, p := range dense(l, 1) {
				s.off = min(s.off, toLine(p, along))
			}
		}
		if s.off < corridor+1000 {
			out = append(out, s)
		}
	}
	return out
}

func (w world) outline(way *osmfile.Way) (out []orb.Point) {
	for _, id := range way.Nodes {
		if at := w.Nodes[id]; at != nil {
			out = append(out, pointOf(at))
		}
	}
	return out
}

func (w world) members(r *osmfile.Relation) (out [][]orb.Point) {
	for _, m := range r.Members {
		if way := w.Ways[m.ID]; m.Kind == osmfile.IsWay && way != nil {
			out = append(out, w.outline(way))
		}
		if n := w.Nodes[m.ID]; m.Kind == osmfile.IsNode && n != nil {
			out = append(out, []orb.Point{pointOf(n)})
		}
	}
	return out
}

// inside is the even-odd rule.
func inside(p orb.Point, ring []orb.Point) (in bool) {
	if len(ring) < 4 || ring[0] != ring[len(ring)-1] {
		return false
	}
	for i := 1; i < len(ring); i++ {
		a, b := ring[i-1], ring[i]
		if (a[1] > p[1]) != (b[1] > p[1]) && p[0] < a[0]+(p[1]-a[1])/(b[1]-a[1])*(b[0]-a[0]) {
			in = !in
		}
	}
	return in
}

// double tells whether two objects are one station, by the rule: one in the other's
// outline, or one name within 60 m.
func (s bruteStation) double(o bruteStation) bool {
	near := math.Inf(1)
	for _, a := range s.outlines {
		for _, b := range o.outlines {
			for _, p := range a {
				if inside(p, b) {
					return true
				}
			}
			for _, p := range b {
				if inside(p, a) {
					return true
				}
			}
			near = min(near, leastDistance(dense(a, 0.5), dense(b, 0.5)))
		}
	}
	return s.name != "" && s.name == o.name && near <= 60
}

// grouped joins the objects within the corridor that are one station.
func grouped(all []bruteStation, corridor float64) (groups [][]bruteStation) {
	for _, s := range all {
		if s.off > corridor {
			continue
		}
		var with, without [][]bruteStation
		for _, g := range groups {
			if slices.ContainsFunc(g, s.double) {
				with = append(with, g)
			} else {
				without = append(without, g)
			}
		}
		groups = append(without, append(slices.Concat(with...), s))
	}
	return groups
}

func straightLine(t testing.TB, points []orb.Point) *route.Line {
	t.Helper()
	var p []route.Point
	for _, q := range dense(points, 200) {
		p = append(p, route.Point{Point: q})
	}
	return lineOf(t, p)
}

var bruteLines = []struct {
	name     string
	points   []orb.Point
	corridor float64
	scale    octane.Scale
}{
	{extracts.Andorra, []orb.Point{{1.528, 42.484}, {1.461, 42.582}, {1.675, 42.597}, {1.472, 42.481}}, 2000, "RON"},
	{extracts.Andorra, []orb.Point{{1.463, 42.566}, {1.490, 42.506}, {1.646, 42.459}, {1.743, 42.461}}, 5000, "RON"},
	{extracts.Andorra, []orb.Point{{1.491, 42.481}, {1.559, 42.528}, {1.706, 42.537}, {1.646, 42.484}}, 2000, "RON"},
	{extracts.Delaware, []orb.Point{{-75.549, 38.785}, {-75.284, 39.563}, {-75.576, 39.751}, {-75.427, 38.984}}, 2000, "AKI"},
	{extracts.Delaware, []orb.Point{{-75.136, 38.886}, {-75.652, 39.783}, {-75.340, 39.450}, {-75.461, 39.752}}, 3000, "AKI"},
	{extracts.Delaware, []orb.Point{{-75.245, 38.723}, {-75.567, 38.603}, {-75.392, 38.700}, {-75.549, 39.676}}, 5000, "AKI"},
}

func TestPumpsAreThoseOfEveryObject(t *testing.T) {
	for i, c := range bruteLines {
		if i%3 > 0 && !kit.Long() {
			continue
		}
		w := world{extracts.WorldOf(t, c.name)}
		all := w.brute(c.points, c.corridor)
		opt := DefaultOptions()
		opt.Corridor, opt.Scale, opt.Cores = route.Metres(c.corridor), c.scale, 2
		s := surveyOf(t, straightLine(t, c.points), opt, extracts.CopyOf(t, c.name))
		groups := grouped(all, c.corridor)
		ways, doubles, outside := 0, 0, 0
		for _, b := range all {
			if math.Abs(b.off-c.corridor) < 1 {
				t.Fatalf("%v lies %v m off: that is for rounding to say", b.id, b.off)
			}
			if b.off > c.corridor && b.off < c.corridor+500 {
				outside++
			}
		}
		found := map[osmfile.Ref]Pump{}
		for _, p := range s.Pumps {
			found[p.Ref] = p
		}
		for _, g := range groups {
			n := 0
			least := math.Inf(1)
			for _, b := range g {
				least = min(least, b.off)
				if b.id.Kind == osmfile.IsWay {
					ways++
				}
			}
			for _, b := range g {
				if p, ok := found[b.id]; ok {
					n++
					if math.Abs(float64(p.Off)-least) > 0.6 {
						t.Errorf("%s: %v lies %.1f m off, found at %.1f", c.name, b.id, least, p.Off)
					}
				}
			}
			if n != 1 {
				t.Errorf("%s: a station of %d objects from %v on, %.0f m off, was found %d times", c.name, len(g), g[0].id,
					g[0].off, n)
			}
			if len(g) > 1 {
				doubles++
			}
		}
		if len(found) != len(s.Pumps) || len(groups) != len(s.Pumps) {
			t.Errorf("%s: %d pumps found, %d there are", c.name, len(s.Pumps), len(groups))
		}
		t.Logf("%s: %d stations, %d ways, %d doubled, %d just outside the corridor", c.name, len(groups), ways, doubles,
			outside)
		if len(groups) < 5 || ways == 0 || doubles == 0 || outside == 0 {
			t.Errorf("%s %v: the line proves too little", c.name, c.points)
		}
	}
}
