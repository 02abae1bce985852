package outward

import (
	"cmp"
	"math"
	"slices"
	"strings"

	"lastpump/fuel/bailout"
	"lastpump/fuel/stop"
	"lastpump/fuel/survey"
	"lastpump/fuel/survey/refuge"
	"lastpump/fuel/wayout"
	"lastpump/route"
	"lastpump/route/roads/net"

	"github.com/paulmach/orb"
)

// Where a rider in trouble gets help. For each kind of help one search runs from all places of
// that kind backwards, by kilometres alone, and each node keeps the one that is nearest; what
// the marks of the line ask is read from that.
//
// Where no road is near a mark, or none that leads to what is looked for, the rider goes along
// the line, which he knows, to the first place from which a road does: on or back, whichever
// is shorter in all. Nobody is led over a gap of the line.
//
// What is found farther away than the maps were looked through off the line may not be the
// nearest: it is the nearest that is known.
//
// Roads that may be shut never take the place of an open one. What they lead to stands behind what
// open ones do, where it is less than half as far, and is marked.

const (
	villageWithin route.Metres = 500 // how far off a road the middle of a village may lie: our estimate
	alongStep     route.Metres = 200 // how far apart along the line it is asked whether a road is near

	// HelpWithin is how far by road people, pumps and those who heal are looked for, on what the maps
	// have so far off the line as ways out may be: farther is a ride of its own. A roof and water are
	// looked for no farther than those. Our estimate.
	HelpWithin route.Metres = 200_000
)

// A bailer finds help along a line.
type bailer struct {
	*finder
	reach route.Metres   // what is farther is not looked for, of the kind at hand
	at    []route.Metres // places along the line, in order: marks, and others between
	marks []int          // which of them are marks
	spots []net.Spot     // of the places
	nodes []int32        // likewise; -1 where no road is near
	goals map[bailout.Kind][]goal
}

// A goal is a place that is looked for, with its node.
type goal struct {
	what, name string
	at         orb.Point
	off        route.Metres
	node       int32
	marks      wayout.Marks    // of a road that is a goal itself
	passed     []route.Passage // where the line comes by
}

// Help finds, for each mark of the line of a survey that has a map of roads, the nearest of
// each kind of help by road, in order.
func Help(s *survey.Survey) (out []bailout.Way) {
	b := newBailer(s)
	b.place()
	for _, k := range bailout.Kinds() {
		b.reach = HelpWithin
		if k == bailout.Shelter || k == bailout.Water {
			b.reach = min(HelpWithin, s.Options.WaysOut)
		}
		out = append(out, b.find(k)...)
	}
	slices.SortStableFunc(out, func(a, c bailout.Way) int { return cmp.Compare(a.At, c.At) })
	return out
}

func newBailer(s *survey.Survey) *bailer {
	b := &bailer{finder: newFinder(s), reach: HelpWithin, goals: map[bailout.Kind][]goal{}}
	marks := bailout.Along(s.Line)
	for i, m := range marks {
		b.marks, b.at = append(b.marks, len(b.at)), append(b.at, m)
		next := s.Line.Length()
		if i+1 < len(marks) {
			next = marks[i+1]
		}
		for at := m + alongStep; at < next; at += alongStep {
			b.at = append(b.at, at)
		}
	}
	for _, p := range s.Roads.Pumps {
		b.add(bailout.Pump, goal{what: "fuel", name: p.Name, at: p.Stop.At})
	}
	for _, p := range s.Roads.Refuges {
		b.add(p.Kind, goal{what: p.What, name: cmp.Or(p.Name, strings.ReplaceAll(p.What, "_", " ")), at: p.At})
	}
	return b
}

func (b *bailer) add(k bailout.Kind, g goal) {
	g.passed = b.Line.Passages(g.at, besideLine)
	b.goals[k] = append(b.goals[k], g)
}

// place puts the places of the line and all goals on the net.
func (b *bailer) place() {
	var places []orb.Point
	for _, at := range b.at {
		places = append(places, b.Line.At(at))
	}
	for _, k := range bailout.Kinds() {
		for _, g := range b.goals[k] {
			places = append(places, g.at)
		}
	}
	spots := b.net.Snap(places, villageWithin, leastPiece)
	for i, at := range b.at {
		if s := spots[i]; s.Edge >= 0 && (s.Off > snapWithin || !b.near.lies(b.net.Edge(s.Edge).Way, at)) {
			spots[i].Edge = -1
		}
	}
	rest := spots[len(b.at):]
	for _, k := range bailout.Kinds() {
		for i := range b.goals[k] {
			if k != bailout.Village && rest[i].Off > snapWithin {
				rest[i].Edge = -1
			}
			b.goals[k][i].off = rest[i].Off
		}
		rest = rest[len(b.goals[k]):]
	}
	nodes := b.net.Split(spots)
	b.spots, b.nodes = spots[:len(b.at)], nodes[:len(b.at)]
	nodes = nodes[len(b.at):]
	for _, k := range bailout.Kinds() {
		for i := range b.goals[k] {
			b.goals[k][i].node = nodes[i]
		}
		nodes = nodes[len(b.goals[k]):]
	}
	b.near.classify(b.net)
}

