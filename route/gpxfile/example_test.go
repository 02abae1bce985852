package gpxfile_test

import (
	"errors"
	"fmt"
	"log"
	"strings"

	"lastpump/route/input"

	"lastpump/route/gpxfile"
)

func ExampleRead() {
	const text = `<gpx version="1.1" creator="example">
  <wpt lat="40.5" lon="-110.2"><name>Ash Creek</name><sym>Gas Station</sym></wpt>
  <trk><name>Day 1</name><trkseg>
    <trkpt lat="40.5" lon="-110.2"><ele>1650</ele></trkpt>
    <trkpt lat="40.6" lon="-110.1"/>
  </trkseg></trk>
</gpx>`
	f, err := gpxfile.Read(strings.NewReader(text), "loop.gpx")
	if err != nil {
		log.Fatal(err)
	}
	for _, w := range f.Waypoints {
		fmt.Printf("%s, %s, line %d\n", w.Name, w.Sym, w.Line)
	}
	for _, p := range f.Tracks[0].Segments[0] {
		fmt.Println(p.Lat(), p.Lon(), p.HasEle)
	}
	// Output:
	// Ash Creek, Gas Station, line 2
	// 40.5 -110.2 true
	// 40.6 -110.1 false
}

func ExampleRead_fault() {
	const text = `<gpx><trk><trkseg>
  <trkpt lon="-110.2"/>
</trkseg></trk></gpx>`
	_, err := gpxfile.Read(strings.NewReader(text), "loop.gpx")
	fmt.Println("error:", err)
	var fault *input.Error
	if errors.As(err, &fault) {
		fmt.Println("hint:", fault.HintText())
	}
	// Output:
	// error: loop.gpx:2:3: trkpt without lat
	// hint: every point needs lat and lon in decimal degrees: mend this point or delete it
}
