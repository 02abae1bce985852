package plan_test

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"lastpump/fuel/leg"
	"lastpump/fuel/plan"
	"lastpump/fuel/stop"
	"lastpump/route"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"
	"pgregory.net/rapid"
)

// TestDrawnRides says that the rides are what the properties below need.
func TestDrawnRides(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		in := drawRide(t)
		in.Bike.Can = 0
		p := makeRide(t, in)
		names := map[string]int{}
		three, short := false, false
		for _, v := range p.Visits {
			names[v.Stop.Name]++
			three = three || len(v.Also) == 2
		}
		for _, l := range p.Legs {
			short = short || l.Verdict == leg.Short
		}
		if len(p.Visits) < 8 || names["twice"] < 2 || names["trailhead"] < 2 || names["unknown"] != 1 || !three || !short || len(in.Line.Gaps) != 1 {
			t.Fatalf("visits %v, a place of three %v, a SHORT leg %v, gaps %v", names, three, short, in.Line.Gaps)
		}
	})
}

// Fuel is conserved: what is there and is bought, and what was lacking on SHORT
// legs, is burnt or left.
func TestFuelIsConserved(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		in := drawRide(t)
		p := makeRide(t, in)
		have := p.Start.Fuel
		for i, l := range p.Legs {
			if l.FromVisit >= 0 {
				have += p.Visits[l.FromVisit].Fill.Litres
			}
			if math.Abs(float64(have-l.Start)) > 1e-9 {
				t.Fatalf("leg %d starts with %v L, bought up to %v", i, l.Start, have)
			}
			have = min(in.Bike.Usable(), max(0, l.Start+l.Poured-l.Drink.Fuel.Likely))
			if math.Abs(float64(l.Arrive-(l.Start+l.Can-l.Drink.Fuel.Likely))) > 1e-9 || l.Short != max(0, -l.Arrive) {
				t.Fatalf("leg %d: %+v", i, l)
			}
		}
	})
}

func TestSumsOfAPlan(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := makeRide(t, drawRide(t))
		var ridden route.Metres
		for i, l := range p.Legs {
			ridden += l.Drink.Ridden
			flat := l.Drink.Climb
			var km route.Metres
			for _, g := range l.Drink.Grounds {
				flat += g.Likely
				km += g.Ridden
			}
			f := l.Drink.Fuel
			switch {
			case math.Abs(float64(flat-f.Likely)) > 1e-9:
				t.Fatalf("leg %d: ground and climb %v, likely %v", i, flat, f.Likely)
			case math.Abs(float64(km-l.Drink.Ridden)) > 1e-6:
				t.Fatalf("leg %d: grounds %v m, ridden %v m", i, km, l.Drink.Ridden)
			case !(f.Low <= f.Likely && f.Likely <= f.High):
				t.Fatalf("leg %d: %+v", i, f)
			case l.SafeTo < 0 || l.SafeTo > l.DryAt || l.TurnBack > l.Trip(p.Bike)+1e-6 || l.TurnBack > l.DryAt+1e-6:
				t.Fatalf("leg %d: safe to %v, dry at %v, turn back %v of %v", i, l.SafeTo, l.DryAt, l.TurnBack, l.Trip(p.Bike))
			case l.Mixture.Low > l.Mixture.High+1e-9 || l.Mixture.Low < 74 || l.Mixture.High > 98+1e-9: // 80 RON is 75 to 76 AKI
				t.Fatalf("leg %d: mixture %+v not between what was filled", i, l.Mixture)
			}
		}
		if math.Abs(float64(ridden-p.Loop.Ridden)) > 1e-6 {
			t.Fatalf("legs %v m, loop %v m", ridden, p.Loop.Ridden)
		}
	})
}

// A longer ride, a thirstier ground or a larger reserve never improves a
// verdict.
func TestHarderIsNeverBetter(t *testing.T) {
	order := []leg.Verdict{leg.OK, leg.Tight, leg.Short}
	rapid.Check(t, func(t *rapid.T) {
		in := drawRide(t)
		in.Bike.Can = 0
		easy := makeRide(t, in)
		hard := in
		switch rapid.IntRange(0, 2).Draw(t, "harder by") {
		case 0:
			hard.Options.Thirst *= rapid.Float64Range(1, 1.5).Draw(t, "thirstier by")
		case 1:
			hard.Grounds = route.Grounds{Default: route.DeepSand}
		case 2:
			hard.Options.Reserve.Share += 0.2
			hard.Options.Reserve.Distance += 20000
		}
		p := makeRide(t, hard)
		for i, l := range p.Legs {
			if slices.Index(order, l.Verdict) < slices.Index(order, easy.Legs[i].Verdict) {
				t.Fatalf("leg %d was %s and is %s", i, easy.Legs[i].Verdict, l.Verdict)
			}
		}
		if p.Can.ForPlan < easy.Can.ForPlan-1e-9 {
			t.Fatalf("a can of %v L, was %v", p.Can.ForPlan, easy.Can.ForPlan)
		}
	})
}

// A ride that is longer on the same line never improves a verdict either.
func TestLongerIsNeverBetter(t *testing.T) {
	order := []leg.Verdict{leg.OK, leg.Tight, leg.Short}
	rapid.Check(t, func(t *rapid.T) {
		rises := rand.New(rand.NewPCG(rapid.Uint64().Draw(t, "heights"), 0))
		way := track(rises, 0, 300)
		factor := rapid.Float64Range(1, 1.3).Draw(t, "stretch")
		stops := []stop.Stop{pump("a", rapid.Float64Range(20, 200).Draw(t, "a"), 0), pump("b", 280, 0)}
		easy := makeRide(t, ride(stretched(t, 1, way), stops...))
		for i, l := range makeRide(t, ride(stretched(t, factor, way), stops...)).Legs {
			if slices.Index(order, l.Verdict) < slices.Index(order, easy.Legs[i].Verdict) || l.Arrive > easy.Legs[i].Arrive {
				t.Fatalf("leg %d was %s and is %s", i, easy.Legs[i].Verdict, l.Verdict)
			}
		}
	})
}

// The plan is a function of its inputs.
func TestMadeTwice(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		in := drawRide(t)
		a, b := makeRide(t, in), makeRide(t, in)
		a.Line, b.Line = nil, nil
		if diff := cmp.Diff(a, b, cmpopts.IgnoreUnexported(plan.Plan{})); diff != "" {
			t.Fatal(diff)
		}
	})
}

// A can of the size advised makes every leg OK, and one for any dry pump keeps
// any place from stranding.
func TestTheCanAdvisedIsEnough(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		in := drawRide(t)
		in.Bike.Can = 0
		c := makeRide(t, in).Can
		if c.SizeForDry.TooBig || c.SizeForDry.Litres == 0 {
			return
		}
		in.Bike.Can = c.SizeForDry.Litres
		p := makeRide(t, in)
		for i, l := range p.Legs {
			if l.Verdict != leg.OK {
				t.Fatalf("leg %d is %s with a can of %v L", i, l.Verdict, l.Can)
			}
		}
		for _, v := range p.Visits {
			if v.IfDry != nil && v.IfDry.Outcome == leg.Stranded {
				t.Fatalf("%s, if dry, strands with a can of %v L: %+v", v.Stop.Name, in.Bike.Can, v.IfDry)
			}
		}
	})
}
