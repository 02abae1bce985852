package plan_test

import (
	"context"
	"errors"
	"math"
	"slices"
	"testing"

	"lastpump/fuel"
	"lastpump/fuel/learn"
	"lastpump/fuel/learn/fills"
	"lastpump/fuel/leg"
	"lastpump/fuel/plan"
	"lastpump/fuel/plan/here"
	"lastpump/fuel/stop"
	"lastpump/fuel/trip"
	"lastpump/octane"
	"lastpump/route"
	"lastpump/testdata/kit/drawn"

	"github.com/google/go-cmp/cmp"
)

// A bike that shows 105 where 100 are ridden drinks 5.25 L on 100 km. The last 84
// on its trip meter are 80 km: 60 of line back to the pump, 2 × 1.3 km there and
// back, 10 of paved line and 7.4 of sand (1.8 times).
func TestThirstMeasuredByHand(t *testing.T) {
	in := ride(straight(t, 300), pump("A", 100, 1), pump("B", 200, 0))
	in.Bike.Odometer = 1.05
	in.Bike.Learnt = drawn.Steady(in.Bike)
	in.Grounds.Sections = []route.Section{section(0, 90, route.Sand)}
	in.Options.Reserve = leg.Reserve{Share: 0.2, Distance: 30000}
	in.Options.Thirst = 1.1
	p := make1(t, used(from(in, 160, 6), 7, 84))
	h := p.Here
	expected := (60 + 2.6 + 10 + 7.4*1.8) * 0.0525 * 1.1
	wantNear(t, "expected", h.Likely, expected)
	low, high := drawn.SteadyOn(expected, 7.4*1.8/(72.6+7.4*1.8))
	drawn.WantNear(t, "at the least", h.Low, low)
	drawn.WantNear(t, "at the most", h.High, high)
	wantNear(t, "factor", h.Factor, 7/expected)
	if h.Before != 1.1 || p.Options.Thirst != 1.1 || len(h.Legs) != 2 || p.Bike.Learnt == nil || p.Bike.Learnt.Tanks != in.Bike.Learnt.Tanks+1 {
		t.Fatalf("here %+v", h)
	}
	wantNear(t, "still to ride", p.Loop.Ridden.Kilometres(), 140)
	wantNear(t, "from", p.Legs[0].FromAt.Kilometres(), 160)
	wantNear(t, "to", p.Legs[0].ToAt.Kilometres(), 200)
	if len(p.Visits) != 1 || key(p, p.Legs[0].From) != "start" || p.Start.Nearest != "B" {
		t.Errorf("visits %+v", p.Visits)
	}
	wantThenAndNow(t, p)
}

// A tank of 4.8 L for 4 L on a maker's figure of 5 L/100 km, by the rules of the filter: v = ln 1.2 =
// 0.1823, V = 0.12² = 0.0144, R = 0.0049 + 2 × 0.09 ÷ 4.8² = 0.0127, w = 5 ÷ (4 + 0.0332 ÷ 0.0271) =
// 0.9566, θ = 0.0144 ÷ (0.0144 + R ÷ w) × v = 0.0949.
func TestUsedIsOneTank(t *testing.T) {
	in := from(ride(straight(t, 300), pump("A", 100, 0)), 80, 6)
	in.Bike.Learnt = nil
	p := make1(t, used(in, 4.8, 80))
	v, r := math.Log(1.2), 0.0049+2*0.09/(4.8*4.8)
	w := min(1, 5/(4+v*v/(0.0144+r)))
	theta := 0.0144 / (0.0144 + r/w) * v
	wantNear(t, "thirst", p.Here.Thirst, math.Exp(theta))
	wantNear(t, "the first leg", p.Legs[0].Drink.Fuel.Likely, 20*0.05*math.Exp(theta))
	wantNear(t, "as it was planned", p.Here.Legs[1].Then.Need, 200*0.05)
	if p.Band.Basis != plan.FromLearnt || p.Band.Tanks != 1 {
		t.Errorf("%+v", p.Band)
	}
}

