package cure_test

import (
	"context"
	"slices"
	"strings"
	"testing"

	"lastpump/fuel/leg"
	"lastpump/fuel/plan"
	"lastpump/fuel/plan/cure"
	"lastpump/fuel/stop"
	"lastpump/fuel/trip"
	"lastpump/octane"
	"lastpump/testdata/kit/drawn"

	"pgregory.net/rapid"
)

// apply makes the change of a cure through the inputs. It is false for a stop off the
// line: what only a wider corridor brings in may bring others, too.
func apply(t rapid.TB, in plan.Inputs, c cure.Cure) (plan.Inputs, bool) {
	t.Helper()
	switch c.Kind {
	case cure.SetOutFull:
		in.Options.HasStartFuel, in.Options.StartFuel, in.Options.SinceFill = false, 0, 0
	case cure.Slower:
		in.Options.Thirst *= float64(c.Rate) / float64(c.Planned)
		if !c.HasRate || !drawn.Near(c.Thirst, in.Options.Thirst) {
			t.Errorf("cure %+v, thirst %v", c, in.Options.Thirst)
		}
	case cure.Reverse, cure.Begin, // see TestTheOtherWayRound
		cure.Less, cure.Lift, // see TestLeast
		cure.OffLine:
		return in, false
	case cure.PassBy:
		in.Options.Skip = append(slices.Clone(in.Options.Skip), c.Stops...)
	case cure.InCan:
		in.Bike.Can = c.Size
	case cure.Confirmed:
		i := slices.IndexFunc(in.Stops, func(s stop.Stop) bool { return s.Name == c.Stops[0] })
		in.Stops = slices.Clone(in.Stops)
		in.Stops[i].Standing = stop.Phoned
	default:
		t.Fatalf("unknown cure %+v", c)
	}
	return in, true
}

// outcomeOn gives the verdict that a plan has on the stretch of line that a warning
// of another is about: the worst of its legs, of the mixtures on those that a cure mends, or
// what happens if the place is dry.
func outcomeOn(p, before *plan.Plan, w plan.Warning, c cure.Cure) string {
	switch w.Kind {
	case plan.KindStranded:
		return dryOn(p, before.Visits[w.Visit])
	case plan.KindBelowGrade:
		worst := octane.Meets
		for _, i := range c.Mends {
			if _, m := worstOn(p, before, i); m.Rank() > worst.Rank() {
				worst = m
			}
		}
		return string(worst)
	}
	worst, _ := worstOn(p, before, w.Leg)
	return string(worst)
}

// worstOn gives the worst verdict and the worst mixture that a plan has where a leg of another
// lies.
func worstOn(p, before *plan.Plan, i int) (leg.Verdict, octane.Verdict) {
	sick := before.Legs[i]
	worst, mixture := leg.OK, octane.Meets
	order := []leg.Verdict{leg.OK, leg.Tight, leg.Short}
	for _, l := range p.Legs {
		if l.ToAt <= sick.FromAt || l.FromAt >= sick.ToAt {
			continue
		}
		worst = order[max(slices.Index(order, worst), slices.Index(order, l.Verdict))]
		if l.Mixture.Verdict.Rank() > mixture.Rank() {
			mixture = l.Mixture.Verdict
		}
	}
	return worst, mixture
}

func dryOn(p *plan.Plan, sick trip.Visit) string {
	for _, v := range p.Visits {
		if v.Stop.Name == sick.Stop.Name && drawn.Near(float64(v.At), float64(sick.At)) && v.IfDry != nil {
			return string(v.IfDry.Outcome)
		}
	}
	return "no visit"
}

