package main

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"sync"
	"testing"

	"lastpump/cmd/lastpump/plandata"
	"lastpump/fuel/bailout"
	"lastpump/fuel/wayout"
	"lastpump/route"
	"lastpump/route/gpxfile"
	"lastpump/testdata/kit"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"
)

// ofBailOuts is the part of the contract of the JSON that is there only where bail-outs are given.
const ofBailOuts = `
bail_outs[].at_km bail_outs[].lat bail_outs[].lon bail_outs[].leg bail_outs[].trip_km
bail_outs[].village|null bail_outs[].village.name bail_outs[].village.what|null bail_outs[].village.road_km
bail_outs[].village.lat bail_outs[].village.lon bail_outs[].village.leave_at_km bail_outs[].village.road|null
bail_outs[].village.direction|null bail_outs[].village.marks[]
bail_outs[].road|null bail_outs[].road.name bail_outs[].pump|null bail_outs[].pump.name bail_outs[].clinic|null bail_outs[].clinic.name
bail_outs[].pharmacy|null bail_outs[].shelter|null bail_outs[].water|null
`

// surveyedOnce is the list of the steppe as a survey writes it.
var surveyedOnce = sync.OnceValues(func() ([]byte, error) {
	dir, err := os.MkdirTemp("", "bail-outs")
	if err != nil {
		return nil, err
	}
	defer os.RemoveAll(dir)
	args := []string{"survey", "../../examples/steppe/loop.gpx", "--map", "../../examples/steppe/map.osm", "--pump-scale", "RON",
		"--ways-out", "40km", "--out", dir}
	if code := run(args, strings.NewReader(""), io.Discard, os.Stderr); code != 0 {
		return nil, fmt.Errorf("exit %d", code)
	}
	return os.ReadFile(filepath.Join(dir, "bail_outs.csv"))
})

// bailOutsOfSteppe gives the bail-outs of the steppe, as a survey writes them.
func bailOutsOfSteppe(t *testing.T) (file string) {
	t.Helper()
	text, err := surveyedOnce()
	file = filepath.Join(t.TempDir(), "bail_outs.csv")
	if err := errors.Join(err, os.WriteFile(file, text, 0o644)); err != nil {
		t.Fatal(err)
	}
	return file
}

// With bail-outs the plan as JSON has the keys that tell of them, for each 25 km of the line and its
// end; without it has none, so that a plan without them is what it was. Where the rest is planned
// they begin with the mark behind the rider. Figures of fuel are the same.
func TestJSONKeysOfBailOuts(t *testing.T) {
	args := append(slices.Clone(examples["steppe"]), "--json", "-")
	file := bailOutsOfSteppe(t)
	plain, _ := lastpump(t, args...)
	with, code := lastpump(t, append(args, "--bail-outs", file)...)
	if strings.Contains(plain, `"bail_outs`) {
		t.Error("bail_outs in a plan without any")
	}
	var doc, before map[string]any
	if err := json.Unmarshal([]byte(with), &doc); err != nil || code == 2 {
		t.Fatal(err, code)
	}
	marks := doc["bail_outs"].([]any)
	if len(marks) != 62 || marks[2].(map[string]any)["at_km"] != 50.0 {
		t.Errorf("%d marks, want 62: one each 25 km of 1511, and the end", len(marks))
	}
	bare := func(m any) bool { return m.(map[string]any)["clinic"] == nil || m.(map[string]any)["road"] == nil }
	doc["bail_outs"] = slices.DeleteFunc(slices.Clone(marks), bare)
	for _, key := range strings.Fields(ofBailOuts) {
		path, nullable := strings.CutSuffix(key, "|null")
		if _, err := look(doc, strings.Split(path, "."), nullable); err != nil {
			t.Errorf("%s: %v", path, err)
		}
	}
	if of, _ := doc["bail_outs_of"].(string); !strings.Contains(of, "© OpenStreetMap contributors") {
		t.Errorf("nobody is told whose map it is: %q", of)
	}
	delete(doc, "bail_outs")
	delete(doc, "bail_outs_of")
	if err := json.Unmarshal([]byte(plain), &before); err != nil {
		t.Fatal(err)
	}
	if a, b := indented(t, before), indented(t, doc); a != b {
		t.Error("bail-outs change something else in the plan")
	}
	rest, _ := lastpump(t, append(args, "--bail-outs", file, "--from", "760km", "--start-fuel", "9L")...)
	if err := json.Unmarshal([]byte(rest), &doc); err != nil {
		t.Fatal(err)
	}
	first := doc["bail_outs"].([]any)[0].(map[string]any)
	if first["at_km"] != 750.0 || first["trip_km"].(float64) > -10 || first["trip_km"].(float64) < -11 || first["leg"] != 0.0 {
		t.Errorf("from km 760 on the first mark is %v", first)
	}
}

