// Package zone tells in which time zone each kilometre of a line lies: [Along] cuts a line
// into spans of one zone, [Beside] gives the zones that a place near a border may keep.
//
// The idea that surprises: where a zone lies is asked from outside. The boundaries of the
// world are megabytes that a page cannot carry; a page gets the spans of its one line.
//
// # Limits
//
// A zone that a line is in for less than 500 m may be passed over, and so may one beside a
// place that reaches over less than 1.3 km of its surroundings. Where a border lies is
// known to some hundred metres.
package zone

import (
	"math"
	"slices"
	"time"

	"lastpump/route"

	"github.com/paulmach/orb"
)

// A Lookup gives the zone of a place; nil where it is not known, over sea or without law.
type Lookup func(orb.Point) *time.Location

// A Span is a stretch of line in one zone.
type Span struct {
	From, To route.Metres   // along the line
	Zone     *time.Location // nil where it is not known
}

// Spans are those of a line. They follow each other without holes, and two that follow each
// other differ.
type Spans []Span

// How far apart a line is looked up, and how exactly the place of a change is given.
const (
	every route.Metres = 500
	exact route.Metres = 10
)

// Along cuts a line into spans.
func Along(l *route.Line, of Lookup) Spans {
	at := func(m route.Metres) *time.Location { return of(l.At(m)) }
	end := l.Length()
	all := Spans{{Zone: at(0)}}
	for from := route.Metres(0); from < end; from += every {
		to := min(from+every, end)
		last := &all[len(all)-1]
		if next := at(to); !same(last.Zone, next) {
			change := border(from, to, last.Zone, at)
			last.To = change
			all = append(all, Span{From: change, Zone: next})
		}
	}
	all[len(all)-1].To = end
	return all
}

// border gives where a zone is left between two places.
func border(from, to route.Metres, left *time.Location, at func(route.Metres) *time.Location) route.Metres {
	for to-from > exact {
		if middle := (from + to) / 2; same(at(middle), left) {
			from = middle
		} else {
			to = middle
		}
	}
	return to
}

// same tells whether two zones are one by their names, or neither is known.
func same(a, b *time.Location) bool {
	return (a == nil) == (b == nil) && (a == nil || a.String() == b.String())
}

// At gives the zone of a place along the line; nil where it is not known.
func (s Spans) At(m route.Metres) *time.Location {
	for _, span := range s {
		if m < span.To {
			return span.Zone
		}
	}
	if len(s) == 0 {
		return nil
	}
	return s[len(s)-1].Zone
}

// Margin is how near to a border the clocks of both sides may be kept. Our estimate.
const Margin route.Metres = 5000

// Beside gives the zones within [Margin] of a place, its own first; none that is not known.
func Beside(p orb.Point, of Lookup) []*time.Location {
	const bearings, rings = 24, 4
	all := []*time.Location{of(p)}
	for ring := 1; ring <= rings; ring++ {
		for i := range bearings {
			angle := 2 * math.Pi * float64(i) / bearings
			z := of(moved(p, Margin*route.Metres(ring)/rings, angle))
			if !slices.ContainsFunc(all, func(o *time.Location) bool { return same(o, z) }) {
				all = append(all, z)
			}
		}
	}
	return slices.DeleteFunc(all, func(z *time.Location) bool { return z == nil })
}

// moved gives the place at a distance and a bearing, in radians from north, on the sphere.
func moved(p orb.Point, d route.Metres, bearing float64) orb.Point {
	const rad = math.Pi / 180
	a := float64(d / route.EarthRadius)
	lat := p.Lat() * rad
	north := math.Asin(math.Sin(lat)*math.Cos(a) + math.Cos(lat)*math.Sin(a)*math.Cos(bearing))
	east := math.Atan2(math.Sin(bearing)*math.Sin(a)*math.Cos(lat), math.Cos(a)-math.Sin(lat)*math.Sin(north))
	return orb.Point{math.Mod(p.Lon()+east/rad+540, 360) - 180, north / rad}
}
