package survey

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"strings"

	"lastpump/fuel/survey/surface"
	"lastpump/route"
	"lastpump/route/flat"
	"lastpump/route/input"
	"lastpump/route/osmfile"
	"lastpump/route/roads"

	"github.com/paulmach/orb"
)

// ErrTwice is the cause of the error of an extract that has an object twice.
var ErrTwice = errors.New("an object stands twice in one extract")

// A collection is what is brought in from the extracts: of all the map, what lies near
// the line.
type collection struct {
	opt          Options
	wide, narrow *flat.Zone
	close        *flat.Zone              // the wide one, but for what is read for roads alone
	tables       []*nodeTable            // one for each extract
	used         map[*nodeTable]bool     // those that have a node close to the line
	net          *netting                // nil where no road map is made
	roads        map[int64]*road         // by the number of the way
	objects      map[osmfile.Ref]*object // pumps and places
	gone         map[osmfile.Ref]state   // what the newer of several extracts knows to be none any more
	goneRoads    map[int64]state
	drawn        *flat.Zone // cells of the wide one with a road in them
	beside       *beside
}

// A state tells how old what the map says of an object is, and how whole it is.
type state struct {
	osmfile.Edit
	known int // of its nodes
}

// compare puts the newer behind, and of two as new the more complete: extracts that
// overlap may be of different days, and are cut at different places.
func (s state) compare(o state) int {
	return cmp.Or(cmp.Compare(s.Version, o.Version), s.Time.Compare(o.Time), cmp.Compare(s.known, o.known))
}

// A road is a way to ride on, as far as it lies near the line.
type road struct {
	roads.Way
	surface.Footing
	state state
}

// An object is a thing of the map with a place: a node, a way by its outline, a
// relation by those of its members.
type object struct {
	ref      osmfile.Ref
	tags     osmfile.Tags
	outlines []outline
	state    state
	members  []osmfile.Member // of a relation
}

type outline struct {
	points      []orb.Point
	closed      bool
	first, last int64 // nodes at its ends
}

func newCollection(line *route.Line, opt Options) *collection {
	c := &collection{opt: opt, roads: map[int64]*road{}, objects: map[osmfile.Ref]*object{},
		gone: map[osmfile.Ref]state{}, goneRoads: map[int64]state{}, drawn: flat.NewZone(wideColumns)}
	c.wide, c.narrow = zonesOf(line, opt.Corridor)
	c.close, c.used = c.wide, map[*nodeTable]bool{}
	if opt.WaysOut > 0 {
		c.wide, _ = zonesOf(line, opt.roadReach())
		c.net = newNetting()
	}
	c.beside = newBeside(line, c.wide, c.opt.held())
	return c
}

// read reads all extracts. The nodes of each come before its ways and these before its
// relations, as a rule. What a relation is made of has passed by when it comes, and so
// has everything where the rule is broken: what is missing is brought in by a second
// pass, and what one of several extracts knows to be gone is let go.
func (c *collection) read(ctx context.Context, extracts []osmfile.Extract) error {
	firsts := make([]*pass, len(extracts))
	for i, e := range extracts {
		p := &pass{collection: c, nodes: &nodeTable{}, seen: map[osmfile.Ref]bool{}}
		firsts[i] = p
		c.tables = append(c.tables, p.nodes)
		c.beside.outers = append(c.beside.outers, &nodeTable{})
		var err error
		if p.index, err = e.Scan(ctx, c.opt.Cores, nil, p.filter(), p.take); err != nil {
			return err
		}
		if p.twice != (osmfile.Ref{}) {
			what := fmt.Sprintf("%s stands in it twice: this is a history of the map, or two maps in one", p.twice)
			return &input.Error{File: e.Name, What: what,
				Hint: "give the map of one day; two extracts are two files", Cause: ErrTwice}
		}
		p.sort()
	}
	for i, e := range extracts {
		if err := c.again(ctx, e, firsts[i], len(extracts) > 1); err != nil {
			return err
		}
	}
	return nil
}

// again makes the second pass over an extract if it needs one.
func (c *collection) again(ctx context.Context, e osmfile.Extract, first *pass, several bool) error {
	p := &pass{collection: c, nodes: first.nodes, second: true, all: first.broken, wanted: c.wanted()}
	only := first.index
	switch {
	case several: // a way may have nodes in another extract, and all may be of another day
		only, p.all, p.held = nil, true, map[osmfile.Ref]bool{}
		for ref := range c.objects {
			p.held[ref] = true
		}
		for id := range c.roads {
			p.held[wayRef(id)] = true
		}
	case p.all:
	case len(p.wanted) == 0:
		return nil
	default:
		only = only.With(p.wanted)
	}
	_, err := e.Scan(ctx, c.opt.Cores, only, p.filter(), p.take)
	return err
}

