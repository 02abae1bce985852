package plan_test

import (
	"context"
	"fmt"
	"log"
	"strings"

	"lastpump/fuel"
	"lastpump/fuel/plan"
	"lastpump/fuel/stop"
	"lastpump/route"
	"lastpump/route/gpxfile"
)

const (
	pumpList   = "name,lat,lon,grades,standing\nAsh Creek,41.25905,20,91 AKI,seen\n"
	groundList = "from_km,to_km,ground\n0,140,dirt\n140,300,loose-gravel\n"
)

// northbound is 300 km due north, a point each kilometre.
func northbound() string {
	var points strings.Builder
	for km := range 301 {
		fmt.Fprintf(&points, `<trkpt lat="%.6f" lon="20"><ele>0</ele></trkpt>`, 40+float64(km)*0.008993216)
	}
	return `<gpx version="1.1"><trk><trkseg>` + points.String() + `</trkseg></trk></gpx>`
}

func ExampleMake() {
	track, err := gpxfile.Read(strings.NewReader(northbound()), "loop.gpx")
	if err != nil {
		log.Fatal(err)
	}
	line, err := route.NewLine(track.Lines(), route.LineOptions{Stretch: 1})
	if err != nil {
		log.Fatal(err)
	}
	stops, _, err := stop.ReadCSV(strings.NewReader(pumpList), "stops.csv", "")
	if err != nil {
		log.Fatal(err)
	}
	ground, _, err := route.ReadGround(strings.NewReader(groundList), "ground.csv")
	if err != nil {
		log.Fatal(err)
	}
	p, err := plan.Make(context.Background(), plan.Inputs{Line: line, Ground: ground, Stops: stops, Bike: fuel.DefaultBike()})
	if err != nil {
		log.Fatal(err)
	}
	for _, l := range p.Legs {
		fmt.Printf("%s to %s: %.1f L, %s\n", l.From.Key(p.Stops), l.To.Key(p.Stops), l.Drink.Fuel.Likely, l.Verdict)
	}
	// Output:
	// start to Ash Creek: 7.9 L, OK
	// Ash Creek to end: 9.0 L, OK
}

// Without a line there is nothing to plan, and nothing to crash on.
func ExampleMake_noLine() {
	_, err := plan.Make(context.Background(), plan.Inputs{Bike: fuel.DefaultBike()})
	fmt.Println(err)
	// Output: no plan: no line
}
