package osmmap

import (
	"context"
	"slices"
	"strings"
	"time"

	"lastpump/route"

	"github.com/paulmach/orb"
	"github.com/paulmach/osm"
)

// A haul is what is brought in from the extracts: of all the map, what lies near the
// line.
type haul struct {
	opt          Options
	wide, narrow *zone
	nodes        *nodeTable
	ways         map[osm.WayID]*way
	objects      map[osm.FeatureID]*object // pumps and places
	bounds       []orb.Bound
}

// A way is one to ride on, as far as it lies near the line.
type way struct {
	id       osm.WayID
	runs     [][]node // of its nodes, with what lies far off left out between them
	footing  footing
	oneway   int8 // 1 as it is drawn, -1 against, 0 both
	complete int  // how many of its nodes are known
}

// An object is a thing of the map with a place: a node, a way by its outline, a
// relation by those of its members.
type object struct {
	id       osm.FeatureID
	tags     osm.Tags
	outlines []outline
	edited   time.Time
	members  osm.Members // of a relation
}

type outline struct {
	points []orb.Point
	closed bool
}

func newHaul(line *route.Line, opt Options) *haul {
	h := &haul{opt: opt, nodes: &nodeTable{}, ways: map[osm.WayID]*way{}, objects: map[osm.FeatureID]*object{}}
	h.wide, h.narrow = zonesOf(line, opt.Corridor)
	return h
}

// read reads an extract. Its nodes come before its ways and these before its
// relations, as a rule; what a relation is made of has passed by when it comes, and so
// has everything where the rule is broken. A second pass brings that in.
func (h *haul) read(ctx context.Context, e Extract) error {
	first := &pass{haul: h}
	ways, err := e.scan(ctx, h.opt.Cores, 0, first.sieve(), first.take)
	if err != nil {
		return err
	}
	h.nodes.sort()
	wanted := h.wanted()
	if len(wanted) == 0 && !first.broken {
		return nil
	}
	second := &pass{haul: h, second: true, all: first.broken, wanted: wanted}
	_, err = e.scan(ctx, h.opt.Cores, ways, second.sieve(), second.take)
	return err
}

// wanted lists the ways that relations are made of and that are not at hand.
func (h *haul) wanted() map[osm.WayID]bool {
	wanted := map[osm.WayID]bool{}
	for _, o := range h.objects {
		for _, m := range o.members {
			if m.Type == osm.TypeWay {
				wanted[osm.WayID(m.Ref)] = true
			}
		}
	}
	return wanted
}

// A pass is one going through an extract.
type pass struct {
	*haul
	second bool
	sorted bool // the nodes are sorted: no more are expected
	broken bool // one came all the same
	all    bool // in the second: all ways and not only those wanted
	wanted map[osm.WayID]bool
	known  []node // space for the nodes of one way
}

// sieve tells at a glance what may be wanted; it is asked by several goroutines, and
// reads only.
func (p *pass) sieve() sieve {
	if p.second {
		return sieve{way: func(w *osm.Way) bool { return p.wanted[w.ID] || p.all && p.wantsWay(w.Tags) }}
	}
	return sieve{
		node:     func(n *osm.Node) bool { return p.wide.has(n.Lon, n.Lat) },
		way:      func(w *osm.Way) bool { return p.wantsWay(w.Tags) },
		relation: func(r *osm.Relation) bool { return isPump(r.Tags) },
		bounds: func(b *osm.Bounds) {
			p.bounds = append(p.bounds, orb.Bound{Min: orb.Point{b.MinLon, b.MinLat}, Max: orb.Point{b.MaxLon, b.MaxLat}})
		},
	}
}

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
		p.takeObject(&object{id: o.FeatureID(), tags: clone(o.Tags), edited: o.Timestamp, members: slices.Clone(o.Members)})
	}
}

func (p *pass) takeNode(n *osm.Node) {
	p.broken = p.broken || p.sorted
	p.nodes.add(node{int64(n.ID), placeAt(n.Lon, n.Lat)})
	if len(n.Tags) > 0 && p.wantsObject(n.Tags) {
		at := placeAt(n.Lon, n.Lat).point()
		p.takeObject(&object{id: n.FeatureID(), tags: clone(n.Tags), edited: n.Timestamp, outlines: []outline{{points: []orb.Point{at}}}})
	}
}

// takeObject takes in a pump or a place. Of two with one number, from extracts that
// overlap, the one that more is known of counts.
func (p *pass) takeObject(o *object) {
	if old := p.objects[o.id]; old == nil || old.known() < o.known() {
		p.objects[o.id] = o
	}
}

func (o *object) known() (points int) {
	for _, l := range o.outlines {
		points += len(l.points)
	}
	return points
}

func (p *pass) takeWay(w *osm.Way) {
	if !p.find(w) {
		return
	}
	if rideable(w.Tags) {
		p.takeRoad(w)
	}
	if p.wantsObject(w.Tags) {
		p.takeObject(&object{id: w.FeatureID(), tags: clone(w.Tags), edited: w.Timestamp, outlines: p.outlinesOf(w)})
	}
	if p.wanted[w.ID] {
		p.takeMember(w)
	}
}

// find looks up those of a way's nodes that lie near the line, into known; id is 0 for
// the others. It tells whether there are any.
func (p *pass) find(w *osm.Way) (any bool) {
	p.known = p.known[:0]
	for _, n := range w.Nodes {
		at, ok := p.nodes.find(int64(n.ID))
		if !ok {
			n.ID = 0
		}
		p.known = append(p.known, node{int64(n.ID), at})
		any = any || ok
	}
	return any
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

func (p *pass) takeRoad(w *osm.Way) {
	near := runs(p.known, p.touches)
	if len(near) == 0 {
		return
	}
	complete := 0
	for _, n := range p.known {
		if n.id != 0 {
			complete++
		}
	}
	if old := p.ways[w.ID]; old != nil && old.complete >= complete {
		return
	}
	p.ways[w.ID] = &way{id: w.ID, runs: near, footing: footingOf(w.Tags), oneway: onewayOf(w.Tags), complete: complete}
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
			if m.Type == osm.TypeWay && m.Ref == int64(w.ID) {
				o.outlines = append(o.outlines, p.outlinesOf(w)...)
			}
		}
	}
}

func onewayOf(t osm.Tags) int8 {
	switch v := t.Find("oneway"); v {
	case "yes", "true", "1":
		return 1
	case "-1", "reverse":
		return -1
	case "":
		if c := t.Find("highway"); c == "motorway" || c == "motorway_link" || strings.Contains(t.Find("junction"), "roundabout") {
			return 1
		}
	}
	return 0
}

// clone copies tags out of the large texts that they may be parts of.
func clone(t osm.Tags) osm.Tags {
	out := make(osm.Tags, len(t))
	for i, tag := range t {
		out[i] = osm.Tag{Key: strings.Clone(tag.Key), Value: strings.Clone(tag.Value)}
	}
	return out
}
