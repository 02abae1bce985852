package plan_test

import (
	"slices"
	"testing"
	"time"

	"lastpump/fuel"
	"lastpump/fuel/clock"
	"lastpump/fuel/leg"
	"lastpump/fuel/plan"
	"lastpump/fuel/plan/days"
	"lastpump/fuel/stop"
	"lastpump/octane"
	"lastpump/route"
	"lastpump/testdata/kit/drawn"

	"github.com/google/go-cmp/cmp"
	"github.com/paulmach/orb"
	"pgregory.net/rapid"
)

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
	unknown.Confirmed, unknown.HasConfirmed = time.Date(2027, 1, 1, 0, 0, 0, 0, time.UTC), true
	in := ride(lineThrough(t, a, b), pump("low", 100, 0, octane.FromRON(80)), unknown, old, paper)
	in.Grounds = route.Grounds{Default: route.Paved, Sections: []route.Section{{From: 10000, To: 20000,
		Ground: route.Unknown}}}
	in.Options.HasStartFuel, in.Options.StartFuel = true, 4
	return in
}

// A ride that sets out at ten in the evening: to a pump that is shut until the morning, by which it
// sleeps; to one that shuts at ten past midnight, before who is late has filled; to one of which no
// hours are known; and to an end in the dark.
func everyHour(t testing.TB) plan.Inputs {
	t.Helper()
	shut, maybe := pump("shut", 40, 0), pump("maybe", 80, 0)
	shut.Hours, maybe.Hours = "Mo-Su 10:00-20:00", "Mo-Su 00:00-00:10,12:00-24:00"
	in := ride(straight(t, 200), shut, maybe, pump("unknown", 120, 0))
	ten := clock.OClock{Hour: 22}
	in.Options.Days = &days.Options{Date: in.Options.Today, First: ten, Every: ten, Wait: clock.DefaultWait,
		Zone: func(orb.Point) *time.Location { return time.UTC }}
	return in
}

