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

// turningPoints keeps of heights the highest and the lowest in turn, each at least
// so many metres above or below the one before.
func turningPoints(chain []spot, least float64) []spot {
	if len(chain) == 0 {
		return nil
	}
	var kept []spot
	top, bottom := chain[0], chain[0]
	rising, falling := true, true // both until it is known
	for _, s := range chain[1:] {
		if s.high > top.high {
			top = s
		}
		if s.high < bottom.high {
			bottom = s
		}
		switch {
		case rising && top.high-s.high >= least: // over the top
			kept = append(kept, top)
			rising, falling, bottom = false, true, s
		case falling && s.high-bottom.high >= least:
			kept = append(kept, bottom)
			rising, falling, top = true, false, s
		}
	}
	switch {
	case rising && falling: // level ground
		return nil
	case rising:
		return append(kept, top)
	}
	return append(kept, bottom)
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
