package picture

import (
	"math"

	"lastpump/fuel/trip"
	"lastpump/route"

	"github.com/paulmach/orb"
	"github.com/paulmach/orb/simplify"
)

// A Sketch is the line as a small map: metres east and north of the middle of the
// ride, north up. It is true to scale along the middle latitude; how far that goes
// wrong over a loop of some hundred kilometres is less than what a sketch shows.
type Sketch struct {
	Strokes []Stroke
	Bound   orb.Bound     // of the strokes, in metres east and north
	Middle  orb.Point     // in degrees
	Tenths  [][]orb.Point // of each leg, eleven places from its beginning to its end, in metres east and north
}

// A Stroke is a bit of the line, on one leg.
type Stroke struct {
	Leg    int
	Points orb.LineString // in metres east and north
	Gap    bool           // nothing is known of the way between its two ends
}

// Place gives a place in metres east and north of the middle.
func (s Sketch) Place(p orb.Point) orb.Point {
	const metresPerDegree = float64(route.EarthRadius) * math.Pi / 180
	east := turned(p.Lon() - s.Middle.Lon())
	return orb.Point{
		east * metresPerDegree * math.Cos(s.Middle.Lat()*math.Pi/180),
		(p.Lat() - s.Middle.Lat()) * metresPerDegree,
	}
}

// turned gives a difference of two longitudes the short way round, in degrees.
func turned(east float64) float64 {
	switch {
	case east < -180:
		return east + 360
	case east >= 180:
		return east - 360
	}
	return east
}

// SketchOf draws the legs of a ride, so many times finer than the longer side of the map;
// points that it does not show are left out.
func SketchOf(d *trip.Draft, fine int) Sketch {
	var s Sketch
	s.Strokes = strokes(d, fine)
	s.Middle = middle(s.Strokes)
	s.Bound = orb.Bound{Min: orb.Point{math.Inf(1), math.Inf(1)}, Max: orb.Point{math.Inf(-1), math.Inf(-1)}}
	for _, k := range s.Strokes {
		for i, p := range k.Points {
			k.Points[i] = s.Place(p)
		}
		s.Bound = s.Bound.Union(k.Points.Bound())
	}
	for _, l := range d.Legs {
		var tenths []orb.Point
		for k := range 11 {
			tenths = append(tenths, s.Place(d.Trip.Line.At(l.FromAt+route.Metres(float64(k)/10)*(l.ToAt-l.FromAt))))
		}
		s.Tenths = append(s.Tenths, tenths)
	}
	tolerance := max(s.Bound.Max[0]-s.Bound.Min[0], s.Bound.Max[1]-s.Bound.Min[1]) / float64(fine)
	for i := range s.Strokes {
		s.Strokes[i].Points = simplify.DouglasPeucker(tolerance).LineString(s.Strokes[i].Points)
	}
	return s
}

// middle gives the middle between the southernmost and northernmost points and, counted
// from the first, the westernmost and easternmost. The points are in degrees.
func middle(strokes []Stroke) orb.Point {
	first := strokes[0].Points[0]
	bound := orb.Bound{Min: orb.Point{0, first.Lat()}, Max: orb.Point{0, first.Lat()}}
	for _, k := range strokes {
		for _, p := range k.Points {
			bound = bound.Extend(orb.Point{turned(p.Lon() - first.Lon()), p.Lat()})
		}
	}
	c := bound.Center()
	return orb.Point{first.Lon() + c.Lon(), c.Lat()}
}

// strokes gives the legs with all points that lie far enough apart, in degrees.
func strokes(d *trip.Draft, fine int) []Stroke {
	var out []Stroke
	apart := d.Trip.Length / route.Metres(20*fine)
	begin := func(leg int, gap bool, at orb.Point) {
		out = append(out, Stroke{Leg: leg, Gap: gap, Points: orb.LineString{at}})
	}
	draw := func(at orb.Point) {
		n := len(out) - 1
		out[n].Points = append(out[n].Points, at)
	}
	legs, leg := d.Legs, 0
	begin(0, false, d.Trip.Line.At(legs[0].FromAt))
	last, drawn := route.Vertex{At: legs[0].FromAt, Point: d.Trip.Line.At(legs[0].FromAt)}, legs[0].FromAt
	for v := range d.Trip.Line.Vertices() {
		if v.At <= legs[0].FromAt {
			continue
		}
		if v.AfterGap != out[len(out)-1].Gap {
			draw(last.Point)
			begin(leg, v.AfterGap, last.Point)
		}
		for leg < len(legs)-1 && v.At > legs[leg].ToAt {
			place := d.Trip.Line.At(legs[leg].ToAt)
			draw(place)
			leg++
			begin(leg, v.AfterGap, place)
		}
		if v.At-drawn >= apart || v.AfterGap {
			draw(v.Point)
			drawn = v.At
		}
		last = v
	}
	draw(last.Point)
	return out
}