// The tanks of a ride are learnt from one by one, and told as they were planned at home; what is in
// the tank is what the way since the last brim, likely, has left.
func TestFillsOfTheRide(t *testing.T) {
	in := ride(straight(t, 300), pump("A", 60, 0), pump("B", 130, 0), pump("C", 200, 0))
	in.Bike.Learnt = nil
	in.Options.From, in.Options.HasFrom = 150e3, true
	tank := func(from, to route.Metres, litres fuel.Litres) here.Ridden {
		needs := fuel.SureNeeds(map[route.Ground]fuel.Litres{route.Paved: fuel.Litres((to - from) / 1000 * 0.05)}, 0)
		return here.Ridden{Tank: learn.Tank{Needs: needs, Litres: litres}, From: from, To: to, HasSpan: true}
	}
	in.Options.Fills = &here.Fills{Tanks: []here.Ridden{tank(0, 60e3, 3.6), tank(60e3, 130e3, 5.6)}, Levels: brimAt(130e3)}
	p := make1(t, in)
	h := p.Here
	home := learn.New(in.Bike)
	s := home
	for i, r := range in.Options.Fills.Tanks {
		got := h.Tanks[i]
		if want := home.Ahead(r.Needs).Figures; got.Planned != want || got.Real != r.Litres || !got.Told || got.Why != "" || !got.HasEnds {
			t.Errorf("tank %d: %+v, want %+v", i, got, want)
		}
		s, _ = s.Learn(r.Tank)
	}
	// 3.6 L of 3.0 lie inside 31 % and a brim, 5.6 of 3.5 do not.
	if !h.Tanks[0].In() || h.Tanks[1].In() || !h.Tanks[1].Over() || h.Tanks[0].FromEnd.Kind != trip.AtStart || p.Stops[h.Tanks[1].ToEnd.Stop].Name != "B" {
		t.Errorf("%+v", h.Tanks)
	}
	wantNear(t, "factor", h.Factor, 9.2/6.5)
	wantNear(t, "thirst", h.Thirst, math.Exp(s.Theta()))
	wantNear(t, "in the tank", p.Legs[0].Start, 10-20*0.05*math.Exp(s.Theta()))
	in.Options.From = 130e3
	wantNear(t, "where it was filled", make1(t, in).Legs[0].Start, 10)
	in.Options.From = 150e3
	in.Options.HasStartFuel, in.Options.StartFuel = true, 7
	wantNear(t, "as is said", make1(t, in).Legs[0].Start, 7)
	in.Options.Used = &here.Used{Litres: 1, Trip: 20e3}
	wantRefused(t, in, plan.UsedAndFills)
	in.Options.Used, in.Options.HasFrom = nil, false
	wantRefused(t, in, plan.FillsNotWhere)
	in.Options.HasFrom = true
	l := home.Keep(in.Bike, fuel.LastFill{})
	l.Tanks, in.Bike.Learnt, in.Bike.Consumption = 1, &l, 6
	var changed *learn.ChangedError
	if _, err := plan.Make(context.Background(), in); !errors.As(err, &changed) {
		t.Errorf("learnt with another consumption: %v", err)
	}
}

func brimAt(at route.Metres) []fills.Level {
	return []fills.Level{{Event: fills.Full, At: at, HasAt: true, Litres: 10, Known: true}}
}

