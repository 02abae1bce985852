package rides_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"
	"time"

	"lastpump/fuel/plan"
	"lastpump/fuel/stop"
	"lastpump/fuel/wayout"
	"lastpump/octane"
	"lastpump/route"
	"lastpump/testdata/kit"

	"github.com/paulmach/orb"
)

// A byway is a way off the line by road.
type byway struct {
	metres [10]float64 // of each ground of the table
	up     [2]float64  // climbed ridden out, and home; meaningless unless known
	known  bool
}

// bywayOf reads a way as the list of a survey has it. What is climbed on the way home is not known
// where the list has only the climb: then it is that, or 18 m a kilometre, whichever is more.
func bywayOf(w wayout.Way) *byway {
	b := &byway{up: [2]float64{float64(w.Climb), float64(w.Descent)}, known: w.Climbed}
	for i, g := range route.AllGrounds() {
		b.metres[groundNumber(g)] += float64(w.Ground[i])
	}
	if !w.Descended {
		b.up[1] = max(b.up[0], 0.018*b.length())
	}
	return b
}

func (b *byway) length() (sum float64) {
	for _, m := range b.metres {
		sum += m
	}
	return sum
}

// part gives a share of a way.
func (b *byway) part(share float64) *byway {
	p := *b
	for i := range p.metres {
		p.metres[i] *= share
	}
	p.up[0], p.up[1] = p.up[0]*share, p.up[1]*share
	return &p
}

// byway gives the litres for a way off the line, out or home.
func (p *pace) byway(b *byway, day int, home bool) (l float64) {
	for g, m := range b.metres {
		l += m * p.flat[day][g]
	}
	up := b.up[0]
	if home {
		up = b.up[1]
	}
	if b.known {
		return l + p.climb[day]*up
	}
	return l + p.unknown[day]*b.length()
}

// byway gives the sum of a way off the line, out or home.
func (e *engine) byway(b *byway, home bool) (s sum) {
	for g, m := range b.metres {
		s = s.plus(e.flatOver(g, band{m, m, m}))
	}
	up := b.up[0]
	if home {
		up = b.up[1]
	}
	climb := band{up, up, up}.times(e.climb.likely)
	if !b.known {
		climb = e.climbUnknown.times(b.length())
	}
	return s.plus(sum{short: climb.low, likely: climb.likely, long: climb.high, floor: climb.high})
}

// rideOff leaves a dry pump, or the line, by road; the ride is over at the pump there, and so it is
// where that does not open in time.
func (r *rider) rideOff(by *exit) (going bool) {
	p := r.loop.road.pieces[r.loop.road.on(r.at)]
	r.burn(by.length(), r.pace.byway(by.byway, p.day, false), sure(r.engine.byway(by.byway, false)), 1)
	r.takesRoad(by.byway, p.day)
	r.off = true
	r.ridOff++
	if r.tempo != nil {
		if opens := by.open.opens(r.now); opens.IsZero() || opens.Sub(r.now) > r.sheet.clock.wait {
			r.shutOut = by.pump
			r.strand()
		}
	}
	return false
}

// takeWayOut leaves a leg by the last way out of it.
func (r *rider) takeWayOut(i int) (at int, going bool) {
	out, from := r.sheet.legs[i].out, r.sheet.stops[i]
	r.turnAt, r.intoDry = never, false
	if _, arrived := r.ride([]hop{from.hopHome(), {from: from.km, to: out.at}}); !arrived {
		return i, false
	}
	r.low = 1
	r.tip()
	r.leftLine++
	return i, r.rideOff(out)
}

// wantsOut draws a leg that somebody leaves by the last way out of it, counted from 1; 0 where none
// has one.
func (s *sheet) wantsOut(rnd *rand.Rand) int {
	var some []int
	for i, w := range s.legs {
		if w.out != nil {
			some = append(some, i+1)
		}
	}
	if some == nil {
		return 0
	}
	return some[rnd.IntN(len(some))]
}

