package plan_test

import (
	"fmt"
	"math/rand/v2"
	"testing"
	"time"

	"lastpump/fuel/plan"
	"lastpump/fuel/stop"
	"lastpump/fuel/trip"
	"lastpump/octane"
	"lastpump/route"
)

// longLoop is a hilly road of so many pumps, 8 to 22 km apart, off the line and on it: a
// third sell only low grade, a few are hearsay, and every twentieth stretch is 200 km
// longer.
func longLoop(t testing.TB, pumps int) plan.Inputs {
	rnd := rand.New(rand.NewPCG(7, 7))
	var points []route.Point
	var stops []stop.Stop
	ele, km := 500.0, 0.0
	next := 10.0
	for len(stops) < pumps {
		ele += 20*rnd.Float64() - 10
		points = append(points, route.Point{Point: at(km, 0), Ele: ele, HasEle: true})
		km += 0.25
		if km < next {
			continue
		}
		s := pump(fmt.Sprint("P", len(stops)), km, []float64{0, 0, 0, 0.8, 12}[rnd.IntN(5)])
		s.Grades = [][]octane.Grade{{ron(95)}, {ron(92), ron(95)}, {ron(80), ron(92)}}[rnd.IntN(3)]
		if rnd.IntN(20) == 0 {
			s.Standing = stop.Hearsay
		}
		stops = append(stops, s)
		if next = km + 8 + 14*rnd.Float64(); len(stops)%20 == 0 {
			next += 200
		}
	}
	for range 100 {
		km += 0.25
		points = append(points, route.Point{Point: at(km, 0), Ele: ele, HasEle: true})
	}
	in := ride(lineThrough(t, points), stops...)
	in.Bike.Tank = 14
	in.Options = plan.DefaultOptions()
	in.Options.Today = time.Date(2026, 7, 1, 0, 0, 0, 0, time.UTC)
	return in
}

// BenchmarkDecisions plans 200 visits with all that is decided: cures, low grade, what
// if, and the stops chosen. growth is how many times longer 200 pumps take than 100.
func BenchmarkDecisions(b *testing.B) {
	for at, detours := range map[plan.FillAt]route.Metres{plan.FillEverywhere: 0, plan.FillChosen: trip.Reach} {
		b.Run("fill="+string(at), func(b *testing.B) {
			half, whole := longLoop(b, 100), longLoop(b, 200)
			half.Options.FillAt, whole.Options.FillAt = at, at
			half.Options.Detours, whole.Options.Detours = detours, detours
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
			b.ReportMetric(long.Seconds()/float64(b.N), "s/200-pumps")
		})
	}
}

// BenchmarkChoose chooses among 300 pumps of the long loop, without a can and with one, and
// among very many along 1,500 km, a quarter of them of low grade. growth is how many times longer
// the pumps take than half as many; of the plan at least so much is proven, by octane-litres or
// fills, as bound says: 1 where the best is proven.
func BenchmarkChoose(b *testing.B) {
	many := func(n int) plan.Inputs {
		in := manyStops(b, n, false)
		for i := range in.Stops {
			in.Stops[i].Grades = []octane.Grade{ron([]float64{95, 95, 92, 80}[i%4])}
		}
		return in
	}
	for name, of := range map[string]func(share int) plan.Inputs{
		"300":       func(share int) plan.Inputs { return longLoop(b, 300/share) },
		"300-can":   func(share int) plan.Inputs { in := longLoop(b, 300/share); in.Bike.Can = 5; return in },
		"1000-many": func(share int) plan.Inputs { return many(1000 / share) },
		"10000":     func(share int) plan.Inputs { return many(10_000 / share) },
	} {
		b.Run(name, func(b *testing.B) {
			half, whole := plan.NewWeigher(of(2)), plan.NewWeigher(of(1))
			var short, long time.Duration
			bound := 0.0
			for b.Loop() {
				start := time.Now()
				if _, err := half.Choose(); err != nil {
					b.Fatal(err)
				}
				mid := time.Now()
				c, err := whole.Choose()
				if err != nil {
					b.Fatal(err)
				}
				short += mid.Sub(start)
				long += time.Since(mid)
				bound = float64(c.Bound.Octane+c.Bound.Fills) / float64(c.Worth.Octane+c.Worth.Fills)
			}
			b.ReportMetric(long.Seconds()/short.Seconds(), "growth")
			b.ReportMetric(long.Seconds()/float64(b.N), "s/choice")
			b.ReportMetric(bound, "bound")
		})
	}
}
