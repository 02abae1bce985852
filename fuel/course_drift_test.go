package fuel_test

import (
	"testing"

	"lastpump/fuel"
	"lastpump/route"
)

// A recorder that stood still while its height drifted leaves a run of no length
// with a climb in it: here of 50 m, somewhere on 20 km of level road.
func driftAt(km float64) ([]route.Run, fuel.Litres) {
	drift := route.Run{From: route.Kilometres(km), To: route.Kilometres(km), Ground: route.Paved, Up: 50}
	climb := fuel.Litres(260 * 9.80665 * 50 / (0.25 * 32.05e6))
	switch km {
	case 0:
		return []route.Run{drift, level(0, 20, route.Paved)}, climb
	case 20:
		return []route.Run{level(0, 20, route.Paved), drift}, climb
	}
	return []route.Run{level(0, km, route.Paved), drift, level(km, 20, route.Paved)}, climb
}

// The line has the climb of all its runs, wherever the recorder stood.
func TestClimbAtOnePlaceCounts(t *testing.T) {
	for name, km := range map[string]float64{"at the start": 0, "on the way": 10, "at the end": 20} {
		t.Run(name, func(t *testing.T) {
			runs, climb := driftAt(km)
			d := fuel.NewCourse(runs, checkBike(), 1).Between(0, 20_000)
			near(t, "ascent", d.Up, 50, 0)
			near(t, "litres", d.Fuel.Likely, 0.8+climb, exactly)
			near(t, "back: a descent", d.Back.Likely, 0.8, exactly)
		})
	}
}

// Between two legs that meet there it belongs to one of them.
func TestClimbAtOnePlaceIsNotCountedTwice(t *testing.T) {
	runs, climb := driftAt(10)
	c := fuel.NewCourse(runs, checkBike(), 1)
	one, two := c.Between(0, 10_000), c.Between(10_000, 20_000)
	near(t, "sum", one.Fuel.Likely+two.Fuel.Likely, 0.8+climb, exactly)
}

// No way takes less than nothing.
func TestOverFromSuchAPlace(t *testing.T) {
	runs, _ := driftAt(10)
	c := fuel.NewCourse(runs, checkBike(), 1)
	near(t, "0 km", c.Over(10_000, 0, fuel.Likely).Likely, 0, exactly)
	near(t, "5 km", c.Over(10_000, 5000, fuel.Likely).Likely, 0.2, exactly)
}