// What is in the tank is told by the last row that says so, with what went in since and without what
// the way takes: 5 L for 100 km.
func TestTankByTheFills(t *testing.T) {
	row := func(e fills.Event, at route.Metres, l fuel.Litres) fills.Level {
		return fills.Level{Event: e, At: at, HasAt: true, Litres: l, Known: true}
	}
	unknown := func(e fills.Event, at route.Metres) fills.Level { return fills.Level{Event: e, At: at, HasAt: true} }
	for name, c := range map[string]struct {
		rows []fills.Level
		want fuel.Litres // negative: the rider has to say
	}{
		"a brim":                     {nil, 10 - 4.5},
		"a part-fill":                {[]fills.Level{row(fills.Part, 100e3, 3)}, 10 - 4.5 + 3},
		"no more than the tank":      {[]fills.Level{row(fills.Part, 100e3, 9)}, 10},
		"dry, and 2 L poured in":     {[]fills.Level{row(fills.Dry, 120e3, 2)}, 2 - 1.5},
		"dry, poured, and part":      {[]fills.Level{row(fills.Dry, 120e3, 2), row(fills.Part, 130e3, 3)}, 2 - 1.5 + 3},
		"the lamp":                   {[]fills.Level{row(fills.Lamp, 130e3, 2.5)}, 2.5 - 1},
		"less than nothing":          {[]fills.Level{row(fills.Reserve, 110e3, 1)}, 0},
		"full again":                 {[]fills.Level{unknown(fills.Missed, 80e3), brimAt(140e3)[0]}, 10 - .5},
		"dry, nobody says what then": {[]fills.Level{unknown(fills.Dry, 120e3)}, -1},
		"a fill that is missing":     {[]fills.Level{unknown(fills.Missed, 120e3)}, -1},
		"a part of nobody knows":     {[]fills.Level{unknown(fills.Part, 120e3)}, -1},
		"a brim of no place":         {[]fills.Level{{Event: fills.Full, Litres: 10, Known: true}}, -1},
		"a fill ahead":               {[]fills.Level{brimAt(180e3)[0]}, -1},
	} {
		in := ride(straight(t, 300), pump("A", 60, 0), pump("C", 200, 0))
		in.Options.From, in.Options.HasFrom = 150e3, true
		in.Options.Fills = &here.Fills{Levels: append(brimAt(60e3), c.rows...)}
		if c.want < 0 {
			wantRefused(t, in, plan.TankNotSaid)
			in.Options.HasStartFuel, in.Options.StartFuel = true, 7
			if h := make1(t, in).Here; h.Tank != nil || h.HasBeyond != (name == "a fill ahead") {
				t.Errorf("%s: %+v", name, h)
			}
			continue
		}
		p := make1(t, in)
		wantNear(t, name, p.Legs[0].Start, float64(c.want))
		if tank := p.Here.Tank; tank == nil || tank.Left != p.Legs[0].Start || !(tank.Least < tank.Left || c.want == 0 || c.want == 10) {
			t.Errorf("%s: %+v", name, tank)
		}
	}
}

// However little is said to have been used, it is asked whether the tank was filled to the brim where
// that is under the low figure: 80 km take 4 L at 5 L/100 km, and at the least 1.155 times less, 3.463.
func TestUnderTheLowFigureIsAsked(t *testing.T) {
	for litres, asks := range map[fuel.Litres]bool{3.46: true, 3.47: false, 4: false} {
		in := from(ride(straight(t, 300), pump("A", 100, 0)), 80, 6)
		p := make1(t, used(in, litres, 80))
		asked := slices.ContainsFunc(p.Warnings, func(w plan.Warning) bool {
			_, is := w.Fact.(plan.UsedUnderLow)
			return is
		})
		if asked != asks {
			t.Errorf("%v L: asked whether it was filled to the brim: %v", litres, asked)
		}
	}
}

// wantThenAndNow does the sums of the two legs still to ride.
func wantThenAndNow(t *testing.T, p *plan.Plan) {
	t.Helper()
	h := p.Here
	rate := 0.0525 * h.Thirst // for a kilometre ridden
	then := 0.0525 * 1.1
	for i, want := range []struct{ then, arrived, now, arrive, allowed, dry float64 }{
		// 40 km on 6 L: with 2 L left of the share, or 30 km of the 70 at the same rate.
		{102.6 - 1.3, 10, 40, 6, 6.0 / 70, 6.0 / 40},
		{100, 10, 100, 10, 10.0 / 130, 10.0 / 100},
	} {
		l, now := h.Legs[i], p.Legs[i]
		wantNear(t, "then takes", l.Then.Need, want.then*then)
		wantNear(t, "then arrives", l.Then.Arrive, want.arrived-want.then*then)
		wantNear(t, "now takes", now.Drink.Fuel.Likely, want.now*rate)
		wantNear(t, "now arrives", now.Arrive, want.arrive-want.now*rate)
		wantNear(t, "allowed", l.Allowed, min(want.allowed, (want.arrive-2)/want.now)*100/1.05)
		wantNear(t, "allowed to arrive at all", l.AllowedDry, want.dry*100/1.05)
		if !l.HasThen || !l.HasAllowed || !l.HasAllowedDry {
			t.Errorf("leg %d: %+v", i, l)
		}
	}
}

// The cures of a leg of the rest are those of the same leg of the whole.
func TestCuresOfTheRest(t *testing.T) {
	said := pump("said", 300, 0)
	said.Standing = stop.Hearsay
	in := ride(straight(t, 500), pump("behind", 60, 12), pump("A", 150, 0), said, pump("B", 360, 0), pump("beside", 260,
		12))
	short := func() plan.Warning {
		p := make1(t, in)
		w := warningOf(t, p, plan.KindShort)
		for i := range w.Cures { // legs are numbered from where the plan begins
			c := &w.Cures[i]
			c.Leg, c.Use.Leg, c.Use.FillAt.Kind, c.Use.Filled.Kind = 0, 0, trip.AtStop, trip.AtStop
		}
		return w
	}
	whole := short()
	in.Options.FromStop = "A"
	rest := short()
	if diff := cmp.Diff(whole.Cures, rest.Cures); diff != "" || len(rest.Cures) < 3 {
		t.Errorf("%d cures, %s", len(rest.Cures), diff)
	}
	if rest.Leg != 0 || whole.Leg != 1 {
		t.Errorf("leg %d, in the whole %d", rest.Leg, whole.Leg)
	}
}

