package land

import (
	"math"

	"lastpump/route"
	"lastpump/route/flat"

	"github.com/paulmach/orb"
	"github.com/paulmach/orb/simplify"
)

// Joined joins lines that end where one other begins or ends into longer ones, so that
// fewer points have to be kept. Where three meet all three end.
func Joined(lines []orb.LineString) (out []orb.LineString) {
	ends := map[orb.Point][]int{}
	for i, l := range lines {
		ends[l[0]] = append(ends[l[0]], i)
		ends[l[len(l)-1]] = append(ends[l[len(l)-1]], i)
	}
	used := make([]bool, len(lines))
	next := func(at orb.Point) int {
		if len(ends[at]) == 2 {
			for _, i := range ends[at] {
				if !used[i] {
					return i
				}
			}
		}
		return -1
	}
	for i := range lines {
		if used[i] {
			continue
		}
		used[i] = true
		line := lines[i].Clone()
		for range 2 { // on from its end, then from its beginning
			for k := next(line[len(line)-1]); k >= 0; k = next(line[len(line)-1]) {
				used[k] = true
				more := lines[k].Clone()
				if more[0] != line[len(line)-1] {
					more.Reverse()
				}
				line = append(line, more[1:]...)
			}
			line.Reverse()
		}
		out = append(out, line)
	}
	return out
}

// Thinned gives a line of degrees with as few of its points as come within a tolerance of
// all of it. Near the poles and over long lines it keeps more than it has to, never less: lengths
// from west to east are taken where they are greatest.
func Thinned(line orb.LineString, tolerance route.Metres) orb.LineString {
	if len(line) < 3 || tolerance <= 0 {
		return line.Clone()
	}
	plane := planeOf(line)
	on := orb.LineString(plane.Ring(line))
	kept := simplify.DouglasPeucker(float64(tolerance)).LineString(on)
	out := make(orb.LineString, 0, len(kept))
	k := 0
	for i, p := range plane.Ring(line) {
		if k < len(kept) && p == kept[k] {
			out = append(out, line[i])
			k++
		}
	}
	return out
}

// planeOf gives the plane on which lengths of a line are never too short.
func planeOf(line orb.LineString) flat.Plane {
	b := line.Bound()
	lat := 0.0
	switch {
	case b.Min[1] > 0:
		lat = b.Min[1]
	case b.Max[1] < 0:
		lat = b.Max[1]
	}
	return flat.At(orb.Point{line[0][0], lat})
}

// Area gives that of a ring of degrees in square metres, above 0 whichever way round it is. It is
// right within some thousandths for rings of up to 100 km.
func Area(ring orb.Ring) float64 {
	if len(ring) == 0 {
		return 0
	}
	plane := flat.At(ring.Bound().Center())
	twice := 0.0
	on := plane.Ring(ring)
	for i := 1; i < len(on); i++ {
		twice += on[i-1][0]*on[i][1] - on[i][0]*on[i-1][1]
	}
	return math.Abs(twice) / 2
}

// Cut parts a line where it goes across 180°.
func Cut(line orb.LineString) (out []orb.LineString) {
	from := 0
	var before []orb.Point
	for i := 1; i < len(line); i++ {
		a, b := line[i-1], line[i]
		if math.Abs(a[0]-b[0]) <= 180 {
			continue
		}
		side := math.Copysign(180, a[0])
		rest := b[0] + 2*side // of b, counted on from a
		lat := a[1]
		if rest != a[0] {
			lat += (b[1] - a[1]) * (side - a[0]) / (rest - a[0])
		}
		out = appendLine(out, append(append(orb.LineString(before), line[from:i]...), orb.Point{side, lat}))
		before, from = []orb.Point{{-side, lat}}, i
	}
	if len(before) == 0 {
		return appendLine(out, line)
	}
	return appendLine(out, append(orb.LineString(before), line[from:]...))
}

// appendLine adds a line if it is one.
func appendLine(out []orb.LineString, line orb.LineString) []orb.LineString {
	if len(line) == 2 && line[0] == line[1] || len(line) < 2 {
		return out
	}
	return append(out, line)
}
