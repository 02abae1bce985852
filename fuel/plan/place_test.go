package plan_test

import (
	"slices"
	"testing"

	"lastpump/fuel/leg"
	"lastpump/fuel/stop"
	"lastpump/fuel/trip"
	"lastpump/octane"
	"lastpump/testdata/kit/drawn"
)

// Counted visits within 3 km of the one that opened the place belong to it (design,
// places).
func TestPlaceReachesThreeKilometres(t *testing.T) {
	reach := border(t, 1, 5, func(km float64) bool {
		return len(make1(t, ride(straight(t, 100), pump("A", 50, 0), pump("B", 50+km, 0))).Visits) == 1
	})
	wantNear(t, "the place reaches", reach, 3)
	// It is counted from its first stop, not from the last: 50 and 52 are one
	// place, 54 is another.
	p := make1(t, ride(straight(t, 100), pump("A", 50, 0), pump("B", 52, 0), pump("C", 54, 0)))
	drawn.WantNames(t, p, "A", "C")
}

// What is not counted opens no place and belongs to none: A and C are one though
// the hearsay stop before A is more than 3 km from C.
func TestOnlyCountedStopsMakeAPlace(t *testing.T) {
	before, within := pump("before", 49, 0), pump("within", 51, 0)
	before.Standing, within.Standing = stop.Hearsay, stop.Hearsay
	p := make1(t, ride(straight(t, 100), pump("A", 50, 0), pump("C", 52.5, 0), before, within, pump("D", 90, 0)))
	drawn.WantNames(t, p, "before", "A", "within", "D")
	if also := p.Visits[1].Also; !slices.Equal(also, []string{"C"}) {
		t.Errorf("also %v, want C", also)
	}
	// The place is visited at C if that is better: then it stands behind.
	low := pump("A", 50, 0, octane.FromRON(80))
	p = make1(t, ride(straight(t, 100), low, pump("C", 52.5, 0), before, within))
	drawn.WantNames(t, p, "before", "within", "C")
	wantNear(t, "the leg ends at", p.Legs[0].ToAt.Kilometres(), 52.5)
}

// The best stop of a place: a grade that meets, then the standing, then the
// shortest detour, then the first (design, places).
func TestBestStopOfAPlace(t *testing.T) {
	low := octane.FromRON(92)
	for _, c := range []struct {
		name   string
		change func(a, b *stop.Stop)
		want   string
	}{
		{"all alike: the first", func(a, b *stop.Stop) {}, "A"},
		{"shorter detour", func(a, b *stop.Stop) { a.At = at(50, 1) }, "B"},
		{"on the line is no detour: the first", func(a, b *stop.Stop) { a.At = at(50, 0.29) }, "A"},
		{"standing before detour", func(a, b *stop.Stop) { a.Standing = stop.Phoned; b.At = at(51, 1.5) }, "B"},
		{"map is less than phoned", func(a, b *stop.Stop) { a.Standing, b.Standing = stop.Map, stop.Phoned }, "B"},
		{"grade before standing and detour", func(a, b *stop.Stop) {
			a.Grades[0] = low
			b.Standing, b.At = stop.Map, at(51, 1.5)
		}, "B"},
		{"doubtful is not meets", func(a, b *stop.Stop) { a.Grades[0] = octane.FromAKI(90); b.Standing = stop.Map }, "B"},
		{"not tagged is not meets", func(a, b *stop.Stop) { a.Grades = nil; b.Standing = stop.Map }, "B"},
		{"one grade that meets is enough", func(a, b *stop.Stop) {
			a.Grades = []octane.Grade{low, octane.FromRON(98)}
			b.Standing = stop.Phoned
		}, "A"},
	} {
		a, b := pump("A", 50, 0), pump("B", 51, 0)
		c.change(&a, &b)
		p := make1(t, ride(straight(t, 100), a, b))
		if len(p.Visits) != 1 || p.Visits[0].Stop.Name != c.want || len(p.Visits[0].Also) != 1 {
			t.Errorf("%s: visits %v", c.name, drawn.Names(p))
		}
	}
}

// The same stop at a later passage is the same place. Out to km 95 and back; A at
// km 70 is passed again at 120. If it is dry, 6.5 L are left and the end is 120 km
// on, 6 L.
func TestSamePlaceIsDryAgain(t *testing.T) {
	p := make1(t, ride(lineOf(t, 0, 95, 0), pump("A", 70, 0)))
	first, again := p.Visits[0].IfDry, p.Visits[1].IfDry
	if first.Outcome != leg.On || key(p, first.To) != "end" || again.Outcome != leg.On || key(p, again.To) != "end" {
		t.Errorf("first %+v, again %+v", first, again)
	}
	wantNear(t, "first passing: spare", first.Spare, 6.5-6)
	wantNear(t, "second passing: spare", again.Spare, 7.5-3.5)

	// With 200 km to go, the last other place is the start, 50 + 70 km back.
	p = make1(t, ride(lineOf(t, 0, 95, -200), pump("A", 70, 0)))
	if again = p.Visits[1].IfDry; again.Outcome != leg.Back || key(p, again.To) != "start" {
		t.Errorf("again %+v", again)
	}
	wantNear(t, "second passing, back: spare", again.Spare, 7.5-6)
}

