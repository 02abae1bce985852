package words_test

import (
	"testing"

	"lastpump/cmd/lastpump/internal/words"
)

// The ends of a leg are called by the stop that is there. Stops may be called as the ends of
// the ride are: those are told by what they are, not by a name.
func TestNamesOfEnds(t *testing.T) {
	called := ride(straight(t, 400), pump("A", 80, 0), pump("end", 160, 0), pump("start", 240, 0), pump("B", 320, 0))
	p := make1(t, called)
	for i, want := range [][2]string{{"the start", "A"}, {"A", "end"}, {"end", "start"}, {"start", "B"}, {"B", "the end"}} {
		if from, to := words.EndsOf(p, i); from != want[0] || to != want[1] {
			t.Errorf("leg %d from %q to %q, want %q", i, from, to, want)
		}
	}
	p = make1(t, ride(straight(t, 100), pump("home", 0, 0), pump("hut", 100, 0)))
	if from, to := words.EndsOf(p, 0); from != "home" || to != "hut" {
		t.Errorf("from %q to %q", from, to)
	}
	if from, _ := words.EndsOf(make1(t, from(called, 100, 6)), 0); from != "here" {
		t.Errorf("from %q", from)
	}
}
