package net_test

import (
	"iter"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"lastpump/route"
	"lastpump/route/roads/net"
	"lastpump/testdata/kit"

	"github.com/paulmach/orb"
)

// plain is the search as the textbook has it (Dijkstra 1959): from one node, forwards,
// to all nodes, by looking through all that are not done for the nearest.
func plain(n *net.Net, from int32, weights []float64, closed uint8) (cost []uint32) {
	cost = slices.Repeat([]uint32{math.MaxUint32}, n.Nodes())
	done := make([]bool, n.Nodes())
	cost[from] = 0
	open := map[int32]bool{from: true}
	for len(open) > 0 {
		at := int32(-1)
		for node := range open {
			if at < 0 || cost[node] < cost[at] {
				at = node
			}
		}
		delete(open, at)
		done[at] = true
		for arc := range n.Leaving(at) {
			e := n.Edge(arc.Edge)
			if e.Marks&closed != 0 || done[arc.To] {
				continue
			}
			if c := cost[at] + costOf(e, weights); c < cost[arc.To] {
				cost[arc.To], open[arc.To] = c, true
			}
		}
	}
	return cost
}

func costOf(e net.Edge, weights []float64) uint32 {
	return uint32(math.Round(math.Round(float64(e.Length)*100) * weights[e.Ground]))
}

// A wanted way is one that Best is to give.
type wanted struct {
	source int32
	cost   uint32
}

// wantBest gives by the definition what Best is to give: of the cheapest ways to all
// sources those that do not lead past another that comes before.
func wantBest(from []uint32, past [][]uint32, offs []uint32, nodes []int32, most int, through func(int32) bool) (out []wanted) {
	var all []wanted
	for s := range offs {
		if nodes[s] >= 0 && from[nodes[s]] != math.MaxUint32 && !through(int32(s)) {
			all = append(all, wanted{int32(s), from[nodes[s]] + offs[s]})
		}
	}
	slices.SortFunc(all, func(a, b wanted) int {
		if a.cost != b.cost {
			return int(int64(a.cost) - int64(b.cost))
		}
		return int(a.source - b.source)
	})
	for i, b := range all {
		continues := slices.ContainsFunc(all[:i], func(a wanted) bool {
			on := past[a.source][nodes[b.source]]
			return on != math.MaxUint32 && a.cost-offs[a.source]+on+offs[b.source] <= b.cost
		})
		if !continues && len(out) < most {
			out = append(out, b)
		}
	}
	return out
}

var testWeights = []float64{1, 1.05, 1.25, 1.8}

// drawn makes a random net about a place: a grid of streets of which some are missing,
// with bends, holes, one-way streets, closed ones, and bridges.
func drawn(r *rand.Rand, side int) *net.Net {
	var b net.Builder
	place := func(x, y int) net.Place {
		return net.Place{Lon: int32(100_000_000 + x*20_000 + r.IntN(9_000)), Lat: int32(450_000_000 + y*20_000 + r.IntN(9_000))}
	}
	places := map[[2]int]net.Place{}
	node := func(x, y int) net.Node {
		if _, ok := places[[2]int{x, y}]; !ok {
			places[[2]int{x, y}] = place(x, y)
		}
		return net.Node{ID: int64(1 + y*side + x), Place: places[[2]int{x, y}]}
	}
	extra := int64(1 << 40)
	id := int64(0)
	for k := range 2 * side {
		var nodes []net.Node
		add := func() {
			if len(nodes) > 0 {
				id++
				f := net.Facts{Ground: uint8(r.IntN(4)), Marks: uint8(r.IntN(5) / 4), Oneway: int8(max(0, r.IntN(12)-9)) - int8(max(0, r.IntN(12)-10))}
				f.Oneway = max(min(f.Oneway, 1), -1)
				b.Add(id*7%1009, nodes, f)
			}
			nodes = nil
		}
		for i := range side {
			n := node(i, k/2)
			if k%2 == 1 {
				n = node(k/2, i)
			}
			switch r.IntN(10) {
			case 0:
				nodes = append(nodes, net.Node{}) // a hole
			case 1:
				nodes = append(nodes, n)
				add()
				nodes = append(nodes, n)
			case 2: // a bend that is no crossing
				extra++
				nodes = append(nodes, net.Node{ID: extra, Place: place(i, k/2)})
			default:
				nodes = append(nodes, n)
			}
		}
		add()
	}
	return b.Net()
}

