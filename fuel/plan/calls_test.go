package plan_test

import (
	"context"
	"math"
	"slices"
	"testing"
	"time"

	"lastpump/fuel"
	"lastpump/fuel/leg"
	"lastpump/fuel/plan"
	"lastpump/fuel/plan/call"
	"lastpump/fuel/stop"
	"lastpump/fuel/trip"
	"lastpump/octane"
	"lastpump/testdata/kit"

	"lastpump/testdata/kit/drawn"

	"pgregory.net/rapid"
)

func callsOf(t rapid.TB, p *plan.Plan) []call.Call {
	t.Helper()
	if err := plan.Calls(context.Background(), p); err != nil {
		t.Fatal(err)
	}
	return p.Calls
}

// changesOf gives what an answer to a call changes.
func changesOf(t rapid.TB, c call.Call, answer string) call.Changes {
	t.Helper()
	for _, i := range c.If {
		if i.Answer.String() == answer {
			return i.Changes
		}
	}
	t.Fatalf("no answer %q: %+v", answer, c.If)
	return call.Changes{}
}

func wantChanges(t rapid.TB, what string, got, want call.Changes) {
	t.Helper()
	if got.Stranded != want.Stranded || got.Bare != want.Bare || got.NotOK != want.NotOK ||
		math.Abs(float64(got.Short-want.Short)) > 2e-6 || math.Abs(float64(got.Can-want.Can)) > 1e-9 ||
		math.Abs(float64(got.Octane-want.Octane)) > 1e-4 || math.Abs(float64(got.Ridden-want.Ridden)) > 0.1 {
		t.Errorf("%s: %+v, want %+v", what, got, want)
	}
}

// By hand: 10 L take 200 km, 173 at the high figure. From A over the mine to B it is twice
// 120 km: if the mine is dry 240 km take 12 L, 2 more than there are; of the mine and B one strands
// either way. Without C, 60 km from the start, A is reached with 3.5 L of the 6 to the mine and the
// 6.5 to the start, and strands; with C it is 70 km back. Of D, 40 km beyond B, only the grade
// matters: 2 L of 80 into 8.5 L of 95 make 92.143 RON, on which 0.5 L are ridden to E, and half a
// litre of 95 there 92.279, for 1.5 L to the end. E is sure.
func TestWhomToCallFirst(t *testing.T) {
	onMap := func(name string, km float64) stop.Stop { return standing(pump(name, km, 0), stop.Map) }
	a, c := pump("A", 130, 0), onMap("C", 60)
	a.Phone = "+999 555 0101"
	c.Phone = "+999 555 0102"
	p := make1(t, ride(straight(t, 450), c, a, onMap("mine", 256), pump("B", 370, 0), onMap("D", 410), pump("E", 420, 0)))
	calls := callsOf(t, p)
	var names []string
	for _, c := range calls {
		names = append(names, p.Stops[c.Stop].Name)
	}
	if !slices.Equal(names, []string{"mine", "C", "D"}) || p.NotCalled != 0 {
		t.Fatalf("%+v", calls)
	}
	mine := calls[0]
	if v := p.Visits[mine.Visit]; v.Stop.Name != "mine" || mine.AskAt < 0 || p.Visits[mine.AskAt].Stop.Name != "A" {
		t.Errorf("visit %d, ask at %d", mine.Visit, mine.AskAt)
	}
	if mine.Ask != call.ForGrade || mine.Grade != ron(95) || !mine.Decided || calls[1].AskAt != -1 {
		t.Errorf("%+v", calls)
	}
	wantChanges(t, "mine, sells", changesOf(t, mine, "sells"), call.Changes{})
	wantChanges(t, "mine, dry", changesOf(t, mine, "dry"), call.Changes{NotOK: 1, Short: 2})
	wantChanges(t, "C, dry", changesOf(t, calls[1], "dry"), call.Changes{Stranded: 1})
	low := (8.5*95 + 2*80) / 10.5
	missing := 0.5*(95-low) + 1.5*(95-(10*low+0.5*95)/10.5)
	wantChanges(t, "D, no 95", changesOf(t, calls[2], "no 95 RON"), call.Changes{Octane: fuel.Litres(missing)})
	wantChanges(t, "D, dry", changesOf(t, calls[2], "dry"), call.Changes{})
}

