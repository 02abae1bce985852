// Package outward finds the ways out: from the stops of a survey, and from where roads
// leave its line, to the petrol that can be had by road.
//
// Start with [Find]; it gives [fuel/wayout.Way] with their shapes.
//
// The idea that surprises: of a place on the line only the ways are given that leave it
// there. One that goes along the line first is given where it leaves it, and so the list
// holds every best way once.
//
// Roads that may be shut (private, seasonal, over ice, at certain hours) are left out
// first. Where a way over them is better, or the only one, it is given beside the open
// ones and marked; it never takes the place of one.
//
// # Limits
//
// Turns that signs forbid are not seen. Climb costs nothing where ways are compared.
// Each place on the line looks at the [kept] pumps that are the cheapest to come to from
// there. A road that runs along the line for all of its length between two junctions is
// taken for the line. The way home is not looked for: whoever plans takes it to be the way
// out, which streets that go one way make too short.
package outward

import (
	"cmp"
	"slices"
	"sync"

	"lastpump/fuel"
	"lastpump/fuel/stop"
	"lastpump/fuel/survey"
	"lastpump/fuel/wayout"
	"lastpump/route"
	"lastpump/route/roads/net"

	"github.com/paulmach/orb"
)

// A Way is one out, with its shape from its beginning to the road beside its pump.
type Way struct {
	wayout.Way
	Shape []orb.Point
	Joins int // from which of its points on another way to the same pump is the same; their number where none is
}

// Found is what was found, and what was not.
type Found struct {
	Ways    []Way       // by where they begin; of one beginning the cheapest first, those that may be shut behind the others
	Stops   int         // stops that have a way
	NoRoad  []string    // stops that lie on no road that motors may use
	Places  int         // on the line, that have a way
	Unroads []string    // pumps that lie on no road
	Far     []stop.Stop // pumps at the ends of ways that are in no list of the survey, in the order of the ways
}

const (
	snapWithin route.Metres = 200  // how far off a road a pump, a stop or the line may lie
	leastPiece route.Metres = 2000 // of roads that hang together; a stop is put on less only where there is no more
	mostWays                = 5
	kept                    = 8    // pumps that are looked at from a place on the line
	samePlace  route.Metres = 3000 // pumps so near each other are dry together
	hardest                 = 1.8  // weight of sand, the hardest ground that tags tell
	marksApart route.Metres = 5000
)

// Find finds the ways out of a survey that has a map of roads.
func Find(s *survey.Survey) Found {
	f := newFinder(s)
	f.place()
	f.look()
	f.finish()
	return f.found
}

// A finder finds the ways out of one survey.
type finder struct {
	*survey.Survey
	net     *net.Net
	near    *nearness
	listed  []survey.Pump // all stops of the survey, in the order of its list
	stops   []origin
	places  map[int32][]route.Metres // by node, where along the line it is left there
	pumps   []int32                  // node of each
	offs    []net.Spot               // of each
	weights []float64
	ways    map[origin][]found
	nets    []*net.Ways // over open roads alone, and over all
	found   Found
}

// An origin is where ways begin: a stop, or a place on the line.
type origin struct {
	stop  int // of the stops in their order; -1 for a place on the line
	node  int32
	along route.Metres // the line
}

// A found way, with all that it is sorted by.
type found struct {
	Way
	source   int32
	cost     uint32
	doubtful bool
}

func newFinder(s *survey.Survey) *finder {
	f := &finder{Survey: s, net: s.Roads.Net, places: map[int32][]route.Metres{}, ways: map[origin][]found{}}
	for _, g := range route.AllGrounds() {
		f.weights = append(f.weights, fuel.GeneralWeight(g).Likely)
	}
	f.near = newNearness(s.Line, s.Matches)
	f.listed = slices.Concat(s.Pumps, s.Asks)
	slices.SortStableFunc(f.listed, func(a, b survey.Pump) int { return cmp.Compare(a.Along, b.Along) })
	return f
}

// place puts stops, pumps and crossings on the net.
func (f *finder) place() {
	var at []orb.Point
	for _, p := range f.Roads.Pumps {
		at = append(at, p.Stop.At)
	}
	for _, p := range f.listed {
		at = append(at, p.Stop.At)
	}
	spots := f.net.Snap(at, snapWithin, leastPiece)
	nodes := f.net.Split(slices.Concat(spots, f.near.crossings(f.net)))
	n := len(f.Roads.Pumps)
	f.pumps, f.offs = nodes[:n], spots[:n]
	for i, node := range f.pumps {
		if node < 0 {
			f.found.Unroads = append(f.found.Unroads, f.Roads.Pumps[i].Name)
		}
	}
	for i, p := range f.listed {
		if nodes[n+i] < 0 {
			f.found.NoRoad = append(f.found.NoRoad, p.Name)
			continue
		}
		f.stops = append(f.stops, origin{i, nodes[n+i], p.Along})
	}
}

// doubtful tells whether there is any road that may be shut.
func (f *finder) doubtful() bool {
	for e := range int32(f.net.Edges()) {
		if f.net.Edge(e).Marks&uint8(wayout.Doubtful) != 0 {
			return true
		}
	}
	return false
}

// prepare searches on open roads, and where there are others on all; beside that it finds where
// roads leave the line.
func (f *finder) prepare() {
	closed := []uint8{uint8(wayout.Doubtful)}
	if f.doubtful() {
		closed = append(closed, 0)
	}
	f.nets = make([]*net.Ways, len(closed))
	var searches sync.WaitGroup
	for i, c := range closed {
		searches.Go(func() { f.nets[i] = f.search(c) })
	}
	f.near.classify(f.net)
	f.leavings()
	searches.Wait()
}

