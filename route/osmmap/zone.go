package osmmap

import (
	"math"

	"lastpump/route"

	"github.com/paulmach/orb"
)

const degree = math.Pi / 180

// metresPerDegree of latitude, and of longitude at the equator.
const metresPerDegree = float64(route.EarthRadius) * degree

// A zone is the ground within a distance of a line, held as cells of a grid: no
// place within the distance lies outside it, but some farther off lie inside. It is
// asked about every node of the extract, so it answers in a few nanoseconds.
type zone struct {
	columns int32   // of cells around the earth, a multiple of tileCells
	perDeg  float64 // cells per degree
	tiles   map[uint64]*tile
}

const tileCells = 16 // along each side

// A tile is a block of cells, a bit each.
type tile [tileCells]uint16

// newZone makes an empty zone; cells are 40,000 km ÷ columns high.
func newZone(columns int32) *zone {
	return &zone{columns: columns, perDeg: float64(columns) / 360, tiles: map[uint64]*tile{}}
}

func (z *zone) column(lon float64) int32 {
	c := int32(math.Floor((lon + 180) * z.perDeg))
	if c %= z.columns; c < 0 {
		c += z.columns
	}
	return c
}

func (z *zone) row(lat float64) int32 { return int32(math.Floor((lat + 90) * z.perDeg)) }

func tileKey(column, row int32) uint64 {
	return uint64(column/tileCells)<<32 | uint64(row/tileCells)
}

// has tells whether a place lies in the zone.
func (z *zone) has(lon, lat float64) bool {
	return z.hasCell(z.column(lon), z.row(lat))
}

func (z *zone) hasCell(c, r int32) bool {
	if r < 0 { // no latitude, or none at all
		return false
	}
	t := z.tiles[tileKey(c, r)]
	return t != nil && t[r%tileCells]&(1<<(c%tileCells)) != 0
}

// add adds the ground within a radius of a place, up to all the way around the
// earth near the poles.
func (z *zone) add(p orb.Point, radius route.Metres) {
	dLat := float64(radius) / metresPerDegree
	bottom, top := max(p[1]-dLat, -90), min(p[1]+dLat, 90)
	first, last := z.row(bottom), min(z.row(top), z.columns/2-1)
	for r := first; r <= last; r++ {
		// The row is as wide as where it lies nearest to the latitude of the place,
		// and in degrees of longitude as where it lies nearest to the pole.
		low, high := float64(r)/z.perDeg-90, float64(r+1)/z.perDeg-90
		away := max(low-p[1], p[1]-high, 0)
		half := math.Sqrt(max(0, dLat*dLat-away*away))
		z.addRow(r, p[0], half/max(math.Cos(max(math.Abs(low), math.Abs(high))*degree), 1e-9))
	}
}

func (z *zone) addRow(r int32, lon, half float64) {
	z.along(r, lon-min(half, 180), lon+min(half, 180), func(c int32) { z.set(c, r) })
}

// along calls f with the columns of a row from one longitude eastwards to another,
// each once. Either may lie beyond 180 degrees.
func (z *zone) along(r int32, west, east float64, f func(column int32)) {
	n := min(z.columns, int32(math.Floor((east+180)*z.perDeg)-math.Floor((west+180)*z.perDeg))+1)
	c := z.column(west)
	for range n {
		f(c)
		if c++; c == z.columns {
			c = 0
		}
	}
}

func (z *zone) set(c, r int32) {
	key := tileKey(c, r)
	t := z.tiles[key]
	if t == nil {
		t = new(tile)
		z.tiles[key] = t
	}
	t[r%tileCells] |= 1 << (c % tileCells)
}

// The two zones of a survey: pumps and places are looked for in the wide one, ways
// in the narrow one.
const (
	wideColumns   = 1 << 15 // cells of 1.2 km
	narrowColumns = 1 << 17 // cells of 0.3 km
)

// How far off the line a way may lie and still be held. Between two points of the
// line that lie far apart the ride strays from the straight: a way half as long
// again as the straight d stays within 0.56 d of it, and nobody looks for one that
// strays farther than 1.5 km.
const (
	leastStray route.Metres = 200
	mostStray  route.Metres = 1500
	strayShare              = 0.56
)

// zonesOf makes the zones of a line. Gaps have ends, and nothing between. Whatever the
// corridor, what the ways near the line are made of lies in the wide one.
func zonesOf(line *route.Line, corridor route.Metres) (wide, narrow *zone) {
	wide, narrow = newZone(wideColumns), newZone(narrowColumns)
	corridor = max(corridor, leastWide)
	fillAlong(wide, line, corridor/20, func(route.Metres) route.Metres { return corridor })
	fillAlong(narrow, line, closeBy, func(step route.Metres) route.Metres {
		return min(max(leastStray, strayShare*step), mostStray)
	})
	return wide, narrow
}

// leastWide is what the wide zone is at least: far from anywhere ways have nodes a
// kilometre or two apart.
const leastWide route.Metres = 5000

// closeBy is how far apart along the line points may lie that are added to the narrow
// zone for all between them.
const closeBy route.Metres = 100

// fillAlong adds to a zone what lies within a radius of a line, which may depend on the
// length of a step. Points are added every so far, with so much more of a radius.
func fillAlong(z *zone, line *route.Line, every route.Metres, radius func(step route.Metres) route.Metres) {
	var last route.Vertex
	first, done := true, route.Metres(0)
	for v := range line.Vertices() {
		switch {
		case first || v.AfterGap:
			if !first && done < last.At {
				z.add(last.Point, radius(0))
			}
			z.add(v.Point, radius(0))
			first, done = false, v.At
		case v.At-done >= every || v.At == line.Length():
			addStraight(z, last, v, every, every+radius(v.At-last.At))
			done = v.At
		}
		last = v
	}
}

// addStraight adds what lies within a radius of the way between two points.
func addStraight(z *zone, a, b route.Vertex, every, radius route.Metres) {
	n := math.Ceil(float64((b.At - a.At) / every))
	for i := range int(n) {
		z.add(route.Between(a.Point, b.Point, (float64(i)+1)/max(n, 1)), radius)
	}
}
