package survey

import (
	"cmp"
	"context"
	"fmt"
	"maps"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"lastpump/fuel/survey/surface"
	"lastpump/route"

	"github.com/paulmach/orb"

	"lastpump/route/flat"
	"lastpump/route/osmfile"
	"lastpump/testdata/kit"
	"lastpump/testdata/kit/extracts"
)

// A ride is a route chained from ways of a map: the truth that the matching is to give
// back.
type ride struct {
	points []orb.Point // a few metres apart
	ways   []int64     // under the step that ends at each point
	length float64
}

// A chain makes rides from the ways of a map.
type chain struct {
	w     *extracts.World
	links map[int64][]link
	r     *rand.Rand
}

type link struct {
	to     int64
	way    int64
	length float64
}

func newChain(w *extracts.World, seed uint64) *chain {
	c := &chain{w: w, links: map[int64][]link{}, r: rand.New(rand.NewPCG(seed, 4))}
	for _, o := range w.Objects {
		way, ok := o.(*osmfile.Way)
		if !ok || !surface.Rideable(way.Tags) {
			continue
		}
		for i := 1; i < len(way.Nodes); i++ {
			a, b := w.Nodes[way.Nodes[i-1]], w.Nodes[way.Nodes[i]]
			if a == nil || b == nil || a.ID == b.ID {
				continue
			}
			d := float64(route.Distance(pointOf(a), pointOf(b)))
			c.links[a.ID] = append(c.links[a.ID], link{b.ID, way.ID, d})
			c.links[b.ID] = append(c.links[b.ID], link{a.ID, way.ID, d})
		}
	}
	return c
}

func pointOf(n *osmfile.Node) orb.Point { return orb.Point{n.Lon, n.Lat} }

// ride walks from way to way, none twice, until it is long enough or stuck. At a
// junction it goes on as straight as it can, or now and then any other way.
func (c *chain) ride(start int64, least float64, prefer func(int64) bool) *ride {
	out := &ride{points: []orb.Point{pointOf(c.w.Nodes[start])}, ways: []int64{0}}
	ridden := map[[2]int64]bool{}
	at, heading, way := start, math.NaN(), int64(0)
	for out.length < least {
		var best *link
		score := math.Inf(1)
		for i := range c.links[at] {
			l := &c.links[at][i]
			if ridden[[2]int64{at, l.to}] || ridden[[2]int64{l.to, at}] {
				continue
			}
			turn := math.Abs(math.Remainder(bearing(pointOf(c.w.Nodes[at]), pointOf(c.w.Nodes[l.to]))-heading, 360))
			if math.IsNaN(turn) {
				turn = 0
			}
			s := turn + 60*c.r.Float64()
			if l.way == way {
				s -= 30
			}
			if prefer(l.way) {
				s -= 120
			}
			if s < score {
				score, best = s, l
			}
		}
		if best == nil {
			return out
		}
		ridden[[2]int64{at, best.to}] = true
		from, to := pointOf(c.w.Nodes[at]), pointOf(c.w.Nodes[best.to])
		n := math.Ceil(best.length / 5)
		for i := range int(n) {
			out.points = append(out.points, route.Between(from, to, float64(i+1)/n))
			out.ways = append(out.ways, best.way)
		}
		out.length += best.length
		heading, at, way = bearing(from, to), best.to, best.way
	}
	return out
}

func bearing(a, b orb.Point) float64 {
	return math.Atan2((b[0]-a[0])*math.Cos(a[1]*math.Pi/180), b[1]-a[1]) * 180 / math.Pi
}

// recorded gives a ride as it may stand in a file: a point every so many metres, each
// astray by a normal distribution to either side; true are the points' places on the
// ride.
func (d *ride) recorded(noise, apart float64, r *rand.Rand) (points []route.Point, at []int) {
	along := math.Inf(1)
	for i, p := range d.points {
		if i > 0 {
			along += float64(route.Distance(d.points[i-1], p))
		}
		if along < apart && i < len(d.points)-1 {
			continue
		}
		along = 0
		east := noise * r.NormFloat64() / (flat.MetresPerDegree * math.Cos(p[1]*math.Pi/180))
		north := noise * r.NormFloat64() / flat.MetresPerDegree
		points = append(points, route.Point{Point: orb.Point{p[0] + east, p[1] + north}})
		at = append(at, i)
	}
	return points, at
}

// A tally counts kilometres by the true ground: all, those given back to the true way,
// to the true ground.
type tally map[route.Ground]*[3]float64

// count counts a ride.
func (y tally) count(d *ride, at []int, line *route.Line, found []Match, w *extracts.World) {
	// What lies under the truth between two points of the file lies under the line
	// between them.
	k, i := 0, 0
	var last route.Vertex
	for v := range line.Vertices() {
		if i > 0 {
			for p := at[i-1] + 1; p <= at[i]; p++ {
				share := (float64(p-at[i-1]) - 0.5) / float64(at[i]-at[i-1])
				pos := last.At + route.Metres(share)*(v.At-last.At)
				for k < len(found)-1 && found[k].To < pos {
					k++
				}
				f := surface.Of(w.Ways[d.ways[p]].Tags)
				km := float64(route.Distance(d.points[p-1], d.points[p])) / 1000
				c := y[f.Ground]
				if c == nil {
					c = new([3]float64)
					y[f.Ground] = c
				}
				c[0] += km
				if way := found[k].Way; way != nil && way.ID == d.ways[p] {
					c[1] += km
				}
				if found[k].Ground == f.Ground {
					c[2] += km
				}
			}
		}
		last = v
		i++
	}
}

