package gpxfile_test

import (
	"bytes"
	"strings"
	"testing"
	"testing/iotest"

	"github.com/google/go-cmp/cmp"
	"golang.org/x/text/encoding"
	"golang.org/x/text/encoding/charmap"
	"golang.org/x/text/encoding/unicode"

	"lastpump/route"
	"lastpump/route/gpxfile"
)

// anyPoint gives the first point of a file.
func anyPoint(f *gpxfile.File) route.Point {
	for _, lines := range [][]gpxfile.Track{f.Tracks, f.Routes} {
		for _, line := range lines {
			for _, seg := range line.Segments {
				return seg[0]
			}
		}
	}
	return f.Waypoints[0].Point
}

func at(lat, lon float64) (p route.Point) {
	p.Point = [2]float64{lon, lat}
	return p
}

func high(p route.Point, ele float64) route.Point {
	p.Ele, p.HasEle = ele, true
	return p
}

// whole has everything that is read, in odd but lawful XML.
const whole = "<?xml version='1.0' encoding='UTF-8'?>\n" +
	`<!DOCTYPE gpx [<!ENTITY x "<gpx>"> <!-- > ' --> ]>
<!-- a comment --><?style sheet?>
<gpx version="1.1" creator='t' xmlns="http://www.topografix.com/GPX/1/1" xmlns:x="urn:x">
 <metadata><author><name>not this</name></author><name> The
  Loop </name></metadata>
 <wpt lat="1" lon="2" ><ele>3</ele><name>Ash &amp; Creek</name><cmt>c</cmt><desc><![CDATA[grades: 95 RON
hours: <24/7>]]></desc><sym>Gas Station</sym><type>fuel</type></wpt>
	<wpt
 lat='-1' lon='-2'/>
 <rte><name>R</name><rtept lat="5" lon="6"><name>n</name></rtept></rte>
 <trk><name>T&#x31;</name><number>1</number>
  <trkseg><trkpt lat="7" lon="8"><ele>9</ele></trkpt><trkpt lon="11" lat="10"></trkpt></trkseg>
  <trkseg></trkseg>
  <trkseg/>
  <trkseg><trkpt lat="12" lon="13"/></trkseg>
 </trk>
 <trk/>
 <rte/>
</gpx>
<!-- the end --> <?done?>
`

var wholeRead = gpxfile.File{
	Name: "The Loop", Version: "1.1",
	Tracks: []gpxfile.Track{
		{Name: "T1", Segments: [][]route.Point{{high(at(7, 8), 9), at(10, 11)}, nil, nil, {at(12, 13)}}},
		{},
	},
	Routes: []gpxfile.Track{
		{Name: "R", Segments: [][]route.Point{{at(5, 6)}}},
		{Segments: [][]route.Point{nil}},
	},
	Waypoints: []gpxfile.Waypoint{
		{Point: high(at(1, 2), 3), Name: "Ash & Creek", Cmt: "c", Desc: "grades: 95 RON\nhours: <24/7>",
			Sym: "Gas Station", Type: "fuel", File: "f.gpx", Line: 7, Col: 2},
		{Point: at(-1, -2), File: "f.gpx", Line: 9, Col: 2},
	},
}

func TestWhole(t *testing.T) {
	for name, r := range map[string]func(string) (*gpxfile.File, error){
		"as it is": read,
		"byte by byte": func(s string) (*gpxfile.File, error) {
			return gpxfile.Read(iotest.OneByteReader(strings.NewReader(s)), "f.gpx")
		},
		"end with the last bytes": func(s string) (*gpxfile.File, error) {
			return gpxfile.Read(iotest.DataErrReader(strings.NewReader(s)), "f.gpx")
		},
		"gzipped": func(s string) (*gpxfile.File, error) {
			return gpxfile.Read(bytes.NewReader(gzipped(t, s)), "f.gpx")
		},
		"with a byte order mark": func(s string) (*gpxfile.File, error) { return read("\uFEFF" + s) },
		"with CRLF": func(s string) (*gpxfile.File,
			error) {
			return read(strings.ReplaceAll(s, "\n", "\r\n"))
		},
	} {
		got, err := r(whole)
		if err != nil {
			t.Errorf("%s: %v", name, err)
		} else if diff := cmp.Diff(wholeRead, *got); diff != "" {
			t.Errorf("%s: want (-), got (+):\n%s", name, diff)
		}
	}
}

const gpx11 = `xmlns="http://www.topografix.com/GPX/1/1"`

