package refused_test

import (
	"context"
	"strings"
	"testing"
	"time"

	"lastpump/cmd/lastpump/internal/words/refused"
	"lastpump/cmd/lastpump/internal/words/units"
	"lastpump/fuel/clock"
	"lastpump/fuel/plan"
	"lastpump/fuel/plan/days"
	"lastpump/route"

	"github.com/paulmach/orb"
)

// clocked puts a ride on the clock, in one zone.
func clocked(in plan.Inputs, o days.Options) plan.Inputs {
	o.Date = time.Date(2026, 7, 1, 0, 0, 0, 0, time.UTC)
	o.First, o.Every, o.Wait = clock.OClock{Hour: 8}, clock.OClock{Hour: 8}, clock.DefaultWait
	if o.Zone == nil {
		o.Zone = func(orb.Point) *time.Location { return time.UTC }
	}
	in.Options.Days = &o
	return in
}

// What cannot be put on the clock is refused in these words, and there is a case for every reason.
// 100 km paved ridden at 65 km/h (the model's likely figure) are 1.54 h, with its 35 min of pauses
// for each of these 2.44 h, and with a fill of 15 min on the way 2.69: 24 h are 8.9 times that.
func TestNoClock(t *testing.T) {
	out := ride(lineOf(t, 0, 100, 0), pump("twice", 50, 0), pump("once", 100, 0), pump("off", 60, 5))
	halt := func(w days.Where) days.Options { return days.Options{Halts: []days.Halt{{Where: w, For: time.Hour}}} }
	took := func(h time.Duration, over route.Metres) days.Options {
		return days.Options{Took: &days.Took{Time: h * time.Hour, Over: over}}
	}
	missing := map[days.Why]bool{}
	for _, why := range days.Whys() {
		missing[why] = true
	}
	for _, c := range []struct {
		why        days.Why
		in         plan.Inputs
		what, hint string
	}{
		{days.NoZone, clocked(out, days.Options{Zone: func(orb.Point) *time.Location { return nil }}),
			"nobody knows which time zone the ride is in at km 0", "say it: --timezone Asia/Bishkek, or hours from UTC, --timezone +6"},
		{days.BeyondEnd, clocked(out, days.Options{Nights: []days.Where{{At: 250_000}}}),
			"km 250.0 is beyond the end of the line, at 200.0", "--halt and --night take kilometres"},
		{days.UnknownStop, clocked(out, halt(days.Where{Stop: "Onces"})), `no stop is called "Onces"`,
			`did you mean "once"? --halt and --night take`},
		{days.NotPassed, clocked(out, halt(days.Where{Stop: "off"})), "the loop does not pass off within the corridor", "give the kilometre"},
		{days.PassedTwice, clocked(out, halt(days.Where{Stop: "Twice"})), "Twice is passed more than once, at km 50, 150",
			"say which it is: 50.0km in place of the name"},
		{days.TookOverMore, clocked(out, took(9, 203_000)), "--took: 203 km ridden are more than the 200 km that there are", "--took takes"},
		{days.TookOverMore, clocked(from(out, 60, 9), took(9, 63_000)), "--took: 63 km ridden are more than the 60 km that there are",
			"up to --from"},
		{days.TookUnlikely, clocked(out, took(24, 100_000)), "--took: that is 8.9 times as long as planned", "door to door"},
	} {
		delete(missing, c.why)
		_, err := plan.Make(context.Background(), c.in)
		what, hint := "", ""
		if err != nil {
			what, hint = refused.Fault(err, units.Metric), refused.Hint(err, units.Metric)
		}
		if !strings.HasPrefix(what, c.what) || !strings.Contains(hint, c.hint) {
			t.Errorf("%s: %s (%s), want %q and %q", c.why, what, hint, c.what, c.hint)
		}
	}
	delete(missing, days.TookNothing) // a ride of nothing but a gap that is skipped
	if len(missing) > 0 {
		t.Errorf("no case of %v", missing)
	}
}

// In miles nothing is said in kilometres.
func TestNoClockInMiles(t *testing.T) {
	for _, why := range days.Whys() {
		f := &days.Fault{Why: why, Stop: "A", At: 3000, Limit: 2000, Passed: []route.Metres{1000, 2000}, Times: 9}
		what, hint := refused.Fault(f, units.US), refused.Hint(f, units.US)
		if what == f.Error() || hint == "" || strings.Contains(what, "km") || strings.Contains(what+hint, "%!") {
			t.Errorf("%s: %s (%s)", why, what, hint)
		}
	}
}

// A distance by the trip meter that is over what there is by its rounding is taken as all there is;
// a night behind the rider is over.
func TestOnTheClock(t *testing.T) {
	out := ride(lineOf(t, 0, 100, 0), pump("once", 100, 0))
	for _, o := range []days.Options{
		{Took: &days.Took{Time: 2 * time.Hour, Over: 61_500}},
		{Nights: []days.Where{{At: 30_000}}},
	} {
		p, err := plan.Make(context.Background(), clocked(from(out, 60, 9), o))
		if err != nil {
			t.Fatal(err)
		}
		if len(p.Days) != 1 {
			t.Errorf("%d days, want one", len(p.Days))
		}
	}
}
