package fuel_test

import (
	"testing"

	"lastpump/fuel"
	"lastpump/route"
	"lastpump/testdata/kit/band"
)

// A stop 1 km off: there and back costs 2 × 1.3 × 1 km on the ground that the
// line has there.
func TestDetour(t *testing.T) {
	c := fuel.NewCourse(pencilRuns(), pencilBike(), 1)
	onSand := band.Sure(0, map[route.Ground]float64{route.Sand: 2.6 * 0.04 * 1.80}).Figures(band.Maker, pencilBike().Weight)
	nearFigures(t, "on sand", c.Detour(170_000, 2600).Figures(), onSand, nearly)
	nearFigures(t, "at the very end", c.Detour(180_000, 2600).Figures(), onSand, nearly)
	nearFigures(t, "where sand begins", c.Detour(160_000, 2600).Figures(), onSand, nearly)
	near(t, "on the road", c.Detour(0, 2600).Likely, 2.6*0.04, exactly)
	nearFigures(t, "with thirst", fuel.NewCourse(pencilRuns(), pencilBike(), 2).Detour(170_000, 1300).Figures(), onSand, nearly)
}

func TestAddDetour(t *testing.T) {
	c := fuel.NewCourse(pencilRuns(), pencilBike(), 1)
	d := c.Between(50_000, 150_000)
	before := d
	got := c.AddDetour(&d, 170_000, 2600)
	want := c.Detour(170_000, 2600)
	near(t, "its litres", got, want.Likely, 0)
	leg := band.Sure(0, map[route.Ground]float64{route.Paved: 2, route.PackedGravel: 2.2, route.Sand: float64(want.Likely)})
	nearFigures(t, "leg", d.Fuel, leg.Figures(band.Maker, pencilBike().Weight), nearly)
	near(t, "back", d.Back.Likely, before.Back.Likely+want.Likely, exactly)
	nearFigures(t, "back", d.Back.Figures(), d.Fuel, nearly)
	near(t, "ridden", d.Ridden, before.Ridden+2600, 1e-9)
	near(t, "climb", d.Climb, before.Climb, 0)
	near(t, "guessed", d.Guessed, 0, 0)
	sameGrounds(t, d.Grounds, []fuel.Ground{
		{Ground: route.Paved, Ridden: 50_000, Likely: 2}, {Ground: route.PackedGravel, Ridden: 50_000, Likely: 2.2},
		{Ground: route.Sand, Ridden: 2600, Likely: want.Likely},
	})
}

// A detour on a ground that the stretch has already goes to its kilometres; a
// new one takes its place in the order of the grounds, hardest first.
func TestAddDetourKeepsOrder(t *testing.T) {
	c := fuel.NewCourse(pencilRuns(), pencilBike(), 1)
	d := c.Between(160_000, 180_000)
	c.AddDetour(&d, 100_000, 1000)
	c.AddDetour(&d, 0, 1000)
	c.AddDetour(&d, 50_000, 1000)
	sameGrounds(t, d.Grounds, []fuel.Ground{
		{Ground: route.Paved, Ridden: 2000, Likely: 0.08}, {Ground: route.PackedGravel, Ridden: 1000, Likely: 0.044},
		{Ground: route.Sand, Ridden: 20_000, Likely: 1.44},
	})
}

func TestAddDetourOnGuessedGround(t *testing.T) {
	run := level(0, 10, route.Dirt)
	run.Guessed = true
	c := fuel.NewCourse([]route.Run{run}, checkBike(), 1)
	d := c.Between(0, 10_000)
	c.AddDetour(&d, 10_000, 500)
	near(t, "guessed", d.Guessed, 10_500, 1e-9)
}

func TestNoDetour(t *testing.T) {
	c := fuel.NewCourse(pencilRuns(), pencilBike(), 1)
	d := c.Between(0, 180_000)
	before := d.Fuel
	if got := c.AddDetour(&d, 90_000, 0); got != 0 || d.Fuel != before || len(d.Grounds) != 3 {
		t.Errorf("a stop on the line costs %v", got)
	}
}
