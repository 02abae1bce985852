// Package climb follows the heights along a line from turning point to turning point.
package climb

import (
	"slices"
	"sort"

	"lastpump/route/internal/earth"
)

// turningHeight is how far apart the heights of two turning points lie at least.
// Smaller ups and downs are noise of the recorder or of no account: our
// estimate.
const turningHeight = 10 // metres

// Bridged is how long a hole in the heights may be to be bridged; beyond it the climb is
// not known there.
const Bridged earth.Metres = 1000

// A Height is the elevation of a point of the line.
type Height struct {
	Point int
	Ele   float64 // metres
}

// A Climb is the heights of a line between its turning points, straight in
// distance between them, so that the climb of a leg is a difference and riding
// backwards swaps climb and descent.
type Climb struct {
	Chains  [][]Turning  // in order along the line, apart from each other
	Unknown []earth.Span // where the climb is not known
	Drifts  []Drift      // changes of height at one place, in order
}

// A Drift is a change of height between two turning points at one place.
type Drift struct{ At, Rise earth.Metres }

// A Turning is a point where the line stops climbing or descending.
type Turning struct {
	At  earth.Metres
	Ele float64
}

// New follows the heights along the line. The chain breaks where heights are
// missing over more than a kilometre, and at gaps that are not ridden: a ferry
// does not climb. skipped are the points behind such gaps.
func New(hs []Height, at []earth.Metres, skipped []int) Climb {
	return Over(turningHeight, hs, at, skipped)
}

// Over is New for turning points so many metres apart.
func Over(least float64, hs []Height, at []earth.Metres, skipped []int) Climb {
	var c Climb
	from := 0
	for _, to := range append(slices.Clone(skipped), len(at)) {
		n := sort.Search(len(hs), func(i int) bool { return hs[i].Point >= to })
		c.follow(least, hs[:n], at, from, to)
		hs, from = hs[n:], to
	}
	return c
}

// follow follows the heights over the points [from, to).
func (c *Climb) follow(least float64, hs []Height, at []earth.Metres, from, to int) {
	chain := turner{least: least}
	last := from - 1 // point with a height, or the one before the first
	for _, h := range hs {
		start := max(last, from)
		if h.Point > last+1 && at[h.Point]-at[start] > Bridged {
			c.Unknown = append(c.Unknown, earth.Span{From: at[start], To: at[h.Point]})
			c.add(chain.end())
			chain = turner{least: least}
		}
		chain.meet(Turning{at[h.Point], h.Ele})
		last = h.Point
	}
	c.add(chain.end())
	if start := max(last, from); last < to-1 && at[to-1]-at[start] > Bridged {
		c.Unknown = append(c.Unknown, earth.Span{From: at[start], To: at[to-1]})
	}
}

// add keeps the turning points of a chain.
func (c *Climb) add(t []Turning) {
	if len(t) < 2 {
		return
	}
	for i := 1; i < len(t); i++ {
		if t[i].At == t[i-1].At && t[i].Ele != t[i-1].Ele {
			c.Drifts = append(c.Drifts, Drift{t[i].At, earth.Metres(t[i].Ele - t[i-1].Ele)})
		}
	}
	if t[0].At < t[len(t)-1].At {
		c.Chains = append(c.Chains, t)
	}
}

// A crest is the highest or lowest ground since the last turning point: from
// the first to the last time it was met, so that it looks the same from both
// directions.
type crest struct{ first, last Turning }

func (c *crest) meet(t Turning, higher bool) {
	switch {
	case t.Ele == c.first.Ele:
		c.last = t
	case t.Ele > c.first.Ele == higher:
		*c = crest{t, t}
	}
}

func (c crest) appendTo(out []Turning) []Turning {
	if out = append(out, c.first); c.last.At > c.first.At {
		out = append(out, c.last)
	}
	return out
}

// A turner meets heights one by one and keeps the highest and lowest points at
// least so many metres apart, in turn. Before the first and after the last the
// line counts as level.
type turner struct {
	least         float64
	top, bottom   crest
	begun         bool
	known, upward bool // whether a turning point is known, and if so whether the way leads up from it
	points        []Turning
}

func (c *turner) meet(t Turning) {
	if !c.begun {
		c.begun, c.top, c.bottom = true, crest{t, t}, crest{t, t}
		return
	}
	if !c.known || c.upward {
		c.top.meet(t, true)
	}
	if !c.known || !c.upward {
		c.bottom.meet(t, false)
	}
	switch {
	case (!c.known || c.upward) && c.top.first.Ele-t.Ele >= c.least:
		c.points = c.top.appendTo(c.points)
		c.upward, c.known, c.bottom = false, true, crest{t, t}
	case (!c.known || !c.upward) && t.Ele-c.bottom.first.Ele >= c.least:
		c.points = c.bottom.appendTo(c.points)
		c.upward, c.known, c.top = true, true, crest{t, t}
	}
}

// end gives the turning points, the last crest among them; none where the ground
// is level.
func (c *turner) end() []Turning {
	switch {
	case !c.known:
		return nil
	case c.upward:
		return c.top.appendTo(c.points)
	}
	return c.bottom.appendTo(c.points)
}
