package survey

import (
	"slices"
	"strings"

	"lastpump/fuel/survey/landscape"
	"lastpump/fuel/survey/refuge"
	"lastpump/fuel/survey/surface"
	"lastpump/route"
	"lastpump/route/osmfile"
	"lastpump/route/roads"

	"github.com/paulmach/orb"
)

// A pass is one going through an extract.
type pass struct {
	*collection
	nodes  *nodeTable
	index  *osmfile.Index       // where the ways stand in the file, nil if that cannot be told
	sorted bool                 // the nodes are sorted: no more are expected
	broken bool                 // one came all the same
	seen   map[osmfile.Ref]bool // in the first pass: what was taken in
	twice  osmfile.Ref          // what came twice
	useful bool                 // a node lies close to the line

	second bool
	all    bool                 // ways, and not only those wanted
	wanted map[int64]bool       // for relations
	held   map[osmfile.Ref]bool // objects that another extract may know to be gone

	known []node // space for the nodes of one way
}

// filter tells at a glance what may be wanted; it is asked by several goroutines, and
// reads only what does not change in a pass.
func (p *pass) filter() osmfile.Filter {
	if !p.second {
		return osmfile.Filter{
			Node:     func(_ int64, lon, lat float64) bool { return p.beside.has(lon, lat) },
			Way:      func(_ int64, t osmfile.Tags) bool { return p.wantsWay(t) },
			Relation: func(_ int64, t osmfile.Tags) bool { return isPump(t) || landscape.WantedRelation(t) },
		}
	}
	f := osmfile.Filter{Way: func(id int64, t osmfile.Tags) bool {
		return p.wanted[id] || p.held[wayRef(id)] || p.all && p.wantsWay(t)
	}}
	if p.held != nil {
		f.Node = func(id int64, _, _ float64) bool { return p.held[nodeRef(id)] }
		f.Relation = func(id int64, t osmfile.Tags) bool { return p.held[relationRef(id)] || landscape.WantedRelation(t) }
	}
	return f
}

func nodeRef(id int64) osmfile.Ref     { return osmfile.Ref{Kind: osmfile.IsNode, ID: id} }
func wayRef(id int64) osmfile.Ref      { return osmfile.Ref{Kind: osmfile.IsWay, ID: id} }
func relationRef(id int64) osmfile.Ref { return osmfile.Ref{Kind: osmfile.IsRelation, ID: id} }

func (p *pass) wantsWay(t osmfile.Tags) bool {
	return surface.Rideable(t) || p.wantsObject(t) || p.net != nil && isFerry(t) || landscape.Wanted(t)
}

func (p *pass) wantsObject(t osmfile.Tags) bool {
	return isPump(t) || isPlace(t) || p.opt.Towns && shopThatSells(t) != "" || p.net != nil && refuge.Is(t)
}

// take takes in what is wanted of a block.
func (p *pass) take(b *osmfile.Block) {
	for i := range b.Nodes {
		p.takeNode(&b.Nodes[i])
	}
	if len(b.Ways) > 0 && !p.sorted {
		p.sort()
		p.sorted = true
	}
	for i := range b.Ways {
		p.takeWay(&b.Ways[i])
	}
	for i := range b.Relations {
		p.takeRelation(&b.Relations[i])
	}
}

// sort makes nodes ready to be looked up.
func (p *pass) sort() {
	p.nodes.sort()
	p.beside.outers[len(p.beside.outers)-1].sort()
}

func (p *pass) takeRelation(r *osmfile.Relation) {
	ref := relationRef(r.ID)
	if landscape.WantedRelation(r.Tags) {
		if p.beside.TakeRelation(r); !isPump(r.Tags) && !p.held[ref] {
			return
		}
	}
	p.see(ref)
	o := &object{ref: ref, tags: r.Tags, state: state{r.Edit, 0}, members: slices.Clone(r.Members)}
	for i := range o.members {
		o.members[i].Role = strings.Clone(o.members[i].Role)
	}
	p.takeObject(o)
}

func (p *pass) takeNode(n *osmfile.Node) {
	at := placeAt(n.Lon, n.Lat)
	if !p.second {
		p.broken = p.broken || p.sorted
		if !p.wide.Has(n.Lon, n.Lat) {
			p.beside.takeNode(n, p.opt.held())
			return
		}
		p.beside.takeTown(n)
		if p.nodes.n > 0 && p.nodes.last == n.ID {
			p.twice = nodeRef(n.ID)
		}
		p.nodes.add(node{n.ID, at})
		if !p.useful && p.close.Has(n.Lon, n.Lat) {
			p.useful, p.used[p.nodes] = true, true
		}
		if p.net != nil {
			p.net.takeNode(n)
		}
	}
	if wanted := len(n.Tags) > 0 && p.wantsObject(n.Tags); wanted || p.second {
		p.see(nodeRef(n.ID))
		p.takeObject(&object{ref: nodeRef(n.ID), tags: n.Tags, state: state{n.Edit, 1},
			outlines: []outline{{points: []orb.Point{at.point()}}}})
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
		if old != nil && o.ref.Kind == osmfile.IsWay && o.state.known == 0 {
			o.outlines = old.outlines // it was drawn anew, of nodes that no extract has
		}
		p.objects[o.ref] = o
	}
}

