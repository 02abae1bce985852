package fuel_test

import (
	"fmt"
	"strings"

	"lastpump/fuel"
	"lastpump/route"
)

func ExampleParseConsumption() {
	// NIST SP 811, B.5: 24 miles per US gallon are 9.8 L/100 km.
	c, err := fuel.ParseConsumption("24 mpg US")
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.1f L/100 km\n", float64(c))

	_, err = fuel.ParseConsumption("24 mpg")
	fmt.Println(err)
	// Output:
	// 9.8 L/100 km
	// "24 mpg" could be US or UK miles per gallon
}

func ExampleReadBike() {
	const file = `
tank = "12.5 L"
consumption = "4 L/100km"
needs = "95 RON"
[ground]
sand = 2.0
`
	b, err := fuel.ReadBike(strings.NewReader(file), "bike.toml", "")
	if err != nil {
		fmt.Println(err)
		return
	}
	// 4 L × 1.00 and 4 L × 2.0 for 100 km, out of 12 usable litres.
	fmt.Println(b.Usable(), "L usable, needs", b.Needs)
	for _, g := range []route.Ground{route.Paved, route.Sand} {
		rate := b.Rate() * fuel.Consumption(b.Weight(g).Likely)
		fmt.Printf("%s: %.0f L/100 km, dry after %.0f km\n", g, float64(rate), rate.Reach(b.Usable()).Kilometres())
	}
	// Output:
	// 12 L usable, needs 95 RON
	// paved: 4 L/100 km, dry after 300 km
	// sand: 8 L/100 km, dry after 150 km
}

func ExampleCourse_Between() {
	// 50 km of road and 10 km of sand, where the bike climbs 1000 m. With a pencil:
	// 50 × 0.045 × 1.00 = 2.25 and 10 × 0.045 × 1.80 = 0.81 L; the climb
	// 260 kg × 9.80665 m/s² × 1000 m ÷ (0.25 × 32.05 MJ/L) = 0.318 L.
	runs := []route.Run{
		{From: 0, To: 50_000, Ridden: 50_000, RiddenLow: 50_000, RiddenHigh: 50_000, Ground: route.Paved},
		{From: 50_000, To: 60_000, Ridden: 10_000, RiddenLow: 10_000, RiddenHigh: 10_000, Ground: route.Sand, Up: 1000},
	}
	course := fuel.NewCourse(runs, fuel.DefaultBike(), 1)
	leg := course.Between(0, course.Length())
	for _, g := range leg.Grounds {
		fmt.Printf("%s: %.2f L\n", g.Ground, float64(g.Likely))
	}
	fmt.Printf("climb: %.2f L\n", float64(leg.Climb))
	fmt.Printf("likely: %.2f L\n", float64(leg.Fuel.Likely))
	fmt.Printf("and back: %.2f L\n", float64(leg.Back.Likely))
	// Output:
	// paved: 2.25 L
	// sand: 0.81 L
	// climb: 0.32 L
	// likely: 3.38 L
	// and back: 3.06 L
}