// passing stands at the passing of a stop nearest to a kilometre.
func passing(in plan.Inputs, name string, km float64) plan.Inputs {
	in.Options.FromStop, in.Options.From, in.Options.HasFrom = name, route.Kilometres(km), true
	return in
}

// A stop 1 km off a line of 100 km there and 100 back is passed at km 50 and 150. Wherever the rider says
// within 5 km of one, he stands at the stop: full, with 1.3 km back to the line, and at the first with 1.3 km more to the stop when it
// is passed again.
func TestFromOneOfTwoPassings(t *testing.T) {
	out := ride(lineOf(t, 0, 100, 0), pump("twice", 50, 1))
	for said, at := range map[float64]float64{50: 50, 45.1: 50, 54.9: 50, 145.1: 150, 150: 150, 154.9: 150} {
		p := make1(t, passing(out, "TWICE", said))
		wantNear(t, "stands at", p.Here.At.Kilometres(), at)
		wantNear(t, "its detour", p.Legs[0].Detour, map[float64]float64{50: 2.6, 150: 1.3}[at]*0.05)
		if p.Here.Stop != 0 || p.Visits[0].Stop.Name != "twice" {
			t.Errorf("said %v: at stop %d", said, p.Here.Stop)
		}
	}
	if r := wantRefused(t, passing(out, "twice", 100), plan.FromPassedElsewhere); len(r.Passed) != 2 || r.Limit != 5000 {
		t.Errorf("%+v", r)
	}
}

// Of stops of one name the kilometre says which, and of chosen ones off the line, too.
func TestFromOneOfOneName(t *testing.T) {
	in := ride(straight(t, 300), pump("shop", 100, 0), pump("shop", 200, 0))
	if p := make1(t, passing(in, "shop", 198)); p.Here.Stop != 1 {
		t.Errorf("%+v", p.Here)
	}
	in = ride(straight(t, 300), pump("on", 20, 0), pump("shop", 100, 6), pump("shop", 200, 6))
	in.Options.FillAt, in.Options.Detours = plan.FillChosen, trip.Reach
	if p := make1(t, passing(in, "shop", 198)); p.Here.Stop != 2 {
		t.Errorf("%+v", p.Here)
	}
}

// At a stop off the line the rider has ridden half its detour to it, and has the
// other half before him.
func TestRestFromAStop(t *testing.T) {
	in := ride(straight(t, 290), pump("Aral", 100, 1), pump("B", 200, 0))
	in.Options.FromStop = "aral"
	in.Options.StartFuel, in.Options.HasStartFuel = 4, true
	p := make1(t, used(in, 101.3*0.05, 101.3))
	wantNear(t, "factor", p.Here.Factor, 1)
	wantNear(t, "fill", p.Visits[0].Fill.Litres, 6)
	wantNear(t, "first leg", p.Legs[0].Drink.Ridden.Kilometres(), 101.3)
	wantNear(t, "its detour", p.Legs[0].Detour, 1.3*0.05)
	wantNear(t, "starts with", p.Legs[0].Start, 10)
	wantNear(t, "from", p.Legs[0].FromAt.Kilometres(), 100)
	dry := visit(t, p, "B").IfDry // 10 - 5.065 L left, 4.5 L to the end
	if dry.Outcome != leg.On || key(p, dry.To) != "end" {
		t.Errorf("%+v", dry)
	}
	wantNear(t, "spare", dry.Spare, 10-101.3*0.05-4.5)
	if p.Legs[0].From.Stop != p.Here.Stop || in.Stops[p.Here.Stop].Name != "Aral" || p.Visits[0].IfDry != nil {
		t.Errorf("from %q, here %+v", p.Legs[0].From.Key(p.Stops), p.Here)
	}
	// Full if nothing is said, and no farther back than the start.
	in.Options.HasStartFuel = false
	wantNear(t, "fill", make1(t, in).Visits[0].Fill.Litres, 0)
	wantRefused(t, used(in, 5, 111.44), plan.UsedOverMore)
}

