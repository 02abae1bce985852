package plan_test

import (
	"testing"
	"time"

	"lastpump/fuel/leg"
	"lastpump/fuel/plan"
	"lastpump/fuel/stop"
	"lastpump/fuel/trip"
)

// Riding back climbs what the way out rolled down: 90 km from 1800 m down to A,
// 5.5 L left. Back is 4.5 L and the climb.
func TestBackClimbsTheDescent(t *testing.T) {
	in := ride(lineThrough(t, rising(300, func(km float64) float64 { return max(0, 1800-20*km) })), pump("A", 90, 0), pump("B", 290, 0))
	p := make1(t, in)
	dry := p.Visits[0].IfDry
	if dry.Outcome != leg.Back || key(p, dry.To) != "start" {
		t.Fatalf("%+v", dry)
	}
	wantNear(t, "spare", dry.Spare, 10-4.5-4.5-1800*climbL)
}

// There and back to a pump off the line: arriving has taken one half detour, going
// on or back takes the other.
func TestHalfDetoursIfDry(t *testing.T) {
	p := make1(t, ride(straight(t, 300), pump("A", 80, 1.5), pump("B", 160, 1)))
	dry := p.Visits[0].IfDry
	wantNear(t, "spare", dry.Spare, 10-(80+1.95)*likelyKm-(80+1.95+1.3)*likelyKm)
	if key(p, dry.To) != "B" || dry.Outcome != leg.On {
		t.Errorf("%+v", dry)
	}
}

// bare: neither on nor back holds on the most, 0.05 × 1.155^1.3 L/km, which reaches 165.8 km. A at
// km d, B 50 km on: that holds up to 115.8 km, and back to the start up to half of it.
func TestBareBorder(t *testing.T) {
	dry := func(d, on float64) *trip.IfDry {
		return make1(t, ride(straight(t, 500), pump("A", d, 0), pump("B", d+on, 0))).Visits[0].IfDry
	}
	wantNear(t, "not bare up to", border(t, 100, 149, func(d float64) bool { return !dry(d, 50).Bare }), 10/mostKm-50)
	wantNear(t, "back, not bare up to", border(t, 60, 95, func(d float64) bool { return !dry(d, 200).Bare }), 10/mostKm/2)
	// B 100 km on is within reach on the likely figures, and back on the most: that is told,
	// and is not bare.
	wantNear(t, "on at the most up to", border(t, 60, 85, func(d float64) bool { return dry(d, 100).High == leg.On }),
		10/mostKm-100)
	if d := dry(80, 100); d.Outcome != leg.On || d.High != leg.Back || d.Bare || d.Back.Kind != trip.AtStart {
		t.Errorf("%+v", d)
	}
}

// A pump that is ridden past is there when the chosen one is dry: C is chosen at 100 km, 5 L
// are left there, 7 would take one on to D and 5 back to A. B, not filled at, is 50 km back.
// Skipped, it helps nobody.
func TestPassedPumpsHelpWhereAChosenOneIsDry(t *testing.T) {
	in := ride(straight(t, 380), pump("A", 0, 0), pump("B", 50, 0), pump("C", 100, 0), pump("D", 240, 0))
	in.Options.FillAt, in.Options.Detours = plan.FillChosen, trip.Reach
	p := make1(t, in)
	b, c := visit(t, p, "B"), visit(t, p, "C")
	if b.Counted || !c.Counted {
		t.Fatalf("chosen: B %v, C %v", b.Counted, c.Counted)
	}
	if c.IfDry.Outcome != leg.Back || key(p, c.IfDry.To) != "B" {
		t.Errorf("C dry: %+v", c.IfDry)
	}
	wantNear(t, "spare", c.IfDry.Spare, 10-5-50*likelyKm)
	in.Options.Skip = []string{"B"}
	if c := visit(t, make1(t, in), "C"); key(p, c.IfDry.To) == "B" {
		t.Errorf("B skipped: %+v", c.IfDry)
	}
	// Ahead it is the same: past D, which is not filled at, lies E.
	in = ride(straight(t, 300), pump("A", 0, 0), pump("C", 110, 0), pump("D", 160, 1), pump("E", 200, 0))
	in.Options.FillAt, in.Options.Detours = plan.FillChosen, trip.Reach
	p = make1(t, in)
	c = visit(t, p, "C")
	if visit(t, p, "D").Counted || c.IfDry.Outcome != leg.On || key(p, c.IfDry.To) != "D" {
		t.Errorf("D counted %v; C dry: %+v", visit(t, p, "D").Counted, c.IfDry)
	}
	wantNear(t, "spare, the half detour to D in it", c.IfDry.Spare, 10-110*likelyKm-(50+1.3)*likelyKm)
}

// Borders of the outcomes: A at km d, B 120 km on.
func TestOutcomeBorders(t *testing.T) {
	outcome := func(d float64) leg.Outcome {
		return make1(t, ride(straight(t, 400), pump("A", d, 0), pump("B", d+120, 0))).Visits[0].IfDry.Outcome
	}
	wantNear(t, "on up to", border(t, 10, 90, func(d float64) bool { return outcome(d) == leg.On }), 80)
	wantNear(t, "back up to", border(t, 90, 150, func(d float64) bool { return outcome(d) == leg.Back }), 100)
}

