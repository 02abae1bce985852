package gpxfile_test

import (
	"bytes"
	"compress/gzip"
	"errors"
	"io"
	"math"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
	"time"

	"lastpump/route/internal/testfiles"

	"github.com/google/go-cmp/cmp"
	"github.com/muktihari/xmltokenizer"
	"github.com/tkrajina/gpxgo/gpx"

	"lastpump/route"
	"lastpump/route/gpxfile"
)

// corpus gives the GPX files that come with gpxgo and xmltokenizer, unpacked and
// as they are.
func corpus(t *testing.T) map[string]corpusFile {
	t.Helper()
	files := map[string]corpusFile{}
	for _, dir := range []string{
		testfiles.Dir(t, testfiles.Gpxgo, "test_files"),
		testfiles.Dir(t, testfiles.XMLTokenizer, "testdata"),
	} {
		names, err := filepath.Glob(filepath.Join(dir, "*.gpx*"))
		if err != nil {
			t.Fatal(err)
		}
		for _, path := range names {
			raw, err := os.ReadFile(path)
			if err != nil {
				t.Fatal(err)
			}
			files[filepath.Base(path)] = corpusFile{raw, unpacked(t, raw)}
		}
	}
	if len(files) != 14+4 { // 14 in gpxgo v1.4.0, 4 in xmltokenizer v0.0.5
		t.Fatalf("%d files, want 18", len(files))
	}
	return files
}

type corpusFile struct{ raw, text []byte }

func unpacked(t *testing.T, raw []byte) []byte {
	t.Helper()
	if !bytes.HasPrefix(raw, []byte("\x1f\x8b")) {
		return raw
	}
	r, err := gzip.NewReader(bytes.NewReader(raw))
	if err != nil {
		t.Fatal(err)
	}
	text, err := io.ReadAll(r)
	if err != nil {
		t.Fatal(err)
	}
	return text
}

// TestLikeGpxgo compares everything we read with what gpxgo reads, exactly.
func TestLikeGpxgo(t *testing.T) {
	for name, file := range corpus(t) {
		t.Run(name, func(t *testing.T) {
			raw, text := file.raw, file.text
			if name == "ride_sembalun.gpx" {
				raw = withPosition(t, raw)
				text = raw
			}
			ours, err := gpxfile.Read(bytes.NewReader(raw), name)
			if err != nil {
				t.Fatal(err)
			}
			theirs, err := gpx.ParseBytes(text)
			if err != nil {
				t.Fatal(err)
			}
			want := fromGpxgo(theirs)
			got := *ours
			got.Notes = nil
			if name == "gpx-without-root-attributes.gpx" || name == "gpx-without-xml-declaration.gpx" {
				// gpxgo gives 1.1 where the file says nothing.
				want.Version = ""
			}
			for i := range got.Waypoints { // gpxgo has no places
				if got.Waypoints[i].Line < 1 || got.Waypoints[i].Col < 1 {
					t.Errorf("waypoint %d at %d:%d", i, got.Waypoints[i].Line, got.Waypoints[i].Col)
				}
				got.Waypoints[i].Line, got.Waypoints[i].Col, got.Waypoints[i].File = 0, 0, ""
				want.Waypoints[i].Time, want.Waypoints[i].HasTime = 0, false // of no use to us
			}
			if diff := cmp.Diff(want, got); diff != "" {
				t.Errorf("gpxgo (-) and we (+) differ:\n%.2000s", diff)
			}
			// Three files have points of 1901, where a clock had run over.
			if len(ours.Notes) > 0 && !strings.Contains(ours.Notes[0],
				": a time that is no date from 1970 to 2106, left out") {
				t.Errorf("notes on a sound file: %q", ours.Notes)
			}
			sameLength(t, ours, theirs)
		})
	}
}

// withPosition gives the one point of the file that has none a position. gpxgo
// is wrong about it: it reads the point as 0,0 (TestPointWithoutPosition).
func withPosition(t testing.TB, data []byte) []byte {
	t.Helper()
	if n := bytes.Count(data, []byte("<trkpt>")); n != 1 {
		t.Fatalf("%d points without position, want 1", n)
	}
	return bytes.Replace(data, []byte("<trkpt>"), []byte(`<trkpt lat="-8.576" lon="116.105">`), 1)
}

// The one known file with such a point: gpxgo makes it 13 000 km longer, we name
// its place. Line 12 and column 4 by grep -n.
func TestPointWithoutPosition(t *testing.T) {
	file := corpus(t)["ride_sembalun.gpx"]
	_, err := gpxfile.Read(bytes.NewReader(file.raw), "ride_sembalun.gpx")
	const want = "ride_sembalun.gpx:12:4: trkpt without lat and lon"
	if err == nil || err.Error() != want {
		t.Errorf("error %v, want %s", err, want)
	}
	upTo := bytes.Index(file.text, []byte("<trkpt lat"))
	theirs, err := gpx.ParseString(string(file.text[:upTo]) + "</trkseg></trk></gpx>")
	if err != nil {
		t.Fatal(err)
	}
	if p := theirs.Tracks[0].Segments[0].Points[0]; p.Latitude != 0 || p.Longitude != 0 {
		t.Errorf("gpxgo reads %v,%v now: is this test still needed?", p.Latitude, p.Longitude)
	}
}

