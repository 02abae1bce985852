package outward

import (
	"cmp"
	"math"
	"slices"

	"lastpump/fuel/survey"
	"lastpump/route"
	"lastpump/route/flat"
	"lastpump/route/roads/net"

	"github.com/paulmach/orb"
)

// A nearness tells what of the roads is the line: where that lies on a way of the map the
// way itself, elsewhere all that is near, half as far off as the points of the line are
// apart, 50 m at least and 200 m at most. A road that only crosses a way under the line
// has no node with it: that is a bridge, and nobody leaves the line there.
type nearness struct {
	line   *route.Line
	under  []survey.Match
	radius route.Metres
	zone   *flat.Zone
	wide   *flat.Zone // a road no longer than widely that begins outside of it does not come near
	on     []bool     // by edge, those that run along the line
}

const (
	leastNear   route.Metres = 50
	sampled     route.Metres = 50 // how far apart a road is looked at
	widely      route.Metres = 2000
	zoneColumns              = 1 << 17
	wideColumns              = 1 << 15
)

func newNearness(line *route.Line, under []survey.Match) *nearness {
	n := &nearness{line: line, under: under, zone: flat.NewZone(zoneColumns), wide: flat.NewZone(wideColumns)}
	apart := line.Length() / route.Metres(max(line.Points()-1, 1))
	n.radius = min(max(apart/2, leastNear), snapWithin)
	n.zone.AddLine(line, 100, func(route.Metres) route.Metres { return n.radius })
	n.wide.AddLine(line, widely/5, func(route.Metres) route.Metres { return n.radius + widely })
	return n
}

// passages gives where the line passes a place on a way, if that is what lies under it.
func (n *nearness) passages(p orb.Point, way int64) (out []route.Passage) {
	if !n.zone.Has(p[0], p[1]) {
		return nil
	}
	for _, passage := range n.line.Passages(p, n.radius) {
		if n.lies(way, passage.At) {
			out = append(out, passage)
		}
	}
	return out
}

// lies tells whether a way lies under the line at about a place of it, or none does.
func (n *nearness) lies(way int64, at route.Metres) bool {
	k, _ := slices.BinarySearchFunc(n.under, at-n.radius, func(m survey.Match, at route.Metres) int {
		return cmp.Compare(m.To, at)
	})
	for ; k < len(n.under) && n.under[k].From <= at+n.radius; k++ {
		if m := n.under[k]; !m.Gap && (m.Way == nil || m.Way.ID == way) {
			return true
		}
	}
	return false
}

// passagesOf gives where the line passes a node that lies on it, in order.
func (n *nearness) passagesOf(roads *net.Net, node int32) (out []route.Passage) {
	p := roads.Where(node)
	if !n.zone.Has(p[0], p[1]) {
		return nil
	}
	for e := range roads.Around(node) {
		for _, passage := range n.passages(p, roads.Edge(e).Way) {
			if !slices.Contains(out, passage) {
				out = append(out, passage)
			}
		}
	}
	slices.SortFunc(out, func(a, b route.Passage) int { return cmp.Compare(a.At, b.At) })
	return out
}

// has tells whether a node lies on the line.
func (n *nearness) has(roads *net.Net, node int32) bool { return len(n.passagesOf(roads, node)) > 0 }

// along tells whether an edge runs along the line.
func (n *nearness) along(edge int32) bool { return n.on[edge] }

// samples calls f with places along an edge, its points and some between, until it says
// no.
func samples(roads *net.Net, edge int32, f func(at route.Metres, p orb.Point) bool) {
	at := route.Metres(0)
	var last orb.Point
	first := true
	for p := range roads.Points(edge) {
		if !first {
			step := route.Distance(last, p)
			parts := math.Ceil(float64(step / sampled))
			for k := 1.0; k < parts; k++ {
				if !f(at+step*route.Metres(k/parts), route.Between(last, p, k/parts)) {
					return
				}
			}
			at += step
		}
		if !f(at, p) {
			return
		}
		first, last = false, p
	}
}

