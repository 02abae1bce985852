// Package landscape takes out of a map what is drawn under a line: main roads, rivers, lakes,
// shores and towns, as a [land.Land].
//
// Start with [New]. A survey hands over what it reads, in any order; [Collector.Land] makes few
// points of it at the end.
//
// The idea that surprises: a great lake is no object of its own on the map. It is a relation of
// ways that have no tags themselves, and those come before it in the file. So ways without tags are
// held until the relations have come, without a second reading.
//
// # Limits
//
// Of a lake of several ways that are something else, too (a road, a wood, a border), those ways
// are not held: it is drawn as the shore that is known. So is a lake that goes on beyond what is
// read. Rivers are drawn by their middle alone. Streams, ditches, links of motorways and all
// roads less than tertiary are left out.
//
// # Sources
//
//	[1] OpenStreetMap wiki: "Key:highway", "Key:waterway", "Tag:natural=water", "Key:water",
//	    "Tag:natural=coastline", "Relation:multipolygon", "Key:place".
package landscape

import (
	"slices"
	"strings"

	"lastpump/route"
	"lastpump/route/input"
	"lastpump/route/land"
	"lastpump/route/osmfile"

	"github.com/paulmach/orb"
)

// A Node is one of a way, with where it lies; an ID of 0 is one that is not known, or lies too far off.
type Node struct {
	ID int64
	At orb.Point
}

// Wanted tells at a glance whether a way may be wanted.
func Wanted(t osmfile.Tags) bool { return len(t) == 0 || kindOf(t) != "" }

// WantedRelation tells the same of a relation.
func WantedRelation(t osmfile.Tags) bool {
	return isWater(t) && (t.Find("type") == "multipolygon" || t.Find("type") == "")
}

// kindOf tells what a way is on the drawing, "" for nothing.
func kindOf(t osmfile.Tags) land.Kind {
	switch {
	case isWater(t):
		return land.Lake
	case t.Find("natural") == "coastline":
		return land.Shore
	case t.Find("waterway") == "river", t.Find("waterway") == "canal" && t.Find("name") != "":
		return land.River
	case slices.Contains(land.RoadClasses, t.Find("highway")) && t.Find("area") != "yes":
		return land.Road
	}
	return ""
}

// running are waters that are drawn by their middle, which is a way of its own [1].
var running = []string{"river", "stream", "canal", "ditch", "drain", "rapids", "moat", "wastewater", "basin", "pool"}

func isWater(t osmfile.Tags) bool {
	return (t.Find("natural") == "water" || t.Find("landuse") == "reservoir") && !slices.Contains(running, t.Find("water"))
}

// A way is one as it is held.
type way struct {
	id          int64
	kind        land.Kind // "" for one that may be part of a lake
	class, name string
	bits        []orb.LineString // as far as they are known, in order
	whole       bool             // there is one, and it is all of the way
	first, last int64            // nodes at its ends
}

// closed tells whether it is a whole outline.
func (w *way) closed() bool { return w.whole && w.first == w.last && len(w.bits[0]) > 3 }

// A lake is a relation.
type lake struct {
	class, name string
	members     []osmfile.Member
}

// A town is one by its middle.
type town struct {
	class, name string
	at          orb.Point
}

// A Collector holds what is drawn.
type Collector struct {
	inside func(orb.Point) bool
	budget int // bytes of lines and lakes
	ways   map[int64]*way
	lakes  map[int64]lake
	towns  map[osmfile.Ref]town
}

// New makes a collector of towns that lie inside, which may become less while it reads, and of ways as far
// as their nodes are known.
func New(inside func(orb.Point) bool) *Collector {
	return &Collector{inside, mostBytes, map[int64]*way{}, map[int64]lake{}, map[osmfile.Ref]town{}}
}

// text copies a text out of its block, on one line.
func text(s string) string { return strings.Clone(input.OneLine(s)) }

// TakeTown takes in a place of people, or lets one pass that is none.
func (c *Collector) TakeTown(ref osmfile.Ref, t osmfile.Tags, at orb.Point) {
	class := t.Find("place")
	if slices.Contains(land.TownClasses, class) && t.Find("name") != "" && c.inside(at) {
		c.towns[ref] = town{strings.Clone(class), text(t.Find("name")), at}
	}
}

// early is how far a way is thinned when it is taken in, and how far the ends of coordinates
// in the file may be off: with the rest the tolerance is whole.
const (
	early   route.Metres = 10
	roundBy route.Metres = 8 // half of 0.0001° both ways
)

// least is how long the box about a closed way without tags has to be, either way: what is
// shorter is a house or a pond.
const least route.Metres = 200

// TakeWay takes in a way, in the place of what was taken of it before, and tells whether it is held.
func (c *Collector) TakeWay(id int64, t osmfile.Tags, nodes []Node) bool {
	delete(c.ways, id)
	w := way{id: id, kind: kindOf(t)}
	if w.kind == "" && len(t) > 0 || len(nodes) < 2 {
		return false
	}
	w.bits, w.whole = bitsOf(nodes)
	w.first, w.last = nodes[0].ID, nodes[len(nodes)-1].ID
	if len(w.bits) == 0 || (w.kind == "" || w.kind == land.Lake) && w.closed() && small(w.bits[0]) {
		return false
	}
	for i, b := range w.bits {
		w.bits[i] = land.Thinned(b, early)
	}
	w.class, w.name = named(w.kind, t)
	c.ways[id] = &w
	return true
}

func small(line orb.LineString) bool {
	b := line.Bound()
	return route.Distance(b.Min, orb.Point{b.Max[0], b.Min[1]}) < least && route.Distance(b.Min, orb.Point{b.Min[0], b.Max[1]}) < least
}

// named gives class and name of what is drawn.
func named(k land.Kind, t osmfile.Tags) (class, name string) {
	name = text(t.Find("name"))
	switch k {
	case land.Road:
		return strings.Clone(t.Find("highway")), text(t.Find("ref"))
	case land.River:
		return strings.Clone(t.Find("waterway")), name
	case land.Lake:
		class = "water"
		for _, key := range []string{"landuse", "water"} {
			if v := t.Find(key); v != "" {
				class = text(v)
			}
		}
		return class, name
	case land.Shore:
		return "coastline", ""
	}
	return "", ""
}

// bitsOf gives what of a way is known, and whether that is all of it.
func bitsOf(nodes []Node) (out []orb.LineString, whole bool) {
	whole = true
	var now orb.LineString
	end := func() {
		if len(now) > 1 {
			out = append(out, now)
		}
		now = nil
	}
	for _, n := range nodes {
		if n.ID == 0 {
			whole = false
			end()
			continue
		}
		now = append(now, n.At)
	}
	end()
	return out, whole && len(out) == 1
}

// TakeRelation takes in a lake of several ways.
func (c *Collector) TakeRelation(r *osmfile.Relation) {
	class, name := named(land.Lake, r.Tags)
	l := lake{class: class, name: name}
	for _, m := range r.Members {
		if m.Kind == osmfile.IsWay && c.ways[m.ID] != nil {
			m.Role = strings.Clone(m.Role)
			l.members = append(l.members, m)
		} else if m.Kind == osmfile.IsWay && m.Role != "inner" {
			l.members = append(l.members, osmfile.Member{Ref: m.Ref, Role: "outer"})
		}
	}
	if slices.ContainsFunc(l.members, func(m osmfile.Member) bool { return c.ways[m.ID] != nil }) {
		c.lakes[r.ID] = l
	}
}
