package paper

import (
	"cmp"
	"io"

	"lastpump/cmd/lastpump/internal/words"
	"lastpump/cmd/lastpump/internal/words/landed"
	"lastpump/cmd/lastpump/internal/words/trail"
	"lastpump/cmd/lastpump/internal/words/units"
	"lastpump/fuel/plan"
	"lastpump/route"
	"lastpump/route/atlas"
	"lastpump/route/land"

	"github.com/paulmach/orb"
)

// A sheet of the map is A4 (ISO 216): head, frame, and a foot with scale, keys and cautions.
const (
	mapMargin = 10 * mm
	mapTop    = 25 * mm // where the frame begins
	mapFoot   = 38 * mm // under the frame
	mapWide   = homeWide - 2*mapMargin
	mapHigh   = homeHigh - mapTop - mapFoot
	mapEdge   = 12   // mm that the stretch of a sheet stays away from its edges
	mapMost   = 16   // sheets, if there is a scale for that
	mapFine   = 0.35 // points: what strays less from a straight is drawn as one
	mapLeast  = 4    // points: shorter lakes are left out
	mapRoom   = 14   // points between roads, if they lay side by side
	mapTowns  = 60
)

// The faces of a sheet.
var (
	mapTitle = face{12, true}
	mapText  = face{8.5, false}
	mapPump  = face{8.5, true}
	mapSmall = face{7.5, false}
)

// A mapper draws the sheets.
type mapper struct {
	*pdf
	say    landed.Voice
	loop   string
	atlas  atlas.Atlas
	passes map[int][]int // visits by the number of their stop
	order  []int         // these numbers, in the order of the ride
	ways   []int         // the ways out that are drawn
}

// WriteMapSheet writes the ride as a map on sheets of A4 that follow it: the line with its
// kilometres, pumps, ways out, and what lies beside it where the plan knows that. The same plan gives
// the same bytes.
func WriteMapSheet(w io.Writer, p *plan.Plan, u units.System) error {
	doc, err := newPDF(p, homeWide, homeHigh, cmp.Or(p.Name, "The ride")+": map")
	if err != nil {
		return err
	}
	voice := words.Voice{Plan: p, Units: u, Name: doc.names(p)}
	m := &mapper{pdf: doc, say: landed.Of(voice), loop: trail.Of(voice).Loop(), passes: map[int][]int{}}
	m.atlas = atlas.New(p.Line, p.Legs[0].FromAt, atlas.Paper{Wide: mapWide / mm, High: mapHigh / mm, Edge: mapEdge, Most: mapMost})
	for i, v := range p.Visits {
		if m.passes[v.Number] == nil {
			m.order = append(m.order, v.Number)
		}
		m.passes[v.Number] = append(m.passes[v.Number], i)
	}
	m.findWays()
	for i := range m.atlas.Sheets {
		m.page(homeWide, homeHigh)
		m.sheet(i)
	}
	return doc.Output(w)
}

// findWays lists the ways out that the plan tells of: the last of each leg, those from dry pumps, and
// those to stops off the line.
func (m *mapper) findWays() {
	taken := map[int]bool{}
	add := func(way int) {
		if !taken[way] {
			taken[way] = true
			m.ways = append(m.ways, way)
		}
	}
	for _, l := range m.say.Plan.Legs {
		if l.WayOut != nil {
			add(l.WayOut.Way)
		}
	}
	for _, v := range m.say.Plan.Visits {
		if v.IfDry != nil && v.IfDry.Off != nil {
			add(v.IfDry.Off.Way)
		}
		if v.Way > 0 && v.Counted {
			add(v.Way - 1)
		}
	}
}

// A leaf is one sheet in the making, in points from the upper left corner of the page.
type leaf struct {
	*mapper
	number int // from 0
	sheet  atlas.Sheet
	frame  orb.Bound
	room   spaces
	own    []orb.LineString // the ride on this sheet
	rest   []orb.LineString // what else of the ride is in the frame
	gaps   []orb.LineString
	view   land.View
}

func (m *mapper) sheet(i int) {
	frame := orb.Bound{Min: orb.Point{mapMargin, mapTop}, Max: orb.Point{mapMargin + mapWide, mapTop + mapHigh}}
	l := &leaf{mapper: m, number: i, sheet: m.atlas.Sheets[i], frame: frame, room: spaces{frame: frame}}
	m.SetDrawColor(0, 0, 0)
	m.SetFillColor(0, 0, 0)
	m.SetTextColor(0, 0, 0)
	m.SetLineJoinStyle("round")
	l.line()
	l.view = m.say.Plan.Land.Drawn(land.Frame{Place: l.place, Bound: frame, Fine: mapFine, Least: mapLeast,
		Ink: mapWide * mapHigh / mapRoom, Towns: mapTowns})
	for _, s := range landLines(l.view) {
		l.stroke(s.stroke(0))
	}
	l.ride()
	l.waysOut()
	l.pumps()
	l.kilometres()
	l.onward()
	l.landNames()
	l.edge()
	l.head()
	l.foot()
}

// place gives where a place of the earth stands.
func (l *leaf) place(p orb.Point) orb.Point {
	on := l.sheet.On(p)
	return orb.Point{mapMargin + on[0]*mm, mapTop + on[1]*mm}
}

// stroke draws a line.
func (m *mapper) stroke(s line) {
	m.SetLineWidth(s.width)
	if s.dash != nil {
		m.SetDashPattern(s.dash, 0)
	}
	m.path(s.points, 0)
	if s.dash != nil {
		m.SetDashPattern([]float64{}, 0)
	}
}

// line clips the ride to the frame.
func (l *leaf) line() {
	own := bit{into: &l.own}
	rest, gaps := bit{into: &l.rest}, bit{into: &l.gaps}
	from := l.say.Plan.Legs[0].FromAt
	last := route.Vertex{At: from, Point: l.say.Plan.Line.At(from)}
	for v := range l.say.Plan.Line.Vertices() {
		if v.At <= from {
			continue
		}
		a, b := l.place(last.Point), l.place(v.Point)
		now := &rest
		switch {
		case v.AfterGap:
			now = &gaps
		case v.At > l.sheet.From && last.At < l.sheet.To:
			now = &own
		}
		for _, other := range []*bit{&own, &rest, &gaps} {
			if other != now {
				other.end(l.frame)
			}
		}
		now.add(a, b)
		last = v
	}
	for _, b := range []*bit{&own, &rest, &gaps} {
		b.end(l.frame)
	}
}

// ride draws it: what is not of this sheet more thinly.
func (l *leaf) ride() {
	for _, s := range []struct {
		lines []orb.LineString
		as    line
	}{{l.rest, line{width: restThick}}, {l.own, line{width: ownThick}}, {l.gaps, line{width: restThick, dash: gapDash}}} {
		for _, points := range s.lines {
			s.as.points = points
			l.stroke(s.as)
			l.room.lines = append(l.room.lines, points)
		}
	}
}

const (
	ownThick  = 2.2
	restThick = 1.1
)

var (
	gapDash = []float64{1, 3}
	wayDash = []float64{3, 2}
)