// see notes what was taken in, and what comes twice.
func (p *pass) see(ref osmfile.Ref) {
	if p.second {
		return
	}
	if p.seen[ref] {
		p.twice = ref
	}
	p.seen[ref] = true
}

func (p *pass) takeWay(w *osmfile.Way) {
	p.takeLand(w)
	near, road, ref := p.find(w), surface.Rideable(w.Tags), wayRef(w.ID)
	thing := p.held[ref] || near && p.wantsObject(w.Tags)
	if near && road || thing {
		p.see(ref)
	}
	switch old := p.roads[w.ID]; {
	case near && road && p.anyClose():
		p.drawRoad()
		p.takeRoad(w)
	case !road && old != nil && p.stateOf(w).compare(old.state) > 0: // it is none any more
		delete(p.roads, w.ID)
		p.goneRoads[w.ID] = p.stateOf(w)
	}
	if thing {
		p.takeObject(&object{ref: ref, tags: w.Tags, state: p.stateOf(w), outlines: p.outlinesOf(w)})
	}
	if near && p.wanted[w.ID] {
		p.takeMember(w)
	}
	if p.net != nil && near {
		p.takeForNet(w)
	}
}

// takeForNet takes in a way for the road map.
func (p *pass) takeForNet(w *osmfile.Way) {
	_, had := p.net.ways[w.ID]
	switch {
	case surface.Rideable(w.Tags) || had:
		p.net.takeWay(w, p.known, p.stateOf(w))
	case isFerry(w.Tags):
		p.net.takeFerry(w, p.known, p.stateOf(w))
	}
}

// anyClose tells whether one of the nodes lies close to the line.
func (p *pass) anyClose() bool {
	return p.net == nil || slices.ContainsFunc(p.known, func(n node) bool {
		at := n.point()
		return n.id != 0 && p.close.Has(at[0], at[1])
	})
}

// find looks up those of a way's nodes that lie near the line, into known; id is 0 for
// the others. It tells whether there are any.
func (p *pass) find(w *osmfile.Way) (any bool) {
	p.known = p.known[:0]
	for _, id := range w.Nodes {
		at, ok := p.findNode(id)
		if !ok {
			id = 0
		}
		p.known = append(p.known, node{id, at})
		any = any || ok
	}
	return any
}

func (p *pass) stateOf(w *osmfile.Way) state {
	s := state{Edit: w.Edit}
	for _, n := range p.known {
		if n.id != 0 {
			s.known++
		}
	}
	return s
}

// runs gives what of a way is left where only the steps are kept that keep says yes to.
func runs(nodes []node, keep func(a, b node) bool) (out [][]roads.Node) {
	before := false
	for i := 1; i < len(nodes); i++ {
		a, b := nodes[i-1], nodes[i]
		kept := a.id != 0 && b.id != 0 && keep(a, b)
		switch {
		case kept && before:
			out[len(out)-1] = append(out[len(out)-1], roads.Node{ID: b.id, At: b.point()})
		case kept:
			out = append(out, []roads.Node{{ID: a.id, At: a.point()}, {ID: b.id, At: b.point()}})
		}
		before = kept
	}
	return out
}

// drawRoad notes in which cells there is a road at all.
func (p *pass) drawRoad() {
	draw := func(at orb.Point) { p.drawn.Set(p.drawn.Cell(at[0], at[1])) }
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

func (p *pass) takeRoad(w *osmfile.Way) {
	near := runs(p.known, p.touches)
	if len(near) == 0 {
		return
	}
	state := p.stateOf(w)
	if gone, ok := p.goneRoads[w.ID]; ok && gone.compare(state) > 0 {
		return
	}
	if old := p.roads[w.ID]; old != nil && old.state.compare(state) >= 0 {
		return
	}
	way := roads.Way{ID: w.ID, Runs: near, Oneway: surface.Oneway(w.Tags)}
	p.roads[w.ID] = &road{way, surface.Of(w.Tags), state}
}

// touches tells whether a straight between two nodes comes near the line.
func (p *pass) touches(a, b node) bool {
	from, to := a.point(), b.point()
	n := int(route.Distance(from, to)/closeBy) + 1
	for i := range n + 1 {
		at := route.Between(from, to, float64(i)/float64(n))
		if p.narrow.Has(at[0], at[1]) {
			return true
		}
	}
	return false
}

// outlinesOf gives a way as the outline of a thing, as far as it is known.
func (p *pass) outlinesOf(w *osmfile.Way) []outline {
	o := outline{closed: len(w.Nodes) > 3 && w.Nodes[0] == w.Nodes[len(w.Nodes)-1]}
	if n := len(w.Nodes); n > 0 {
		o.first, o.last = w.Nodes[0], w.Nodes[n-1]
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
func (p *pass) takeMember(w *osmfile.Way) {
	for _, o := range p.objects {
		for _, m := range o.members {
			if m.Kind == osmfile.IsWay && m.ID == w.ID && m.Role != "inner" {
				o.outlines = append(o.outlines, p.outlinesOf(w)...)
			}
		}
	}
}

// clone copies tags out of the texts of their block.
func clone(t osmfile.Tags) osmfile.Tags {
	out := make(osmfile.Tags, len(t))
	for i, tag := range t {
		out[i] = osmfile.Tag{Key: strings.Clone(tag.Key), Value: strings.Clone(tag.Value)}
	}
	return out
}
