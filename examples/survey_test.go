package examples_test

import (
	"context"
	"io"
	"os"
	"slices"
	"strings"
	"testing"

	"lastpump/fuel/stop"
	"lastpump/fuel/survey"
	"lastpump/fuel/survey/outward"
	"lastpump/route"
	"lastpump/route/osmfile"
)

// TestSurveyOfTheSteppe surveys the loop on its map and wants what the scenario says:
// the ground of the list wherever the map has the road, on tracks of the plain behind
// Narsuk, which are not drawn, no road; and all pumps that the map is given, where they
// are in the list of stops.
func TestSurveyOfTheSteppe(t *testing.T) {
	line := newLine(t, "steppe")
	opt := survey.DefaultOptions()
	opt.Scale, opt.Cores = "RON", 2
	extract := osmfile.Extract{Name: "map.osm", Open: func() (io.ReadCloser, error) { return os.Open("steppe/map.osm") }}
	s, err := survey.Read(context.Background(), line, []osmfile.Extract{extract}, opt)
	if err != nil {
		t.Fatal(err)
	}
	f, err := os.Open("steppe/ground.csv")
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	want, _, err := route.ReadGround(f, "ground.csv")
	if err != nil {
		t.Fatal(err)
	}
	at := func(sections []route.Section, km route.Metres) route.Section {
		i := slices.IndexFunc(sections, func(s route.Section) bool { return km < s.To })
		return sections[max(i, 0)]
	}
	found, right, drawn, off := s.Ground(), 0, 0, 0
	for km := route.Metres(50); km < line.Length(); km += 100 {
		w, got := at(want, km), at(found, km)
		if w.Note == "two tracks or ten" {
			if got.Ground != route.Unknown {
				off++
			}
			continue
		}
		drawn++
		if got.Ground == w.Ground {
			right++
		}
	}
	// The list has kilometres to a tenth, and a road ends where the next begins.
	if drawn < 14_000 || float64(right) < 0.995*float64(drawn) || off > 5 {
		t.Errorf("the ground is right at %d of %d places, and there is some at %d where no road is drawn", right, drawn, off)
	}
	checkPumps(t, s)
}

// checkPumps wants every pump of the survey to be a stop of the list.
func checkPumps(t *testing.T, s *survey.Survey) {
	t.Helper()
	f, err := os.Open("steppe/stops.csv")
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	stops, _, err := stop.ReadCSV(f, "stops.csv", "RON")
	if err != nil {
		t.Fatal(err)
	}
	if len(s.Pumps) != 15 || len(s.Refused) != 1 {
		t.Errorf("%d pumps, %d left out; the map has 16, of which one is private", len(s.Pumps), len(s.Refused))
	}
	for _, p := range s.Pumps {
		// The side of a roof lies up to 10 m from its middle.
		if !slices.ContainsFunc(stops, func(o stop.Stop) bool { return route.Distance(o.At, p.At) < 10 }) {
			t.Errorf("%s lies where no stop is", p.Name)
		}
	}
}

// TestWaysOutOfTheSteppe wants the roads that the scenario draws, and no other: the mine is
// dry, and the way out is the road to the siding, 27 km away straight from Ershal, 4 km
// back; the shorter one of the mine is private and stands behind it. What is closed to
// motors leads nowhere.
func TestWaysOutOfTheSteppe(t *testing.T) {
	opt := survey.DefaultOptions()
	opt.Scale, opt.Cores, opt.WaysOut = "RON", 2, 40_000
	extract := osmfile.Extract{Name: "map.osm", Open: func() (io.ReadCloser, error) { return os.Open("steppe/map.osm") }}
	s, err := survey.Read(context.Background(), newLine(t, "steppe"), []osmfile.Extract{extract}, opt)
	if err != nil {
		t.Fatal(err)
	}
	to := map[string]string{} // by pump, the roads that lead there, with their marks
	var mine []outward.Way
	found := outward.Find(s)
	var far []string
	for _, p := range found.Beyond() {
		far = append(far, p.Name+" "+string(p.Standing))
	}
	if want := "Dry Lake Works map, Ice Landing map, Hark Siding map, Tolmak Farm map, Ulgan map"; strings.Join(far, ", ") != want {
		t.Errorf("beyond the lists lie %q, want %q", far, want)
	}
	for _, w := range found.Ways {
		if road := w.Road + " " + w.Marks.String(); !strings.Contains(to[w.To], road) {
			to[w.To] += road + "; "
		}
		if w.From == "Ershal Mine" {
			mine = append(mine, w)
		}
	}
	for pump, want := range map[string]string{"Hark Siding": "Siding Road ; Haul Road private; ", "Tolmak Farm": "unclassified ; ",
		"Dry Lake Works": "track ; ", "Ice Landing": "track winter-road; ", "Ulgan": "A 4 ; ", "Game Reserve": ""} {
		if to[pump] != want {
			t.Errorf("to %s lead %q, want %q", pump, to[pump], want)
		}
	}
	if len(mine) != 2 || mine[0].Road != "Siding Road" || mine[0].Length() < 31_000 || mine[0].Length() > 36_000 ||
		mine[1].Length() >= mine[0].Length() {
		t.Errorf("from the mine: %+v", mine)
	}
}
