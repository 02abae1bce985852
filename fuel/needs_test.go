package fuel_test

import (
	"testing"

	"lastpump/fuel"
	"lastpump/route"

	"pgregory.net/rapid"
)

// tiny allows for sums taken in another order.
const tiny = 1e-9

// hillyRuns draws runs of a line that follow each other, some without heights.
func hillyRuns(t *rapid.T) (runs []route.Run) {
	at := route.Metres(0)
	for range rapid.IntRange(1, 6).Draw(t, "runs") {
		long := route.Metres(rapid.Float64Range(100, 60000).Draw(t, "length"))
		r := route.Run{From: at, To: at + long, Ground: rapid.SampledFrom(fuel.WeighedGrounds()).Draw(t, "ground")}
		r.Ridden = long * route.Metres(rapid.Float64Range(1, 1.2).Draw(t, "stretch"))
		r.RiddenLow, r.RiddenHigh = r.Ridden*0.99, r.Ridden*1.03
		if r.NoHeights = rapid.Bool().Draw(t, "no heights"); !r.NoHeights {
			r.Up = route.Metres(rapid.Float64Range(0, 800).Draw(t, "up"))
			r.Down = route.Metres(rapid.Float64Range(0, 800).Draw(t, "down"))
		}
		runs, at = append(runs, r), r.To
	}
	return runs
}

// Two ways of adding up the same litres: needs are kept apart by ground, a drink is added
// up along the line.
func TestNeedsAreTheLikelyDrink(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		runs := hillyRuns(t)
		thirst := rapid.Float64Range(0.5, 2).Draw(t, "thirst")
		c := fuel.NewCourse(runs, fuel.DefaultBike(), 1).Thirstier(thirst)
		from := c.Length() * route.Metres(rapid.Float64Range(0, 1).Draw(t, "from"))
		to := from + (c.Length()-from)*route.Metres(rapid.Float64Range(0, 1).Draw(t, "to"))
		ahead, back := c.Needs(from, to)
		d := c.Between(from, to)
		near(t, "needs", ahead.Sum().Likely, d.Fuel.Likely, tiny)
		near(t, "needs back", back.Sum().Likely, d.Back.Likely, tiny)
		if s := ahead.Sum(); s.Low > s.Likely+1e-9 || s.High < s.Likely-1e-9 {
			t.Fatalf("figures that do not rise: %+v", s)
		}
		for _, g := range d.Grounds {
			near(t, string(g.Ground), ahead.Flat[fuel.WeighedAs(g.Ground)].Likely, g.Likely, tiny)
		}
	})
}

// By hand: 100 km of dirt at 4.5 L/100 km and 1.25, ridden 3 % longer at the high figure;
// no heights, so 200, 800 and 1800 m of climb at 260·9.80665/(0.25·32.05e6) L a metre.
func TestNeedsWithoutHeights(t *testing.T) {
	c := fuel.NewCourse([]route.Run{{To: 100e3, Ridden: 100e3, RiddenLow: 99e3, RiddenHigh: 103e3,
		Ground: route.Dirt, NoHeights: true}}, fuel.DefaultBike(), 1)
	n, back := c.Needs(0, 100e3)
	const perMetre = 260 * 9.80665 / (0.25 * 32.05e6)
	want := fuel.Figures{Low: 4.5 * 1.25 * 0.99, Likely: 4.5 * 1.25, High: 4.5 * 1.25 * 1.03}
	climb := fuel.Figures{Low: 200 * perMetre, Likely: 800 * perMetre, High: 1800 * perMetre}
	for _, got := range []fuel.Needs{n, back} {
		nearFigures(t, "flat", got.Flat[fuel.WeighedAs(route.Unknown)], want, tiny)
		nearFigures(t, "climb", got.Climb, climb, tiny)
	}
}