// By hand: from A to B it is 190 km, 10.97 L at the high figure, and if B is dry 215 km to the
// end, 12.97 L at the most: a can of 3 L. Where H, 80 km from A, sells, it is 80 and 110 km, and from each of
// the dry pumps another is in reach: no can. If H sells but not 95, 4 L of 80 (not known) go into
// 6.5 of 95, and 5.5 L are ridden on 89.286 RON; then 5.5 L of 95 go into 5, and 1.25 L are ridden
// on 92.279 RON. What a place of no number sells is asked of the last sure one before it.
func TestHearsayThatSavesACan(t *testing.T) {
	in := ride(straight(t, 275), pump("A", 60, 0), hearsay("H", 140, ron(95)), pump("B", 250, 0))
	in.Options.Carry = plan.Carry{Most: 10}
	p := make1(t, in)
	wantNear(t, "in cans without a call", p.Cans.Carried.Total(), 3)
	calls := callsOf(t, p)
	if len(calls) != 1 || p.Stops[calls[0].Stop].Name != "H" || calls[0].AskAt != -1 {
		t.Fatalf("%+v", calls)
	}
	low := (6.5*95 + 4*80) / 10.5
	missing := 5.5*(95-low) + 1.25*(95-(5*low+5.5*95)/10.5)
	wantChanges(t, "sells", changesOf(t, calls[0], "sells"), call.Changes{Can: -3})
	wantChanges(t, "no 95", changesOf(t, calls[0], "no 95 RON"), call.Changes{Can: -3, Octane: fuel.Litres(missing)})
	wantChanges(t, "dry", changesOf(t, calls[0], "dry"), call.Changes{})
}

// By hand: A at 110 km is filled at, and R, which sells 80, is ridden past. If A is dry 4.5 L are
// left: 1.5 take the rider on to R, 5.5 would take him back and 7.5 to the end. So it is R that is
// called, where nothing is filled.
func TestCallingARescue(t *testing.T) {
	in := ride(straight(t, 260), pump("A", 110, 0), standing(pump("R", 140, 0, ron(80)), stop.Map))
	in.Options.FillAt, in.Options.Detours = plan.FillChosen, trip.Reach
	p := make1(t, in)
	calls := callsOf(t, p)
	if len(calls) != 1 || p.Stops[calls[0].Stop].Name != "R" || p.Visits[calls[0].Visit].Fill != nil {
		t.Fatalf("%+v", calls)
	}
	wantChanges(t, "dry", changesOf(t, calls[0], "dry"), call.Changes{Stranded: 1})
}

// Of a stop whose grade nobody knows it is asked, even if it has been seen: then it is not dry.
func TestGradeToAskFor(t *testing.T) {
	unknown := changedStop(pump("U", 100, 0), func(s *stop.Stop) { s.Grades = nil })
	low := standing(pump("L", 200, 0, ron(80), ron(92)), stop.Map)
	p := make1(t, ride(straight(t, 300), unknown, low))
	calls := callsOf(t, p)
	byName := map[string]call.Call{}
	for _, c := range calls {
		byName[p.Stops[c.Stop].Name] = c
	}
	texts := func(c call.Call) (out []string) {
		for _, i := range c.If {
			out = append(out, i.Answer.String())
		}
		return out
	}
	if c := byName["U"]; c.Ask != call.ForGrade || !slices.Equal(texts(c), []string{"sells 95 RON", "no 95 RON"}) {
		t.Errorf("%+v", c)
	}
	if c := byName["L"]; c.Ask != call.Whether || !slices.Equal(texts(c), []string{"sells", "dry"}) {
		t.Errorf("%+v", c)
	}
}

