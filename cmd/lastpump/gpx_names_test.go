package main

import (
	"fmt"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"lastpump/cmd/lastpump/plandata"
	"lastpump/testdata/kit"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"
	"github.com/tkrajina/gpxgo/gpx"
)

// toldApart asks of the waypoints of a plan, as another library reads them, that no two have
// the same 15 letters on a display that has capitals alone, and that no mark stands on a
// pump or on another mark.
func toldApart(t tester, text []byte) {
	t.Helper()
	g, err := gpx.ParseBytes(text)
	if err != nil {
		t.Fatalf("%v", err)
	}
	seen := map[string]string{}
	for i, w := range g.Waypoints {
		letters := []rune(strings.ToUpper(w.Name))
		shown := strings.TrimSpace(string(letters[:min(15, len(letters))]))
		if other, twice := seen[shown]; twice {
			t.Fatalf("%q and %q are one in 15 letters", other, w.Name)
		}
		seen[shown] = w.Name
		for _, o := range g.Waypoints[:i] {
			if w.Type == "plan mark" && w.Distance2D(&o) < 25 {
				t.Fatalf("%q and %q stand on one point", w.Name, o.Name)
			}
		}
	}
}

// wants gives how a waypoint's name has to begin at each fill, in the order of the ride: the
// litres rounded up to a tenth, or in gallons to a hundredth, what goes into the can, the
// grade as the pump says it, and the place with the number of the pass where there are several.
func wants(doc *plandata.Document, us bool) (names []string) {
	passes, all := map[string]int{}, map[string]int{}
	for _, v := range doc.Visits {
		all[v.Stop]++
	}
	for _, v := range doc.Visits {
		passes[v.Stop]++
		if v.Fill == nil {
			continue
		}
		name := fillWords(v.Fill, us, doc.Start.Grade) + " " + v.Stop
		if v.LastFuel {
			name = "LAST " + name
		}
		if all[v.Stop] > 1 {
			name += fmt.Sprintf(" %d", passes[v.Stop])
		}
		names = append(names, name)
	}
	return names
}

func fillWords(f *plandata.Fill, us bool, start string) string {
	volume := func(litres float64) string {
		if us {
			return fmt.Sprintf("%.2f", math.Ceil(litres/3.785411784*100-1e-9)/100) // NIST Handbook 44
		}
		return fmt.Sprintf("%.1f", math.Ceil(litres*10-1e-9)/10)
	}
	unit, words, posted := "L", "FULL", "ask"
	if us {
		unit = "gal"
	}
	if f.Grade != nil {
		posted = strings.TrimSuffix(strings.TrimSuffix(*f.Grade, " RON"), " AKI")
	}
	if f.Litres > 0 {
		words = volume(f.Litres) + unit
	} else {
		posted = strings.TrimSuffix(start, " RON")
		if us {
			posted = strings.ReplaceAll(start, " ", "") // the pumps there say AKI
		}
	}
	if f.CanL > 0 {
		words += "+" + strings.TrimSuffix(strings.TrimSuffix(volume(f.CanL), ".00"), ".0") + unit
	}
	return words + " " + posted
}

// The waypoints, as another library reads them, against the plan: each stop with the first of
// its fills, a flag for each one more, a question mark where nothing is filled.
func TestGPXNamesAgreeWithThePlan(t *testing.T) {
	for name, args := range examples {
		out := filepath.Join(t.TempDir(), "plan.gpx")
		doc, said := planned(t, append(args[:len(args):len(args)], "--gpx", out)...)
		if doc == nil {
			t.Fatal(said)
		}
		g, err := gpx.ParseFile(out)
		if err != nil {
			t.Fatal(err)
		}
		var got, pumps []string
		for _, w := range g.Waypoints {
			switch {
			case w.Type == "fuel" && w.Symbol == "Gas Station":
				if pumps = append(pumps, w.Name); !strings.HasPrefix(w.Name, "? ") {
					got = append(got, w.Name)
				}
			case w.Type != "plan mark" || !strings.HasPrefix(w.Symbol, "Flag, "):
				t.Errorf("%s: %q has the type %q and the symbol %q", name, w.Name, w.Type, w.Symbol)
			case w.Symbol == "Flag, Green":
				got = append(got, w.Name)
			case !regexp.MustCompile(`^(TB|POUR|TB\d+\+POUR)\d* \d+(km|mi)$`).MatchString(w.Name):
				t.Errorf("%s: a mark is called %q", name, w.Name)
			}
		}
		if diff := cmp.Diff(wants(doc, name == "canyon"), got, cmpopts.SortSlices(strings.Compare)); diff != "" {
			t.Errorf("%s: %s", name, diff)
		}
		for _, v := range doc.Visits {
			if !slices.ContainsFunc(pumps, func(p string) bool { return strings.Contains(p, v.Stop) }) {
				t.Errorf("%s: no waypoint for %s", name, v.Stop)
			}
		}
		if got, want := len(g.Tracks), len(doc.Loop.Parts); got != want {
			t.Errorf("%s: %d tracks of %d parts", name, got, want)
		}
	}
}

