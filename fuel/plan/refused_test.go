package plan_test

import (
	"errors"
	"math"
	"testing"

	"lastpump/fuel/plan"
	"lastpump/route"
)

// Options that contradict the bike or themselves are refused in these words.
func TestRefusals(t *testing.T) {
	for _, c := range []struct {
		want, hint string
		spoil      func(o *plan.Options)
	}{
		{"a reserve of -1 % leaves nothing to ride on", "write it like --reserve 15%,30km", func(o *plan.Options) { o.Reserve.Share = -0.01 }},
		{"a reserve of NaN % leaves nothing to ride on", "write it like --reserve 15%,30km", func(o *plan.Options) { o.Reserve.Share = math.NaN() }},
		{"the reserve is no distance", "write it like --reserve 15%,30km", func(o *plan.Options) { o.Reserve.Distance = route.Metres(math.Inf(1)) }},
		{"a corridor of 50.1 km is not between 0 and 50", "it is how far off the line a stop is still visited: --corridor 2km",
			func(o *plan.Options) { o.Corridor = 50100 }},
		{"a thirst of 3.1 is not between 0.5 and 3", "1 is the bike as measured, 1.15 a head wind", func(o *plan.Options) { o.Thirst = 3.1 }},
		{"-1 L at the start do not go into a tank of 10 usable litres", "--start-fuel counts usable litres",
			func(o *plan.Options) { o.HasStartFuel, o.StartFuel = true, -1 }},
		{"both the fuel at the start and the distance since the last fill are given", "give one of --start-fuel and --since-fill",
			func(o *plan.Options) { o.HasStartFuel, o.StartFuel, o.SinceFill = true, 5, 1000 }},
		{`"" is not a standing to trust`, "write --trust seen, phoned or map; hearsay is never counted", func(o *plan.Options) { o.Trust = "" }},
		{`no stop is called "Ash Crek"`, `did you mean "Ash Creek"? --skip takes the name as the list has it`,
			func(o *plan.Options) { o.Skip = []string{"Ash Crek"} }},
	} {
		in := ride(straight(t, 100), pump("Ash Creek", 50, 0))
		c.spoil(&in.Options)
		wantRefused(t, in, c.want, c.hint)
	}
}

func wantRefused(t *testing.T, in plan.Inputs, want, hint string) {
	t.Helper()
	p, err := plan.Make(in)
	var bad *route.InputError
	if p != nil || !errors.As(err, &bad) {
		t.Fatalf("error %v, want an *InputError: %s", err, want)
	}
	if bad.Error() != want || bad.HintText() != hint {
		t.Errorf("error\n%s (%s)\nwant\n%s (%s)", bad, bad.HintText(), want, hint)
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

// A list of which not one stop lies near the line is the list of another ride; a
// bike that cannot be is refused, too.
func TestNothingPassedAndNoBike(t *testing.T) {
	in := ride(straight(t, 100), pump("A", 40, 12), pump("B", 50, 3))
	wantRefused(t, in, "no stop of 2 lies within 2.0 km of the line; the nearest, B, is 3.0 km off",
		"is it the list of another loop? else look farther: --corridor 5km")
	in = ride(straight(t, 100), pump("A", 40, 0))
	in.Bike.Tank = 0
	wantRefused(t, in, "the tank holds nothing", `give it like tank = "14 L"`)
}

// Two points with a gap between them are all gap, of which only the ends are ridden.
func TestALineThatIsAllGap(t *testing.T) {
	there := newPen()
	there.here, there.points = at(1, 0), nil
	wantRefused(t, ride(lineThrough(t, newPen().points, there.dot().points), pump("A", -5, 0)),
		"no stop of 1 lies within 2.0 km of the line; the nearest, A, is 5.0 km off",
		"is it the list of another loop? else look farther: --corridor 5km")
}
