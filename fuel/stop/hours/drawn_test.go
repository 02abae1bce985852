package hours_test

import (
	"bytes"
	_ "embed"
	"encoding/json"
	"errors"
	"math/rand"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"lastpump/fuel/stop/hours"
	"lastpump/testdata/kit"
)

//go:embed testdata/ask.cjs
var ask []byte

// otherProgram is what hours are held to: run under node, installed for a test.
const otherProgram = "opening_hours@3.15.0"

// A question is for the other program.
type question struct {
	Value string `json:"value"`
	From  string `json:"from"`
	Days  int    `json:"days"`
}

// answers asks the other program; nil is what it does not read.
func answers(t *testing.T, questions []question) [][]interval {
	t.Helper()
	node, npm := kit.Tool(t, "Node.js", "node"), kit.Tool(t, "npm", "npm")
	dir := t.TempDir()
	install := exec.Command(npm, "install", "--silent", "--no-audit", "--no-fund", "--ignore-scripts",
		"--prefer-offline", "--fetch-retries", "1", "--prefix", dir, otherProgram)
	if out, err := install.CombinedOutput(); err != nil {
		if os.Getenv("LASTPUMP_NEED_TOOLS") != "" {
			t.Fatalf("%s: %v\n%s", otherProgram, err, out)
		}
		t.Skipf("%s cannot be installed: hours are not compared with it", otherProgram)
	}
	script := filepath.Join(dir, "ask.cjs")
	if err := os.WriteFile(script, ask, 0o600); err != nil {
		t.Fatal(err)
	}
	in, err := json.Marshal(questions)
	if err != nil {
		t.Fatal(err)
	}
	run := exec.Command(node, script)
	run.Stdin, run.Env = bytes.NewReader(in), append(os.Environ(), "TZ=UTC")
	out, err := run.Output()
	if err != nil {
		t.Fatal(err)
	}
	var read [][][3]any
	if err := json.Unmarshal(out, &read); err != nil || len(read) != len(questions) {
		t.Fatalf("%d answers of %d: %v", len(read), len(questions), err)
	}
	all := make([][]interval, len(read))
	for i, answer := range read {
		if answer == nil {
			continue
		}
		in := []interval{}
		for _, a := range answer {
			in = append(in, interval{int(a[0].(float64)), int(a[1].(float64)), a[2].(bool)})
		}
		all[i] = append([]interval{}, joined(in)...)
	}
	return all
}

// drawnAndSpoilt gives n values that are understood, and half as many that were mistyped and are understood
// all the same, each with two weeks between 2024 and 2026.
func drawnAndSpoilt(t *testing.T, n int, r drawer) (values []drawn, questions []question) {
	t.Helper()
	real := oracle(t)
	for len(values) < n+n/2 {
		d := drawn{twofold: true}
		if len(values) < n {
			d = r.value()
		} else {
			d.text = r.spoilt(real)
			d.ph = strings.Contains(strings.ToLower(d.text), "ph")
		}
		var not *hours.NotUnderstood
		if _, err := hours.Read(d.text); errors.As(err, &not) {
			// What is drawn may have times like 08:00-08:00+, and dates like Dec 2-Dec 1.
			if len(values) < n && not.Why != hours.BadTime && not.Why != hours.BadDate {
				t.Fatalf("%q: %v", d.text, err)
			}
			continue
		}
		from := time.Date(2024, 1, 1+r.Intn(1000), 0, 0, 0, 0, time.UTC)
		values = append(values, d)
		questions = append(questions, question{d.text, from.Format(time.DateOnly), days})
	}
	return values, questions
}

// days are how many are compared of each value.
const days = 14

// Source: the program opening_hours 3.15.0 itself, on values drawn at random. Nothing is open
// here that is shut or unclear there, nothing shut that is open there, nothing read that is not
// read there. Where a minute is unclear only here, there is one of the reasons that the package comment
// names; most values have none and are the same to the minute.
func TestDrawnHoursAgreeWithOpeningHours(t *testing.T) {
	n := 500
	if kit.Long() {
		n = 2500
	}
	values, questions := drawnAndSpoilt(t, n, drawer{rand.New(rand.NewSource(int64(n)))})
	questions = append(questions, question{"PH 00:00-24:00", "2023-12-01", 1200})
	theirs := answers(t, questions)
	var holidays []time.Time
	for _, i := range theirs[n+n/2] {
		for m := i.from; m < i.to; m += 24 * 60 {
			holidays = append(holidays, day(t, "2023-12-01").Add(time.Duration(m)*time.Minute))
		}
	}
	same := 0
	for i, d := range values {
		from := day(t, questions[i].From)
		h := must(t, d.text)
		if d.ph {
			h = h.Observing(holidays...)
		}
		ours := intervals(h, from, days)
		switch {
		case theirs[i] == nil:
			t.Errorf("%q is read here, not there", d.text)
		case !slices.Equal(ours, theirs[i]):
			compare(t, d, from, states(ours), states(theirs[i]), holidays)
		case i < n:
			same++
		}
	}
	t.Logf("of %d values drawn %d are the same to the minute; %d holidays", n, same, len(holidays))
	if len(holidays) < 30 || same*100 < n*70 {
		t.Error("too few are the same, or too few holidays")
	}
}

// compare holds states to those of the other program, minute by minute.
func compare(t *testing.T, d drawn, from time.Time, ours, theirs []hours.State, holidays []time.Time) {
	t.Helper()
	for m := range ours {
		at := from.Add(time.Duration(m) * time.Minute)
		near := func(h time.Time) bool { return at.Sub(h) >= 0 && at.Sub(h) < 48*time.Hour } // it, and what it spills
		doubted := d.mayBeUnclear() || d.ph && slices.ContainsFunc(holidays, near)
		if ours[m] != theirs[m] && !(ours[m] == hours.Unclear && doubted) {
			t.Errorf("%q on %s: %d here, %d there", d.text, at.Format("Mon 2006-01-02 15:04"), ours[m], theirs[m])
			return
		}
	}
}