// wantMends wants a cure of low grade to mend what it says, which is the worst leg unless it is
// said to have no cure, and not to pass over a leg that it mends.
func wantMends(t rapid.TB, p, before *plan.Plan, w plan.Warning, c cure.Cure) {
	t.Helper()
	if w.Kind != plan.KindBelowGrade {
		return
	}
	if slices.Contains(c.Mends, w.Leg) != (w.NoCure == nil) {
		t.Errorf("%+v mends %v, worst is %d, lacking %+v", c, c.Mends, w.Leg, w.NoCure)
	}
	for _, i := range w.Legs {
		if _, m := worstOn(p, before, i); (m != octane.Below) != slices.Contains(c.Mends, i) {
			t.Errorf("%+v\ncure: %+v\nleg %d is %s", w.Fact, c, i, m)
		}
	}
}

// wantCures applies each cure of a plan again and wants what it says.
func wantCures(t rapid.TB, in plan.Inputs, p *plan.Plan) {
	t.Helper()
	for _, w := range p.Warnings {
		for _, c := range w.Cures {
			with, ok := apply(t, in, c)
			if !ok {
				continue
			}
			again, err := plan.Make(context.Background(), with)
			if err != nil {
				t.Fatalf("%+v, cure %+v: %v", w.Fact, c, err)
			}
			if got := outcomeOn(again, p, w, c); got != c.Verdict {
				t.Errorf("%+v\ncure: %+v\ngives %s, said %s", w.Fact, c, got, c.Verdict)
			}
			wantMends(t, again, p, w, c)
		}
	}
}

// A remedy is a ride with a complaint, and a cure that works on it: at a stop, of litres or
// off by metres, as its kind has it.
type remedy struct {
	name    string
	in      plan.Inputs
	kind    plan.Kind
	by      cure.Kind
	at      string
	km      float64 // where along the line
	litres  float64 // more in the tank, or the size of the can
	verdict string
}

func wantRemedies(t *testing.T, cases []remedy) {
	t.Helper()
	for _, c := range cases {
		p := drawn.Cured(t, c.in)
		w := drawn.WarningOf(t, p, c.kind)
		var at []string
		if c.at != "" {
			at = strings.Split(c.at, ", ")
		}
		got := drawn.CureBy(t, w, c.by, at...)
		litres := got.Litres
		if c.by == cure.InCan {
			litres = got.Size
		}
		if got.Verdict != c.verdict || !drawn.Near(got.At.Kilometres(), c.km) || !drawn.Near(float64(litres), c.litres) {
			t.Errorf("%s: %+v, want %s at km %v, %v L", c.name, got, c.verdict, c.km, c.litres)
		}
		wantCures(t, c.in, p)
		if c.by == cure.OffLine { // the only stop out there
			in := c.in
			in.Options.Corridor = 20000
			if got := outcomeOn(drawn.Cured(t, in), p, w, got); got != c.verdict {
				t.Errorf("%s: with a wider corridor %s, want %s", c.name, got, c.verdict)
			}
		}
	}
}

func TestRemediesOfATightLeg(t *testing.T) {
	wantRemedies(t, []remedy{
		{"set out full", drawn.Changed(drawn.Changed(drawn.Ride(drawn.Straight(t, 100)), drawn.StartWith(6)), drawn.Keep(0.15)), plan.KindTight,
			cure.SetOutFull, "", 0, 4, "OK"},
		{"since a fill", drawn.Changed(drawn.Ride(drawn.Straight(t, 150)), func(in *plan.Inputs) { in.Options.SinceFill = 40000 }),
			plan.KindTight,
			cure.SetOutFull, "", 0, 2, "OK"},
		{"hearsay", drawn.Ride(drawn.Straight(t, 190), drawn.Hearsay("H", 95)), plan.KindTight, cure.Confirmed, "H", 95, 0, "OK"},
		{"only from a map", drawn.Changed(drawn.Ride(drawn.Straight(t, 190), drawn.Standing(drawn.Pump("M", 95, 0), stop.Map)),
			func(in *plan.Inputs) { in.Options.Trust = stop.Phoned }),
			plan.KindTight, cure.Confirmed, "M", 95, 0, "OK"},
		// 190 × 0.05775 − 10 L; poured where 0.9725 L have been used at the low figure
		{"can", drawn.Ride(drawn.Straight(t, 190)), plan.KindTight, cure.InCan, "", 0, 1, "OK"},
		{"off the line", drawn.Ride(drawn.Straight(t, 190), drawn.Pump("B", 95, 3), drawn.Pump("on", 1, 0)), plan.KindTight, cure.OffLine,
			"B", 95, 0, "OK"},
	})
}

