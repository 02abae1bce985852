package stop_test

import (
	"fmt"
	"strings"

	"lastpump/fuel/stop"
)

func ExampleReadCSV() {
	// AI-92 is 92 by the research method (GOST R 51105-97 § 3.1).
	const list = `name,lat,lon,grades,standing
Old Mill,48.0603,95.8971,95 RON; AI-92,seen
Shed,48.2,107.4,,hearsay
Depot,48.6,107.1,diesel,
`
	stops, _, err := stop.ReadCSV(strings.NewReader(list), "stops.csv", "")
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, s := range stops {
		fmt.Println(s.Name, s.Grades, s.Standing, "no petrol:", s.NoPetrol())
	}

	_, _, err = stop.ReadCSV(strings.NewReader("name,lat,lon,grades\nKiosk,48.2,107.4,92\n"), "more.csv", "")
	fmt.Println(err)
	// Output:
	// Old Mill [95 RON 92 RON] seen no petrol: false
	// Shed [] hearsay no petrol: false
	// Depot [] map no petrol: true
	// more.csv:2:18: grades: "92" has no scale: 91 RON and 91 AKI are different petrols
}