func TestWarningsStandInRankOrder(t *testing.T) {
	var got []plan.Kind
	for _, in := range []plan.Inputs{everyKind(t), everyHour(t)} {
		of := kinds(make1(t, in))
		ranked := slices.IsSortedFunc(of, func(a, b plan.Kind) int {
			return slices.Index(plan.Kinds(), a) - slices.Index(plan.Kinds(), b)
		})
		if !ranked {
			t.Errorf("not in rank order: %v", of)
		}
		got = append(got, of...)
	}
	for _, k := range plan.Kinds() {
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
	if !slices.Contains(kinds(p), plan.KindCoarseLine) {
		t.Errorf("%v", kinds(p))
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

// Litres at 5 L/100 km into 10.5 with the dead rest: low at 100 km makes (5.5 × 95 + 5 × 90)/10.5
// = 92.62, at 180 (6.5 × 92.62 + 4 × 90)/10.5 = 91.62, 98 at 260 makes 94.05 of it and at 340
// 95.55: it meets. 80 at 420 makes 89.6. So it is two causes, and the first takes more from the engine.
func TestLowGradeInARowIsOneWarning(t *testing.T) {
	p := makeRide(t, ride(straight(t, 460), pump("low", 100, 0, ron(90)), pump("lower", 180, 0, ron(90)),
		pump("good", 260, 0, ron(98)), pump("better", 340, 0, ron(98)), pump("last", 420, 0, ron(80))))
	var got []plan.Warning
	for _, w := range p.Warnings {
		if w.Kind == plan.KindBelowGrade {
			got = append(got, w)
		}
	}
	want := []plan.Warning{
		{Kind: plan.KindBelowGrade, Leg: 2, Visit: -1, Legs: []int{1, 2, 3}, Fact: plan.MixtureBelow{Fills: []int{0, 1}}},
		{Kind: plan.KindBelowGrade, Leg: 5, Visit: -1, Legs: []int{5}, Fact: plan.MixtureBelow{Fills: []int{4}}},
	}
	if diff := cmp.Diff(want, got); diff != "" {
		t.Error(diff)
	}
}

// Pumps of which the same is said are in one warning: all but "seen" are from a map or old, two
// have no grade, and each that is sure is the last sure one before one that is not.
func TestWhatIsSaidOfSeveralStopsIsOneWarning(t *testing.T) {
	today := time.Date(2026, 7, 1, 0, 0, 0, 0, time.UTC)
	sure := func(s stop.Stop) stop.Stop { s.Confirmed, s.HasConfirmed = today, true; return s }
	old := pump("old", 80, 0)
	old.Confirmed, old.HasConfirmed = time.Date(2024, 7, 1, 0, 0, 0, 0, time.UTC), true
	in := ride(straight(t, 240), sure(pump("a", 40, 0)), old, sure(pump("b", 120, 0)), drawn.Standing(pump("map", 160, 0), stop.Map),
		drawn.Standing(pump("too", 200, 0), stop.Map))
	in.Stops[3].Grades, in.Stops[4].Grades = nil, nil
	in.Options.Today = today
	p := make1(t, in)
	for _, want := range []plan.Warning{
		{Kind: plan.KindLastFuel, Leg: -1, Visit: 0, Visits: []int{0, 2}, Fact: plan.LastSure{Unsure: true}},
		{Kind: plan.KindLastFuel, Leg: -1, Visit: 3, Visits: []int{3}, Fact: plan.UnsureToo{}},
		// 2 L of 80 in 10.5 make 92.1 to 95, twice 89.8: "not known" where over 2 % are.
		{Kind: plan.KindGradeNotKnown, Leg: 5, Visit: 3, Legs: []int{4, 5}, Visits: []int{3, 4}, Fact: plan.GradeNotKnown{}},
		{Kind: plan.KindStale, Leg: -1, Visit: 1, Visits: []int{1, 3, 4}, Fact: plan.NotConfirmed{}},
	} {
		if !slices.ContainsFunc(p.Warnings, func(w plan.Warning) bool { return cmp.Equal(w, want) }) {
			t.Errorf("no %+v among %+v", want, p.Warnings)
		}
	}
	if len(p.Warnings) != 4 {
		t.Errorf("%d warnings, want 4: %+v", len(p.Warnings), p.Warnings)
	}
}

// covered says what each kind of warning is about, read from legs and visits alone.
func covered(p *plan.Plan) (legs, visits map[string][]int) {
	legs, visits = map[string][]int{}, map[string][]int{}
	for i, l := range p.Legs {
		of := map[leg.Verdict]plan.Kind{leg.Short: plan.KindShort, leg.Tight: plan.KindTight}
		if k := string(of[l.Verdict]); k != "" {
			legs[k] = append(legs[k], i)
		}
		switch l.Mixture.Verdict {
		case octane.Below:
			legs[string(plan.KindBelowGrade)] = append(legs[string(plan.KindBelowGrade)], i)
		case octane.Doubtful, octane.NotKnown:
			legs[string(plan.KindGradeNotKnown)] = append(legs[string(plan.KindGradeNotKnown)], i)
		}
	}
	add := func(k string, i int, is bool) {
		if is {
			visits[k] = append(visits[k], i)
		}
	}
	for i, v := range p.Visits {
		add(string(plan.KindStranded), i, v.IfDry != nil && v.IfDry.Outcome == leg.Stranded)
		add("bare", i, v.IfDry != nil && v.IfDry.Bare)
		add(string(plan.KindLastFuel), i, v.LastFuel != nil || v.UnsureAhead)
		add(string(plan.KindGradeNotKnown), i, v.Fill != nil && !v.Fill.HasGrade)
	}
	return legs, visits
}

// Whatever fails is in exactly one warning of its kind, and no warning is about what does not
// fail; Leg and Visit are among what it is about, and legs below grade in one warning follow
// each other.
func TestEachFailureIsInOneWarning(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := makeRide(t, drawRide(t))
		legs, visits := map[string][]int{}, map[string][]int{}
		for _, w := range p.Warnings {
			k := string(w.Kind)
			if _, bare := w.Fact.(plan.BareIfDry); bare {
				k = "bare"
			}
			legs[k], visits[k] = append(legs[k], w.Legs...), append(visits[k], w.Visits...)
			if (w.Leg < 0) != (len(w.Legs) == 0) || w.Leg >= 0 && !slices.Contains(w.Legs, w.Leg) ||
				(w.Visit < 0) != (len(w.Visits) == 0) || w.Visit >= 0 && w.Visits[0] != w.Visit {
				t.Errorf("%+v", w)
			}
			if n := len(w.Legs); w.Kind == plan.KindBelowGrade && w.Legs[n-1]-w.Legs[0] != n-1 {
				t.Errorf("not in a row: %+v", w)
			}
		}
		wantLegs, wantVisits := covered(p)
		for _, k := range []string{"short", "tight", "below-grade", "grade-not-known", "stranded", "bare", "last-fuel"} {
			slices.Sort(legs[k])
			slices.Sort(visits[k])
			if !slices.Equal(legs[k], wantLegs[k]) || !slices.Equal(visits[k], wantVisits[k]) {
				t.Errorf("%s: legs %v, want %v; visits %v, want %v", k, legs[k], wantLegs[k], visits[k], wantVisits[k])
			}
		}
	})
}

// With as much more in the can as is lacking at the most no place is bare any more.
func TestWhatABarePlaceLacks(t *testing.T) {
	in := ride(straight(t, 190), pump("A", 95, 0))
	p := make1(t, in)
	var lack fuel.Litres
	for _, w := range p.Warnings {
		if f, ok := w.Fact.(plan.BareIfDry); ok {
			lack = f.Lack
		}
	}
	wantNear(t, "lack", lack, 190*mostKm-10)
	in.Bike.Can = lack
	if _, bare := make1(t, in).IfAnyDry(); bare != 0 {
		t.Errorf("%d places are bare with a can of %v L", bare, lack)
	}
}
