package osmmap

import (
	"cmp"
	"maps"
	"math"
	"slices"

	"lastpump/route"

	"github.com/paulmach/orb"
	"github.com/paulmach/osm"
)

// roads are the ways near the line as a net: edges that meet at junctions.
type roads struct {
	edges     []edge
	junctions []junction
	cells     *zone
	in        map[uint64][]segment // by cell, the steps of edges that touch it
}

// An edge is a way, or a part of one, from one junction to the next.
type edge struct {
	way      *way
	from, to int32 // junctions
	points   []orb.Point
	at       []float64 // metres along the edge, at each point
}

func (e *edge) length() float64 { return e.at[len(e.at)-1] }

// against tells whether riding an edge forwards, or backwards, is against its
// direction.
func (e *edge) against(forwards bool) bool {
	return e.way.oneway == 1 && !forwards || e.way.oneway == -1 && forwards
}

// A junction is where edges meet, or where one ends.
type junction struct{ edges []int32 }

// A segment is a step of an edge.
type segment struct{ edge, step int32 }

// newRoads makes the net. Ways meet where they share a node, and not where they only
// cross: that is a bridge.
func newRoads(ways map[osm.WayID]*way) *roads {
	r := &roads{cells: newZone(narrowColumns), in: map[uint64][]segment{}}
	sorted := slices.SortedFunc(maps.Values(ways), func(a, b *way) int { return cmp.Compare(a.id, b.id) })
	times := map[int64]int{} // a node is come to; twice for an end
	for _, w := range sorted {
		for _, run := range w.runs {
			for i, n := range run {
				times[n.id]++
				if i == 0 || i == len(run)-1 {
					times[n.id]++
				}
			}
		}
	}
	number := map[int64]int32{}
	for _, w := range sorted {
		for _, run := range w.runs {
			from := 0
			for i := 1; i < len(run); i++ {
				if times[run[i].id] > 1 {
					r.addEdge(w, run[from:i+1], number)
					from = i
				}
			}
		}
	}
	return r
}

func (r *roads) addEdge(w *way, run []node, number map[int64]int32) {
	e := edge{way: w, from: r.junction(run[0].id, number), to: r.junction(run[len(run)-1].id, number),
		points: make([]orb.Point, len(run)), at: make([]float64, len(run))}
	for i, n := range run {
		e.points[i] = n.point()
		if i > 0 {
			e.at[i] = e.at[i-1] + metres(e.points[i-1], e.points[i])
		}
	}
	if e.length() == 0 {
		return
	}
	k := int32(len(r.edges))
	r.edges = append(r.edges, e)
	for _, j := range []int32{e.from, e.to} {
		if l := r.junctions[j].edges; len(l) == 0 || l[len(l)-1] != k {
			r.junctions[j].edges = append(l, k)
		}
	}
	for i := 1; i < len(run); i++ {
		r.index(segment{k, int32(i - 1)}, e.points[i-1], e.points[i])
	}
}

func (r *roads) junction(id int64, number map[int64]int32) int32 {
	j, ok := number[id]
	if !ok {
		j = int32(len(r.junctions))
		number[id] = j
		r.junctions = append(r.junctions, junction{})
	}
	return j
}

// index puts a step into the cells that it touches, and some beside them: long ones
// piece by piece, for the box around a long one would be all land.
func (r *roads) index(s segment, a, b orb.Point) {
	n := math.Ceil(metres(a, b) / longPiece)
	for k := range int(max(n, 1)) {
		from, to := route.Between(a, b, float64(k)/max(n, 1)), route.Between(a, b, float64(k+1)/max(n, 1))
		x, _ := flatAt(from).see(to)
		west, east := from[0], from[0]+x/flatAt(from).east
		r.block(min(west, east), max(west, east), min(from[1], to[1]), max(from[1], to[1]), func(cell uint64) {
			if l := r.in[cell]; len(l) == 0 || l[len(l)-1] != s {
				r.in[cell] = append(l, s)
			}
		})
	}
}

const longPiece = 250 // metres

// near calls f with each step of an edge that may come within a radius of a place,
// some of them more than once.
func (r *roads) near(p orb.Point, radius float64, f func(segment)) {
	dLat, dLon := radius/metresPerDegree, radius/max(flatAt(p).east, 1)
	r.block(p[0]-dLon, p[0]+dLon, p[1]-dLat, p[1]+dLat, func(cell uint64) {
		for _, s := range r.in[cell] {
			f(s)
		}
	})
}

// block calls f with each cell of a box.
func (r *roads) block(west, east, south, north float64, f func(cell uint64)) {
	for row := r.cells.row(south); row <= r.cells.row(north); row++ {
		r.cells.along(row, west, east, func(c int32) { f(uint64(c)<<32 | uint64(row)) })
	}
}
