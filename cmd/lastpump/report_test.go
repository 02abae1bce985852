package main

import (
	"bytes"
	"os"
	"strings"
	"testing"

	"lastpump/cmd/lastpump/internal/report"

	"github.com/google/go-cmp/cmp"
	"github.com/mattn/go-runewidth"
)

// examples are the arguments that plan each of the two, from this folder.
var examples = map[string][]string{
	"steppe": {"plan", "../../examples/steppe/loop.gpx", "--stops", "../../examples/steppe/stops.csv",
		"--ground", "../../examples/steppe/ground.csv", "--bike", "../../examples/steppe/bike.toml", "--date", "2026-07-01"},
	"canyon": {"plan", "../../examples/canyon/loop.gpx", "--ground", "../../examples/canyon/ground.csv",
		"--bike", "../../examples/canyon/bike.toml", "--units", "us", "--date", "2026-07-01"},
}

// lastpump runs the command and gives what it printed and its exit code.
func lastpump(t *testing.T, args ...string) (stdout string, code int) {
	t.Helper()
	var out, errs bytes.Buffer
	code = run(args, strings.NewReader(""), &out, &errs)
	if errs.Len() > 0 {
		t.Fatalf("lastpump %s: %s", strings.Join(args, " "), errs.String())
	}
	return out.String(), code
}

// TestReports compares the whole report of both examples with golden files that
// were read line by line; what stands in them is checked against sheets worked by
// hand in worked_test.go.
func TestReports(t *testing.T) {
	for name, args := range examples {
		got, code := lastpump(t, args...)
		golden := "testdata/" + name + ".txt"
		if *update {
			if err := os.WriteFile(golden, []byte(got), 0o644); err != nil {
				t.Fatal(err)
			}
		}
		want, err := os.ReadFile(golden)
		if err != nil {
			t.Fatal(err)
		}
		if diff := cmp.Diff(string(want), got); diff != "" {
			t.Errorf("%s (-golden +got; -update writes it anew):\n%s", name, diff)
		}
		if code != exitFails { // both have a place that must not be dry
			t.Errorf("%s: exit %d, want %d", name, code, exitFails)
		}
	}
}

func TestReportsFitThePage(t *testing.T) {
	for name, args := range examples {
		for _, units := range []string{"metric", "us", "uk"} {
			out, _ := lastpump(t, append(args[:len(args):len(args)], "--units", units)...)
			for _, line := range strings.Split(out, "\n") {
				if n := runewidth.StringWidth(line); n > 100 {
					t.Errorf("%s in %s: %d columns: %s", name, units, n, line)
				}
			}
		}
	}
}

func TestSameInputSameBytes(t *testing.T) {
	for name, args := range examples {
		for _, format := range []string{"--json", "--csv", "--gpx"} {
			with := append(args[:len(args):len(args)], format, "-")
			first, _ := lastpump(t, with...)
			if again, _ := lastpump(t, with...); again != first {
				t.Errorf("%s %s differs from one run to the next", name, format)
			}
		}
	}
}

// TestJSONReadAgain reads the JSON back and writes it anew: nothing is lost and
// no key is unknown.
func TestJSONReadAgain(t *testing.T) {
	for name, args := range examples {
		out, _ := lastpump(t, append(args[:len(args):len(args)], "--json", "-")...)
		doc, err := report.ReadJSON(strings.NewReader(out))
		if err != nil {
			t.Fatalf("%s: %v", name, err)
		}
		var again bytes.Buffer
		if err := report.EncodeJSON(&again, doc); err != nil {
			t.Fatal(err)
		}
		if diff := cmp.Diff(out, again.String()); diff != "" {
			t.Errorf("%s: %s", name, diff)
		}
	}
}
