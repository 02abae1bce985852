package plan_test

import (
	"strings"
	"testing"

	"lastpump/fuel"
	"lastpump/fuel/plan"
	"lastpump/fuel/stop"
	"lastpump/octane"
)

func warningOf(t *testing.T, p *plan.Plan, k plan.Kind) plan.Warning {
	t.Helper()
	for _, w := range p.Warnings {
		if w.Kind == k {
			return w
		}
	}
	t.Fatalf("no %s among %v", k, kinds(p))
	return plan.Warning{}
}

func cureWith(t *testing.T, w plan.Warning, text string) plan.Cure {
	t.Helper()
	for _, c := range w.Cures {
		if strings.Contains(c.Text, text) {
			return c
		}
	}
	t.Fatalf("no cure with %q among %+v (%s)", text, w.Cures, w.NoCure)
	return plan.Cure{}
}

// Each cure is applied again here, through the inputs, and gives what it says.
func TestCuresOfAShortLeg(t *testing.T) {
	said := pump("said", 100, 0)
	said.Standing = stop.Hearsay
	in := ride(straight(t, 210), said, pump("beside", 110, 12), pump("too far", 110, 31))
	w := warningOf(t, make1(t, in), plan.KindShort)

	can := cureWith(t, w, "a 3 L can with at least 2.2 L")
	wantNear(t, "litres", float64(can.Litres), 210*0.05*1.155-10)
	with := in
	with.Bike.Can = 3
	if l := make1(t, with).Legs[0]; string(l.Verdict) != can.Verdict || l.Verdict != plan.OK {
		t.Errorf("with the can %s, said %s", l.Verdict, can.Verdict)
	}

	confirmed := cureWith(t, w, "fill at said, km 100, if it is confirmed")
	with = in
	with.Stops = append([]stop.Stop(nil), in.Stops...)
	with.Stops[0].Standing = stop.Phoned
	for _, l := range make1(t, with).Legs {
		if string(l.Verdict) != confirmed.Verdict {
			t.Errorf("once confirmed %s, said %s", l.Verdict, confirmed.Verdict)
		}
	}

	off := cureWith(t, w, "fill at beside, 12 km off the line at km 110")
	with = in
	with.Options.Corridor = 13000
	p := make1(t, with)
	wantNear(t, "detour", off.Detour.Kilometres(), visit(t, p, "beside").Detour.Kilometres())
	for _, l := range p.Legs {
		if string(l.Verdict) != off.Verdict {
			t.Errorf("over the stop off the line %s, said %s", l.Verdict, off.Verdict)
		}
	}
	for _, c := range w.Cures {
		if strings.Contains(c.Text, "too far") {
			t.Errorf("a stop over 30 km off: %+v", c)
		}
	}
}

func TestCureByStartingFuller(t *testing.T) {
	in := ride(straight(t, 100), pump("A", 90, 0))
	in.Options.HasStartFuel, in.Options.StartFuel = true, 2
	c := cureWith(t, warningOf(t, make1(t, in), plan.KindShort), "set out full: 8.0 L more in the tank")
	in.Options.HasStartFuel = false
	if v := make1(t, in).Legs[0].Verdict; string(v) != c.Verdict {
		t.Errorf("full %s, said %s", v, c.Verdict)
	}
}

func TestCuresOfAStrandingPump(t *testing.T) {
	in := ride(straight(t, 350), pump("A", 150, 0), pump("B", 259, 0)) // 2.5 L left, 5.45 L to B
	w := warningOf(t, make1(t, in), plan.KindStranded)
	c := cureWith(t, w, "a 3 L can with at least 3.0 L in it, filled at the start") // 2.95 L
	in.Bike.Can = 3
	if dry := visit(t, make1(t, in), "A").IfDry; string(dry.Outcome) != c.Verdict {
		t.Errorf("with the can %s, said %s", dry.Outcome, c.Verdict)
	}
}

func TestCureOfLowGrade(t *testing.T) {
	in := ride(straight(t, 150), pump("low", 50, 0, octane.FromRON(80)), pump("good", 100, 0))
	c := cureWith(t, warningOf(t, make1(t, in), plan.KindBelowGrade), "do not fill at low")
	in.Options.Skip = []string{"low"}
	for _, l := range make1(t, in).Legs {
		if string(l.Mixture.Verdict) != c.Verdict {
			t.Errorf("without it %s, said %s", l.Mixture.Verdict, c.Verdict)
		}
	}
	// Where riding past the pump strands, it is no cure.
	in = changed(ride(straight(t, 330), pump("low", 165, 0, octane.FromRON(80))), fullOfIt)
	if w := warningOf(t, make1(t, in), plan.KindBelowGrade); len(w.Cures) != 0 || !strings.HasPrefix(w.NoCure, "no cure found: the tank is up to ") {
		t.Errorf("cures %+v, %q", w.Cures, w.NoCure)
	}
}

func TestNoCure(t *testing.T) {
	w := warningOf(t, make1(t, ride(straight(t, 700))), plan.KindShort)
	if len(w.Cures) != 0 || w.NoCure != "no cure found: 25.0 L or 500 km are missing to arrive" {
		t.Errorf("cures %+v, %q", w.Cures, w.NoCure)
	}
}

func TestACanOfLowGradeSaysSo(t *testing.T) {
	// 8.5 L of 97 and 2 of 90 make 95.7; with 3 L of 90 poured over the 7.4 L left
	// of it after 63 km it is 94.0.
	in := ride(straight(t, 270), pump("low", 40, 0, octane.FromRON(90)), pump("end", 260, 0))
	in.Options.StartGrade = octane.FromRON(97)
	c := cureWith(t, warningOf(t, make1(t, in), plan.KindShort), "can with at least")
	if !strings.Contains(c.Text, "(but 1 leg more below grade)") {
		t.Errorf("cure %q", c.Text)
	}
}

func TestSizesSold(t *testing.T) {
	// Common practice, no source: the sizes of cans sold, in litres.
	sold := []fuel.Litres{1, 1.5, 2, 3, 4, 5, 7.5, 10, 15, 20}
	in := ride(straight(t, 100))
	in.Options.HasStartFuel = true
	high := make1(t, ride(straight(t, 100))).Legs[0].Drink.Fuel.High
	for i, s := range sold {
		in.Bike.Tank = 30
		in.Options.Thirst = 1
		in.Line = straight(t, 400) // takes 23.1 L at the high figure
		in.Options.StartFuel = high*4 - s + 0.01
		if in.Options.StartFuel < 0 {
			continue
		}
		if got := make1(t, in).Can.SizeForPlan.Litres; got != s {
			t.Errorf("%.2f L missing: a %v L can, want %v", s-0.01, got, s)
		}
		in.Options.StartFuel = high*4 - s - 0.01
		want := fuel.Litres(0) // too big
		if i+1 < len(sold) {
			want = sold[i+1]
		}
		if got := make1(t, in).Can.SizeForPlan; got.Litres != want || got.TooBig != (want == 0) {
			t.Errorf("%.2f L missing: %+v, want %v", s+0.01, got, want)
		}
	}
}
