package outward

import (
	"cmp"
	"container/heap"
	"context"
	"math"
	"slices"
	"testing"

	"lastpump/fuel"
	"lastpump/fuel/survey"
	"lastpump/fuel/wayout"
	"lastpump/route"
	"lastpump/route/osmfile"
	"lastpump/route/roads/net"
	"lastpump/testdata/kit"
	"lastpump/testdata/kit/extracts"

	"github.com/paulmach/orb"
)

// A reachedBy is how a node is reached: what that costs, how long it is, by which road
// one sets out.
type reachedBy struct {
	cost   int64
	length route.Metres
	first  int32
}

// plain is the search as the textbook has it (Dijkstra 1959), from one node forwards to
// all, on the roads without some marks.
func plain(n *net.Net, from int32, weights []float64, closed wayout.Marks) []reachedBy {
	reached := slices.Repeat([]reachedBy{{math.MaxInt64, 0, -1}}, n.Nodes())
	reached[from].cost = 0
	q := &plainQueue{{from, 0}}
	for q.Len() > 0 {
		at := heap.Pop(q).(plainNode)
		here := reached[at.node]
		if at.cost > here.cost {
			continue
		}
		for arc := range n.Leaving(at.node) {
			e := n.Edge(arc.Edge)
			if wayout.Marks(e.Marks)&closed != 0 {
				continue
			}
			c := at.cost + int64(math.Round(math.Round(float64(e.Length)*100)*weights[e.Ground]))
			if c >= reached[arc.To].cost {
				continue
			}
			first := here.first
			if first < 0 {
				first = arc.Edge
			}
			reached[arc.To] = reachedBy{c, here.length + e.Length, first}
			heap.Push(q, plainNode{arc.To, c})
		}
	}
	return reached
}

type plainNode struct {
	node int32
	cost int64
}
type plainQueue []plainNode

func (q plainQueue) Len() int           { return len(q) }
func (q plainQueue) Less(i, j int) bool { return q[i].cost < q[j].cost }
func (q plainQueue) Swap(i, j int)      { q[i], q[j] = q[j], q[i] }
func (q *plainQueue) Push(x any)        { *q = append(*q, x.(plainNode)) }
func (q *plainQueue) Pop() any {
	old := *q
	x := old[len(old)-1]
	*q = old[:len(old)-1]
	return x
}

func lineOf(t testing.TB, points ...orb.Point) *route.Line {
	t.Helper()
	var all []route.Point
	for _, p := range points {
		all = append(all, route.Point{Point: p})
	}
	line, err := route.NewLine([]route.Track{{Segments: [][]route.Point{all}}}, route.LineOptions{Stretch: 1, Gaps: route.GapsRide})
	if err != nil {
		t.Fatal(err)
	}
	return line
}