func TestRemediesOfAShortLeg(t *testing.T) {
	wantRemedies(t, []remedy{
		{"set out full", drawn.Changed(drawn.Ride(drawn.Straight(t, 100)), drawn.StartWith(2)), plan.KindShort, cure.SetOutFull, "", 0, 8,
			"OK"},
		{"set out full, TIGHT then", drawn.Changed(drawn.Ride(drawn.Straight(t, 180)), drawn.StartWith(2)), plan.KindShort, cure.SetOutFull,
			"", 0, 8, "TIGHT"},
		{"hearsay", drawn.Ride(drawn.Straight(t, 250), drawn.Hearsay("H", 125)), plan.KindShort, cure.Confirmed, "H", 125, 0, "OK"},
		{"can", drawn.Ride(drawn.Straight(t, 250)), plan.KindShort, cure.InCan, "", 0, 5, "OK"}, // 14.4375 − 10
		{"a larger can than the bike's", drawn.Changed(drawn.Ride(drawn.Straight(t, 250)), func(in *plan.Inputs) { in.Bike.Can = 2 }),
			plan.KindShort, cure.InCan, "", 0, 5, "OK"},
		{"off the line", drawn.Ride(drawn.Straight(t, 250), drawn.Pump("B", 125, 12), drawn.Pump("on", 1, 0)), plan.KindShort, cure.OffLine,
			"B", 125, 0, "OK"},
	})
}

// A at 150 km leaves 2.5 L; B, 109 km on, takes 5.45, back takes 7.5. H at 75 km
// has A reached with 6.25 L.
func TestRemediesOfAStrandingPump(t *testing.T) {
	a, b := drawn.Pump("A", 150, 0), drawn.Pump("B", 259, 0)
	wantRemedies(t, []remedy{
		{"set out full", drawn.Changed(drawn.Ride(drawn.Straight(t, 300), drawn.Pump("A", 80, 0), drawn.Pump("B", 190, 0)), drawn.StartWith(5)),
			plan.KindStranded,
			cure.SetOutFull, "", 0, 5, "on"},
		{"hearsay", drawn.Ride(drawn.Straight(t, 350), a, b, drawn.Hearsay("H", 75)), plan.KindStranded, cure.Confirmed, "H", 75, 0,
			"on"},
		{"can", drawn.Ride(drawn.Straight(t, 350), a, b), plan.KindStranded, cure.InCan, "", 0, 7.5, "on"}, // 259 × 0.05 × 1.155^1.3 − 10 = 5.62
		{"off the line", drawn.Ride(drawn.Straight(t, 350), a, b, drawn.Pump("O", 75, 5)), plan.KindStranded, cure.OffLine, "O", 75,
			0, "on"},
	})
}

// What cures a low grade is better petrol in the same place, or the petrol in the
// tank lasting past it.
func TestRemediesOfALowGrade(t *testing.T) {
	low, good := drawn.Pump("low", 150, 0, drawn.RON(80)), drawn.Pump("good", 300, 0)
	wantRemedies(t, []remedy{
		{"pass by", drawn.Ride(drawn.Straight(t, 150), drawn.Pump("low", 50, 0, drawn.RON(80)), drawn.Pump("good", 100, 0)), plan.KindBelowGrade,
			cure.PassBy, "low", 0, 0, "meets"},
		{"pass by two", drawn.Ride(drawn.Straight(t, 160), drawn.Pump("low", 40, 0, drawn.RON(80)), drawn.Pump("lower", 80, 0, drawn.RON(80)), drawn.Pump("good",
			120, 0)), plan.KindBelowGrade,
			cure.PassBy, "low, lower", 0, 0, "meets"},
		{"hearsay", drawn.Ride(drawn.Straight(t, 330), low, good, drawn.Hearsay("H", 151)), plan.KindBelowGrade, cure.Confirmed, "H",
			151, 0, "meets"},
		{"off the line", drawn.Ride(drawn.Straight(t, 330), low, good, drawn.Pump("O", 151, 3)), plan.KindBelowGrade, cure.OffLine,
			"O", 151, 0, "meets"},
	})
}

