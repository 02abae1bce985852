package plan_test

import (
	"slices"
	"testing"

	"lastpump/fuel/plan"
	"lastpump/fuel/stop"

	"pgregory.net/rapid"
)

// worstOf gives the worst leg of a plan: by its verdict, then by what it arrives with
// above its reserve.
func worstOf(p *plan.Plan) plan.Leg {
	order := []plan.Verdict{plan.OK, plan.Tight, plan.Short}
	worst := p.Legs[0]
	for _, l := range p.Legs[1:] {
		a, b := slices.Index(order, l.Verdict), slices.Index(order, worst.Verdict)
		if a > b || a == b && l.Arrive-l.Kept < worst.Arrive-worst.Kept {
			worst = l
		}
	}
	return worst
}

// Each thirst and each stop that turns out to be there is planned again here, through the
// inputs: the worst leg and the cans are the same.
func TestCasesPlannedAgain(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		in := drawRide(t)
		p := make1(t, in)
		for _, c := range p.Cases {
			again := in
			switch c.Kind {
			case plan.CaseThirst:
				again.Options.Thirst = c.Thirst
			case plan.CaseHearsay:
				again.Stops = slices.Clone(in.Stops)
				i := slices.IndexFunc(again.Stops, func(s stop.Stop) bool { return s.Name == c.Stops[0] })
				again.Stops[i].Standing = in.Options.Trust
			default:
				continue
			}
			q := make1(t, again)
			if w := worstOf(q); w.Verdict != c.Verdict || !near(float64(w.Arrive), float64(c.Arrive)) {
				t.Errorf("%+v\nplanned again the worst leg is %s to %s, %s, arrives with %v", c, w.From, w.To, w.Verdict, w.Arrive)
			}
			if q.Can.SizeForPlan != c.Size || q.Can.SizeForDry != c.SizeDry || !near(float64(q.Can.ForPlan), float64(c.Can)) {
				t.Errorf("%+v\nplanned again %+v", c, q.Can)
			}
		}
	})
}

// By hand: pumps at 100, 150 and 180 km of 280; 10 L take 200 km. With B dry, A to C is
// 80 km; with A dry the start to B is 150: 7.5 L, and 2.5 are left. With A and B dry it is
// 180 km: 1 L is left, but the high figure takes 10.395; with B and C dry it is the same to
// the end.
func TestDryPumpsByHand(t *testing.T) {
	p := make1(t, ride(straight(t, 280), pump("A", 100, 0), pump("B", 150, 0), pump("C", 180, 0)))
	type row struct {
		from, to string
		verdict  plan.Verdict
		arrive   float64
		size     float64
	}
	want := map[string]row{
		"A": {"start", "B", plan.OK, 2.5, 0}, "B": {"start", "A", plan.OK, 5, 0}, "C": {"B", "end", plan.OK, 3.5, 0},
		"A and B": {"start", "C", plan.Tight, 1, 1}, "B and C": {"A", "end", plan.Tight, 1, 1},
	}
	seen := 0
	for _, c := range p.Cases {
		if c.Kind != plan.CaseDry && c.Kind != plan.CaseTwoDry {
			continue
		}
		name := c.Stops[0]
		if len(c.Stops) == 2 {
			name += " and " + c.Stops[1]
		}
		w, ok := want[name]
		if !ok || c.From != w.from || c.To != w.to || c.Verdict != w.verdict || !near(float64(c.Arrive), w.arrive) || float64(c.Size.Litres) != w.size {
			t.Errorf("%s: %+v, want %+v", name, c, w)
		}
		seen++
	}
	if seen != len(want) {
		t.Errorf("%d cases, want %d", seen, len(want))
	}
}

// A place that is passed twice is dry both times: out and back over 60 km, and on to 150
// on the other side, with B dry both times there is nothing from A on.
func TestADryPlaceIsDryTwice(t *testing.T) {
	p := make1(t, ride(lineOf(t, 0, 60, 0, -100), pump("B", 30, 0), pump("A", 60, 0)))
	for _, c := range p.Cases {
		if c.Kind == plan.CaseDry && c.Stops[0] == "B" && (c.From != "A" || c.To != "end" || !near(float64(c.Arrive), 10-160*0.05)) {
			t.Errorf("%+v", c)
		}
	}
}