// Nobody is called who is sure, sells nothing, is skipped, or where the rider stands.
func TestWhomNotToCall(t *testing.T) {
	diesel := standing(changedStop(pump("D", 120, 0), func(s *stop.Stop) { s.Grades, s.Other = nil, []string{"diesel"} }), stop.Map)
	skipped := standing(pump("S", 130, 0), stop.Map)
	here := standing(pump("here", 10, 0), stop.Map)
	in := ride(straight(t, 300), here, pump("A", 110, 0), diesel, skipped, pump("B", 200, 0))
	in.Options.Skip, in.Options.FromStop = []string{"S"}, "here"
	if calls := callsOf(t, make1(t, in)); len(calls) != 0 {
		t.Errorf("%+v", calls)
	}
}

// answeredAs gives the inputs with an answer, as a rider writes it.
func answeredAs(t rapid.TB, in plan.Inputs, told string) plan.Inputs {
	t.Helper()
	name, a, err := stop.ParseTold(told, "")
	if err == nil {
		err = in.Answer(name, a)
	}
	if err != nil {
		t.Fatal(err)
	}
	return in
}

// A tally is what the list of calls tells of a plan, added up here.
type tally call.Changes

func allOf(p *plan.Plan) (c tally) {
	for _, l := range p.Legs {
		if l.Verdict != leg.OK {
			c.NotOK++
		}
		c.Short += l.Short
		c.Octane += l.Drink.Fuel.Likely * fuel.Litres(max(0, p.Bike.Needs.Number-l.Mixture.Low))
		c.Ridden += l.Drink.Ridden
	}
	c.Stranded, c.Bare = p.IfAnyDry()
	c.Can = p.Cans.Carried.Total()
	return c
}

func (c tally) minus(o tally) call.Changes {
	return call.Changes{Stranded: c.Stranded - o.Stranded, Bare: c.Bare - o.Bare, NotOK: c.NotOK - o.NotOK,
		Short: c.Short - o.Short, Can: c.Can - o.Can, Octane: c.Octane - o.Octane, Ridden: c.Ridden - o.Ridden}
}

// A plan made with an answer differs from the one without by just what the list says, and the
// calls stand in order of what their worst answer makes of the ride.
func TestAnswersPlannedAgain(t *testing.T) {
	answered, changed := 0, 0
	rapid.Check(t, func(t *rapid.T) {
		in := drawRide(t)
		in.Options.Carry = plan.Carry{Most: rapid.SampledFrom([]fuel.Litres{0, 5, 10}).Draw(t, "most in cans")}
		for i := range in.Stops {
			if s := &in.Stops[i]; s.Standing == stop.Seen && rapid.IntRange(0, 2).Draw(t, "doubtful") == 0 {
				s.Standing = stop.Map
			}
		}
		if rapid.IntRange(0, 3).Draw(t, "from here") == 0 {
			in.Options.HasFrom, in.Options.From = true, in.Line.Length()/5
			in.Options.HasStartFuel, in.Options.StartFuel, in.Options.SinceFill = true, in.Bike.Usable()/2, 0
		}
		p := makeRide(t, in)
		last := []float64{math.Inf(1)}
		for _, c := range callsOf(t, p) {
			if !c.Decided {
				continue
			}
			worst := carriedWorth(p, p.Cans.Carried)
			for _, i := range c.If {
				q := makeRide(t, answeredAs(t, in, p.Stops[c.Stop].Name+": "+i.Answer.String()))
				wantChanges(t, p.Stops[c.Stop].Name+": "+i.Answer.String(), i.Changes, allOf(q).minus(allOf(p)))
				if w := carriedWorth(q, q.Cans.Carried); slices.Compare(w, worst) > 0 {
					worst = w
				}
				answered++
				if !i.Changes.Nothing() {
					changed++
				}
			}
			if slices.Compare(worst, last) > 0 {
				t.Fatalf("%s is worth %v, after one of %v", p.Stops[c.Stop].Name, worst, last)
			}
			last = worst
		}
	})
	if changed < kit.Share(20, 4) || answered == changed {
		t.Errorf("%d answers, of which %d change something: little is tested", answered, changed)
	}
}

