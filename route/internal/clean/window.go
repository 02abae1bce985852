package clean

import (
	"math"

	"lastpump/route/internal/earth"
)

// A window slides along a segment and is never wider than a cloud may be. It
// takes each point in once and lets it go once, however long a halt is.
type window struct {
	points []earth.Point
	lat    float64 // of which cos is the cosine
	cos    float64
	clock  []uint32 // at each point, seconds forward since the first; nil where there are no times
	x, y   extent
}

func newWindow(points []earth.Point) *window {
	w := &window{points: points, lat: math.Inf(1)}
	for i, p := range points {
		if p.HasTime {
			w.clock = clockOf(points, i)
			break
		}
	}
	return w
}

// clockOf tells how long the recorder has run up to each point, from the first that
// has a time. Time that was put back and comes again is not counted, unless it was
// put back by over a day: then it was wrong before. Of a pause between two points
// two minutes count: the recorder does not draw in it.
func clockOf(points []earth.Point, first int) []uint32 {
	const day, pause = 24 * 60 * 60, 2 * 60
	clock := make([]uint32, len(points))
	now, latest := uint32(0), points[first].Time
	for i, p := range points {
		switch {
		case !p.HasTime || i < first:
		case p.Time > latest:
			now += min(p.Time-latest, pause)
			latest = p.Time
		case latest-p.Time > day:
			latest = p.Time
		}
		clock[i] = now
	}
	return clock
}

// clouds gives the runs of points that lie within a radius of their middle, to the
// east and to the north, while the clock runs over so many seconds.
func (w *window) clouds(radius earth.Metres, seconds uint32) []group {
	widest := 2 * float64(radius/earth.Radius) / earth.Degree
	if w.clock == nil || w.neverStands(widest, seconds) {
		return nil
	}
	var out []group
	from, standing := 0, false
	for j, p := range w.points {
		w.x.push(j, earth.Wrap(p.Lon()-w.points[0].Lon()))
		w.y.push(j, p.Lat())
		for from < j && !w.fits(widest, p.Lat()) {
			if standing {
				out, standing = append(out, group{from, j}), false
				from = j
			} else {
				from++
			}
			w.x.leave(from)
			w.y.leave(from)
		}
		standing = standing || w.clock[j]-w.clock[from] > seconds
	}
	if standing {
		out = append(out, group{from, len(w.points)})
	}
	return out
}

// sameCosine is by how many degrees of latitude a cosine is good: 100 m.
const sameCosine = 0.001

// neverStands tells of most rides that move, at little cost, that they have no
// cloud: from each point, the first one so many seconds later lies too far north or
// south and too far east or west.
func (w *window) neverStands(width float64, seconds uint32) bool {
	width *= 1.01 // the cosine is another point's
	later := 0
	for i, p := range w.points {
		for later < len(w.points) && w.clock[later] <= w.clock[i]+seconds {
			later++
		}
		if later == len(w.points) {
			return true
		}
		q := w.points[later]
		north, east := math.Abs(q.Lat()-p.Lat()), math.Abs(earth.Wrap(q.Lon()-p.Lon()))
		if north <= width && east <= width/max(math.Cos(p.Lat()*earth.Degree), 1e-6) {
			return false
		}
	}
	return true
}

// fits tells whether the points in the window lie within a square of a width in
// degrees of latitude.
func (w *window) fits(width, lat float64) bool {
	if math.Abs(lat-w.lat) > sameCosine {
		w.lat, w.cos = lat, math.Cos(lat*earth.Degree)
	}
	return w.y.width() <= width && w.x.width()*w.cos <= width
}

// An extent is the least and the largest of the values in a window, each the head
// of a queue of those that may come to be it (the ascending minima algorithm).
type extent struct{ least, most queue }

func (e *extent) push(i int, v float64) {
	e.least.push(i, v)
	e.most.push(i, -v)
}

func (e *extent) leave(from int) {
	e.least.leave(from)
	e.most.leave(from)
}

func (e *extent) width() float64 { return -e.most.head() - e.least.head() }

// A queue holds values that grow from head to tail.
type queue struct {
	items []queued
	first int
}

type queued struct {
	index int
	value float64
}

func (q *queue) head() float64 { return q.items[q.first].value }

func (q *queue) push(i int, v float64) {
	for len(q.items) > q.first && q.items[len(q.items)-1].value >= v {
		q.items = q.items[:len(q.items)-1]
	}
	if q.first > len(q.items)/2 { // as much room as the window needs, not as the segment
		q.items, q.first = q.items[:copy(q.items, q.items[q.first:])], 0
	}
	q.items = append(q.items, queued{i, v})
}

// leave lets go what stands before from.
func (q *queue) leave(from int) {
	for q.items[q.first].index < from {
		q.first++
	}
}
