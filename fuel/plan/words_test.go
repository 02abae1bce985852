package plan_test

import (
	"testing"
	"time"

	"lastpump/fuel/plan"
	"lastpump/fuel/stop"
	"lastpump/octane"
	"lastpump/route"
)

// A said is a warning that a ride wants, in its words.
type said struct {
	name       string
	in         plan.Inputs
	kind       plan.Kind
	leg, visit int
	text       string
}

func wantSaid(t *testing.T, cases []said) {
	t.Helper()
	for _, c := range cases {
		w := warningOf(t, make1(t, c.in), c.kind)
		if w.Text != c.text || w.Leg != c.leg || w.Visit != c.visit {
			t.Errorf("%s: leg %d, visit %d\n%s\nwant leg %d, visit %d\n%s", c.name, w.Leg, w.Visit, w.Text, c.leg, c.visit, c.text)
		}
	}
}

// changed gives inputs after a change.
func changed(in plan.Inputs, change func(in *plan.Inputs)) plan.Inputs {
	change(&in)
	return in
}

func standing(s stop.Stop, st stop.Standing) stop.Stop {
	s.Standing = st
	return s
}

// Litres needed are rounded up, those there are down; all figures follow from 5
// L/100 km, 10 L and the high figure's 0.05775 L/km.
func TestWordsOfLegs(t *testing.T) {
	wantSaid(t, []said{
		{"short", ride(straight(t, 300), pump("A", 249.9, 0)), plan.KindShort, 0, -1,
			"leg 1, the start to A: takes 12.5 L, there are 10.0 L: 2.5 L short, the last 50 km of 250 km"},
		// 190 km take 10.9725 L at the high figure.
		{"tight at the high figure", ride(straight(t, 190)), plan.KindTight, 0, -1,
			"leg 1, the start to the end: keeps its reserve, but at the high figure it takes 11.0 L and there are 10.0 L"},
		{"tight by the reserve", changed(ride(straight(t, 160)), func(in *plan.Inputs) { in.Options.Reserve.Share = 0.25 }), plan.KindTight, 0, -1,
			"leg 1, the start to the end: arrives with 2.0 L, the reserve is 2.5 L"},
		// 0.9725 L are the last 19.45 km at the likely rate.
		{"tight by both", changed(ride(straight(t, 190)), func(in *plan.Inputs) { in.Options.Reserve.Share = 0.15 }), plan.KindTight, 0, -1,
			"leg 1, the start to the end: arrives with 0.5 L, the reserve is 1.5 L; at the high figure it is dry 19 km before"},
		// (5.5 × 95 + 5 × 80)/10.5 = 87.857
		{"below grade", ride(straight(t, 190), pump("A", 100, 0, ron(80))), plan.KindBelowGrade, 1, -1,
			"leg 2, A to the end: ridden on 87.8 RON, the engine needs 95 RON"},
		{"below grade uphill", ride(lineThrough(t, rising(190, func(km float64) float64 { return max(0, 10*(km-100)) })), pump("A", 100, 0, ron(80))),
			plan.KindBelowGrade, 1, -1,
			"leg 2, A to the end: ridden on 87.8 RON, the engine needs 95 RON; it climbs 900 m while under it"},
		// 87 AKI is 91 to 92 RON: (5.5 × 95 + 5 × 91)/10.5 = 93.095, with 92 it is 93.571.
		{"below grade from to", ride(straight(t, 190), pump("A", 100, 0, octane.FromAKI(87))), plan.KindBelowGrade, 1, -1,
			"leg 2, A to the end: ridden on 93.0 to 93.5 RON, the engine needs 95 RON"},
		{"doubtful", ride(straight(t, 190), pump("A", 100, 0, octane.FromAKI(90))), plan.KindGradeNotKnown, 1, -1,
			"leg 2, A to the end: ridden on 94.5 to 95.0 RON, which may be under the 95 RON needed"},
		{"not known", ride(straight(t, 190), changedStop(pump("A", 100, 0), func(s *stop.Stop) { s.Grades = nil })), plan.KindGradeNotKnown, 1, -1,
			"leg 2, A to the end: ridden on 87.8 to 95.0 RON, with petrol of no known grade in it; the engine needs 95 RON"},
	})
}

