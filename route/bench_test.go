package route_test

import (
	"math"
	"runtime"
	"sync"
	"testing"

	"github.com/paulmach/orb"

	"lastpump/route"
)

const (
	benchPoints = 1_000_000
	benchStops  = 2000
)

// loop is a million points on a way of 1600 km around a circle, winding on two
// scales, over hills of 300 m: a thousand miles recorded at every turn of the
// wheel.
var loop = sync.OnceValue(func() []route.Point {
	const step = 1.6
	points := make([]route.Point, benchPoints)
	p := orb.Point{-110, 38}
	for i := range points {
		m := float64(i) * step
		points[i] = route.Point{Point: p, Ele: 1500 + 300*math.Sin(m/3000), HasEle: true}
		course := 360*float64(i)/benchPoints + 40*math.Sin(m/150) + 30*math.Sin(m/2100)
		sin, cos := math.Sincos(course * rad)
		p[0] += step * sin / earth / rad / math.Cos(p[1]*rad)
		p[1] += step * cos / earth / rad
	}
	return points
})

// stops lie beside the loop, up to 3 km off, every 800 m.
func stops() []orb.Point {
	points := loop()
	out := make([]orb.Point, benchStops)
	for i := range out {
		p := points[i*(benchPoints/benchStops)].Point
		out[i] = ahead(p, float64(i*37%360), float64(i*613%3000))
	}
	return out
}

func BenchmarkNewLine(b *testing.B) {
	tracks := track(loop())
	b.ReportAllocs()
	var before, after runtime.MemStats
	runtime.ReadMemStats(&before)
	for b.Loop() {
		if _, err := route.NewLine(tracks, route.LineOptions{}); err != nil {
			b.Fatal(err)
		}
	}
	runtime.ReadMemStats(&after)
	points := float64(benchPoints) * float64(b.N)
	b.ReportMetric(float64(after.TotalAlloc-before.TotalAlloc)/points, "B/point")
	b.ReportMetric(float64(b.Elapsed().Nanoseconds())/points, "ns/point")
}

func BenchmarkPassages(b *testing.B) {
	line, err := route.NewLine(track(loop()), route.LineOptions{})
	if err != nil {
		b.Fatal(err)
	}
	all := stops()
	b.ReportAllocs()
	found := 0
	for b.Loop() {
		found = 0
		for _, s := range all {
			found += len(line.Passages(s, 2000))
		}
	}
	if found < benchStops/2 {
		b.Fatalf("%d passages of %d stops", found, benchStops)
	}
	b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(benchStops*b.N), "ns/stop")
	b.ReportMetric(float64(found), "passages")
}
