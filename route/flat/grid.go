package flat

import (
	"iter"
	"math"

	"lastpump/route"

	"github.com/paulmach/orb"
)

// A Grid is cells of so many degrees each way: so many columns around the earth, and
// half as many rows from pole to pole.
type Grid struct {
	columns int32
	perDeg  float64 // cells per degree
}

// A Cell is one of a grid, by its column from 180° west and its row from the south pole.
type Cell struct{ Column, Row int32 }

// NewGrid makes a grid of cells that are 40,000 km ÷ columns high.
func NewGrid(columns int32) Grid { return Grid{columns, float64(columns) / 360} }

// Cell gives the cell of a place; its row is below 0 where there is no such latitude.
func (g Grid) Cell(lon, lat float64) Cell { return Cell{g.column(lon), g.row(lat)} }

func (g Grid) column(lon float64) int32 {
	c := int32(math.Floor((lon + 180) * g.perDeg))
	if c %= g.columns; c < 0 {
		c += g.columns
	}
	return c
}

func (g Grid) row(lat float64) int32 { return int32(math.Floor((lat + 90) * g.perDeg)) }

// Box calls f with each cell of a box in degrees, which may lie across 180°.
func (g Grid) Box(west, east, south, north float64, f func(Cell)) {
	for row := g.row(south); row <= g.row(north); row++ {
		g.along(row, west, east, f)
	}
}

// along calls f with the cells of a row from one longitude eastwards to another, each
// once. Either may lie beyond 180 degrees.
func (g Grid) along(row int32, west, east float64, f func(Cell)) {
	n := min(g.columns, int32(math.Floor((east+180)*g.perDeg)-math.Floor((west+180)*g.perDeg))+1)
	c := g.column(west)
	for range n {
		f(Cell{c, row})
		if c++; c == g.columns {
			c = 0
		}
	}
}

// A Zone is a set of cells of a grid.
type Zone struct {
	Grid
	cells map[uint64]bool
}

// NewZone makes an empty zone of a grid, see [NewGrid].
func NewZone(columns int32) *Zone { return &Zone{NewGrid(columns), map[uint64]bool{}} }

// key is what the cells of a zone are found by: a number is found sooner than a pair.
func (c Cell) key() uint64 { return uint64(uint32(c.Column))<<32 | uint64(uint32(c.Row)) }

// Has tells whether a place lies in the zone.
func (z *Zone) Has(lon, lat float64) bool { return z.cells[z.Cell(lon, lat).key()] }

// HasBeside tells whether the cell of a place is in the zone, or one of those up to so
// many cells beside it.
func (z *Zone) HasBeside(p orb.Point, cells int32) bool {
	at := z.Cell(p[0], p[1])
	for row := at.Row - cells; row <= at.Row+cells; row++ {
		for column := at.Column - cells; column <= at.Column+cells; column++ {
			if z.cells[(Cell{(column + z.columns) % z.columns, row}).key()] {
				return true
			}
		}
	}
	return false
}

// HasCell tells whether a cell is in the zone.
func (z *Zone) HasCell(c Cell) bool { return z.cells[c.key()] }

// Cells walks through the cells of the zone, in no order.
func (z *Zone) Cells() iter.Seq[Cell] {
	return func(yield func(Cell) bool) {
		for key := range z.cells {
			if !yield(Cell{int32(key >> 32), int32(uint32(key))}) {
				return
			}
		}
	}
}

// Middle gives the middle of a cell.
func (g Grid) Middle(c Cell) orb.Point {
	return orb.Point{(float64(c.Column)+0.5)/g.perDeg - 180, (float64(c.Row)+0.5)/g.perDeg - 90}
}

// Set adds a cell.
func (z *Zone) Set(c Cell) { z.cells[c.key()] = true }

// Add adds the ground within a radius of a place, up to all the way around the earth
// near the poles: every cell that has some of it.
func (z *Zone) Add(p orb.Point, radius route.Metres) {
	dLat := float64(radius) / MetresPerDegree
	bottom, top := max(p[1]-dLat, -90), min(p[1]+dLat, 90)
	first, last := z.row(bottom), min(z.row(top), z.columns/2-1)
	for row := first; row <= last; row++ {
		// The row is as wide as where it lies nearest to the latitude of the place,
		// and in degrees of longitude as where it lies nearest to the pole.
		low, high := float64(row)/z.perDeg-90, float64(row+1)/z.perDeg-90
		away := max(low-p[1], p[1]-high, 0)
		half := math.Sqrt(max(0, dLat*dLat-away*away))
		half = min(half/max(math.Cos(max(math.Abs(low), math.Abs(high))*degree), 1e-9), 180)
		z.along(row, p[0]-half, p[0]+half, z.Set)
	}
}

// AddLine adds the ground within a radius of a line, which may depend on the length of
// a step. Gaps have ends, and nothing between. Points are added every so far, with so
// much more of a radius.
func (z *Zone) AddLine(line *route.Line, every route.Metres, radius func(step route.Metres) route.Metres) {
	var last route.Vertex
	first, done := true, route.Metres(0)
	for v := range line.Vertices() {
		switch {
		case first || v.AfterGap:
			if !first && done < last.At {
				z.Add(last.Point, radius(0))
			}
			z.Add(v.Point, radius(0))
			first, done = false, v.At
		case v.At-done >= every || v.At == line.Length():
			z.addStraight(last, v, every, every+radius(v.At-last.At))
			done = v.At
		}
		last = v
	}
}

// addStraight adds what lies within a radius of the way between two points.
func (z *Zone) addStraight(a, b route.Vertex, every, radius route.Metres) {
	n := math.Ceil(float64((b.At - a.At) / every))
	for i := range int(n) {
		z.Add(route.Between(a.Point, b.Point, (float64(i)+1)/max(n, 1)), radius)
	}
}
