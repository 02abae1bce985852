package plan_test

import (
	"testing"

	"lastpump/fuel/plan"
	"lastpump/fuel/stop"
)

// Riding back climbs what the way out rolled down: 90 km from 1800 m down to A,
// 5.5 L left. Back is 4.5 L and the climb.
func TestBackClimbsTheDescent(t *testing.T) {
	in := ride(lineThrough(t, rising(300, func(km float64) float64 { return max(0, 1800-20*km) })), pump("A", 90, 0), pump("B", 290, 0))
	dry := make1(t, in).Visits[0].IfDry
	if dry.Outcome != plan.Back || dry.To != "start" {
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
	if dry.To != "B" || dry.Outcome != plan.On {
		t.Errorf("%+v", dry)
	}
}

// bare: the outcome fails on the high figures. A at km d, B 100 km on: likely
// within reach up to d = 100 km, on the high figures up to 10/0.05775 − 100 km.
func TestBareBorder(t *testing.T) {
	bare := func(d float64) bool {
		return make1(t, ride(straight(t, 400), pump("A", d, 0), pump("B", d+100, 0))).Visits[0].IfDry.Bare
	}
	wantNear(t, "not bare up to", border(t, 60, 95, func(d float64) bool { return !bare(d) }), 10/highKm-100)
	// Back: 2 × d on the high figures.
	back := func(d float64) bool {
		return make1(t, ride(straight(t, 500), pump("A", d, 0), pump("B", d+200, 0))).Visits[0].IfDry.Bare
	}
	wantNear(t, "back, not bare up to", border(t, 60, 95, func(d float64) bool { return !back(d) }), 10/highKm/2)
}

// Borders of the outcomes: A at km d, B 120 km on.
func TestOutcomeBorders(t *testing.T) {
	outcome := func(d float64) plan.Outcome {
		return make1(t, ride(straight(t, 400), pump("A", d, 0), pump("B", d+120, 0))).Visits[0].IfDry.Outcome
	}
	wantNear(t, "on up to", border(t, 10, 90, func(d float64) bool { return outcome(d) == plan.On }), 80)
	wantNear(t, "back up to", border(t, 90, 150, func(d float64) bool { return outcome(d) == plan.Back }), 100)
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
		dry := make1(t, ride(straight(t, 500), pump("A", c.d, 0), pump("B", c.d+c.on, 0))).Visits[0].IfDry
		if dry.Outcome != plan.Stranded || dry.To != c.to || dry.Bare {
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
	if dry.Outcome != plan.Stranded || dry.To != "B" {
		t.Errorf("%+v", dry)
	}
	wantNear(t, "spare", dry.Spare, -2-5)
	wantNear(t, "for any dry pump", p.Can.ForAnyDryPump, 7)
}

// Last sure fuel: a start or a place before a leg that is not OK, or before a place
// that, if dry, is not on, or that is not seen or phoned (design, dry places).
func TestLastFuelAtTheEnds(t *testing.T) {
	paper := pump("B", 80, 0)
	paper.Standing = stop.Map
	last := func(p *plan.Plan) []bool {
		var out []bool
		for _, v := range p.Visits {
			out = append(out, v.LastFuel)
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