// Where to turn back and where to pour, in the units of the plan, as the text says it, with
// the number of the leg.
func TestGPXMarksAgreeWithTheText(t *testing.T) {
	for name, args := range examples {
		out := filepath.Join(t.TempDir(), "plan.gpx")
		text, _ := lastpump(t, append(args[:len(args):len(args)], "--full", "--gpx", out)...)
		g, err := gpx.ParseFile(out)
		if err != nil {
			t.Fatal(err)
		}
		pours := 0
		for _, w := range g.Waypoints {
			if at := regexp.MustCompile(`^POUR(\d+) (\d+)(km|mi)$`).FindStringSubmatch(w.Name); at != nil {
				pours++
				told := strings.Join(strings.Fields(text), " ")
				want := regexp.MustCompile(`in the can (fit from|pour what fits by) trip ` + at[2] + " " + at[3])
				if !want.MatchString(told) {
					t.Errorf("%s: %s, but the text does not say %v", name, w.Name, want)
				}
			}
			if at := regexp.MustCompile(`^TB(\d+) (\d+)(km|mi)$`).FindStringSubmatch(w.Name); at != nil {
				row := regexp.MustCompile(`(?m)^ *` + at[1] + `  .* ` + at[2] + `  +\d+  +\d+  `)
				if _, trip, _ := strings.Cut(text, "ON THE TRIP METER"); !row.MatchString(trip) {
					t.Errorf("%s: %s, not so in the text", name, w.Name)
				}
			}
		}
		if pours == 0 {
			t.Errorf("%s: nothing is poured", name)
		}
	}
}

// another writes a file with another program, by way of a format; "" for GPX alone.
func another(t *testing.T, from, by string) string {
	t.Helper()
	babel := kit.Tool(t, "a program that reads and writes GPX (package gpsbabel)", "gpsbabel")
	to := filepath.Join(t.TempDir(), "other.gpx")
	run := func(args ...string) {
		t.Helper()
		if out, err := exec.Command(babel, args...).CombinedOutput(); err != nil {
			t.Fatalf("gpsbabel %v: %v\n%s", args, err, out)
		}
	}
	if by != "" {
		middle := filepath.Join(t.TempDir(), "middle")
		run("-i", "gpx", "-f", from, "-o", by, "-F", middle)
		run("-i", by, "-f", middle, "-o", "gpx,gpxver=1.1", "-F", to)
		return to
	}
	run("-i", "gpx", "-f", from, "-o", "gpx,gpxver=1.1", "-F", to)
	return to
}

// alike compares plans but for what a program changes that rounds positions: to a
// nanodegree, 0.1 mm. Texts hold what figures say, so only those of stops are compared.
func alike(t *testing.T, what string, want, got *plandata.Document, share float64) {
	t.Helper()
	near := cmpopts.EquateApprox(share, 0.01)
	for _, c := range []struct{ want, got any }{
		{want.Visits, got.Visits}, {want.Legs, got.Legs}, {want.Can, got.Can}, {want.Start, got.Start},
		{want.Loop.RiddenKm, got.Loop.RiddenKm}, {want.Loop.Parts, got.Loop.Parts},
	} {
		if diff := cmp.Diff(c.want, c.got, near, cmpopts.EquateEmpty()); diff != "" {
			t.Errorf("%s (-planned +planned again):\n%s", what, diff)
		}
	}
}

// A plan comes back from another program as it was: the record of an arranged line is in
// what that keeps. Where the record gets lost, all stops are there still, and it is said.
func TestGPXThroughAnotherProgram(t *testing.T) {
	if !kit.Long() {
		t.Skip("each file is written by another program and planned again: a long run")
	}
	turned := []string{"--reverse", "--begin-at", "Sulmeg"}
	for name, args := range map[string][]string{
		"steppe":         examples["steppe"],
		"canyon":         examples["canyon"],
		"steppe, turned": append(slices.Clone(examples["steppe"]), turned...),
	} {
		out := filepath.Join(t.TempDir(), "plan.gpx")
		want, said := planned(t, append(slices.Clone(args), "--gpx", out)...)
		if want == nil {
			t.Fatal(said)
		}
		args = without(args, append([]string{"--stops"}, arranging...)...)
		args[1] = another(t, out, "")
		got, said := planned(t, args...)
		if got == nil || said != "" {
			t.Fatalf("%s: %s", name, said)
		}
		alike(t, name, want, got, 1e-6)
		if name != "steppe" {
			continue
		}
		args[1] = another(t, out, "gdb") // has neither types nor what it does not know
		text, err := os.ReadFile(args[1])
		if err != nil || strings.Contains(string(text), "urn:lastpump:plan\"") || strings.Contains(string(text), "plan mark") ||
			strings.Count(string(text), "<sym>Gas Station</sym>") != 18 || strings.Count(string(text), "<sym>Flag, ") != 7 {
			t.Fatalf("%v: this format was to lose types and record, and keep symbols", err)
		}
		got, _ = planned(t, args...)
		alike(t, "without the record", want, got, 1e-3)
		if !slices.ContainsFunc(got.Warnings, func(w plandata.Warning) bool { return strings.Contains(w.Text, "got lost") }) {
			t.Error("it is not said that the record of the line is lost")
		}
	}
}
