package drawn

import (
	"math"
	"math/rand/v2"

	"lastpump/fuel"
	"lastpump/fuel/leg"
	"lastpump/fuel/plan"
	"lastpump/fuel/stop"
	"lastpump/octane"
	"lastpump/route"

	"pgregory.net/rapid"
)

// AnyRoad draws a ride that goes out and back on one road and on to a second one behind a
// gap. It always has a pump at the trailhead, a stop passed twice, a place of
// three stops, a gap, a leg that is SHORT without a can, a stop of unknown grade
// and at least eight visits; the rest is drawn.
func AnyRoad(t *rapid.T) plan.Inputs {
	out := float64(rapid.IntRange(50, 80).Draw(t, "out"))
	rises := rand.New(rand.NewPCG(rapid.Uint64().Draw(t, "heights"), 0))
	first := Hills(rises, 0, out, -20)
	second := Hills(rises, 30, 400) // 50 km beyond the end of the first
	l := Stretched(t, 1.05, first, second)
	grade := func(what string) octane.Grade {
		return octane.FromRON(octane.RON(rapid.SampledFrom([]int{80, 92, 95, 98}).Draw(t, what)))
	}
	stops := []stop.Stop{Pump("trailhead", 0, 0.1, grade("trailhead")), Pump("twice", out-20, 0.5, grade("twice")), Pump("turn", out, 0),
		Pump("three a", 90, 0, grade("three")), Pump("three b", 91, 1), Pump("three c", 92, 0.2, octane.FromRON(80)),
		Pump("unknown", 110, 0), Pump("far", 360, 0), Pump("last", 390, 0.8, grade("last"))}
	stops[6].Grades = nil
	in := Ride(l, stops...)
	in.Grounds.Default = rapid.SampledFrom(route.AllGrounds()[:6]).Draw(t, "ground")
	in.Bike.Tank = fuel.Litres(rapid.Float64Range(8, 12).Draw(t, "tank"))
	in.Bike.Can = fuel.Litres(rapid.SampledFrom([]float64{0, 0, 3, 5}).Draw(t, "can"))
	in.Bike.Odometer = rapid.Float64Range(0.95, 1.08).Draw(t, "odometer")
	in.Bike.Learnt, in.Bike.ConsumptionTanks = anyKnown(t, in.Bike)
	in.Options.Reserve = leg.Reserve{Share: rapid.Float64Range(0, 0.3).Draw(t, "share"), Distance: route.Kilometres(rapid.Float64Range(0, 50).Draw(t, "distance"))}
	return in
}

// Stretched makes a line of tracks with a stretch.
func Stretched(t *rapid.T, factor float64, segments ...[]route.Point) *route.Line {
	var tracks []route.Track
	for _, s := range segments {
		tracks = append(tracks, route.Track{Segments: [][]route.Point{s}})
	}
	l, err := route.NewLine(tracks, route.LineOptions{Stretch: factor})
	if err != nil {
		t.Fatal(err)
	}
	return l
}

// Hills goes from turn to turn over hills.
func Hills(rises *rand.Rand, turns ...float64) []route.Point {
	var points []route.Point
	ele := 500.0
	for i := 1; i < len(turns); i++ {
		step := math.Copysign(1, turns[i]-turns[i-1])
		for k := turns[i-1]; k*step < turns[i]*step; k += step {
			ele += 60*rises.Float64() - 30
			points = append(points, route.Point{Point: At(k, 0), Ele: ele, HasEle: true})
		}
	}
	return append(points, route.Point{Point: At(turns[len(turns)-1], 0), Ele: ele, HasEle: true})
}