func fromGpxgo(g *gpx.GPX) gpxfile.File {
	f := gpxfile.File{Name: strings.TrimSpace(g.Name), Version: g.Version}
	for _, trk := range g.Tracks {
		track := gpxfile.Track{Name: strings.TrimSpace(trk.Name)}
		for _, seg := range trk.Segments {
			track.Segments = append(track.Segments, points(seg.Points))
		}
		f.Tracks = append(f.Tracks, track)
	}
	for _, rte := range g.Routes {
		f.Routes = append(f.Routes, gpxfile.Track{
			Name: strings.TrimSpace(rte.Name), Segments: [][]route.Point{points(rte.Points)}})
	}
	for i := range g.Waypoints {
		w := &g.Waypoints[i]
		f.Waypoints = append(f.Waypoints, gpxfile.Waypoint{
			Point: point(w), Name: strings.TrimSpace(w.Name), Desc: strings.TrimSpace(w.Description),
			Cmt: strings.TrimSpace(w.Comment), Sym: strings.TrimSpace(w.Symbol), Type: strings.TrimSpace(w.Type)})
	}
	return f
}

func points(from []gpx.GPXPoint) (to []route.Point) {
	for i := range from {
		to = append(to, point(&from[i]))
	}
	return to
}

func point(from *gpx.GPXPoint) (p route.Point) {
	p.Point = [2]float64{from.Longitude, from.Latitude}
	if from.Elevation.NotNull() {
		p.Ele, p.HasEle = from.Elevation.Value(), true
	}
	if s := from.Timestamp.Unix(); !from.Timestamp.IsZero() && s >= 0 {
		p.Time, p.HasTime = uint32(s), true
	}
	return p
}

// sameLength compares the tracks' lengths on the ground. gpxgo takes a degree
// for 10000.8/90 km, which makes its lines 0.07 % shorter than the mean radius
// does, and short steps for flat; 0.2 % leaves room for both.
func sameLength(t *testing.T, ours *gpxfile.File, theirs *gpx.GPX) {
	t.Helper()
	want, got := 0.0, 0.0
	for i, track := range ours.Tracks {
		for j, seg := range track.Segments {
			for k := 1; k < len(seg); k++ {
				got += haversine(seg[k-1], seg[k])
			}
			want += theirs.Tracks[i].Segments[j].Length2D()
		}
	}
	if math.Abs(got-want) > 0.002*want {
		t.Errorf("length %.0f m, gpxgo has %.0f m", got, want)
	}
}

// haversine is the distance on a sphere of the mean radius, in metres.
//
//	R. W. Sinnott, Virtues of the Haversine, Sky and Telescope 68 (1984), as given
//	in the GIS FAQ, Q5.1; radius of GRS 80, Moritz 2000.
func haversine(a, b route.Point) float64 {
	const rad = math.Pi / 180
	sinLat := math.Sin((b.Lat() - a.Lat()) * rad / 2)
	sinLon := math.Sin((b.Lon() - a.Lon()) * rad / 2)
	h := sinLat*sinLat + math.Cos(a.Lat()*rad)*math.Cos(b.Lat()*rad)*sinLon*sinLon
	return 2 * 6371008.8 * math.Asin(math.Min(1, math.Sqrt(h)))
}

// TestLikeXMLTokenizer compares track points with a second reader, which knows
// nothing of GPX.
func TestLikeXMLTokenizer(t *testing.T) {
	for name, file := range corpus(t) {
		if name == "ride_sembalun.gpx" {
			file.raw = withPosition(t, file.raw)
			file.text = file.raw
		}
		ours, err := gpxfile.Read(bytes.NewReader(file.raw), name)
		if err != nil {
			t.Fatal(err)
		}
		var got []route.Point
		for _, track := range ours.Tracks {
			for _, seg := range track.Segments {
				got = append(got, seg...)
			}
		}
		if diff := cmp.Diff(tokenized(t, file.text), got); diff != "" {
			t.Errorf("%s: xmltokenizer (-) and we (+) differ:\n%.2000s", name, diff)
		}
	}
}

// tokenized gives every trkpt with its ele.
func tokenized(t *testing.T, text []byte) (found []route.Point) {
	t.Helper()
	tokens := xmltokenizer.New(bytes.NewReader(text))
	inside := false
	for {
		token, err := tokens.Token()
		if errors.Is(err, io.EOF) {
			return found
		}
		if err != nil {
			t.Fatal(err)
		}
		switch string(token.Name.Full) {
		case "trkpt":
			if inside = !token.IsEndElement && !token.SelfClosing; token.IsEndElement {
				continue
			}
			var p route.Point
			for _, a := range token.Attrs {
				switch string(a.Name.Full) {
				case "lat":
					p.Point[1] = number(t, a.Value)
				case "lon":
					p.Point[0] = number(t, a.Value)
				}
			}
			found = append(found, p)
		case "ele":
			if inside && !token.IsEndElement {
				p := &found[len(found)-1]
				p.Ele, p.HasEle = number(t, token.Data), true
			}
		case "time":
			when, err := time.Parse(time.RFC3339, strings.TrimSuffix(string(token.Data), "Z")+"Z") // the schema: UTC
			if inside && !token.IsEndElement && err == nil && when.Unix() >= 0 {
				p := &found[len(found)-1]
				p.Time, p.HasTime = uint32(when.Unix()), true
			}
		}
	}
}

func number(t *testing.T, b []byte) float64 {
	t.Helper()
	v, err := strconv.ParseFloat(string(b), 64)
	if err != nil {
		t.Fatal(err)
	}
	return v
}
