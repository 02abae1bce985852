package picture_test

import (
	"math"
	"testing"

	"lastpump/fuel/plan/picture"
	"lastpump/route"
	"lastpump/testdata/kit/drawn"

	"github.com/paulmach/orb"
	"github.com/paulmach/orb/planar"
	"pgregory.net/rapid"
)

// circle is a loop around a place with a radius in degrees of latitude.
func circle(lon, lat, radius float64, points int) []route.Point {
	var out []route.Point
	for k := range points + 1 {
		angle := 2 * math.Pi * float64(k) / float64(points)
		x := lon + radius*math.Sin(angle)/math.Cos(lat*math.Pi/180)
		out = append(out, route.Point{Point: orb.Point{math.Mod(x+540, 360) - 180, lat + radius*math.Cos(angle)}})
	}
	return out
}

// A circle of a degree around a place on the border of days at 60° N is 222 km across
// both ways, whatever longitude it lies at: degree × R of a sphere.
func TestSketchIsTrueToScale(t *testing.T) {
	for _, lon := range []float64{10, 180, -179.7} {
		in := drawn.Ride(drawn.LineThrough(t, circle(lon, 60, 1, 5000)))
		in.Bike.Tank = 80
		p := drawn.Cured(t, in)
		sketch := drawn.Sketch(p)
		across := 2 * drawn.PerDegree * 1000
		b := sketch.Bound
		if east, north := b.Max[0]-b.Min[0], b.Max[1]-b.Min[1]; math.Abs(east/across-1) > 0.001 || math.Abs(north/across-1) > 0.001 {
			t.Errorf("at %v: %v by %v m, want %v", lon, east, north, across)
		}
	}
}

// No point of the line lies further from the sketch than it is fine, and all strokes of a
// leg follow each other.
func TestSketchFollowsTheLine(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		in := drawn.AnyRide(t)
		p := drawn.Plan(t, in)
		sketch := drawn.Sketch(p)
		b := sketch.Bound
		fine := max(b.Max[0]-b.Min[0], b.Max[1]-b.Min[1])/1500 + float64(in.Line.Length())/30000
		var all orb.MultiLineString
		for i, s := range sketch.Strokes {
			all = append(all, s.Points)
			if i > 0 {
				before := sketch.Strokes[i-1]
				if before.Points[len(before.Points)-1] != s.Points[0] || s.Leg < before.Leg || s.Leg > before.Leg+1 {
					t.Fatalf("stroke %d does not follow", i)
				}
			}
		}
		if last := sketch.Strokes[len(sketch.Strokes)-1]; last.Leg != len(p.Legs)-1 {
			t.Fatalf("the last stroke is on leg %d of %d", last.Leg, len(p.Legs))
		}
		for v := range in.Line.Vertices() {
			if d := planar.DistanceFrom(all, sketch.Place(v.Point)); d > fine {
				t.Fatalf("km %v lies %v m from the sketch, which is fine to %v m", v.At.Kilometres(), d, fine)
			}
		}
	})
}

// A hole in the line is a stroke of its own.
func TestSketchShowsHoles(t *testing.T) {
	l := drawn.LineThrough(t, []route.Point{{Point: drawn.At(0, 0)}, {Point: drawn.At(1, 0)}, {Point: drawn.At(2, 0)}}, []route.Point{{Point: drawn.At(50, 0)}, {Point: drawn.At(51, 0)}})
	p := drawn.Cured(t, drawn.Ride(l))
	sketch := drawn.Sketch(p)
	var gaps []picture.Stroke
	for _, s := range sketch.Strokes {
		if s.Gap {
			gaps = append(gaps, s)
		}
	}
	if len(gaps) != 1 || math.Abs(planar.Length(gaps[0].Points)/48000-1) > 0.001 {
		t.Errorf("holes: %v", gaps)
	}
}
