package main

import (
	"bytes"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"lastpump/cmd/lastpump/internal/app"
	"lastpump/cmd/lastpump/plandata"
	"lastpump/testdata/kit"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"
)

// A tester is what both testing.T and rapid.T are.
type tester interface {
	Helper()
	Fatalf(string, ...any)
}

// planned runs the command, and gives the document of the plan; nil where there is none,
// with what was said then.
func planned(t tester, args ...string) (*plandata.Document, string) {
	t.Helper()
	var out, errs bytes.Buffer
	if code := run(append(args, "--json", "-"), strings.NewReader(""), &out, &errs); code == app.ExitNoPlan {
		return nil, errs.String()
	}
	doc, err := plandata.Read(&out)
	if err != nil {
		t.Fatalf("%s: %v", strings.Join(args, " "), err)
	}
	return &doc, errs.String()
}

// samePlan asks that two documents are one: all that is in them to the last bit, but for
// the words that say where the second one's line is from.
func samePlan(t tester, what string, want, got *plandata.Document) {
	t.Helper()
	again := *got
	again.Assumptions = nil
	for _, a := range got.Assumptions {
		if a.Name != "Line" {
			again.Assumptions = append(again.Assumptions, a)
		}
	}
	if len(again.Assumptions)+1 != len(got.Assumptions) {
		t.Fatalf("%s: it is not said that the line is as recorded", what)
	}
	if diff := cmp.Diff(*want, again, cmpopts.EquateEmpty()); diff != "" {
		t.Fatalf("%s (-planned +planned again):\n%s", what, diff)
	}
}

// without leaves flags out, with their values.
func without(args []string, flags ...string) (out []string) {
	for i := 0; i < len(args); i++ {
		switch {
		case !slices.Contains(flags, args[i]):
			out = append(out, args[i])
		case args[i] != "--reverse":
			i++
		}
	}
	return out
}

// A file that the first build wrote is planned as the ride it was made from:
//
//	lastpump plan testdata/ring.gpx --reverse --begin-at 33 --date 2026-07-01 --gpx plan.gpx
//
// The stretch that it estimated is kept, though it would be another today.
func TestGPXOfVersion1(t *testing.T) {
	as, said := planned(t, "plan", "testdata/plan-of-version-1.gpx", "--date", "2026-07-01")
	if as == nil || math.Abs(as.Loop.Stretch-1.22998683) > 1e-8 {
		t.Fatalf("%s, stretch %v", said, as)
	}
	want, said := planned(t, "plan", "testdata/ring.gpx", "--reverse", "--begin-at", "33", "--date", "2026-07-01",
		"--stretch", "1.1")
	if want == nil {
		t.Fatal(said)
	}
	got, said := planned(t, "plan", "testdata/plan-of-version-1.gpx", "--date", "2026-07-01", "--stretch", "1.1")
	if got == nil || said != "" {
		t.Fatal(said)
	}
	samePlan(t, "a plan of version 1", want, got)
}

var arranging = []string{"--reverse", "--begin-at", "--order", "--skip-part", "--gaps", "--stretch"}

// again plans a ride, and once more from the GPX that comes of it: with the same flags,
// and without those that the file holds. It gives the GPX; "" where there is no plan.
func again(t tester, folder string, args ...string) string {
	t.Helper()
	out := filepath.Join(folder, "plan.gpx")
	want, said := planned(t, append(args, "--gpx", out)...)
	if want == nil {
		return ""
	}
	text, err := os.ReadFile(out)
	if err != nil {
		t.Fatalf("%v, %s", err, said)
	}
	if err := checkGPX(string(text)); err != nil {
		t.Fatalf("no GPX 1.1: %v", err)
	}
	toldApart(t, text)
	for _, c := range []struct {
		what string
		args []string
	}{
		{"the same flags", args},
		{"the stops of the file", without(args, "--stops")},
		{"no flags of the line", without(args, arranging...)},
	} {
		c.args = slices.Clone(c.args)
		c.args[1] = out
		got, said := planned(t, c.args...)
		if got == nil {
			t.Fatalf("%s: %s\n%s", c.what, strings.Join(c.args, " "), said)
		}
		samePlan(t, c.what, want, got)
	}
	return string(text)
}

