package refused_test

import (
	"context"
	"math"
	"strings"
	"testing"

	"lastpump/cmd/lastpump/internal/words/refused"
	"lastpump/cmd/lastpump/internal/words/units"
	"lastpump/fuel/plan"
	"lastpump/fuel/stop"
	"lastpump/route"
)

func TestOptionsRefused(t *testing.T) {
	for want, spoil := range map[string]func(*plan.Inputs){
		"a reserve of 100 % leaves nothing to ride on": func(in *plan.Inputs) { in.Options.Reserve.Share = 1 },
		"the reserve is no distance":                   func(in *plan.Inputs) { in.Options.Reserve.Distance = -1 },
		"a corridor of 0 km is not between 0 and 50":   func(in *plan.Inputs) { in.Options.Corridor = 0 },
		"a thirst of 0 is not between 0.5 and 3":       func(in *plan.Inputs) { in.Options.Thirst = 0 },
		"both the fuel at the start and the distance since the last fill are given": func(in *plan.Inputs) {
			in.Options.HasStartFuel, in.Options.SinceFill = true, 1
		},
		"10.1 L at the start do not go into a tank of 10 usable litres": func(in *plan.Inputs) {
			in.Options.HasStartFuel, in.Options.StartFuel = true, 10.1
		},
		`"hearsay" is not a standing to trust`: func(in *plan.Inputs) { in.Options.Trust = stop.Hearsay },
		`no stop is called "Nowhere"`:          func(in *plan.Inputs) { in.Options.Skip = []string{"Nowhere"} },
		"the section ends at km 101.2, the line at km 100.0": func(in *plan.Inputs) {
			in.Grounds.Sections = []route.Section{{From: 0, To: 101200, Ground: route.Sand}}
		},
		"no stop of 1 lies within 2.0 km of the line; the nearest, pump, is 50 km off": func(in *plan.Inputs) {
			in.Stops = []stop.Stop{pump("pump", 50, 50)}
		},
	} {
		in := ride(straight(t, 100), pump("pump", 50, 0))
		spoil(&in)
		if _, err := plan.Make(context.Background(), in); err == nil || refused.Fault(err, units.Metric) != want {
			t.Errorf("error %v, want %s", err, want)
		} else if refused.Hint(err, units.Metric) == "" {
			t.Errorf("%v has no hint", err)
		}
	}
}

// Options that contradict the bike or themselves are refused in these words.
func TestRefusals(t *testing.T) {
	for _, c := range []struct {
		want, hint string
		spoil      func(o *plan.Options)
	}{
		{"a reserve of -1 % leaves nothing to ride on", "write it like --reserve 15%,30km",
			func(o *plan.Options) { o.Reserve.Share = -0.01 }},
		{"a reserve of NaN % leaves nothing to ride on", "write it like --reserve 15%,30km",
			func(o *plan.Options) { o.Reserve.Share = math.NaN() }},
		{"the reserve is no distance", "write it like --reserve 15%,30km",
			func(o *plan.Options) { o.Reserve.Distance = route.Metres(math.Inf(1)) }},
		{"a corridor of 50.1 km is not between 0 and 50",
			"it is how far off the line a stop is still visited: --corridor 2km",
			func(o *plan.Options) { o.Corridor = 50100 }},
		{"a thirst of 3.1 is not between 0.5 and 3", "1 is the bike as measured, 1.15 a head wind",
			func(o *plan.Options) { o.Thirst = 3.1 }},
		{"-1 L at the start do not go into a tank of 10 usable litres", "--start-fuel counts usable litres",
			func(o *plan.Options) { o.HasStartFuel, o.StartFuel = true, -1 }},
		{"both the fuel at the start and the distance since the last fill are given",
			"give one of --start-fuel and --since-fill",
			func(o *plan.Options) { o.HasStartFuel, o.StartFuel, o.SinceFill = true, 5, 1000 }},
		{`"" is not a standing to trust`, "write --trust seen, phoned or map; hearsay is never counted",
			func(o *plan.Options) { o.Trust = "" }},
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
	p, err := plan.Make(context.Background(), in)
	if p != nil || err == nil {
		t.Fatalf("plan %v, want an error: %s", p, want)
	}
	if what, next := refused.Fault(err, units.Metric), refused.Hint(err, units.Metric); what != want || next != hint {
		t.Errorf("error\n%s (%s)\nwant\n%s (%s)", what, next, want, hint)
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
	there.Here, there.Points = at(1, 0), nil
	wantRefused(t, ride(lineThrough(t, newPen().Points, there.Dot().Points), pump("A", -5, 0)),
		"no stop of 1 lies within 2.0 km of the line; the nearest, A, is 5.0 km off",
		"is it the list of another loop? else look farther: --corridor 5km")
}

func TestWhereaboutsRefused(t *testing.T) {
	out := ride(lineOf(t, 0, 100, 0), pump("twice", 50, 0), pump("once", 100, 0), pump("off", 60, 5))
	at := func(name string) plan.Inputs {
		in := out
		in.Options.FromStop = name
		return in
	}
	length := out.Line.Length()
	end := from(out, 10, 5)
	end.Options.From = length
	lost := used(out, 5, 100)
	elsewhere := at("twice")
	elsewhere.Options.From, elsewhere.Options.HasFrom = 100e3, true
	for _, c := range []struct {
		in         plan.Inputs
		what, hint string
	}{
		{end, "km 200.0 is not before the end of the line, at 200.0", "--from"},
		{from(out, 250, 5), "km 250.0 is not before the end", "--from"},
		{from(out, -1, 5), "km -1.0 is not before the end", "--from"},
		{at("onc"), `no stop is called "onc"`, `did you mean "once"?`},
		{at("off"), "does not pass off within the corridor", "give the kilometre"},
		{at("twice"), "twice is passed more than once, at km 50, 150", `say which it is: --from "twice, 50.0km" or --from "twice, 150.0km"`},
		{elsewhere, "twice is not passed within 5.0 km of km 100, but at km 50, 150", `--from "twice, 150.0km"`},
		{lost, "not where you are", "--from"},
		{used(from(out, 120, 5), 13, 120), "13.0 L over 120 km are 2.17 times the 6.0 L expected", "check the figures"},
		{used(from(out, 120, 5), 2.9, 120), "are 0.48 times", "check the figures"},
		{used(from(out, 120, 5), 5, 133), "133.0 km on the trip meter are more", "zeroed"},
		{used(from(out, 120, 5), 0, 120), "nothing used", "over"},
		{used(from(out, 120, 5), 5, 0), "nothing used", "over"},
	} {
		wantNotFrom(t, c.in, c.what, c.hint)
	}
}

func wantNotFrom(t *testing.T, in plan.Inputs, what, hint string) {
	t.Helper()
	_, err := plan.Make(context.Background(), in)
	if err == nil {
		t.Fatalf("no error, want %q", what)
	}
	got, next := refused.Fault(err, units.Metric), refused.Hint(err, units.Metric)
	if !strings.Contains(got, what) || !strings.Contains(got+next, hint) {
		t.Errorf("error %s (%s), want %q and %q", got, next, what, hint)
	}
}
