// Package atlas parts a line into the sheets of a map: each shows a stretch of it, all at one
// round scale, north up.
//
// Start with [New]. A [Sheet] gives where a place of the earth lies on its paper.
//
// The idea that surprises: a sheet is cut to the line, not to the country. Its middle is the middle
// of its stretch, so that there is as much to see on either side as there is room for, and where the ride
// turns round in a small valley one sheet has all of it.
//
// # Limits
//
// A sheet is flat and true to scale along its middle latitude. To its upper and lower edges lengths
// from west to east go wrong by the tangent of the latitude times the way there in radians: at 1:500 000,
// 60 km from the middle, by 0.9 % at 45° and 1.6 % at 60°; at 1:1 000 000 by twice that. North to
// south nothing goes wrong. The line may go across 180°; near the poles nothing is drawn right.
package atlas

import (
	"math"

	"lastpump/route"
	"lastpump/route/flat"

	"github.com/paulmach/orb"
)

// Scales are those that there are, the largest map first: 1 to so many.
var Scales = []float64{50_000, 100_000, 200_000, 250_000, 500_000, 1_000_000}

// A Paper is what of a page is drawn on, in millimetres.
type Paper struct {
	Wide, High float64
	Edge       float64 // that the stretch of a sheet stays away from the edges of it
	Most       int     // sheets that there should be at the most
}

// An Atlas is a line on sheets.
type Atlas struct {
	Scale  float64 // 1 to so many
	Sheets []Sheet // in the order of the ride, one at the least
}

// A Sheet is one page.
type Sheet struct {
	From, To route.Metres // along the line; a sheet begins a little before the one before it ends
	Middle   orb.Point    // of the page
	Scale    float64
	Paper    Paper
	plane    flat.Plane
}

// On gives where a place lies: millimetres from the left and from the upper edge of the paper.
func (s Sheet) On(p orb.Point) orb.Point {
	east, north := s.plane.See(p)
	perMetre := 1000 / s.Scale
	return orb.Point{s.Paper.Wide/2 + east*perMetre, s.Paper.High/2 - north*perMetre}
}

// Millimetres gives how long a distance is on the paper.
func (s Sheet) Millimetres(d route.Metres) float64 { return float64(d) * 1000 / s.Scale }

// apart is how far apart places along the line are looked at; between them it strays no farther
// than half of that, which is less than any edge.
const apart route.Metres = 100

// New parts a line from a place on into sheets: at the largest scale of which there are no more
// sheets than there should be, or at the smallest.
func New(line *route.Line, from route.Metres, on Paper) Atlas {
	samples := sampled(line, from)
	var a Atlas
	for _, scale := range Scales {
		a = Atlas{scale, parted(samples, on, scale)}
		if len(a.Sheets) <= on.Most {
			break
		}
	}
	return a
}

// A sample is a place along the line, its longitude counted on over 180°.
type sample struct {
	at       route.Metres
	lon, lat float64
}

// sampled gives places along the line, none farther from the next than it has to be.
func sampled(line *route.Line, from route.Metres) (out []sample) {
	add := func(at route.Metres, p orb.Point) {
		s := sample{at, p[0], p[1]}
		if n := len(out); n > 0 {
			before := out[n-1].lon
			s.lon = before + math.Remainder(p[0]-before, 360)
		}
		out = append(out, s)
	}
	add(from, line.At(from))
	for v := range line.Vertices() {
		last := out[len(out)-1].at
		if v.At <= from || v.At-last < apart && v.At < line.Length() {
			continue
		}
		for at := last + 10*apart; at < v.At; at += 10 * apart {
			add(at, line.At(at))
		}
		add(v.At, v.Point)
	}
	return out
}

// A span is what some samples cover, in degrees.
type span struct{ west, south, east, north float64 }

func (b span) with(s sample) span {
	return span{min(b.west, s.lon), min(b.south, s.lat), max(b.east, s.lon), max(b.north, s.lat)}
}

// fits tells whether a span fits on paper at a scale.
func (b span) fits(on Paper, scale float64) bool {
	metres := scale / 1000
	wide := (b.east - b.west) * flat.MetresPerDegree * math.Cos((b.south+b.north)/2*math.Pi/180)
	high := (b.north - b.south) * flat.MetresPerDegree
	return wide <= (on.Wide-2*on.Edge)*metres && high <= (on.High-2*on.Edge)*metres
}

// overlap is how much of the shorter side of the paper a sheet begins before the end of the one
// before it.
const overlap = 0.04

// parted cuts the line wherever its next sample does not fit any more.
func parted(all []sample, on Paper, scale float64) (out []Sheet) {
	back := route.Metres(overlap * min(on.Wide, on.High) * scale / 1000)
	for from := 0; ; {
		b, to := span{all[from].lon, all[from].lat, all[from].lon, all[from].lat}, from
		for to+1 < len(all) && b.with(all[to+1]).fits(on, scale) {
			to++
			b = b.with(all[to])
		}
		middle := orb.Point{math.Remainder((b.west+b.east)/2, 360), (b.south + b.north) / 2}
		out = append(out, Sheet{all[from].at, all[to].at, middle, scale, on, flat.At(middle)})
		if to == len(all)-1 {
			return out
		}
		next := to
		for next-1 > from && all[to].at-all[next-1].at <= back {
			next--
		}
		from = max(next, from+1)
	}
}
