package route

// turningHeight is how far apart the heights of two turning points lie at least.
// Smaller ups and downs are noise of the recorder or of no account: our
// estimate.
const turningHeight = 10 // metres

// A hole in the elevations up to this long is bridged; beyond it the climb is
// not known there.
const bridgeHeights Metres = 1000

// A climb is the heights of a line between its turning points, straight in
// distance between them, so that the climb of a leg is a difference and riding
// backwards swaps climb and descent.
type climb struct {
	chains  [][]turning // in order along the line, apart from each other
	unknown []span      // where the climb is not known
}

// A turning is a point where the line stops climbing or descending.
type turning struct {
	at  Metres
	ele float64
}

// A span is a stretch of line.
type span struct{ from, to Metres }

// newClimb follows the heights along the line. It breaks the chain where heights
// are missing over more than a kilometre, and at gaps that are not ridden: a
// ferry does not climb. skipped are the points behind such gaps.
func newClimb(hs []height, at []Metres, skipped []int) climb {
	var c climb
	var chain []turning
	next := 0 // first point whose height has not been looked at
	for _, h := range hs {
		if h.point > next && at[h.point]-at[max(next-1, 0)] > bridgeHeights {
			c.unknown = append(c.unknown, span{at[max(next-1, 0)], at[h.point]})
			c.add(chain)
			chain = nil
		}
		for len(skipped) > 0 && skipped[0] <= h.point {
			skipped = skipped[1:]
			c.add(chain)
			chain = nil
		}
		chain = append(chain, turning{at[h.point], h.ele})
		next = h.point + 1
	}
	c.add(chain)
	if end := len(at); next < end && at[end-1]-at[max(next-1, 0)] > bridgeHeights {
		c.unknown = append(c.unknown, span{at[max(next-1, 0)], at[end-1]})
	}
	return c
}

func (c *climb) add(chain []turning) {
	if t := turningPoints(chain); len(t) > 1 {
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

// turningPoints keeps the highest and lowest points at least [turningHeight]
// apart, in turn. Before the first and after the last the line counts as level.
func turningPoints(h []turning) []turning {
	if len(h) == 0 {
		return nil
	}
	var out []turning
	top, bottom := crest{h[0], h[0]}, crest{h[0], h[0]}
	climbing, known := false, false
	for _, t := range h[1:] {
		if !known || climbing {
			top.meet(t, true)
		}
		if !known || !climbing {
			bottom.meet(t, false)
		}
		switch {
		case (!known || climbing) && top.first.ele-t.ele >= turningHeight:
			out = top.appendTo(out)
			climbing, known, bottom = false, true, crest{t, t}
		case (!known || !climbing) && t.ele-bottom.first.ele >= turningHeight:
			out = bottom.appendTo(out)
			climbing, known, top = true, true, crest{t, t}
		}
	}
	switch {
	case !known:
		return nil
	case climbing:
		return top.appendTo(out)
	}
	return bottom.appendTo(out)
}
