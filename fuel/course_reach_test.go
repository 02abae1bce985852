package fuel_test

import (
	"testing"

	"lastpump/fuel"
	"lastpump/route"
	"lastpump/testdata/kit/band"

	"pgregory.net/rapid"
)

// The leg of the pencil: 4 L last 100 km of road; 2.64 L more all the gravel;
// the sand takes 0.072 L a kilometre.
func TestReachByPencil(t *testing.T) {
	c := fuel.NewCourse(pencilRuns(), pencilBike(), 1)
	for _, x := range []struct {
		from   route.Metres
		litres fuel.Litres
		at     route.Metres
		left   fuel.Litres
	}{
		{0, 0, 0, 0},
		{0, -1, 0, 0},
		{0, 2, 50_000, 0},
		{0, 4, 100_000, 0},
		{0, 6.64, 160_000, 0},
		{0, 7.36, 170_000, 0},
		{100_000, 2.64, 160_000, 0},
		{90_000, 0.4 + 1.32, 130_000, 0},
		{0, 8.08 + 1, 180_000, 1},
		{180_000, 1, 180_000, 1},
	} {
		s := c.Reach(x.from, fuel.Amount{}, x.litres, fuel.Likely)
		near(t, "at", s.At, x.at, 1e-6)
		near(t, "ridden", s.Ridden, x.at-x.from, 1e-6)
		near(t, "left", s.Left, x.left, 1e-12)
	}
}

// The low figure reaches farther, the high one not so far; out and back is half
// of the way where it is level.
func TestReachByTheOtherFigures(t *testing.T) {
	c := fuel.NewCourse(pencilRuns(), pencilBike(), 1)
	none := fuel.Amount{}
	for _, by := range []fuel.Figure{fuel.Low, fuel.High} {
		paved := by.Of(band.Paved(2))
		near(t, "on paved road", c.Reach(0, none, paved, by).At, 50_000, 0.1)
		more := c.Detour(0, 10_000)
		near(t, "behind 10 km of it", c.Reach(0, more, paved, by).At, 40_000, 0.1)
	}
	near(t, "there and back", c.ReachAndBack(0, none, 4, fuel.Likely).At, 50_000, 1e-6)
	near(t, "there and back, high", c.ReachAndBack(0, none, band.Paved(4).High, fuel.High).At, 50_000, 0.1)
	near(t, "there and back of all", c.ReachAndBack(0, none, 2*pencilLeg+1, fuel.Likely).Left, 1, 1e-12)
}

// Uphill home: 1000 m down and back up again, on 100 km of road.
func TestReachAndBackClimbsHome(t *testing.T) {
	run := level(0, 100, route.Paved)
	run.Down = 1000
	b := checkBike()
	c := fuel.NewCourse([]route.Run{run}, b, 1)
	climb := fuel.Litres(260 * 9.80665 * 1000 / (0.25 * 32.05e6))
	near(t, "half way", c.ReachAndBack(0, fuel.Amount{}, 4+climb/2, fuel.Likely).At, 50_000, 1e-6)
	near(t, "out only", c.Reach(0, fuel.Amount{}, 2, fuel.Likely).At, 50_000, 1e-6)
}

// A ferry takes nothing: who reaches it reaches its far side.
func TestReachOverAFerry(t *testing.T) {
	ferry := route.Run{From: 100_000, To: 120_000, Ground: route.Paved, Skipped: true}
	c := fuel.NewCourse([]route.Run{level(0, 100, route.Paved), ferry, level(120, 200, route.Paved)}, checkBike(), 1)
	s := c.Reach(0, fuel.Amount{}, 5, fuel.Likely)
	near(t, "at", s.At, 145_000, 1e-6)
	near(t, "ridden", s.Ridden, 125_000, 1e-6)
	near(t, "over", c.Over(0, 125_000, fuel.Likely).Likely, 5, 1e-12)
}

