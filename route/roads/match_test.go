package roads

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"lastpump/route"
	"lastpump/route/flat"

	"github.com/paulmach/orb"
)

// A drawing is a small map in metres about 0,0 where a degree is the same both ways.
type drawing struct{ ways []*Way }

// xy are nodes of a way in metres east and north, in pairs. Two ways share a node
// where both have one at the same place on the same level.
func (d *drawing) add(id int64, level int64, oneway int8, xy ...float64) {
	var run []Node
	for i := 0; i < len(xy); i += 2 {
		p := spotAt(xy[i], xy[i+1])
		lon, lat := int64(math.Round(p[0]*1e7)), int64(math.Round(p[1]*1e7))
		run = append(run, Node{(lon+1e8)*1e9 + (lat+1e8)*4 + level, orb.Point{float64(lon) / 1e7, float64(lat) / 1e7}})
	}
	d.ways = append(d.ways, &Way{ID: id, Oneway: oneway, Runs: [][]Node{run}})
}

func spotAt(x, y float64) orb.Point {
	return orb.Point{x / flat.MetresPerDegree, y / flat.MetresPerDegree}
}

// walked gives points along a polyline in metres, so far apart, each astray by noise.
func walked(apart, noise float64, xy ...float64) (points []route.Point) {
	r := rand.New(rand.NewPCG(11, 12))
	put := func(x, y float64) {
		points = append(points, route.Point{Point: spotAt(x+noise*r.NormFloat64(), y+noise*r.NormFloat64())})
	}
	put(xy[0], xy[1])
	for i := 2; i < len(xy); i += 2 {
		dx, dy := xy[i]-xy[i-2], xy[i+1]-xy[i-1]
		n := math.Max(1, math.Round(math.Hypot(dx, dy)/apart))
		for k := 1.0; k <= n; k++ {
			put(xy[i-2]+dx*k/n, xy[i-1]+dy*k/n)
		}
	}
	return points
}

// under gives the ways under a line, each as often as it is come to, without slips of
// under 30 m at junctions.
func (d *drawing) under(t *testing.T, points ...[]route.Point) (ways []int64) {
	t.Helper()
	for _, m := range New(d.ways).Match(lineOf(t, points...), 2) {
		if m.Length() > 30 && (len(ways) == 0 || ways[len(ways)-1] != m.id()) {
			ways = append(ways, m.id())
		}
	}
	return ways
}

// id gives the number of the way, 0 where there is none.
func (m Match) id() int64 {
	if m.Way == nil {
		return 0
	}
	return m.Way.ID
}

func wantWays(t *testing.T, got []int64, want ...int64) {
	t.Helper()
	if !slices.Equal(got, want) {
		t.Errorf("the line lies on ways %v, want %v", got, want)
	}
}

// A service road runs 20 m beside the main road and leaves it and joins it again: with
// 5 m of noise each is told from the other.
func TestParallelRoads(t *testing.T) {
	var d drawing
	d.add(1, 0, 0, 0, 0, 100, 0, 1900, 0, 2000, 0)
	d.add(2, 0, 0, 100, 0, 120, 20, 1880, 20, 1900, 0)
	wantWays(t, d.under(t, walked(50, 5, 0, 0, 2000, 0)), 1)
	wantWays(t, d.under(t, walked(50, 5, 0, 0, 100, 0, 120, 20, 1880, 20, 1900, 0, 2000, 0)), 1, 2, 1)
}

// Of two carriageways 15 m apart the one counts that leads the way that is ridden,
// even where the noise is nearly as large.
func TestDualCarriageway(t *testing.T) {
	var d drawing
	d.add(1, 0, 1, 0, 0, 3000, 0)
	d.add(2, 0, 1, 3000, 15, 0, 15)
	d.add(3, 0, 0, 3000, 0, 3000, 15)
	wantWays(t, d.under(t, walked(100, 10, 0, 0, 3000, 0)), 1)
	wantWays(t, d.under(t, walked(100, 10, 3000, 15, 0, 15)), 2)
	// A line that is drawn in the middle says by its direction alone where it is.
	wantWays(t, d.under(t, walked(100, 0, 0, 7.5, 3000, 7.5)), 1)
	wantWays(t, d.under(t, walked(100, 0, 3000, 7.5, 0, 7.5)), 2)
}

