package cure_test

import (
	"slices"
	"testing"

	"lastpump/fuel"
	"lastpump/fuel/leg"
	"lastpump/fuel/plan"
	"lastpump/fuel/plan/cure"
	"lastpump/fuel/stop"
	"lastpump/octane"
	"lastpump/testdata/kit/drawn"
)

// Each cure is applied again here, through the inputs, and gives what it says.
func TestCuresOfAShortLeg(t *testing.T) {
	said := drawn.Pump("said", 100, 0)
	said.Standing = stop.Hearsay
	in := drawn.Ride(drawn.Straight(t, 210), said, drawn.Pump("beside", 110, 12), drawn.Pump("too far", 110, 31))
	w := drawn.WarningOf(t, drawn.Cured(t, in), plan.KindShort)

	can := drawn.CureBy(t, w, cure.InCan)
	drawn.WantNear(t, "size", can.Size, 3)
	drawn.WantNear(t, "litres", float64(can.Litres), 210*0.05*1.155-10)
	with := in
	with.Bike.Can = 3
	if l := drawn.Cured(t, with).Legs[0]; string(l.Verdict) != can.Verdict || l.Verdict != leg.OK {
		t.Errorf("with the can %s, said %s", l.Verdict, can.Verdict)
	}

	confirmed := drawn.CureBy(t, w, cure.Confirmed, "said")
	drawn.WantNear(t, "at", confirmed.At.Kilometres(), 100)
	with = in
	with.Stops = append([]stop.Stop(nil), in.Stops...)
	with.Stops[0].Standing = stop.Phoned
	for _, l := range drawn.Cured(t, with).Legs {
		if string(l.Verdict) != confirmed.Verdict {
			t.Errorf("once confirmed %s, said %s", l.Verdict, confirmed.Verdict)
		}
	}

	off := drawn.CureBy(t, w, cure.OffLine, "beside")
	drawn.WantNear(t, "at", off.At.Kilometres(), 110)
	drawn.WantNear(t, "off", off.Off.Kilometres(), 12)
	with = in
	with.Options.Corridor = 13000
	p := drawn.Cured(t, with)
	drawn.WantNear(t, "detour", off.Detour.Kilometres(), drawn.Visit(t, p, "beside").Detour.Kilometres())
	for _, l := range p.Legs {
		if string(l.Verdict) != off.Verdict {
			t.Errorf("over the stop off the line %s, said %s", l.Verdict, off.Verdict)
		}
	}
	for _, c := range w.Cures {
		if slices.Contains(c.Stops, "too far") {
			t.Errorf("a stop over 30 km off: %+v", c)
		}
	}
}

func TestCureByStartingFuller(t *testing.T) {
	in := drawn.Ride(drawn.Straight(t, 100), drawn.Pump("A", 90, 0))
	in.Options.HasStartFuel, in.Options.StartFuel = true, 2
	c := drawn.CureBy(t, drawn.WarningOf(t, drawn.Cured(t, in), plan.KindShort), cure.SetOutFull)
	drawn.WantNear(t, "more", c.Litres, 8)
	in.Options.HasStartFuel = false
	if v := drawn.Cured(t, in).Legs[0].Verdict; string(v) != c.Verdict {
		t.Errorf("full %s, said %s", v, c.Verdict)
	}
}

func TestCuresOfAStrandingPump(t *testing.T) {
	in := drawn.Ride(drawn.Straight(t, 350), drawn.Pump("A", 150, 0), drawn.Pump("B", 259, 0)) // 2.5 L left, 5.45 L to B
	p := drawn.Cured(t, in)
	w := drawn.WarningOf(t, p, plan.KindStranded)
	c := drawn.CureBy(t, w, cure.InCan)
	drawn.WantNear(t, "litres, at the most", c.Litres, 259*drawn.MostKm-10)
	if c.Size != 7.5 || drawn.Key(p, c.Use.FillAt) != "start" {
		t.Errorf("%+v", c)
	}
	in.Bike.Can = 7.5
	if dry := drawn.Visit(t, drawn.Cured(t, in), "A").IfDry; string(dry.Outcome) != c.Verdict || dry.Bare {
		t.Errorf("with the can %s, said %s", dry.Outcome, c.Verdict)
	}
}

