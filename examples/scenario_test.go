package examples_test

import (
	"math"
	"os"
	"strconv"
	"strings"
	"testing"

	"github.com/paulmach/orb"
	"github.com/tkrajina/gpxgo/gpx"

	"lastpump/route"
)

// TestLoops wants of each loop what its folder is there to show: the days, the
// length, closed, heights everywhere or nowhere.
func TestLoops(t *testing.T) {
	for _, want := range []struct {
		name       string
		days       int
		least      int     // points
		low, high  float64 // km along the line
		hasHeights bool
	}{
		{"steppe", 9, 40000, 1450, 1550, true},
		{"canyon", 5, 1000, 940, 990, false}, // 600 miles are 965.6 km
	} {
		tracks := readTracks(t, want.name+"/loop.gpx")
		line := newLine(t, want.name)
		if len(tracks) != want.days || line.Points() < want.least {
			t.Errorf("%s: %d days, %d points", want.name, len(tracks), line.Points())
		}
		if km := line.Length().Kilometres(); km < want.low || km > want.high {
			t.Errorf("%s: %.1f km", want.name, km)
		}
		if !line.Closed || len(line.Gaps)+len(line.Strays) > 0 {
			t.Errorf("%s: closed %v, gaps %v, strays %v", want.name, line.Closed, line.Gaps, line.Strays)
		}
		for i, track := range tracks {
			if prefix := "Day " + strconv.Itoa(i+1) + ": "; !strings.HasPrefix(track.Name, prefix) {
				t.Errorf("%s: track %q, want %q first", want.name, track.Name, prefix)
			}
			for _, p := range track.Segments[0] {
				if p.HasEle != want.hasHeights {
					t.Fatalf("%s: %s has a point with height %v", want.name, track.Name, p.HasEle)
				}
			}
		}
	}
}

// TestGround wants sections of known ground, end to end over the whole line.
func TestGround(t *testing.T) {
	for name := range truth(t) {
		end := 0.0
		kinds := map[route.Ground]bool{}
		for _, row := range readCSV(t, name+"/ground.csv") {
			kind, err := route.ParseGround(row["ground"])
			if err != nil {
				t.Error(err)
			}
			kinds[kind] = true
			if from := number(t, row["from_km"]); from != end {
				t.Errorf("%s: a section from %v after one to %v", name, from, end)
			}
			if to := number(t, row["to_km"]); to <= end {
				t.Errorf("%s: a section from %v to %v", name, end, to)
			}
			end = number(t, row["to_km"])
		}
		if km := newLine(t, name).Length().Kilometres(); math.Abs(end-km) > 0.1 {
			t.Errorf("%s: ground to %v, line to %.3f km", name, end, km)
		}
		if len(kinds) < 5 {
			t.Errorf("%s: only %d kinds of ground", name, len(kinds))
		}
	}
}

// TestSteppeStops wants each stop as often within 2 km of the line as its story
// says: most once, the first town also at the end, Kembil twice at about 1.5
// km, the quarry never.
func TestSteppeStops(t *testing.T) {
	line := newLine(t, "steppe")
	special := map[string]int{"Ordvel": 2, "Kembil": 2, "Belku Quarry": 0}
	for _, row := range readCSV(t, "steppe/stops.csv") {
		at := orb.Point{number(t, row["lon"]), number(t, row["lat"])}
		passages := line.Passages(at, 2000)
		want, ok := special[row["name"]]
		if !ok {
			want = 1
		}
		if len(passages) != want {
			t.Errorf("%s: passed %d times, want %d", row["name"], len(passages), want)
		}
		for _, p := range passages {
			if row["name"] == "Kembil" && (p.Off < 1200 || p.Off > 1800) {
				t.Errorf("Kembil: %.0f m off the line", p.Off)
			}
		}
	}
}

// TestCanyonStops wants the waypoints that sell fuel to say so, each near the
// line, two of them in one place.
func TestCanyonStops(t *testing.T) {
	line := newLine(t, "canyon")
	data, err := os.ReadFile("canyon/loop.gpx")
	if err != nil {
		t.Fatal(err)
	}
	g, err := gpx.ParseBytes(data)
	if err != nil {
		t.Fatal(err)
	}
	near, last := 0, route.Metres(math.Inf(-1))
	for _, w := range g.Waypoints {
		fuel := w.Type == "fuel"
		if hasGrades := strings.Contains(w.Description, "grades: "); hasGrades != fuel {
			t.Errorf("%s: type %q, description %q", w.Name, w.Type, w.Description)
		}
		passages := line.Passages(orb.Point{w.Longitude, w.Latitude}, 2000)
		if len(passages) == 0 {
			t.Errorf("%s is not near the line", w.Name)
			continue
		}
		if at := passages[0].At; fuel {
			if at-last < 3000 {
				near++
			}
			last = at
		}
	}
	if near != 1 {
		t.Errorf("%d stops within 3 km of the one before, want 1", near)
	}
}

func newLine(t *testing.T, name string) *route.Line {
	t.Helper()
	line, err := route.NewLine(readTracks(t, name+"/loop.gpx"), route.LineOptions{})
	if err != nil {
		t.Fatalf("%s: %v", name, err)
	}
	return line
}

func number(t *testing.T, s string) float64 {
	t.Helper()
	v, err := strconv.ParseFloat(s, 64)
	if err != nil {
		t.Fatal(err)
	}
	return v
}
