package gpxfile_test

import (
	"bytes"
	"strings"
	"testing"

	"lastpump/route/gpxfile"
)

// Of a file that is cut off anywhere, exactly the points that are whole before the
// cut are kept, counted here by their end tags.
func TestSalvageKeepsWhatIsWhole(t *testing.T) {
	const text = `<gpx version="1.1"><wpt lat="9" lon="9"><name>P</name></wpt><trk><name>A</name><trkseg>` +
		`<trkpt lat="1" lon="1"><ele>5</ele></trkpt><trkpt lat="1" lon="2"><ele>6</ele></trkpt></trkseg>` +
		`<trkseg><trkpt lat="1" lon="3"><ele>7</ele></trkpt></trkseg></trk></gpx>`
	for n := range len(text) {
		cut := text[:n]
		f, err := gpxfile.Salvage(strings.NewReader(cut), "f.gpx")
		whole := strings.Count(cut, "</trkpt>")
		if whole == 0 {
			if err == nil {
				t.Fatalf("nothing is whole in %q, and yet %+v", cut, f)
			}
			continue
		}
		if err != nil {
			t.Fatalf("%q: %v", cut, err)
		}
		points := 0
		for _, s := range f.Tracks[0].Segments {
			points += len(s)
		}
		if points != whole || len(f.Waypoints) != strings.Count(cut, "</wpt>") ||
			!strings.HasPrefix(f.Cut, "f.gpx:1:") {
			t.Fatalf("%q: %d points, %d whole, cut %q", cut, points, whole, f.Cut)
		}
		if _, plain := gpxfile.Read(strings.NewReader(cut), "f.gpx"); plain == nil || plain.Error() != f.Cut {
			t.Fatalf("%q: the error is %v, salvaged it is %q", cut, plain, f.Cut)
		}
	}
}

// A whole file is salvaged as it is read; a damaged one is not salvaged.
func TestSalvageOfOthers(t *testing.T) {
	f, err := gpxfile.Salvage(strings.NewReader(day("A")), "f.gpx")
	if err != nil || f.Cut != "" {
		t.Errorf("whole: %v, cut %q", err, f.Cut)
	}
	for _, text := range []string{
		strings.Replace(day("A"), "lat=", "lat", 2), strings.Replace(day("A"), `lon="3"`, `lon="x"`, 1), "", "{}",
	} {
		if f, err := gpxfile.Salvage(strings.NewReader(text), "f.gpx"); err == nil {
			t.Errorf("%q is read as %+v", text, f)
		}
	}
}

// What is cut off before it is unpacked, and what ends in zero bytes.
func TestSalvageOfPackedFiles(t *testing.T) {
	var long strings.Builder
	long.WriteString("<gpx><trk><trkseg>")
	for i := range 5000 {
		long.WriteString(strings.Replace(`<trkpt lat="1" lon="0.`, "1", string(rune('0'+i*7919%10)), 1))
		long.WriteString(strings.Repeat(string(rune('0'+i*104729%10)), 1+i*31%5) + `"/>`)
	}
	long.WriteString("</trkseg></trk></gpx>")
	text := long.String()
	packed, archive := gzipped(t, text), zipped(t, "a.gpx", text)
	for what, data := range map[string][]byte{
		"gzip": packed[:len(packed)/2], "zip": archive[:len(archive)/2],
		"zeros": append([]byte(text[:len(text)/2]), make([]byte, 4000)...),
	} {
		f, err := gpxfile.Salvage(bytes.NewReader(data), "f")
		if err != nil {
			t.Errorf("%s: %v", what, err)
			continue
		}
		if n := len(f.Tracks[0].Segments[0]); n < 1000 || n > 4000 || f.Cut == "" {
			t.Errorf("%s: %d points of 5000 kept, cut %q", what, n, f.Cut)
		}
		if _, err := gpxfile.Read(bytes.NewReader(data), "f"); err == nil {
			t.Errorf("%s: no error without salvaging", what)
		}
	}
}

// References that XML does not know are text, and told of once for each kind.
func TestUnknownReferences(t *testing.T) {
	f, err := gpxfile.Read(strings.NewReader("<gpx>\n<name>Fuel & Food &nbsp;&nbsp;&amp;&#0;</name><wpt lat='1' lon='2'>"+
		"<name>&eacute;</name></wpt><x a='&nbsp;&'/></gpx>"), "f.gpx")
	if err != nil {
		t.Fatal(err)
	}
	if f.Name != "Fuel & Food &nbsp;&nbsp;&&#0;" || f.Waypoints[0].Name != "&eacute;" {
		t.Errorf("%q, %q", f.Name, f.Waypoints[0].Name)
	}
	want := []string{
		`f.gpx:2:12: "&" that starts no reference, kept as text (and 1 more like it)`,
		`f.gpx:2:19: unknown reference "&nbsp;", kept as text (and 2 more like it)`,
		`f.gpx:2:36: unknown reference "&#0;", kept as text`,
		`f.gpx:2:74: unknown reference "&eacute;", kept as text`,
	}
	if strings.Join(f.Notes, "\n") != strings.Join(want, "\n") {
		t.Errorf("notes\n%s\nwant\n%s", strings.Join(f.Notes, "\n"), strings.Join(want, "\n"))
	}
}