// spotsOn draws spots on a net, some of them on a node or where another is.
func spotsOn(r *rand.Rand, n *net.Net, count int) (spots []net.Spot) {
	for range count {
		e := int32(r.IntN(n.Edges()))
		along := n.Edge(e).Length * route.Metres(r.Float64())
		switch r.IntN(6) {
		case 0:
			along = 0
		case 1:
			along = n.Edge(e).Length
		case 2:
			if len(spots) > 0 {
				e, along = spots[0].Edge, spots[0].Along
			}
		}
		spots = append(spots, net.Spot{Edge: e, Along: along, Off: route.Metres(r.IntN(3) * r.IntN(200))})
	}
	return spots
}

// fewOf takes the first five.
func fewOf(ways iter.Seq[net.Way]) (out []net.Way) {
	for w := range ways {
		if out = append(out, w); len(out) == 5 {
			break
		}
	}
	return out
}

// On random nets the ways are those of the definition, each found by the plain search
// from every single node; they can be ridden, and cost what they say.
func TestBestAgainstPlainDijkstra(t *testing.T) {
	r := rand.New(rand.NewPCG(7, 1))
	ways := 0
	for round := range kit.Share(600, 15) {
		n := drawn(r, 3+r.IntN(6))
		if n.Edges() == 0 {
			continue
		}
		spots := spotsOn(r, n, 1+r.IntN(12))
		nodes := n.Split(spots)
		closed := uint8(r.IntN(2))
		q := net.Query{Weights: testWeights, Keep: 60, Bound: 1e6, Closed: closed}
		var offs []uint32
		var past [][]uint32
		for i, node := range nodes {
			s := net.Source{Node: node, Off: spots[i].Off, On: n.Edge(spots[i].Edge).Ground}
			q.Sources = append(q.Sources, s)
			offs = append(offs, uint32(math.Round(math.Round(float64(s.Off)*100)*testWeights[s.On])))
			past = append(past, plain(n, node, testWeights, closed))
		}
		found := n.Search(q)
		dry := int32(r.IntN(len(nodes)))
		for kind := range 3 {
			through := func(s int32) bool { return kind == 2 && s == dry }
			for node := range int32(n.Nodes()) {
				from := plain(n, node, testWeights, closed)
				want := wantBest(from, past, offs, nodes, 5, through)
				got := fewOf(found.Best(node))
				if kind > 0 {
					got = fewOf(found.From(node, through))
				}
				if len(got) != len(want) {
					t.Fatalf("round %d, node %d: %d ways, want %d: %v, %v", round, node, len(got), len(want), got, want)
				}
				for i, g := range got {
					if g.Source != want[i].source || g.Cost != want[i].cost {
						t.Fatalf("round %d, node %d: way %d is %v, want %v", round, node, i, g, want[i])
					}
					checkRidden(t, n, found, node, q.Sources[g.Source].Node, g, offs, closed)
					ways++
				}
			}
		}
	}
	if ways < 500 {
		t.Errorf("%d ways are no test", ways)
	}
}

// checkRidden rides a way arc by arc.
func checkRidden(t *testing.T, n *net.Net, found *net.Ways, from, to int32, way net.Way, offs []uint32, closed uint8) {
	t.Helper()
	cost := offs[way.Source]
	for arc := range found.Steps(way) {
		ok := false
		for a := range n.Leaving(from) {
			ok = ok || a == arc
		}
		e := n.Edge(arc.Edge)
		if !ok || e.Marks&closed != 0 {
			t.Fatalf("%v cannot be ridden from node %d", arc, from)
		}
		cost += costOf(e, testWeights)
		from = arc.To
	}
	if from != to || cost != way.Cost {
		t.Fatalf("a way ends at node %d and costs %d, want %d and %d", from, cost, to, way.Cost)
	}
}

