package rides_test

import (
	"context"
	"math"
	"math/rand/v2"
	"testing"

	"lastpump/fuel"
	"lastpump/fuel/learn"
	"lastpump/fuel/plan"
	"lastpump/route"
	"lastpump/testdata/kit"
)

// A nature is what a bike and its tanks are like, drawn from all there are: a maker's figure is
// off by 12 % and ground by as much as its weights say, both as a standard deviation, the thirst
// drifts from tank to tank and each tank scatters. One tank in twenty takes more than the end of
// the band, whatever a plan says.
type nature struct {
	rnd    *rand.Rand
	thirst float64     // logarithm
	ground [10]float64 // of the factor on each weight
	off    float64     // of the tank that is in the bike
}

// drawNature draws one for a bike whose consumption is off by so much.
func drawNature(rnd *rand.Rand, d doubt) *nature {
	n := &nature{rnd: rnd, thirst: d.thirst * rnd.NormFloat64()}
	for g, sd := range d.ground {
		n.ground[g] = sd * rnd.NormFloat64()
	}
	n.next()
	return n
}

// next fills a tank: the thirst drifts, and the tank is off by itself.
func (n *nature) next() {
	n.thirst += 0.03 * n.rnd.NormFloat64()
	n.off = n.thirst + 0.07*n.rnd.NormFloat64()
}

// pace gives what he drinks at a thirst of 1; the tank in the bike multiplies it.
func (n *nature) pace(e *engine, days int) *pace {
	p := e.steady(days, 0)
	for day := range p.flat {
		for g := range p.flat[day] {
			p.flat[day][g] *= math.Exp(n.ground[g])
		}
	}
	return p
}

// ofTank gives litres as the tank in the bike makes them.
func (n *nature) ofTank(litres float64) float64 { return litres * math.Exp(n.off) }

// learns gives what the filter makes of so many tanks of the rider before the ride, of three
// fifths of a tank each, on the grounds of the loop.
func (l *loop) learns(n *nature, b fuel.Bike, tanks int) *fuel.Learnt {
	s := learn.New(b)
	all := l.engine.between(l.road, 0, l.road.length())
	for range tanks {
		n.next()
		planned, burnt := map[route.Ground]fuel.Litres{}, 0.0
		// Of a tank two grounds, which differ from tank to tank: where all were alike nothing would
		// tell them apart.
		a, b := n.rnd.IntN(10), n.rnd.IntN(10)
		whole := all.on[a] + all.on[b]
		for _, g := range []int{a, b} {
			share := 0.3 * l.engine.usable
			if whole > 0 {
				share = 0.6 * l.engine.usable * all.on[g] / whole
			}
			planned[grounds[g].name] += fuel.Litres(share)
			burnt += share * math.Exp(n.ground[g])
		}
		litres := n.ofTank(burnt) + 0.3*(n.rnd.NormFloat64()-n.rnd.NormFloat64())
		s, _ = s.Learn(learn.Tank{Needs: fuel.SureNeeds(planned, 0), Litres: fuel.Litres(max(litres, 0.1))})
	}
	kept := s.Keep(b, fuel.LastFill{})
	return &kept
}

// ridesWhole is how many rides each row is of.
var ridesWhole = kit.Share(27000, 36)

// Riders drawn from all there are, not from those within the high figure, on loops whose plan
// promises that those do not run dry. On a maker's figure under ten in a thousand are stranded:
// that is what [cautious] is for. Who has learnt from five tanks of his own
// before carries fewer litres in cans; how often he is stranded is told, but rides on plans made
// anew for each rider are too few to hold it to a figure.
func TestRidersOfTheWholeDistribution(t *testing.T) {
	holding, _ := both(t)
	var drawn []*loop
	for _, l := range holding {
		if l.plan.Bike.Learnt == nil && l.plan.Bike.ConsumptionTanks == 0 {
			drawn = append(drawn, l)
		}
	}
	rnd := rand.New(rand.NewPCG(13, 1))
	once, learnt := score{name: "a maker's figure"}, score{name: "after five own tanks"}
	for i := range ridesWhole {
		l := drawn[i%len(drawn)]
		f := l.draw(rnd)
		n := drawNature(rand.New(rand.NewPCG(14, uint64(i))), l.engine.doubt)
		r := l.set(f, l.sheet)
		r.pace, r.nature = n.pace(l.engine, l.road.days), n
		once.add(r, float64(l.plan.Bike.Can), r.bySheet())
	}
	t.Log(table("loops that hold, of all riders there are", []score{once}))
	if share := float64(once.ranDry) / float64(once.rides); kit.Long() && share >= 0.010 {
		t.Errorf("%.1f in a thousand rides are stranded, ten are the most", 1000*share)
	}
	for i := range ridesWhole / 60 { // each is planned anew
		l := drawn[i%len(drawn)]
		n := drawNature(rand.New(rand.NewPCG(15, uint64(i))), l.engine.doubt)
		again, err := l.planned(n, 5)
		if err != nil {
			t.Fatal(err)
		}
		if !again.holds {
			continue
		}
		for range 5 {
			own := *n
			own.next()
			r := again.set(again.draw(rnd), again.sheet)
			r.pace, r.nature = own.pace(l.engine, l.road.days), &own
			learnt.add(r, float64(again.plan.Bike.Can), r.bySheet())
		}
	}
	t.Log(table("the same", []score{learnt}))
	if learnt.rides < ridesWhole/30 || learnt.cans/float64(learnt.rides) >= once.cans/float64(once.rides) {
		t.Errorf("%d rides after own tanks, with %.0f L of cans; without %.0f", learnt.rides, learnt.cans, once.cans)
	}
}

// planned plans a loop anew with what so many tanks have taught.
func (l *loop) planned(n *nature, tanks int) (*loop, error) {
	d, in := l.from, l.planIn
	in.Bike.Learnt = l.learns(n, in.Bike, tanks)
	p, err := plan.Make(context.Background(), in)
	if err != nil {
		return nil, err
	}
	return d.loop(in, p), nil
}