func changedStop(s stop.Stop, change func(s *stop.Stop)) stop.Stop {
	change(&s)
	return s
}

func TestWordsOfStops(t *testing.T) {
	day := func(s stop.Stop, year int) stop.Stop {
		s.Confirmed, s.HasConfirmed = time.Date(year, 6, 30, 0, 0, 0, 0, time.UTC), true
		return s
	}
	home := pump("home", 0, 0)
	wantSaid(t, []said{
		// 7.4 L to A leave 2.6; to B it is 5.4.
		{"stranded", ride(straight(t, 350), pump("A", 148, 0), pump("B", 256, 0)), plan.KindStranded, -1, 0,
			"if A is dry you are stranded: 2.8 L short of B, and more the other way"},
		{"stranded, back", ride(straight(t, 300), pump("A", 120, 0), pump("B", 280, 0)), plan.KindStranded, -1, 0,
			"if A is dry you are stranded: 2.0 L short of the start, and more the other way"},
		{"last fuel: the leg", ride(straight(t, 230), pump("A", 40, 0)), plan.KindLastFuel, -1, 0,
			"A is the last sure fuel: the leg to the end is TIGHT"},
		{"last fuel: back, and from a map", ride(straight(t, 252), home, standing(pump("A", 80, 0), stop.Map)), plan.KindLastFuel, -1, 0,
			"home is the last sure fuel: if A is dry you have to ride back to home; A is only from a map"},
		{"last fuel: stranded", ride(straight(t, 290), home, pump("A", 120, 0)), plan.KindLastFuel, -1, 0,
			"home is the last sure fuel: if A is dry you are stranded"},
		{"bare", ride(straight(t, 190), pump("A", 95, 0)), plan.KindNote, -1, 0,
			"if A is dry, the end (on) is within reach on the likely figures, not on the high ones"},
		{"from a map", ride(straight(t, 90), standing(pump("A", 50, 0), stop.Map)), plan.KindStale, -1, 0, "A is only from a map"},
		{"from a map, confirmed", ride(straight(t, 90), day(standing(pump("A", 50, 0), stop.Map), 2026)), plan.KindStale, -1, 0,
			"A is only from a map, last confirmed 2026-06-30"},
		{"over a year ago", ride(straight(t, 90), day(pump("A", 50, 0), 2025)), plan.KindStale, -1, 0,
			"A was last confirmed 2025-06-30, over a year ago"},
		{"no stops", ride(straight(t, 90)), plan.KindNote, -1, -1, "no fuel stops are given: the whole ride is one leg"},
		{"no can is that big", ride(straight(t, 649), pump("A", 0, 0)), plan.KindNote, -1, -1, // 649 km × 0.05775 − 10
			"27.5 L of spare fuel would be needed: no can sold is that big, plan another stop"},
	})
	// Of one stop, passed twice, it is said once.
	p := make1(t, ride(lineOf(t, 0, 90, 0), standing(pump("A", 40, 0), stop.Map)))
	n := 0
	for _, k := range kinds(p) {
		if k == plan.KindStale {
			n++
		}
	}
	if n != 1 || len(p.Visits) != 2 {
		t.Errorf("%d times stale for %d visits", n, len(p.Visits))
	}
}

