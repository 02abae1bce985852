package byroad

import (
	"lastpump/fuel"
	"lastpump/fuel/stop"
	"lastpump/route"
)

// farAlong is how far along the line from where it comes closest to a stop the road to it may
// leave: our estimate. Farther off it is another ride.
const farAlong route.Metres = 30_000

// Detour gives the way to a stop off the line at one of its passings: of those that leave the
// line nearer to this than to another the one of least kilometres × weight of their ground. One
// that may be shut, or is of ground that nobody knows, is given where no other leads there, and only if it is longer than the guess
// for the detour: it may make no plan better. It is not ok where no way is known.
func (w *Ways) Detour(to int, passings []route.Passage, k int, guess route.Metres) (way int, ok bool) {
	if w == nil || passings[k].Off <= stop.OnLine {
		return 0, false
	}
	best, least, shut := -1, 0.0, false
	for _, i := range w.From(-1) {
		v := &w.All[i]
		if v.ToStop != to || nearest(passings, v.Along) != k {
			continue
		}
		maybe := v.Doubtful()
		if maybe && v.Length() <= guess {
			continue
		}
		if c := cost(&v.Road); best < 0 || shut && !maybe || shut == maybe && c < least {
			best, least, shut = i, c, maybe
		}
	}
	return best, best >= 0
}

// nearest gives the passing that a place along the line is the least far from; -1 where all are
// too far.
func nearest(passings []route.Passage, along route.Metres) int {
	best, least := -1, farAlong
	for k, p := range passings {
		if d := max(p.At-along, along-p.At); d <= least {
			best, least = k, d
		}
	}
	return best
}

// cost gives kilometres × weight of their ground.
func cost(r *fuel.Road) (sum float64) {
	for _, g := range r.Ground {
		sum += float64(g.Length) * fuel.GeneralWeight(g.Ground).Likely
	}
	return sum
}