func indented(t *testing.T, doc map[string]any) string {
	t.Helper()
	text, err := json.MarshalIndent(doc, "", " ")
	if err != nil {
		t.Fatal(err)
	}
	return string(text)
}

// What a plan of the steppe says of help is what its map was drawn with, read line by line.
func TestBailOutsOfTheSteppeAreTold(t *testing.T) {
	args := append(slices.Clone(examples["steppe"]), "--bail-outs", bailOutsOfSteppe(t), "--full")
	out, _ := lastpump(t, args...)
	_, told, ok := strings.Cut(out, "WAY OUT IF IN TROUBLE")
	if !ok {
		t.Fatal("nothing is told of help")
	}
	told, _, _ = strings.Cut(told, "\nFILLS")
	const golden = "testdata/steppe-bail-outs.txt"
	if *update {
		if err := os.WriteFile(golden, []byte(told+"\n"), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile(golden)
	if err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff(string(want), told+"\n"); diff != "" {
		t.Errorf("-golden +got; -update writes it anew:\n%s", diff)
	}
}

// The strip has the marks of each leg, by the trip meter, the sheet for home the places to look at first,
// a card what is on the way to its stop; whose map it is stands beside them.
func TestBailOutsOnPaper(t *testing.T) {
	dir := t.TempDir()
	strip, home, page := filepath.Join(dir, "strip.pdf"), filepath.Join(dir, "home.html"), filepath.Join(dir, "plan.html")
	lastpump(t, append(slices.Clone(examples["steppe"]), "--bail-outs", bailOutsOfSteppe(t), "--strip", strip, "--home", home, "--html", page)...)
	text, err := exec.Command(kit.Tool(t, "pdftotext", "pdftotext"), "-raw", strip, "-").Output()
	if err != nil {
		t.Fatal(err)
	}
	on := func(what, text string, wants ...string) {
		text = strings.Join(strings.Fields(text), " ")
		for _, want := range wants {
			if !strings.Contains(text, want) {
				t.Errorf("%s has no %q", what, want)
			}
		}
	}
	on("the strip", string(text), "WAY OUT in trouble trip 0: Ordvel here; road here", "Irgul 29 km: 11 km back, then the road NE; road 40 km on", "road 19 km back",
		"Map data © OpenStreetMap contributors")
	for file, wants := range map[string][]string{
		home: {"Where to look first", "Sulmeg Clinic", "46.6170, 98.8098", "550–925", "B 7 (275–600)", "Map data © OpenStreetMap contributors"},
		page: {"Way out if in trouble", "Help if hurt or stuck", ">in trouble<", "Irgul 29 km: 11 km back, then the road NE; road 40 km on", "Map data © OpenStreetMap contributors"},
	} {
		data, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		on(filepath.Base(file), string(data), wants...)
	}
}

// A list of another line, of a line arranged otherwise, and a bad row are refused with their place, and
// a report does not take the place of the file.
func TestBailOutsThatAreRefused(t *testing.T) {
	file := bailOutsOfSteppe(t)
	text, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	bad := filepath.Join(t.TempDir(), "bad.csv")
	if err := os.WriteFile(bad, []byte(strings.Replace(string(text), ",hamlet,Irgul,", ",hamlet,,", 1)), 0o644); err != nil {
		t.Fatal(err)
	}
	steppe := func(more ...string) []string { return append(slices.Clone(examples["steppe"]), more...) }
	for want, args := range map[string][]string{
		"bail_outs.csv:3:1: these ways were looked for along another line": append(slices.Clone(examples["canyon"]), "--bail-outs", file),
		"along another line":            steppe("--reverse", "--bail-outs", file),
		"a way to nowhere: to is empty": steppe("--bail-outs", bad),
		"no such file":                  steppe("--bail-outs", file+"x"),
		"loop.gpx:":                     steppe("--bail-outs", "../../examples/steppe/loop.gpx"),
		"would take the place of":       steppe("--bail-outs", file, "--csv", file),
	} {
		var out, errs bytes.Buffer
		if code := run(args, strings.NewReader(""), &out, &errs); code != 2 || !strings.Contains(errs.String(), want) ||
			!strings.Contains(errs.String(), "hint: ") || out.Len() > 0 {
			t.Errorf("exit %d, %q, want %s", code, errs.String(), want)
		}
	}
}

// A page with the worst that a map may have for names is no wider than a phone, with all unfolded,
// and axe-core finds nothing.
func TestPageWithBailOutsFitsAPhone(t *testing.T) {
	if !kit.Long() {
		t.Skip("a page is looked at: a long run")
	}
	browser(t)
	gpx, err := os.Open("../../examples/steppe/loop.gpx")
	if err != nil {
		t.Fatal(err)
	}
	defer gpx.Close()
	read, err := gpxfile.Read(gpx, "loop.gpx")
	if err != nil {
		t.Fatal(err)
	}
	line, err := route.NewLine(read.Lines(), route.LineOptions{})
	if err != nil {
		t.Fatal(err)
	}
	var ways []bailout.Way
	for _, at := range bailout.Along(line) {
		for i, k := range bailout.Kinds() {
			name := []string{strings.Repeat("Seventy letters ", 5)[:70], strings.Repeat("w", 70), "محطة وقود الشمال", "<script>alert(1)</script>"}[(i+int(at))%4]
			ways = append(ways, bailout.Way{At: at, Mark: line.At(at), Kind: k, What: "wilderness_hut", To: name, Goal: line.At(at),
				Length: 91_000, Leave: min(at+31_000, line.Length()), Road: strings.Repeat("Long road ", 7), Toward: "NE", Marks: wayout.Doubtful})
		}
	}
	dir := t.TempDir()
	file, page := filepath.Join(dir, "bail_outs.csv"), filepath.Join(dir, "plan.html")
	f, err := os.Create(file)
	if err != nil {
		t.Fatal(err)
	}
	if err := bailout.Write(f, ways, wayout.Sum(line), "x"); err != nil {
		t.Fatal(err)
	}
	if err := f.Close(); err != nil {
		t.Fatal(err)
	}
	lastpump(t, append(slices.Clone(examples["steppe"]), "--bail-outs", file, "--html", page)...)
	b := onPhone(t, page)
	b.unfold()
	if wide := eval[int](b, `document.documentElement.scrollWidth`); wide > 360 {
		t.Errorf("the page is %d wide", wide)
	}
	if !strings.Contains(eval[string](b, `document.body.innerText`), "in trouble") {
		t.Error("nothing is told of help")
	}
	eval[int](b, axe(t)+"; 1")
	for _, v := range b.violations() {
		t.Error(v)
	}
	b.quiet()
}

// The planner in a page takes the file as one more, tells it from roads.csv, and plans as the command.
func TestPlannerTakesBailOuts(t *testing.T) {
	long(t)
	file, given := startOf(t), bailOutsOfSteppe(t)
	roads := surveyed(t)
	t.Chdir(filepath.Join("..", "..", "examples", "steppe"))
	b := onPhone(t, file)
	b.give(given, roads, "bike.toml", "ground.csv", "stops.csv", "loop.gpx")
	got := b.planned()
	want := plannedAs(t, []string{"plan", "loop.gpx", "--stops", "stops.csv", "--ground", "ground.csv", "--bike", "bike.toml",
		"--roads", roads, "--bail-outs", given})
	bailOuts := func(text string) []plandata.BailOut {
		d, err := plandata.Read(strings.NewReader(text))
		if err != nil || len(d.BailOuts) == 0 {
			t.Fatalf("%d bail-outs, %v", len(d.BailOuts), err)
		}
		return d.BailOuts
	}
	// Two processors may differ in the last digit of a float.
	if diff := cmp.Diff(bailOuts(want), bailOuts(got), cmpopts.EquateApprox(1e-12, 0)); diff != "" {
		t.Errorf("the page's plan differs from the command's: %s", diff)
	}
	b.quiet()
}
