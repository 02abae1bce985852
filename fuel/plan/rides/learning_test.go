package rides_test

import (
	"context"
	"math/rand/v2"
	"slices"
	"testing"

	"lastpump/fuel"
	"lastpump/fuel/learn"
	"lastpump/fuel/leg"
	"lastpump/fuel/plan"
	"lastpump/route"
	"lastpump/testdata/kit"
)

// needs gives what a tank was planned to take, by ground, of the sums of what was ridden.
func (s sum) needs() fuel.Needs {
	flat, climb := map[route.Ground]fuel.Litres{}, s.likely
	for g, l := range s.on {
		flat[grounds[g].name] += fuel.Litres(l)
		climb -= l
	}
	return fuel.SureNeeds(flat, fuel.Litres(max(0, climb)))
}

// learning rides a loop by its sheet as long as that holds, and at each pump at which he fills he
// plans the rest again, with what his tanks so far have taught. Where the way to the next pump then
// holds no more, be it dry or not, he stays there. The cans are those that he set out with.
func (r *rider) learning(t *testing.T) ending {
	r.asked = make([]bool, len(r.sheet.stops))
	if !r.sheet.stops[0].pump {
		r.fillCan(0)
		r.lookAhead(0)
	}
	state := learn.New(r.planIn.Bike)
	for i, going := 0, true; i < r.sheet.last(); {
		was := i
		if i, going = r.leg(i); !going {
			return r.stopped()
		}
		if at := r.sheet.stops[i]; i == was+1 && i < r.sheet.last() && at.pump && !r.isDry(i) {
			litres := r.drunk + 0.3*(r.nature.rnd.NormFloat64()-r.nature.rnd.NormFloat64())
			state, _ = state.Learn(learn.Tank{Needs: r.ridden.needs(), Litres: fuel.Litres(max(litres, 0.1))})
			if !r.again(t, i, state) {
				return safe
			}
			i = 0
		}
	}
	return finished
}

// again plans the rest from the stop at which he stands; it tells whether the way to the next holds.
func (r *rider) again(t *testing.T, i int, state learn.State) (holds bool) {
	t.Helper()
	here := r.sheet.stops[i]
	in := r.planIn
	kept := state.Keep(in.Bike, fuel.LastFill{})
	in.Bike.Learnt = &kept
	o := &in.Options
	o.Carry = plan.Carry{Cans: r.loop.plan.Cans.Carried}
	o.FromStop, o.From, o.HasFrom, o.SinceFill = here.name, 0, false, 0
	o.HasStartFuel, o.StartFuel = true, fuel.Litres(min(r.tank, r.engine.usable))
	o.HasCanNow, o.CanNow = true, fuel.Litres(min(r.can, float64(o.Carry.Cans.Total())))
	p, err := plan.Make(context.Background(), in)
	if err != nil { // passed twice: the sheet goes on as it is
		o.FromStop, o.From, o.HasFrom = "", route.Metres(here.km), true
		if p, err = plan.Make(context.Background(), in); err != nil {
			t.Fatal(err)
		}
	}
	if l := p.Legs[0]; l.Verdict == leg.Short || l.Drink.Fuel.High > l.Start+l.Can {
		return false
	}
	if v := p.Legs[0].ToVisit; v >= 0 && p.Visits[v].IfDry != nil && (p.Visits[v].IfDry.Outcome == leg.Stranded || p.Visits[v].IfDry.Bare) {
		return false
	}
	dry := ""
	for _, e := range r.sheet.stops[i:] {
		if r.dryAt(e) {
			dry = e.name
		}
	}
	loop := *r.loop
	loop.plan, loop.sheet = p, read(p, r.road)
	r.silent = append(slices.Clone(r.silent[min(i, len(r.silent)):]), make([]bool, len(loop.sheet.stops))...)
	r.asked = make([]bool, len(loop.sheet.stops))
	r.loop, r.sheet, r.dry = &loop, loop.sheet, -1
	for _, e := range loop.sheet.stops {
		if e.name == dry {
			r.dry = e.place
		}
	}
	return true
}

// Riders drawn from all there are, on loops whose plan at home holds: by that plan to the end, and
// planned again with learning at each pump. Fewer are to be stranded with learning.
func TestPlannedAgainWithLearning(t *testing.T) {
	holding, _ := both(t)
	var drawn []*loop
	for _, l := range holding {
		if l.plan.Bike.Learnt == nil && l.plan.Bike.ConsumptionTanks == 0 {
			drawn = append(drawn, l)
		}
	}
	once, again := score{name: "planned once, at home"}, score{name: "again at each fill, learning"}
	rnd := rand.New(rand.NewPCG(16, 1))
	for i := range kit.Share(1200, 24) {
		l := drawn[i%len(drawn)]
		f := l.draw(rnd)
		for k, s := range []*score{&once, &again} {
			n := drawNature(rand.New(rand.NewPCG(17, uint64(i))), l.engine.doubt)
			own := f
			own.silent = slices.Clone(f.silent)
			r := l.set(own, l.sheet)
			r.pace, r.nature = n.pace(l.engine, l.road.days), n
			if k == 0 {
				s.add(r, float64(l.plan.Bike.Can), r.bySheet())
				continue
			}
			s.add(r, float64(l.plan.Bike.Can), r.learning(t))
		}
	}
	t.Log(table("loops that hold, of all riders there are", []score{once, again}))
	if kit.Long() && again.ranDry >= once.ranDry {
		t.Errorf("with learning %d are stranded, without %d", again.ranDry, once.ranDry)
	}
}
