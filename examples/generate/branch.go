package main

import (
	"cmp"
	"math"
	"slices"
)

// A branch is a road that leaves the one that is ridden, and what is at its end: so many
// metres east and north of where it begins.
type branch struct {
	at          place
	east, north float64
	tags, end   string // end is "" for one that ends where the one before does
}

// branch draws a branch from the nearest node of the road, winding a little. One that
// ends where another does ends in its last node.
func (s *sheet) branch(b branch) {
	const step, sway = 500.0, 900.0
	from := s.spotAt(b.at)
	start := s.land.geo(from)
	root := slices.MinFunc(s.drawn, func(a, c numbered) int {
		return cmp.Compare(haversine(a.Point, start), haversine(c.Point, start))
	})
	if b.end == "" {
		b.east, b.north = s.endSpot.x-from.x, s.endSpot.y-from.y
	}
	length := math.Hypot(b.east, b.north)
	steps := int(length / step)
	refs := []int{root.node}
	for k := 1; k <= steps; k++ {
		if b.end == "" && k == steps {
			break
		}
		share := float64(k) / float64(steps)
		off := sway * math.Sin(7*math.Pi*share) * math.Sin(math.Pi*share)
		at := spot{from.x + b.east*share - b.north/length*off, from.y + b.north*share + b.east/length*off}
		refs = append(refs, s.put(s.land.kept(at), ""))
	}
	if b.end == "" {
		s.addWay(append(refs, s.lastEnd), b.tags)
		return
	}
	s.addWay(refs, b.tags)
	s.lastEnd, s.endSpot = refs[len(refs)-1], spot{from.x + b.east, from.y + b.north}
	s.point(spot{from.x + b.east + 30, from.y + b.north + 20}, b.end)
}
