package fuel_test

import (
	"math"
	"testing"

	"lastpump/fuel"
	"lastpump/route"

	"pgregory.net/rapid"
)

// A course made thirstier is the course that is measured with that thirst.
func TestThirstier(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		thirst, times := rapid.Float64Range(0.6, 2).Draw(t, "thirst"), rapid.Float64Range(0.5, 1.5).Draw(t, "times")
		var runs []route.Run
		at := route.Metres(0)
		for range rapid.IntRange(1, 8).Draw(t, "runs") {
			length := route.Metres(rapid.Float64Range(1, 40000).Draw(t, "length"))
			up := route.Metres(rapid.Float64Range(0, 900).Draw(t, "up"))
			runs = append(runs, route.Run{From: at, To: at + length, Ridden: length * 1.1, RiddenLow: length * 1.05, RiddenHigh: length * 1.2,
				Ground: rapid.SampledFrom(route.AllGrounds()).Draw(t, "ground"), Up: up, Down: up / 2, NoHeights: up > 800})
			at += length
		}
		once := fuel.NewCourse(runs, fuel.DefaultBike(), thirst).Thirstier(times)
		anew := fuel.NewCourse(runs, fuel.DefaultBike(), thirst*times)
		near := func(what string, got, want float64) {
			if math.Abs(got-want) > 1e-6*(1+math.Abs(want)) {
				t.Fatalf("%s %v, want %v", what, got, want)
			}
		}
		from := at * route.Metres(rapid.Float64Range(0, 1).Draw(t, "from"))
		got, want := once.Between(from, at), anew.Between(from, at)
		near("likely", float64(got.Fuel.Likely), float64(want.Fuel.Likely))
		near("high", float64(got.Fuel.High), float64(want.Fuel.High))
		near("low", float64(got.Fuel.Low), float64(want.Fuel.Low))
		near("back", float64(got.Back.Likely), float64(want.Back.Likely))
		near("climb", float64(got.Climb), float64(want.Climb))
		near("unknown climb", float64(got.Unknown.High), float64(want.Unknown.High))
		litres := fuel.Litres(rapid.Float64Range(0, 30).Draw(t, "litres"))
		near("reach", float64(once.Reach(from, fuel.Amount{}, litres, fuel.High).At), float64(anew.Reach(from, fuel.Amount{}, litres, fuel.High).At))
		near("left", float64(once.ReachAndBack(from, fuel.Amount{}, litres, fuel.Likely).Left), float64(anew.ReachAndBack(from, fuel.Amount{}, litres, fuel.Likely).Left))
		near("over", float64(once.Over(from, 5000, fuel.Likely).Likely), float64(anew.Over(from, 5000, fuel.Likely).Likely))
		near("detour", float64(once.Detour(from, 700).At(fuel.High)), float64(anew.Detour(from, 700).At(fuel.High)))
		if len(got.Grounds) > 0 {
			near("ground", float64(got.Grounds[0].Likely), float64(want.Grounds[0].Likely))
		}
	})
}
