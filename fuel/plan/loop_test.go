package plan_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"

	"lastpump/fuel"
	"lastpump/fuel/plan"
	"lastpump/fuel/stop"
	"lastpump/octane"
	"lastpump/route"

	"github.com/paulmach/orb"
	"pgregory.net/rapid"
)

// drawRide draws a loop or a road out and on.
func drawRide(t *rapid.T) plan.Inputs {
	if rapid.Bool().Draw(t, "a loop") {
		return drawLoop(t).in
	}
	return drawRoad(t)
}

// A loop is a random one: a stem ridden out and back, a ring at its end, and
// perhaps a second ring at the trailhead. By construction it has a pump at the
// trailhead, a stop on the stem that is passed twice, a place of three stops, a
// stop of unknown grade, and behind it a leg that no tank and can is enough for,
// with a gap in it.
type loop struct {
	in      plan.Inputs
	tracks  []route.Track
	stretch float64
	cut     orb.Point // on the line, far from every stop
}

func drawLoop(t *rapid.T) loop {
	l := loop{stretch: rapid.Float64Range(1, 1.15).Draw(t, "stretch")}
	l.in = ride(nil)
	l.in.Bike = drawBike(t)
	drawOptions(t, &l.in.Options)
	stem := rapid.IntRange(24, 40).Draw(t, "stem")
	ring := l.drawRing(t)
	p := newPen().north(float64(stem))
	first := len(p.points) - 1
	side := float64(ring.length) / 4
	p.east(side).north(side).home().north(float64(stem)/1 - kmNorth(p.here))
	back := len(p.points)
	p.north(-float64(stem))
	l.addStops(t, p, first, stem, ring)
	if rapid.Bool().Draw(t, "eight") {
		p.east(-20).north(-15).home().north(15)
		l.in.Stops = append(l.in.Stops, pump("south", -15, 0.4, drawGrade(t, "south")))
	}
	heights(t, p.points)
	gap := first + ring.gap
	l.tracks = []route.Track{
		{Name: "out", Segments: [][]route.Point{p.points[:gap+1]}},
		{Name: "home", Segments: [][]route.Point{p.points[gap+1+ring.hole : back], p.points[back-1:]}},
	}
	l.cut = p.points[gap-9].Point
	l.in.Line = l.line(t, 1)
	l.in.Grounds = drawGrounds(t, l.in.Line.Length())
	return l
}

func kmNorth(p orb.Point) float64 { return (p[1] - 40) * perDegree }

// line makes the line with its stretch times a factor.
func (l loop) line(t rapid.TB, times float64) *route.Line {
	t.Helper()
	line, err := route.NewLine(l.tracks, route.LineOptions{Stretch: l.stretch * times})
	if err != nil {
		t.Fatal(err)
	}
	return line
}

// A ring says where its stops stand, in kilometres along it.
type ring struct {
	extra                []int // stops of any kind, after the place of three at 12
	unknown, far, length int
	gap, hole            int // a gap of hole kilometres after gap
}

// drawRing lays out a ring. From the stop of unknown grade to the far one it is
// farther than a full tank and the can reach on paved road, level and true.
func (l *loop) drawRing(t *rapid.T) ring {
	var r ring
	at := 15
	for i := range rapid.IntRange(2, 4).Draw(t, "extra stops") {
		at += rapid.IntRange(8, 40).Draw(t, fmt.Sprint("km to extra ", i))
		r.extra = append(r.extra, at)
	}
	r.unknown = at + rapid.IntRange(8, 40).Draw(t, "km to unknown")
	b := l.in.Bike
	rate := float64(b.Rate()) / 100 * b.EthanolFactor() * l.in.Options.Thirst * l.stretch
	r.hole = rapid.IntRange(4, 15).Draw(t, "gap")
	long := int(float64(b.Usable()+b.Can)/rate*1.05) + 20 + r.hole
	r.gap = r.unknown + long/2
	r.far = r.unknown + long
	r.length = r.far + 12
	return r
}

