package osmmap

import (
	"slices"
	"strings"

	"lastpump/route"

	"github.com/paulmach/orb"
	"github.com/paulmach/osm"
)

// A pass is one going through an extract.
type pass struct {
	*haul
	nodes  *nodeTable
	waysAt int64        // where they begin in the file, 0 if that cannot be told
	sorted bool         // the nodes are sorted: no more are expected
	broken bool         // one came all the same
	seen   map[Ref]bool // in the first pass: what was taken in
	twice  Ref          // what came twice

	second bool
	all    bool               // ways, and not only those wanted
	wanted map[osm.WayID]bool // for relations
	held   map[Ref]bool       // objects that another extract may know to be gone

	known []node // space for the nodes of one way
}

// sieve tells at a glance what may be wanted; it is asked by several goroutines, and
// reads only what does not change in a pass.
func (p *pass) sieve() sieve {
	if !p.second {
		return sieve{
			node:     func(n *osm.Node) bool { return p.wide.has(n.Lon, n.Lat) },
			way:      func(w *osm.Way) bool { return p.wantsWay(w.Tags) },
			relation: func(r *osm.Relation) bool { return isPump(r.Tags) },
		}
	}
	s := sieve{way: func(w *osm.Way) bool {
		return p.wanted[w.ID] || p.held[wayRef(w.ID)] || p.all && p.wantsWay(w.Tags)
	}}
	switch {
	case p.held != nil:
		s.node = func(n *osm.Node) bool { return p.held[nodeRef(n.ID)] }
		s.relation = func(r *osm.Relation) bool { return p.held[relationRef(r.ID)] }
	case !p.all:
		s.only = func(way int64) bool { return p.wanted[osm.WayID(way)] }
	}
	return s
}

func nodeRef(id osm.NodeID) Ref         { return Ref{osm.TypeNode, int64(id)} }
func wayRef(id osm.WayID) Ref           { return Ref{osm.TypeWay, int64(id)} }
func relationRef(id osm.RelationID) Ref { return Ref{osm.TypeRelation, int64(id)} }

func (p *pass) wantsWay(t osm.Tags) bool { return rideable(t) || p.wantsObject(t) }

func (p *pass) wantsObject(t osm.Tags) bool {
	return isPump(t) || isPlace(t) || p.opt.Towns && shopThatSells(t) != ""
}

// take takes in what is wanted.
func (p *pass) take(o osm.Object) {
	switch o := o.(type) {
	case *osm.Node:
		p.takeNode(o)
	case *osm.Way:
		if !p.sorted {
			p.nodes.sort()
			p.sorted = true
		}
		p.takeWay(o)
	case *osm.Relation:
		p.see(relationRef(o.ID))
		p.takeObject(&object{ref: relationRef(o.ID), tags: o.Tags, state: state{o.Version, o.Timestamp, 0}, members: slices.Clone(o.Members)})
	}
}

func (p *pass) takeNode(n *osm.Node) {
	at := placeAt(n.Lon, n.Lat)
	if !p.second {
		p.broken = p.broken || p.sorted
		if p.nodes.n > 0 && p.nodes.last == int64(n.ID) {
			p.twice = nodeRef(n.ID)
		}
		p.nodes.add(node{int64(n.ID), at})
	}
	if wanted := len(n.Tags) > 0 && p.wantsObject(n.Tags); wanted || p.second {
		p.see(nodeRef(n.ID))
		p.takeObject(&object{ref: nodeRef(n.ID), tags: n.Tags, state: state{n.Version, n.Timestamp, 1}, outlines: []outline{{points: []orb.Point{at.point()}}}})
	}
}

// takeObject takes in a pump or a place, or lets one go that is none any more. What
// stays is copied out of the large texts that its tags may be parts of.
func (p *pass) takeObject(o *object) {
	old := p.objects[o.ref]
	if !p.wantsObject(o.tags) {
		if old != nil && o.state.compare(old.state) > 0 {
			delete(p.objects, o.ref)
			p.gone[o.ref] = o.state
		}
		return
	}
	if gone, ok := p.gone[o.ref]; ok && gone.compare(o.state) > 0 {
		return
	}
	if old == nil || old.state.compare(o.state) < 0 {
		o.tags = clone(o.tags)
		if old != nil && o.ref.Type == osm.TypeWay && o.state.known == 0 {
			o.outlines = old.outlines // it was drawn anew, of nodes that no extract has
		}
		p.objects[o.ref] = o
	}
}

// see notes what was taken in, and what comes twice.
func (p *pass) see(ref Ref) {
	if p.second {
		return
	}
	if p.seen[ref] {
		p.twice = ref
	}
	p.seen[ref] = true
}

