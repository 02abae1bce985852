package route

import (
	"math"
	"slices"
	"time"

	"github.com/paulmach/orb"
)

// A Halt is a place where the recorder ran on while the bike stood, and drew a
// cloud of points that nobody rode.
type Halt struct {
	At     Metres // along the line
	Points int    // of the cloud; one of them is left
	Taken  Metres // how much shorter the line is without it
	For    time.Duration

	point, part int // of the line, and into the file's tracks
}

// What a cloud is: our estimate, the design's figures.
const (
	cloudRadius Metres = 15
	haltsFrom          = 5 * 60 // seconds
	haltsDraw          = 1.5    // times the diagonal of the cloud: less is a pause on the way, ridden through
)

// What looks like a halt, but may be ridden: our estimate.
const (
	wideRadius Metres = 40
	wideFrom          = 15 * 60 // seconds
	wideDraws  Metres = 1000
)

// dropJitter puts one point in place of each cloud: a run of points within 15 m
// of its middle, to the east and to the north, while the clock runs over five
// minutes. It is the one that lies nearest to their mean, so that the way in and
// the way out stay as they are.
func (c *cleaning) dropJitter() {
	var runs []run
	gone, w := 0, newWindow(c.points)
	clouds := slices.DeleteFunc(w.clouds(cloudRadius, haltsFrom), func(cloud run) bool { return !drawn(c.points[cloud.from:cloud.to]) })
	for _, cloud := range c.whole(clouds) {
		stays := cloud.from + middle(c.points[cloud.from:cloud.to])
		gone += stays - cloud.from
		c.halts = append(c.halts, Halt{
			point: stays - gone, Points: cloud.to - cloud.from, Taken: c.shorter(cloud, stays),
			For: time.Duration(w.clock[cloud.to-1]-w.clock[cloud.from]) * time.Second,
		})
		gone += cloud.to - stays - 1
		runs = append(runs, run{cloud.from, stays}, run{stays + 1, cloud.to})
	}
	c.drop(runs)
	c.suspect()
}

// suspect looks in what is left for clouds that are wider than a halt's and drawn
// for longer. They are left in, since a rider may have gone to and fro, and told of.
func (c *cleaning) suspect() {
	w := newWindow(c.points)
	for _, cloud := range w.clouds(wideRadius, wideFrom) {
		if d := c.shorter(cloud, cloud.from+middle(c.points[cloud.from:cloud.to])); d >= wideDraws {
			c.suspects = append(c.suspects, Halt{point: cloud.from, Points: cloud.to - cloud.from, Taken: d,
				For: time.Duration(w.clock[cloud.to-1]-w.clock[cloud.from]) * time.Second})
		}
	}
}

// drawn tells whether points are the drawing of a recorder that stands: it goes to
// and fro, while a way leads through. So stamps that are wrong, or a pause on the
// way, shorten no ride.
func drawn(points []Point) bool {
	var path Metres
	lo, hi := points[0].Point, points[0].Point
	for i := 1; i < len(points); i++ {
		p := points[i].Point
		path += Distance(points[i-1].Point, p)
		p[0] = points[0].Lon() + wrap(p[0]-points[0].Lon())
		lo[0], lo[1] = min(lo[0], p[0]), min(lo[1], p[1])
		hi[0], hi[1] = max(hi[0], p[0]), max(hi[1], p[1])
	}
	return path > haltsDraw*Distance(lo, hi)
}

// whole gives each cloud the points before and after it that belong to it: the
// recorder may stray from the middle by up to three times as much for a moment and
// come back. Clouds that meet so are one.
func (c *cleaning) whole(clouds []run) []run {
	var out []run
	for _, cloud := range clouds {
		s := c.points[cloud.from+middle(c.points[cloud.from:cloud.to])].Point
		least := 0
		if n := len(out); n > 0 {
			least = out[n-1].to
		}
		if cloud.to <= least {
			continue
		}
		cloud.from = max(c.comesBack(s, cloud.from, -1), least)
		cloud.to = c.comesBack(s, cloud.to-1, 1) + 1
		out = append(out, cloud)
	}
	return out
}

// comesBack goes on from a point of a cloud, forwards or backwards, and gives the
// last one from which it has come back to within the cloud's radius of a place.
func (c *cleaning) comesBack(to orb.Point, from, step int) int {
	last := from
	for i := from + step; i >= 0 && i < len(c.points); i += step {
		d := Distance(to, c.points[i].Point)
		if d > 3*cloudRadius {
			break
		}
		if d <= cloudRadius {
			last = i
		}
	}
	return last
}

// shorter tells by how much the line is shorter once one point stands for a cloud.
func (c *cleaning) shorter(cloud run, stays int) Metres {
	s, d := c.points[stays].Point, Metres(0)
	from, to := cloud.from, cloud.to-1
	if from > 0 {
		from--
		d -= Distance(c.points[from].Point, s)
	}
	if to+1 < len(c.points) {
		to++
		d -= Distance(s, c.points[to].Point)
	}
	for i := from; i < to; i++ {
		d += Distance(c.points[i].Point, c.points[i+1].Point)
	}
	return max(d, 0)
}

// middle gives the point that lies nearest to the mean of a cloud.
func middle(cloud []Point) int {
	var x, y float64
	for _, p := range cloud {
		x += wrap(p.Lon() - cloud[0].Lon())
		y += p.Lat() - cloud[0].Lat()
	}
	n := float64(len(cloud))
	x, y = x/n, y/n
	best, at := math.Inf(1), 0
	cos := math.Cos(cloud[0].Lat() * degree)
	for i, p := range cloud {
		dx, dy := (wrap(p.Lon()-cloud[0].Lon())-x)*cos, p.Lat()-cloud[0].Lat()-y
		if d := dx*dx + dy*dy; d < best {
			best, at = d, i
		}
	}
	return at
}

// A window slides along a segment and is never wider than a cloud may be. It
// takes each point in once and lets it go once, however long a halt is.
type window struct {
	points []Point
	lat    float64 // of which cos is the cosine
	cos    float64
	clock  []uint32 // at each point, seconds forward since the first; nil where there are no times
	x, y   extent
}

func newWindow(points []Point) *window {
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
func clockOf(points []Point, first int) []uint32 {
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
func (w *window) clouds(radius Metres, seconds uint32) []run {
	widest := 2 * float64(radius/EarthRadius) / degree
	if w.clock == nil || w.neverStands(widest, seconds) {
		return nil
	}
	var out []run
	from, standing := 0, false
	for j, p := range w.points {
		w.x.push(j, wrap(p.Lon()-w.points[0].Lon()))
		w.y.push(j, p.Lat())
		for from < j && !w.fits(widest, p.Lat()) {
			if standing {
				out, standing = append(out, run{from, j}), false
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
		out = append(out, run{from, len(w.points)})
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
		if math.Abs(q.Lat()-p.Lat()) <= width && math.Abs(wrap(q.Lon()-p.Lon())) <= width/max(math.Cos(p.Lat()*degree), 1e-6) {
			return false
		}
	}
	return true
}

// fits tells whether the points in the window lie within a square of a width in
// degrees of latitude.
func (w *window) fits(width, lat float64) bool {
	if math.Abs(lat-w.lat) > sameCosine {
		w.lat, w.cos = lat, math.Cos(lat*degree)
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