// Where nothing cures, what is missing is said.
func TestNothingCures(t *testing.T) {
	for _, c := range []struct {
		in                 plan.Inputs
		kind               plan.Kind
		litres, km, octane float64
	}{
		{drawn.Ride(drawn.Straight(t, 700)), plan.KindShort, 25, 500, 0},
		// 60 L usable; 1080 km take 54, half a tank is kept: 24 L are missing.
		{drawn.Changed(drawn.Changed(drawn.Ride(drawn.Straight(t, 1080)), drawn.Keep(0.5)), drawn.Tank(60)), plan.KindTight,
			24, 480, 0},
		// 400 km leave −10 L; the next takes 20 more, back as much.
		{drawn.Ride(drawn.Straight(t, 900), drawn.Pump("A", 399.9, 0), drawn.Pump("B", 790, 0)), plan.KindStranded,
			29.5, 590, 0},
		// 165 km use 8.25 L: (2.25 × 95 + 8.25 × 80)/10.5 = 83.21; it is the same from either end
		{drawn.Changed(drawn.Ride(drawn.Straight(t, 330), drawn.Pump("low", 165, 0, drawn.RON(80))), drawn.FullOfIt), plan.KindBelowGrade,
			0, 0, 11.8},
	} {
		w := drawn.WarningOf(t, drawn.Cured(t, c.in), c.kind)
		if len(w.Cures) != 0 || w.NoCure == nil {
			t.Fatalf("%+v: %+v", w.Fact, w.Cures)
		}
		drawn.WantNear(t, "litres missing", w.NoCure.Litres, c.litres)
		drawn.WantNear(t, "as far as", w.NoCure.Distance.Kilometres(), c.km)
		drawn.WantNear(t, "octane missing", w.NoCure.Octane, c.octane)
	}
}

// With a can of its own the bike lacks less: what is missing is what is missing
// with it, as the warning says.
func TestNothingCuresWithACan(t *testing.T) {
	for _, c := range []struct {
		in         plan.Inputs
		kind       plan.Kind
		litres, km float64
	}{
		{drawn.Changed(drawn.Ride(drawn.Straight(t, 700)), drawn.OwnCan(3)), plan.KindShort, 22, 440},
		// 65 L with the can; 1200 km take 60, 30 are kept: 25 are missing.
		{drawn.Changed(drawn.Changed(drawn.Changed(drawn.Ride(drawn.Straight(t, 1200)), drawn.Keep(0.5)), drawn.Tank(60)), drawn.OwnCan(5)), plan.KindTight, 25, 500},
		{drawn.Changed(drawn.Ride(drawn.Straight(t, 900), drawn.Pump("A", 399.9, 0), drawn.Pump("B", 790, 0)), drawn.OwnCan(3)), plan.KindStranded, 26.5,
			530},
	} {
		w := drawn.WarningOf(t, drawn.Cured(t, c.in), c.kind)
		if w.NoCure == nil {
			t.Fatalf("%+v: %+v", w.Fact, w.Cures)
		}
		drawn.WantNear(t, "litres missing", w.NoCure.Litres, c.litres)
		drawn.WantNear(t, "as far as", w.NoCure.Distance.Kilometres(), c.km)
	}
}

// A cure makes of the plan what it says, applied again through the inputs.
func TestCuresCure(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		in := drawn.AnyRide(t)
		wantCures(t, in, drawn.Cured(t, in))
	})
}
