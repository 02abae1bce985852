package gpxfile_test

import (
	"math"
	"strings"
	"testing"

	"lastpump/route/gpxfile"
)

// read reads a GPX file given as text.
func read(text string) (*gpxfile.File, error) {
	return gpxfile.Read(strings.NewReader(text), "f.gpx")
}

// onePoint makes a file of one track point with the given attributes.
func onePoint(attrs string) string {
	return `<gpx version="1.1" creator="t"><trk><trkseg><trkpt ` + attrs + `/></trkseg></trk></gpx>`
}

// The limits of GPX 1.1, topografix.com/GPX/1/1/gpx.xsd: latitudeType has
// minInclusive -90 and maxInclusive 90, longitudeType minInclusive -180 and
// maxExclusive 180, wptType requires lat and lon and nothing else. 180 itself is
// written by real programs and read with a note. 90.00000000000001 is the next
// float64 above 90 (their distance is 2^-46, 1.4e-14), 180.00000000000003 the
// next above 180.
func TestSchemaLimits(t *testing.T) {
	for _, x := range []struct {
		attrs    string
		ok       bool
		lat, lon float64
		note     string
	}{
		{attrs: `lat="90.0" lon="0"`, ok: true, lat: 90},
		{attrs: `lat="90.0001" lon="0"`},
		{attrs: `lat="90.00000000000001" lon="0"`},
		{attrs: `lat="-90" lon="0"`, ok: true, lat: -90},
		{attrs: `lat="-90.00000000000001" lon="0"`},
		{attrs: `lat="0" lon="-180.0"`, ok: true, lon: -180},
		{attrs: `lat="0" lon="-180.00000000000003"`},
		{attrs: `lat="0" lon="179.99999999999997"`, ok: true, lon: math.Nextafter(180, 0)},
		{attrs: `lat="0" lon="180.0"`, ok: true, lon: 180,
			note: "f.gpx:1:45: lon 180 is outside the schema, which has -180 for it; read as 180"},
		{attrs: `lat="0" lon="180.00000000000003"`},
		{attrs: `lon="1"`},
		{attrs: `lat="1"`},
		{attrs: ``},
		{attrs: `lat="1" lon="2"`, ok: true, lat: 1, lon: 2}, // no ele, no time
	} {
		f, err := read(onePoint(x.attrs))
		if (err == nil) != x.ok {
			t.Errorf("%s: error %v", x.attrs, err)
			continue
		}
		if err != nil {
			continue
		}
		p := f.Tracks[0].Segments[0][0]
		if p.Lat() != x.lat || p.Lon() != x.lon || p.HasEle {
			t.Errorf("%s: read as %+v", x.attrs, p)
		}
		if note := strings.Join(f.Notes, "\n"); note != x.note {
			t.Errorf("%s: note %q, want %q", x.attrs, note, x.note)
		}
	}
}

// An xsd:decimal (XML Schema Part 2, section 3.2.3) may have a sign, may lack
// digits on one side of the point and may stand in white space. Exponents are
// not in it, but programs write them.
func TestNumberForms(t *testing.T) {
	for _, x := range []struct {
		lat  string
		want float64
		ok   bool
	}{
		{"47.5", 47.5, true}, {"+47.5", 47.5, true}, {"-.5", -0.5, true}, {"5.", 5, true},
		{" 47.5\n", 47.5, true}, {"&#52;7", 47, true}, {"007", 7, true},
		{"1e1", 10, true}, {"-1.5E-05", -0.000015, true}, {"1e-400", 0, true},
		{lat: ""}, {lat: "."}, {lat: "-"}, {lat: "1e"}, {lat: "1e+"}, {lat: "e5"}, {lat: "4 7"}, {lat: "47,5"},
		{lat: "NaN"}, {lat: "nan"}, {lat: "Inf"}, {lat: "-Infinity"}, {lat: "0x1p3"}, {lat: "0x10"}, {lat: "1_0"},
		{lat: "1e400"}, {lat: "--1"}, {lat: "1.2.3"}, {lat: "47°"}, {lat: "N47.5"}, {lat: "٤٧"},
	} {
		f, err := read(onePoint(`lat="` + x.lat + `" lon="0"`))
		if (err == nil) != x.ok {
			t.Errorf("lat %q: error %v", x.lat, err)
		} else if x.ok && f.Tracks[0].Segments[0][0].Lat() != x.want {
			t.Errorf("lat %q: read as %v", x.lat, f.Tracks[0].Segments[0][0].Lat())
		}
	}
}

// What an <ele>, on line 2 of a file, is read as. Absent is not zero: the sea is
// at 0.
var elevations = []struct {
	inner string
	ele   float64
	has   bool
	note  string
	err   string
}{
	{inner: ``},
	{inner: `<ele/>`},
	{inner: `<ele> </ele>`},
	{inner: `<ele>0</ele>`, has: true},
	{inner: `<ele> -12.5 </ele>`, ele: -12.5, has: true},
	{inner: `<ele>1<!-- c -->2<![CDATA[3]]></ele>`, ele: 123, has: true},
	{inner: `<ele>12<x>9</x></ele>`, ele: 12, has: true},
	{inner: `<time/><ele>5</ele>`, ele: 5, has: true},
	{inner: `<ele>5</ele><ele/>`, ele: 5, has: true},
	{inner: `<ele>20000</ele>`, ele: 20000, has: true},
	{inner: `<ele>-32768</ele>`, note: "f.gpx:2:1: elevation beyond 20000 m, taken as not known"},
	{inner: `<ele>20000.1</ele>`, note: "f.gpx:2:1: elevation beyond 20000 m, taken as not known"},
	{inner: `<ele>NaN</ele>`, err: `f.gpx:2:1: ele "NaN" is not a finite number`},
	{inner: `<ele>1e999</ele>`, err: `f.gpx:2:1: ele "1e999" is not a finite number`},
	{inner: `<ele>12 m</ele>`, err: `f.gpx:2:1: ele "12 m" is not a finite number`},
	{inner: `<ele>12,5</ele>`, err: `f.gpx:2:1: ele "12,5" is not a number`},
	{inner: `<geoidheight>7</geoidheight>`},
	{inner: `<extensions><ele>7</ele></extensions>`},
}

func TestElevation(t *testing.T) {
	for _, x := range elevations {
		for tag, frame := range map[string]string{
			"trkpt": "<gpx><trk><trkseg>%</trkseg></trk></gpx>",
			"rtept": "<gpx><rte>%</rte></gpx>",
			"wpt":   "<gpx>%</gpx>",
		} {
			text := strings.Replace(frame, "%", `<`+tag+` lat="1" lon="2">`+"\n"+x.inner+`</`+tag+`>`, 1)
			f, err := read(text)
			if err != nil || x.err != "" {
				if err == nil || err.Error() != x.err {
					t.Errorf("%s: error %v, want %s", text, err, x.err)
				}
				continue
			}
			if p := anyPoint(f); p.Ele != x.ele || p.HasEle != x.has {
				t.Errorf("%s: read as %+v", text, p)
			}
			if note := strings.Join(f.Notes, "\n"); note != x.note {
				t.Errorf("%s: note %q, want %q", text, note, x.note)
			}
		}
	}
}