// Trip meters and tracks differ: up to a tenth over the 80 km behind is all of the way, as many times as long,
// just as a row of the fills of the ride has it: 80 km, of them 10 of sand (1.8 times), and 300 m of climb in
// them, that a longer trip does not make higher.
func TestATripOverWhatLiesBehind(t *testing.T) {
	hill := rising(300, func(km float64) float64 { return 300 * min(km/40, 1) })
	in := from(ride(lineThrough(t, hill), pump("A", 100, 0)), 80, 6)
	in.Grounds.Sections = []route.Section{section(10, 20, route.Sand)}
	for _, times := range []float64{1, 1.001, 1.1} {
		p := make1(t, used(in, 5, 80*times))
		wantNear(t, "expected", p.Here.Likely, (70+18)*0.05*times+300*climbL)
		if !(p.Here.Low < p.Here.Likely && p.Here.Likely < p.Here.High) {
			t.Errorf("%v times: %+v", times, p.Here)
		}
		course := fuel.NewCourse(in.Line.Runs(in.Grounds), in.Bike, 1)
		row, _ := course.Needs(0, 80e3)
		of := in
		of.Options.Fills = &here.Fills{Tanks: []here.Ridden{{Tank: learn.Tank{Needs: row.Measured(times), Litres: 5}}}}
		wantNear(t, "the thirst of a row of fills", make1(t, of).Here.Thirst, p.Here.Thirst)
	}
	r := wantRefused(t, used(in, 5, 88.01), plan.UsedOverMore)
	wantNear(t, "behind", r.Shown.Kilometres(), 80)
}

// Where no pump is, one goes back to here only, and is told so.
func TestBackToHere(t *testing.T) {
	in := from(ride(straight(t, 300), pump("behind", 20, 0), pump("B", 150, 0)), 100, 6)
	in.Bike.Can = 5
	p := make1(t, in)
	dry := visit(t, p, "B").IfDry // 3.5 L left, 7.5 L on, 2.5 L back
	if dry.Outcome != leg.Back || key(p, dry.To) != "start" {
		t.Fatalf("%+v", dry)
	}
	wantNear(t, "spare", dry.Spare, 1)
	if p.Answer.NoPump != 1 {
		t.Errorf("answer %+v", p.Answer)
	}
	if !slices.ContainsFunc(p.Warnings, func(w plan.Warning) bool {
		return w.Fact == plan.Fact(plan.BackToNoPump{})
	}) {
		t.Errorf("warnings %+v", p.Warnings)
	}
	if p.Totals.Grades[0].Litres > 10 || len(p.Visits) != 1 || len(p.NotUsed) != 0 {
		t.Errorf("what lies behind is in the plan: %+v %+v %+v", p.Totals, p.Visits, p.NotUsed)
	}
	p = make1(t, from(ride(straight(t, 300), pump("behind", 20, 0)), 100, 10))
	if p.Answer.Places != 0 || len(p.Visits) != 0 {
		t.Errorf("answer %+v", p.Answer)
	}
}

// Nobody fills a tank or a can where no pump is.
func TestNoCureFromNoPump(t *testing.T) {
	in := from(ride(straight(t, 300), pump("B", 150, 0)), 100, 2)
	in.Bike.Can = 3
	p := make1(t, in)
	if l := p.Legs[0]; l.Verdict != leg.Short || l.Can != 0 {
		t.Fatalf("leg %+v", l)
	}
	for _, c := range warningOf(t, p, plan.KindShort).Cures {
		t.Errorf("cure %+v", c)
	}
	if !p.Answer.NoCan || p.Can.ForPlan != 0 {
		t.Errorf("answer %+v, can %+v", p.Answer, p.Can)
	}
	if l := make1(t, from(in, 0, 2)).Legs[0]; l.Can != 3 { // at the start of the ride there is a pump somewhere
		t.Errorf("from the start %+v", l)
	}
}

