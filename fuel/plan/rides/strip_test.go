package rides_test

import (
	"math"
	"time"

	"lastpump/fuel"
	"lastpump/fuel/leg"
	"lastpump/fuel/plan"
	"lastpump/fuel/stop"
	"lastpump/octane"
	"lastpump/route"
	"lastpump/testdata/kit/drawn"

	"github.com/paulmach/orb"
)

// perDegree is a degree of a meridian on the mean sphere: a strip lies along one, so
// that its kilometres can be counted.
const perDegree = 6371008.8 * math.Pi / 180 / 1000 // km

// north gives a place so many kilometres along a strip.
func north(km float64) orb.Point { return orb.Point{20, 40 + km/perDegree} }

// strip is a straight road of that many kilometres, a point every so many metres,
// its heights in metres as the function has them; none where it gives NaN.
func strip(km, every float64, height func(km float64) float64) []route.Track {
	var points []route.Point
	n := math.Round(km * 1000 / every)
	for i := range int(n) + 1 {
		at := km * float64(i) / n
		p := route.Point{Point: north(at)}
		if h := height(at); !math.IsNaN(h) {
			p.Ele, p.HasEle = h, true
		}
		points = append(points, p)
	}
	return []route.Track{{Segments: [][]route.Point{points}}}
}

func level(float64) float64 { return 0 }

// ten is a bike that needs no calculator: 10 L usable, 5 L/100 km on paved road, so
// 200 km to the last drop at the likely figure. It is known so well that at the high one, on
// paved road, it takes 1.155 times as much, on however little of it.
func ten() fuel.Bike {
	b := fuel.DefaultBike()
	b.Tank, b.Consumption = 10.5, 5
	b.Learnt = drawn.Steady(b)
	return b
}

// stripDraft is a paved strip with pumps on it, and one at home at its start; no
// reserve is kept, and no cans are carried but the bike's own.
func stripDraft(km float64, height func(km float64) float64, pumps ...float64) draft {
	o := plan.DefaultOptions()
	o.FillAt = plan.FillEverywhere
	o.Reserve, o.Carry = leg.Reserve{}, plan.Carry{}
	o.Today = time.Date(2026, 7, 1, 0, 0, 0, 0, time.UTC)
	d := draft{name: "strip", tracks: strip(km, 200, height), stretch: 1,
		in: plan.Inputs{Bike: ten(), Options: o, Grounds: route.Grounds{Default: route.Paved}}}
	for i, at := range append([]float64{0}, pumps...) {
		d.in.Stops = append(d.in.Stops, stop.Stop{Name: string(rune('A' + i)), At: north(at),
			Standing: stop.Map, Grades: []octane.Grade{octane.FromRON(95)}})
	}
	return d
}
