package rides_test

import (
	"cmp"
	"context"
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"testing"
	"time"

	"lastpump/fuel"
	"lastpump/fuel/plan"
	"lastpump/fuel/stop"
	"lastpump/fuel/survey"
	"lastpump/fuel/survey/outward"
	"lastpump/fuel/wayout"
	"lastpump/octane"
	"lastpump/route"
	"lastpump/route/osmfile"
	"lastpump/testdata/kit/extracts"

	"github.com/paulmach/orb"
)

// A region is where loops are drawn over the roads of a map.
type region struct {
	name    string
	extract string
	across  []orb.Point  // a straight line, about which the roads are read that loops are drawn on
	reach   route.Metres // and how far from it
	pumps   [2]float64   // so many of the pumps of the map are there, of those that a ride passes and of the others
	corners int          // of a loop, at the most
}

// regions are a small country of mountains and a flat one of farms. Both have a pump every few
// kilometres, which no land has where this is for: so most are taken off the map.
var regions = []region{
	{"Andorra", extracts.Andorra, []orb.Point{{1.43, 42.47}, {1.76, 42.57}}, 25_000, [2]float64{0.25, 0.6}, 14},
	{"Delaware", extracts.Delaware, []orb.Point{{-75.45, 38.46}, {-75.60, 39.75}}, 40_000, [2]float64{0.1, 0.6}, 6},
}

// How long a loop is, in metres, and how far by road petrol is looked for.
const (
	shortest, longest = 100e3, 600e3
	waysOut           = 30_000
)

