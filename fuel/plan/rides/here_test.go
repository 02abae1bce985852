package rides_test

import (
	"context"
	"math/rand/v2"
	"testing"

	"lastpump/fuel"
	"lastpump/fuel/plan"
	"lastpump/route"
	"lastpump/testdata/kit"
)

// fromHere plans the rest of a loop from a place on the way without a pump, with what is said
// to be in the can, and the least in the tank, to within 0.05 L, with which it promises that
// nobody runs dry; nil where it never does.
func (l *loop) fromHere(d draft, at route.Metres, canNow fuel.Litres) (*loop, error) {
	line, err := d.line()
	if err != nil {
		return nil, err
	}
	in := d.in
	in.Line, in.Bike = line, l.plan.Bike
	o := &in.Options
	o.Carry = plan.Carry{Cans: l.plan.Cans.Carried}
	o.From, o.HasFrom, o.CanNow, o.SinceFill, o.HasStartFuel = at, true, canNow, 0, true
	var held *plan.Plan
	for enough, small := in.Bike.Usable(), fuel.Litres(0); enough-small > 0.05; {
		o.StartFuel = (enough + small) / 2
		if p, err := plan.Make(context.Background(), in); err == nil && promises(p) {
			held, enough = p, o.StartFuel
			continue
		}
		small = o.StartFuel
	}
	if held == nil {
		return nil, nil
	}
	in.Options.StartFuel = held.Options.StartFuel
	return d.loop(in, held), nil
}

// Nobody runs dry on the rest of a ride either, whose can holds what he says and no more until
// he comes to a pump.
func TestNobodyRunsDryFromSomewhereOnTheWay(t *testing.T) {
	holding, _ := both(t)
	drawn := map[string]draft{}
	for _, seed := range seeds() {
		d := drawLoop(seed)
		drawn[d.name] = d
	}
	rnd := rand.New(rand.NewPCG(9, 1))
	rests, leaning := 0, 0
	for i, l := range holding {
		d, ok := drawn[l.name]
		if !ok || !kit.Long() && i%4 > 0 { // an example
			continue
		}
		for range 2 {
			at := route.Metres((0.05 + 0.6*rnd.Float64()) * l.road.length())
			canNow := l.plan.Bike.Can * fuel.Litres(rnd.Float64())
			rest, err := l.fromHere(d, at, canNow)
			if err != nil {
				t.Fatal(err)
			}
			if rest == nil || rest.sheet.stops[0].pump {
				continue
			}
			rests++
			if canNow > 0 {
				leaning++
			}
			for range kit.Share(100, 3) {
				f := rest.draw(rnd)
				r := rest.set(f, rest.sheet)
				if end := r.bySheet(); end == ranDry || r.setOuts[0].can > float64(canNow)+thimble {
					t.Errorf("%.2f L in the can at the start of %.2f: %v", r.setOuts[0].can, canNow, ridden{rest, f, r, end})
				}
			}
		}
	}
	if rests < 10 || leaning < 5 {
		t.Errorf("only %d rides from here, %d with something in the can", rests, leaning)
	}
	t.Logf("%d rides from here, %d with something in the can", rests, leaning)
}