// A bridge over a road is no junction, however near the line comes to both.
func TestBridgeIsNoJunction(t *testing.T) {
	var d drawing
	d.add(1, 0, 0, -1000, 0, 0, 0, 1000, 0)
	d.add(2, 1, 0, 0, -1000, 0, 0, 0, 1000)
	wantWays(t, d.under(t, walked(50, 5, -1000, 0, 1000, 0)), 1)
	wantWays(t, d.under(t, walked(50, 5, 0, -1000, 0, 1000)), 2)
	// Whoever turns there did not ride along the map: how he came from the one to the
	// other is not known.
	wantWays(t, d.under(t, walked(50, 5, -1000, 0, 0, 0, 0, 1000)), 1, 0, 2)
}

// The arms of a switchback lie 30 m apart; the line does not jump from one to the next,
// and the length on each is that of the arm.
func TestSwitchbacks(t *testing.T) {
	var d drawing
	arms := []float64{0, 0}
	for i := range 6 {
		y := float64(i) * 30
		from, to := 0.0, 400.0
		if i%2 == 1 {
			from, to = to, from
		}
		arms = append(arms, from, y, to, y)
		d.add(int64(i+1), 0, 0, from, y, to, y)
		if i < 5 {
			d.add(int64(100+i), 0, 0, to, y, to, y+30)
		}
	}
	var arm [7]float64
	for _, m := range New(d.ways).Match(lineOf(t, walked(25, 5, arms...)), 2) {
		if m.id() > 0 && m.id() < 7 {
			arm[m.id()] += float64(m.Length())
		} else if m.Way == nil {
			t.Errorf("%.0f m lie on no way", m.Length())
		}
	}
	for i, l := range arm[1:] {
		if math.Abs(l-400) > 60 { // two bends, and noise that makes the line longer
			t.Errorf("%.0f m lie on arm %d, 400 were ridden", l, i+1)
		}
	}
}

// A loop that crosses itself rides the crossing twice, straight on each time.
func TestSelfCrossingLoop(t *testing.T) {
	var d drawing
	d.add(1, 0, 0, -1000, 0, 0, 0, 1000, 0)
	d.add(2, 0, 0, 1000, 0, 1000, 1000, 0, 1000)
	d.add(3, 0, 0, 0, 1000, 0, 0, 0, -1000)
	line := walked(50, 5, -1000, 0, 1000, 0, 1000, 1000, 0, 1000, 0, -1000)
	wantWays(t, d.under(t, line), 1, 2, 3)
	slices.Reverse(line)
	wantWays(t, d.under(t, line), 3, 2, 1)
}

// Where the line leaves the map it is on no way, and beside a road is not on it.
func TestOffTheMap(t *testing.T) {
	var d drawing
	d.add(1, 0, 0, 0, 0, 1000, 0)
	d.add(2, 0, 0, 3000, 0, 4000, 0)
	d.add(3, 0, 0, 0, 70, 4000, 70) // 70 m beside
	wantWays(t, d.under(t, walked(50, 5, 0, 0, 4000, 0)), 1, 0, 2)
	// Across country, over a road: it is crossed, not ridden.
	wantWays(t, d.under(t, walked(50, 5, 500, -800, 500, 900)), 0)
}

// A line that runs beside a road may be a road drawn askew or a track that is not on the
// map: 30 m off it is a guess and says so, 60 m off the road is none of its.
func TestBesideARoad(t *testing.T) {
	for off, want := range map[float64]struct {
		way    int64
		beside bool
	}{5: {1, false}, 15: {1, false}, 30: {1, true}, 60: {0, false}} {
		var d drawing
		d.add(1, 0, 0, 0, 0, 3000, 0)
		found := New(d.ways).Match(lineOf(t, walked(50, 0, 0, off, 3000, off)), 2)
		if len(found) != 1 || found[0].id() != want.way || found[0].Beside != want.beside {
			t.Errorf("%v m beside: %+v", off, found)
		}
	}
}

// A long straight is found under the line wherever it is passed.
func TestLongStraight(t *testing.T) {
	var d drawing
	d.add(1, 0, 0, 0, 0, 300_000, 200_000)
	wantWays(t, d.under(t, walked(100, 5, 150_000, 100_000, 153_000, 102_000)), 1)
	if n := len(New(d.ways).in); n > 6000 {
		t.Errorf("it takes %d cells", n)
	}
}

// Two segments with a gap between them: the gap lies on no way, though a road leads
// through it.
func TestGapLiesOnNoWay(t *testing.T) {
	var d drawing
	d.add(1, 0, 0, 0, 0, 9000, 0)
	found := New(d.ways).Match(lineOf(t, walked(50, 3, 0, 0, 1000, 0), walked(50, 3, 8000, 0, 9000, 0)), 2)
	if len(found) != 3 || found[1].Way != nil || !found[1].Gap || found[0].id() != 1 || found[2].id() != 1 {
		t.Fatalf("%+v", found)
	}
	if l := found[1].Length(); math.Abs(float64(l)-7000) > 15 {
		t.Errorf("the gap is %.0f m long, 7000 are missing", l)
	}
}