// Riding past a stop that may be skipped, and past one that must be filled at, is planned
// again here.
func TestStopsThatMayBeSkipped(t *testing.T) {
	may, must := 0, 0
	rapid.Check(t, func(t *rapid.T) {
		in := drawRide(t)
		p := make1(t, in)
		for i, v := range p.Visits {
			if v.Need == "" || passings(in, p, v) != 1 || len(v.Also) > 0 {
				continue
			}
			without := in
			without.Options.Skip = append(slices.Clone(in.Options.Skip), v.Stop.Name)
			kept := keeps(p, make1(t, without), i)
			if kept != (v.Need == plan.MaySkip) {
				t.Errorf("%s at km %.1f: %s, but skipping it keeps every verdict: %v", v.Stop.Name, v.At.Kilometres(), v.Need, kept)
			}
			if kept {
				may++
			} else {
				must++
			}
		}
	})
	if may == 0 || must == 0 {
		t.Errorf("%d may be skipped, %d must be filled at: nothing is tested", may, must)
	}
}

// passings counts the visits of a stop; and one of a name that others have is none.
func passings(in plan.Inputs, p *plan.Plan, v plan.Visit) (n int) {
	for _, o := range p.Visits {
		if o.Stop.Name == v.Stop.Name {
			n++
		}
	}
	return n
}

// keeps tells whether nothing of a plan is worse without the visit of a number.
func keeps(p, q *plan.Plan, visit int) bool {
	if len(q.Legs) != len(p.Legs)-1 || q.Can.ForPlan > p.Can.ForPlan+1e-6 || q.Can.ForAnyDryPump > p.Can.ForAnyDryPump+1e-6 {
		return false
	}
	lack := func(l plan.Leg) float64 {
		return float64(max(0, max(l.Drink.Fuel.Likely+l.Kept, l.Drink.Fuel.High)-l.Start))
	}
	order := []plan.Verdict{plan.OK, plan.Tight, plan.Short}
	k := slices.IndexFunc(p.Legs, func(l plan.Leg) bool { return l.ToVisit == visit })
	for i, l := range q.Legs {
		verdict, short, mixture := 0, 0.0, 0
		for j, old := range p.Legs {
			if j == i && i <= k || j == i+1 && i >= k {
				verdict = max(verdict, slices.Index(order, old.Verdict))
				short, mixture = max(short, lack(old)), max(mixture, old.Mixture.Verdict.Rank())
			}
		}
		if slices.Index(order, l.Verdict) > verdict || lack(l) > short+1e-6 || l.Mixture.Verdict.Rank() > mixture {
			return false
		}
	}
	for _, v := range q.Visits {
		for _, old := range p.Visits {
			if old.Stop.Name == v.Stop.Name && old.At == v.At && v.IfDry != nil && old.IfDry != nil && worseDry(*v.IfDry, *old.IfDry) {
				return false
			}
		}
	}
	return true
}

func worseDry(now, was plan.IfDry) bool {
	order := []plan.Outcome{plan.On, plan.Back, plan.Stranded}
	a, b := slices.Index(order, now.Outcome), slices.Index(order, was.Outcome)
	return a > b || now.Bare && !was.Bare || now.Outcome == plan.Stranded && was.Outcome == plan.Stranded && now.Spare < was.Spare-1e-6
}

// Cures are given cheapest first: what costs nothing, a phone call, a can, detours by
// their length, another ride.
func TestCheapestCuresFirst(t *testing.T) {
	in := ride(straight(t, 205), hearsay("said", 100), pump("far", 110, 12), pump("near", 100, 6), pump("start", 0.1, 0))
	var got []plan.Cost
	w := warningOf(t, make1(t, in), plan.KindShort)
	var km []float64
	for _, c := range w.Cures {
		got = append(got, c.Cost)
		if c.Cost == plan.CostDetour {
			km = append(km, c.Detour.Kilometres())
		}
	}
	want := []plan.Cost{plan.CostCall, plan.CostCan, plan.CostDetour, plan.CostDetour}
	if !slices.Equal(got, want) || !slices.IsSorted(km) {
		t.Errorf("%v %v, want %v: %+v", got, km, want, w.Cures)
	}
	// 195 km take 1.155 × 9.75 = 11.26125 L of 10 at the high figure.
	in.Line = straight(t, 195)
	c := warningOf(t, make1(t, in), plan.KindTight).Cures[0]
	if c.Cost != plan.CostNothing {
		t.Errorf("first %+v", c)
	}
	wantNear(t, "rate", c.Rate, 5*10/11.26125)
	// A rate under the low figure, 0.95 × 0.90 of the likely, is not asked of any bike.
	for _, c := range warningOf(t, make1(t, ride(straight(t, 205))), plan.KindShort).Cures {
		if c.HasRate {
			t.Errorf("cure %+v: 205 km at the high figure are 0.845 of what is likely", c)
		}
	}
}

