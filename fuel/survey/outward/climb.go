package outward

import (
	"math"

	"lastpump/route"
)

// HeightsApart is how far apart the places of a way are at most of which a height is to be
// known: about what a relief of 1″ or 3″ tells apart.
const HeightsApart route.Metres = 50

// Profile gives places along a way for heights to be put to, see [Way.ClimbBy].
func (w *Way) Profile() (out []route.Point) {
	for i, p := range w.Shape {
		if i > 0 {
			last := w.Shape[i-1]
			parts := math.Ceil(float64(route.Distance(last, p) / HeightsApart))
			for k := 1.0; k < parts; k++ {
				out = append(out, route.Point{Point: route.Between(last, p, k/parts)})
			}
		}
		out = append(out, route.Point{Point: p})
	}
	return out
}

// ClimbBy sets climb and descent of a way by its profile with heights, followed as those of a line
// are. They stay not known where heights are missing for too long.
func (w *Way) ClimbBy(profile []route.Point) {
	line, err := route.NewLine([]route.Track{{Segments: [][]route.Point{profile}}},
		route.LineOptions{Stretch: 1, Gaps: route.GapsRide})
	if err != nil { // it has no length
		return
	}
	var up, down route.Metres
	for _, run := range line.Runs(route.Grounds{}) {
		if run.NoHeights {
			return
		}
		up, down = up+run.Up, down+run.Down
	}
	w.Climb, w.Climbed, w.Descent, w.Descended = up, true, down, true
}
