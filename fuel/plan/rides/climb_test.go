package rides_test

import "sort"

// hills are the heights of a line between its turning points, and where they are
// not known.
type hills struct {
	chains [][]spot
	holes  [][2]float64 // metres along the line, in order
}

// A spot is a height at a place of the line, in metres both.
type spot struct{ at, high float64 }

// climbOf follows the heights of a course. Where they are missing over more than
// 1 km the climb is not known, and what follows begins anew.
func climbOf(c course) hills {
	var h hills
	var chain []spot
	last := 0 // the last point with a height, or the first of all
	for i, p := range c.points {
		if !p.HasEle {
			continue
		}
		if (i > last+1 || len(chain) == 0) && c.at[i]-c.at[last] > 1000 {
			h.holes = append(h.holes, [2]float64{c.at[last], c.at[i]})
			h.add(chain)
			chain = nil
		}
		chain, last = append(chain, spot{c.at[i], p.Ele}), i
	}
	if end := len(c.at) - 1; end > last && c.at[end]-c.at[last] > 1000 {
		h.holes = append(h.holes, [2]float64{c.at[last], c.at[end]})
	}
	h.add(chain)
	return h
}

func (h *hills) add(chain []spot) {
	if turning := turningPoints(chain, 10); len(turning) > 1 {
		h.chains = append(h.chains, turning)
	}
}

// A crest is the highest or the lowest of a hill: where it is reached and where it is
// left. Between the two the way is level.
type crest struct{ first, last spot }

// meet takes a height that is above the crest, or below where it is a hollow.
func (c *crest) meet(s spot, above float64) {
	switch {
	case (s.high-c.first.high)*above > 0:
		*c = crest{s, s}
	case s.high == c.first.high:
		c.last = s
	}
}

// turningPoints keeps of heights the highest and the lowest in turn, each at least
// so many metres above or below the one before.
func turningPoints(chain []spot, least float64) (kept []spot) {
	if len(chain) == 0 {
		return nil
	}
	top := crest{chain[0], chain[0]}
	bottom := top
	rising, falling := true, true // both until it is known
	for _, s := range chain[1:] {
		top.meet(s, 1)
		bottom.meet(s, -1)
		switch {
		case rising && top.first.high-s.high >= least: // over the top
			kept = append(kept, top.first, top.last)
			rising, falling, bottom = false, true, crest{s, s}
		case falling && s.high-bottom.first.high >= least:
			kept = append(kept, bottom.first, bottom.last)
			rising, falling, top = true, false, crest{s, s}
		}
	}
	switch {
	case rising && falling: // level ground
		return nil
	case rising:
		return append(kept, top.first, top.last)
	}
	return append(kept, bottom.first, bottom.last)
}

// slope gives the metres climbed a metre of line at a place, which lies between two
// points: the way is straight between turning points, and level before the first and
// behind the last of a chain.
func (h hills) slope(at float64) float64 {
	i := sort.Search(len(h.chains), func(i int) bool { return h.chains[i][0].at > at }) - 1
	if i < 0 {
		return 0
	}
	chain := h.chains[i]
	k := sort.Search(len(chain), func(k int) bool { return chain[k].at > at })
	if k == len(chain) {
		return 0
	}
	a, b := chain[k-1], chain[k]
	return (b.high - a.high) / (b.at - a.at)
}

// unknown tells whether the climb is not known at a place.
func (h hills) unknown(at float64) bool {
	i := sort.Search(len(h.holes), func(i int) bool { return h.holes[i][1] > at })
	return i < len(h.holes) && h.holes[i][0] <= at
}
