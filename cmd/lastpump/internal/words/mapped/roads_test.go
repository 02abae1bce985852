package mapped

import (
	"strings"
	"testing"

	"lastpump/cmd/lastpump/internal/words/units"
	"lastpump/fuel/survey"
	"lastpump/fuel/survey/outward"
	"lastpump/fuel/wayout"
	"lastpump/route"

	"github.com/paulmach/orb"
)

func surveyed(t *testing.T, m *survey.RoadMap) Voice {
	t.Helper()
	points := []route.Point{{Point: orb.Point{10, 45}}, {Point: orb.Point{10.1, 45}}}
	line, err := route.NewLine([]route.Track{{Segments: [][]route.Point{points}}}, route.LineOptions{Stretch: 1, Gaps: route.GapsRide})
	if err != nil {
		t.Fatal(err)
	}
	opt := survey.DefaultOptions()
	opt.WaysOut = 40_000
	return Of(&survey.Survey{Line: line, Options: opt, Roads: m}, units.Metric)
}

// What is not known is said with its place, what is not counted with its name.
func TestRoadsMissing(t *testing.T) {
	w := surveyed(t, &survey.RoadMap{
		Blank:   []survey.Blank{{FromKm: 12_000, ToKm: 40_000, Off: 15_000}},
		Cuts:    []survey.Cut{{At: orb.Point{10.5, 45.25}, Km: 7000, Off: 2300}},
		Ferries: []survey.Ferry{{Name: "Old Rope", Km: 3000, Off: 900}},
	})
	text := strings.Join(w.RoadsMissing(&outward.Found{NoRoad: []string{"Depot"}, Unroads: []string{"Depot", "Camp"}}), "\n")
	for _, want := range []string{"from 15.0 km off the line on, beside km 12.0 to 40.0", "1 road goes on that it does not have within reach",
		"2.3 km off the line at km 7.0 (45.25000, 10.50000)", "1 ferry within reach", "Old Rope (km 3.0, 0.9 km off)",
		"1 stop with no road open to motors within 200 m, and so with no way: Depot.", "2 pumps with no road"} {
		if !strings.Contains(text, want) {
			t.Errorf("%q is not said:\n%s", want, text)
		}
	}
}

// The best way of each stop stands first, with its marks in words; the file of shapes has
// those of stops whole and says whose map it is.
func TestWaysOutTold(t *testing.T) {
	way := func(from, to string, marks wayout.Marks, joins int) outward.Way {
		w := outward.Way{Way: wayout.Way{From: from, To: to, At: 5000, Road: "Mine Road", Toward: "NE", Marks: marks}, Joins: joins}
		w.Ground[0] = 12_340
		w.Shape = []orb.Point{{10, 45}, {10, 45.1}, {10.1, 45.2}}
		return w
	}
	f := &outward.Found{Ways: []outward.Way{way("Well", "Far", 0, 3), way("Well", "Far", wayout.Private|wayout.WinterRoad, 2),
		way("", "Far", 0, 2), way("", "Near", 0, 1), way("Yard", "Far", wayout.AlongLine, 2)}, Stops: 2, Places: 1}
	rows := surveyed(t, &survey.RoadMap{}).WaysOut(f)
	if len(rows) != 2 || strings.Join(rows[0], "|") != "5|Well|Far|12.3|Mine Road NE|1" ||
		strings.Join(rows[1], "|") != "5|Yard|Far|12.3|Mine Road NE: along the line|-" {
		t.Errorf("%q", rows)
	}
	d := Shapes("loop", f.Ways)
	if d.Desc != survey.Attribution || len(d.Tracks) != 4 {
		t.Fatalf("%+v", d)
	}
	if d.Tracks[1].Name != "Well to Far" || len(d.Tracks[1].Segments[0]) != 3 || d.Tracks[2].Name != "km 5.0 to Far" ||
		len(d.Tracks[2].Segments[0]) != 2 {
		t.Errorf("%+v", d.Tracks)
	}
}
