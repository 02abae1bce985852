package when_test

import (
	"strings"
	"testing"

	"lastpump/cmd/lastpump/internal/words/when"
	"lastpump/fuel/stop"
	"lastpump/fuel/stop/hours"
)

// Each reason has a sentence of its own, without a hole in it.
func TestEveryReasonNotToUnderstandHoursIsSaid(t *testing.T) {
	said := map[string]hours.Why{}
	for _, why := range hours.AllWhys() {
		text := when.NotUnderstood(&hours.NotUnderstood{Why: why, Text: "Sa 08"})
		if other, twice := said[text]; twice || strings.Contains(text, "%") || strings.Contains(text, "Something") {
			t.Errorf("%s: %q, as %s", why, text, other)
		}
		said[text] = why
	}
}

// They are named once, the first five of them; what is understood, or not given, is not.
func TestHoursToAskAreNamed(t *testing.T) {
	for names, want := range map[string]string{
		"":              "",
		"A":             "hours not understood, ask: A; they are written as Mo-Sa 08:00-20:00",
		"A B C D E":     "hours not understood, ask: A, B, C, D, E; they are written as Mo-Sa 08:00-20:00",
		"A B C D E F G": "hours not understood, ask: A, B, C, D, E, 2 more; they are written as Mo-Sa 08:00-20:00",
	} {
		stops := []stop.Stop{{Name: "open", Hours: "24/7"}, {Name: "not given"}}
		for _, n := range strings.Fields(names) {
			stops = append(stops, stop.Stop{Name: n, Hours: "ring twice"})
		}
		if got := strings.Join(when.HoursToAsk(stops), "\n"); got != want {
			t.Errorf("%s: %q, want %q", names, got, want)
		}
	}
}
