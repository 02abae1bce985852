package report

import (
	"fmt"
	"math"
	"slices"
	"sort"
	"strconv"

	"lastpump/fuel"
	"lastpump/fuel/plan"
	"lastpump/octane"
	"lastpump/route"
)

// A chart is the picture of what is in the tank against the distance ridden, with the
// profile and the ground under it.
type chart struct {
	drawing
	Class                      string
	Wide, High                 float64
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

// A charter draws a chart.
type charter struct {
	*texter
	chart
	form
	from        []route.Metres // ridden at the beginning of each leg
	top, base   float64        // of the tank
	stops       []stopName
	full, least fuel.Litres // the litres there
	at, foot    float64     // of the strips: where the next is drawn, where they end
}

const (
	chartLeft  = 34
	chartRight = 12
)

// chart draws the plan in a form.
func (t *texter) chart(f form) chart {
	c := &charter{texter: t, form: f}
	c.chart = chart{Class: f.class, Wide: f.wide, Left: chartLeft, Right: chartRight}
	for i, ridden := 0, route.Metres(0); i < len(t.p.Legs); i++ {
		c.from = append(c.from, ridden)
		ridden += t.p.Legs[i].Drink.Ridden
	}
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

// x gives where a distance ridden stands.
func (c *charter) x(ridden route.Metres) float64 {
	total := c.p.Trace.Ridden
	if total <= 0 {
		return c.Left
	}
	return c.Left + float64(ridden/total)*(c.wide-c.Left-c.Right)
}

// y gives where litres in the tank stand.
func (c *charter) y(l fuel.Litres) float64 {
	l = min(max(l, c.least), c.full)
	return c.base - float64((l-c.least)/(c.full-c.least))*(c.base-c.top)
}

// scale says where the tank stands: a part of what is lacking is shown, too.
func (c *charter) scale() {
	c.top = c.names + 16
	c.base = c.top + c.tank
	c.full = max(c.p.Trace.Tallest, c.p.Bike.Usable(), 0.1)
	for _, l := range c.p.Legs {
		c.least = min(c.least, l.Arrive-l.Can)
	}
	c.least = max(c.least, -0.3*c.full)
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
func (c *charter) grid() {
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
func (c *charter) reserve() {
	for i, l := range c.p.Legs {
		x, y := c.x(c.from[i]), c.y(l.Kept)
		c.rect("reserve", x, y, c.x(c.from[i]+l.Drink.Ridden)-x, c.Zero-y)
	}
}

// samplesOf gives the samples of a leg.
func (c *charter) samplesOf(leg int) []plan.Sample {
	s := c.p.Trace.Samples
	from := sort.Search(len(s), func(i int) bool { return s[i].Leg >= leg })
	to := sort.Search(len(s), func(i int) bool { return s[i].Leg > leg })
	return s[from:to]
}

// spread shades what lies between the low and the high figures.
func (c *charter) spread() {
	for i := range c.p.Legs {
		var most, least []dot
		for _, s := range c.samplesOf(i) {
			most = append(most, dot{c.x(s.Ridden), c.y(s.Most)})
			least = append(least, dot{c.x(s.Ridden), c.y(s.Least)})
		}
		slices.Reverse(least)
		c.path("spread", closed(append(most, least...)...))
	}
}

// tankLine draws the litres that are likely in the tank, and each fill as a step.
func (c *charter) tankLine() {
	last := dot{-1, -1}
	for i := range c.p.Legs {
		var line []dot
		for _, s := range c.samplesOf(i) {
			d := dot{c.x(s.Ridden), c.y(s.Tank)}
			if n := len(line); n > 1 && straight(line[n-2], line[n-1], d) {
				line[n-1] = d
				continue
			}
			line = append(line, d)
		}
		if i > 0 {
			c.path("fill", open(last, line[0]))
		}
		c.path("tank", open(line...))
		last = line[len(line)-1]
	}
	if f := c.lastFill(); f != nil && f.TankAfter > 0 {
		c.path("fill", open(last, dot{last.x, c.y(f.TankAfter)}))
	}
}

// straight tells whether a dot lies so near the way between two others that nobody
// would see the bend.
func straight(a, b, c dot) bool {
	long := math.Hypot(c.x-a.x, c.y-a.y)
	return long > 0 && b.x < c.x && math.Abs((c.x-a.x)*(a.y-b.y)-(a.x-b.x)*(c.y-a.y))/long < 0.15
}

// lastFill gives the fill at the end of the ride, if there is one.
func (c *charter) lastFill() *plan.Fill {
	if v := c.p.Legs[len(c.p.Legs)-1].ToVisit; v >= 0 {
		return c.p.Visits[v].Fill
	}
	return nil
}

// marks draws where the tank is dry, where to turn back and where the can is poured.
func (c *charter) marks() {
	shown := c.p.Bike.Shown(1)
	for i, l := range c.p.Legs {
		if l.Verdict == plan.Short {
			x := c.x(c.from[i] + l.DryAt/shown)
			c.path("dry", open(dot{x - 5, c.Zero - 5}, dot{x + 5, c.Zero + 5})+open(dot{x - 5, c.Zero + 5}, dot{x + 5, c.Zero - 5}))
			c.path("lack", open(dot{x, c.Zero}, dot{c.x(c.from[i] + l.Drink.Ridden), c.Zero}))
		}
	}
	for _, q := range c.p.Roll {
		x := c.x(c.from[q.Leg] + q.Trip/shown)
		switch q.Kind {
		case plan.CueTurnBack:
			c.path("turn", open(dot{x, c.base + 1}, dot{x, c.base + 9})+backArrow(x, c.base+5))
		case plan.CuePour:
			c.path("pour", closed(dot{x - 3.5, c.base - 9}, dot{x + 3.5, c.base - 9}, dot{x, c.base - 2}))
		}
	}
}

// backArrow is an arrow that leads back to the left from a place.
func backArrow(x, y float64) string {
	return open(dot{x, y}, dot{x - 8, y}) + open(dot{x - 5, y - 3}, dot{x - 8, y}, dot{x - 5, y + 3})
}

// strips draws a box for each leg with its verdict, and one with its grade.
func (c *charter) strips() {
	const high, thin = 18, 8
	for i, l := range c.p.Legs {
		x, to := c.x(c.from[i]), c.x(c.from[i]+l.Drink.Ridden)
		c.rect("leg "+mood(string(l.Verdict)), x, c.at, to-x, high)
		number := strconv.Itoa(i + 1)
		word := number + " " + string(l.Verdict)
		switch {
		case l.Verdict != plan.OK && textWidth(word, c.letter, true) < to-x-4:
			c.text("number "+mood(string(l.Verdict)), "middle", (x+to)/2, c.at+13, word)
		case textWidth(number, c.letter, true) < to-x-2:
			c.text("number "+mood(string(l.Verdict)), "middle", (x+to)/2, c.at+13, number)
		}
		c.rect("grade "+mood(string(l.Mixture.Verdict)), x, c.at+high+3, to-x, thin)
	}
	c.text("figure", "end", c.Left-5, c.at+13, "leg")
	c.at += high + 3 + thin
	c.text("figure", "end", c.Left-5, c.at+1, octaneWord(c.p.Bike.Needs))
	c.at += 12
}

func octaneWord(g octane.Grade) string { return string(g.Scale) }

// mood sorts verdicts of all kinds into what looks alike.
func mood(verdict string) string {
	switch verdict {
	case string(plan.Short), string(plan.Stranded), string(octane.Below):
		return "bad"
	case string(plan.Tight), string(plan.Back), string(octane.Doubtful), string(octane.NotKnown):
		return "doubt"
	}
	return "good"
}

// profile draws the heights.
func (c *charter) profile() {
	low, high, known := math.Inf(1), math.Inf(-1), false
	for _, part := range c.p.Trace.Profile {
		for _, r := range part {
			low, high, known = min(low, r.Ele), max(high, r.Ele), true
		}
	}
	foot := c.at + c.ground
	if !known {
		c.text("figure", "start", c.Left, c.at+14, "the heights are not known")
		c.at += 20
		return
	}
	room := max(high-low, 50)
	y := func(ele float64) float64 { return foot - 3 - (ele-low)/room*(c.ground-6) }
	for _, part := range c.p.Trace.Profile {
		dots := []dot{{c.x(part[0].Ridden), foot}}
		for _, r := range part {
			dots = append(dots, dot{c.x(r.Ridden), y(r.Ele)})
		}
		c.path("hill", closed(append(dots, dot{c.x(part[len(part)-1].Ridden), foot})...))
		c.path("crest", open(dots[1:]...))
	}
	c.text("figure", "end", c.Left-5, y(high)+6, c.climb(route.Metres(high)))
	if y(low)-y(high) > 14 {
		c.text("figure", "end", c.Left-5, y(low)+3, c.climb(route.Metres(low)))
	}
	c.at = foot
}

// ribbon draws the ground.
func (c *charter) ribbon() {
	const high = 12
	for _, s := range c.p.Trace.Ribbon {
		class := "ground " + string(s.Ground)
		if s.Guessed {
			class += " guessed"
		}
		if x := c.x(s.From); !s.Skipped {
			c.rect(class, x, c.at, c.x(s.To)-x, high)
		}
	}
	c.path("frame", closed(dot{c.Left, c.at}, dot{c.wide - c.Right, c.at}, dot{c.wide - c.Right, c.at + high}, dot{c.Left, c.at + high}))
	c.at += high
	c.foot = c.at
}

// links lays a leg's link over its part of the picture.
func (c *charter) links() {
	for i, l := range c.p.Legs {
		x := c.x(c.from[i])
		var inside drawing
		inside.rect("touch", x, c.top, c.x(c.from[i]+l.Drink.Ridden)-x, c.foot-c.top)
		c.add(shape{Kind: "link", Leg: i + 1, Title: c.legTitle(i), Inside: inside.Shapes})
	}
}

// legTitle says of a leg what a picture shows.
func (t *texter) legTitle(i int) string {
	l := t.p.Legs[i]
	from, to := t.p.Ends(i)
	f := l.Drink.Fuel
	return fmt.Sprintf("Leg %d, %s to %s, %s: takes %s (%s to %s), arrives with %s %s: %s. In the tank: %s, %s.", i+1, from, to,
		t.u.Distance(l.Drink.Ridden), t.u.Needed(f.Likely), t.needed(f.Low), t.needed(f.High), t.left(l.Arrive), t.u.VolumeUnit(), l.Verdict,
		l.Mixture, l.Mixture.Verdict)
}
