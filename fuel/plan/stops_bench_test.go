package plan_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"
	"time"

	"lastpump/fuel/plan"
	"lastpump/fuel/stop"
	"lastpump/octane"
	"lastpump/route"

	"github.com/paulmach/orb"
)

// manyStops is a ride of 1,500 km with so many stops, all over the world or within 2 km of
// the line.
func manyStops(b testing.TB, n int, worldwide bool) plan.Inputs {
	rnd := rand.New(rand.NewPCG(14, 4))
	var points []route.Point
	place := func(km float64) orb.Point { return orb.Point{8 + km/75, 47 + 0.05*math.Sin(km/7)} }
	for km := 0.0; km < 1500; km += 0.05 {
		points = append(points, route.Point{Point: place(km)})
	}
	var stops []stop.Stop
	for i := range n {
		where := orb.Point{360*rnd.Float64() - 180, math.Asin(2*rnd.Float64()-1) * 180 / math.Pi}
		if !worldwide || i == 0 {
			where = place(1500 * rnd.Float64())
			where[1] += 0.03 * (rnd.Float64() - 0.5)
		}
		stops = append(stops, stop.Stop{Name: fmt.Sprint("S", i), At: where, Grades: []octane.Grade{ron(95)},
			Standing: stop.Seen})
	}
	in := ride(lineThrough(b, points), stops...)
	in.Options = plan.DefaultOptions()
	in.Options.Today = time.Date(2026, 7, 1, 0, 0, 0, 0, time.UTC)
	return in
}

// BenchmarkStops plans with very many stops. growth is how many times longer 100,000 take
// than 50,000: about twice.
func BenchmarkStops(b *testing.B) {
	for name, worldwide := range map[string]bool{"worldwide": true, "corridor": false} {
		b.Run(name, func(b *testing.B) {
			half, whole := manyStops(b, 50_000, worldwide), manyStops(b, 100_000, worldwide)
			var short, long time.Duration
			for b.Loop() {
				start := time.Now()
				casesOf(b, make1(b, half))
				mid := time.Now()
				casesOf(b, make1(b, whole))
				short += mid.Sub(start)
				long += time.Since(mid)
			}
			b.ReportMetric(long.Seconds()/short.Seconds(), "growth")
			b.ReportMetric(long.Seconds()/float64(b.N), "s/100,000-stops")
		})
	}
}