// Places that share a stop are one: on the way out A opens a place with B, 2.9 km
// on, and C is another; on the way back C opens one with B, and A is another. B is
// in both, so all four are dry together.
func TestPlacesThatShareAStopAreOne(t *testing.T) {
	stops := []stop.Stop{pump("A", 60, 0), pump("B", 62.9, 0), pump("C", 65.8, 0)}
	p := make1(t, ride(lineOf(t, 0, 80, 0), stops...))
	drawn.WantNames(t, p, "A", "C", "C", "A")
	for i, want := range []float64{
		10 - 3 - 5, // 60 km ridden, 100 km to the end
		(10 - 5.8*likelyKm) - (160-65.8)*likelyKm,
	} {
		dry := p.Visits[i].IfDry
		if dry.Outcome != leg.On || key(p, dry.To) != "end" {
			t.Errorf("visit %d dry: %+v", i, dry)
		}
		wantNear(t, "spare", dry.Spare, want)
	}
	// Without B they are two places: C is 5.8 km on.
	p = make1(t, ride(lineOf(t, 0, 80, 0), stops[0], stops[2]))
	if dry := p.Visits[0].IfDry; key(p, dry.To) != "C" {
		t.Errorf("A dry: %+v", dry)
	}
}

// A pump at the trailhead of a loop is no last other place to the one at its end:
// but the ride is over there.
func TestEndsAreNeverDry(t *testing.T) {
	p := make1(t, ride(square(t, 30), pump("home", 0, 0), pump("corner", 60, 0)))
	for _, v := range p.Visits {
		if v.Stop.Name == "home" && (v.IfDry != nil || v.Fill == nil) {
			t.Errorf("home at km %v: %+v", v.At.Kilometres(), v)
		}
	}
}

// A place is the start or the end up to 500 m along the line and 300 m off it.
func TestBordersOfTheEnds(t *testing.T) {
	one := func(km, off float64) bool {
		return len(make1(t, ride(straight(t, 100), pump("A", km, off))).Legs) == 1
	}
	wantNear(t, "start, along", border(t, 0, 2, func(km float64) bool { return one(km, 0) }), 0.5)
	wantNear(t, "start, off", border(t, 0, 1, func(off float64) bool { return one(0.2, off) }), 0.3)
	wantNear(t, "end, along", border(t, 100, 98, func(km float64) bool { return one(km, 0) }), 99.5)
	wantNear(t, "end, off", border(t, 0, 1, func(off float64) bool { return one(99.8, off) }), 0.3)
}

// The fill at the start and at the end counts; from and to are "start" and "end"
// all the same.
func TestStopsAtTheEnds(t *testing.T) {
	in := ride(straight(t, 100), pump("A", 0.4, 0), pump("B", 99.6, 0.2))
	in.Options.HasStartFuel, in.Options.StartFuel = true, 4
	p := make1(t, in)
	l := p.Legs[0]
	if len(p.Legs) != 1 || key(p, l.From) != "start" || key(p, l.To) != "end" || l.FromVisit != 0 || l.ToVisit != 1 {
		t.Fatalf("legs %+v", p.Legs)
	}
	wantNear(t, "ridden", l.Drink.Ridden.Kilometres(), 100)
	wantNear(t, "start", l.Start, 10)
	for i, litres := range []float64{6, 5} {
		wantNear(t, "litres", p.Visits[i].Fill.Litres, litres)
		wantNear(t, "tank after", p.Visits[i].Fill.TankAfter, 10)
	}
	if l := p.Legs[0]; l.From != (trip.End{Kind: trip.AtStart, Stop: 0}) || l.To != (trip.End{Kind: trip.AtFinish, Stop: 1}) {
		t.Errorf("ends %+v, %+v", l.From, l.To)
	}
	if l := make1(t, ride(straight(t, 100))).Legs[0]; l.From != (trip.End{Kind: trip.AtStart, Stop: -1}) || l.To != (trip.End{Kind: trip.AtFinish, Stop: -1}) {
		t.Errorf("ends without stops %+v, %+v", l.From, l.To)
	}
}
