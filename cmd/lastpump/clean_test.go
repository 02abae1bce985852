package main

import (
	"bytes"
	"encoding/json"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"
	"unicode"
)

// hostile stands in every text that a rider or a stranger may have put into a file: it
// wipes a terminal, sets its title, rings, turns the direction of what follows, and hides.
const hostile = "\x1b[2J\x1b]0;x\x07\x9b31m\u009b1m\u202eterces\u2066\u2067\u2068\u200e\u200f\u061c\u200b\ufeff\u0085\r\n\u2028\x7f"

// Of it: what XML 1.0 lets through, what may stand in UTF-8, what a file may be called.
var (
	xmlHostile  = strings.Map(noControl, hostileText)
	hostileText = strings.ToValidUTF8(hostile, "")
	hostileName = hostile
)

func noControl(r rune) rune {
	if r < 0x20 && r != '\r' && r != '\n' {
		return -1
	}
	return r
}

// steering tells by the tables of Unicode what no report may hold.
func steering(r rune) bool {
	return r != '\n' && r != '\t' && unicode.IsControl(r) || unicode.Is(unicode.Bidi_Control, r) || strings.ContainsRune("\u200b\ufeff\u2028\u2029", r)
}

// isolates are what a report itself puts around names that are written from the right.
var isolates = strings.NewReplacer("\u2067", "", "\u2069", "")

// harmless fails if a text holds what steers a terminal.
func harmless(t *testing.T, what, text string) {
	t.Helper()
	text = isolates.Replace(strings.ReplaceAll(strings.TrimPrefix(text, "\ufeff"), "\r\n", "\n")) // the mark and the line ends of CSV
	if i := strings.IndexFunc(text, steering); i >= 0 {
		t.Errorf("%s: %q", what, text[max(i-60, 0):min(i+30, len(text))])
	}
}

