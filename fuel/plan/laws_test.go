package plan_test

import (
	"math"
	"slices"
	"testing"

	"lastpump/fuel"
	"lastpump/fuel/leg"
	"lastpump/fuel/stop"
	"lastpump/fuel/trip"
	"lastpump/octane"
	"lastpump/route"
	"lastpump/testdata/kit/drawn"

	"pgregory.net/rapid"
)

const drop = 1e-6 // L: what may be lost to rounding

// What is bought, what was there at the start and what SHORT legs lacked is burnt
// or left: in the tank or in the can. What only a thirsty bike has
// room for is not counted.
func TestFuelIsConservedOverTheRide(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := makeRide(t, drawRide(t))
		in, out := p.Start.Fuel, fuel.Litres(0)
		if p.Legs[0].FromVisit < 0 {
			in += p.Legs[0].Can // from home
		}
		for _, v := range p.Visits {
			if v.Fill != nil {
				in += v.Fill.Litres + v.Fill.Can
			}
		}
		usable := p.Bike.Usable()
		for i, l := range p.Legs {
			in += l.Short
			out += l.Drink.Fuel.Likely + l.Can - l.Poured - l.CanLeft(usable)
			if i+1 < len(p.Legs) {
				continue
			}
			out += l.CanLeft(usable)
			if l.ToVisit >= 0 {
				out += usable
			} else {
				out += max(0, l.Start+l.Poured-l.Drink.Fuel.Likely)
			}
		}
		if math.Abs(float64(in-out)) > drop {
			t.Fatalf("%v L in, %v L out", in, out)
		}
	})
}

// The loop is as long as its line with its stretch, its gap at 1.3 times, and the
// detours.
func TestRiddenIsTheLineAndItsDetours(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		l := drawLoop(t)
		p := makeRide(t, l.In)
		gap := l.In.Line.Gaps[0].Straight
		want := float64(l.In.Line.Length()-gap)*l.Stretch + 1.3*float64(gap)
		var legs route.Metres
		for _, v := range p.Visits {
			if v.Counted {
				want += float64(v.Detour)
			}
		}
		for _, leg := range p.Legs {
			legs += leg.Drink.Ridden
		}
		if !near(float64(p.Loop.Ridden), want) || !near(float64(legs), want) {
			t.Fatalf("loop %v m, legs %v m, want %v m", p.Loop.Ridden, legs, want)
		}
	})
}

var (
	verdicts = []leg.Verdict{leg.OK, leg.Tight, leg.Short}
	outcomes = []leg.Outcome{leg.On, leg.Back, leg.Stranded}
)

// A longer ride, a thirstier ground or bike and a larger reserve never improve a
// verdict; without a can nor what happens if a pump is dry (a can that now rides
// full for a leg that is no longer OK may save it).
func TestHarderIsNeverBetterOnALoop(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		l := drawLoop(t)
		hard := l.In
		switch rapid.SampledFrom([]string{"stretch", "thirst", "ground", "reserve"}).Draw(t, "harder by") {
		case "stretch":
			hard.Line = l.WithStretch(t, rapid.Float64Range(1, 1.3).Draw(t, "times"))
		case "thirst":
			hard.Options.Thirst *= rapid.Float64Range(1, 1.5).Draw(t, "times")
		case "ground":
			hard.Grounds = route.Grounds{Default: route.DeepSand}
		case "reserve":
			hard.Options.Reserve.Share += rapid.Float64Range(0, 0.3).Draw(t, "share more")
			hard.Options.Reserve.Distance += 20000
		}
		a, b := makeRide(t, l.In), makeRide(t, hard)
		for i := range a.Legs {
			if slices.Index(verdicts, b.Legs[i].Verdict) < slices.Index(verdicts, a.Legs[i].Verdict) {
				t.Fatalf("leg %d was %s and is %s", i, a.Legs[i].Verdict, b.Legs[i].Verdict)
			}
		}
		for i, v := range a.Visits {
			if l.In.Bike.Can == 0 && v.IfDry != nil && slices.Index(outcomes, b.Visits[i].IfDry.Outcome) < slices.Index(outcomes, v.IfDry.Outcome) {
				t.Fatalf("%s dry was %+v and is %+v", v.Stop.Name, v.IfDry, b.Visits[i].IfDry)
			}
		}
		if b.Can.ForPlan < a.Can.ForPlan-drop || b.Can.ForAnyDryPump < a.Can.ForAnyDryPump-drop {
			t.Fatalf("can %+v was %+v", b.Can, a.Can)
		}
	})
}

// The loops are what they are said to be.
func TestDrawnLoops(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		l := drawLoop(t)
		p := makeRide(t, l.In)
		counted, short, three := map[string]int{}, false, false
		for _, v := range p.Visits {
			if v.Counted {
				counted[v.Stop.Name]++
			}
			three = three || len(v.Also) == 2
		}
		for _, l := range p.Legs {
			short = short || l.Verdict == leg.Short
		}
		if len(p.Visits) < 8 || counted["trailhead"] < 2 || counted["twice"] != 2 || counted["unknown"] != 1 || counted["far"] != 1 ||
			!three || !short || len(l.In.Line.Gaps) != 1 || !l.In.Line.Closed || p.Legs[0].FromVisit != 0 || p.Legs[len(p.Legs)-1].ToVisit < 0 {
			t.Fatalf("counted %v, a place of three %v, a SHORT leg %v, gaps %v", counted, three, short, l.In.Line.Gaps)
		}
	})
}

