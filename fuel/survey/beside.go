package survey

import (
	"sync/atomic"

	"lastpump/fuel/survey/landscape"
	"lastpump/fuel/wayout"
	"lastpump/route"
	"lastpump/route/flat"
	"lastpump/route/land"
	"lastpump/route/osmfile"

	"github.com/paulmach/orb"
)

// landReach is how far off the line land is looked for: beyond the edges of a sheet of 1:500 000 with the
// line in its middle. Where that would take more than mostOuter nodes, as in dense country, it is looked for
// less far, down to what is read for pumps anyway: the reading keeps to its memory.
const (
	landReach route.Metres = 60_000
	mostOuter              = 4_000_000 // nodes, 48 MB
	landCells              = 1 << 14   // cells of 2.4 km
)

// A beside is what is brought in of the land beside a line. Nodes that lie farther off than what
// is held for pumps and roads have tables of their own.
type beside struct {
	*landscape.Collector
	line   *route.Line
	wide   *flat.Zone                // what is held anyway
	zone   atomic.Pointer[flat.Zone] // of the outer nodes; filters ask it while it shrinks
	reach  route.Metres
	outers []*nodeTable
	most   int
	states map[osmfile.Ref]state // of the ways that are held
	known  []landscape.Node      // space for the nodes of one way
}

func newBeside(line *route.Line, wide *flat.Zone, least route.Metres) *beside {
	b := &beside{line: line, wide: wide, most: mostOuter, states: map[osmfile.Ref]state{}}
	b.Collector = landscape.New(func(p orb.Point) bool { return b.has(p[0], p[1]) })
	b.within(landReach, least)
	return b
}

// within looks no farther than a reach; nothing is held beyond what is held anyway where
// that is the farther.
func (b *beside) within(reach, least route.Metres) {
	zone := flat.NewZone(landCells)
	if b.reach = max(reach, least); reach > least {
		zone.AddLine(b.line, reach/20, func(route.Metres) route.Metres { return reach })
	}
	b.zone.Store(zone)
}

// has tells whether a place lies where land is looked for.
func (b *beside) has(lon, lat float64) bool {
	return b.wide.Has(lon, lat) || b.zone.Load().Has(lon, lat)
}

// takeNode takes in a node that is not held for anything else.
func (b *beside) takeNode(n *osmfile.Node, least route.Metres) {
	if !b.zone.Load().Has(n.Lon, n.Lat) {
		return // it was wanted before the zone shrank
	}
	b.outers[len(b.outers)-1].add(node{n.ID, placeAt(n.Lon, n.Lat)})
	b.takeTown(n)
	held := 0
	for _, t := range b.outers {
		held += t.n + len(t.late)
	}
	if held > b.most {
		b.within(b.reach/1.5, least)
		for _, t := range b.outers {
			t.keep(func(p place) bool { at := p.point(); return b.zone.Load().Has(at[0], at[1]) })
		}
	}
}

func (b *beside) takeTown(n *osmfile.Node) {
	if len(n.Tags) > 0 {
		b.TakeTown(nodeRef(n.ID), n.Tags, orb.Point{n.Lon, n.Lat})
	}
}

// keep lets go of the nodes that are not wanted any more.
func (t *nodeTable) keep(wanted func(place) bool) {
	kept := nodeTable{}
	for k, b := range t.blocks {
		for i := range b.n {
			if wanted(b.places[i]) {
				kept.append(node{t.firsts[k] + int64(b.from[i]), b.places[i]})
			}
		}
		t.blocks[k] = nil // no two tables side by side
	}
	for _, n := range t.late {
		if wanted(n.place) {
			kept.late = append(kept.late, n)
		}
	}
	kept.last = max(kept.last, t.last)
	*t = kept
}

// takeLand takes in a way for the land, as far as it lies there.
func (p *pass) takeLand(w *osmfile.Way) {
	if !landscape.Wanted(w.Tags) {
		return
	}
	nodes, known := p.beside.known[:0], 0
	for _, id := range w.Nodes {
		at, ok := p.findNode(id)
		for k := 0; !ok && k < len(p.beside.outers); k++ {
			at, ok = p.beside.outers[k].find(id)
		}
		n := landscape.Node{}
		if ok {
			n = landscape.Node{ID: id, At: at.point()}
			known++
		}
		nodes = append(nodes, n)
	}
	p.beside.known = nodes
	ref, s := wayRef(w.ID), state{w.Edit, known}
	if old, ok := p.beside.states[ref]; known == 0 || ok && old.compare(s) >= 0 {
		return
	}
	if delete(p.beside.states, ref); p.beside.TakeWay(w.ID, w.Tags, nodes) {
		p.beside.states[ref] = s
	}
}

// landOf gives the land that was found.
func (c *collection) landOf(line *route.Line) *land.Land {
	l := c.beside.Land(c.beside.reach)
	l.Line, l.Attribution = wayout.Sum(line), Attribution
	return l
}
