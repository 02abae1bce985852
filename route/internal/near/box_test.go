package near

import (
	"math"
	"testing"

	"github.com/paulmach/orb"
	"pgregory.net/rapid"

	"lastpump/route/internal/earth"
)

// radius is the mean radius of the Earth, in metres: Moritz, Geodetic Reference System
// 1980, Journal of Geodesy 74 (2000), p. 131.
const radius, rad = 6371008.8, math.Pi / 180

func unit(p orb.Point) [3]float64 {
	sinLat, cosLat := math.Sincos(p[1] * rad)
	sinLon, cosLon := math.Sincos(p[0] * rad)
	return [3]float64{cosLat * cosLon, cosLat * sinLon, sinLat}
}

// apart gives the angle between two vectors, whatever their lengths.
func apart(u, v [3]float64) float64 {
	cross := [3]float64{u[1]*v[2] - u[2]*v[1], u[2]*v[0] - u[0]*v[2], u[0]*v[1] - u[1]*v[0]}
	return math.Atan2(math.Hypot(math.Hypot(cross[0], cross[1]), cross[2]), u[0]*v[0]+u[1]*v[1]+u[2]*v[2])
}

// ahead gives the place so many metres from another on a course, on the great circle.
func ahead(p orb.Point, course, metres float64) orb.Point {
	sinD, cosD := math.Sincos(metres / radius)
	sinC, cosC := math.Sincos(course * rad)
	sinLat, cosLat := math.Sincos(p[1] * rad)
	sin := sinLat*cosD + cosLat*sinD*cosC
	lon := p[0] + math.Atan2(sinC*sinD*cosLat, cosD-sinLat*sin)/rad
	return orb.Point{math.Mod(lon+540, 360) - 180, math.Asin(sin) / rad}
}

// A box leaves out what cannot be near and takes whole what must be: its bounds have to
// hold for every place on the line in it. The places are found by vectors: what lies
// between two of them on their chord lies on the great circle.
func TestBoxBounds(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		start := orb.Point{
			rapid.SampledFrom([]float64{0, 12, 179.95, -179.9, -70}).Draw(t, "lon"),
			rapid.Float64Range(-85, 85).Draw(t, "lat"),
		}
		step := rapid.SampledFrom([]float64{10, 300, 3000}).Draw(t, "step")
		line, course := []orb.Point{start}, rapid.Float64Range(0, 360).Draw(t, "course")
		for range rapid.IntRange(1, 32).Draw(t, "steps") {
			course += rapid.Float64Range(-100, 100).Draw(t, "turn")
			line = append(line, ahead(line[len(line)-1], course, step*rapid.Float64Range(0.3, 1).Draw(t, "long")))
		}
		stop := ahead(start, rapid.Float64Range(0, 360).Draw(t, "aside"), 40*step*rapid.Float64Range(0, 1).Draw(t,
			"off"))
		box := boxAround(line)
		in := newBalls(line)
		distance := metresOf(max(in.bunches[0].least(vector(stop)), in.chunks[0].least(vector(stop)), leastFew(in.few, stop)))
		least, most := box.between(stop)
		for i := 1; i < len(line); i++ {
			u, v := unit(line[i-1]), unit(line[i])
			for share := 0.0; share <= 1; share += 1.0 / 16 {
				var w [3]float64
				for k := range w {
					w[k] = u[k] + share*(v[k]-u[k])
				}
				const hair = 1e-6
				if off := earth.Metres(apart(w, unit(stop)) * radius); off < distance-hair || off < least-hair ||
					off > most+hair {
					t.Fatalf("%v m off, not from %v or %v to %v", off, distance, least, most)
				}
			}
		}
	})
}

// The southern half of the earth is the mirror of the northern.
func TestBoxBoundsAreMirrored(t *testing.T) {
	line := []orb.Point{{0, 78}, {2, 78.4}, {4, 78.9}}
	var mirrored []orb.Point
	for _, p := range line {
		mirrored = append(mirrored, orb.Point{p[0], -p[1]})
	}
	north, south := boxAround(line), boxAround(mirrored)
	for _, lat := range []float64{77.5, 78.5, 79.2} {
		p, q := orb.Point{-0.1, lat}, orb.Point{-0.1, -lat}
		least, most := north.between(p)
		southLeast, southMost := south.between(q)
		for _, off := range []earth.Metres{southLeast - least, southMost - most} {
			if math.Abs(float64(off)) > 1e-6 {
				t.Errorf("at %v: %v m more in the south", lat, off)
			}
		}
	}
}

// metresOf gives the way on the ground for a straight through a sphere of radius 1.
func metresOf(straight float64) earth.Metres {
	return 2 * radius * earth.Metres(math.Asin(min(1, max(0, straight)/2)))
}

// leastFew gives the least distance to any of the balls.
func leastFew(balls []ball, p orb.Point) float64 {
	least := math.Inf(1)
	for _, b := range balls {
		least = min(least, b.least(vector(p)))
	}
	return least
}