// The same where stops are chosen, on a short road: what an answer makes of the choice is in it.
func TestAnswersWithStopsChosen(t *testing.T) {
	in := ride(straight(t, 320), pump("A", 90, 0), standing(pump("M", 160, 0.5, ron(92)), stop.Map),
		hearsay("H", 170, ron(95)), pump("B", 240, 3), standing(pump("far", 150, 6, octane.FromRON(95)), stop.Map))
	in.Options.FillAt, in.Options.Detours = plan.FillChosen, trip.Reach
	p := make1(t, in)
	decided := 0
	for _, c := range callsOf(t, p) {
		for _, i := range c.If {
			told := p.Stops[c.Stop].Name + ": " + i.Answer.String()
			wantChanges(t, told, i.Changes, allOf(make1(t, answeredAs(t, in, told))).minus(allOf(p)))
		}
		if c.Decided {
			decided++
		}
	}
	if decided == 0 {
		t.Error("nothing was decided anew")
	}
}

// However many stops are doubtful the wait is bounded, and it is said how many were not tried: of
// 300 all are, of 600 not. Where the stops of so many are chosen, none is chosen anew.
func TestCallsAreBounded(t *testing.T) {
	if !kit.Long() {
		t.Skip("a long run: LASTPUMP_LONG=1")
	}
	for pumps, all := range map[int]bool{300: true, 600: false} {
		for _, at := range []plan.FillAt{plan.FillEverywhere, plan.FillChosen} {
			in := longLoop(t, pumps)
			in.Options.FillAt = at
			for i := range in.Stops {
				if in.Stops[i].Standing == stop.Seen {
					in.Stops[i].Standing = stop.Map
				}
			}
			p := makePlan(t, in)
			start := time.Now()
			calls := callsOf(t, p)
			decided := 0
			for _, c := range calls {
				if c.Decided {
					decided++
				}
			}
			t.Logf("%d pumps, %v: %d calls, %d decided anew, %d not tried, in %v",
				pumps, at, len(calls), decided, p.NotCalled, time.Since(start))
			if len(calls) < 100 || at == plan.FillEverywhere && decided == 0 || at == plan.FillChosen && decided > 0 {
				t.Errorf("%d pumps, %v: %d calls, %d decided anew", pumps, at, len(calls), decided)
			}
			if (p.NotCalled == 0) != all {
				t.Errorf("%d pumps, %v: %d not tried", pumps, at, p.NotCalled)
			}
		}
	}
}

func makePlan(t *testing.T, in plan.Inputs) *plan.Plan {
	t.Helper()
	p, err := plan.Make(context.Background(), in)
	if err != nil {
		t.Fatal(err)
	}
	return p
}

// Each bike of a group has calls of its own: the mine matters to the small tank alone. Where stops
// are chosen for all of them they are not chosen anew for one.
func TestCallsOfAGroup(t *testing.T) {
	small, big := drawn.Flat(), drawn.Flat()
	small.Name, big.Name, big.Tank = "small", "big", 30.5
	in := ride(straight(t, 330), pump("A", 100, 0), standing(pump("mine", 200, 0), stop.Map), pump("B", 300, 0))
	short := func(p *plan.Plan) fuel.Litres {
		for _, c := range p.Calls {
			if p.Stops[c.Stop].Name == "mine" {
				return changesOf(t, c, "dry").Can
			}
		}
		t.Fatalf("nobody calls the mine: %+v", p.Calls)
		return 0
	}
	in.Options.Carry.Most = 10
	for _, at := range []plan.FillAt{plan.FillEverywhere, plan.FillChosen} {
		in.Options.FillAt = at
		p, err := plan.MakeGroup(context.Background(), in, []fuel.Bike{small, big})
		if err != nil {
			t.Fatal(err)
		}
		if err := plan.Calls(context.Background(), p); err != nil {
			t.Fatal(err)
		}
		of := p.Group.Bikes
		if len(p.Calls) == 0 || len(p.Calls) != len(of[0].Calls) || p.Calls[0].Decided != (at == plan.FillEverywhere) {
			t.Fatalf("%q: %+v", at, p.Calls)
		}
		if at == plan.FillEverywhere && (short(of[0]) <= 0 || short(of[1]) != 0) {
			t.Errorf("a larger can: %v L for the small, %v L for the big one", short(of[0]), short(of[1]))
		}
	}
}