// With few kept, and a bound, what is given is still the cheapest way there is, in
// order, none of which leads past another; and the first is never missing.
func TestFewKept(t *testing.T) {
	r := rand.New(rand.NewPCG(7, 2))
	no := func(int32) bool { return false }
	for range kit.Share(300, 10) {
		n := drawn(r, 3+r.IntN(6))
		if n.Edges() == 0 {
			continue
		}
		spots := spotsOn(r, n, 3+r.IntN(20))
		nodes := n.Split(spots)
		q := net.Query{Weights: testWeights, Keep: 1 + r.IntN(4), Bound: route.Metres(200 + r.IntN(2000))}
		var offs []uint32
		var past [][]uint32
		for i, node := range nodes {
			s := net.Source{Node: node, Off: spots[i].Off, On: n.Edge(spots[i].Edge).Ground}
			q.Sources = append(q.Sources, s)
			offs = append(offs, uint32(math.Round(math.Round(float64(s.Off)*100)*testWeights[s.On])))
			past = append(past, plain(n, node, testWeights, 0))
		}
		found := n.Search(q)
		bound := uint32(q.Bound * 100)
		for node := range int32(n.Nodes()) {
			want := wantBest(plain(n, node, testWeights, 0), past, offs, nodes, 100, no)
			got := fewOf(found.Best(node))
			if len(want) > 0 && want[0].cost <= bound && len(got) == 0 {
				t.Fatalf("node %d has no way, want %v", node, want)
			}
			for i, g := range got {
				// Of two that cost the same either may be the one that is kept.
				if i >= len(want) || g.Cost != want[i].cost || g.Cost > bound {
					t.Fatalf("keep %d, node %d: way %d is %v, want %v", q.Keep, node, i, g, want)
				}
			}
		}
	}
}

// What is snapped lies where looking at every step of every edge finds it.
func TestSnapAgainstAllEdges(t *testing.T) {
	r := rand.New(rand.NewPCG(7, 3))
	for range kit.Share(100, 10) {
		n := drawn(r, 3+r.IntN(8))
		var places []orb.Point
		for range 30 {
			places = append(places, orb.Point{10 + r.Float64()*0.02, 45 + r.Float64()*0.02})
		}
		spots := n.Snap(places, 200, 0)
		for i, p := range places {
			least := math.Inf(1)
			for e := range int32(n.Edges()) {
				var last orb.Point
				first := true
				for q := range n.Points(e) {
					if !first {
						parts := math.Ceil(float64(route.Distance(last, q))/2) + 1
						for k := range int(parts) + 1 { // every two metres
							least = min(least, float64(route.Distance(p, route.Between(last, q, float64(k)/parts))))
						}
					}
					first, last = false, q
				}
			}
			switch {
			case spots[i].Edge < 0 && least < 199, spots[i].Edge >= 0 && math.Abs(float64(spots[i].Off)-least) > 2:
				t.Fatalf("%v lies %v m off, found %v", p, least, spots[i])
			}
		}
		whole := lengthOf(n)
		nodes := n.Split(spots)
		if now := lengthOf(n); math.Abs(float64(now-whole)) > 0.05*float64(len(spots)) {
			t.Fatalf("split, the net is %v long and not %v", now, whole)
		}
		for i, node := range nodes {
			if spots[i].Edge < 0 {
				if node >= 0 {
					t.Fatal("a node of nothing")
				}
				continue
			}
			if off := float64(route.Distance(n.Where(node), places[i])); math.Abs(off-float64(spots[i].Off)) > 0.5 {
				t.Fatalf("the node lies %v m off, the spot %v", off, spots[i].Off)
			}
		}
	}
}

func lengthOf(n *net.Net) (sum route.Metres) {
	for e := range int32(n.Edges()) {
		sum += n.Edge(e).Length
	}
	return sum
}
