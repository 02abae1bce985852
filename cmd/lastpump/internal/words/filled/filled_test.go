package filled_test

import (
	"strings"
	"testing"

	"lastpump/cmd/lastpump/internal/words/filled"
	"lastpump/cmd/lastpump/internal/words/units"
	"lastpump/fuel/learn"
	"lastpump/fuel/learn/fills"
	"lastpump/route"
)

// Nothing that can be said of a log or a tank is without filled.
func TestLogAndTanksHaveWords(t *testing.T) {
	said := map[string]bool{}
	for _, k := range fills.RemarkKinds() {
		s := filled.LogRemark(fills.Remark{Kind: k, Line: 3, Lines: []int{3}, Ratio: 0.5})
		if s == "" || said[s] {
			t.Errorf("%s: %q", k, s)
		}
		said[s] = true
	}
	for _, w := range []learn.Why{learn.TooFarOff, learn.FillNotWritten, learn.FillMissing, learn.DistanceUnknown,
		learn.LitresUnknown, learn.NothingRidden} {
		s := filled.MadeOf(learn.Step{Why: w})
		if !strings.HasPrefix(s, "not learnt from: ") || said[s] {
			t.Errorf("%s: %q", w, s)
		}
		said[s] = true
	}
}

// Rows are named one by one while they are few.
func TestRowsOfALog(t *testing.T) {
	for want, lines := range map[string][]int{
		"row 3 tells of no fuel":                   {3},
		"rows 3 and 5 tell of no fuel":             {3, 5},
		"rows 3, 4, 5, 6, 7 and 9 tell of no fuel": {3, 4, 5, 6, 7, 9},
		"7 rows from 2 to 8 tell of no fuel":       {2, 3, 4, 5, 6, 7, 8},
	} {
		if got := filled.LogRemark(fills.Remark{Kind: fills.OfService, Lines: lines}); got != want+": left out" {
			t.Errorf("%q, want %q", got, want)
		}
	}
}

// What was made of a tank: 2.0 is e^0.693, 0.6 a weight that is believed, 0.2 one that is
// hardly.
func TestMadeOf(t *testing.T) {
	for want, s := range map[string]learn.Step{
		"counts whole":             {Used: true, Weight: 1},
		"counts for 60 %":          {Used: true, Weight: .6},
		"far off: counts for 20 %": {Used: true, Weight: .2},
		"not learnt from: 2.0 times what was expected": {Why: learn.TooFarOff, Off: .694},
		"not learnt from: 0.45 of what was expected":   {Why: learn.TooFarOff, Off: -.8},
	} {
		if got := filled.MadeOf(s); got != want {
			t.Errorf("%q, want %q", got, want)
		}
	}
}

// Ties of the thirst stand together and first; grounds that nothing would tell in one line.
func TestWhatIsNotTold(t *testing.T) {
	got := filled.Tied([]learn.Tie{{Ground: route.Dirt}, {Ground: route.Sand, With: route.Dirt}, {Ground: route.Sand}})
	if len(got) != 2 || !strings.HasPrefix(got[0], "The thirst and what dirt or sand takes") ||
		!strings.HasPrefix(got[1], "The weights of dirt and sand") {
		t.Errorf("%q", got)
	}
	got = filled.Telling([]filled.Wanted{{Ground: route.Dirt}, {Ground: route.Sand, Far: 160934, OK: true}, {Ground: route.Soft}},
		units.US)
	if len(got) != 2 || !strings.HasPrefix(got[0], "100 mi of sand") || !strings.HasSuffix(got[1], "about dirt, soft.") {
		t.Errorf("%q", got)
	}
}

// An empty file is one that can be read, in every unit, and begun.
func TestEmptyFills(t *testing.T) {
	for _, u := range []units.System{units.Metric, units.US, units.UK} {
		l, err := fills.Read(strings.NewReader(filled.EmptyFills(u)), "f.csv")
		if err != nil || len(l.Rows) > 0 || l.Miles != u.Miles() || (l.Volume == "gal_us") != (u == units.US) {
			t.Errorf("%s: %+v, %v", u, l, err)
		}
		for line := range strings.Lines(filled.EmptyFills(u)) {
			if strings.HasPrefix(line, "#") && strings.ContainsAny(line, `,;"`) || len(line) > 121 {
				t.Errorf("%s: a spreadsheet would set %q in quotes", u, line)
			}
		}
	}
}
