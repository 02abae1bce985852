package fuel_test

import (
	"testing"

	"lastpump/fuel"
	"lastpump/route"

	"pgregory.net/rapid"
)

// What has been ridden by a place is the sum over the runs before it, and riding that
// on leads to the place again: or to its near side, where a ferry takes nothing.
func TestRiddenToAndAfter(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		runs := drawRuns(t)
		b, thirst := drawBike(t)
		c := fuel.NewCourse(runs, b, thirst)
		from, at := drawPlace(t, runs, "from"), drawPlace(t, runs, "at")
		from, at = min(from, at), max(from, at)
		ridden := func(m route.Metres) (sum route.Metres) {
			for _, r := range runs {
				if m > r.From {
					sum += r.Ridden * (min(m, r.To) - r.From) / (r.To - r.From)
				}
			}
			return sum
		}
		near(t, "ridden", c.RiddenTo(at).Likely, ridden(at), 1e-6)
		got := c.After(from, c.RiddenTo(at).Likely-c.RiddenTo(from).Likely)
		near(t, "ridden to where it leads", c.RiddenTo(got).Likely, c.RiddenTo(at).Likely, 1e-6)
		// Behind a place there may be line that is not ridden: a gap that is skipped.
		if got < from || got > at+1e-6 && ridden(got) > ridden(at)+1e-6 {
			t.Errorf("from %v on to %v: %v", from, at, got)
		}
	})
}

// Beyond the end of the line is its end; nothing ridden, or less, stays where it is.
func TestAfterTheEnds(t *testing.T) {
	c := fuel.NewCourse([]route.Run{level(0, 10, route.Paved)}, checkBike(), 1)
	near(t, "beyond the end", c.After(4000, 90000), 10000, exactly)
	near(t, "backwards", c.After(4000, -1), 4000, exactly)
	near(t, "nothing", c.After(0, 0), 0, exactly)
}