// withRoads draws pumps off the line of a draft, of which somebody is sure or nobody, and roads to
// them from its stops and from its line, open, doubtful or of ground that is not known; and roads to
// the stops that lie off it.
func (d draft) withRoads(t *testing.T, seed uint64) draft {
	t.Helper()
	line, err := d.line()
	if err != nil {
		t.Fatal(err)
	}
	rnd := rand.New(rand.NewPCG(seed, 20260703))
	d.in.Stops = slices.Clone(d.in.Stops)
	today := d.in.Options.Today
	for i, s := range slices.Clone(d.in.Stops) {
		near, _ := line.Nearest(s.At, 0, line.Length())
		if near.Off > 300 && rnd.Float64() < 0.7 {
			at := min(max(near.At+route.Metres(4e3*rnd.Float64()-2e3), 0), line.Length())
			d.in.Roads = append(d.in.Roads, drawnWay(rnd, "", at, line.At(at), s.Name, s.At, 1.05+rnd.Float64()))
		}
		if rnd.Float64() < 0.2 || s.Standing == stop.Hearsay {
			continue
		}
		a, far := 2*math.Pi*rnd.Float64(), (7e3+23e3*rnd.Float64())/111195
		p := orb.Point{s.At[0] + far*math.Sin(a)/math.Cos(s.At[1]*math.Pi/180), s.At[1] + far*math.Cos(a)}
		name := fmt.Sprint("far ", i)
		if beside, _ := line.Nearest(p, 0, line.Length()); beside.Off < 5000 {
			continue
		}
		f := stop.Stop{Name: name, At: p, Standing: []stop.Standing{stop.Seen, stop.Phoned, stop.Phoned, stop.Map}[rnd.IntN(4)],
			HasConfirmed: true, Confirmed: today.Add(-time.Duration(rnd.IntN(450)) * 24 * time.Hour), Grades: []octane.Grade{octane.FromRON(95)}}
		if rnd.Float64() < 0.8 {
			d.in.Stops = append(d.in.Stops, f)
		}
		d.in.Roads = append(d.in.Roads, drawnWay(rnd, s.Name, near.At, s.At, name, p, 1.05+0.5*rnd.Float64()))
		at := min(max(near.At+route.Metres(60e3*rnd.Float64()-30e3), 0), line.Length())
		d.in.Roads = append(d.in.Roads, drawnWay(rnd, "", at, line.At(at), name, p, 1.05+0.5*rnd.Float64()))
	}
	return d
}

// drawnWay draws a way so many times as long as the straight.
func drawnWay(rnd *rand.Rand, from string, at route.Metres, turnOff orb.Point, to string, pump orb.Point, times float64) wayout.Way {
	w := wayout.Way{From: from, At: at, TurnOff: turnOff, To: to, Pump: pump, Road: "Road", Toward: wayout.Toward(turnOff, pump)}
	left := times * float64(route.Distance(turnOff, pump))
	for left > 1 {
		g := rnd.IntN(4)
		switch r := rnd.Float64(); {
		case r < 0.1:
			g = rnd.IntN(wayout.Grounds - 1)
		case r < 0.13:
			g = wayout.Grounds - 1 // not known
		}
		m := min(left, 2e3+20e3*rnd.Float64())
		w.Ground[g] += route.Metres(m)
		left -= m
	}
	if rnd.Float64() < 0.1 {
		w.Marks = wayout.Private
	}
	if w.Climbed = rnd.Float64() < 0.6; w.Climbed {
		w.Climb, w.Descended = w.Length()*route.Metres(0.02*rnd.Float64()), rnd.Float64() < 0.8
		w.Descent = w.Length() * route.Metres(0.02*rnd.Float64())
	}
	return w
}