func surveyOf(t testing.TB, line *route.Line, reach route.Metres, maps ...osmfile.Extract) *survey.Survey {
	t.Helper()
	opt := survey.DefaultOptions()
	opt.Scale, opt.Cores, opt.WaysOut = "RON", 2, reach
	s, err := survey.Read(context.Background(), line, maps, opt)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// rideOver makes a line along roads of a map: the way with the least fuel between two
// places, as a survey of a straight line between them has the roads.
func rideOver(t testing.TB, extract osmfile.Extract, places ...orb.Point) *route.Line {
	t.Helper()
	s := surveyOf(t, lineOf(t, places...), 30_000, extract)
	n := s.Roads.Net
	spots := n.Snap(places, 5000, 20_000)
	nodes := n.Split(spots)
	var points []orb.Point
	for i := 1; i < len(nodes); i++ {
		to := n.Search(net.Query{Sources: []net.Source{{Node: nodes[i]}}, Weights: []float64{1}, Keep: 1, Bound: 1e6})
		for way := range to.Best(nodes[i-1]) {
			for arc := range to.Steps(way) {
				f := finder{net: n}
				points = f.extend(points, arc)
			}
		}
	}
	return lineOf(t, points...)
}

// On maps of two real regions the ways are those which the plain search finds from every
// stop and every place on the line to every pump: the cheapest, in order, none past
// another pump, none missing.
func TestWaysOfRealMapsAgainstPlainDijkstra(t *testing.T) {
	if !kit.Long() {
		t.Skip("two maps are read: a long run")
	}
	for _, c := range []struct {
		name   string
		reach  route.Metres
		places []orb.Point
	}{
		{extracts.Andorra, 25_000, []orb.Point{{1.49, 42.44}, {1.58, 42.54}, {1.73, 42.54}}},
		{extracts.Delaware, 15_000, []orb.Point{{-75.59, 38.46}, {-75.40, 38.91}, {-75.67, 39.45}}},
	} {
		extract := extracts.Of(t, c.name)
		line := rideOver(t, extract, c.places...)
		f := newFinder(surveyOf(t, line, c.reach, extract))
		f.place()
		f.look()
		origins := slices.Clone(f.stops)
		for node, at := range f.places {
			origins = append(origins, origin{-1, node, at[0]})
		}
		slices.SortFunc(origins, compareOrigins)
		ways, tried := 0, 0
		for _, o := range origins {
			tried++
			ways += checkOrigin(t, f, o)
		}
		f.finish()
		t.Logf("%s: %.0f km of line, %d edges, %d pumps, %d stops, %d places; %d ways of %d beginnings", c.name,
			line.Length().Kilometres(), f.net.Edges(), len(f.pumps), len(f.stops), len(f.places), ways, tried)
		if ways < 10 {
			t.Errorf("%d ways are no test", ways)
		}
	}
}

// checkOrigin works the open ways from an origin out by the definition.
func checkOrigin(t *testing.T, f *finder, o origin) int {
	t.Helper()
	weights := make([]float64, len(f.weights))
	for i, g := range route.AllGrounds() {
		weights[i] = fuel.GeneralWeight(g).Likely
	}
	dry := func(int32) bool { return false }
	if o.stop >= 0 {
		dry = f.besides(f.listed[o.stop].Stop.At)
	}
	type to struct {
		pump int32
		cost int64
	}
	from := plain(f.net, o.node, weights, wayout.Doubtful)
	off := func(p int32) int64 {
		return int64(math.Round(math.Round(float64(f.offs[p].Off)*100) * weights[f.net.Edge(f.offs[p].Edge).Ground]))
	}
	var all []to
	for p, node := range f.pumps {
		if node >= 0 && from[node].cost != math.MaxInt64 && !dry(int32(p)) {
			if c := from[node].cost + off(int32(p)); c <= int64(f.Options.WaysOut*route.Metres(f.hardest())*100) {
				all = append(all, to{int32(p), c})
			}
		}
	}
	slices.SortFunc(all, func(a, b to) int { return cmp.Or(cmp.Compare(a.cost, b.cost), cmp.Compare(a.pump, b.pump)) })
	var want []to
	for i, b := range all {
		past := slices.ContainsFunc(all[:i], func(a to) bool {
			on := plainFrom(f, a.pump, weights)[f.pumps[b.pump]].cost
			return on != math.MaxInt64 && a.cost-off(a.pump)+on+off(b.pump) <= b.cost
		})
		by := from[f.pumps[b.pump]]
		tooLong := by.length+f.offs[b.pump].Off > f.Options.WaysOut
		if !past && !tooLong && (o.stop >= 0 || by.first >= 0 && !f.near.along(by.first)) && len(want) < mostWays {
			want = append(want, b)
		}
	}
	var got []found
	for _, w := range f.ways[o] {
		if !w.doubtful {
			got = append(got, w)
		}
	}
	slices.SortStableFunc(got, compareFound)
	got = got[:min(len(got), mostWays)]
	// A place on the line knows of no more pumps than are kept.
	if few := o.stop < 0 && len(all) > kept; len(got) > len(want) || len(got) < len(want) && !few {
		t.Fatalf("from %v there are %d ways, want %v", o, len(got), want)
	}
	for i, w := range got {
		if want[i].pump != w.source || want[i].cost != int64(w.cost) {
			t.Fatalf("from %v to %s costs %d, want %v", o, w.To, w.cost, want)
		}
		checkWay(t, f, o, w)
	}
	return len(got)
}

var plainKnown = map[*finder]map[int32][]reachedBy{}

// plainFrom is the plain search from the node of a pump.
func plainFrom(f *finder, pump int32, weights []float64) []reachedBy {
	if plainKnown[f] == nil {
		clear(plainKnown)
		plainKnown[f] = map[int32][]reachedBy{}
	}
	if plainKnown[f][pump] == nil {
		plainKnown[f][pump] = plain(f.net, f.pumps[pump], weights, wayout.Doubtful)
	}
	return plainKnown[f][pump]
}

// checkWay wants of a way that its kilometres are those of its shape and of its cost.
func checkWay(t *testing.T, f *finder, o origin, w found) {
	t.Helper()
	shape := route.Metres(0)
	for i := 1; i < len(w.Shape); i++ {
		shape += route.Distance(w.Shape[i-1], w.Shape[i])
	}
	begin := f.Line.At(o.along)
	if o.stop >= 0 {
		begin = f.listed[o.stop].Stop.At
	}
	ends := f.offs[w.source].Off + route.Distance(begin, f.net.Where(o.node))
	if off := w.Length() - shape - ends; math.Abs(float64(off)) > 0.5+float64(shape)/1e5 {
		t.Errorf("%s to %s is %v long, its shape %v and its ends %v", w.From, w.To, w.Length(), shape, ends)
	}
	if w.Length()-ends > f.Options.WaysOut {
		t.Errorf("%s to %s is %v long", w.From, w.To, w.Length())
	}
	sum := 0.0
	for i, m := range w.Ground {
		sum += float64(m) * fuel.GeneralWeight(route.AllGrounds()[i]).Likely
	}
	if least := float64(w.cost) / 100; sum < least-1 || sum > least+float64(ends)*f.hardest()+1 {
		t.Errorf("%s to %s: its grounds cost %v, the way %v", w.From, w.To, sum, least)
	}
}
