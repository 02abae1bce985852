package main

import (
	"math"
	"math/rand/v2"
)

// A scenario is all that is decided by hand about a loop; the rest is drawn.
type scenario struct {
	name, title string
	about       string // for the reader of the file
	seed        uint64
	land        land
	towns       []town // in riding order; the last is the first again
	ground      []ground
	stops       []fuelStop
	bike        string  // bike.toml
	every       float64 // seconds between fixes of a recorder; 0 for a drawn line
	within      float64 // metres that a drawn line may be off
	stopsInGPX  bool    // stops as waypoints of the loop, not as a file
	sights      []sight
	chart       *chart // what a map knows; nil for no map
}

// A town is a place that the road goes through, in km on the flat map.
type town struct {
	name  string
	x, y  float64
	night bool // a day ends here
}

func (t town) spot() spot { return spot{1000 * t.x, 1000 * t.y} }

// A place is so many km past a town along the road, and metres off to the left.
type place struct {
	town string
	past float64
	left float64
}

// Ground is what the road is made of from a place on, to the next such place.
type ground struct {
	from place
	kind string
	note string
}

// A fuelStop is a place and the columns of a stops file.
type fuelStop struct {
	name string
	at   place
	grades, hours, pay, standing, confirmed,
	phone, price, note string
}

// A sight is a waypoint that sells nothing.
type sight struct {
	name, kind string
	at         place
}

// A loop is a scenario, ridden.
type loop struct {
	scenario
	line   []spot         // the ride, stride by stride
	town   map[string]int // the stride at which a town was first reached
	days   []day
	metres []float64 // along the line of the file, at each fix of all days
	along  []float64 // along the ride, likewise
	dense  float64   // metres of the ride, stride by stride
}

// A day is a track of the file.
type day struct {
	name  string
	fixes []fix
}

// lay rides a scenario and records it.
func (s scenario) lay() *loop {
	r := rand.New(rand.NewPCG(s.seed, 0))
	s.land.noise = newNoise(r)
	l := &loop{scenario: s, town: map[string]int{}}
	ends := l.ride(r)
	l.dense = l.length()
	l.keep(r, ends)
	l.measure()
	return l
}

// ride goes from town to town and returns the strides at which the towns come.
func (l *loop) ride(r *rand.Rand) []int {
	g := survey(&l.land, l.towns)
	rider := &rider{land: &l.land, Rand: r, spot: l.towns[0].spot()}
	rider.line = []spot{rider.spot}
	ends := []int{0}
	l.town[l.towns[0].name] = 0
	for _, t := range l.towns[1:] {
		rider.follow(g.way(rider.spot, t.spot()))
		here := len(rider.line) - 1
		if _, again := l.town[t.name]; !again {
			l.town[t.name] = here
		}
		ends = append(ends, here)
	}
	l.line = rider.line
	return ends
}

// keep makes the days out of the ride.
func (l *loop) keep(r *rand.Rand, ends []int) {
	rec := &recorder{land: &l.land, Rand: r, every: l.every}
	from, start := 0, l.towns[0].name
	for i, t := range l.towns {
		if !t.night {
			continue
		}
		d := day{name: start + " to " + t.name}
		if l.every > 0 {
			d.fixes = rec.record(l.line, from, ends[i], l.groundAt)
		} else {
			d.fixes = draw(&l.land, l.line, from, ends[i], l.within)
		}
		l.days = append(l.days, d)
		from, start = ends[i], t.name
	}
}

// measure notes the length of the file's line at every fix.
func (l *loop) measure() {
	var last *fix
	total := 0.0
	for _, d := range l.days {
		for i := range d.fixes {
			f := &d.fixes[i]
			if last != nil {
				total += haversine(last.Point, f.Point)
			}
			l.metres, l.along = append(l.metres, total), append(l.along, f.along)
			last = f
		}
	}
}

// fileKM turns metres along the ride into km along the line of the file, which
// cuts corners and so is a little shorter.
func (l *loop) fileKM(along float64) float64 {
	i := 1
	for i < len(l.along)-1 && l.along[i] < along {
		i++
	}
	t := 0.0
	if d := l.along[i] - l.along[i-1]; d > 0 {
		t = min(max((along-l.along[i-1])/d, 0), 1)
	}
	return mix(l.metres[i-1], l.metres[i], t) / 1000
}

// rideAt is metres along the ride of a place.
func (l *loop) rideAt(p place) float64 {
	i, ok := l.town[p.town]
	if !ok {
		panic("no town " + p.town + " in " + l.name) // a slip of the pen in the scenario
	}
	return float64(i)*stride + 1000*p.past
}

// spotAt is the place on the flat map.
func (l *loop) spotAt(p place) spot {
	i := min(int(l.rideAt(p)/stride), len(l.line)-2)
	heading, _ := l.line[i].to(l.line[i+1])
	return l.line[i].ahead(heading+math.Pi/2, p.left)
}

// groundAt is the kind of ground so many metres along the ride.
func (l *loop) groundAt(along float64) string {
	kind := ""
	for _, g := range l.ground {
		if l.rideAt(g.from) > along {
			break
		}
		kind = g.kind
	}
	return kind
}

// length is the length of the ride on the globe, in metres.
func (l *loop) length() float64 {
	total := 0.0
	last := l.land.geo(l.line[0])
	for _, p := range l.line[1:] {
		next := l.land.geo(p)
		total += haversine(last, next)
		last = next
	}
	return total
}
