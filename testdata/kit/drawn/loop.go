package drawn

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"

	"lastpump/fuel"
	"lastpump/fuel/leg"
	"lastpump/fuel/plan"
	"lastpump/fuel/stop"
	"lastpump/octane"
	"lastpump/route"
	"lastpump/testdata/kit"

	"github.com/paulmach/orb"
	"pgregory.net/rapid"
)

// In a short run each law of a ride is drawn twenty times.
func init() { kit.Draws(20) }

// AnyRide draws a loop or a road out and on.
func AnyRide(t *rapid.T) plan.Inputs {
	if rapid.Bool().Draw(t, "a loop") {
		return AnyLoop(t).In
	}
	return AnyRoad(t)
}

// A loop is a random one: a stem ridden out and back, a ring at its end, and
// perhaps a second ring at the trailhead. By construction it has a pump at the
// trailhead, a stop on the stem that is passed twice, a place of three stops, a
// stop of unknown grade, and behind it a leg that no tank and can is enough for,
// with a gap in it.
type Loop struct {
	In      plan.Inputs
	Tracks  []route.Track
	Stretch float64
	Cut     orb.Point // on the line, far from every stop
}

// AnyLoop draws one.
func AnyLoop(t *rapid.T) Loop {
	l := Loop{Stretch: rapid.Float64Range(1, 1.15).Draw(t, "stretch")}
	l.In = Ride(nil)
	l.In.Bike = AnyBike(t)
	anyOptions(t, &l.In.Options)
	stem := rapid.IntRange(24, 40).Draw(t, "stem")
	ring := l.drawRing(t)
	p := NewPen().North(float64(stem))
	first := len(p.Points) - 1
	side := float64(ring.length) / 4
	p.East(side).North(side).Home().North(float64(stem)/1 - kmNorth(p.Here))
	back := len(p.Points)
	p.North(-float64(stem))
	l.addStops(t, p, first, stem, ring)
	if rapid.Bool().Draw(t, "eight") {
		p.East(-20).North(-15).Home().North(15)
		l.In.Stops = append(l.In.Stops, Pump("south", -15, 0.4, anyGrade(t, "south")))
	}
	heights(t, p.Points)
	gap := first + ring.gap
	l.Tracks = []route.Track{
		{Name: "out", Segments: [][]route.Point{p.Points[:gap+1]}},
		{Name: "home", Segments: [][]route.Point{p.Points[gap+1+ring.hole : back], p.Points[back-1:]}},
	}
	l.Cut = p.Points[gap-9].Point
	l.In.Line = l.WithStretch(t, 1)
	l.In.Grounds = anyGrounds(t, l.In.Line.Length())
	return l
}

func kmNorth(p orb.Point) float64 { return (p[1] - 40) * PerDegree }

