package plan_test

import (
	"testing"

	"lastpump/fuel/plan"
	"lastpump/fuel/stop"
	"lastpump/octane"
	"lastpump/route"
	"lastpump/testdata/kit/drawn"
)

// Unknown climb: 8 m a kilometre of line in the likely litres, 2 in the low and 18 in the high:
// the median and the tenths at both ends of 172 recorded rides.
func TestUnknownClimb(t *testing.T) {
	points := newPen().North(100).Points
	for i := range points {
		points[i].HasEle = i <= 50
	}
	p := make1(t, ride(lineWith(t, route.LineOptions{Stretch: 1.1}, points)))
	f := p.Legs[0].Drink.Fuel
	wantNear(t, "likely", f.Likely, 110*likelyKm+50*8*climbL)
	wantNear(t, "low", f.Low, 110*lowKm+drawn.LowShare*50*2*climbL)
	wantNear(t, "high", f.High, 110*highKm+drawn.HighShare*50*18*climbL)
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
		{"not known", ride(straight(t, 190), changedStop(pump("A", 100, 0), func(s *stop.Stop) { s.Grades = nil })),
			true},
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
	if last.Kind != plan.KindNote || last.Fact != plan.Fact(plan.Noted{Text: "another"}) || last.Leg != -1 ||
		last.Visit != -1 || !p.Holds() {
		t.Errorf("%+v", p.Warnings)
	}
}
