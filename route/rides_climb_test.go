package route_test

import (
	"fmt"
	"math"
	"testing"

	"lastpump/route"
)

// thinned gives every point that lies so many metres or more from the last one
// given, straight; all of them for 0.
func thinned(points []route.Point, apart route.Metres) []route.Point {
	out := points[:1:1]
	for _, p := range points[1:] {
		if route.Distance(out[len(out)-1].Point, p.Point) >= apart {
			out = append(out, p)
		}
	}
	return out
}

// How the climb of the recorded rides changes with the height that two turning
// points lie apart and with how far the points do. Nobody knows the true climb;
// but what a recorder's noise adds goes when points are left out, and the ground
// stays. So the smallest height at which leaving out all but one point in 50 m
// hardly matters is the one that the noise asks for: 5 m here. The 10 m taken
// reads up to a tenth less than that. go test -v prints the table.
func TestClimbOfRecordedRides(t *testing.T) {
	heights := []float64{1e-3, 2, 5, 10, 15, 20, 30}
	climbs := map[string][2]float64{} // of 10 m, all points: least and largest ratio over the rides
	for _, r := range rides(t) {
		table := map[route.Metres]map[float64]float64{}
		for _, apart := range []route.Metres{0, 50, 100, 200, 500, 1000} {
			points := thinned(r.fixes, apart)
			row := fmt.Sprintf("%-22s %5.0f m apart:", r.name, float64(apart))
			table[apart] = map[float64]float64{}
			for _, h := range heights {
				table[apart][h] = float64(route.ClimbOver(h, points))
				row += fmt.Sprintf(" %5.0f", table[apart][h])
			}
			t.Log(row)
		}
		less := func(apart route.Metres, h float64) float64 { return 1 - table[apart][h]/table[0][h] }
		note := func(what string, v float64) {
			c, known := climbs[what]
			if !known {
				c = [2]float64{v, v}
			}
			climbs[what] = [2]float64{math.Min(c[0], v), math.Max(c[1], v)}
		}
		note("noise at 0 m", less(50, 1e-3))
		note("noise at 5 m", less(50, 5))
		note("noise at 10 m", less(50, 10))
		note("10 m against 5 m", 1-table[0][10]/table[0][5])
		for _, apart := range []route.Metres{100, 200, 500, 1000} {
			note(fmt.Sprintf("thinned to %.0f m", float64(apart)), less(apart, 10))
		}
	}
	for what, most := range map[string]float64{ // as DEVELOPERS.md and the assumptions of a plan have them
		"noise at 5 m": 0.03, "noise at 10 m": 0.03, "10 m against 5 m": 0.10,
		"thinned to 100 m": 0.05, "thinned to 200 m": 0.10, "thinned to 500 m": 0.20, "thinned to 1000 m": 0.25,
	} {
		if c := climbs[what]; c[0] < 0 || c[1] > most {
			t.Errorf("%s: %.3f to %.3f, want up to %v", what, c[0], c[1], most)
		}
	}
	if c := climbs["noise at 0 m"]; c[1] < 0.2 {
		t.Errorf("without a height between them noise is worth only %.3f", c[1])
	}
}