// find finds the ways to one kind: over open roads or along the line, and behind each of these, or
// where there is none, that over roads which may be shut, if it is nearer by enough.
func (b *bailer) find(k bailout.Kind) []bailout.Way {
	open := b.findOn(k, uint8(wayout.Doubtful))
	for _, mark := range b.marks {
		if way, ok := b.alongLine(mark, k); ok && (open[mark].Kind == "" || float64(way.Length) < surelyNearer*float64(open[mark].Length)) {
			open[mark] = way
		}
	}
	return b.withDoubtful(k, open)
}

// surelyNearer is how long a way with a guessed end is at most, as a share of one that is drawn, to take its
// place: our estimate.
const surelyNearer = 0.8

// besideLine is how far off the line it is said that something lies on it, whatever roads the map has: as
// far as a stop that is visited. The way there is guessed as a detour is.
const besideLine route.Metres = 2000

// alongLine gives the way along the line to the nearest of a kind that lies beside it: a map may have no
// road there, and the rider has his line.
func (b *bailer) alongLine(mark int, k bailout.Kind) (best bailout.Way, ok bool) {
	at := b.at[mark]
	for _, g := range b.goals[k] {
		for _, p := range g.passed {
			length := b.ridden(at, p.At) + p.Off*stop.DetourOverStraight
			if length > b.reach || ok && length >= best.Length || b.Line.GapBetween(at, p.At) {
				continue
			}
			ok = true
			best = bailout.Way{At: b.Line.FileAt(at), Mark: b.Line.At(at), Kind: k, What: g.what, To: g.name, Goal: g.at,
				Length: length, Leave: b.Line.FileAt(p.At)}
		}
	}
	return best, ok
}

// withDoubtful puts behind the open ways those that may be shut.
func (b *bailer) withDoubtful(k bailout.Kind, open map[int]bailout.Way) (out []bailout.Way) {
	all := map[int]bailout.Way{}
	if b.doubtful() {
		all = b.findOn(k, 0)
	}
	for _, mark := range b.marks {
		way, ok := open[mark]
		if ok {
			out = append(out, way)
		}
		if other, any := all[mark]; any && (!ok || float64(other.Length) < nearerByEnough*float64(way.Length)) {
			out = append(out, other)
		}
	}
	return out
}

// nearerByEnough is how long a way over roads that may be shut is at most, as a share of the open
// one, for who is in need to try it: our estimate.
const nearerByEnough = 0.5

// findOn finds the ways to one kind on the roads without some marks, by mark.
func (b *bailer) findOn(k bailout.Kind, closed uint8) map[int]bailout.Way {
	goals := b.goals[k]
	if k == bailout.Road {
		goals = b.major(closed)
	}
	q := net.Query{Keep: 1, Bound: b.reach, Closed: closed}
	for _, g := range goals {
		q.Sources = append(q.Sources, net.Source{Node: g.node, Off: g.off})
	}
	w, out := b.net.Search(q), map[int]bailout.Way{}
	for _, mark := range b.marks {
		if place, way, ok := b.nearest(w, mark); ok {
			out[mark] = b.wayFrom(w, mark, place, way, k, goals[way.Source])
		}
	}
	return out
}

// major gives where one comes to a road of the secondary class or above: at each node that it
// has in common with a lesser one, and where the line lies on it. What is closed is none.
func (b *bailer) major(closed uint8) (out []goal) {
	best := map[int32]int32{} // by node, the edge of the greatest class
	class := func(e int32) refuge.Class { return b.Roads.Major[b.net.Edge(e).Way] }
	lesser := make([]bool, b.net.Nodes())
	for e := range int32(b.net.Edges()) {
		x := b.net.Edge(e)
		isMajor := class(e) > 0 && x.Marks&closed == 0
		for _, node := range []int32{x.From, x.To} {
			if !isMajor {
				lesser[node] = true
			} else if old, ok := best[node]; !ok || class(e) > class(old) {
				best[node] = e
			}
		}
	}
	for _, node := range b.nodes {
		if node >= 0 {
			lesser[node] = true
		}
	}
	nodes := make([]int32, 0, len(best))
	for node := range best {
		if lesser[node] {
			nodes = append(nodes, node)
		}
	}
	slices.Sort(nodes)
	for _, node := range nodes {
		x := b.net.Edge(best[node])
		out = append(out, goal{what: class(best[node]).String(), name: b.Roads.Names[x.Name], at: b.net.Where(node), node: node,
			marks: wayout.Marks(x.Marks)})
	}
	return out
}

