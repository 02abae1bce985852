package main

import (
	"bytes"
	"io"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"lastpump/cmd/lastpump/internal/app"
	"lastpump/cmd/lastpump/plandata"

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

// TestReports compares the first screen and the whole report of both examples with golden
// files that were read line by line; what stands in them is checked against sheets worked by
// hand in worked_test.go.
func TestReports(t *testing.T) {
	runs := map[string][]string{}
	for name, args := range examples {
		runs[name+"-first"], runs[name] = args, slices.Concat(args, []string{"--full"})
	}
	for name, args := range runs {
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
		if code != app.ExitFails { // both have legs below grade
			t.Errorf("%s: exit %d, want %d", name, code, app.ExitFails)
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

// Every report, of two runs, is the same to the byte.
func TestSameInputSameBytes(t *testing.T) {
	for name, args := range examples {
		first, second := t.TempDir(), t.TempDir()
		text, _ := lastpump(t, everyReport(args, first)...)
		if again, _ := lastpump(t, everyReport(args, second)...); again != text {
			t.Errorf("%s: the text differs from one run to the next", name)
		}
		files, err := os.ReadDir(first)
		if err != nil || len(files) != len(reportFiles) {
			t.Fatalf("%s: %d files, %v", name, len(files), err)
		}
		for _, f := range files {
			a, err := os.ReadFile(filepath.Join(first, f.Name()))
			b, err2 := os.ReadFile(filepath.Join(second, f.Name()))
			if err != nil || err2 != nil || len(a) == 0 || !bytes.Equal(a, b) {
				t.Errorf("%s: %s differs from one run to the next, or is empty: %v %v", name, f.Name(), err, err2)
			}
		}
	}
}

// reportFiles are the flags of the reports that go to a file, each with a name for one.
var reportFiles = [][2]string{
	{"--json", "plan.json"}, {"--csv", "plan.csv"}, {"--html", "plan.html"}, {"--gpx", "plan.gpx"},
	{"--strip", "strip.pdf"}, {"--home", "home.html"}, {"--map-sheet", "map.pdf"},
}

// everyReport asks for all reports at once, in a folder.
func everyReport(args []string, folder string) []string {
	args = args[:len(args):len(args)]
	for _, f := range reportFiles {
		args = append(args, f[0], filepath.Join(folder, f[1]))
	}
	return args
}

// TestJSONReadAgain reads the JSON back and writes it anew: nothing is lost and
// no key is unknown.
func TestJSONReadAgain(t *testing.T) {
	for name, args := range examples {
		out, _ := lastpump(t, append(args[:len(args):len(args)], "--json", "-")...)
		doc, err := plandata.Read(strings.NewReader(out))
		if err != nil {
			t.Fatalf("%s: %v", name, err)
		}
		var again bytes.Buffer
		if err := plandata.Write(&again, doc); err != nil {
			t.Fatal(err)
		}
		if diff := cmp.Diff(out, again.String()); diff != "" {
			t.Errorf("%s: %s", name, diff)
		}
	}
}

// BenchmarkReports shows what all reports cost beside the plan that they are made from:
// the last figure is how many times as long a run with all of them takes as one with the
// text alone.
func BenchmarkReports(b *testing.B) {
	for name, args := range examples {
		b.Run(name, func(b *testing.B) {
			folder := b.TempDir()
			all := everyReport(args, folder)
			var alone, together time.Duration
			for b.Loop() {
				alone += timed(b, args)
				together += timed(b, all)
			}
			b.ReportMetric(together.Seconds()/float64(b.N), "s/all")
			b.ReportMetric(together.Seconds()/alone.Seconds(), "×text-alone")
		})
	}
}

func timed(b *testing.B, args []string) time.Duration {
	begin := time.Now()
	if code := run(args, strings.NewReader(""), io.Discard, io.Discard); code == app.ExitNoPlan {
		b.Fatal(args)
	}
	return time.Since(begin)
}

// The file that the shell has opened for standard output is not renamed away under it.
func TestReportOverStandardOutput(t *testing.T) {
	name := filepath.Join(t.TempDir(), "out.txt")
	stdout, err := os.Create(name)
	if err != nil {
		t.Fatal(err)
	}
	defer stdout.Close()
	var errs bytes.Buffer
	args := append([]string{"--csv", name}, examples["canyon"][1:]...)
	if code := run(append([]string{"plan"}, args...), strings.NewReader(""), stdout, &errs); code != app.ExitNoPlan {
		t.Errorf("exit %d", code)
	}
	if want := "is the file that is printed to\nhint: "; !strings.Contains(errs.String(), want) {
		t.Errorf("it says %q, not %q", errs.String(), want)
	}
	if got, err := os.ReadFile(name); err != nil || len(got) > 0 {
		t.Errorf("it holds %q (%v)", got, err)
	}
}