// A stop that is chosen is no detour of the others' making: with --detours auto a line
// without a pump on it is planned over those beside it.
func TestChosenOffTheLine(t *testing.T) {
	in := ride(straight(t, 350), pump("A", 120, 9), pump("B", 240, 9), pump("far", 180, 31))
	in.Options.Detours = plan.DetoursAuto
	p := make1(t, in)
	if p.Choice == nil || p.Choice.Taken != 2 || p.Choice.Candidates != 2 || len(p.NotUsed) != 1 || p.NotUsed[0].Stop != "far" {
		t.Fatalf("%+v, not used %+v", p.Choice, p.NotUsed)
	}
	wantNear(t, "detour", visit(t, p, "A").Detour.Kilometres(), 2*1.3*9)
	for _, l := range p.Legs {
		if l.Verdict != plan.OK {
			t.Errorf("%s to %s: %s", l.From, l.To, l.Verdict)
		}
	}
	// None is needed on a short ride; they are shown, and passed by.
	in = ride(straight(t, 100), pump("on", 50, 0))
	in.Options.Detours = plan.DetoursAuto
	if v := visit(t, make1(t, in), "on"); v.Counted || v.WhyNot != "not needed" {
		t.Errorf("%+v", v)
	}
}

// On the way, where no pump is, nobody has filled the can: past a dry A from km 80 on 3 L
// the bike runs dry 2 L before B, can or no can, and no can sold helps.
func TestADryPumpOnTheWay(t *testing.T) {
	in := changed(ride(straight(t, 300), pump("A", 100, 0), pump("B", 180, 0)), ownCan(5))
	in.Options.From, in.Options.HasFrom = 80000, true
	in.Options.StartFuel, in.Options.HasStartFuel = 3, true
	for _, c := range make1(t, in).Cases {
		if c.Kind == plan.CaseDry && c.Stops[0] == "A" && (c.Verdict != plan.Short || !near(float64(c.Arrive), -2) || !c.Size.TooBig) {
			t.Errorf("%+v", c)
		}
	}
}

// The thirsts are those from a light hand to a head wind in sand, and the one that the ride
// is planned with.
func TestThirstsTried(t *testing.T) {
	of := func(thirst float64) (got []float64) {
		in := ride(straight(t, 100))
		in.Options.Thirst = thirst
		for _, c := range make1(t, in).Cases {
			if c.Kind == plan.CaseThirst {
				got = append(got, c.Thirst)
			}
		}
		return got
	}
	if got := of(1); !slices.Equal(got, []float64{0.9, 1, 1.1, 1.2, 1.3, 1.4, 1.5}) {
		t.Errorf("%v", got)
	}
	if got := of(1.43); !slices.Equal(got, []float64{0.9, 1, 1.1, 1.2, 1.3, 1.4, 1.43, 1.5}) {
		t.Errorf("%v", got)
	}
}

// What no can holds is not chosen for what two cans hold: with half the tank kept, 620 km
// from A to C lack 26 L, and 310 km twice, over B, 10.5 L each, for which 15 L cans are sold.
func TestNoChoiceThatNoCanHolds(t *testing.T) {
	in := changed(ride(straight(t, 800), pump("A", 100, 0), pump("B", 410, 0), pump("C", 720, 0)), keep(0.5))
	in.Options.Detours = plan.DetoursAuto
	p := make1(t, in)
	if v := visit(t, p, "B"); !v.Counted || p.Can.SizeForPlan.Litres != 15 {
		t.Errorf("%+v, %+v", v, p.Can)
	}
}
