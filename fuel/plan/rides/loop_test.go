package rides_test

import (
	"fmt"
	"sync"
	"testing"

	"lastpump/fuel"
	"lastpump/fuel/plan"
	"lastpump/route"
)

// A loop is a ride to be ridden many times: the road, the bike and the sheet.
type loop struct {
	name   string
	road   *road
	engine *engine
	sheet  *sheet
	plan   *plan.Plan // for the claims and for what is said of a failure; no rider looks in
	holds  bool       // whether the plan promises that nobody runs dry
	bought bool       // with a can that the bike does not have, or a larger one

	most                *pace     // the high figures: nobody in here drinks more on a leg
	mostThere, mostBack []float64 // litres by them for each piece of the road

	startFuel  float64 // litres in the tank at the start
	ownCan     float64 // litres: of the bike as it is, not the can that the plan asks for
	sinceFill  float64 // metres ridden since the tank was full
	pavedRange float64 // metres of paved road that a whole tank takes the bike
}

// A draft is what a loop is made of. The planner and the simulator each make of it
// what they need.
type draft struct {
	name    string
	tracks  []route.Track
	stretch float64
	in      plan.Inputs // without a line
	shrink  bool        // take the smallest tank with which the plan still holds
}

// line is the draft as the planner sees it.
func (d draft) line() (*route.Line, error) {
	return route.NewLine(d.tracks, route.LineOptions{Stretch: d.stretch, Gaps: route.GapsRide})
}

// cans are the sizes that a rider can buy, in litres.
var cans = []fuel.Litres{1, 1.5, 2, 3, 4, 5, 7.5, 10}

// make plans a loop as it is; if that plan does not promise that nobody runs dry, with
// a can. Where nothing helps it is planned as it is.
func (d draft) make() (*loop, error) {
	line, err := d.line()
	if err != nil {
		return nil, err
	}
	in := d.in
	in.Line = line
	p, err := plan.Make(in)
	if err != nil {
		return nil, err
	}
	if !promises(p) {
		in, p = withCan(in, p)
	}
	if d.shrink && promises(p) {
		in, p = shrunk(in, p)
	}
	return d.loop(in, p), nil
}

// withCan plans with the can that a plan asks for or the next that makes it promise;
// if none does, with most of the tank as reserve besides: a can rides empty on legs
// that are OK without it, and so rides full on nearly all.
func withCan(in plan.Inputs, p *plan.Plan) (plan.Inputs, *plan.Plan) {
	careful := in.Options
	careful.Reserve = plan.Reserve{Share: 0.8}
	for _, options := range []plan.Options{in.Options, careful} {
		for _, size := range cans {
			if size < p.Can.SizeForDry.Litres || size <= in.Bike.Can || p.Can.SizeForDry.TooBig {
				continue
			}
			more := in
			more.Options, more.Bike.Can = options, size
			if q, err := plan.Make(more); err == nil && promises(q) {
				return more, q
			}
		}
	}
	return in, p
}

// shrunk gives the bike the smallest tank, to within a hundredth of a litre, with which the plan
// still promises that nobody runs dry: somewhere on such a loop it is only just so.
func shrunk(in plan.Inputs, p *plan.Plan) (plan.Inputs, *plan.Plan) {
	enough, small := in.Bike.Tank, in.Bike.Tank/3
	for enough-small > 0.01 {
		less := in
		less.Bike.Tank = (enough + small) / 2
		if q, err := plan.Make(less); err == nil && promises(q) {
			enough, in, p = less.Bike.Tank, less, q
			continue
		}
		small = less.Bike.Tank
	}
	return in, p
}

// loop is a draft as it is ridden, by a plan made of what was drawn and bought.
func (d draft) loop(in plan.Inputs, p *plan.Plan) *loop {
	b, o, r := in.Bike, in.Options, newRoad(d.tracks, d.stretch, d.in.Grounds)
	l := &loop{
		name: d.name, plan: p, holds: promises(p), bought: b.Can > d.in.Bike.Can, ownCan: float64(d.in.Bike.Can),
		road: r, engine: newEngine(b, o.Thirst), sheet: read(p, r),
		pavedRange: float64(b.Tank) / float64(b.Consumption) * 100 * 1000,
	}
	l.measure()
	switch {
	case o.HasStartFuel:
		l.startFuel = float64(o.StartFuel)
		l.sinceFill = l.pavedRange * (1 - l.startFuel/l.engine.usable)
	case o.SinceFill > 0:
		l.sinceFill = float64(o.SinceFill)
		l.startFuel -= l.sinceFill * l.firstRate()
	}
	return l
}

// measure works out what the high figures take for each piece of the road, and fills
// the tank.
func (l *loop) measure() {
	l.startFuel = l.engine.usable
	l.most = l.engine.steady(l.road.days, 1)
	for i := range l.road.pieces {
		p := &l.road.pieces[i]
		l.mostThere = append(l.mostThere, l.most.over(p, false))
		l.mostBack = append(l.mostBack, l.most.over(p, true))
	}
}

// firstRate is the likely litres a metre on the first leg.
func (l *loop) firstRate() float64 {
	likely := l.engine.steady(l.road.days, 0)
	to := l.sheet.stops[1]
	p := l.road.pieces[l.road.on(to.km)]
	litres := likely.between(l.road, 0, to.km) + to.half*likely.flat[p.day][p.ground]
	return litres / (l.road.ridden(0, to.km) + to.half)
}

// promises tells whether a plan promises that nobody runs dry who drinks no more
// than the high figure and finds one place dry: no leg is SHORT or dry on the high
// figure, no place would leave him stranded, none only just not.
func promises(p *plan.Plan) bool {
	for _, l := range p.Legs {
		if l.Verdict == plan.Short || l.Drink.Fuel.High > l.Start+l.Can {
			return false
		}
	}
	for _, v := range p.Visits {
		if v.IfDry != nil && (v.IfDry.Outcome == plan.Stranded || v.IfDry.Bare) {
			return false
		}
	}
	return true
}

// loops are the sixty drawn ones and the two examples, made once.
var loops = sync.OnceValues(func() ([]*loop, error) {
	var all []*loop
	for seed := range uint64(drawnLoops) {
		l, err := drawLoop(seed).make()
		if err != nil {
			return nil, fmt.Errorf("loop %d: %w", seed, err)
		}
		all = append(all, l)
	}
	for _, name := range []string{"steppe", "canyon"} {
		l, err := exampleLoop(name)
		if err != nil {
			return nil, err
		}
		all = append(all, l)
	}
	return all, nil
})

// both gives the loops whose plan promises that nobody runs dry, and the others.
func both(t *testing.T) (holding, others []*loop) {
	t.Helper()
	all, err := loops()
	if err != nil {
		t.Fatal(err)
	}
	for _, l := range all {
		if l.holds {
			holding = append(holding, l)
		} else {
			others = append(others, l)
		}
	}
	return holding, others
}
