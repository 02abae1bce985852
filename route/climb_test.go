package route_test

import (
	"math"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"lastpump/route"
)

// profile makes a line on the meridian with a point every so many metres and
// these heights.
func profile(t testing.TB, step float64, ele ...float64) *route.Line {
	t.Helper()
	points := north(steps(0, step*float64(len(ele)-1), step)...)
	return plain(t, heights(points, ele...))
}

// sums gives the climb and descent of a line and the metres of it on which the
// climb is not known.
func sums(l *route.Line) (up, down, unknown float64) {
	for _, r := range l.Runs(route.Grounds{}) {
		up += float64(r.Up)
		down += float64(r.Down)
		if r.NoHeights {
			unknown += float64(r.To - r.From)
		}
	}
	return up, down, unknown
}

func TestClimbBetweenTurningPoints(t *testing.T) {
	for _, c := range []struct {
		name     string
		ele      []float64
		up, down float64
	}{
		{"level", []float64{100, 100, 100}, 0, 0},
		{"up", []float64{100, 150, 300}, 200, 0},
		{"down", []float64{300, 150, 100}, 0, 200},
		{"up and down and up", []float64{0, 100, 40, 130}, 100 + 90, 60},
		{"a dip of under 10 m is noise", []float64{0, 50, 41, 100}, 100, 0},
		{"a dip of 10 m counts", []float64{0, 50, 40, 100}, 50 + 60, 10},
		{"small ups before and after", []float64{5, 0, 100, 95}, 100, 0},
		{"below the sea", []float64{-5, -400, -380}, 20, 395},
		{"flat tops", []float64{0, 50, 50, 50, 20, 20, 60}, 50 + 40, 30},
		{"the lowest counts, not the last low", []float64{50, 20, 24, 20, 22, 60}, 40, 30},
		// 4 m and 4 m, none of them 10 m from the ground before, but all together.
		{"slowly up", []float64{0, 4, 8, 12, 16, 20}, 20, 0},
		{"slowly up with noise", []float64{0, 6, 3, 9, 6, 12, 9, 15}, 15, 0},
	} {
		up, down, unknown := sums(profile(t, 100, c.ele...))
		if up != c.up || down != c.down || unknown != 0 {
			t.Errorf("%s: up %v, down %v, want %v and %v; unknown %v m", c.name, up, down, c.up, c.down, unknown)
		}
	}
}

// Turning points lie at least 10 m apart: exactly 10 m count, one unit in the
// last place less does not.
func TestTurningPointsAre10MetresApart(t *testing.T) {
	noise := func(rise float64) bool {
		up, _, _ := sums(profile(t, 100, 0, rise, 0))
		return up == 0
	}
	if last := border(t, 1, 100, noise); last != math.Nextafter(10, 0) {
		t.Errorf("the last rise that is noise is %v m, want just under 10", last)
	}
}

// Noise of ±4 m is 8 m from top to bottom: on the level it adds nothing, on a
// slope no more than the 8 m at its ends.
func TestNoiseAddsNothing(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		noise := rapid.SliceOfN(rapid.Float64Range(-4, 4), 100, 100).Draw(t, "noise")
		slope := make([]float64, len(noise))
		for i, n := range noise {
			slope[i] = 10*float64(i) + n
		}
		level := north(steps(0, 990, 10)...)
		line, err := route.NewLine(track(heights(slices.Clone(level), noise...)), route.LineOptions{})
		if err != nil {
			t.Fatal(err)
		}
		if up, down, _ := sums(line); up != 0 || down != 0 {
			t.Errorf("level: up %v, down %v", up, down)
		}
		line, err = route.NewLine(track(heights(level, slope...)), route.LineOptions{})
		if err != nil {
			t.Fatal(err)
		}
		if up, down, _ := sums(line); !near(up, 990, 8) || down != 0 {
			t.Errorf("slope: up %v, down %v, want 990 ± 8 and 0", up, down)
		}
	})
}

// The climb is straight in distance between turning points, so that the climb of
// a leg is a difference: half the way is half the climb, whatever the points
// between say.
func TestClimbIsStraightBetweenTurningPoints(t *testing.T) {
	l := profile(t, 100, 0, 30, 90, 95, 100) // most of it in the first half
	g := route.Grounds{Sections: []route.Section{{From: 0, To: 100, Ground: route.Sand},
		{From: 200, To: 300, Ground: route.Sand}}}
	for i, r := range l.Runs(g) {
		wantNear(t, "climb", r.Up, 25, 1e-6)
		if i > 3 {
			t.Errorf("run %d: %+v", i, r)
		}
	}
}