func TestGPXPlansTheSame(t *testing.T) {
	const gap, ring = "testdata/gap.gpx", "testdata/ring.gpx"
	for name, args := range map[string][]string{
		"steppe":               examples["steppe"],
		"canyon":               examples["canyon"],
		"steppe, stretch":      append(slices.Clone(examples["steppe"]), "--stretch", "1.07"),
		"steppe, on the way":   append(slices.Clone(examples["steppe"]), "--from", "Sulmeg", "--start-fuel", "6L", "--used", "7.5 L over 134 km"),
		"steppe, detours":      append(slices.Clone(examples["steppe"]), "--fill", "chosen", "--detours", "30km"),
		"steppe, reversed":     append(slices.Clone(examples["steppe"]), "--reverse", "--begin-at", "Sulmeg"),
		"canyon, without part": append(slices.Clone(examples["canyon"]), "--skip-part", "2", "--begin-at", "100"),
		"gap, ridden":          {"plan", gap, "--gaps", "ride", "--date", "2026-07-01"},
		"gap, a ferry":         {"plan", gap, "--gaps", "skip", "--date", "2026-07-01"},
		"gap":                  {"plan", gap, "--date", "2026-07-01", "--ground", "mud"},
		"ring":                 {"plan", ring, "--date", "2026-07-01"},
		"ring, turned":         {"plan", ring, "--date", "2026-07-01", "--reverse", "--begin-at", "33.33"},
	} {
		if !kit.Long() && strings.Contains(name, ", ") {
			continue
		}
		if text := again(t, t.TempDir(), args...); text == "" && name != "canyon, without part" {
			t.Errorf("%s: no plan", name)
		}
	}
}

// What comes of a file that a plan wrote is that file again.
func TestGPXOfGPXIsTheSame(t *testing.T) {
	folder := t.TempDir()
	once, twice := filepath.Join(folder, "1.gpx"), filepath.Join(folder, "2.gpx")
	args := append(slices.Clone(examples["steppe"]), "--gpx", once)
	if doc, said := planned(t, args...); doc == nil {
		t.Fatal(said)
	}
	args[1], args[len(args)-1] = once, twice
	if doc, said := planned(t, args...); doc == nil {
		t.Fatal(said)
	}
	a, aerr := os.ReadFile(once)
	b, berr := os.ReadFile(twice)
	if aerr != nil || berr != nil || !bytes.Equal(a, b) {
		t.Errorf("%v, %v, %d bytes, %d bytes", aerr, berr, len(a), len(b))
	}
}

// A line that was changed is read like any other, with a note; a record that is damaged is
// refused with its place.
func TestGPXChangedByOthers(t *testing.T) {
	folder := t.TempDir()
	out := filepath.Join(folder, "plan.gpx")
	if text := again(t, folder, "plan", "testdata/ring.gpx", "--date", "2026-07-01"); text == "" {
		t.Fatal("no plan")
	}
	text, err := os.ReadFile(out)
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct{ old, new, want string }{
		{"<trkseg>\n", `<trkseg><trkpt lat="48" lon="9"/>`, out + ":34:4: a plan wrote this file, but its line was changed since: it is read like any other"},
		{"Length", "Lenght", out + ":34:4: what a plan has recorded of the line is damaged: its checksum does not fit"},
		{"<lp:line>2 ", "<lp:line>3 ", out + `:34:4: what a plan has recorded of the line is of version "3"; known are 1 and 2`},
		{"<lp:line>2 ", "<lp:other>x</lp:other><lp:line>4", out + ":34:26: what a plan has recorded of the line is of version"},
	} {
		changed := strings.Replace(string(text), c.old, c.new, 1)
		if changed == string(text) {
			t.Fatalf("no %q in the file", c.old)
		}
		if err := os.WriteFile(out, []byte(changed), 0o644); err != nil {
			t.Fatal(err)
		}
		doc, said := planned(t, "plan", out, "--date", "2026-07-01", "--gaps", "ride")
		if doc != nil {
			for _, w := range doc.Warnings {
				said += w.Text + "\n"
			}
		}
		if !strings.Contains(said, c.want) {
			t.Errorf("%q for %q: %s", c.new, c.old, said)
		}
	}
}

// Heights from a relief stand in the file: the same is planned with the tiles and without.
func TestGPXHoldsHeightsOfARelief(t *testing.T) {
	folder := t.TempDir()
	slope(t, folder, "N00E000.hgt")
	bare, out := filepath.Join(folder, "bare.gpx"), filepath.Join(folder, "plan.gpx")
	text := `<gpx><trk><trkseg><trkpt lat="0.5" lon="0.04"/><trkpt lat="0.5" lon="0.12"/><trkpt lat="0.51" lon="0.2"/></trkseg></trk></gpx>`
	if err := os.WriteFile(bare, []byte(text), 0o644); err != nil {
		t.Fatal(err)
	}
	want, said := planned(t, "plan", bare, "--relief", folder, "--reverse", "--gpx", out)
	if want == nil || want.Loop.AscentM == nil {
		t.Fatalf("no plan, or no heights: %s", said)
	}
	for _, args := range [][]string{{"plan", out}, {"plan", out, "--relief", folder, "--reverse"}, {"plan", out, "--relief", folder, "--heights", "relief"}} {
		got, said := planned(t, args...)
		if got == nil {
			t.Fatal(said)
		}
		if diff := cmp.Diff(want.Legs, got.Legs); diff != "" {
			t.Errorf("%v: %s", args, diff)
		}
	}
}
