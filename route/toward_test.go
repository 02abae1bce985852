package route_test

import (
	"math"
	"testing"

	"lastpump/route"

	"github.com/paulmach/orb"
)

// From Los Angeles (33°57'N 118°24'W) to New York (40°38'N 73°47'W) a great circle sets out at
// 1.150035 rad: Williams, Aviation Formulary, worked examples.
func TestTowardAsPublished(t *testing.T) {
	from, to := latLon(33.95, -118.4), latLon(40+38./60, -(73+47./60))
	l := newLine(t, track(onPlaces(from, latLon(34.05, -118.4))), route.LineOptions{Stretch: 1})
	got, side := l.Toward(to, 0)
	if math.Abs(float64(got)-1.150035*180/math.Pi) > 0.001 || side != route.Right {
		t.Errorf("%v, %s", got, side)
	}
}

// Along a line to the north the east is right; whoever rides it backwards has it left. What
// lies ahead of its end is on neither side, and the bearing stays what it is on a map.
func TestTowardHasTwoSides(t *testing.T) {
	northward, southward := []orb.Point{{10, 50}, {10, 50.1}}, []orb.Point{{10, 50.1}, {10, 50}}
	for _, c := range []struct {
		name string
		line []orb.Point
		to   orb.Point
		want float64
		side route.Side
	}{
		{"to the east", northward, orb.Point{10.01, 50.05}, 90, route.Right},
		{"to the west", northward, orb.Point{9.99, 50.05}, 270, route.Left},
		{"to the east, southbound", southward, orb.Point{10.01, 50.05}, 90, route.Left},
		{"to the west, southbound", southward, orb.Point{9.99, 50.05}, 270, route.Right},
		{"ahead", northward, orb.Point{10, 50.2}, 0, route.NoSide},
		{"ahead, a little to the left", northward, orb.Point{9.95, 50.2}, 342.2, route.NoSide}, // atan(0.05 × cos 50.2° / 0.1)
		{"behind", southward, orb.Point{10, 50.2}, 0, route.NoSide},
	} {
		l := newLine(t, track(onPlaces(c.line...)), route.LineOptions{Stretch: 1})
		at := l.Length() / 2
		if c.side == route.NoSide {
			at = l.Length()
			if c.name == "behind" {
				at = 0
			}
		}
		got, side := l.Toward(c.to, at)
		if d := math.Abs(got.From(route.Bearing(c.want))); d > 0.5 || side != c.side || got < 0 || got >= 360 {
			t.Errorf("%s: %v %q, want %v %q", c.name, got, side, c.want, c.side)
		}
	}
}

func onPlaces(places ...orb.Point) (points []route.Point) {
	for _, p := range places {
		points = append(points, route.Point{Point: p})
	}
	return points
}
