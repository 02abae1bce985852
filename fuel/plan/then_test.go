package plan_test

import (
	"math"
	"slices"
	"testing"

	"lastpump/fuel"
	"lastpump/fuel/plan"
	"lastpump/fuel/plan/here"
	"lastpump/fuel/trip"
	"lastpump/route"
	"lastpump/testdata/kit/drawn"

	"pgregory.net/rapid"
)

// drawWhole draws a ride without a can, of which the rest can be compared leg by leg:
// a can may ride full on a leg for what lies behind it.
func drawWhole(t *rapid.T) (plan.Inputs, *plan.Plan) {
	in := drawRide(t)
	in.Bike.Can = 0
	return in, makeRide(t, in)
}

// drawStand puts the rider at a stop that the whole plan fills at, and tells which
// leg of it comes next. Where the stop is passed twice it has to lie by the line.
func drawStand(t *rapid.T, in plan.Inputs, whole *plan.Plan) (plan.Inputs, int) {
	k := rapid.IntRange(1, len(whole.Legs)-1).Draw(t, "at the beginning of leg")
	v := whole.Visits[whole.Legs[k].FromVisit]
	in.Options.StartFuel, in.Options.HasStartFuel = fuel.Litres(rapid.Float64Range(0, 6).Draw(t, "in the tank")), true
	in.Options.SinceFill = 0
	if in.Options.FromStop = v.Stop.Name; len(in.Line.Passages(v.Stop.At, in.Options.Corridor)) > 1 {
		if v.Off > 300 {
			t.Skip("passed twice, and off the line")
		}
		in.Options.FromStop, in.Options.From, in.Options.HasFrom = "", v.At, true
	}
	return in, k
}

func close9(a, b float64) bool { return math.Abs(a-b) <= 1e-9*max(1, math.Abs(b)) }

// From a stop that the whole plan visits, all legs behind it are those of the whole,
// and so is what happens if a pump is dry, unless that turns on what lies before.
func TestTheRestIsThatOfTheWhole(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		in, whole := drawWhole(t)
		in, k := drawStand(t, in, whole)
		rest := makeRide(t, in)
		if len(rest.Legs) != len(whole.Legs)-k {
			t.Fatalf("%d legs of %d from leg %d", len(rest.Legs), len(whole.Legs), k)
		}
		for i, l := range rest.Legs {
			w := whole.Legs[k+i]
			if l.To != w.To || l.FromAt != w.FromAt || l.ToAt != w.ToAt || l.Verdict != w.Verdict {
				t.Fatalf("leg %d\n%+v, in the whole\n%+v", i, l, w)
			}
			for what, pair := range map[string][2]float64{
				"takes": {float64(l.Drink.Fuel.Likely), float64(w.Drink.Fuel.Likely)}, "high": {float64(l.Drink.Fuel.High), float64(w.Drink.Fuel.High)},
				"starts": {float64(l.Start), float64(w.Start)}, "arrives": {float64(l.Arrive), float64(w.Arrive)},
				"kept": {float64(l.Kept), float64(w.Kept)}, "safe to": {float64(l.SafeTo), float64(w.SafeTo)},
				"turn back": {float64(l.TurnBack), float64(w.TurnBack)}, "dry at high": {float64(l.DryAtHigh), float64(w.DryAtHigh)},
				"detour": {float64(l.Detour), float64(w.Detour)},
			} {
				if !close9(pair[0], pair[1]) {
					t.Fatalf("leg %d: %s %v, in the whole %v", i, what, pair[0], pair[1])
				}
			}
			if l.ToVisit >= 0 {
				wantSameIfDry(t, rest.Visits[l.ToVisit], whole.Visits[w.ToVisit])
			}
		}
	})
}

func wantSameIfDry(t *rapid.T, a, b trip.Visit) {
	t.Helper()
	if (a.IfDry == nil) != (b.IfDry == nil) || !slices.Equal(a.Also, b.Also) {
		t.Fatalf("%+v, in the whole %+v", a, b)
	}
	if a.IfDry == nil || a.IfDry.To.Kind == trip.AtStart {
		return
	}
	x, y := *a.IfDry, *b.IfDry
	if x.To != y.To || x.Outcome != y.Outcome || x.Bare != y.Bare || !close9(float64(x.Spare), float64(y.Spare)) {
		t.Fatalf("%s if dry %+v, in the whole %+v", a.Stop.Name, x, y)
	}
}

// A bike that has used just what was expected is no thirstier and no less so: only how sure that is
// has changed.
func TestUsedAsExpectedChangesNothing(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		in, whole := drawWhole(t)
		in, k := drawStand(t, in, whole)
		var sum fuel.Litres
		var shown route.Metres
		for _, l := range whole.Legs[rapid.IntRange(0, k-1).Draw(t, "zeroed at leg"):k] {
			sum += l.Drink.Fuel.Likely
			shown += l.Trip(in.Bike)
		}
		if sum < 0.1 {
			t.Skip("no ride to measure")
		}
		in.Options.Used = &here.Used{Litres: sum, Trip: shown}
		rest := makeRide(t, in)
		h := rest.Here
		if !close9(h.Factor, 1) || !close9(float64(h.Likely), float64(sum)) {
			t.Fatalf("factor %v, expected %v, used %v", h.Factor, h.Likely, sum)
		}
		for i, l := range h.Legs {
			now := rest.Legs[i]
			if !l.HasThen || !close9(float64(l.Then.Need), float64(now.Drink.Fuel.Likely)) {
				t.Fatalf("leg %d: %+v", i, l)
			}
		}
	})
}