// classify finds the edges that run along the line.
func (n *nearness) classify(roads *net.Net) {
	n.on = make([]bool, roads.Edges())
	net.InShares(len(n.on), func(_, from, to int) {
		for e := from; e < to; e++ {
			n.on[e] = true
			way := roads.Edge(int32(e)).Way
			samples(roads, int32(e), func(_ route.Metres, p orb.Point) bool {
				n.on[e] = len(n.passages(p, way)) > 0
				return n.on[e]
			})
		}
	})
}

// crossings finds where the line comes to a road between two of its junctions: it may be
// left there, or come to over open country.
func (n *nearness) crossings(roads *net.Net) []net.Spot {
	var found [net.Shares][]net.Spot
	net.InShares(roads.Edges(), func(part, from, to int) {
		for e := from; e < to; e++ {
			found[part] = n.crossingsOf(found[part], roads, int32(e))
		}
	})
	return slices.Concat(found[:]...)
}

// crossingsOf adds those of one road.
func (n *nearness) crossingsOf(out []net.Spot, roads *net.Net, e int32) []net.Spot {
	edge := roads.Edge(e)
	if edge.Length <= widely {
		for p := range roads.Points(e) {
			if !n.wide.Has(p[0], p[1]) {
				return out
			}
			break
		}
	}
	var now net.Spot
	inside, touched := false, false // whether the road is near the line; whether that began at its start
	begun := false
	end := func() {
		if inside && !touched {
			out = append(out, now)
		}
		inside, touched = false, false
	}
	samples(roads, e, func(at route.Metres, p orb.Point) bool {
		passages := n.passages(p, edge.Way)
		if len(passages) == 0 {
			end()
			begun = true
			return true
		}
		near := passages[0]
		if !inside {
			inside, touched = true, !begun
			now = net.Spot{Edge: e, Along: at, Off: near.Off}
		} else if near.Off < now.Off {
			now.Along, now.Off = at, near.Off
		}
		return true
	})
	// What is near up to the end of the road has a junction there.
	return out
}

// leavings finds where roads leave the line: at every junction with one of the tertiary
// class and above, and beside each five kilometres where there is none at the nearest
// other.
func (f *finder) leavings() {
	type leaving struct {
		node int32
		at   route.Metres
	}
	main := map[int]bool{}
	nearest := map[int]leaving{}
	slot := func(at route.Metres) int { return int(math.Round(float64(at / marksApart))) }
	for node := range int32(f.net.Nodes()) {
		if !f.near.has(f.net, node) {
			continue
		}
		leaves, big := f.leavesAt(node)
		if !leaves {
			continue
		}
		for _, p := range f.near.passagesOf(f.net, node) {
			if big {
				main[slot(p.At)] = true
				f.noteAt(node)
				continue
			}
			k := slot(p.At)
			off := func(at route.Metres) float64 { return math.Abs(float64(at - route.Metres(k)*marksApart)) }
			if old, ok := nearest[k]; !ok || off(p.At) < off(old.at) {
				nearest[k] = leaving{node, p.At}
			}
		}
	}
	for k, l := range nearest {
		if !main[k] {
			f.noteAt(l.node)
		}
	}
}

// leavesAt tells whether a road leaves the line at a node, if that lies on it, and
// whether one of the tertiary class and above does.
func (f *finder) leavesAt(node int32) (leaves, main bool) {
	for arc := range f.net.Leaving(node) {
		if !f.near.along(arc.Edge) {
			leaves, main = true, main || f.net.Edge(arc.Edge).Main
		}
	}
	return leaves, main
}

// noteAt notes that the line is left at a node, wherever it passes there.
func (f *finder) noteAt(node int32) {
	if _, ok := f.places[node]; ok {
		return
	}
	f.places[node] = nil
	for _, p := range f.near.passagesOf(f.net, node) {
		f.places[node] = append(f.places[node], p.At)
	}
	f.places[node] = slices.Clip(f.places[node])
}
