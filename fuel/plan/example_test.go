package plan_test

import (
	"fmt"
	"log"

	"lastpump/fuel"
	"lastpump/fuel/plan"
	"lastpump/fuel/stop"
	"lastpump/octane"
	"lastpump/route"

	"github.com/paulmach/orb"
)

func ExampleMake() {
	// 300 km due north in steps of a kilometre, one pump on the way.
	var track []route.Point
	for k := range 301 {
		track = append(track, route.Point{Point: orb.Point{20, 40 + float64(k)*0.008993216}, HasEle: true})
	}
	line, err := route.NewLine([]route.Track{{Segments: [][]route.Point{track}}}, route.LineOptions{Stretch: 1})
	if err != nil {
		log.Fatal(err)
	}
	p, err := plan.Make(plan.Inputs{
		Line:    line,
		Grounds: route.Grounds{Default: route.Dirt},
		Stops: []stop.Stop{{Name: "Ash Creek", At: line.At(140000), Standing: stop.Seen,
			Grades: []octane.Grade{octane.FromAKI(91)}}},
		Bike:    fuel.DefaultBike(),
		Options: plan.DefaultOptions(),
	})
	if err != nil {
		log.Fatal(err)
	}
	for i, l := range p.Legs {
		from, to := p.Ends(i)
		fmt.Printf("%s to %s: %.1f L, %s\n", from, to, l.Drink.Fuel.Likely, l.Verdict)
	}
	// Output:
	// the start to Ash Creek: 7.9 L, OK
	// Ash Creek to the end: 9.0 L, OK
}