// Each of the searches undoes Between.
func TestReachUndoesBetween(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		runs := drawRuns(t)
		b, thirst := drawBike(t)
		c := fuel.NewCourse(runs, b, thirst)
		from := drawPlace(t, runs, "from")
		to := max(from, drawPlace(t, runs, "to"))
		for name, way := range map[string]struct {
			reach func(route.Metres, fuel.Amount, fuel.Litres, fuel.Figure) fuel.Spot
			by    fuel.Figure
			of    func(fuel.Drink) fuel.Litres
		}{
			"likely":         {c.Reach, fuel.Likely, func(d fuel.Drink) fuel.Litres { return d.Fuel.Likely }},
			"low":            {c.Reach, fuel.Low, func(d fuel.Drink) fuel.Litres { return d.Fuel.Low }},
			"high":           {c.Reach, fuel.High, func(d fuel.Drink) fuel.Litres { return d.Fuel.High }},
			"and back":       {c.ReachAndBack, fuel.Likely, func(d fuel.Drink) fuel.Litres { return d.Fuel.Likely + d.Back.Likely }},
			"and back, high": {c.ReachAndBack, fuel.High, func(d fuel.Drink) fuel.Litres { return d.Amount.Plus(d.Back).At(fuel.High) }},
		} {
			want := c.Between(from, to)
			s := way.reach(from, fuel.Amount{}, way.of(want), way.by)
			got := c.Between(from, s.At)
			near(t, name+": litres used", way.of(got), way.of(want), rounding)
			near(t, name+": ridden", s.Ridden, way.by.Ridden(want.RiddenAll), 1e-3)
			near(t, name+": left", s.Left, 0, rounding)
			if s.At < from || s.At > c.Length() {
				t.Errorf("%s: at %v, not on the line from %v", name, s.At, from)
			}
		}
	})
}

func TestReachBeyondTheEnd(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		runs := drawRuns(t)
		b, thirst := drawBike(t)
		c := fuel.NewCourse(runs, b, thirst)
		from := drawPlace(t, runs, "from")
		more := fuel.Litres(rapid.Float64Range(0.1, 20).Draw(t, "more"))
		rest := c.Between(from, c.Length())
		s := c.Reach(from, fuel.Amount{}, rest.Fuel.Likely+more, fuel.Likely)
		near(t, "at", s.At, c.Length(), 0)
		near(t, "left", s.Left, more, rounding)
		near(t, "ridden", s.Ridden, rest.Ridden, 1e-6)
	})
}

// Over goes by kilometres ridden where Between goes by kilometres of line: by each figure
// over the same on the trip meter.
func TestOverUndoesRidden(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		runs := drawRuns(t)
		b, thirst := drawBike(t)
		c := fuel.NewCourse(runs, b, thirst)
		from := drawPlace(t, runs, "from")
		to := max(from, drawPlace(t, runs, "to"))
		d := c.Between(from, to)
		// Where a run climbs 2000 m in one, a micrometre ridden is litres' noise.
		for _, by := range []fuel.Figure{fuel.Low, fuel.Likely, fuel.High} {
			near(t, "litres", c.Over(from, by.Ridden(d.RiddenAll), by).At(by), by.Of(d.Fuel), 1e-6)
		}
	})
}

func TestOverByPencil(t *testing.T) {
	c := fuel.NewCourse(pencilRuns(), pencilBike(), 1)
	near(t, "nothing", c.Over(0, 0, fuel.Likely).Likely, 0, 0)
	near(t, "backwards", c.Over(50_000, -10, fuel.Likely).Likely, 0, 0)
	near(t, "50 km", c.Over(0, 50_000, fuel.Likely).Likely, 2, 1e-12)
	near(t, "over a seam", c.Over(90_000, 40_000, fuel.Likely).Likely, 0.4+1.32, 1e-12)
	near(t, "all", c.Over(0, 180_000, fuel.Likely).Likely, pencilLeg, 1e-12)
	near(t, "no farther than the line", c.Over(0, 999_000, fuel.Likely).Likely, pencilLeg, 1e-12)
}