// Missing heights are bridged over up to a kilometre; beyond it the climb is not
// known there, and only there.
func TestHolesInTheHeights(t *testing.T) {
	hole := func(length float64) *route.Line {
		points := north(0, 100, 100+length/3, 100+length/2, 100+length, 200+length)
		return plain(t, heights(points, 0, 20, none, none, 60, 80))
	}
	bridged := func(length float64) bool {
		_, _, unknown := sums(hole(length))
		return unknown == 0
	}
	wantNear(t, "bridged up to", border(t, 100, 4000, bridged), 1000, 1e-6)

	up, down, _ := sums(hole(900))
	if !near(up, 80, 1e-9) || down != 0 {
		t.Errorf("bridged: up %v, down %v, want 80 and 0", up, down)
	}
	up, down, unknown := sums(hole(1500))
	if !near(up, 40, 1e-9) || down != 0 || !near(unknown, 1500, 1e-6) {
		t.Errorf("not bridged: up %v, down %v, unknown over %v m, want 40, 0 and 1500", up, down, unknown)
	}
}

func TestHeightsMissingAtTheEnds(t *testing.T) {
	for _, c := range []struct {
		name        string
		ele         []float64 // every 600 m
		up, unknown float64
	}{
		{"nowhere", []float64{0, 50, 100, 150}, 150, 0},
		{"everywhere", []float64{none, none, none}, 0, 1200},
		{"the first", []float64{none, 50, 100}, 50, 0},
		{"the first two", []float64{none, none, 100, 150}, 50, 1200},
		{"the last", []float64{0, 50, none}, 50, 0},
		{"the last two", []float64{0, 50, none, none}, 50, 1200},
		{"all but one", []float64{none, none, 50, none, none, none}, 0, 3000},
		{"two holes", []float64{0, 50, none, none, 80, 120, none, none, none, 0}, 50 + 40, 1800 + 2400},
	} {
		up, _, unknown := sums(profile(t, 600, c.ele...))
		if !near(up, c.up, 1e-6) || !near(unknown, c.unknown, 1e-6) {
			t.Errorf("missing %s: up %v, unknown %v, want %v and %v", c.name, up, unknown, c.up, c.unknown)
		}
	}
}

// Where the heights resume after a hole a new chain begins: what lies between the
// last height and the next is neither climbed nor descended.
func TestUnknownRunsHaveNoClimb(t *testing.T) {
	for _, r := range profile(t, 600, 0, 50, none, none, 80, 120).Runs(route.Grounds{}) {
		if r.NoHeights && (r.Up != 0 || r.Down != 0) {
			t.Errorf("%+v", r)
		}
		if inside := r.From >= 600-1e-6 && r.To <= 2400+1e-6; r.NoHeights != inside {
			t.Errorf("%+v, the hole is from 600 to 2400", r)
		}
	}
}

// A ridden gap climbs between its ends, a skipped one (a ferry) does not.
func TestClimbOfGaps(t *testing.T) {
	segments := [][]route.Point{
		heights(north(steps(0, 200, 100)...), 40, 20, 0),
		heights(north(steps(5000, 5200, 100)...), 500, 480, 460),
	}
	for _, c := range []struct {
		rule             route.Gaps
		up, down, gapped float64
	}{{route.GapsRide, 500, 80, 500}, {route.GapsSkip, 0, 80, 0}} {
		l := newLine(t, track(segments...), route.LineOptions{Stretch: 1, Gaps: c.rule})
		up, down, unknown := sums(l)
		if !near(up, c.up, 1e-6) || !near(down, c.down, 1e-6) || unknown != 0 {
			t.Errorf("%s: up %v, down %v, want %v and %v; unknown %v", c.rule, up, down, c.up, c.down, unknown)
		}
		for _, r := range l.Runs(route.Grounds{}) {
			if near(float64(r.From), 200, 1e-6) {
				wantNear(t, "climb in the gap", r.Up, c.gapped, 1e-6)
			}
		}
	}
}

// A recorder that stands while its height drifts: the drift is of over 10 m, so it
// is climb, and it happens in a run of no length.
func TestStandingHeightDrift(t *testing.T) {
	points := north(0, 100, 200, 200, 200, 300, 400)
	for _, c := range []struct {
		name         string
		ele          []float64
		up, standing float64
	}{
		{"level before and after", []float64{50, 50, 50, 65, 80, 80, 80}, 30, 30},
		{"on the last slope", []float64{0, 20, 40, 40, 70, 90, 110}, 110, 0},
		{"heights only there", []float64{none, none, 50, 65, 80, none, none}, 30, 30},
		{"of under 10 m", []float64{50, 50, 50, 55, 59, 59, 59}, 0, 0},
	} {
		up, standing, at := 0.0, 0.0, route.Metres(0)
		for _, r := range plain(t, heights(slices.Clone(points), c.ele...)).Runs(route.Grounds{}) {
			if r.From != at {
				t.Errorf("%s: a run from %v after one to %v", c.name, r.From, at)
			}
			at = r.To
			up += float64(r.Up)
			if r.From == r.To {
				standing += float64(r.Up)
				if r.Ridden != 0 || r.Down != 0 {
					t.Errorf("%s: %+v", c.name, r)
				}
			}
		}
		if !near(up, c.up, 1e-6) || !near(standing, c.standing, 1e-6) {
			t.Errorf("%s: up %v, %v of it standing, want %v and %v", c.name, up, standing, c.up, c.standing)
		}
	}
}