// A place within 500 m of here and at most 300 m off is here.
func TestAPumpWithin500mIsHere(t *testing.T) {
	in := ride(straight(t, 300), pump("A", 100, 0.1), pump("B", 200, 0))
	for _, c := range []struct {
		km   float64
		here bool
	}{{99.4, false}, {99.6, true}, {100, true}, {100.4, true}, {100.6, false}} {
		in := from(in, c.km, 4)
		if p := make1(t, in); (p.Legs[0].FromVisit == 0) != c.here || (p.Legs[0].Start == 10) != c.here ||
			(p.Here.Stop == 0) != c.here {
			t.Errorf("from km %v: %+v", c.km, p.Legs[0])
		}
		in.Options.HasStartFuel, in.Options.StartFuel = false, 0
		if c.here {
			make1(t, in)
		} else {
			wantRefused(t, in, plan.TankNotSaid)
		}
	}
	off := from(ride(straight(t, 300), pump("off", 100, 1)), 100.2, 4) // passed, and not by the line
	if p := make1(t, off); len(p.Visits) != 0 || len(p.Legs) != 1 {
		t.Errorf("from beyond a pump off the line: %+v", p.Visits)
	}
	in.Options.HasFrom = true // from 0 is the start
	if p := make1(t, in); p.Legs[0].Start != 10 || len(p.Legs) != 3 || p.Here.At != 0 {
		t.Errorf("from km 0: %+v", p.Legs)
	}
}

// Half a place may lie behind: the rest of it is ahead all the same.
func TestAPlaceHalfBehind(t *testing.T) {
	in := ride(straight(t, 300), pump("best", 100, 0), pump("other", 102, 1, octane.FromRON(92)))
	if p := make1(t, in); len(p.Visits) != 1 || p.Visits[0].Stop.Name != "best" {
		t.Fatalf("visits %+v", p.Visits)
	}
	p := make1(t, from(in, 101, 4))
	if len(p.Visits) != 1 || key(p, p.Legs[0].To) != "other" || len(p.Visits[0].Also) != 0 || p.Here.Legs[0].HasThen {
		t.Errorf("from between them: %+v, %+v", p.Visits, p.Here.Legs)
	}
	in.Options.FromStop = "other"
	p = make1(t, in)
	if len(p.Legs) != 1 || p.Visits[0].Stop.Name != "other" {
		t.Errorf("from the other: %+v", p.Visits)
	}
	wantNear(t, "from the other", p.Legs[0].Drink.Ridden.Kilometres(), 199.3)
	// He stands where he stands, though the best of the place is still ahead.
	in = ride(straight(t, 300), pump("poor", 100, 0, octane.FromRON(80)), pump("best", 102, 0))
	in.Options.FromStop = "poor"
	p = make1(t, in)
	if len(p.Legs) != 1 || p.Visits[0].Stop.Name != "poor" || !slices.Equal(p.Visits[0].Also, []string{"best"}) ||
		p.Legs[0].FromVisit != 0 {
		t.Errorf("from the poor one: %+v", p.Visits)
	}
}

// What stops are one place does not change when it lies behind. Out, A and B are one
// (2.9 km), back C and B are (0.3 km), and A lies 3.2 km behind C: all three are dry
// together, and one has to ride on to the end.
func TestAPlaceBehindStaysOne(t *testing.T) {
	in := ride(lineOf(t, 0, 100, 0), pump("A", 50, 0), pump("B", 52.9, 0), pump("C", 53.2, 0))
	p := make1(t, from(in, 100, 10))
	dry := p.Visits[0].IfDry
	if dry.Outcome != leg.On || key(p, dry.To) != "end" {
		t.Errorf("%+v", dry)
	}
	wantNear(t, "spare", dry.Spare, 5)
}

// What lies behind is not warned of, and does not thin out what lies ahead.
func TestWarningsAreOfTheRest(t *testing.T) {
	points := rising(100, func(km float64) float64 { return max(0, km-90) * 300 })
	in := ride(lineThrough(t, points[:11], points[15:]))
	gap := func(p *plan.Plan) bool { return slices.Contains(kinds(p), plan.KindGap) }
	steep := func(p *plan.Plan) bool { return slices.Contains(kinds(p), plan.KindUnknownClimb) }
	if p := make1(t, in); !gap(p) || steep(p) { // 3000 m over 100 km
		t.Errorf("whole: %v", kinds(p))
	}
	if p := make1(t, from(in, 12, 10)); !gap(p) {
		t.Errorf("in the gap: %v", kinds(p))
	}
	if p := make1(t, from(in, 85, 10)); gap(p) || !steep(p) { // over 15 km
		t.Errorf("rest: %v", kinds(p))
	}
}