// addStops puts the stops where the ring has them, up to 1.8 km off.
func (l *loop) addStops(t *rapid.T, p *pen, first, stem int, r ring) {
	add := func(name string, i int, off float64, grades ...octane.Grade) *stop.Stop {
		s := pump(name, 0, 0, grades...)
		s.At = beside(p.points[i].Point, p.points[i+1].Point, off)
		l.in.Stops = append(l.in.Stops, s)
		return &l.in.Stops[len(l.in.Stops)-1]
	}
	off := rapid.Float64Range(-1.8, 1.8)
	add("trailhead", 0, 0.1, drawGrade(t, "trailhead"))
	add("twice", rapid.IntRange(8, stem-10).Draw(t, "km to twice"), off.Draw(t, "off twice"), drawGrade(t, "twice"))
	for i := range 3 {
		add(fmt.Sprint("three ", i), first+12+i, off.Draw(t, "off three"), drawGrade(t, "three")).Standing =
			rapid.SampledFrom(stop.Standings[:3]).Draw(t, "standing")
	}
	for i, km := range r.extra {
		add(fmt.Sprint("extra ", i), first+km, off.Draw(t, "off extra"), drawGrade(t, "extra"), drawGrade(t, "other")).Standing =
			rapid.SampledFrom(stop.Standings[:3]).Draw(t, "standing")
	}
	add("unknown", first+r.unknown, off.Draw(t, "off unknown")).Grades = nil
	add("far", first+r.far, off.Draw(t, "off far"), drawGrade(t, "far"))
	add("said", first+r.unknown+rapid.IntRange(8, r.gap-r.unknown-20).Draw(t, "km to said"), off.Draw(t, "off said")).Standing = stop.Hearsay
	add("beside", first+r.far-rapid.IntRange(8, r.gap-r.unknown-20).Draw(t, "km to beside"), 5)
}

// beside gives the place off kilometres to the right of a, on the way to b, on the
// plane.
func beside(a, b orb.Point, off float64) orb.Point {
	cos := math.Cos(a[1] * math.Pi / 180)
	x, y := (b[0]-a[0])*cos, b[1]-a[1]
	d := math.Hypot(x, y)
	return orb.Point{a[0] + y/d*off/perDegree/cos, a[1] - x/d*off/perDegree}
}

func drawGrade(t *rapid.T, what string) octane.Grade {
	return rapid.SampledFrom([]octane.Grade{ron(80), ron(92), ron(95), ron(98), octane.FromAKI(87), octane.FromAKI(91), octane.FromPair(95, 85)}).Draw(t, "grade of "+what)
}

func drawBike(t *rapid.T) fuel.Bike {
	b := flat()
	b.Unusable = fuel.Litres(rapid.Float64Range(0, 2).Draw(t, "unusable"))
	b.Tank = b.Unusable + fuel.Litres(rapid.Float64Range(6, 14).Draw(t, "usable"))
	b.Can = fuel.Litres(rapid.SampledFrom([]float64{0, 0, 3, 5, 10}).Draw(t, "can"))
	b.Consumption = fuel.Consumption(rapid.Float64Range(4, 8).Draw(t, "consumption"))
	b.Odometer = rapid.Float64Range(0.95, 1.08).Draw(t, "odometer")
	b.TrueRate = rapid.Bool().Draw(t, "true rate")
	b.RiddenOn = rapid.SampledFrom([]fuel.Ethanol{0, 0.05, 0.10}).Draw(t, "ridden on")
	b.Needs = rapid.SampledFrom([]octane.Grade{ron(95), ron(91), octane.FromAKI(91)}).Draw(t, "needs")
	return b
}

func drawOptions(t *rapid.T, o *plan.Options) {
	o.Reserve = plan.Reserve{
		Share:    rapid.Float64Range(0, 0.3).Draw(t, "share"),
		Distance: route.Kilometres(rapid.Float64Range(0, 50).Draw(t, "distance")),
	}
	o.Thirst = rapid.Float64Range(0.9, 1.3).Draw(t, "thirst")
	if o.HasStartFuel = rapid.Bool().Draw(t, "start fuel"); o.HasStartFuel {
		o.StartFuel = fuel.Litres(rapid.Float64Range(0, 6).Draw(t, "litres"))
	} else {
		o.SinceFill = route.Kilometres(rapid.Float64Range(0, 100).Draw(t, "since fill"))
	}
}

// drawGrounds lays sections of ground over a line, with holes.
func drawGrounds(t *rapid.T, length route.Metres) route.Grounds {
	ground := rapid.SampledFrom(route.AllGrounds)
	g := route.Grounds{Default: ground.Draw(t, "ground")}
	var cuts []float64
	for range 2 * rapid.IntRange(0, 6).Draw(t, "sections") {
		cuts = append(cuts, rapid.Float64Range(0, length.Kilometres()).Draw(t, "cut"))
	}
	slices.Sort(cuts)
	for i := 0; i < len(cuts); i += 2 {
		if cuts[i] < cuts[i+1] {
			g.Sections = append(g.Sections, section(cuts[i], cuts[i+1], ground.Draw(t, "ground")))
		}
	}
	return g
}

// heights gives the points hills, or none, or loses them on part of the way.
func heights(t *rapid.T, points []route.Point) {
	rnd := rand.New(rand.NewPCG(rapid.Uint64().Draw(t, "hills"), 0))
	known := rapid.SampledFrom([]float64{0, 0.5, 1, 1}).Draw(t, "heights known")
	ele := 500.0
	for i := range points {
		ele += 80*rnd.Float64() - 40
		points[i].Ele, points[i].HasEle = ele, float64(i) < known*float64(len(points))
	}
}
