package route_test

import (
	"testing"

	"github.com/paulmach/orb"
	"pgregory.net/rapid"

	"lastpump/route"
)

// The index leaves out what cannot be near and takes whole what must be: its
// bounds have to hold for every place on the line in a box.
func TestIndexBounds(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		start := orb.Point{
			rapid.SampledFrom(someLongitudes).Draw(t, "lon"),
			rapid.Float64Range(-85, 85).Draw(t, "lat"),
		}
		step := rapid.SampledFrom([]float64{10, 300, 3000}).Draw(t, "step")
		points := walk(t, start, rapid.IntRange(2, 33).Draw(t, "points"), step)
		stop := ahead(start, rapid.Float64Range(0, 360).Draw(t, "aside"), 40*step*rapid.Float64Range(0, 1).Draw(t, "off"))
		var line []orb.Point
		for _, p := range points {
			line = append(line, p.Point)
		}
		distance, least, most := route.BoxBounds(line, stop)
		for _, s := range sampled([][]route.Point{points}, stop) {
			const hair = 1e-6
			if off := route.Metres(s.off); off < distance-hair || off < least-hair || off > most+hair {
				t.Fatalf("%v m off, not from %v or %v to %v", s.off, distance, least, most)
			}
		}
	})
}

// The southern half of the earth is the mirror of the northern.
func TestIndexBoundsAreMirrored(t *testing.T) {
	line := []orb.Point{{0, 78}, {2, 78.4}, {4, 78.9}}
	var mirrored []orb.Point
	for _, p := range line {
		mirrored = append(mirrored, orb.Point{p[0], -p[1]})
	}
	for _, lat := range []float64{77.5, 78.5, 79.2} {
		d, least, most := route.BoxBounds(line, orb.Point{-0.1, lat})
		southD, southLeast, southMost := route.BoxBounds(mirrored, orb.Point{-0.1, -lat})
		wantNear(t, "distance", southD, float64(d), 1e-6)
		wantNear(t, "least", southLeast, float64(least), 1e-6)
		wantNear(t, "most", southMost, float64(most), 1e-6)
	}
}