// The plan that is compared with set out full: what is in the tank here is no figure
// of its start.
func TestThenSetOutFull(t *testing.T) {
	p := make1(t, from(ride(straight(t, 300), pump("B", 150, 0)), 50, 6))
	wantNear(t, "then arrives", p.Here.Legs[0].Then.Arrive, 10-7.5)
	wantNear(t, "now arrives", p.Legs[0].Arrive, 6-5)
}

// At a stop that is not counted there is no fill, but still the way back to the line.
func TestFromAStopThatIsNotCounted(t *testing.T) {
	said := pump("said", 100, 1)
	said.Standing = stop.Hearsay
	in := ride(straight(t, 300), said, pump("B", 200, 0))
	in.Options.FromStop = "said"
	wantRefused(t, in, plan.TankNotSaid)
	in.Options.StartFuel, in.Options.HasStartFuel = 7, true
	p := make1(t, in)
	wantNear(t, "starts with", p.Legs[0].Start, 7)
	wantNear(t, "ridden", p.Legs[0].Drink.Ridden.Kilometres(), 101.3)
	if l := p.Legs[0]; l.From.HasStop() || !p.Start.OnTheWay || l.FromVisit != -1 {
		t.Errorf("from %+v", l.From)
	}
}

// What the whole plan has put in the tank is in it on the way: 100 km leave 5 L of 95 and
// 0.5 that stay, filled up with 5 L of 80: 87.857.
func TestGradeFromHere(t *testing.T) {
	in := ride(straight(t, 300), pump("low", 100, 0, ron(80)), pump("good", 180, 0), pump("next", 250, 0))
	in.Options.FromStop = "good"
	in.Options.StartFuel, in.Options.HasStartFuel = 6, true
	const planned = (5.5*95 + 5*80) / 10.5
	p := make1(t, in)
	wantNear(t, "at the stop", p.Start.Mixture.Low, planned)
	wantNear(t, "after the fill", visit(t, p, "good").Mixture.Low, (6.5*planned+4*95)/10.5)
	in.Options.FromStop = ""
	in.Options.From, in.Options.HasFrom = 150000, true
	wantNear(t, "on the way", make1(t, in).Legs[0].Mixture.Low, planned)
	in.Options.From = 100300 // at low, which he has just passed: its petrol is not in the tank yet
	wantNear(t, "just past a stop", make1(t, in).Start.Mixture.Low, 95)
	in.Options.From = 150000
	in.Options.StartGrade = ron(92)
	if p := make1(t, in); p.Start.Mixture != nil || p.Legs[0].Mixture.Low != 92 {
		t.Errorf("said to be of 92: %+v, %+v", p.Start, p.Legs[0].Mixture)
	}
}

// Petrol that is still in the can is not in the tank. The first leg takes 9.5 of the 15 L of
// 95 with the can, so 6 are in the tank under 4.5 of 80; a litre of 98 is filled up at A. 20
// of 250 km behind it the can is full of 98, which counts for nothing yet.
func TestGradeFromHereWithACan(t *testing.T) {
	in := changed(ride(straight(t, 480), pump("low", 190, 0, ron(80)), pump("A", 210, 0, ron(98)), pump("B", 460, 0)),
		ownCan(5))
	in.Options.From, in.Options.HasFrom = 230000, true
	in.Options.StartFuel, in.Options.HasStartFuel = 9, true
	wantNear(t, "in the tank", make1(t, in).Start.Mixture.Low, (9.5*(6*95+4.5*80)/10.5+98)/10.5)
}

// A group whose stops are chosen has in its tanks what the first bike has alone.
func TestGradeFromHereInAGroup(t *testing.T) {
	in := ride(straight(t, 400), pump("low", 120, 0, ron(80)), pump("good", 200, 0), pump("next", 320, 0))
	in.Options.FillAt, in.Options.Detours, in.Options.FromStop = plan.FillChosen, trip.Reach, "good"
	in.Options.StartFuel, in.Options.HasStartFuel = 5, true
	alone := make1(t, in)
	big := in.Bike
	big.Tank = 30
	p, err := plan.MakeGroup(context.Background(), in, []fuel.Bike{in.Bike, big})
	if err != nil {
		t.Fatal(err)
	}
	wantNear(t, "in the tank", p.Start.Mixture.Low, alone.Start.Mixture.Low)
	if alone.Start.Mixture.Low > 90 {
		t.Errorf("%+v: the low pump was filled at", alone.Start)
	}
}