// drawRest plans the rest from anywhere on the line. It is nil where the stops ahead
// are others than those of the whole plan, because half a place lies behind.
func drawRest(t *rapid.T, what string, in plan.Inputs, whole *plan.Plan) (plan.Inputs, *plan.Plan) {
	in.Options.SinceFill = 0
	in = from(in, rapid.Float64Range(0, in.Line.Length().Kilometres()-0.001).Draw(t, what), fuel.Litres(rapid.Float64Range(0, 6).Draw(t, "litres")))
	rest := makeRide(t, in)
	drawn.WantFinite(t, rest)
	ahead := whole.Legs[len(whole.Legs)-len(rest.Legs):]
	for i, l := range rest.Legs {
		if l.ToAt != ahead[i].ToAt {
			return in, nil
		}
	}
	return in, rest
}

// What is expected over a stretch is what the rest takes from its beginning less what
// it takes from its end: another way of computing it.
func TestExpectedIsADifference(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		in, whole := drawWhole(t)
		_, near := drawRest(t, "one km", in, whole)
		there, far := drawRest(t, "another km", in, whole)
		if near == nil || far == nil || far.Options.From <= near.Options.From {
			t.Skip("no stretch")
		}
		litres := func(p *plan.Plan) (a fuel.Amount) {
			for _, l := range p.Legs {
				a = a.Plus(l.Drink.Amount)
			}
			return a
		}
		a, b := litres(near), litres(far)
		between := a.Minus(b).Figures()
		if a.Likely-b.Likely < 0.5 {
			t.Skip("too short to measure")
		}
		there.Options.Used = &here.Used{Litres: a.Likely - b.Likely, Trip: in.Bike.Shown(near.Loop.Ridden - far.Loop.Ridden)}
		h := makeRide(t, there).Here
		if !close9(h.Factor, 1) || !close9(float64(h.Low), float64(between.Low)) || !close9(float64(h.High), float64(between.High)) {
			t.Fatalf("factor %v, at the least %v of %v, at the most %v of %v", h.Factor, h.Low, between.Low, h.High, between.High)
		}
	})
}

// What a leg may drink is a border: a millionth thirstier and the reserve is broken,
// or the tank dry.
func TestAllowedIsABorder(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		in, whole := drawWhole(t)
		in, rest := drawRest(t, "km", in, whole)
		if rest == nil {
			t.Skip("half a place lies behind")
		}
		i := rapid.IntRange(0, len(rest.Legs)-1).Draw(t, "leg")
		l, here := rest.Legs[i], rest.Here.Legs[i]
		if share := fuel.Litres(in.Options.Reserve.Share) * in.Bike.Usable(); here.HasAllowed != (l.Start > share && l.Drink.Ridden > 0) {
			t.Fatalf("allowed %v, with %v L in the tank and %v to keep", here.HasAllowed, l.Start, share)
		}
		if here.HasAllowed {
			border9(t, in, i, rest, here.Allowed, func(l trip.Leg) bool { return l.Arrive >= l.Kept })
		}
		if here.HasAllowedDry {
			border9(t, in, i, rest, here.AllowedDry, func(l trip.Leg) bool { return l.Arrive >= 0 })
		}
	})
}

// border9 plans with the thirst with which a leg just drinks a consumption by the
// kilometres that the bike shows, and a little to either side.
func border9(t *rapid.T, in plan.Inputs, leg int, rest *plan.Plan, allowed fuel.Consumption, holds func(trip.Leg) bool) {
	t.Helper()
	l := rest.Legs[leg]
	now := float64(l.Drink.Fuel.Likely) / l.Trip(in.Bike).Kilometres() * 100
	for _, side := range []float64{1 - 1e-6, 1 + 1e-6} {
		at := in
		at.Options.Thirst *= float64(allowed) / now * side
		if !(at.Options.Thirst > 0.5 && at.Options.Thirst < 3) {
			return
		}
		if p := makeRide(t, at); holds(p.Legs[leg]) != (side < 1) {
			t.Fatalf("%v of the allowed %v: %+v", side, allowed, p.Legs[leg])
		}
	}
}

// The finish is the finish, whatever stop is counted there: of the place at the end, whose
// best stop lies behind the rider at km 298, another is left, and the last leg is still
// compared with the last leg.
func TestTheFinishIsComparedWhateverStopIsThere(t *testing.T) {
	x, y := pump("X", 297.2, 0), pump("Y", 299.9, 0, ron(80))
	p := make1(t, from(ride(straight(t, 300), pump("A", 150, 0), x, y), 298, 4))
	if last := p.Here.Legs[len(p.Here.Legs)-1]; !last.HasThen {
		t.Errorf("the last leg has nothing to be compared with: %+v", last)
	}
}