// surveyed surveys a line on the map of a region.
func (g region) surveyed(t testing.TB, line *route.Line, reach route.Metres) *survey.Survey {
	t.Helper()
	opt := survey.DefaultOptions()
	opt.Scale, opt.Cores, opt.WaysOut = octane.ScaleRON, 2, reach
	s, err := survey.Read(context.Background(), line, []osmfile.Extract{extracts.CopyOf(t, g.extract)}, opt)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// roadsOf gives the roads of a region for loops to be drawn on.
func (g region) roadsOf(t testing.TB) *country {
	t.Helper()
	var across []route.Point
	for _, p := range g.across {
		across = append(across, route.Point{Point: p})
	}
	line, err := route.NewLine([]route.Track{{Segments: [][]route.Point{across}}}, route.LineOptions{Stretch: 1, Gaps: route.GapsRide})
	if err != nil {
		t.Fatal(err)
	}
	return newCountry(g.surveyed(t, line, g.reach).Roads.Net)
}

// drawRing draws a loop: a few junctions, from one to the next about their middle by the way
// of least fuel, as a file has points, 100 m apart at the most. It may have roads in common with itself.
func (c *country) drawRing(rnd *rand.Rand, corners int) []route.Point {
	for {
		var at []int32
		for range 3 + rnd.IntN(corners-2) {
			at = append(at, int32(rnd.IntN(c.net.Nodes())))
		}
		var middle orb.Point
		for _, node := range at {
			middle[0] += c.net.Where(node)[0] / float64(len(at))
			middle[1] += c.net.Where(node)[1] / float64(len(at))
		}
		angle := func(node int32) float64 {
			p := c.net.Where(node)
			return math.Atan2(p[1]-middle[1], (p[0]-middle[0])*math.Cos(middle[1]*math.Pi/180))
		}
		slices.SortFunc(at, func(a, b int32) int { return cmp.Compare(angle(a), angle(b)) })
		if points, metres := c.around(at); metres >= shortest && metres <= longest {
			return points
		}
	}
}

// around joins junctions to a ring; its length is 0 where no way leads on.
func (c *country) around(at []int32) (points []route.Point, metres float64) {
	for i, from := range at {
		way, ok := c.from(from).to(at[(i+1)%len(at)])
		if !ok {
			return nil, 0
		}
		for _, p := range way.shape {
			if n := len(points); n > 0 {
				last := points[n-1].Point
				step := haversine(last, p)
				metres += step
				for k, parts := 1.0, math.Ceil(step/100); k < parts; k++ {
					points = append(points, route.Point{Point: route.Between(last, p, k/parts)})
				}
				if step == 0 {
					continue
				}
			}
			points = append(points, route.Point{Point: p})
		}
	}
	return points, metres
}

// A mapped loop is one over the roads of a region, planned three times: with the ways out of its
// survey, with those alone that lead to stops off the line, and with none.
type mapped struct {
	draft
	with, detours, guessed *loop
	on                     [3]leaning // of each
	roads                  *country   // of its survey
	length                 float64
	within                 []survey.Pump
}

// drawMapped draws a loop over the roads of a region with the pumps and ways of its survey, of some
// of which somebody is sure. On every other loop the tank is the smallest with which the plan still
// holds that knows the ways out.
func (g region) drawMapped(t *testing.T, roads *country, seed uint64) *mapped {
	t.Helper()
	rnd := rand.New(rand.NewPCG(seed, 20260801))
	m := &mapped{draft: draft{name: fmt.Sprintf("%s %d", g.name, seed), stretch: 1}}
	m.tracks = []route.Track{{Segments: [][]route.Point{roads.drawRing(rnd, g.corners)}}}
	line, err := m.line()
	if err != nil {
		t.Fatal(err)
	}
	s := g.surveyed(t, line, waysOut)
	thin(rnd, s, g.pumps)
	found := outward.Find(s)
	m.roads, m.length, m.within = newCountry(s.Roads.Net), float64(line.Length()), s.Pumps
	m.in = plan.Inputs{Bike: drawBike(rnd), Options: drawOptions(rnd), Roads: found.List()}
	m.in.Grounds, m.in.Bike.Can = route.Grounds{Sections: s.Ground()}, 0
	for _, p := range slices.Concat(s.Stops(), found.Far) {
		m.in.Stops = append(m.in.Stops, stop.Stop{Name: p.Name, At: p.At, Grades: []octane.Grade{octane.FromRON(95)},
			Standing:     []stop.Standing{stop.Seen, stop.Phoned, stop.Phoned, stop.Map}[rnd.IntN(4)],
			HasConfirmed: true, Confirmed: m.in.Options.Today.Add(-time.Duration(rnd.IntN(450)) * 24 * time.Hour)})
	}
	m.smallTank(t, rnd)
	m.shrink = seed%2 == 1
	return m
}

// planAt plans a loop the three times, filled where it is said.
func (m mapped) planAt(t *testing.T, at plan.FillAt) *mapped {
	t.Helper()
	m.in.Options.FillAt = at
	m.with, m.on[0] = m.planOn(t, func(wayout.Way) bool { return true })
	m.in.Bike.Tank, m.shrink = m.with.planIn.Bike.Tank, false
	m.detours, m.on[1] = m.planOn(t, func(w wayout.Way) bool {
		return w.From == "" && slices.ContainsFunc(m.within, func(p survey.Pump) bool { return p.Name == w.To })
	})
	m.guessed, m.on[2] = m.planOn(t, func(wayout.Way) bool { return false })
	return &m
}

// planOn plans a loop on some of the ways; the roads that are ridden are those there are.
func (m *mapped) planOn(t *testing.T, only func(wayout.Way) bool) (*loop, leaning) {
	t.Helper()
	d := m.draft
	d.in.Roads = slices.DeleteFunc(slices.Clone(d.in.Roads), func(w wayout.Way) bool { return !only(w) })
	in, p, err := d.planned()
	if err != nil {
		t.Fatal(err)
	}
	l := d.loop(in, p)
	return l, m.roads.referee(l)
}

// thin leaves a share of the pumps that a ride passes, two at the least, and one of the others.
func thin(rnd *rand.Rand, s *survey.Survey, share [2]float64) {
	var there []survey.Pump
	for near := 0; near < min(2, len(s.Pumps)); {
		near, there = 0, nil
		for _, p := range s.Roads.Pumps {
			passed := p.Off < s.Options.Counted
			if !passed && rnd.Float64() > share[1] || passed && rnd.Float64() > share[0] {
				continue
			}
			if there = append(there, p); passed {
				near++
			}
		}
	}
	s.Roads.Pumps = there
	s.Pumps = slices.DeleteFunc(s.Pumps, func(p survey.Pump) bool {
		return !slices.ContainsFunc(there, func(q survey.Pump) bool { return p.Ref == q.Ref })
	})
}

// smallTank draws a tank between the most that a leg takes and half way to what two in a row do, at
// the high figures and where every pump is filled at.
func (d *draft) smallTank(t *testing.T, rnd *rand.Rand) {
	t.Helper()
	e := *d
	e.in.Bike.Tank, e.in.Options.FillAt, e.in.Options.Carry = 80, plan.FillEverywhere, plan.Carry{}
	_, p, err := e.planned()
	if err != nil {
		t.Fatal(err)
	}
	one, two, last := 0.0, 0.0, 0.0
	for _, l := range p.Legs {
		takes := float64(l.Drink.Fuel.High)
		one, two, last = max(one, takes), max(two, last+takes), takes
	}
	d.in.Bike.Tank = d.in.Bike.Unusable + fuel.Litres(max(1.02*one, one+0.5*(two-one)*rnd.Float64()))
}
