package gpxfile_test

import (
	"bytes"
	"math"
	"strings"
	"testing"

	"lastpump/route"
	"lastpump/route/gpxfile"
	"lastpump/route/input"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"
	"github.com/paulmach/orb"
	"github.com/tkrajina/gpxgo/gpx"
	"pgregory.net/rapid"
)

// oddText draws texts with what XML escapes, and what it does not allow.
func oddText(t *rapid.T, what string) string {
	return rapid.StringOfN(rapid.RuneFrom([]rune("abc <>&\"'\n\t\x00\x01\x1f\u007fж\u2028\ufffe\uffff\U0001F600]")),
		-1, 20, -1).Draw(t, what)
}

func drawPoint(t *rapid.T) (p route.Point) {
	p.Point = orb.Point{rapid.Float64Range(-180, math.Nextafter(180, 0)).Draw(t, "lon"),
		rapid.Float64Range(-90, 90).Draw(t, "lat")}
	if rapid.Bool().Draw(t, "height") {
		p.Ele, p.HasEle = rapid.Float64Range(-20000, 20000).Draw(t, "ele"), true
	}
	return p
}

func drawDocument(t *rapid.T) gpxfile.Document {
	d := gpxfile.Document{Name: oddText(t, "name"), Desc: oddText(t, "desc"),
		Record: rapid.SampledFrom([]string{"", "1 a {}", strings.Repeat("0123456789&<>", 60000)}).Draw(t, "record")}
	for range rapid.IntRange(0, 4).Draw(t, "waypoints") {
		d.Waypoints = append(d.Waypoints, gpxfile.Waypoint{Point: drawPoint(t), Name: oddText(t, "wpt name"),
			Desc: oddText(t, "wpt desc"),
			Cmt:  oddText(t, "cmt"), Sym: oddText(t, "sym"), Type: oddText(t, "type")})
	}
	for range rapid.IntRange(0, 3).Draw(t, "tracks") {
		trk := route.Track{Name: oddText(t, "trk name")}
		for range rapid.IntRange(0, 3).Draw(t, "segments") {
			trk.Segments = append(trk.Segments, rapid.SliceOfN(rapid.Custom(drawPoint), 1, 5).Draw(t, "points"))
		}
		d.Tracks = append(d.Tracks, trk)
	}
	return d
}

// kept is what XML 1.0, section 2.2, production [2] Char, lets through of a text, without
// what is cleaned out of every text and the white space around it.
func kept(s string) string {
	return strings.TrimSpace(input.Clean(strings.Map(func(r rune) rune {
		if r == '\t' || r == '\n' || r == '\r' || r >= 0x20 && r <= 0xd7ff || r >= 0xe000 && r <= 0xfffd ||
			r >= 0x10000 {
			return r
		}
		return -1
	}, s)))
}

// What is written is read again, to the last bit.
func TestWrittenIsReadAgain(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := drawDocument(t)
		var b, again bytes.Buffer
		if err := gpxfile.Write(&b, d); err != nil {
			t.Fatal(err)
		}
		if err := gpxfile.Write(&again, d); err != nil || b.String() != again.String() {
			t.Fatal("the same document gives other bytes")
		}
		f, err := gpxfile.Read(&b, "a.gpx")
		if err != nil {
			t.Fatalf("%v in\n%s", err, again.String())
		}
		if f.Version != "1.1" || f.Name != input.OneLine(kept(d.Name)) || f.Record.Text != d.Record || len(f.Notes) > 0 {
			t.Fatalf("version %q, name %q for %q, a record of %d for %d, %v", f.Version, f.Name, d.Name,
				len(f.Record.Text), len(d.Record), f.Notes)
		}
		for i := range d.Waypoints {
			w := &d.Waypoints[i]
			w.Name, w.Desc, w.Cmt, w.Sym, w.Type = input.OneLine(kept(w.Name)), kept(w.Desc), kept(w.Cmt), kept(w.Sym), kept(w.Type)
		}
		for i := range d.Tracks {
			d.Tracks[i].Name = input.OneLine(kept(d.Tracks[i].Name))
		}
		ignore := cmpopts.IgnoreFields(gpxfile.Waypoint{}, "File", "Line", "Col")
		if diff := cmp.Diff(d.Waypoints, f.Waypoints, ignore, cmpopts.EquateEmpty()); diff != "" {
			t.Fatal(diff)
		}
		if diff := cmp.Diff(d.Tracks, f.Tracks, cmpopts.EquateEmpty()); diff != "" {
			t.Fatal(diff)
		}
	})
}