// Stranded names the stop that is less out of reach, and is never bare.
func TestStrandedIsNotBare(t *testing.T) {
	for _, c := range []struct {
		d, on, spare float64
		to           string
	}{
		{120, 140, 4 - 6, "start"}, // back 6 L, on 7 L
		{150, 100, 2.5 - 5, "B"},   // back 7.5 L, on 5 L
	} {
		p := make1(t, ride(straight(t, 500), pump("A", c.d, 0), pump("B", c.d+c.on, 0)))
		dry := p.Visits[0].IfDry
		if dry.Outcome != leg.Stranded || key(p, dry.To) != c.to || dry.Bare {
			t.Errorf("%+v", dry)
		}
		wantNear(t, "spare", dry.Spare, c.spare)
	}
}

// After a SHORT leg what is left counts below nothing: 240 km take 12 L, so −2 L at
// A and 5 L more to B.
func TestDryAfterAShortLeg(t *testing.T) {
	p := make1(t, ride(straight(t, 500), pump("A", 240, 0), pump("B", 340, 0)))
	dry := p.Visits[0].IfDry
	if dry.Outcome != leg.Stranded || key(p, dry.To) != "B" {
		t.Errorf("%+v", dry)
	}
	wantNear(t, "spare", dry.Spare, -2-5)
	wantNear(t, "for any dry pump", p.Can.ForAnyDryPump, 7)
}

// Last sure fuel: a start or a place that is sure itself, before a leg that is not OK, or
// before a fill that, if dry, is not on, or that is not sure: seen or phoned, confirmed within
// a year.
func TestLastFuelAtTheEnds(t *testing.T) {
	paper := pump("B", 80, 0)
	paper.Standing = stop.Map
	last := func(p *plan.Plan) []bool {
		var out []bool
		for _, v := range p.Visits {
			out = append(out, v.LastFuel != nil)
		}
		return out
	}
	for _, c := range []struct {
		name string
		p    *plan.Plan
		want []bool
	}{
		{"start before a stop from a map", make1(t, ride(straight(t, 120), pump("A", 0, 0), paper)), []bool{true, false}},
		{"before a SHORT leg to the end", make1(t, ride(straight(t, 300), pump("A", 50, 0))), []bool{true}},
		{"before a TIGHT leg to the end", make1(t, ride(straight(t, 230), pump("A", 50, 0))), []bool{true}},
		{"a map stop at the end is not asked", make1(t, ride(straight(t, 80), pump("A", 40, 0), paper)), []bool{false, false}},
		{"before a place that is back", make1(t, ride(straight(t, 290), pump("A", 20, 0), pump("B", 100, 0))), []bool{true, true}},
		{"itself from a map", make1(t, ride(straight(t, 300), told(pump("A", 50, 0), stop.Map, "2026-06-01"))), []bool{false}},
		{"itself confirmed too long ago", make1(t, ride(straight(t, 300), told(pump("A", 50, 0), stop.Seen, "2025-06-30"))), []bool{false}},
		{"itself without a date", make1(t, ride(straight(t, 300), told(pump("A", 50, 0), stop.Phoned, ""))), []bool{false}},
		{"just a year ago", make1(t, ride(straight(t, 300), told(pump("A", 50, 0), stop.Phoned, "2025-07-01"))), []bool{true}},
		{"before one without a date", make1(t, ride(straight(t, 120), pump("A", 0, 0), told(pump("B", 80, 0), stop.Seen, ""))),
			[]bool{true, false}},
		{"before a place that is on", make1(t, ride(straight(t, 220), pump("A", 20, 0), pump("B", 100, 0))), []bool{false, false}},
	} {
		got := last(c.p)
		for i := range c.want {
			if len(got) != len(c.want) || got[i] != c.want[i] {
				t.Errorf("%s: last fuel %v, want %v", c.name, got, c.want)
				break
			}
		}
	}
}

// told gives a stop with another standing, confirmed on a day; "" for none.
func told(s stop.Stop, st stop.Standing, day string) stop.Stop {
	s.Standing, s.HasConfirmed = st, day != ""
	s.Confirmed, _ = time.Parse(time.DateOnly, day)
	return s
}

// Judged with the can: 190 km eat the margin of a full tank, with 5 L more they do not.
func TestLastFuelIsJudgedWithTheCan(t *testing.T) {
	in := ride(straight(t, 240), pump("A", 50, 0))
	if visit(t, make1(t, in), "A").LastFuel == nil {
		t.Error("without a can A is the last sure fuel")
	}
	in.Bike.Can = 5
	if l := visit(t, make1(t, in), "A").LastFuel; l != nil {
		t.Errorf("with the can: %+v", l)
	}
}

// Before another pump that nobody is sure of, one that nobody is sure of either says so.
func TestUnsureBeforeUnsure(t *testing.T) {
	a, b := told(pump("A", 40, 0), stop.Map, ""), told(pump("B", 80, 0), stop.Seen, "2024-01-01")
	p := make1(t, ride(straight(t, 160), a, b, pump("C", 120, 0)))
	for name, want := range map[string]bool{"A": true, "B": false, "C": false} {
		if v := visit(t, p, name); v.UnsureAhead != want || v.LastFuel != nil {
			t.Errorf("%s: unsure ahead %v, last fuel %+v", name, v.UnsureAhead, v.LastFuel)
		}
	}
}
