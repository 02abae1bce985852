package rides_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"time"

	"lastpump/fuel"
	"lastpump/fuel/leg"
	"lastpump/fuel/plan"
	"lastpump/fuel/stop"
	"lastpump/octane"
	"lastpump/route"

	"github.com/paulmach/orb"
)

const drawnLoops = 60

// spacing draws how far apart the pumps of a loop lie, in tanks that the high figure
// drinks from one to the next. What two legs take must be within a tank for a dry
// pump between them to ask for no can. Of six loops one each is dense, wide and wild,
// and two are tight: a long leg and a short one in turn, together a tank less a few
// per cent. On one a far leg follows a middling one, so that before it a dry pump
// sends the rider back, and a pump stands a few kilometres behind the one it leads to.
func spacing(rnd *rand.Rand, seed uint64) (next func() float64) {
	between := func(a, b float64) float64 { return a + (b-a)*rnd.Float64() }
	long, n := between(0.5, 0.8), 0
	switch seed % 6 {
	case 0:
		return func() float64 { return between(0.25, 0.48) }
	case 2:
		return func() float64 { return between(0.45, 0.75) }
	case 3:
		return func() float64 { n++; return []float64{0.05, between(0.42, 0.48), between(0.86, 0.92)}[n%3] }
	case 5:
		return func() float64 { return between(0.30, 1.30) }
	}
	return func() float64 { n++; return []float64{between(0.93, 0.99) - long, long - between(0, 0.02)}[n%2] }
}

// drawLoop draws a loop: land, way, days, ground, bike, pumps and the rider's rules.
func drawLoop(seed uint64) draft {
	rnd := rand.New(rand.NewPCG(seed, 20260701))
	step := 120 + 140*rnd.Float64()
	land, d := drawLand(rnd), draft{name: fmt.Sprint("loop ", seed), stretch: 1, shrink: seed%4 > 0}
	if rnd.Float64() < 0.8 {
		d.stretch += 0.25 * rnd.Float64() * rnd.Float64()
	}
	if seed%3 == 1 { // the plan estimates it, and the road is as long as it may be within the error
		d.stretch = 0
	}
	d.tracks = land.tracks(rnd, drawWay(rnd, 300e3+500e3*rnd.Float64(), step), step)
	d.in = plan.Inputs{Bike: drawBike(rnd), Options: drawOptions(rnd)}
	d.in.Options.FillAt = plan.FillEverywhere
	course := follow(d.tracks)
	d.in.Grounds = drawGrounds(rnd, course.at[len(course.at)-1])
	d.drawStops(rnd, course, spacing(rnd, seed))
	if seed%5 > 1 {
		d.spoil(rand.New(rand.NewPCG(seed, 20260702)))
	}
	if o := &d.in.Options; rnd.Float64() < 0.15 {
		o.HasStartFuel, o.StartFuel = true, (d.in.Bike.Tank-d.in.Bike.Unusable)*fuel.Litres(0.7+0.3*rnd.Float64())
	} else if rnd.Float64() < 0.2 {
		o.SinceFill = route.Kilometres(50 * rnd.Float64())
	}
	return d
}

func drawBike(rnd *rand.Rand) fuel.Bike {
	b := fuel.DefaultBike()
	b.Tank = fuel.Litres(9 + 13*rnd.Float64())
	b.Unusable = fuel.Litres(rnd.Float64())
	b.Consumption = fuel.Consumption(3.4 + 3*rnd.Float64())
	b.Odometer = 0.97 + 0.09*rnd.Float64()
	b.TrueRate = rnd.Float64() < 0.3
	b.LoadedMass = fuel.Kilograms(180 + 160*rnd.Float64())
	b.MeasuredOn, b.RiddenOn = fuel.Ethanol(0.1*float64(rnd.IntN(2))), fuel.Ethanol(0.1*float64(rnd.IntN(2)))
	if rnd.Float64() < 0.3 {
		b.Can = []fuel.Litres{2, 3, 5}[rnd.IntN(3)]
	}
	if rnd.Float64() < 0.3 {
		likely := 1.5 + rnd.Float64()
		b.Own = map[route.Ground]fuel.Weight{route.Sand: {Low: 0.8 * likely, Likely: likely, High: 1.4 * likely}}
	}
	return b
}

