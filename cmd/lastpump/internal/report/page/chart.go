package page

import (
	"math"
	"slices"
	"strconv"

	"lastpump/fuel"
	"lastpump/fuel/leg"
	"lastpump/fuel/plan/cue"
	"lastpump/route"
)

// A chart is the picture of what is in the tank against the distance ridden, with the
// profile and the ground under it.
type chart struct {
	drawing
	Class, Name, Told          string
	Wide, High, Letter         float64
	From, To                   float64 // ridden, in the units of the plan
	Left, Right                float64 // dots before and behind the ride
	CursorFrom, CursorTo, Zero float64 // of the line that a finger moves
	Unnamed                    int     // stops whose names find no room
}

// A form is how large a picture is drawn: on a phone, on a page.
type form struct {
	class               string
	wide                float64
	letter              float64 // the size of letters, in dots
	names, tank, ground float64 // room for the names at the most, the tank and the profile
}

var chartForms = []form{
	{"narrow", 340, 12, 210, 170, 56},
	{"middle", 704, 12.5, 250, 220, 76},
}

// A chartDraft is a chart in the making.
type chartDraft struct {
	*planned
	chart
	form
	piece
	top, base   float64 // of the tank
	stops       []stopName
	full, least fuel.Litres // the litres there
	at, foot    float64     // of the strips: where the next is drawn, where they end
}

const (
	chartLeft  = 34
	chartRight = 12
)

// chart draws a piece of the plan in a form.
func (t *planned) chart(f form, p piece) chart {
	c := &chartDraft{planned: t, form: f, piece: p}
	c.chart = chart{Class: f.class, Wide: f.wide, Letter: f.letter, Left: chartLeft, Right: chartRight,
		From: t.u.DistanceIn(p.from), To: t.u.DistanceIn(p.to),
		Name: t.shown.Chart(p.first, p.end-1), Told: t.shown.ChartTold(p.first, p.end-1)}
	c.gather()
	c.scale()
	c.grid()
	c.reserve()
	c.spread()
	c.partsAcross()
	c.tankLine()
	c.marks()
	c.stopNames()
	c.strips()
	c.profile()
	c.ribbon()
	c.axis()
	c.partNames()
	c.links()
	return c.chart
}

// leg gives where a leg begins and ends.
func (c *chartDraft) leg(i int) (from, to float64) {
	begins := c.trace.Begins[i]
	return c.x(begins), c.x(begins + c.p.Legs[i].Drink.Ridden)
}

// x gives where a distance ridden stands.
func (c *chartDraft) x(ridden route.Metres) float64 {
	long := c.to - c.from
	if long <= 0 {
		return c.Left
	}
	share := min(max(float64((ridden-c.from)/long), 0), 1)
	return c.Left + share*(c.wide-c.Left-c.Right)
}

// y gives where litres in the tank stand.
func (c *chartDraft) y(l fuel.Litres) float64 {
	l = min(max(l, c.least), c.full)
	return c.base - float64((l-c.least)/(c.full-c.least))*(c.base-c.top)
}

// scale says where the tank stands: a part of what is lacking is shown, too.
func (c *chartDraft) scale() {
	c.top = c.names + 16
	c.base = c.top + c.tank
	c.full = max(c.trace.Tallest, c.p.Bike.Usable(), 0.1)
	c.least = max(c.trace.Lowest, -0.3*c.full)
	c.CursorFrom, c.CursorTo = c.top, c.base
	c.Zero = c.y(0)
	c.at = c.base + 10
}

// nice gives a round step of which few fit into a length.
func nice(length, few float64) float64 {
	if !(length > 0) {
		return 1
	}
	ten := math.Pow(10, math.Floor(math.Log10(length/few)))
	for _, m := range []float64{1, 2, 5} {
		if length/(m*ten) <= few {
			return m * ten
		}
	}
	return 10 * ten
}