// hostileFiles writes a loop of two days, stops, ground, a bike and a small map, with the
// text in all of their names and notes, and gives the folder.
func hostileFiles(t *testing.T) (folder, suffix string) {
	t.Helper()
	folder = filepath.Join(t.TempDir(), "in"+hostileName)
	if err := os.Mkdir(folder, 0o755); err != nil {
		t.Skip("no file system for such names: ", err)
	}
	quoted := func(s string) string { return `"` + s + hostileText + `"` }
	var trk strings.Builder
	for day := range 2 {
		trk.WriteString("<trk><name>day" + xmlHostile + "</name><trkseg>")
		for i := range 60 {
			trk.WriteString(`<trkpt lat="` + decimalsOf(47+float64(day*59+i)*0.01) + `" lon="8"/>`)
		}
		trk.WriteString("</trkseg></trk>")
	}
	head := `<gpx version="1.1" creator="t"><metadata><name>loop` + xmlHostile + `</name></metadata>`
	files := map[string]string{
		"loop.gpx": head + `<wpt lat="47.1" lon="8"><name>W` + xmlHostile + `</name><cmt>c` + xmlHostile +
			`</cmt><desc>grades: 95 RON` + "\n" + `pay: "\u001b\u202e"` + "\n" + xmlHostile + `</desc><type>fuel</type></wpt>` + trk.String() + `</gpx>`,
		"stops.csv": "name,lat,lon,grades,hours,pay,standing,confirmed,phone,price,note\n" +
			quoted("A") + ",47.3,8,92 RON," + quoted("24/7") + "," + quoted("cash") + ",seen,2026-06-01," + quoted("1") + ",1.6 EUR\u202e/L," + quoted("n") + "\n" +
			quoted("B") + ",47.6,8.01,,off," + quoted("") + ",map,,,," + quoted("n") + "\n" +
			quoted("C") + ",47.9,8,80 RON,,,phoned,2020-01-01,,,\n" +
			quoted("D") + ",47.9,8.5,95 RON,,,hearsay,,,,\n",
		"ground.csv": "from_km,to_km,ground,note\n0,40,sand," + quoted("n") + "\n",
		"bike.toml":  "name = \"b\\u001b[2J\\u202e\\u0085\"\ntank = \"7 L\"\nconsumption = \"5 L/100km\"\nneeds = \"95 RON\"\ncan = \"2 L\"\n",
		"map.osm": `<osm version="0.6"><node id="1" lat="47.2" lon="8"><tag k="amenity" v="fuel"/><tag k="name" v="M` + xmlHostile +
			`"/><tag k="opening_hours" v="h` + xmlHostile + `"/><tag k="phone" v="p` + xmlHostile + `"/><tag k="operator" v="o` + xmlHostile + `"/></node></osm>`,
	}
	for name, text := range files {
		if err := os.WriteFile(filepath.Join(folder, hostileName+name), []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	return folder, hostileName
}

func decimalsOf(x float64) string { return strconv.FormatFloat(x, 'f', 4, 64) }

// pdfWords gives what a PDF says, "" where no tool is there to tell.
func pdfWords(t *testing.T, pdf []byte) []byte {
	t.Helper()
	tool, err := exec.LookPath("pdftotext")
	if err != nil {
		return nil
	}
	c := exec.Command(tool, "-raw", "-nopgbrk", "-", "-")
	c.Stdin = bytes.NewReader(pdf)
	text, err := c.Output()
	if err != nil {
		t.Error(err)
	}
	return text
}

// textsOf gives all texts in JSON, as a program reads them.
func textsOf(t *testing.T, data []byte) (out []string) {
	t.Helper()
	var all any
	if err := json.Unmarshal(data, &all); err != nil {
		t.Error(err)
	}
	var walk func(any)
	walk = func(v any) {
		switch v := v.(type) {
		case string:
			out = append(out, v)
		case []any:
			for _, x := range v {
				walk(x)
			}
		case map[string]any:
			for _, x := range v {
				walk(x)
			}
		}
	}
	walk(all)
	return out
}

// Nothing that a file holds, nor how it is called, steers the terminal, the printer or the
// page on which a report is read; what is printed on standard error does not, either.
func TestNothingSteersATerminal(t *testing.T) {
	folder, name := hostileFiles(t)
	in := func(file string) string { return filepath.Join(folder, name+file) }
	runs := map[string][]string{
		"plan": {in("loop.gpx"), "--stops", in("stops.csv"), "--stops", in("loop.gpx"), "--ground", in("ground.csv"),
			"--bike", in("bike.toml"), "--contact", "who: x" + hostile},
		"from here": {in("loop.gpx"), "--stops", in("stops.csv"), "--bike", in("bike.toml"), "--from", "50", "--start-fuel", "5L"},
		"chosen":    {in("loop.gpx"), "--stops", in("stops.csv"), "--bike", in("bike.toml"), "--fill", "chosen", "--detours", "30km"},
		"group":     {in("loop.gpx"), "--bike", in("bike.toml"), "--bike", in("bike.toml")},
	}
	for what, args := range runs {
		out := t.TempDir()
		args = everyReport(append([]string{"plan"}, args...), out)
		text, errs := runAll(args)
		harmless(t, what+": stdout", text)
		harmless(t, what+": stderr", errs)
		for _, f := range reportFiles {
			data, err := os.ReadFile(filepath.Join(out, f[1]))
			if err != nil {
				t.Errorf("%s: %v\n%s", what, err, errs)
				continue
			}
			switch f[0] {
			case "--strip", "--map-sheet":
				data = pdfWords(t, data)
			case "--json": // escapes are data, too
				data = []byte(strings.Join(textsOf(t, data), " "))
			}
			harmless(t, what+": "+f[1], string(data))
		}
	}
	out := filepath.Join(t.TempDir(), "out"+hostileName)
	for range 2 { // the second time nothing is new
		text, errs := runAll([]string{"survey", in("loop.gpx"), "--map", in("map.osm"), "--out", out, "--pump-scale", "RON"})
		harmless(t, "survey", text+errs)
	}
	lists, err := filepath.Glob(filepath.Join(filepath.Dir(out), "*", "*"))
	if err != nil || len(lists) != 3 {
		t.Errorf("survey wrote %q (%v)", lists, err)
	}
	for _, l := range lists {
		data, err := os.ReadFile(l)
		if err != nil {
			t.Error(err)
		}
		harmless(t, filepath.Base(l), string(data))
	}
}

// What is typed, and what faults quote, does not steer the terminal, either.
func TestNothingInErrorsSteersATerminal(t *testing.T) {
	folder, name := hostileFiles(t)
	in := func(file string) string { return filepath.Join(folder, name+file) }
	for _, args := range [][]string{
		{hostile},
		{"plan", "no" + hostile},
		{"plan", in("stops.csv")},
		{"plan", in("loop.gpx"), "--stops", in("bike.toml")},
		{"plan", in("loop.gpx"), "--bike", in("stops.csv")},
		{"plan", in("loop.gpx"), "--ground", in("bike.toml")},
		{"plan", in("loop.gpx"), "--ground", "sa" + hostile},
		{"plan", in("loop.gpx"), "--skip", hostile},
		{"plan", in("loop.gpx"), "--from", hostile},
		{"plan", in("loop.gpx"), "--reserve", hostile},
		{"plan", in("loop.gpx"), "--" + hostile},
		{"plan", in("loop.gpx"), "--csv", folder},
		{"plan", in("loop.gpx"), "--csv", in("none") + "/plan.csv"},
		{"plan", in("loop.gpx"), "--csv", in("loop.gpx")},
		{"plan", in("loop.gpx"), in("loop.gpx")},
		{"plan", in("loop.gpx"), "--contact", hostile, "--home", "x.html"},
		{"survey", in("loop.gpx"), "--map", in("none.osm")},
		{"bike", in("none")},
		{"grade", hostile},
	} {
		out, errs := runAll(args)
		if !strings.Contains(errs, "\n") {
			t.Errorf("%q: no error", args)
		}
		harmless(t, strings.Join(args, " "), out+errs)
	}
}

// runAll runs the command and gives what it printed.
func runAll(args []string) (stdout, stderr string) {
	var out, errs bytes.Buffer
	run(args, strings.NewReader(""), &out, &errs)
	return out.String(), errs.String()
}

// A name from the right stands alone in every report that is read by eye, so that it does
// not draw the figures after it to its side; in data it is as it was given.
func TestNamesFromTheRightStandAlone(t *testing.T) {
	folder := t.TempDir()
	const name = "محطة الشرق"
	stops := filepath.Join(folder, "stops.csv")
	if err := os.WriteFile(stops, []byte("name,lat,lon,grades,standing\n"+name+",40.08891,20.88272,95 RON,seen\n"), 0o644); err != nil {
		t.Fatal(err)
	}
	args := []string{"plan", "testdata/ring.gpx", "--stops", stops, "--units", "us", "--corridor", "50km", "--ground", "paved", "--full", "--fill", "everywhere"}
	text, errs := runAll(everyReport(args, folder))
	if errs != "" {
		t.Fatal(errs)
	}
	alone := func(what, text, open, end string) {
		t.Helper()
		text = regexp.MustCompile(open+`[^<\x{2069}]*`+end).ReplaceAllString(text, "")
		if i := strings.Index(text, "محطة"); i >= 0 {
			t.Errorf("%s: %q", what, text[max(i-40, 0):min(i+60, len(text))])
		}
	}
	if !strings.Contains(text, "\u2067"+name+"\u2069") {
		t.Errorf("the stop is not in\n%s", text)
	}
	alone("text", text, "\u2067", "\u2069")
	for file, open := range map[string]string{"plan.html": "<bdi>", "home.html": "<bdi>"} {
		data, err := os.ReadFile(filepath.Join(folder, file))
		if err != nil || !bytes.Contains(data, []byte(open+name)) {
			t.Errorf("%s: %v, or the stop is not in it", file, err)
		}
		// in titles, and names over pictures
		page := strings.NewReplacer("\u2067", "<bdi>", "\u2068", "<bdi>", "\u2069", "</bdi>").Replace(string(data))
		alone(file, page, "<bdi>", "</bdi>")
	}
	for _, file := range []string{"plan.json", "plan.csv", "plan.gpx"} {
		data, err := os.ReadFile(filepath.Join(folder, file))
		if err != nil || !bytes.Contains(data, []byte(name)) || bytes.Contains(data, []byte("\u2067")) {
			t.Errorf("%s: %v, or the stop is not in it as it was given", file, err)
		}
	}
}
