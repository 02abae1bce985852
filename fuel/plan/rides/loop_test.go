package rides_test

import (
	"context"
	"fmt"
	"sync"
	"testing"

	"lastpump/fuel"
	"lastpump/fuel/leg"
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
	bought bool       // with cans that the bike does not have
	alone  *loop      // the same, planned for the bike alone: without such cans; nil where stops are chosen

	everywhere *loop // where stops are chosen, the same filled at every counted stop

	from   draft // and the inputs, to plan it anew
	planIn plan.Inputs

	most *pace // the high figures: nobody in here drinks more from brim to brim

	startFuel  float64 // litres in the tank at the start
	ownCan     float64 // litres: of the bike as it is, not the cans that the plan carries
	sinceFill  float64 // metres ridden since the tank was full
	pavedRange float64 // metres of paved road that a whole tank takes the bike
}

// A draft is what a loop is made of. The planner and the simulator each make of it
// what they need.
type draft struct {
	name    string
	tracks  []route.Track
	stretch float64     // 0 where the plan estimates it
	in      plan.Inputs // without a line
	shrink  bool        // take the smallest tank with which the plan still holds
}

// line is the draft as the planner sees it.
func (d draft) line() (*route.Line, error) {
	return route.NewLine(d.tracks, route.LineOptions{Stretch: d.stretch, Gaps: route.GapsRide})
}

// make plans a loop, and the same for the bike alone, or where stops are chosen with a fill at
// every counted stop.
func (d draft) make() (*loop, error) {
	in, p, err := d.planned()
	if err != nil {
		return nil, err
	}
	l := d.loop(in, p)
	if in.Options.FillAt != plan.FillChosen {
		return l, l.planAlone(in)
	}
	in.Options.FillAt = plan.FillEverywhere
	if p, err = plan.Make(context.Background(), in); err != nil {
		return nil, err
	}
	l.everywhere = d.loop(in, p)
	return l, nil
}

// planned plans a loop as it is; if that plan does not promise that nobody runs dry, with more in
// cans than is carried without a fight. Where nothing helps it is planned as it is.
func (d draft) planned() (plan.Inputs, *plan.Plan, error) {
	line, err := d.line()
	if err != nil {
		return d.in, nil, err
	}
	in := d.in
	in.Line = line
	p, err := plan.Make(context.Background(), in)
	if err != nil {
		return in, nil, err
	}
	if !promises(p) && in.Options.Carry.Most > 0 {
		in, p = carryingMore(in, p)
	}
	if d.shrink && promises(p) {
		in, p = shrunk(in, p)
	}
	return in, p, nil
}

// planAlone plans the loop for the bike alone.
func (l *loop) planAlone(in plan.Inputs) error {
	in.Options.Carry = plan.Carry{}
	p, err := plan.Make(context.Background(), in)
	if err != nil {
		return err
	}
	alone := *l
	alone.name += ", the bike alone"
	alone.plan, alone.sheet, alone.holds, alone.bought = p, read(p, l.road), promises(p), false
	l.alone = &alone
	return nil
}

// carryingMore plans with up to 15 and up to 20 L in cans, if that makes a plan promise.
func carryingMore(in plan.Inputs, p *plan.Plan) (plan.Inputs, *plan.Plan) {
	for _, most := range []fuel.Litres{15, 20} {
		more := in
		more.Options.Carry.Most = most
		if q, err := plan.Make(context.Background(), more); err == nil && promises(q) {
			return more, q
		}
	}
	return in, p
}

// shrunk gives the bike the smallest tank, to within a hundredth of a litre, with which the plan
// still promises that nobody runs dry with the same cans: somewhere on such a loop it is only
// just so.
func shrunk(in plan.Inputs, p *plan.Plan) (plan.Inputs, *plan.Plan) {
	enough, small := in.Bike.Tank, in.Bike.Tank/3
	same := in
	same.Options.Carry = plan.Carry{Cans: p.Cans.Carried}
	for enough-small > 0.01 {
		same.Bike.Tank = (enough + small) / 2
		if q, err := plan.Make(context.Background(), same); err == nil && promises(q) {
			enough, p = same.Bike.Tank, q
			continue
		}
		small = same.Bike.Tank
	}
	in.Bike.Tank = enough
	return in, p
}

// loop is a draft as it is ridden, by a plan made of what was drawn.
func (d draft) loop(in plan.Inputs, p *plan.Plan) *loop {
	by := stretched(d.stretch)
	if d.stretch == 0 {
		by = estimated(in.Line)
	}
	b, o, r := in.Bike, in.Options, newRoad(d.tracks, by, d.in.Grounds)
	l := &loop{
		from: d, planIn: in,
		name: d.name, plan: p, holds: promises(p), bought: p.Bike.Can > b.Can, ownCan: float64(d.in.Bike.Can),
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

// measure works out who takes the high figure all the way, and fills the tank.
func (l *loop) measure() {
	l.startFuel = l.engine.usable
	l.most = l.engine.most(l.road.days)
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
		if l.Verdict == leg.Short || l.Drink.Fuel.High > l.Start+l.Can {
			return false
		}
	}
	for _, v := range p.Visits {
		if v.IfDry != nil && (v.IfDry.Outcome == leg.Stranded || v.IfDry.Bare) {
			return false
		}
	}
	return true
}

// seeds are those of the drawn loops: sixty, and three more on which riders found what is
// left in a can poured already, where a plan had counted it for a dry pump.
func seeds() (all []uint64) {
	for seed := range uint64(drawnLoops) {
		all = append(all, seed)
	}
	return append(all, 113, 143, 149)
}

// loops are the drawn ones and the two examples, filled at every counted stop, made once.
var loops = sync.OnceValues(func() ([]*loop, error) { return makeLoops(plan.FillEverywhere, seeds()) })

// makeLoops makes the drawn loops of some seeds, and the examples.
func makeLoops(at plan.FillAt, seeds []uint64) (all []*loop, err error) {
	for _, seed := range seeds {
		d := drawLoop(seed)
		d.in.Options.FillAt = at
		l, err := d.make()
		if err != nil {
			return nil, fmt.Errorf("loop %d: %w", seed, err)
		}
		all = append(all, l)
	}
	for _, name := range []string{"steppe", "canyon"} {
		l, err := exampleLoop(name, at)
		if err != nil {
			return nil, err
		}
		all = append(all, l)
	}
	return all, nil
}

// both gives the loops whose plan promises that nobody runs dry, and those on which the bike
// alone does not.
func both(t *testing.T) (holding, others []*loop) {
	t.Helper()
	all, err := loops()
	if err != nil {
		t.Fatal(err)
	}
	for _, l := range all {
		if l.holds {
			holding = append(holding, l)
		}
		if !l.alone.holds {
			others = append(others, l.alone)
		}
	}
	return holding, others
}