func (p *pass) takeWay(w *osm.Way) {
	near, road, ref := p.find(w), rideable(w.Tags), wayRef(w.ID)
	thing := p.held[ref] || near && p.wantsObject(w.Tags)
	if near && road || thing {
		p.see(ref)
	}
	switch old := p.ways[w.ID]; {
	case near && road:
		p.drawRoad()
		p.takeRoad(w)
	case !road && old != nil && p.stateOf(w).compare(old.state) > 0: // it is none any more
		delete(p.ways, w.ID)
		p.goneRoads[w.ID] = p.stateOf(w)
	}
	if thing {
		p.takeObject(&object{ref: ref, tags: w.Tags, state: p.stateOf(w), outlines: p.outlinesOf(w)})
	}
	if near && p.wanted[w.ID] {
		p.takeMember(w)
	}
}

// find looks up those of a way's nodes that lie near the line, into known; id is 0 for
// the others. It tells whether there are any.
func (p *pass) find(w *osm.Way) (any bool) {
	p.known = p.known[:0]
	for _, n := range w.Nodes {
		at, ok := p.findNode(int64(n.ID))
		if !ok {
			n.ID = 0
		}
		p.known = append(p.known, node{int64(n.ID), at})
		any = any || ok
	}
	return any
}

func (p *pass) stateOf(w *osm.Way) state {
	s := state{version: w.Version, edited: w.Timestamp}
	for _, n := range p.known {
		if n.id != 0 {
			s.known++
		}
	}
	return s
}

// runs gives what of a way is left where only the steps are kept that keep says yes to.
func runs(nodes []node, keep func(a, b node) bool) (out [][]node) {
	before := false
	for i := 1; i < len(nodes); i++ {
		a, b := nodes[i-1], nodes[i]
		kept := a.id != 0 && b.id != 0 && keep(a, b)
		switch {
		case kept && before:
			out[len(out)-1] = append(out[len(out)-1], b)
		case kept:
			out = append(out, []node{a, b})
		}
		before = kept
	}
	return out
}

// drawRoad notes in which cells there is a road at all.
func (p *pass) drawRoad() {
	draw := func(at orb.Point) { p.drawn.set(p.drawn.column(at[0]), p.drawn.row(at[1])) }
	for i, n := range p.known {
		if n.id == 0 {
			continue
		}
		draw(n.point())
		if i == 0 || p.known[i-1].id == 0 {
			continue
		}
		last := p.known[i-1].point()
		steps := int(route.Distance(last, n.point()) / blankStep)
		for k := range steps {
			draw(route.Between(last, n.point(), float64(k+1)/float64(steps+1)))
		}
	}
}

func (p *pass) takeRoad(w *osm.Way) {
	near := runs(p.known, p.touches)
	if len(near) == 0 {
		return
	}
	state := p.stateOf(w)
	if gone, ok := p.goneRoads[w.ID]; ok && gone.compare(state) > 0 {
		return
	}
	if old := p.ways[w.ID]; old != nil && old.state.compare(state) >= 0 {
		return
	}
	p.ways[w.ID] = &way{id: w.ID, runs: near, footing: footingOf(w.Tags), oneway: onewayOf(w.Tags), state: state}
}

// touches tells whether a straight between two nodes comes near the line.
func (p *pass) touches(a, b node) bool {
	from, to := a.point(), b.point()
	n := int(route.Distance(from, to)/closeBy) + 1
	for i := range n + 1 {
		at := route.Between(from, to, float64(i)/float64(n))
		if p.narrow.has(at[0], at[1]) {
			return true
		}
	}
	return false
}

// outlinesOf gives a way as the outline of a thing, as far as it is known.
func (p *pass) outlinesOf(w *osm.Way) []outline {
	o := outline{closed: len(w.Nodes) > 3 && w.Nodes[0].ID == w.Nodes[len(w.Nodes)-1].ID}
	if n := len(w.Nodes); n > 0 {
		o.first, o.last = int64(w.Nodes[0].ID), int64(w.Nodes[n-1].ID)
	}
	for _, n := range p.known {
		if n.id == 0 {
			o.closed = false
			continue
		}
		o.points = append(o.points, n.point())
	}
	return []outline{o}
}

// takeMember gives a way to the relations that it is a member of.
func (p *pass) takeMember(w *osm.Way) {
	for _, o := range p.objects {
		for _, m := range o.members {
			if m.Type == osm.TypeWay && m.Ref == int64(w.ID) && m.Role != "inner" {
				o.outlines = append(o.outlines, p.outlinesOf(w)...)
			}
		}
	}
}

// clone copies tags out of the texts of their block.
func clone(t osm.Tags) osm.Tags {
	out := make(osm.Tags, len(t))
	for i, tag := range t {
		out[i] = osm.Tag{Key: strings.Clone(tag.Key), Value: strings.Clone(tag.Value)}
	}
	return out
}
