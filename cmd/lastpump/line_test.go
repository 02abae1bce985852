package main

import (
	"bytes"
	"encoding/json"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"lastpump/cmd/lastpump/plandata"
)

// A spot is a point of a track, in km north and east of 45 N, 60 E.
type spot struct {
	north, east float64
	ele         string // empty for none
}

func (s spot) attributes() string {
	const degree = 6371.0088 * math.Pi / 180
	return fmt.Sprintf(`lat="%.7f" lon="%.7f"`, 45+s.north/degree, 60+s.east/degree/math.Cos(math.Pi/4))
}

// recorded is a way north with a point every 20 m from one kilometre to another, each a
// little off the straight as those of a recorder are, and climbing so many metres a
// kilometre.
func recorded(from, to, climb float64) (out []spot) {
	for i := 0; from+float64(i)*0.02 <= to; i++ {
		km := from + float64(i)*0.02
		out = append(out, spot{km, 0.002 * math.Sin(float64(i*i)), fmt.Sprintf("%.1f", 500+climb*km)})
	}
	return out
}

// writeTracks writes ways as tracks of a GPX file, with stops in it.
func writeTracks(t *testing.T, stops map[string]spot, ways ...[]spot) string {
	t.Helper()
	var b strings.Builder
	b.WriteString(`<gpx version="1.1" xmlns="http://www.topografix.com/GPX/1/1">` + "\n")
	for name, s := range stops {
		fmt.Fprintf(&b, "<wpt %s><name>%s</name><desc>grades: 95 RON\nstanding: seen</desc><sym>Fuel</sym></wpt>\n",
			s.attributes(), name)
	}
	for _, way := range ways {
		b.WriteString("<trk><trkseg>\n")
		for _, s := range way {
			ele := ""
			if s.ele != "" {
				ele = "<ele>" + s.ele + "</ele>"
			}
			fmt.Fprintf(&b, "<trkpt %s>%s</trkpt>\n", s.attributes(), ele)
		}
		b.WriteString("</trkseg></trk>\n")
	}
	b.WriteString("</gpx>\n")
	file := filepath.Join(t.TempDir(), "way.gpx")
	if err := os.WriteFile(file, []byte(b.String()), 0o644); err != nil {
		t.Fatal(err)
	}
	return file
}

// said runs a plan and gives its text, lines that are wrapped put together.
func said(t *testing.T, args ...string) string {
	t.Helper()
	out, _ := lastpump(t, append([]string{"plan", "--full", "--fill", "everywhere", "--ground", "dirt", "--date", "2026-07-01"}, args...)...)
	return regexp.MustCompile(`\s+`).ReplaceAllString(out, " ")
}

func wantSaid(t *testing.T, text string, wants ...string) {
	t.Helper()
	for _, want := range wants {
		if !strings.Contains(text, want) {
			t.Errorf("%q is not said in\n%s", want, text)
		}
	}
}

// A spur to a pump that was recorded as one point is ridden and told of; the pump counts
// when the rider says that it is a spur.
func TestSpurToAPump(t *testing.T) {
	way := slices.Concat(recorded(0, 40, 0), []spot{{40, 13, "500"}}, recorded(40, 80, 0))
	file := writeTracks(t, map[string]spot{"Spur Pump": {40, 13.2, ""}, "On Road": {60, 0, ""}}, way)
	leap := "at km 40 the line goes 13 km away and comes back with only 1 point between: counted as ridden, 26 km of line"
	text := said(t, file)
	wantSaid(t, text, "106 km in the file", leap,
		"Spur Pump, at its far end, is not counted until --strays ride says that it is a spur",
		"Spur Pump: only a leap of the line reaches it, at km 40: counted with --strays ride")
	text = said(t, file, "--strays", "ride")
	wantSaid(t, text, "106 km in the file", leap, "at its far end: Spur Pump", " 53 Spur Pump ")
	text = said(t, file, "--strays", "drop")
	wantSaid(t, text, "80 km in the file", "1 point at km 40 left out: stray, 13 km away from the rest; yet Spur Pump lies "+
		"there: if it is a spur that you ride, say --strays ride, or draw it")
}

// A hole in a recording is told of, with the pump that lies in it.
func TestPumpInAHole(t *testing.T) {
	file := writeTracks(t, map[string]spot{"Hole Pump": {45, 0.3, ""}, "On Road": {60, 0, ""}},
		slices.Concat(recorded(0, 40, 0), recorded(49, 80, 0), recorded(81.5, 90, 0)))
	wantSaid(t, said(t, file), "(9.0 km at km 40, 1.5 km at km 80): counted as ridden, 1.3 times as far as straight across",
		"; not passed, as it lies in the gap: Hole Pump", "Hole Pump: in a gap of the line, at km 40")
	// Only stops in holes are no list of another ride.
	file = writeTracks(t, map[string]spot{"Hole Pump": {45, 0.3, ""}}, slices.Concat(recorded(0, 40, 0), recorded(49, 80, 0)))
	wantSaid(t, said(t, file), "Hole Pump: in a gap of the line, at km 40")
}

