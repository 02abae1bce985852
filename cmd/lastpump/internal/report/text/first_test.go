package text_test

import (
	"context"
	"testing"

	"lastpump/cmd/lastpump/internal/report/samples"
	"lastpump/cmd/lastpump/testdata/screen"
	"lastpump/fuel/plan"
	"lastpump/testdata/kit/drawn"

	"pgregory.net/rapid"
)

// wantOneScreen wants the first screen of a plan to fit.
func wantOneScreen(t samples.T, p *plan.Plan, in string) {
	t.Helper()
	s, err := screen.First(p, in)
	if err == nil {
		err = screen.Fits(s, p)
	}
	if err != nil {
		t.Fatal(err)
	}
}

var allUnits = []string{"metric", "us", "uk"}

func TestExamplesFitOneScreen(t *testing.T) {
	for _, name := range []string{"steppe", "canyon"} {
		for _, at := range []plan.FillAt{plan.FillChosen, plan.FillEverywhere} {
			for _, timed := range []bool{false, true} {
				p := samples.ExampleWith(t, name, func(in *plan.Inputs) {
					if in.Options.FillAt = at; timed {
						samples.Timed(in)
					}
				})
				for _, u := range allUnits {
					wantOneScreen(t, p.Plan, u)
				}
			}
		}
	}
}

func TestDrawnPlansFitOneScreen(t *testing.T) {
	t.Run("odd names and groups", rapid.MakeCheck(func(t *rapid.T) {
		p := samples.Draw(t)
		wantOneScreen(t, p.Plan, string(p.Units))
	}))
	t.Run("rides", rapid.MakeCheck(func(t *rapid.T) {
		in := drawn.AnyRide(t)
		if rapid.Bool().Draw(t, "timed") {
			samples.Timed(&in)
		}
		p := drawn.Cured(t, in)
		if err := plan.Calls(context.Background(), p); err != nil {
			t.Fatal(err)
		}
		wantOneScreen(t, p, rapid.SampledFrom(allUnits).Draw(t, "units"))
	}))
}