// The library that others read with finds the same points in it.
func TestWrittenIsReadByOthers(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := drawDocument(t)
		var b bytes.Buffer
		if err := gpxfile.Write(&b, d); err != nil {
			t.Fatal(err)
		}
		g, err := gpx.ParseBytes(b.Bytes())
		if err != nil {
			t.Fatal(err)
		}
		if len(g.Waypoints) != len(d.Waypoints) || len(g.Tracks) != len(d.Tracks) {
			t.Fatalf("%d waypoints, %d tracks", len(g.Waypoints), len(g.Tracks))
		}
		for i, trk := range d.Tracks {
			for k, seg := range trk.Segments {
				for n, p := range seg {
					o := g.Tracks[i].Segments[k].Points[n]
					if o.Latitude != p.Lat() || o.Longitude != p.Lon() || o.Elevation.NotNull() != p.HasEle ||
						p.HasEle && o.Elevation.Value() != p.Ele {
						t.Fatalf("%v, height %v, is read as %v", p.Point, p.Ele, o)
					}
				}
			}
		}
	})
}

// The schema has longitudes from -180 to under 180.
func TestWrittenAtTheAntimeridian(t *testing.T) {
	var b bytes.Buffer
	d := gpxfile.Document{Tracks: []route.Track{{Segments: [][]route.Point{{{Point: orb.Point{180, 1e-7}, Ele: 1e-7,
		HasEle: true}}}}}}
	if err := gpxfile.Write(&b, d); err != nil {
		t.Fatal(err)
	}
	if want := `<trkpt lat="0.0000001" lon="-180"><ele>0.0000001</ele></trkpt>`; !strings.Contains(b.String(), want) {
		t.Errorf("no %s in\n%s", want, b.String())
	}
	for _, p := range []orb.Point{{0, 91}, {181, 0}} {
		if err := gpxfile.Write(&b, gpxfile.Document{Waypoints: []gpxfile.Waypoint{{Point: route.Point{Point: p}}}}); err == nil {
			t.Errorf("%v is written", p)
		}
	}
}

// Only what stands in the extensions of the first track or of the metadata, in the
// namespace, is a record; the place is that of the first element.
func TestRecordIsFound(t *testing.T) {
	const head = `<gpx version="1.1" xmlns="http://www.topografix.com/GPX/1/1" xmlns:lp="urn:lastpump:plan" xmlns:o="urn:other">`
	for _, c := range []struct{ text, want string }{
		{"\n<metadata><extensions><o:line>x</o:line><lp:line> a</lp:line><lp:other/><lp:line>b </lp:line></extensions></metadata>", "ab"},
		{"\n<trk><name>A way here</name><extensions><lp:line>ab</lp:line></extensions><trkseg/></trk><trk><extensions><lp:line>c</lp:line></extensions></trk>", "ab"},
		{"<trk/><trk><extensions><lp:line>x</lp:line></extensions></trk>", ""},
		{"<trk><trkseg><extensions><lp:line>x</lp:line></extensions></trkseg></trk>", ""},
		{"<metadata><extensions><line>x</line></extensions></metadata>", ""},
		{"<extensions><lp:line>x</lp:line></extensions>", ""},
		{"<metadata><o:extensions><lp:line>x</lp:line></o:extensions></metadata>", ""},
	} {
		f, err := gpxfile.Read(strings.NewReader(head+c.text+"</gpx>"), "a.gpx")
		if err != nil || f.Record.Text != c.want {
			t.Errorf("%s: %+v, %v", c.text, f, err)
		}
		if c.want != "" && (f.Record.Line != 2 || f.Record.Col != 41) { // 10 + 12 + 18 bytes stand before it
			t.Errorf("at %d:%d", f.Record.Line, f.Record.Col)
		}
	}
}
