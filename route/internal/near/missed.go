package near

import (
	"math"
	"sort"

	"github.com/paulmach/orb"

	"lastpump/route/internal/earth"
)

// Missed gives where the straights over the gaps come closest to a place; ok is false where
// there are none, or only beyond the horizon.
func (x *Index) Missed(p orb.Point) (best Passage, ok bool) {
	eye := newEye(p)
	nearest := math.Inf(1)
	for _, gap := range x.gaps {
		first := sort.Search(len(x.at), func(i int) bool { return x.at[i] > gap.From }) - 1
		for i := max(first, 0); i+1 < len(x.at) && x.at[i] < gap.To; i++ {
			a, b := eye.see(x.pts[i]), eye.see(x.pts[i+1])
			if a.behind || b.behind {
				continue
			}
			t := closest(a, b)
			if d := math.Hypot(a.x+t*(b.x-a.x), a.y+t*(b.y-a.y)); d < nearest {
				nearest, ok = d, true
				at := earth.Span{From: x.at[i], To: x.at[i+1]}
				best = Passage{At: at.Part(t, t).From, Off: earth.Metres(math.Atan(d)) * earth.Radius}
			}
		}
	}
	return best, ok
}
