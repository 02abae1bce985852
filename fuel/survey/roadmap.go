package survey

import (
	"cmp"
	"slices"

	"lastpump/fuel/survey/refuge"
	"lastpump/fuel/survey/surface"
	"lastpump/fuel/wayout"
	"lastpump/octane"
	"lastpump/route"
	"lastpump/route/flat"
	"lastpump/route/osmfile"
	"lastpump/route/roads/net"

	"github.com/paulmach/orb"
)

// A RoadMap is the roads about a line that motors may use, and where they lead.
type RoadMap struct {
	Net     *net.Net               // Facts.Ground is the number in [route.AllGrounds], Facts.Marks are [wayout.Marks]
	Names   []string               // of roads, by Facts.Name
	Pumps   []Pump                 // with petrol, as far as the map knows: those of the survey first, in its order
	Ferries []Ferry                // they are not in the net
	Cuts    []Cut                  // roads that the maps break off, the nearest to the line first
	Blank   []Blank                // stretches of the line beside which the maps have nothing at all
	Refuges []refuge.Place         // where there is help
	Major   map[int64]refuge.Class // by the number of the way, the roads on which somebody comes by
}

// A Ferry is one of the map.
type Ferry struct {
	Name string // "" for none
	Km   route.Metres
	Off  route.Metres // of its nearest end from the line there
}

// A Cut is where a road goes on that the maps do not have.
type Cut struct {
	At      orb.Point
	Km, Off route.Metres
}

// A Blank is a stretch of line beside which, so far off and farther, there are ten
// kilometres each way without a single thing on the maps: a desert, the sea, or where an
// extract ends. What lies there is not known.
type Blank struct {
	FromKm, ToKm route.Metres // of the file
	Off          route.Metres
}

// A netting is what is brought in for a road map.
type netting struct {
	builder  net.Builder
	ways     map[int64]netted
	names    []string
	number   map[string]int32
	barriers map[int64]barrier
	ferries  map[int64]ferry
	ends     map[int64][]end
	filled   *flat.Zone // cells with anything in them
	major    map[int64]refuge.Class
}

// A netted way has its number in the builder, and how old and whole it is.
type netted struct {
	number int
	state
}

type barrier struct {
	stops bool
	marks wayout.Marks
}

type ferry struct {
	name string
	at   []place
	state
}

// An end of a way is where its nodes are not known any more.
type end struct {
	at      place
	missing int64
}

const filledColumns = 1 << 12 // cells of 10 km

func newNetting() *netting {
	return &netting{ways: map[int64]netted{}, number: map[string]int32{}, barriers: map[int64]barrier{},
		ferries: map[int64]ferry{}, ends: map[int64][]end{}, filled: flat.NewZone(filledColumns),
		major: map[int64]refuge.Class{}}
}

func (n *netting) takeNode(o *osmfile.Node) {
	n.filled.Set(n.filled.Cell(o.Lon, o.Lat))
	if len(o.Tags) == 0 {
		return
	}
	if stops, marks := surface.Barred(o.Tags); stops || marks != 0 {
		b := n.barriers[o.ID] // of two extracts either may know of it
		n.barriers[o.ID] = barrier{stops || b.stops, marks | b.marks}
	}
}

// takeWay takes in a way of which these nodes are known, an ID of 0 for the others; or
// lets one go that is no road any more.
func (n *netting) takeWay(w *osmfile.Way, known []node, s state) {
	if old, ok := n.ways[w.ID]; ok && old.compare(s) > 0 {
		return
	} else if ok && old.number >= 0 {
		n.builder.Remove(old.number)
	}
	delete(n.ends, w.ID)
	delete(n.major, w.ID)
	open, marks := surface.Let(w.Tags)
	if !open {
		n.ways[w.ID] = netted{-1, s}
		return
	}
	nodes := make([]net.Node, len(known))
	for i, k := range known {
		b := n.barriers[k.id]
		if marks |= b.marks; !b.stops {
			nodes[i] = net.Node{ID: k.id, Place: net.Place{Lon: k.lon, Lat: k.lat}}
		}
		for _, beside := range []int{i - 1, i + 1} {
			if k.id != 0 && beside >= 0 && beside < len(known) && known[beside].id == 0 {
				n.ends[w.ID] = append(n.ends[w.ID], end{k.place, w.Nodes[beside]})
			}
		}
	}
	if class := refuge.Major(w.Tags); class > 0 {
		n.major[w.ID] = class
	}
	n.ways[w.ID] = netted{n.builder.Add(w.ID, nodes, net.Facts{Ground: groundNumber(surface.Of(w.Tags).Ground),
		Marks: uint8(marks), Main: surface.Main(w.Tags), Oneway: surface.MotorOneway(w.Tags), Name: n.name(w.Tags)}), s}
}

func groundNumber(g route.Ground) uint8 {
	return uint8(max(slices.Index(route.AllGrounds(), g), 0))
}

// name gives the number of what a road is called: its name, else its number, else what
// it is.
func (n *netting) name(t osmfile.Tags) int32 {
	name := oneLine(cmp.Or(t.Find("name"), t.Find("ref"), t.Find("highway")))
	k, ok := n.number[name]
	if !ok {
		k = int32(len(n.names))
		name = string([]byte(name)) // not a part of the text of its block
		n.names, n.number[name] = append(n.names, name), k
	}
	return k
}

func isFerry(t osmfile.Tags) bool { return t.Find("route") == "ferry" }

func (n *netting) takeFerry(w *osmfile.Way, known []node, s state) {
	if old, ok := n.ferries[w.ID]; ok && old.compare(s) > 0 {
		return
	}
	f := ferry{name: oneLine(w.Tags.Find("name")), state: s}
	for _, k := range known {
		if k.id != 0 {
			f.at = append(f.at, k.place)
		}
	}
	n.ferries[w.ID] = f
}