func TestCureOfLowGrade(t *testing.T) {
	in := drawn.Ride(drawn.Straight(t, 150), drawn.Pump("low", 50, 0, octane.FromRON(80)), drawn.Pump("good", 100, 0))
	c := drawn.CureBy(t, drawn.WarningOf(t, drawn.Cured(t, in), plan.KindBelowGrade), cure.PassBy, "low")
	in.Options.Skip = []string{"low"}
	for _, l := range drawn.Cured(t, in).Legs {
		if string(l.Mixture.Verdict) != c.Verdict {
			t.Errorf("without it %s, said %s", l.Mixture.Verdict, c.Verdict)
		}
	}
	// Where riding past the pump strands, it is no cure.
	in = drawn.Changed(drawn.Ride(drawn.Straight(t, 330), drawn.Pump("low", 165, 0, octane.FromRON(80))), drawn.FullOfIt)
	if w := drawn.WarningOf(t, drawn.Cured(t, in), plan.KindBelowGrade); len(w.Cures) != 0 || w.NoCure == nil ||
		!(w.NoCure.Octane > 0) {
		t.Errorf("cures %+v, %+v", w.Cures, w.NoCure)
	}
}

func TestNoCure(t *testing.T) {
	w := drawn.WarningOf(t, drawn.Cured(t, drawn.Ride(drawn.Straight(t, 700))), plan.KindShort)
	if len(w.Cures) != 0 || w.NoCure == nil {
		t.Fatalf("cures %+v, %+v", w.Cures, w.NoCure)
	}
	drawn.WantNear(t, "missing", w.NoCure.Litres, 25)
	drawn.WantNear(t, "as far as", w.NoCure.Distance.Kilometres(), 500)
}

func TestACanOfLowGradeSaysSo(t *testing.T) {
	// 8.5 L of 97 and 2 of 90 make 95.7; with 3 L of 90 poured over the 7.4 L left
	// of it after 63 km it is 94.0.
	in := drawn.Ride(drawn.Straight(t, 270), drawn.Pump("home", 0, 0, octane.FromRON(90)), drawn.Pump("low", 40, 0, octane.FromRON(90)),
		drawn.Pump("end", 260, 0))
	in.Options.StartGrade = octane.FromRON(97)
	c := drawn.CureBy(t, drawn.WarningOf(t, drawn.Cured(t, in), plan.KindShort), cure.InCan)
	if c.Below != 1 {
		t.Errorf("cure %+v", c)
	}
}

func TestSizesSold(t *testing.T) {
	// Common practice, no source: the sizes of cans sold, in litres.
	sold := []fuel.Litres{1, 1.5, 2, 3, 4, 5, 7.5, 10, 15, 20}
	in := drawn.Ride(drawn.Straight(t, 100))
	in.Options.HasStartFuel = true
	high := drawn.Cured(t, drawn.Ride(drawn.Straight(t, 100))).Legs[0].Drink.Fuel.High
	for i, s := range sold {
		in.Bike.Tank = 30
		in.Options.Thirst = 1
		in.Line = drawn.Straight(t, 400) // takes 23.1 L at the high figure
		in.Options.StartFuel = high*4 - s + 0.01
		if in.Options.StartFuel < 0 {
			continue
		}
		if got := drawn.Cured(t, in).Can.SizeForPlan.Litres; got != s {
			t.Errorf("%.2f L missing: a %v L can, want %v", s-0.01, got, s)
		}
		in.Options.StartFuel = high*4 - s - 0.01
		want := fuel.Litres(0) // too big
		if i+1 < len(sold) {
			want = sold[i+1]
		}
		if got := drawn.Cured(t, in).Can.SizeForPlan; got.Litres != want || got.TooBig != (want == 0) {
			t.Errorf("%.2f L missing: %+v, want %v", s+0.01, got, want)
		}
	}
}
