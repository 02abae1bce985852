package osmmap

import (
	"cmp"
	"context"
	"fmt"
	"slices"
	"time"

	"lastpump/route"

	"github.com/paulmach/orb"
	"github.com/paulmach/osm"
)

// A Ref names an object of the map.
type Ref struct {
	Type osm.Type // node, way or relation
	ID   int64    // below zero for what somebody has drawn and not yet given to the map
}

func (r Ref) String() string { return fmt.Sprintf("%s %d", r.Type, r.ID) }

func (r Ref) compare(o Ref) int {
	return cmp.Or(cmp.Compare(r.rank(), o.rank()), cmp.Compare(r.ID, o.ID))
}

func (r Ref) rank() int {
	return slices.Index([]osm.Type{osm.TypeNode, osm.TypeWay, osm.TypeRelation}, r.Type)
}

// A haul is what is brought in from the extracts: of all the map, what lies near the
// line.
type haul struct {
	opt          Options
	wide, narrow *zone
	tables       []*nodeTable // one for each extract
	ways         map[osm.WayID]*way
	objects      map[Ref]*object // pumps and places
	gone         map[Ref]state   // what the newer of several extracts knows to be none any more
	goneRoads    map[osm.WayID]state
	drawn        *zone // cells of the wide one with a road in them
}

// A state tells how old what the map says of an object is, and how whole it is.
type state struct {
	version int
	edited  time.Time
	known   int // of its nodes
}

// compare puts the newer behind, and of two as new the more complete: extracts that
// overlap may be of different days, and are cut at different places.
func (s state) compare(o state) int {
	return cmp.Or(cmp.Compare(s.version, o.version), s.edited.Compare(o.edited), cmp.Compare(s.known, o.known))
}

// A way is one to ride on, as far as it lies near the line.
type way struct {
	id      osm.WayID
	runs    [][]node // of its nodes, with what lies far off left out between them
	footing footing
	oneway  int8 // 1 as it is drawn, -1 against, 0 both
	state   state
}

// An object is a thing of the map with a place: a node, a way by its outline, a
// relation by those of its members.
type object struct {
	ref      Ref
	tags     osm.Tags
	outlines []outline
	state    state
	members  osm.Members // of a relation
}

type outline struct {
	points      []orb.Point
	closed      bool
	first, last int64 // nodes at its ends
}

func newHaul(line *route.Line, opt Options) *haul {
	h := &haul{opt: opt, ways: map[osm.WayID]*way{}, objects: map[Ref]*object{}, gone: map[Ref]state{}, goneRoads: map[osm.WayID]state{}, drawn: newZone(wideColumns)}
	h.wide, h.narrow = zonesOf(line, opt.Corridor)
	return h
}

// read reads all extracts. The nodes of each come before its ways and these before its
// relations, as a rule. What a relation is made of has passed by when it comes, and so
// has everything where the rule is broken: what is missing is brought in by a second
// pass, and what one of several extracts knows to be gone is let go.
func (h *haul) read(ctx context.Context, extracts []Extract) error {
	firsts := make([]*pass, len(extracts))
	for i, e := range extracts {
		p := &pass{haul: h, nodes: &nodeTable{}, seen: map[Ref]bool{}}
		firsts[i] = p
		h.tables = append(h.tables, p.nodes)
		var err error
		if p.waysAt, err = e.scan(ctx, h.opt.Cores, 0, p.sieve(), p.take); err != nil {
			return err
		}
		if p.twice != (Ref{}) {
			return &route.InputError{File: e.Name, What: fmt.Sprintf("%s stands in it twice: this is a history of the map, or two maps in one", p.twice),
				Hint: "give the map of one day; two extracts are two files, with a --map each"}
		}
		p.nodes.sort()
	}
	for i, e := range extracts {
		if err := h.again(ctx, e, firsts[i], len(extracts) > 1); err != nil {
			return err
		}
	}
	return nil
}

// again makes the second pass over an extract if it needs one.
func (h *haul) again(ctx context.Context, e Extract, first *pass, several bool) error {
	p := &pass{haul: h, nodes: first.nodes, second: true, all: first.broken, wanted: h.wanted()}
	from := first.waysAt
	if several { // a way may have nodes in another extract, and all may be of another day
		from, p.all, p.held = 0, true, map[Ref]bool{}
		for ref := range h.objects {
			p.held[ref] = true
		}
		for id := range h.ways {
			p.held[wayRef(id)] = true
		}
	}
	if len(p.wanted) == 0 && !p.all && !several {
		return nil
	}
	_, err := e.scan(ctx, h.opt.Cores, from, p.sieve(), p.take)
	return err
}

// wanted lists the ways that relations are made of.
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

// findNode tells where a node lies, if that is near the line.
func (h *haul) findNode(id int64) (p place, ok bool) {
	for _, t := range h.tables {
		if p, ok = t.find(id); ok {
			return p, true
		}
	}
	return p, false
}

// empty tells whether there was nothing near the line.
func (h *haul) empty() bool {
	return !slices.ContainsFunc(h.tables, func(t *nodeTable) bool { return t.n > 0 })
}

// idle names the extracts that have nothing near the line.
func (h *haul) idle(extracts []Extract) (names []string) {
	for i, t := range h.tables {
		if t.n == 0 {
			names = append(names, extracts[i].Name)
		}
	}
	return names
}

// blank lists where along the line the map has no road at all within a few kilometres:
// there it may not be that there is no pump, but that there is no map.
func (h *haul) blank(line *route.Line) (out []Stretch) {
	var now *Stretch
	for at := route.Metres(0); ; at = min(at+blankStep, line.Length()) {
		switch {
		case h.anyRoad(line.At(at)):
			now = nil
		case now == nil:
			out = append(out, Stretch{at, at})
			now = &out[len(out)-1]
		default:
			now.To = at
		}
		if at == line.Length() {
			return slices.DeleteFunc(out, func(s Stretch) bool { return s.Length() < leastBlank })
		}
	}
}

const (
	blankStep  route.Metres = 500
	leastBlank route.Metres = 5000
	blankCells              = 3 // to each side, of 1.2 km
)

// anyRoad tells whether the map has a road in the cells about a place.
func (h *haul) anyRoad(p orb.Point) bool {
	z := h.drawn
	c, r := z.column(p[0]), z.row(p[1])
	for dr := int32(-blankCells); dr <= blankCells; dr++ {
		for dc := int32(-blankCells); dc <= blankCells; dc++ {
			if z.hasCell((c+dc+z.columns)%z.columns, r+dr) {
				return true
			}
		}
	}
	return false
}