// grid draws the litres.
func (c *chartDraft) grid() {
	right := c.wide - c.Right
	full := c.u.VolumeIn(c.full)
	step := nice(full, 6)
	unit := c.full / fuel.Litres(full)
	for v := 0.0; v <= full+1e-9; v += step {
		y := c.y(unit * fuel.Litres(v))
		class := "grid"
		if v == 0 {
			class = "zero"
		}
		c.path(class, open(dot{c.Left, y}, dot{right, y}))
		c.text("figure", "end", c.Left-5, y+4, strconv.FormatFloat(v, 'g', 6, 64))
	}
	c.text("figure", "start", 0, c.top-8, c.u.VolumeUnit())
}

// reserve shades what is kept back on each leg.
func (c *chartDraft) reserve() {
	for i, l := range c.legs() {
		x, to := c.leg(i)
		y := c.y(l.Kept)
		c.rect("reserve", x, y, to-x, c.Zero-y)
	}
}

// spread shades what lies between the low and the high figures.
func (c *chartDraft) spread() {
	for i := range c.legs() {
		var most, least []dot
		for _, s := range c.trace.OfLeg(i) {
			most = append(most, dot{c.x(s.Ridden), c.y(s.Most)})
			least = append(least, dot{c.x(s.Ridden), c.y(s.Least)})
		}
		slices.Reverse(least)
		c.path("spread", closed(append(most, least...)...))
	}
}

// tankLine draws the litres that are likely in the tank, and each fill as a step.
func (c *chartDraft) tankLine() {
	last := dot{-1, -1}
	for i := range c.legs() {
		var line []dot
		for _, s := range c.trace.OfLeg(i) {
			d := dot{c.x(s.Ridden), c.y(s.Tank)}
			if n := len(line); n > 1 && straight(line[n-2], line[n-1], d) {
				line[n-1] = d
				continue
			}
			line = append(line, d)
		}
		if i > c.first {
			c.path("fill", open(last, line[0]))
		}
		c.path("tank", open(line...))
		last = line[len(line)-1]
	}
	if v := c.p.Legs[c.end-1].ToVisit; v >= 0 {
		if after := c.p.Visits[v].Fill.TankAfter; after > 0 {
			c.path("fill", open(last, dot{last.x, c.y(after)}))
		}
	}
}

// straight tells whether a dot lies so near the way between two others that nobody
// would see the bend.
func straight(a, b, c dot) bool {
	long := math.Hypot(c.x-a.x, c.y-a.y)
	return long > 0 && b.x < c.x && math.Abs((c.x-a.x)*(a.y-b.y)-(a.x-b.x)*(c.y-a.y))/long < 0.15
}

// marks draws where the tank is dry, where to turn back and where the can is poured.
func (c *chartDraft) marks() {
	for i, l := range c.legs() {
		if l.Verdict == leg.Short {
			dry := dot{c.x(c.trace.RiddenAt(i, l.DryAt)), c.Zero}
			_, to := c.leg(i)
			c.path("dry", cross(dry, 5))
			c.path("lack", open(dry, dot{to, c.Zero}))
		}
	}
	for _, q := range c.p.Cues {
		if !c.has(q.Leg) {
			continue
		}
		x := c.x(c.trace.RiddenAt(q.Leg, q.Trip))
		switch q.Kind {
		case cue.TurnBack:
			c.path("turn", open(dot{x, c.base + 1}, dot{x, c.base + 9})+backArrow(x, c.base+5))
		case cue.Pour:
			c.path("pour", closed(dot{x - 3.5, c.base - 9}, dot{x + 3.5, c.base - 9}, dot{x, c.base - 2}))
		}
	}
}

// backArrow is an arrow that leads back to the left from a place.
func backArrow(x, y float64) string {
	return open(dot{x, y}, dot{x - 8, y}) + open(dot{x - 5, y - 3}, dot{x - 8, y}, dot{x - 5, y + 3})
}

// links marks what a finger on the picture means, leg by leg.
func (c *chartDraft) links() {
	for i := range c.legs() {
		x, to := c.leg(i)
		c.rect("touch", x, c.top, to-x, c.foot-c.top)
		c.last().Leg = i + 1
	}
}