// nearest gives the place at which a rider at a mark takes to the road, and the way from there:
// the mark itself, if a way leads from there.
func (b *bailer) nearest(w *net.Ways, mark int) (place int, way net.Way, ok bool) {
	least := b.reach
	for _, step := range []int{-1, 1} {
		for i := mark; i >= 0 && i < len(b.at); i += step {
			along := b.apart(mark, i)
			if along > least || i != mark && b.gapBetween(i, i-step) {
				break
			}
			there, whole, found := b.from(w, i)
			if !found {
				continue
			}
			if whole += along; whole < least || !ok && whole == least {
				place, way, ok, least = i, there, true, whole
			}
			if i == mark {
				return place, way, ok
			}
			break
		}
	}
	return place, way, ok
}

// apart is how far apart two places are along the line, as it is ridden.
func (b *bailer) apart(i, k int) route.Metres { return b.ridden(b.at[i], b.at[k]) }

func (b *bailer) ridden(from, to route.Metres) route.Metres {
	return max(from-to, to-from) * route.Metres(b.Line.Stretch.Factor)
}

// gapBetween tells whether the line has a gap between two places of it.
func (b *bailer) gapBetween(i, k int) bool { return b.Line.GapBetween(b.at[i], b.at[k]) }

// from gives the way from a place of the line, and how long it is with what the place lies off
// the road.
func (b *bailer) from(w *net.Ways, i int) (way net.Way, whole route.Metres, ok bool) {
	for way = range w.Best(b.nodes[i]) {
		return way, b.spots[i].Off + route.Metres(way.Cost)/100, true
	}
	return way, 0, false
}

// wayFrom makes a way out of one on the net.
func (b *bailer) wayFrom(w *net.Ways, mark, place int, way net.Way, k bailout.Kind, g goal) bailout.Way {
	_, length, _ := b.from(w, place)
	out := bailout.Way{At: b.Line.FileAt(b.at[mark]), Mark: b.Line.At(b.at[mark]), Kind: k, What: g.what, To: g.name, Goal: g.at,
		Length: b.apart(mark, place) + length, Marks: g.marks}
	leave, turn, first := b.at[place], b.nodes[place], int32(-1)
	var whole, shape []orb.Point // from the place, and from where the line is left
	for arc := range w.Steps(way) {
		e := b.net.Edge(arc.Edge)
		out.Marks |= wayout.Marks(e.Marks)
		whole = b.extend(whole, arc)
		if first < 0 && b.near.along(arc.Edge) {
			if at, ok := b.passing(arc.To, leave, e.Length); ok {
				turn, leave = arc.To, at
				continue
			}
		}
		if shape = b.extend(shape, arc); first < 0 {
			first = arc.Edge
		}
	}
	out.Leave, out.Toward = b.Line.FileAt(leave), toward(shape, b.net.Where(turn))
	if first < 0 && len(whole) > 0 { // all of it is the line
		out.Marks, out.Toward = out.Marks|wayout.AlongLine, toward(whole, whole[0])
		for arc := range w.Steps(way) {
			first = arc.Edge
			break
		}
	}
	if first >= 0 {
		out.Road = b.Roads.Names[b.net.Edge(first).Name]
	}
	return out
}

// passing gives where the line passes a node, before or behind a place of it and about as far as a
// road between them is long: a line that comes by twice, or turns back, is on the road once. Where
// the line turns back right there the place itself may have been put on the other strand.
func (b *bailer) passing(node int32, from, length route.Metres) (at route.Metres, ok bool) {
	if at, ok = b.passingWithin(node, from, length, max(length/2, 2*snapWithin)); ok {
		return at, ok
	}
	return b.passingWithin(node, from, length, route.ApartAlong/2)
}

func (b *bailer) passingWithin(node int32, from, length, slack route.Metres) (at route.Metres, ok bool) {
	far, least := length+slack, math.Inf(1)
	for _, window := range [][2]route.Metres{{from - far, from}, {from, from + far}} {
		p, any := b.Line.Nearest(b.net.Where(node), max(window[0], 0), min(window[1], b.Line.Length()))
		if off := math.Abs(float64(max(p.At-from, from-p.At) - length)); any && p.Off <= b.near.radius && off < least {
			least, at, ok = off, p.At, true
		}
	}
	return at, ok
}
