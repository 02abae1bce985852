package route_test

import (
	"math"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/paulmach/orb"

	"lastpump/route"
)

func TestNewLineWithoutLength(t *testing.T) {
	const hint = "give a GPX file with the loop as a track (trk) or a route (rte)"
	for _, c := range []struct {
		name   string
		tracks []route.Track
		want   string
	}{
		{"no tracks", nil, "no track and no route with points in it"},
		{"an empty track", track(), "no track and no route with points in it"},
		{"an empty segment", track(nil, nil), "no track and no route with points in it"},
		{"one point", track(north(0)), "one point is no line"},
		{"one point among empty segments", track(nil, north(0), nil), "one point is no line"},
		{"one place twice", track(north(5, 5)), "the line has no length: all its points are at one place"},
		{"one place in two segments", track(north(5), north(5)),
			"the line has no length: all its points are at one place"},
	} {
		t.Run(c.name, func(t *testing.T) {
			l, err := route.NewLine(c.tracks, route.LineOptions{})
			if l != nil {
				t.Errorf("a line of %v m", l.Length())
			}
			wantFault(t, err, c.want, hint)
		})
	}
}

// On the meridian the distance along the line is the difference of the points.
func TestLineAlongAMeridian(t *testing.T) {
	l := plain(t, north(0, 100, 100, 350, 200))
	wantNear(t, "length", l.Length(), 100+250+150, 1e-6)
	if l.Points() != 5 {
		t.Errorf("%d points, want 5", l.Points())
	}
	for _, c := range []struct{ at, north float64 }{
		{-1, 0}, {0, 0}, {50, 50}, {100, 100}, {225, 225}, {350, 350}, {400, 300}, {500, 200}, {501, 200},
		{math.Inf(-1), 0}, {math.Inf(1), 200},
	} {
		got := l.At(route.Metres(c.at))
		wantNear(t, "north of the place", got[1]*rad*earth, c.north, 1e-6)
		if got[0] != 0 {
			t.Errorf("At(%v) is at longitude %v", c.at, got[0])
		}
	}
}

func TestLineAcrossTheAntimeridian(t *testing.T) {
	points := []route.Point{{Point: orb.Point{179.99, 0}}, {Point: orb.Point{-179.98, 0}}}
	l := plain(t, points)
	wantNear(t, "length", l.Length(), 0.03*rad*earth, 1e-6)
	wantNear(t, "a third of the way, longitude", math.Abs(l.At(l.Length() / 3)[0]), 180, 1e-9)
	wantNear(t, "two thirds of the way, longitude", l.At(l.Length() * 2 / 3)[0], -179.99, 1e-9)
}

// Tracks and segments follow each other as in the file; a track is a part.
func TestPartsAreTheTracks(t *testing.T) {
	tracks := []route.Track{
		{Name: "Day 1", Segments: [][]route.Point{north(0, 100), north(110, 300)}},
		{Name: "empty"},
		{Name: "Day 2", Segments: [][]route.Point{nil, north(300, 500)}},
		{Segments: [][]route.Point{north(520)}},
	}
	l := newLine(t, tracks, route.LineOptions{Stretch: 1})
	want := []route.Part{{Name: "Day 1", To: 300, Number: 1}, {Name: "Day 2", From: 300, To: 500, Number: 2},
		{From: 520, To: 520, Number: 3}}
	if len(l.Parts) != len(want) {
		t.Fatalf("parts %v, want %v", l.Parts, want)
	}
	for i, w := range want {
		p := l.Parts[i]
		if p.Name != w.Name || !near(float64(p.From), float64(w.From), 1e-6) || !near(float64(p.To), float64(w.To),
			1e-6) {
			t.Errorf("part %d is %v, want %v", i, p, w)
		}
	}
}

// Closed: the end lies within 500 m of the start.
func TestClosedWithin500Metres(t *testing.T) {
	closed := func(d float64) bool { return plain(t, north(0, 3000, d)).Closed }
	wantNear(t, "closed up to", border(t, 0, 3000, closed), 500, 1e-6)
}

func TestNewLineLeavesTheTracksAlone(t *testing.T) {
	points := north(append(steps(0, 900, 100), 300000, 1000, 1100)...) // with a stray
	tracks := track(points)
	before := append([]route.Point(nil), points...)
	if l := newLine(t, tracks, route.LineOptions{}); len(l.Strays) != 1 {
		t.Fatalf("strays %v, want one", l.Strays)
	}
	if diff := cmp.Diff(before, tracks[0].Segments[0]); diff != "" {
		t.Error(diff)
	}
}
