package clean

import (
	"math"
	"slices"
	"time"

	"lastpump/route/internal/earth"

	"github.com/paulmach/orb"
)

// What a cloud is: our estimate.
const (
	cloudRadius earth.Metres = 15
	haltsFrom                = 5 * 60 // seconds
	haltsDraw                = 1.5    // times the diagonal of the cloud: less is a pause on the way, ridden through
)

// What looks like a halt, but may be ridden: our estimate.
const (
	wideRadius earth.Metres = 40
	wideFrom                = 15 * 60 // seconds
	wideDraws  earth.Metres = 1000
)

// dropJitter puts one point in place of each cloud: a run of points within 15 m
// of its middle, to the east and to the north, while the clock runs over five
// minutes. It is the one that lies nearest to their mean, so that the way in and
// the way out stay as they are.
func (c *Segment) dropJitter() {
	var runs []group
	gone, w := 0, newWindow(c.Points)
	ridden := func(cloud group) bool { return !drawn(c.Points[cloud.from:cloud.to]) }
	clouds := slices.DeleteFunc(w.clouds(cloudRadius, haltsFrom), ridden)
	for _, cloud := range c.whole(clouds) {
		stays := cloud.from + middle(c.Points[cloud.from:cloud.to])
		gone += stays - cloud.from
		c.Halts = append(c.Halts, Halt{
			Point: stays - gone, Points: cloud.to - cloud.from, Taken: c.shorter(cloud, stays),
			For: time.Duration(w.clock[cloud.to-1]-w.clock[cloud.from]) * time.Second,
		})
		gone += cloud.to - stays - 1
		runs = append(runs, group{cloud.from, stays}, group{stays + 1, cloud.to})
	}
	c.drop(runs)
	c.suspect()
}

// suspect looks in what is left for clouds that are wider than a halt's and drawn
// for longer. They are left in, since a rider may have gone to and fro, and told of.
func (c *Segment) suspect() {
	w := newWindow(c.Points)
	for _, cloud := range w.clouds(wideRadius, wideFrom) {
		if d := c.shorter(cloud, cloud.from+middle(c.Points[cloud.from:cloud.to])); d >= wideDraws {
			c.Suspects = append(c.Suspects, Halt{Point: cloud.from, Points: cloud.to - cloud.from, Taken: d,
				For: time.Duration(w.clock[cloud.to-1]-w.clock[cloud.from]) * time.Second})
		}
	}
}

// drawn tells whether points are the drawing of a recorder that stands: it goes to
// and fro, while a way leads through. So stamps that are wrong, or a pause on the
// way, shorten no ride.
func drawn(points []earth.Point) bool {
	var path earth.Metres
	lo, hi := points[0].Point, points[0].Point
	for i := 1; i < len(points); i++ {
		p := points[i].Point
		path += earth.Distance(points[i-1].Point, p)
		p[0] = points[0].Lon() + earth.Wrap(p[0]-points[0].Lon())
		lo[0], lo[1] = min(lo[0], p[0]), min(lo[1], p[1])
		hi[0], hi[1] = max(hi[0], p[0]), max(hi[1], p[1])
	}
	return path > haltsDraw*earth.Distance(lo, hi)
}

// whole gives each cloud the points before and after it that belong to it: the
// recorder may stray from the middle by up to three times as much for a moment and
// come back. Clouds that meet so are one.
func (c *Segment) whole(clouds []group) []group {
	var out []group
	for _, cloud := range clouds {
		s := c.Points[cloud.from+middle(c.Points[cloud.from:cloud.to])].Point
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
func (c *Segment) comesBack(to orb.Point, from, step int) int {
	last := from
	for i := from + step; i >= 0 && i < len(c.Points); i += step {
		d := earth.Distance(to, c.Points[i].Point)
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
func (c *Segment) shorter(cloud group, stays int) earth.Metres {
	s, d := c.Points[stays].Point, earth.Metres(0)
	from, to := cloud.from, cloud.to-1
	if from > 0 {
		from--
		d -= earth.Distance(c.Points[from].Point, s)
	}
	if to+1 < len(c.Points) {
		to++
		d -= earth.Distance(s, c.Points[to].Point)
	}
	for i := from; i < to; i++ {
		d += earth.Distance(c.Points[i].Point, c.Points[i+1].Point)
	}
	return max(d, 0)
}

// middle gives the point that lies nearest to the mean of a cloud.
func middle(cloud []earth.Point) int {
	var x, y float64
	for _, p := range cloud {
		x += earth.Wrap(p.Lon() - cloud[0].Lon())
		y += p.Lat() - cloud[0].Lat()
	}
	n := float64(len(cloud))
	x, y = x/n, y/n
	best, at := math.Inf(1), 0
	cos := math.Cos(cloud[0].Lat() * earth.Degree)
	for i, p := range cloud {
		dx, dy := (earth.Wrap(p.Lon()-cloud[0].Lon())-x)*cos, p.Lat()-cloud[0].Lat()-y
		if d := dx*dx + dy*dy; d < best {
			best, at = d, i
		}
	}
	return at
}