// Leaving the heights out makes no plan better: what climbs as nine rides in ten do at the
// most, 18 m a kilometre, takes no more with its heights than without.
func TestWithoutHeightsNothingIsBetter(t *testing.T) {
	for _, climb := range []float64{0, 8, 15, 17.9} {
		with := recorded(0, 200, climb)
		bare := slices.Clone(with)
		for i := range bare {
			bare[i].ele = ""
		}
		plan := func(way []spot) plandata.Document {
			out, _ := lastpump(t, "plan", writeTracks(t, nil, way), "--ground", "dirt", "--date", "2026-07-01", "--json", "-")
			var d plandata.Document
			if err := json.Unmarshal([]byte(out), &d); err != nil {
				t.Fatal(err)
			}
			return d
		}
		a, b := plan(with), plan(bare)
		if b.Legs[0].FuelL.High < a.Legs[0].FuelL.High {
			t.Errorf("%v m/km: high %v L without heights, %v with", climb, b.Legs[0].FuelL.High, a.Legs[0].FuelL.High)
		}
		rank := []string{"OK", "TIGHT", "SHORT"}
		if slices.Index(rank, b.Legs[0].Verdict) < slices.Index(rank, a.Legs[0].Verdict) && climb >= 8 {
			t.Errorf("%v m/km: %s without heights, %s with", climb, b.Legs[0].Verdict, a.Legs[0].Verdict)
		}
		if b.Legs[0].AscentM != nil || b.Loop.AscentM != nil || b.Legs[0].KnownM != 0 || a.Legs[0].KnownM != *a.Legs[0].AscentM {
			t.Errorf("ascent with heights %v, without %v", a.Legs[0].AscentM, b.Legs[0].AscentM)
		}
		if !strings.Contains(b.Answer[0], "Heights are missing over 201 km") {
			t.Errorf("the answer does not say that heights are missing: %s", b.Answer[0])
		}
	}
}

// The order of the parts is not offered where it is refused just as well.
func TestOrderThatIsRefusedIsNotOffered(t *testing.T) {
	a, b, c := recorded(0, 10, 0), recorded(10, 20, 0), recorded(140, 150, 0)
	run := func(ways ...[]spot) string {
		text, _ := runAndTell(t, "plan", writeTracks(t, nil, ways...), "--ground", "dirt")
		return text
	}
	if text := run(c, a, b); strings.Contains(text, "--order") {
		t.Errorf("it is 120 km to the third part, however they are put in order: %s", text)
	}
	far := recorded(500, 510, 0)
	if text := run(a, far, b, recorded(510, 520, 0)); strings.Contains(text, "--order") {
		t.Errorf("two and two parts meet, 480 km apart: %s", text)
	}
}

// A place has one kilometre in all that is said, however the line is ridden: 1174 and 1175
// stood in one report.
func TestOneKilometreForAPlace(t *testing.T) {
	for _, flags := range [][]string{nil, {"--reverse"}, {"--begin-at", "Kembil"}, {"--begin-at", "Kembil", "--reverse"},
		{"--from", "Sulmeg"}} {
		args := slices.Concat(examples["steppe"], []string{"--full", "--fill", "everywhere"}, flags)
		out, _ := runAndTell(t, append(args, "--json", "-")...)
		var d plandata.Document
		if err := json.Unmarshal([]byte(out), &d); err != nil {
			t.Fatal(err, out)
		}
		kms := map[string][]string{}
		for _, v := range d.Visits {
			kms[v.Stop] = append(kms[v.Stop], fmt.Sprintf("%.0f", math.Floor(v.LineKm+0.001)))
		}
		text, _ := runAndTell(t, args...)
		text = regexp.MustCompile(`\s+`).ReplaceAllString(text, " ")
		found := 0
		for stop, at := range kms {
			for _, form := range []string{` \(km (\d+)\)`, `, km (\d+)`, ` at km (\d+)`} {
				for _, m := range regexp.MustCompile(regexp.QuoteMeta(stop)+form).FindAllStringSubmatch(text, -1) {
					if found++; !slices.Contains(at, m[1]) && !strings.Contains(m[0], "Kembil, km") {
						t.Errorf("%v: %q, in the tables at %v", flags, m[0], at)
					}
				}
			}
			for _, km := range at {
				if !strings.Contains(text, " "+km+" ") && !strings.Contains(text, "km "+km) {
					t.Errorf("%v: %s at %s is not in the text", flags, stop, km)
				}
			}
		}
		if found < 3 {
			t.Errorf("%v: only %d places are named with their kilometre", flags, found)
		}
	}
}

// runAndTell runs the command and gives all that it printed, and its exit code.
func runAndTell(t *testing.T, args ...string) (text string, code int) {
	t.Helper()
	var out, errs bytes.Buffer
	code = run(args, strings.NewReader(""), &out, &errs)
	return out.String() + errs.String(), code
}