// WithStretch makes the line with its stretch times a factor.
func (l Loop) WithStretch(t rapid.TB, times float64) *route.Line {
	t.Helper()
	line, err := route.NewLine(l.Tracks, route.LineOptions{Stretch: l.Stretch * times})
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
func (l *Loop) drawRing(t *rapid.T) ring {
	var r ring
	at := 15
	for i := range rapid.IntRange(2, 4).Draw(t, "extra stops") {
		at += rapid.IntRange(8, 40).Draw(t, fmt.Sprint("km to extra ", i))
		r.extra = append(r.extra, at)
	}
	r.unknown = at + rapid.IntRange(8, 40).Draw(t, "km to unknown")
	b := l.In.Bike
	rate := float64(b.Rate()) / 100 * b.EthanolFactor() * l.In.Options.Thirst * l.Stretch
	r.hole = rapid.IntRange(4, 15).Draw(t, "gap")
	long := int(float64(b.Usable()+b.Can)/rate*1.05) + 20 + r.hole
	r.gap = r.unknown + long/2
	r.far = r.unknown + long
	r.length = r.far + 12
	return r
}

// addStops puts the stops where the ring has them, up to 1.8 km off.
func (l *Loop) addStops(t *rapid.T, p *Pen, first, stem int, r ring) {
	add := func(name string, i int, off float64, grades ...octane.Grade) *stop.Stop {
		s := Pump(name, 0, 0, grades...)
		s.At = beside(p.Points[i].Point, p.Points[i+1].Point, off)
		l.In.Stops = append(l.In.Stops, s)
		return &l.In.Stops[len(l.In.Stops)-1]
	}
	off := rapid.Float64Range(-1.8, 1.8)
	add("trailhead", 0, 0.1, anyGrade(t, "trailhead"))
	add("twice", rapid.IntRange(8, stem-10).Draw(t, "km to twice"), off.Draw(t, "off twice"), anyGrade(t, "twice"))
	for i := range 3 {
		add(fmt.Sprint("three ", i), first+12+i, off.Draw(t, "off three"), anyGrade(t, "three")).Standing =
			rapid.SampledFrom(stop.Standings()[:3]).Draw(t, "standing")
	}
	for i, km := range r.extra {
		add(fmt.Sprint("extra ", i), first+km, off.Draw(t, "off extra"), anyGrade(t, "extra"), anyGrade(t, "other")).Standing =
			rapid.SampledFrom(stop.Standings()[:3]).Draw(t, "standing")
	}
	add("unknown", first+r.unknown, off.Draw(t, "off unknown")).Grades = nil
	add("far", first+r.far, off.Draw(t, "off far"), anyGrade(t, "far"))
	add("said", first+r.unknown+rapid.IntRange(8, r.gap-r.unknown-20).Draw(t, "km to said"), off.Draw(t, "off said")).Standing = stop.Hearsay
	add("beside", first+r.far-rapid.IntRange(8, r.gap-r.unknown-20).Draw(t, "km to beside"), 5)
}

// beside gives the place off kilometres to the right of a, on the way to b, on the
// plane.
func beside(a, b orb.Point, off float64) orb.Point {
	cos := math.Cos(a[1] * math.Pi / 180)
	x, y := (b[0]-a[0])*cos, b[1]-a[1]
	d := math.Hypot(x, y)
	return orb.Point{a[0] + y/d*off/PerDegree/cos, a[1] - x/d*off/PerDegree}
}

func anyGrade(t *rapid.T, what string) octane.Grade {
	return rapid.SampledFrom([]octane.Grade{RON(80), RON(92), RON(95), RON(98), octane.FromAKI(87), octane.FromAKI(91), octane.FromPair(95, 85)}).Draw(t, "grade of "+what)
}

// AnyBike draws a bike.
func AnyBike(t *rapid.T) fuel.Bike {
	b := Flat()
	b.Unusable = fuel.Litres(rapid.Float64Range(0, 2).Draw(t, "unusable"))
	b.Tank = b.Unusable + fuel.Litres(rapid.Float64Range(6, 14).Draw(t, "usable"))
	b.Can = fuel.Litres(rapid.SampledFrom([]float64{0, 0, 3, 5, 10}).Draw(t, "can"))
	b.Consumption = fuel.Consumption(rapid.Float64Range(4, 8).Draw(t, "consumption"))
	b.Odometer = rapid.Float64Range(0.95, 1.08).Draw(t, "odometer")
	b.TrueRate = rapid.Bool().Draw(t, "true rate")
	b.RiddenOn = rapid.SampledFrom([]fuel.Ethanol{0, 0.05, 0.10}).Draw(t, "ridden on")
	b.Needs = rapid.SampledFrom([]octane.Grade{RON(95), RON(91), octane.FromAKI(91)}).Draw(t, "needs")
	b.Learnt, b.ConsumptionTanks = anyKnown(t, b)
	return b
}

// anyKnown draws what is known of a bike: it is steady, or nothing was learnt of it.
func anyKnown(t *rapid.T, b fuel.Bike) (l *fuel.Learnt, tanks int) {
	if rapid.Bool().Draw(t, "steady") {
		return Steady(b), 0
	}
	return nil, rapid.SampledFrom([]int{0, 3}).Draw(t, "own tanks")
}

func anyOptions(t *rapid.T, o *plan.Options) {
	o.Reserve = leg.Reserve{
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

// anyGrounds lays sections of ground over a line, with holes.
func anyGrounds(t *rapid.T, length route.Metres) route.Grounds {
	ground := rapid.SampledFrom(route.AllGrounds())
	g := route.Grounds{Default: ground.Draw(t, "ground")}
	var cuts []float64
	for range 2 * rapid.IntRange(0, 6).Draw(t, "sections") {
		cuts = append(cuts, rapid.Float64Range(0, length.Kilometres()).Draw(t, "cut"))
	}
	slices.Sort(cuts)
	for i := 0; i < len(cuts); i += 2 {
		if cuts[i] < cuts[i+1] {
			g.Sections = append(g.Sections, Section(cuts[i], cuts[i+1], ground.Draw(t, "ground")))
		}
	}
	return g
}

// heights gives the points hills, or none, or loses them on part of the way. The loop ends as
// high as it began: a place has one height.
func heights(t *rapid.T, points []route.Point) {
	rnd := rand.New(rand.NewPCG(rapid.Uint64().Draw(t, "hills"), 0))
	known := rapid.SampledFrom([]float64{0, 0.5, 1, 1}).Draw(t, "heights known")
	ele := 500.0
	for i := range points {
		ele += 80*rnd.Float64() - 40
		points[i].Ele, points[i].HasEle = ele, float64(i) < known*float64(len(points))
	}
	points[len(points)-1].Ele = points[0].Ele
}