// The table of the stretch has 1.23 at 2 km and 1.28 at 5, at most 1.41 and 1.57:
// in the logarithm 3 km lies 0.4425 of the way, 1.252 and 1.481. 100 km of climb
// not known are 1500 m, 0.4774 L, and 1.10 of that in the high figure.
func TestWordsOfTheLine(t *testing.T) {
	coarse := newPen()
	for range 30 {
		coarse.here = orbNorth(coarse.here, 3)
		coarse.dot()
	}
	bare := newPen().north(100).points
	for i := range bare {
		bare[i].HasEle = false
	}
	far := newPen()
	far.here, far.points = at(120, 0), nil
	far.dot().north(50)
	astray := newPen().north(100).points
	astray[50].Point = at(50, 70)
	some := ride(straight(t, 100))
	some.Grounds.Sections = []route.Section{section(20, 32, route.Unknown)}
	wantSaid(t, []said{
		{"coarse", ride(lineWith(t, route.LineOptions{}, coarse.points)), plan.KindCoarseLine, -1, -1,
			"the line is drawn too coarsely to trust: the ride is taken as 1.25 times as long, at the most 1.48 times"},
		{"gap", ride(lineThrough(t, newPen().north(100).points, far.points)), plan.KindGap, -1, -1,
			"a gap of 20 km at km 100.0: counted as ridden, 1.3 times as far as straight across"},
		{"ferry", ride(lineWith(t, route.LineOptions{Stretch: 1, Gaps: route.GapsSkip}, newPen().north(100).points, far.points)), plan.KindGap, -1, -1,
			"a gap of 20 km at km 100.0: not ridden and costs no fuel (a ferry: ask whether it takes a filled can)"},
		{"ground", some, plan.KindUnknownGround, -1, -1, "the ground is not known over 12 km: planned as dirt"},
		{"climb", ride(lineThrough(t, bare)), plan.KindUnknownClimb, -1, -1,
			"the climb is not known over 100 km: it is not in the likely litres; the high ones have 0.6 L more for it"},
		{"stray", changed(ride(lineThrough(t, astray), pump("A", 10, 0)), func(in *plan.Inputs) {}), plan.KindNote, -1, -1,
			"1 point left out: stray, 70 km away from the rest"},
	})
	// Up to 100 m of unknown ground is where another program measured the end.
	some.Grounds.Sections = []route.Section{section(20, 20.1, route.Unknown)}
	for _, k := range kinds(make1(t, some)) {
		if k == plan.KindUnknownGround {
			t.Error("100 m of unknown ground are warned of")
		}
	}
}

// Unknown climb: none in the likely litres, 15 m a kilometre of line in the high.
func TestUnknownClimb(t *testing.T) {
	points := newPen().north(100).points
	for i := range points {
		points[i].HasEle = i <= 50
	}
	p := make1(t, ride(lineWith(t, route.LineOptions{Stretch: 1.1}, points)))
	f := p.Legs[0].Drink.Fuel
	wantNear(t, "likely", f.Likely, 110*likelyKm)
	wantNear(t, "low", f.Low, 110*lowKm)
	wantNear(t, "high", f.High, 110*highKm+1.10*50*15*climbL)
	if p.Loop.HasAscent || !near(p.Loop.NoHeights.Kilometres(), 50) {
		t.Errorf("loop %+v", p.Loop)
	}
}

func TestHolds(t *testing.T) {
	for _, c := range []struct {
		name string
		in   plan.Inputs
		want bool
	}{
		{"all well", ride(straight(t, 100), pump("A", 50, 0)), true},
		{"TIGHT", ride(straight(t, 190)), true},
		{"SHORT", ride(straight(t, 210)), false},
		{"stranded", ride(straight(t, 350), pump("A", 148, 0), pump("B", 256, 0)), false},
		{"back", ride(straight(t, 260), pump("A", 80, 0)), true},
		{"below grade", ride(straight(t, 190), pump("A", 100, 0, ron(80))), false},
		{"doubtful", ride(straight(t, 190), pump("A", 100, 0, octane.FromAKI(90))), true},
		{"not known", ride(straight(t, 190), changedStop(pump("A", 100, 0), func(s *stop.Stop) { s.Grades = nil })), true},
		{"a low fill that the tank carries", ride(straight(t, 100), pump("A", 5, 0, ron(92))), true},
	} {
		if p := make1(t, c.in); p.Holds() != c.want {
			t.Errorf("%s: holds %v, want %v (%v)", c.name, p.Holds(), c.want, kinds(p))
		}
	}
}

func TestNotesOfFiles(t *testing.T) {
	p := make1(t, ride(straight(t, 100), pump("A", 50, 0)))
	p.Note("loop.gpx:3:1: odd", "another")
	last := p.Warnings[len(p.Warnings)-1]
	if last.Kind != plan.KindNote || last.Text != "another" || last.Leg != -1 || last.Visit != -1 || !p.Holds() {
		t.Errorf("%+v", p.Warnings)
	}
}

// orbNorth goes so many kilometres north.
func orbNorth(from [2]float64, km float64) [2]float64 {
	return [2]float64{from[0], from[1] + km/perDegree}
}
