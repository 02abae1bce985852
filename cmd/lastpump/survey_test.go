package main

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// The pumps of a survey stand in the order in which a rider comes by them, each once: the
// line goes 55 km north and back 380 m east of that, so that what lies east of it is closest
// on the way back, and passed on the way out.
func TestPumpsInTheOrderOfTheRide(t *testing.T) {
	folder := t.TempDir()
	var gpx, osm strings.Builder
	gpx.WriteString(`<gpx version="1.1" creator="t"><trk><trkseg>`)
	for i := range 101 {
		lat, lon := 47+float64(i)*0.01, 8.0
		if i > 50 {
			lat, lon = 47+float64(100-i)*0.01, 8.005
		}
		fmt.Fprintf(&gpx, `<trkpt lat="%.4f" lon="%.4f"/>`, lat, lon)
	}
	gpx.WriteString(`</trkseg></trk></gpx>`)
	osm.WriteString(`<osm version="0.6">`)
	for i, pump := range []string{"47.4 7.999 Third", "47.1 8.006 First", "47.3 7.999 Second"} {
		var lat, lon, name string
		fmt.Sscan(pump, &lat, &lon, &name)
		fmt.Fprintf(&osm, `<node id="%d" lat="%s" lon="%s"><tag k="amenity" v="fuel"/><tag k="name" v="%s"/></node>`, i+1, lat, lon, name)
	}
	osm.WriteString(`</osm>`)
	for name, text := range map[string]string{"loop.gpx": gpx.String(), "map.osm": osm.String()} {
		if err := os.WriteFile(filepath.Join(folder, name), []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	out, _ := lastpump(t, "survey", filepath.Join(folder, "loop.gpx"), "--map", filepath.Join(folder, "map.osm"), "--out", filepath.Join(folder, "out"))
	at := 0
	for _, name := range []string{"First", "Second", "Third"} {
		i := strings.Index(out[at:], " "+name+" ")
		if i < 0 {
			t.Fatalf("%s is not where it is passed in\n%s", name, out)
		}
		at += i
	}
}