// randomDrawing draws ways from corner to corner of a square so many hundreds of metres
// wide.
func randomDrawing(r *rand.Rand, ways, wide int) *drawing {
	var d drawing
	for id := range ways {
		var xy []float64
		for range 2 + r.IntN(4) {
			xy = append(xy, float64(r.IntN(wide)*100), float64(r.IntN(wide)*100))
		}
		d.add(int64(id+1), 0, int8(r.IntN(3)-1), xy...)
	}
	return &d
}

// What is found covers the line from end to end without holes, for any net and line.
func TestMatchesCoverTheLine(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 9))
	for range 200 {
		d := randomDrawing(r, 8, 9)
		var xy []float64
		for range 2 + r.IntN(6) {
			xy = append(xy, float64(r.IntN(900)), float64(r.IntN(900)))
		}
		line := lineOf(t, walked(float64(10+r.IntN(200)), 5, xy...))
		at := route.Metres(0)
		for _, m := range New(d.ways).Match(line, 2) {
			if m.From != at || !(m.To > m.From) {
				t.Fatalf("a stretch from %v to %v after %v", m.From, m.To, at)
			}
			if m.Way != nil && !slices.Contains(d.ways, m.Way) {
				t.Fatalf("no such way: %v", m.Way)
			}
			at = m.To
		}
		if at != line.Length() {
			t.Fatalf("what is found ends at %v, the line at %v", at, line.Length())
		}
	}
}

// The search finds what a table of all shortest ways finds (Floyd 1962).
func TestSearchAgainstFloyd(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 5))
	for range 50 {
		d := randomDrawing(r, 10, 5)
		net := New(d.ways)
		n := len(net.junctions)
		table := make([][]float64, n)
		for i := range table {
			table[i] = make([]float64, n)
			for j := range table[i] {
				if i != j {
					table[i][j] = math.Inf(1)
				}
			}
		}
		for _, e := range net.edges {
			there, back := e.length(), e.length()
			switch e.way.Oneway {
			case 1:
				back *= wrongWay
			case -1:
				there *= wrongWay
			}
			table[e.from][e.to] = math.Min(table[e.from][e.to], there)
			table[e.to][e.from] = math.Min(table[e.to][e.from], back)
		}
		for k := range n {
			for i := range n {
				for j := range n {
					table[i][j] = math.Min(table[i][j], table[i][k]+table[k][j])
				}
			}
		}
		s := newSearch(net)
		for range 20 {
			a, b := int32(r.IntN(len(net.edges))), int32(r.IntN(len(net.edges)))
			ea, eb := &net.edges[a], &net.edges[b]
			from, to := candidate{a, 0}, candidate{b, eb.length()}
			s.run(from, []candidate{to}, math.Inf(1))
			got, _ := s.lengthTo(to)
			want := table[ea.from][eb.to]
			if math.IsInf(got, 1) != math.IsInf(want, 1) || math.Abs(got-want) > 1e-6 {
				t.Fatalf("from junction %d to %d it is %v, the table has %v", ea.from, eb.to, got, want)
			}
			sum := 0.0
			for _, l := range s.hopsTo(to) {
				if l.length < -1e-9 {
					t.Fatalf("a hop of %v m", l.length)
				}
				sum += l.length
			}
			if !math.IsInf(want, 1) && (sum > want+1e-6 || sum < want/wrongWay-1e-6) {
				t.Fatalf("the hops are %v m long, the way costs %v", sum, want)
			}
		}
	}
}

// Chords of 30 km cross roads that they have nothing to do with: they lie on none.
func TestChordsLieOnNoRoad(t *testing.T) {
	var d drawing
	d.add(1, 0, 0, -1000, 0, 12_000, 9000, 20_000, -6000, 31_000, 0)
	if got := d.under(t, walked(30_000, 0, 0, 400, 30_000, 0)); slices.Contains(got, 1) {
		t.Errorf("the line lies on ways %v", got)
	}
}

func lineOf(t testing.TB, segments ...[]route.Point) *route.Line {
	t.Helper()
	line, err := route.NewLine([]route.Track{{Segments: segments}}, route.LineOptions{Stretch: 1, Gaps: route.GapsRide})
	if err != nil {
		t.Fatal(err)
	}
	return line
}