// A leg cut in two by a pump on the line needs the same fuel; and the two ridden on one brim, as
// where that pump is dry, are off by no more than the whole.
func TestALegCutInTwo(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		l := drawLoop(t)
		cut := l.In
		cut.Stops = append(slices.Clone(l.In.Stops), stop.Stop{Name: "cut", At: l.Cut, Standing: stop.Seen})
		a, b := makeRide(t, l.In), makeRide(t, cut)
		if len(b.Legs) != len(a.Legs)+1 {
			t.Fatalf("%d legs and cut %d", len(a.Legs), len(b.Legs))
		}
		i := slices.IndexFunc(b.Legs, func(l trip.Leg) bool { return key(b, l.To) == "cut" })
		whole, one, two := a.Legs[i].Drink, b.Legs[i].Drink, b.Legs[i+1].Drink
		sum := one.Amount.Plus(two.Amount).Figures()
		if math.Abs(float64(whole.Fuel.Likely-sum.Likely)) > drop || math.Abs(float64(whole.Fuel.Low-sum.Low)) > drop ||
			math.Abs(float64(whole.Fuel.High-sum.High)) > drop || !near(float64(one.Ridden+two.Ridden), float64(whole.Ridden)) {
			t.Fatalf("%+v, cut %+v and %+v", whole, one, two)
		}
	})
}

// What is in the tank lies between the petrols that went in.
func TestMixtureLiesBetweenItsParts(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := makeRide(t, drawRide(t))
		scale := p.Bike.Needs.Scale
		parts := p.Start.Grade.In(scale)
		for _, v := range p.Visits {
			if v.Fill == nil {
				continue
			}
			g := octane.Interval{Low: ron(80).In(scale).Low, High: p.Bike.Needs.Number}
			if v.Fill.HasGrade {
				g = v.Fill.Grade.In(scale)
			}
			parts.Low, parts.High = min(parts.Low, g.Low), max(parts.High, g.High)
			between(t, v.Stop.Name, *v.Mixture, parts) // only of what went in so far
		}
		for _, l := range p.Legs {
			between(t, "leg to "+key(p, l.To), l.Mixture, parts)
		}
	})
}

func between(t rapid.TB, what string, m leg.Mixture, parts octane.Interval) {
	t.Helper()
	if m.Low < parts.Low-1e-9 || m.High > parts.High+1e-9 || m.Low > m.High+1e-9 || m.Scale != parts.Scale {
		t.Fatalf("%s: %+v of parts %+v", what, m, parts)
	}
}

// Every figure is a number, and low ≤ likely ≤ high.
func TestFiguresAreInOrder(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := makeRide(t, drawRide(t))
		drawn.WantFinite(t, p)
		for i, l := range p.Legs {
			if f := l.Drink.Fuel; !(0 <= f.Low && f.Low <= f.Likely && f.Likely <= f.High) || l.Drink.Back.At(fuel.High) < l.Drink.Back.Likely {
				t.Fatalf("leg %d: %+v, back %+v", i, f, l.Drink.Back)
			}
		}
		for _, v := range p.Visits {
			if f := v.Fill; f != nil && !(0 <= f.Low && f.Low <= f.Litres && f.Litres <= f.High && f.High <= p.Bike.Usable()+drop) {
				t.Fatalf("%s: %+v", v.Stop.Name, f)
			}
		}
	})
}

// The trip figures say what the verdict says: where the leg ends on the line, the
// reserve is whole there if safe to lies at or beyond it, and it arrives if dry at
// does.
func TestTripFiguresAgreeWithTheVerdict(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := makeRide(t, drawRide(t))
		for i, l := range p.Legs {
			trip := l.Trip(p.Bike)
			hair := trip * 1e-9
			if l.DryAt < l.SafeTo-hair || l.SafeTo < 0 || l.TurnBack < 0 || l.TurnBack > trip+hair {
				t.Fatalf("leg %d of %v: safe to %v, dry at %v, turn back %v", i, trip, l.SafeTo, l.DryAt, l.TurnBack)
			}
			if l.ToVisit >= 0 && p.Visits[l.ToVisit].Detour > 0 {
				continue
			}
			wantBeyond(t, "safe to", l.SafeTo, trip, l.Arrive-l.Kept)
			wantBeyond(t, "dry at", l.DryAt, trip, l.Arrive)
		}
	})
}

// wantBeyond wants a trip figure beyond the leg's length if litres are left, and
// short of it if they are lacking.
func wantBeyond(t rapid.TB, what string, figure, trip route.Metres, left fuel.Litres) {
	t.Helper()
	hair := trip * 1e-9
	if left > drop && figure < trip-hair || left < -drop && figure > trip+hair {
		t.Fatalf("%s %v of %v with %v L to spare", what, figure, trip, left)
	}
}