// roadMap makes the map of what was brought in. The collection gives away what only it
// needs: of the nodes nothing is held any more.
func (s *Survey) roadMap(c *collection, near settlements) {
	m := &RoadMap{Names: c.net.names, Major: c.net.major, Refuges: c.refuges()}
	for _, p := range s.Pumps {
		if !p.NoPetrol() {
			m.Pumps = append(m.Pumps, p)
		}
	}
	m.Pumps = append(m.Pumps, s.farPumps(c, near)...)
	m.Ferries = s.ferries(c)
	m.Cuts = s.cuts(c)
	m.Blank = s.blanks(c.net.filled)
	builder := c.net.builder
	c.tables, c.net, c.objects = nil, nil, nil
	m.Net = builder.Net()
	s.Roads = m
}

// refuges gives where there is help.
func (c *collection) refuges() (out []refuge.Place) {
	for _, o := range c.inOrder(refuge.Is) {
		if at, ok := o.middle(); ok {
			p := refuge.Place{At: rounded(at)}
			if p.Kind, p.What = refuge.Of(o.tags); o.tags.Find("name") != "" {
				p.Name = nameOf(o.tags)
			}
			out = append(out, p)
		}
	}
	return out
}

// farPumps gives the pumps with petrol beyond the corridor.
func (s *Survey) farPumps(c *collection, near settlements) (out []Pump) {
	var far []*station
	for _, o := range c.inOrder(isPump) {
		if refusal(o.tags).Why != "" {
			continue
		}
		if st, ok := newStation(s.Line, o, s.Options.Corridor); !ok && len(st.outlines) > 0 && st.off < s.Options.roadReach() {
			far = append(far, st)
		}
	}
	taken := map[string]bool{}
	for _, p := range s.inOrder() {
		taken[p.Name] = true
	}
	for _, st := range oneEach(far) {
		p := pumpOf(st.tags, cmp.Or(s.Options.Scale, octane.ScaleRON), st.state.Time)
		p.Ref, p.Along, p.Km, p.Off, p.Stop.At = st.ref, st.along, st.km, st.off, rounded(st.at)
		if p.NoPetrol() {
			continue
		}
		p.Grades = nil // nobody has said on which scale they are
		p.Name = freeName(cmp.Or(p.Name, "pump"), near.where(p.Stop.At, p.Km), taken)
		out = append(out, p)
	}
	slices.SortStableFunc(out, byPlace)
	return out
}

// roadReach is how far off the line anything of a road map lies.
func (o Options) roadReach() route.Metres { return o.WaysOut + o.Corridor }

func (s *Survey) ferries(c *collection) (out []Ferry) {
	ids := make([]int64, 0, len(c.net.ferries))
	for id := range c.net.ferries {
		ids = append(ids, id)
	}
	slices.Sort(ids)
	for _, id := range ids {
		f := c.net.ferries[id]
		if len(f.at) == 0 {
			continue
		}
		a, _ := s.Line.Nearest(f.at[0].point(), 0, s.Line.Length())
		if b, _ := s.Line.Nearest(f.at[len(f.at)-1].point(), 0, s.Line.Length()); b.Off < a.Off {
			a = b
		}
		out = append(out, Ferry{f.name, s.Line.FileAt(a.At), a.Off})
	}
	slices.SortStableFunc(out, func(a, b Ferry) int { return cmp.Compare(a.Km, b.Km) })
	return out
}

// cuts finds the roads of which the extracts lack nodes that would lie within what is
// read.
func (s *Survey) cuts(c *collection) (out []Cut) {
	const outside route.Metres = 5000 // so near the edge of what is read the next node may lie beyond
	for _, id := range sortedKeys(c.net.ends) {
		for _, e := range c.net.ends[id] {
			if _, ok := c.findNode(e.missing); ok {
				continue
			}
			at, ok := s.Line.Nearest(e.at.point(), 0, s.Line.Length())
			if ok && at.Off < s.Options.roadReach()-outside {
				out = append(out, Cut{e.at.point(), s.Line.FileAt(at.At), at.Off})
			}
		}
	}
	slices.SortStableFunc(out, func(a, b Cut) int { return cmp.Compare(a.Off, b.Off) })
	return out
}

func sortedKeys[V any](m map[int64]V) []int64 {
	keys := make([]int64, 0, len(m))
	for k := range m {
		keys = append(keys, k)
	}
	slices.Sort(keys)
	return keys
}

// blanks finds where beside the line the maps have nothing.
func (s *Survey) blanks(filled *flat.Zone) (out []Blank) {
	const step, cell route.Metres = 5000, 9800
	for at := route.Metres(0); ; at = min(at+step, s.Line.Length()) {
		p := s.Line.At(at)
		least := s.Options.WaysOut + 1
		around := flat.NewZone(filledColumns)
		around.Add(p, s.Options.WaysOut)
		for c := range around.Cells() {
			if off := route.Distance(p, around.Middle(c)); off <= s.Options.WaysOut && !filled.HasCell(c) {
				least = min(least, max(off-cell/2, 0))
			}
		}
		km := s.Line.FileAt(at)
		switch {
		case least > s.Options.WaysOut:
		case len(out) > 0 && out[len(out)-1].ToKm >= km-step-1:
			b := &out[len(out)-1]
			b.ToKm, b.Off = km, min(b.Off, least)
		default:
			out = append(out, Blank{km, km, least})
		}
		if at == s.Line.Length() {
			return out
		}
	}
}