// ridesOn chains rides of 30 km and more on a map, half of them where it is unpaved
// if it can be.
func ridesOn(t testing.TB, name string, seed uint64, n int) []*ride {
	w := extracts.WorldOf(t, name)
	c := newChain(w, seed)
	var starts []int64
	for id := range c.links {
		starts = append(starts, id)
	}
	slices.Sort(starts)
	unpaved := func(id int64) bool { return surface.Of(w.Ways[id].Tags).Ground != route.Paved }
	any := func(int64) bool { return false }
	var out []*ride
	for tries := 0; len(out) < n; tries++ {
		if tries > 20000 {
			t.Fatalf("no %d rides of 30 km on %s", n, name)
		}
		prefer := any
		if len(out)%2 == 0 {
			prefer = unpaved
		}
		if d := c.ride(starts[c.r.IntN(len(starts))], 30_000, prefer); d.length >= 30_000 {
			out = append(out, d)
		}
	}
	return out
}

// A trial is rides on a map with what was brought in from it for them.
type trial struct {
	w     *extracts.World
	rides []*ride
	near  *collection
}

func trialOn(t testing.TB, name string, seed uint64, n int) trial {
	tr := trial{w: extracts.WorldOf(t, name), rides: ridesOn(t, name, seed, n)}
	var segments [][]route.Point
	for _, d := range tr.rides {
		var points []route.Point
		for _, p := range d.points {
			points = append(points, route.Point{Point: p})
		}
		segments = append(segments, points)
	}
	tr.near = newCollection(lineOf(t, segments...), DefaultOptions())
	if err := tr.near.read(context.Background(), []osmfile.Extract{extracts.CopyOf(t, name)}); err != nil {
		t.Fatal(err)
	}
	return tr
}

// Of lines with noise of 5 m and points up to 100 m apart 98 % of the kilometres come
// back to the true way and to its ground, of worse ones a little less. What is reached
// is logged.
func TestGivenBackToTheTrueWay(t *testing.T) {
	if !kit.Long() {
		t.Skip("rides over two countries: a long run")
	}
	const rides = 6
	trials := []trial{trialOn(t, extracts.Andorra, 1, rides), trialOn(t, extracts.Delaware, 1, rides)}
	for _, c := range []struct {
		noise, apart float64 // metres
		least        float64 // per cent, of way and of ground
	}{
		{5, 50, 98}, {10, 100, 95}, {5, 10, 98}, {5, 100, 98}, {10, 10, 95}, {10, 50, 95}, {5, 500, 90},
	} {
		y := tally{}
		for _, tr := range trials {
			for k, d := range tr.rides {
				points, at := d.recorded(c.noise, c.apart, rand.New(rand.NewPCG(7, uint64(k))))
				line := lineOf(t, points)
				if line.Points() != len(points) {
					t.Fatalf("%d points of %d are left", line.Points(), len(points))
				}
				y.count(d, at, line, tr.near.match(line, 2), tr.w)
			}
		}
		t.Logf("noise %.0f m, points %.0f m apart: %v", c.noise, c.apart, y)
		all := y.all()
		if all[0] < 200 || len(y) < 4 {
			t.Errorf("%.0f km on %d grounds prove too little", all[0], len(y))
		}
		for i, what := range []string{"way", "ground"} {
			if share := 100 * all[i+1] / all[0]; share < c.least {
				t.Errorf("noise %v m, points %v m apart: %.2f %% come back to the true %s, at least %v %% are wanted", c.noise,
					c.apart, share, what, c.least)
			}
		}
		for g, km := range y {
			if share := 100 * km[2] / km[0]; km[0] > 5 && share < c.least-5 {
				t.Errorf("noise %v m, points %v m apart: of %s only %.2f %% come back", c.noise, c.apart, g, share)
			}
		}
	}
}

func (y tally) all() (all [3]float64) {
	for _, c := range y {
		for i := range all {
			all[i] += c[i]
		}
	}
	return all
}

// String gives the shares for all and for each ground.
func (y tally) String() string {
	all := y.all()
	text := fmt.Sprintf("%.0f km, to the true way %.2f %%, to the true ground %.2f %%", all[0], 100*all[1]/all[0],
		100*all[2]/all[0])
	grounds := slices.SortedFunc(maps.Keys(y), func(a, b route.Ground) int { return cmp.Compare(y[b][0], y[a][0]) })
	for _, g := range grounds {
		text += fmt.Sprintf("\n    %-14s %6.1f km  %6.2f %%  %6.2f %%", g, y[g][0], 100*y[g][1]/y[g][0], 100*y[g][2]/y[g][0])
	}
	return text
}