// What is not ours must not be mistaken for ours, and only children count.
var foreign = []struct {
	text             string
	tracks, points   int
	name             string
	waypoints, notes int
}{
	{text: `<gpx><trk><trkseg><trkpt lat="1" lon="2"/></trkseg></trk></gpx>`, tracks: 1, points: 1},
	{text: `<gpx><trk><trkseg><trkpt lat="0000000000000012.5" lon="-000000000000001.5"/></trkseg></trk></gpx>`,
		tracks: 1, points: 1},
	// Prefixes.
	{text: `<g:gpx xmlns:g="http://www.topografix.com/GPX/1/1"><g:trk><g:trkseg><g:trkpt lat="1" lon="2"/></g:trkseg></g:trk></g:gpx>`, tracks: 1, points: 1},
	{text: `<g:gpx><g:trk><g:trkseg><g:trkpt lat="1" lon="2"/></g:trkseg></g:trk></g:gpx>`, tracks: 1, points: 1},
	{text: `<gpx ` + gpx11 + ` xmlns:g="http://www.topografix.com/GPX/1/1"><g:trk/></gpx>`, tracks: 1},
	{text: `<gpx ` + gpx11 + ` xmlns:g="http://www.topografix.com/GPX/1/0"><g:trk/></gpx>`, tracks: 1},
	{text: `<gpx xmlns="urn:some"><trk/><g:trk xmlns:g="urn:some"/></gpx>`, tracks: 2},
	{text: `<g:gpx xmlns:g="urn:g"><trk/></g:gpx>`, tracks: 1},
	{text: `<gpx ` + gpx11 + `><trk xmlns=""/></gpx>`, tracks: 1},
	{text: `<gpx ` + gpx11 + `><trk xmlns="urn:x"/></gpx>`},
	{text: `<gpx ` + gpx11 + `><x:trk xmlns:x="urn:x"/><trk/></gpx>`, tracks: 1},
	{text: `<gpx><x:trk/></gpx>`},
	{text: `<gpx><trk xmlns:="urn:x" xmlnsx="urn:x"/></gpx>`, tracks: 1},
	{text: `<gpx ` + gpx11 + ` xmlns:x="urn:x"><x:a xmlns="urn:x"/><trk/></gpx>`, tracks: 1},
	{text: `<gpx><x:wpt xmlns:x="urn:x"/><wpt lat="1" lon="2"/></gpx>`, waypoints: 1},
	// Places.
	{text: `<gpx><extensions><trk/><wpt/><name>x</name></extensions></gpx>`},
	{text: `<gpx><metadata><trk/><wpt/></metadata></gpx>`},
	{text: `<gpx><trk><extensions><trkseg><trkpt/></trkseg><name>x</name></extensions></trk></gpx>`, tracks: 1},
	{text: `<gpx><trk><trkseg><wpt/><x><trkpt/></x></trkseg></trk></gpx>`, tracks: 1},
	{text: `<gpx><trk><trkpt lat="1" lon="2"/><trkpt/></trk></gpx>`, tracks: 1, notes: 1},
	// Names.
	{text: `<gpx><name>a</name></gpx>`, name: "a"},
	{text: `<gpx><metadata><name>b</name></metadata><name>a</name></gpx>`, name: "b"},
	{text: `<gpx><metadata><name/></metadata><name>a</name></gpx>`, name: "a"},
	{text: `<gpx><author><name>x</name></author></gpx>`},
	{text: `<gpx><name>a<name>b</name>c</name></gpx>`, name: "ac"},
}

func TestForeign(t *testing.T) {
	for _, x := range foreign {
		f, err := read(x.text)
		if err != nil {
			t.Errorf("%s: %v", x.text, err)
			continue
		}
		points := 0
		for _, trk := range f.Tracks {
			for _, seg := range trk.Segments {
				points += len(seg)
			}
		}
		if len(f.Tracks) != x.tracks || points != x.points || f.Name != x.name ||
			len(f.Waypoints) != x.waypoints || len(f.Notes) != x.notes {
			t.Errorf("%s: read as %+v", x.text, f)
		}
	}
}

// An extension of a point has elements of the same names, at every point.
func TestForeignInPoint(t *testing.T) {
	f, err := read(`<gpx xmlns="http://www.topografix.com/GPX/1/1" xmlns:x="urn:x"><wpt lat="1" lon="2" x:lat="8">
		<x:ele>7</x:ele><ele xmlns="urn:x">7</ele><x:name>no</x:name>
		<extensions><ele>7</ele><name>no</name><x:y><name>no</name></x:y></extensions>
		<link><type>no</type></link><name>yes</name></wpt></gpx>`)
	if err != nil {
		t.Fatal(err)
	}
	want := []gpxfile.Waypoint{{Point: at(1, 2), Name: "yes", File: "f.gpx", Line: 1, Col: 64}}
	if diff := cmp.Diff(want, f.Waypoints); diff != "" {
		t.Errorf("want (-), got (+):\n%s", diff)
	}
}