// roadLoops are drawn loops on which roads lead out, and the same with none but those to stops off
// the line: detours are as long on both.
func roadLoops(t *testing.T, at plan.FillAt) (with, without []*loop) {
	t.Helper()
	for seed := range uint64(kit.Share(2*drawnLoops, 10)) {
		d := drawLoop(seed)
		d.shrink = false
		d.in.Options.FillAt, d.in.Bike.Can = at, 0
		d = d.withRoads(t, seed)
		l, err := d.make()
		if err != nil {
			t.Fatal(seed, err)
		}
		d.in.Roads = slices.DeleteFunc(slices.Clone(d.in.Roads), func(w wayout.Way) bool {
			return w.From != "" || strings.HasPrefix(w.To, "far ")
		})
		plain, err := d.make()
		if err != nil {
			t.Fatal(seed, err)
		}
		with, without = append(with, l), append(without, plain)
	}
	return with, without
}

// Nobody runs dry where a plan by road promises it, who drinks up to the high figure and finds up to
// one place dry, on chosen stops and on all; riders do leave a dry pump by road. A sheet that sends
// them off to pumps that nobody is sure of, of which a third are dry, strands some.
func TestNobodyRunsDryByRoad(t *testing.T) {
	rnd := rand.New(rand.NewPCG(21, 1))
	off, rides, strandedByDoubt := 0, 0, 0
	var saved, carried float64
	for _, at := range []plan.FillAt{plan.FillEverywhere, plan.FillChosen} {
		with, without := roadLoops(t, at)
		for k, l := range with {
			if l.holds && without[k].holds {
				saved += float64(without[k].plan.Bike.Can - l.plan.Bike.Can)
				carried++
			}
			if !l.holds {
				continue
			}
			doubtful := doubtfulSheet(l)
			for range kit.Share(120, 2) {
				f := l.draw(rnd)
				r := l.set(f, l.sheet)
				if end := r.bySheet(); end == ranDry {
					t.Error(ridden{l, f, r, end})
				}
				rides, off = rides+1, off+r.ridOff
				g := l.set(f, doubtful)
				if g.bySheet(); g.stranded {
					strandedByDoubt++
				}
			}
		}
	}
	if off < rides/500 || strandedByDoubt == 0 {
		t.Errorf("of %d rides %d left a dry pump by road; %d stranded where doubt is taken for sure", rides, off, strandedByDoubt)
	}
	t.Logf("%d rides, %d left a dry pump by road; %.0f L less in cans on a thousand rides, of %.0f loops", rides, off,
		1000*saved/carried, carried)
}

// doubtfulSheet gives a sheet that leans on every way out that it knows.
func doubtfulSheet(l *loop) *sheet {
	s := read(l.plan, l.road)
	for i := range s.stops {
		for _, v := range l.plan.Visits {
			if v.Stop.Name == s.stops[i].name && v.IfDry != nil && v.IfDry.Off != nil && v.IfDry.Off.Why != "" {
				s.stops[i].dry, s.stops[i].off = goOff, &exit{byway: bywayOf(l.plan.Ways.All[v.IfDry.Off.Way].Way)}
			}
		}
	}
	return s
}

// Who takes the last way out of a leg gets to its pump on the high figure, with what is told.
func TestTheLastWayOut(t *testing.T) {
	with, _ := roadLoops(t, plan.FillEverywhere)
	outs := 0
	for _, l := range with {
		for i, leg := range l.plan.Legs {
			out := leg.WayOut
			if out == nil {
				continue
			}
			outs++
			b := bywayOf(l.plan.Ways.All[out.Way].Way)
			from := l.sheet.stops[i]
			way := l.half(from, true).plus(l.engine.between(l.road, from.km, float64(out.At))).plus(l.engine.byway(b, false))
			if left := float64(leg.Start+leg.Can) - l.engine.high(way); left < -thimble || math.Abs(left-float64(out.Spare)) > 0.02 {
				t.Errorf("%s, leg %d: %.4f L are left at the high figure, %.4f are told", l.name, i+1, left, float64(out.Spare))
			}
		}
	}
	if outs < 5 {
		t.Errorf("only %d legs have a way out", outs)
	}
}
