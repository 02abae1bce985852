package route

import (
	"slices"
	"sort"
)

// turningHeight is how far apart the heights of two turning points lie at least.
// Smaller ups and downs are noise of the recorder or of no account: our
// estimate.
const turningHeight = 10 // metres

// HeightsBridged is how long a hole in the elevations may be to be bridged; beyond
// it the climb is not known there.
const HeightsBridged Metres = 1000

// A climb is the heights of a line between its turning points, straight in
// distance between them, so that the climb of a leg is a difference and riding
// backwards swaps climb and descent.
type climb struct {
	chains  [][]turning // in order along the line, apart from each other
	unknown []span      // where the climb is not known
	drifts  []drift     // changes of height at one place, in order
}

// A drift is a change of height between two turning points at one place.
type drift struct{ at, rise Metres }

// run gives the drift as a run of no length beside another.
func (d drift) run(beside Run) Run {
	return Run{From: d.at, To: d.at, Ground: beside.Ground, Guessed: beside.Guessed, Up: max(d.rise, 0), Down: max(-d.rise, 0)}
}

// A turning is a point where the line stops climbing or descending.
type turning struct {
	at  Metres
	ele float64
}

// A span is a stretch of line.
type span struct{ from, to Metres }

// newClimb follows the heights along the line. The chain breaks where heights are
// missing over more than a kilometre, and at gaps that are not ridden: a ferry
// does not climb. skipped are the points behind such gaps.
func newClimb(hs []height, at []Metres, skipped []int) climb {
	return climbOver(turningHeight, hs, at, skipped)
}

// climbOver is newClimb for turning points so many metres apart.
func climbOver(least float64, hs []height, at []Metres, skipped []int) climb {
	var c climb
	from := 0
	for _, to := range append(slices.Clone(skipped), len(at)) {
		n := sort.Search(len(hs), func(i int) bool { return hs[i].point >= to })
		c.follow(least, hs[:n], at, from, to)
		hs, from = hs[n:], to
	}
	return c
}

// follow follows the heights over the points [from, to).
func (c *climb) follow(least float64, hs []height, at []Metres, from, to int) {
	chain := turner{least: least}
	last := from - 1 // point with a height, or the one before the first
	for _, h := range hs {
		start := max(last, from)
		if h.point > last+1 && at[h.point]-at[start] > HeightsBridged {
			c.unknown = append(c.unknown, span{at[start], at[h.point]})
			c.add(chain.end())
			chain = turner{least: least}
		}
		chain.meet(turning{at[h.point], h.ele})
		last = h.point
	}
	c.add(chain.end())
	if start := max(last, from); last < to-1 && at[to-1]-at[start] > HeightsBridged {
		c.unknown = append(c.unknown, span{at[start], at[to-1]})
	}
}

// add keeps the turning points of a chain.
func (c *climb) add(t []turning) {
	if len(t) < 2 {
		return
	}
	for i := 1; i < len(t); i++ {
		if t[i].at == t[i-1].at && t[i].ele != t[i-1].ele {
			c.drifts = append(c.drifts, drift{t[i].at, Metres(t[i].ele - t[i-1].ele)})
		}
	}
	if t[0].at < t[len(t)-1].at {
		c.chains = append(c.chains, t)
	}
}

// A crest is the highest or lowest ground since the last turning point: from
// the first to the last time it was met, so that it looks the same from both
// directions.
type crest struct{ first, last turning }

func (c *crest) meet(t turning, higher bool) {
	switch {
	case t.ele == c.first.ele:
		c.last = t
	case t.ele > c.first.ele == higher:
		*c = crest{t, t}
	}
}

func (c crest) appendTo(out []turning) []turning {
	if out = append(out, c.first); c.last.at > c.first.at {
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
	points        []turning
}

func (c *turner) meet(t turning) {
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
	case (!c.known || c.upward) && c.top.first.ele-t.ele >= c.least:
		c.points = c.top.appendTo(c.points)
		c.upward, c.known, c.bottom = false, true, crest{t, t}
	case (!c.known || !c.upward) && t.ele-c.bottom.first.ele >= c.least:
		c.points = c.bottom.appendTo(c.points)
		c.upward, c.known, c.top = true, true, crest{t, t}
	}
}

// end gives the turning points, the last crest among them; none where the ground
// is level.
func (c *turner) end() []turning {
	switch {
	case !c.known:
		return nil
	case c.upward:
		return c.top.appendTo(c.points)
	}
	return c.bottom.appendTo(c.points)
}
