package route_test

import (
	"fmt"
	"log"
	"strings"

	"github.com/paulmach/orb"

	"lastpump/route"
)

func ExampleDistance() {
	// Lyon to Paris, as printed on the front page of the Python package haversine:
	// 392.2172595594006 km.
	lyon, paris := orb.Point{4.8422, 45.7597}, orb.Point{2.3508, 48.8567} // longitude first
	fmt.Printf("%.4f km\n", route.Distance(lyon, paris).Kilometres())
	// Output: 392.2173 km
}

// northward makes a segment along a meridian. A tenth of a degree of latitude is
// 11.1195 km.
func northward(lats ...float64) []route.Point {
	var points []route.Point
	for _, lat := range lats {
		points = append(points, route.Point{Point: orb.Point{-110, lat}})
	}
	return points
}

func ExampleNewLine() {
	tracks := []route.Track{
		{Name: "Day 1", Segments: [][]route.Point{northward(40, 40.01, 40.02, 40.03)}},
		{Name: "Day 2", Segments: [][]route.Point{northward(40.06, 40.07, 40.08)}}, // does not start where day 1 ends
	}
	line, err := route.NewLine(tracks, route.LineOptions{Stretch: 1.1})
	if err != nil {
		log.Fatal(err)
	}
	fmt.Printf("%.2f km, closed: %v\n", line.Length().Kilometres(), line.Closed)
	for _, p := range line.Parts {
		fmt.Printf("%s from km %.2f to %.2f\n", p.Name, p.From.Kilometres(), p.To.Kilometres())
	}
	for _, g := range line.Gaps {
		fmt.Printf("gap of %.1f km at km %.1f\n", g.Straight.Kilometres(), g.At.Kilometres())
	}
	for _, r := range line.Runs(route.Grounds{Default: route.LooseGravel}) {
		fmt.Printf("%.2f km on the line, %.2f km ridden on %s\n", (r.To - r.From).Kilometres(), r.Ridden.Kilometres(),
			r.Ground)
	}
	// Output:
	// 8.90 km, closed: false
	// Day 1 from km 0.00 to 3.34
	// Day 2 from km 6.67 to 8.90
	// gap of 3.3 km at km 3.3
	// 3.34 km on the line, 3.67 km ridden on loose-gravel
	// 3.34 km on the line, 4.34 km ridden on loose-gravel
	// 2.22 km on the line, 2.45 km ridden on loose-gravel
}

func ExampleNewLine_fault() {
	_, err := route.NewLine(nil, route.LineOptions{})
	fmt.Println("error:", err)
	// Output: error: no track and no route with points in it
}

func ExampleLine_At() {
	line, err := route.NewLine([]route.Track{{Segments: [][]route.Point{northward(40, 40.1)}}},
		route.LineOptions{Stretch: 1})
	if err != nil {
		log.Fatal(err)
	}
	half := line.At(line.Length() / 2)
	fmt.Printf("%.3f N, %.3f E\n", half.Lat(), half.Lon())
	// Output: 40.050 N, -110.000 E
}

func ExampleLine_Passages() {
	// Out and back on one road: a pump beside it is passed twice.
	road := northward(40, 40.1, 40.2, 40.1, 40)
	line, err := route.NewLine([]route.Track{{Segments: [][]route.Point{road}}}, route.LineOptions{Stretch: 1})
	if err != nil {
		log.Fatal(err)
	}
	pump := orb.Point{-110.005, 40.1}
	for _, p := range line.Passages(pump, 2000) {
		fmt.Printf("at km %.2f, %.0f m off\n", p.At.Kilometres(), p.Off)
	}
	// 0.005° of longitude at 40.1° N are 556 m × cos 40.1° = 425 m.

	// Output:
	// at km 11.12, 425 m off
	// at km 33.36, 425 m off
}

func ExampleReadGround() {
	const file = "from_km,to_km,ground,note\n0,14,paved,highway\n14,21.5,lava,county road\n"
	_, _, err := route.ReadGround(strings.NewReader(file), "ground.csv")
	fmt.Println(err)

	sections, _, err := route.ReadGround(strings.NewReader(strings.ReplaceAll(file, ",lava", ",packed-gravel")),
		"ground.csv")
	if err != nil {
		log.Fatal(err)
	}
	for _, s := range sections {
		fmt.Printf("km %.1f to %.1f: %s %s\n", s.From.Kilometres(), s.To.Kilometres(), s.Ground, s.Note)
	}
	// Output:
	// ground.csv:3:9: unknown ground "lava"
	// km 0.0 to 14.0: paved highway
	// km 14.0 to 21.5: packed-gravel county road
}