// look finds the ways from all origins.
func (f *finder) look() {
	f.prepare()
	for _, w := range f.nets {
		for _, o := range f.stops {
			dry := f.besides(f.listed[o.stop].Stop.At)
			f.take(w, o, collect(w.From(o.node, dry), func(way net.Way) bool { return f.within(w, way) }))
		}
	}
	for done := map[int32]bool{}; ; { // what leaves the line elsewhere notes where
		var next []int32
		for node := range f.places {
			if !done[node] {
				next = append(next, node)
			}
		}
		if len(next) == 0 {
			return
		}
		slices.Sort(next)
		for _, node := range next {
			done[node] = true
			for _, w := range f.nets {
				f.takePlace(w, node)
			}
		}
	}
}

// hardest is the weight of the hardest ground there is: no way within what is looked for
// costs more than if all of it were that.
func (f *finder) hardest() float64 {
	most := 1.0
	for e := range int32(f.net.Edges()) {
		most = max(most, f.weights[f.net.Edge(e).Ground])
	}
	return most
}

// search searches from all pumps on the roads without some marks.
func (f *finder) search(closed uint8) *net.Ways {
	q := net.Query{Weights: f.weights, Keep: kept, Bound: f.Options.WaysOut * route.Metres(f.hardest()), Closed: closed}
	for i, node := range f.pumps {
		s := net.Source{Node: node}
		if node >= 0 {
			s.Off, s.On = f.offs[i].Off, f.net.Edge(f.offs[i].Edge).Ground
		}
		q.Sources = append(q.Sources, s)
	}
	return f.net.Search(q)
}

// takePlace takes the ways from a place on the line that leave it there, and notes where
// the others do.
func (f *finder) takePlace(w *net.Ways, node int32) {
	var leaving []net.Way
	for way := range w.Best(node) {
		switch {
		case !f.within(w, way) || f.isThere(w, way):
		case f.leaves(w, way):
			leaving = append(leaving, way)
		default:
			f.noteLeaving(w, node, way)
		}
	}
	for _, at := range f.places[node] {
		f.take(w, origin{-1, node, at}, leaving[:min(len(leaving), mostWays)])
	}
}

// collect takes the first ways of a list that will do.
func collect(ways func(func(net.Way) bool), will func(net.Way) bool) (out []net.Way) {
	for way := range ways {
		if !will(way) {
			continue
		}
		if out = append(out, way); len(out) == mostWays {
			break
		}
	}
	return out
}

// besides tells of the pumps that are dry where a stop is: what lies so near each other
// has one delivery and one power line.
func (f *finder) besides(at orb.Point) func(int32) bool {
	return func(source int32) bool { return route.Distance(f.Roads.Pumps[source].Stop.At, at) < samePlace }
}

// within tells whether a way is no longer than what is looked for.
func (f *finder) within(w *net.Ways, way net.Way) bool {
	length, _ := w.Off(way.Source)
	for arc := range w.Steps(way) {
		length += f.net.Edge(arc.Edge).Length
	}
	return length <= f.Options.WaysOut
}

// take keeps the ways of an origin. One over roads that may be shut is kept where no open
// one is known, or where it is better by enough.
func (f *finder) take(w *net.Ways, o origin, ways []net.Way) {
	for _, way := range ways {
		marked := f.marks(w, way)&wayout.Doubtful != 0
		known := slices.ContainsFunc(f.ways[o], func(b found) bool {
			return b.source == way.Source && (!marked || b.doubtful || worthless(way.Cost, b.cost))
		})
		if open, ok := f.nets[0].Cost(o.node, way.Source); ok && marked && worthless(way.Cost, open) {
			known = true
		}
		if !known {
			f.ways[o] = append(f.ways[o], found{f.wayOf(w, o, way), way.Source, way.Cost, marked})
		}
	}
}

// worthless tells whether a way that may be shut saves less than a twentieth of what an
// open one costs: over a private yard, say. Our estimate.
func worthless(cost, open uint32) bool { return float64(cost) > 0.95*float64(open) }

// finish lists what was found: of each origin the open ways first, five in all.
func (f *finder) finish() {
	origins := make([]origin, 0, len(f.ways))
	for o := range f.ways {
		origins = append(origins, o)
	}
	slices.SortFunc(origins, compareOrigins)
	drawn, far := map[drawnKey]bool{}, map[int32]bool{}
	for _, o := range origins {
		ways := f.ways[o]
		slices.SortStableFunc(ways, compareFound)
		if ways = ways[:min(len(ways), mostWays)]; len(ways) == 0 {
			continue
		}
		if o.stop >= 0 {
			f.found.Stops++
		} else {
			f.found.Places++
		}
		for _, way := range ways {
			way.Joins = joins(drawn, way.source, way.Shape)
			f.found.Ways = append(f.found.Ways, way.Way)
			if !far[way.source] && !f.isListed(f.Roads.Pumps[way.source]) {
				f.found.Far = append(f.found.Far, f.Roads.Pumps[way.source].Stop)
			}
			far[way.source] = true
		}
	}
}

// isListed tells whether a pump is in a list of the survey.
func (f *finder) isListed(p survey.Pump) bool {
	return slices.ContainsFunc(f.listed, func(l survey.Pump) bool { return l.Ref == p.Ref || l.Stop.At == p.Stop.At })
}

// Beyond gives the pumps that are in no other list, with whose map they are of in the note of the
// first.
func (f *Found) Beyond() []stop.Stop {
	out := slices.Clone(f.Far)
	if len(out) > 0 {
		out[0].Note = survey.Attribution
	}
	return out
}

// List gives the ways without their shapes.
func (f *Found) List() (out []wayout.Way) {
	for _, w := range f.Ways {
		out = append(out, w.Way)
	}
	return out
}
