package plan_test

import (
	"slices"
	"strings"
	"testing"
	"time"

	"lastpump/fuel/plan"
	"lastpump/fuel/stop"
	"lastpump/octane"
	"lastpump/route"
)

func kinds(p *plan.Plan) []plan.Kind {
	var out []plan.Kind
	for _, w := range p.Warnings {
		out = append(out, w.Kind)
	}
	return out
}

// One ride that provokes every kind of warning but a coarse line.
func everyKind(t testing.TB) plan.Inputs {
	t.Helper()
	var a, b []route.Point
	for k := range 241 {
		a = append(a, route.Point{Point: at(float64(k), 0), HasEle: true})
	}
	for k := range 261 {
		b = append(b, route.Point{Point: at(260+float64(k), 0)}) // 20 km on, without heights
	}
	a[120].Point = at(120, 90) // astray
	old, paper, unknown := pump("old", 300, 0), pump("paper", 480, 0, octane.FromRON(80)), pump("unknown", 130, 0)
	old.Confirmed, old.HasConfirmed = time.Date(2025, 6, 30, 0, 0, 0, 0, time.UTC), true
	paper.Standing = stop.Map
	unknown.Grades = nil
	in := ride(lineThrough(t, a, b), pump("low", 100, 0, octane.FromRON(80)), unknown, old, paper)
	in.Grounds = route.Grounds{Default: route.Paved, Sections: []route.Section{{From: 10000, To: 20000, Ground: route.Unknown}}}
	in.Options.HasStartFuel, in.Options.StartFuel = true, 4
	return in
}

func TestWarningsStandInRankOrder(t *testing.T) {
	got := kinds(make1(t, everyKind(t)))
	ranked := slices.IsSortedFunc(got, func(a, b plan.Kind) int { return slices.Index(plan.Kinds, a) - slices.Index(plan.Kinds, b) })
	if !ranked {
		t.Errorf("not in rank order: %v", got)
	}
	for _, k := range plan.Kinds {
		if k != plan.KindCoarseLine && !slices.Contains(got, k) {
			t.Errorf("no %s among %v", k, got)
		}
	}
}

func TestCoarseLineIsSaid(t *testing.T) {
	var points []route.Point
	for k := range 31 {
		points = append(points, route.Point{Point: at(3*float64(k), 0)})
	}
	l, err := route.NewLine([]route.Track{{Segments: [][]route.Point{points}}}, route.LineOptions{})
	if err != nil {
		t.Fatal(err)
	}
	p := make1(t, ride(l))
	if !slices.Contains(kinds(p), plan.KindCoarseLine) || !strings.Contains(p.Answer[0], "too coarsely to trust") {
		t.Errorf("%v: %s", kinds(p), p.Answer[0])
	}
	if f := p.Legs[0].Drink.Fuel; !(f.High > f.Likely*1.155*1.05) {
		t.Errorf("high %v of likely %v is not that of the 90th percentile", f.High, f.Likely)
	}
}

func TestStaleByTheDay(t *testing.T) {
	s := pump("pump", 50, 0)
	s.Confirmed, s.HasConfirmed = time.Date(2025, 7, 1, 0, 0, 0, 0, time.UTC), true
	in := ride(straight(t, 100), s)
	for day, want := range map[string]bool{"2026-07-01": false, "2026-07-02": true} {
		in.Options.Today, _ = time.Parse(time.DateOnly, day)
		in.Options.Today = in.Options.Today.Add(10 * time.Hour) // at any hour of it
		if got := slices.Contains(kinds(make1(t, in)), plan.KindStale); got != want {
			t.Errorf("on %s: stale %v, want %v", day, got, want)
		}
	}
}

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
		"the section ends at km 100.2, the line at km 100.0": func(in *plan.Inputs) {
			in.Grounds.Sections = []route.Section{{From: 0, To: 100200, Ground: route.Sand}}
		},
		"no stop of 1 lies within 2.0 km of the line; the nearest, pump, is 50 km off": func(in *plan.Inputs) {
			in.Stops = []stop.Stop{pump("pump", 50, 50)}
		},
	} {
		in := ride(straight(t, 100), pump("pump", 50, 0))
		spoil(&in)
		_, err := plan.Make(in)
		var hinted interface{ HintText() string }
		if err == nil || !strings.HasSuffix(err.Error(), want) {
			t.Errorf("error %v, want %s", err, want)
		} else if hinted, _ = err.(interface{ HintText() string }); hinted == nil || hinted.HintText() == "" {
			t.Errorf("%v has no hint", err)
		}
	}
}

func TestAnswerOfAGoodRide(t *testing.T) {
	p := make1(t, ride(straight(t, 300), pump("A", 100, 0), pump("B", 150, 0), pump("C", 200, 0)))
	want := [3]string{
		"It holds within your margin on these figures: all 4 legs OK. No can is needed for it.",
		"If any one pump is dry, the next or the last one is within reach.",
		"Grade: the petrol on the way meets 95 RON on every leg.",
	}
	if p.Answer != want || !p.Holds() {
		t.Errorf("answer %q", p.Answer)
	}
}
