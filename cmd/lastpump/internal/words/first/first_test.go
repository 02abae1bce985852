package first_test

import (
	"slices"
	"strings"
	"testing"

	"lastpump/cmd/lastpump/internal/words"
	"lastpump/cmd/lastpump/internal/words/first"
	"lastpump/cmd/lastpump/internal/words/units"
	"lastpump/testdata/kit/drawn"

	"github.com/paulmach/orb"
)

// A stop that lies where no list of a ride has one is asked after: a degree south of the start of a line that
// goes north is 111.195 km (of a sphere of 6,371 km).
func TestStopsFarOffTheLineAreAskedAfter(t *testing.T) {
	for _, c := range []struct {
		south []float64 // degrees
		want  string
	}{
		{nil, ""},
		{[]float64{2.6}, ""}, // 289 km
		{[]float64{2.8}, "A lies 311 km off the line: are its coordinates right?"},
		{[]float64{54}, "A lies 6005 km off the line: are its coordinates right?"},
		{[]float64{2.8, 2.6, 10}, "A lies 311 km off the line, C lies 1112 km off the line: are their coordinates right?"},
		{[]float64{3, 4, 5, 6}, "A lies 334 km off the line, B lies 445 km off the line, and 2 more over 300 km: are their coordinates right?"},
	} {
		in := drawn.Ride(drawn.Straight(t, 150), drawn.Pump("passed", 90, 0))
		start := in.Line.At(0)
		for i, d := range c.south {
			s := drawn.Pump(string(rune('A'+i)), 90, 0)
			s.At = orb.Point{start[0], start[1] - d}
			in.Stops = append(in.Stops, s)
		}
		lines := first.Of(words.Of(drawn.Cured(t, in), units.Metric)).NotSure(true)
		asked := slices.DeleteFunc(lines, func(s string) bool { return !strings.Contains(s, "coordinates") })
		if got := strings.Join(asked, "|"); got != c.want {
			t.Errorf("%v degrees south: %q, want %q", c.south, got, c.want)
		}
	}
}
