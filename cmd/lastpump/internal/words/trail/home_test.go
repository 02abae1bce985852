package trail_test

import (
	"strings"
	"testing"

	"lastpump/cmd/lastpump/internal/words"
	"lastpump/cmd/lastpump/internal/words/trail"
	"lastpump/cmd/lastpump/internal/words/units"
	"lastpump/fuel/plan"
	"lastpump/testdata/kit/drawn"
)

// Those at home have where the rider turns back on each leg that the strip has it on: of 10 L at 0.05775
// L/km at the most, half is used after 86.58 km. A leg to a pump that strands a thirsty bike is one to look
// at first, though it is OK: 190 km past a dry A take 9.5 L likely and 11.5 at the most.
func TestDoubtsForHome(t *testing.T) {
	for _, c := range []struct {
		name     string
		in       plan.Inputs
		leg      int
		doubtful bool
		want     []string
	}{
		{"OK, and a place to turn back", drawn.Ride(drawn.Straight(t, 150), drawn.Pump("A", 120, 0)), 0, false,
			[]string{"OK; turn back by trip 86 km: "}},
		{"OK, and back from any point", drawn.Ride(drawn.Straight(t, 100), drawn.Pump("A", 50, 0)), 0, false, []string{"OK"}},
		{"a thirsty bike", drawn.Ride(drawn.Straight(t, 190), drawn.Pump("A", 95, 0)), 0, true,
			[]string{"OK, but if dry: ", "not if thirsty; turn back by trip 86 km: ", "′N "}},
		{"stranded", drawn.Ride(drawn.Straight(t, 345), drawn.Pump("A", 148, 0), drawn.Pump("B", 256, 0)), 0, true,
			[]string{"OK, but IF DRY: STRANDED", "turn back by trip 86 km: "}},
		{"the end", drawn.Ride(drawn.Straight(t, 150), drawn.Pump("A", 120, 0)), 1, false, []string{"OK"}},
	} {
		got, doubtful := trail.Of(words.Of(drawn.Cured(t, c.in), units.Metric)).DoubtsOf(c.leg)
		if doubtful != c.doubtful {
			t.Errorf("%s: %q, doubtful %v", c.name, got, doubtful)
		}
		for _, want := range c.want {
			if !strings.Contains(got, want) || c.want[0] == "OK" && got != want {
				t.Errorf("%s: %q, want %q", c.name, got, want)
			}
		}
	}
}