// The same file in several encodings; what the bytes are is left to x/text.
const nordic = "Þórsmörk – bensín"

func labelled(label string) string {
	return `<?xml version="1.0" encoding="` + label + "\"?>\n<gpx><name>" + nordic + "</name></gpx>"
}

func encoded(enc encoding.Encoding, text string) string {
	out, err := enc.NewEncoder().String(text)
	if err != nil {
		panic(err) // a test's own text
	}
	return out
}

var encodings = map[string]string{
	"UTF-8":                   labelled("UTF-8"),
	"utf-8":                   labelled("utf-8"),
	"UTF-8 by its mark":       "\uFEFF" + labelled("ISO-8859-1"),
	"ISO-8859-1":              encoded(charmap.Windows1252, labelled("ISO-8859-1")),
	"windows-1252":            encoded(charmap.Windows1252, labelled("windows-1252")),
	"UTF-16 little-endian":    encoded(unicode.UTF16(unicode.LittleEndian, unicode.UseBOM), labelled("UTF-16")),
	"UTF-16 big-endian":       encoded(unicode.UTF16(unicode.BigEndian, unicode.UseBOM), labelled("UTF-16")),
	"UTF-16LE without a mark": encoded(unicode.UTF16(unicode.LittleEndian, unicode.IgnoreBOM), labelled("UTF-16")),
	"UTF-16BE without a mark": encoded(unicode.UTF16(unicode.BigEndian, unicode.IgnoreBOM), labelled("UTF-16")),
	"a comment first":         encoded(charmap.Windows1252, "\n<!-- x -->"+labelled("ISO-8859-1")),
	"spaces around =":         encoded(charmap.Windows1252, strings.Replace(labelled("ISO-8859-1"), "=", " = ", 2)),
	"no declaration":          "<gpx><name>" + nordic + "</name></gpx>",
	"no encoding":             "<?xml version='1.0'?><gpx><name>" + nordic + "</name></gpx>",
	"a label without quotes":  "<?xml version='1.0' encoding=x?><gpx><name>" + nordic + "</name></gpx>",
	"a label without an end":  "<?xml version='1.0' encoding='x?><gpx><name>" + nordic + "</name></gpx>",
	"no label":                "<?xml version='1.0' encoding?><gpx><name>" + nordic + "</name></gpx>",
}

func TestEncodings(t *testing.T) {
	for kind, text := range encodings {
		for _, text := range []string{text, string(gzipped(t, text))} {
			f, err := read(text)
			if err != nil {
				t.Errorf("%s: %v", kind, err)
			} else if f.Name != nordic || len(f.Notes) > 0 {
				t.Errorf("%s: read as %q, notes %q", kind, f.Name, f.Notes)
			}
		}
	}
	f, err := read(encoded(charmap.Windows1251,
		`<?xml version="1.0" encoding="windows-1251"?><gpx><name>Улаан тайга</name></gpx>`))
	if err != nil || f.Name != "Улаан тайга" {
		t.Errorf("windows-1251: %v, %v", f, err)
	}
}

func TestNotes(t *testing.T) {
	for _, x := range []struct{ text, name, note string }{
		{"<gpx>\n<name>a\xffb</name></gpx>", "a\uFFFDb", "f.gpx:2:8: bytes that are not UTF-8, read as \uFFFD"},
		{"<gpx>\n<name>a\xe2\x82</name><cmt>\xff</cmt></gpx>", "a\uFFFD\uFFFD",
			"f.gpx:2:8: bytes that are not UTF-8, read as \uFFFD"},
		{"<gpx>\n<x a='\xff'/></gpx>", "", "f.gpx:2:1: bytes that are not UTF-8, read as \uFFFD"},
		{"<?xml version='1.0' encoding='UTF-16'?><gpx><name>é</name></gpx>", "é",
			"f.gpx:1:1: says that it is UTF-16 but is not; read as UTF-8"},
		{"<gpx><trk>\n<trkpt lat='1' lon='2'/><trkpt lat='1' lon='2'/><trkpt lat='1' lon='2'/></trk></gpx>", "",
			"f.gpx:2:1: trkpt outside trkseg, left out (and 2 more like it)"},
	} {
		f, err := read(x.text)
		if err != nil {
			t.Errorf("%q: %v", x.text, err)
			continue
		}
		if f.Name != x.name {
			t.Errorf("%q: name %q, want %q", x.text, f.Name, x.name)
		}
		if diff := cmp.Diff([]string{x.note}, f.Notes); diff != "" {
			t.Errorf("%q: want (-), got (+):\n%s", x.text, diff)
		}
	}
}