func drawOptions(rnd *rand.Rand) plan.Options {
	o := plan.DefaultOptions()
	o.Today = time.Date(2026, 7, 1, 0, 0, 0, 0, time.UTC)
	o.Thirst = 1 + max(0, 0.3*rnd.Float64()-0.1)
	switch rnd.IntN(4) {
	case 0:
		o.Reserve = leg.Reserve{}
	case 1:
		o.Reserve = leg.Reserve{Share: 0.3 * rnd.Float64()}
	case 2:
		o.Reserve = leg.Reserve{Share: 0.1, Distance: route.Kilometres(60 * rnd.Float64())}
	}
	return o
}

// drawGrounds draws sections of all grounds and some ground that is not known.
func drawGrounds(rnd *rand.Rand, length float64) route.Grounds {
	g := route.Grounds{Default: route.AllGrounds()[rnd.IntN(4)]}
	for at := 0.0; at < length; {
		to := min(length, at+2e3+50e3*rnd.Float64()*rnd.Float64())
		ground := route.AllGrounds()[rnd.IntN(len(route.AllGrounds()))]
		if rnd.Float64() < 0.5 { // more of what loops mostly are
			ground = route.AllGrounds()[rnd.IntN(4)]
		}
		if rnd.Float64() < 0.85 {
			g.Sections = append(g.Sections, route.Section{From: route.Metres(at), To: route.Metres(to), Ground: ground})
		}
		at = to
	}
	return g
}

// drawStops puts pumps along the way, as far apart as the high figure takes a share
// of the tank to; mostly on the line, some up to 1.9 km off it, some two in one
// place, some of which only somebody has said that they are there.
func (d *draft) drawStops(rnd *rand.Rand, c course, apart func() float64) {
	r, e := newRoad(d.tracks, stretched(max(1, d.stretch)), d.in.Grounds), newEngine(d.in.Bike, d.in.Options.Thirst)
	add := func(at orb.Point, name string) {
		standing := []stop.Standing{stop.Seen, stop.Phoned, stop.Map}[rnd.IntN(3)]
		d.in.Stops = append(d.in.Stops, stop.Stop{Name: name, At: at, Standing: standing, Grades: []octane.Grade{octane.FromRON(95)}})
	}
	if rnd.Float64() < 0.85 {
		add(c.points[0].Point, "home")
	}
	due, way := apart(), sum{}
	for i := range r.pieces {
		p := &r.pieces[i]
		if way = way.plus(e.over(p, false)); e.high(way) < due*e.usable || p.to > r.length()-5e3 {
			continue
		}
		at := c.beside(p.to, offLine(rnd))
		add(at, fmt.Sprint("P", len(d.in.Stops)))
		switch rnd.IntN(8) {
		case 0:
			add(c.beside(min(p.to+2500*rnd.Float64(), r.length()), 0), fmt.Sprint("Q", len(d.in.Stops)))
		case 1:
			add(c.beside(min(p.to+20e3*rnd.Float64(), r.length()), 0), fmt.Sprint("rumour", len(d.in.Stops)))
			d.in.Stops[len(d.in.Stops)-1].Standing = stop.Hearsay
		}
		way, due = sum{}, apart()
	}
}

// spoil leaves at every other pump nothing but petrol that the engine should not have, or none
// that is known: then cans are filled at the others and carried past these.
func (d *draft) spoil(rnd *rand.Rand) {
	for i := range d.in.Stops {
		switch rnd.IntN(8) {
		case 0:
			d.in.Stops[i].Grades = nil
		case 1, 2, 3:
			d.in.Stops[i].Grades = []octane.Grade{octane.FromRON(octane.RON(80 + rnd.IntN(13)))}
		}
	}
}

// offLine draws how far off the line a pump lies, in metres.
func offLine(rnd *rand.Rand) float64 {
	if rnd.Float64() < 0.7 {
		return 200 * rnd.Float64()
	}
	return 300 + 1600*rnd.Float64()
}

// beside gives a place so many metres to the right of the way, where it has gone so
// far.
func (c course) beside(at, off float64) orb.Point {
	i := 1
	for i+1 < len(c.at) && c.at[i] < at {
		i++
	}
	a, b := c.points[i-1], c.points[i]
	const degree = 111195.0
	squeeze := math.Cos(a.Lat() * math.Pi / 180)
	x, y := (b.Lon()-a.Lon())*squeeze, b.Lat()-a.Lat()
	n := math.Hypot(x, y) * degree
	return orb.Point{b.Lon() + y*off/n/squeeze, b.Lat() - x*off/n}
}
