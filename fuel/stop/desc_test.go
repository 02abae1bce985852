package stop_test

import (
	"bytes"
	"strings"
	"testing"
	"time"

	"lastpump/fuel/stop"
	"lastpump/octane"
	"lastpump/route/gpxfile"
	"lastpump/route/input"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"
	"github.com/paulmach/orb"
	"pgregory.net/rapid"
)

// oddText draws texts that might be taken for something else in lines of "key: value".
func oddText(t *rapid.T, what string) string {
	pieces := []string{"a", "ж", " ", "; ", ": ", "\n", "\r", "\t", `"`, `\`, `\n`, "name: ", "note: ", "grades: ", "Plan: ", "plan mark", "\x00", "\x01", "\u00a0", "\u2028", "\ufffe", "\ufffd", "<&>", "]]>", "😀"}
	return strings.TrimSpace(strings.Join(rapid.SliceOfN(rapid.SampledFrom(pieces), 0, 8).Draw(t, what), ""))
}

// through writes stops as the waypoints of a GPX file and reads them again.
func through(t *rapid.T, stops []stop.Stop, told ...string) []stop.Stop {
	var d gpxfile.Document
	for _, s := range stops {
		w := gpxfile.Waypoint{Name: "8.0L 95 " + s.Name, Desc: s.Desc(told...)} // type and symbol may get lost on the way
		w.Point.Point = s.At
		d.Waypoints = append(d.Waypoints, w)
	}
	var b bytes.Buffer
	if err := gpxfile.Write(&b, d); err != nil {
		t.Fatal(err)
	}
	text := b.String()
	f, err := gpxfile.Read(&b, "a.gpx")
	if err != nil {
		t.Fatal(err)
	}
	out, _, err := stop.FromWaypoints(f.Waypoints, "")
	if err != nil {
		t.Fatalf("%v in\n%s", err, text)
	}
	return out
}

// Everything a stop holds comes back from a waypoint, whatever stands in it, and nothing
// of what a plan says beside it.
func TestStopsInWaypointsAreReadAgain(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		in := rapid.SliceOfN(rapid.Custom(drawStop), 1, 4).Draw(t, "stops")
		for i := range in {
			s := &in[i]
			s.Name, s.Hours, s.Pay, s.Phone, s.Note = "x"+oddText(t, "name"), oddText(t, "hours"), oddText(t, "pay"), oddText(t, "phone"), oddText(t, "note")
			s.Alias = oddText(t, "alias")
			if s.At[0] == 180 {
				s.At[0] = -180
			}
		}
		out := through(t, in, oddText(t, "told"), "grades: 80 RON")
		for i := range in { // what steers a terminal is taken out on reading
			s := &in[i]
			s.Name, s.Hours, s.Pay, s.Phone = input.OneLine(s.Name), input.OneLine(s.Hours), input.OneLine(s.Pay), input.OneLine(s.Phone)
			s.Note, s.Alias = strings.TrimSpace(input.Clean(s.Note)), input.OneLine(s.Alias)
		}
		if diff := cmp.Diff(in, out, cmpopts.EquateEmpty()); diff != "" {
			t.Fatal(diff)
		}
	})
}

// A mark of a plan is no pump, whatever its texts are.
func TestMarksAreNoStops(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		w := gpxfile.Waypoint{Name: oddText(t, "name"), Desc: "grades: 95 RON\n" + oddText(t, "desc"), Cmt: oddText(t, "cmt"),
			Sym: rapid.SampledFrom([]string{"", "Fuel", "Gas Station"}).Draw(t, "sym"), Type: stop.MarkType}
		if out, _, err := stop.FromWaypoints([]gpxfile.Waypoint{w}, octane.ScaleRON); len(out) > 0 || err != nil {
			t.Fatalf("%+v, %v", out, err)
		}
	})
}

// Lines of a hand-written waypoint mean what they did: quotes and "Plan:" are its own,
// unless a line gives the name.
func TestLinesOfWaypoints(t *testing.T) {
	for _, c := range []struct{ desc, name, note string }{
		{"Plan: be early\nnote: \"ring twice\"", "W", `Plan: be early; "ring twice"`},
		{"name: Real\nPlan: be early\nnote: \"ring\\ntwice\"", "Real", "ring\ntwice"},
		{"name: Real\nby the river", "Real", "by the river"},
	} {
		out, _, err := stop.FromWaypoints([]gpxfile.Waypoint{{Name: "W", Desc: c.desc, Type: "fuel"}}, "")
		if err != nil || len(out) != 1 || out[0].Name != c.name || out[0].Note != c.note {
			t.Errorf("%q: %+v, %v", c.desc, out, err)
		}
	}
	_, _, err := stop.FromWaypoints([]gpxfile.Waypoint{{Name: "W", File: "a.gpx", Line: 3, Col: 1, Desc: "name: A\nnote: \"open", Type: "fuel"}}, "")
	if err == nil || !strings.HasPrefix(err.Error(), `a.gpx:3:1: waypoint "W": note: `) {
		t.Errorf("%v", err)
	}
}

func TestDesc(t *testing.T) {
	s := stop.Stop{Name: "Ash Creek", At: orb.Point{-110, 38}, Grades: []octane.Grade{octane.FromRON(95), octane.FromAKI(91)}, Other: []string{"diesel"},
		Pay: "cash", Standing: stop.Phoned, Confirmed: time.Date(2026, 5, 31, 0, 0, 0, 0, time.UTC), HasConfirmed: true,
		Prices: []stop.Price{{Amount: 1.62, Currency: "EUR", Per: "L"}}, Note: "two\nlines"}
	want := `name: Ash Creek
Plan: fill up
grades: 95 RON; 91 AKI; diesel
pay: cash
standing: phoned
confirmed: 2026-05-31
price: 1.62 EUR/L
note: "two\nlines"`
	if diff := cmp.Diff(want, s.Desc("fill\nup")); diff != "" {
		t.Error(diff)
	}
}
