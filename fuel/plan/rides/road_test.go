// Package rides_test tries to break a plan by riding it: thousands of riders get
// what a plan prints, ride the line point by point with thirst of their own, take
// wrong turns, find a pump dry, turn back, and either get home or run dry.
//
// Nothing of the planner is in here but the types that a ride is given in.
// Distances, climb, ground and litres are worked out once more, from the words of
// the model; the plan itself is read as a rider reads it on paper, see [sheet].
package rides_test

import (
	"math"
	"slices"
	"sort"

	"lastpump/route"

	"github.com/paulmach/orb"
)

// A piece is a bit of road over which nothing changes, in metres: from and to are
// along the line in the file, ridden is what the wheels roll.
type piece struct {
	from, to float64
	ridden   band // longer than the line by its stretch, which is known within an error
	up, down float64
	unknown  bool // the climb is not known here
	ground   int  // into grounds
	day      int
}

// A road is a line as it is ridden, without holes.
type road struct {
	course
	pieces []piece
	days   int
}

func (r *road) length() float64 { return r.pieces[len(r.pieces)-1].to }

// on gives the piece in which a place along the line lies; of two that meet there
// the later.
func (r *road) on(m float64) int {
	i, found := slices.BinarySearchFunc(r.pieces, m, func(p piece, m float64) int {
		switch {
		case p.to <= m:
			return -1
		case p.from > m:
			return 1
		}
		return 0
	})
	if !found {
		i = min(i, len(r.pieces)-1)
	}
	return i
}

// A step is the way from one point of a file to the next.
type step struct {
	from, to float64
	gap      bool
	day      int
}

// A course is the points of a file, one after the other.
type course struct {
	points []route.Point
	at     []float64 // metres along the line, of each point
	steps  []step    // one fewer than points
}

// point gives the place on the ground at so many metres along the line.
func (c course) point(at float64) orb.Point {
	i := min(max(1, sort.SearchFloat64s(c.at, at)), len(c.at)-1)
	a, b := c.points[i-1], c.points[i]
	share := (at - c.at[i-1]) / (c.at[i] - c.at[i-1])
	return orb.Point{a.Lon() + share*(b.Lon()-a.Lon()), a.Lat() + share*(b.Lat()-a.Lat())}
}

// halfDetour is the way from a place along the line to a pump: none up to 300 m off,
// beyond that 1.3 times the straight.
func (c course) halfDetour(at float64, pump orb.Point) float64 {
	if off := haversine(c.point(at), pump); off > 300 {
		return 1.3 * off
	}
	return 0
}

// haversine is the great circle between two places on the mean sphere, in metres.
func haversine(a, b orb.Point) float64 {
	const radius, rad = 6371008.8, math.Pi / 180
	s := math.Pow(math.Sin((b[1]-a[1])*rad/2), 2)
	s += math.Cos(a[1]*rad) * math.Cos(b[1]*rad) * math.Pow(math.Sin((b[0]-a[0])*rad/2), 2)
	return 2 * radius * math.Asin(math.Sqrt(s))
}

// follow lays the points of tracks one behind the other. Between two segments lies
// a gap where they are over 50 m and over twice the median step apart. Points that
// repeat the one before are left out.
func follow(tracks []route.Track) course {
	var c course
	var within []float64 // steps inside the segments
	var between []int    // steps from one segment to the next
	for day, track := range tracks {
		for _, segment := range track.Segments {
			for i, p := range segment {
				n := len(c.points)
				if n == 0 {
					c.points, c.at = append(c.points, p), append(c.at, 0)
					continue
				}
				d := haversine(c.points[n-1].Point, p.Point)
				if i > 0 {
					within = append(within, d)
				} else {
					between = append(between, len(c.steps))
				}
				c.steps = append(c.steps, step{from: c.at[n-1], to: c.at[n-1] + d, day: day})
				c.points, c.at = append(c.points, p), append(c.at, c.at[n-1]+d)
			}
		}
	}
	slices.Sort(within)
	for _, i := range between {
		s := &c.steps[i]
		s.gap = s.to-s.from > max(50, 2*within[len(within)/2])
	}
	return c
}

// A stretching is how much longer the ride is than the line at a place of it.
type stretching func(at float64) band

// stretched is one stretch all along, that is given and known.
func stretched(by float64) stretching { return func(float64) band { return band{by, by, by} } }

// estimated is the stretch as a plan has estimated it, part by part, with its error.
func estimated(line *route.Line) stretching {
	runs := line.Runs(route.Grounds{})
	return func(at float64) band {
		i, _ := slices.BinarySearchFunc(runs, at, func(r route.Run, at float64) int {
			switch {
			case float64(r.To) <= at:
				return -1
			case float64(r.From) > at:
				return 1
			}
			return 0
		})
		r := runs[min(i, len(runs)-1)]
		length := float64(r.To - r.From)
		return band{float64(r.RiddenLow) / length, float64(r.Ridden) / length, float64(r.RiddenHigh) / length}
	}
}

// newRoad lays a road: the line of the file, longer by the stretch, a gap by 0.3 of
// its straight instead, with the ground of the sections and the climb.
func newRoad(tracks []route.Track, stretch stretching, g route.Grounds) *road {
	c := follow(tracks)
	hills := climbOf(c)
	r := &road{course: c, days: len(tracks)}
	for _, s := range c.steps {
		longer := stretch((s.from + s.to) / 2)
		if s.gap {
			longer = band{1.3, 1.3, 1.3}
		}
		for from := s.from; from < s.to; {
			ground, to := groundAt(g, from, s.to)
			p := piece{from: from, to: to, ridden: longer.times(to - from), ground: ground, day: s.day}
			if p.unknown = hills.unknown((from + to) / 2); !p.unknown {
				rise := hills.slope((from+to)/2) * (to - from)
				p.up, p.down = max(rise, 0), max(-rise, 0)
			}
			r.pieces = append(r.pieces, p)
			from = to
		}
	}
	return r
}

// groundAt gives what lies under a place of the line, and how far at most.
func groundAt(g route.Grounds, at, end float64) (ground int, to float64) {
	for _, s := range g.Sections {
		switch from, to := float64(s.From), float64(s.To); {
		case from <= at && at < to:
			return groundNumber(s.Ground), min(to, end)
		case at < from:
			return groundNumber(g.Default), min(from, end)
		}
	}
	return groundNumber(g.Default), end
}