// wanted lists the ways that relations are made of.
func (c *collection) wanted() map[int64]bool {
	wanted := map[int64]bool{}
	for _, o := range c.objects {
		for _, m := range o.members {
			if m.Kind == osmfile.IsWay {
				wanted[m.ID] = true
			}
		}
	}
	return wanted
}

// findNode tells where a node lies, if that is near the line.
func (c *collection) findNode(id int64) (p place, ok bool) {
	for _, t := range c.tables {
		if p, ok = t.find(id); ok {
			return p, true
		}
	}
	return p, false
}

// empty tells whether there was nothing near the line.
func (c *collection) empty() bool {
	return len(c.used) == 0
}

// idle names the extracts that have nothing near the line.
func (c *collection) idle(extracts []osmfile.Extract) (names []string) {
	for i, t := range c.tables {
		if !c.used[t] {
			names = append(names, extracts[i].Name)
		}
	}
	return names
}

// blank lists where along the line the map has no road at all within a few kilometres:
// there it may not be that there is no pump, but that there is no map.
func (c *collection) blank(line *route.Line) (out []Lack) {
	var now *roads.Span
	var spans []roads.Span
	for at := route.Metres(0); ; at = min(at+blankStep, line.Length()) {
		switch {
		case c.drawn.HasBeside(line.At(at), blankCells):
			now = nil
		case now == nil:
			spans = append(spans, roads.Span{From: at, To: at})
			now = &spans[len(spans)-1]
		default:
			now.To = at
		}
		if at == line.Length() {
			for _, s := range spans {
				if s.Length() >= leastBlank {
					out = append(out, lack(line, s))
				}
			}
			return out
		}
	}
}

const (
	blankStep  route.Metres = 500
	leastBlank route.Metres = 5000
	blankCells              = 3 // to each side, of 1.2 km
)

// nothingNear is the fault of extracts that have nothing where the line is.
func nothingNear(extracts []osmfile.Extract, corridor route.Metres) error {
	var names []string
	for _, e := range extracts {
		names = append(names, e.Name)
	}
	return &input.Error{File: strings.Join(names, ", "),
		What: fmt.Sprintf("nothing on it lies within %.1f km of the line", corridor.Kilometres()),
		Hint: "is it the extract of another region? the tracks and the map have to be of one place"}
}

// The two zones of a survey: pumps and places are looked for in the wide one, ways
// in the narrow one.
const (
	wideColumns   = 1 << 15 // cells of 1.2 km
	narrowColumns = 1 << 17 // cells of 0.3 km
)

// How far off the line a way may lie and still be held. Between two points of the
// line that lie far apart the ride strays from the straight: a way half as long
// again as the straight d stays within 0.56 d of it, and nobody looks for one that
// strays farther than 1.5 km.
const (
	leastStray route.Metres = 200
	mostStray  route.Metres = 1500
	strayShare              = 0.56
)

// leastWide is what the wide zone is at least: far from anywhere ways have nodes a
// kilometre or two apart.
const leastWide route.Metres = 5000

// closeBy is how far apart along the line points may lie that are added to the narrow
// zone for all between them.
const closeBy route.Metres = 100

// held is how far off the line nodes are held whatever they are part of.
func (o Options) held() route.Metres {
	if o.WaysOut > 0 {
		return max(o.roadReach(), leastWide)
	}
	return max(o.Corridor, leastWide)
}

// zonesOf makes the zones of a line. Whatever the corridor, what the ways near the line
// are made of lies in the wide one.
func zonesOf(line *route.Line, corridor route.Metres) (wide, narrow *flat.Zone) {
	wide, narrow = flat.NewZone(wideColumns), flat.NewZone(narrowColumns)
	corridor = max(corridor, leastWide)
	wide.AddLine(line, corridor/20, func(route.Metres) route.Metres { return corridor })
	narrow.AddLine(line, closeBy, func(step route.Metres) route.Metres {
		return min(max(leastStray, strayShare*step), mostStray)
	})
	return wide, narrow
}
