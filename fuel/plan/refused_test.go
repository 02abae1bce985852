package plan_test

import (
	"context"
	"errors"
	"math"
	"slices"
	"strings"
	"testing"

	"lastpump/fuel/plan"
	"lastpump/fuel/stop"
	"lastpump/route"
)

// Options that contradict the bike or themselves are refused, and say why.
func TestRefusals(t *testing.T) {
	for _, c := range []struct {
		why   plan.Why
		spoil func(o *plan.Options)
	}{
		{plan.BadReserveShare, func(o *plan.Options) { o.Reserve.Share = -0.01 }},
		{plan.BadReserveShare, func(o *plan.Options) { o.Reserve.Share = 1 }},
		{plan.BadReserveShare, func(o *plan.Options) { o.Reserve.Share = math.NaN() }},
		{plan.BadReserveDistance, func(o *plan.Options) { o.Reserve.Distance = route.Metres(math.Inf(1)) }},
		{plan.BadReserveDistance, func(o *plan.Options) { o.Reserve.Distance = -1 }},
		{plan.BadCorridor, func(o *plan.Options) { o.Corridor = 50100 }},
		{plan.BadCorridor, func(o *plan.Options) { o.Corridor = 0 }},
		{plan.BadThirst, func(o *plan.Options) { o.Thirst = 3.1 }},
		{plan.BadThirst, func(o *plan.Options) { o.Thirst = 0 }},
		{plan.BadStartFuel, func(o *plan.Options) { o.HasStartFuel, o.StartFuel = true, -1 }},
		{plan.BadStartFuel, func(o *plan.Options) { o.HasStartFuel, o.StartFuel = true, 10.1 }},
		{plan.StartFuelTwice, func(o *plan.Options) { o.HasStartFuel, o.StartFuel, o.SinceFill = true, 5, 1000 }},
		{plan.BadTrust, func(o *plan.Options) { o.Trust = "" }},
		{plan.BadTrust, func(o *plan.Options) { o.Trust = stop.Hearsay }},
		{plan.BadLowGrade, func(o *plan.Options) { o.LowGrade = "some" }},
		{plan.BadFillAt, func(o *plan.Options) { o.FillAt = "some" }},
		{plan.BadDetours, func(o *plan.Options) { o.FillAt, o.Detours = plan.FillChosen, 80000 }},
		{plan.DetoursNotChosen, func(o *plan.Options) { o.Detours = 30000 }},
		{plan.UnknownSkip, func(o *plan.Options) { o.Skip = []string{"Ash Crek"} }},
	} {
		in := ride(straight(t, 100), pump("Ash Creek", 50, 0))
		c.spoil(&in.Options)
		wantRefused(t, in, c.why)
	}
}

func wantRefused(t *testing.T, in plan.Inputs, why plan.Why) *plan.Refusal {
	t.Helper()
	p, err := plan.Make(context.Background(), in)
	var r *plan.Refusal
	if p != nil || !errors.As(err, &r) || r.Why != why || !slices.Contains(plan.Whys(), why) ||
		!strings.Contains(err.Error(), string(why)) {
		t.Fatalf("error %v, want a refusal: %s", err, why)
	}
	return r
}

// Where the rider says he is.
func TestWhereaboutsRefused(t *testing.T) {
	out := ride(lineOf(t, 0, 100, 0), pump("twice", 50, 0), pump("once", 100, 0), pump("off", 60, 5))
	at := func(name string) plan.Inputs {
		in := out
		in.Options.FromStop = name
		return in
	}
	end := from(out, 10, 5)
	end.Options.From = out.Line.Length()
	for _, c := range []struct {
		in  plan.Inputs
		why plan.Why
	}{
		{end, plan.FromBeyondEnd},
		{from(out, 250, 5), plan.FromBeyondEnd},
		{from(out, -1, 5), plan.FromBeyondEnd},
		{at("onc"), plan.UnknownFrom},
		{at("off"), plan.FromNotPassed},
		{at("twice"), plan.FromPassedTwice},
		{passing(out, "twice", 100), plan.FromPassedElsewhere},
		{passing(out, "twice", 44.9), plan.FromPassedElsewhere},
		{passing(out, "once", 105.1), plan.FromPassedElsewhere},
		{passing(out, "onc", 100), plan.UnknownFrom},
		{passing(out, "off", 60), plan.FromNotPassed},
		{used(out, 5, 100), plan.UsedNotWhere},
		{used(from(out, 120, 5), 13, 120), plan.UsedUnlikely},
		{used(from(out, 120, 5), 2.9, 120), plan.UsedUnlikely},
		{used(from(out, 120, 5), 5, 132.1), plan.UsedOverMore},
		{used(from(out, 120, 5), 0, 120), plan.NothingUsed},
		{used(from(out, 120, 5), 5, 0), plan.NothingUsed},
	} {
		wantRefused(t, c.in, c.why)
	}
}

// A list of which not one stop lies near the line is the list of another ride.
func TestNothingPassed(t *testing.T) {
	r := wantRefused(t, ride(straight(t, 100), pump("A", 40, 12), pump("B", 50, 3)), plan.NoStopNear)
	if r.Name != "B" || r.Stops != 2 || !near(r.At.Kilometres(), 3) || r.Limit != 2000 {
		t.Errorf("%+v", r)
	}
}

// The borders of what is accepted.
func TestOptionsAtTheirBorders(t *testing.T) {
	for _, spoil := range []func(in *plan.Inputs){
		func(in *plan.Inputs) { in.Options.Reserve.Share = 0.999 },
		func(in *plan.Inputs) { in.Options.Corridor = 50000 },
		func(in *plan.Inputs) { in.Options.Thirst = 0.5 },
		func(in *plan.Inputs) { in.Options.Thirst = 3 },
		func(in *plan.Inputs) { in.Options.HasStartFuel, in.Options.StartFuel = true, 0 },
		func(in *plan.Inputs) { in.Options.HasStartFuel, in.Options.StartFuel = true, 10 },
		func(in *plan.Inputs) { in.Options.Skip = []string{"ash creek"} }, // in any case
		func(in *plan.Inputs) { in.Grounds.Sections = []route.Section{section(0, 100.1, route.Sand)} },
	} {
		in := ride(straight(t, 100), pump("Ash Creek", 50, 0))
		spoil(&in)
		make1(t, in)
	}
}
