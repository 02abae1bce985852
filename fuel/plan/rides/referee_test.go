package rides_test

import (
	"container/heap"
	"math"
	"slices"

	"lastpump/fuel/trip"
	"lastpump/fuel/wayout"
	"lastpump/route"
	"lastpump/route/roads/net"

	"github.com/paulmach/orb"
)

// A country is a net of roads on which a rider is led as the textbook has it (Dijkstra 1959): from
// one place to all, on open roads, by metres × likely weight of the table in here. It shares with
// the planner the roads, what may be ridden on them, and where a place lies beside them.
type country struct {
	net   *net.Net
	known map[int32]*led
}

func newCountry(n *net.Net) *country { return &country{n, map[int32]*led{}} }

// led is how to get from one node to all others.
type led struct {
	*country
	start int32
	cost  []float64
	by    []net.Arc
	prior []int32
}

// from leads from a node.
func (c *country) from(node int32) *led {
	if l := c.known[node]; l != nil && len(l.cost) == c.net.Nodes() {
		return l
	}
	l := &led{c, node, slices.Repeat([]float64{math.Inf(1)}, c.net.Nodes()), make([]net.Arc, c.net.Nodes()), make([]int32, c.net.Nodes())}
	l.cost[node] = 0
	q := &waiting{{node, 0}}
	for q.Len() > 0 {
		at := heap.Pop(q).(waits)
		if at.cost > l.cost[at.node] {
			continue
		}
		for arc := range c.net.Leaving(at.node) {
			e := c.net.Edge(arc.Edge)
			if wayout.Marks(e.Marks)&wayout.Doubtful != 0 {
				continue
			}
			to := at.cost + float64(e.Length)*grounds[groundOf(e.Ground)].weight.Likely
			if to < l.cost[arc.To] {
				l.cost[arc.To], l.by[arc.To], l.prior[arc.To] = to, arc, at.node
				heap.Push(q, waits{arc.To, to})
			}
		}
	}
	c.known[node] = l
	return l
}

// groundOf gives the place in the table of a ground by its number in a net.
func groundOf(number uint8) int { return groundNumber(route.AllGrounds()[number]) }

type waits struct {
	node int32
	cost float64
}
type waiting []waits

func (q waiting) Len() int           { return len(q) }
func (q waiting) Less(i, j int) bool { return q[i].cost < q[j].cost }
func (q waiting) Swap(i, j int)      { q[i], q[j] = q[j], q[i] }
func (q *waiting) Push(x any)        { *q = append(*q, x.(waits)) }
func (q *waiting) Pop() any {
	old := *q
	x := old[len(old)-1]
	*q = old[:len(old)-1]
	return x
}

// A drive is a way by road.
type drive struct {
	byway
	shape []orb.Point
}

// to gives the way to a node; not ok where there is none.
func (l *led) to(node int32) (d drive, ok bool) {
	if math.IsInf(l.cost[node], 1) {
		return d, false
	}
	for at := node; at != l.start; at = l.prior[at] {
		e := l.net.Edge(l.by[at].Edge)
		d.metres[groundOf(e.Ground)] += float64(e.Length)
		points := slices.Collect(l.net.Points(l.by[at].Edge))
		if !l.by[at].Backwards {
			slices.Reverse(points)
		}
		d.shape = append(d.shape, points...)
	}
	slices.Reverse(d.shape)
	return d, true
}

// A beside is a place beside a road.
type beside struct {
	at   orb.Point
	node int32
	on   int // ground of the road
}

// spots puts places on the roads.
func (c *country) spots(at []orb.Point) (out []beside) {
	found := c.net.Snap(at, 200, 2000)
	for i, node := range c.net.Split(found) {
		s := beside{at[i], node, 0}
		if node >= 0 {
			s.on = groundOf(c.net.Edge(found[i].Edge).Ground)
		}
		out = append(out, s)
	}
	return out
}

// drive gives the way from one place to another; what they lie off their roads is straight.
func (c *country) drive(a, b beside) (d drive, ok bool) {
	if a.node < 0 || b.node < 0 {
		return d, false
	}
	if d, ok = c.from(a.node).to(b.node); ok {
		d.metres[a.on] += haversine(a.at, c.net.Where(a.node))
		d.metres[b.on] += haversine(b.at, c.net.Where(b.node))
	}
	return d, ok
}

// leaving gives the way from about a place on a line, 50 m to either side: a road may go off a few
// metres before a street that goes one way. What is ridden to there is in it, on the first ground.
func (c *country) leaving(line *route.Line, at route.Metres, to orb.Point) (best drive, ok bool) {
	const about, step = 50, 10
	places := []orb.Point{to}
	var off []float64
	for d := -about; d <= about; d += step {
		places, off = append(places, line.At(at+route.Metres(d))), append(off, math.Abs(float64(d)))
	}
	spots := c.spots(places)
	for i, from := range spots[1:] {
		d, leads := c.drive(from, spots[0])
		if !leads {
			continue
		}
		d.metres[from.on] += off[i]
		if !ok || d.length() < best.length() {
			best, ok = d, true
		}
	}
	return best, ok
}

// A leaning is what a plan is told of roads that the roads are not.
type leaning struct {
	guessed bool // a stop off the line has no way by road: it is where the guess says, and may be farther
	longer  bool // the way home from one is longer than the way out, for streets go one way
}

// referee gives the sheet of a loop the roads as they are in place of what the plan has for them: to
// stops off the line and home again, and out where a pump is dry. What the sheet says to do stays.
func (c *country) referee(l *loop) (on leaning) {
	var at []orb.Point
	number := func(p orb.Point) int { at = append(at, p); return len(at) - 1 }
	type task struct {
		from, to int
		put      func(there, back drive, home bool)
	}
	var tasks []task
	detour := func(e *entry, v *trip.Visit) {
		if e.half == 0 {
			return
		}
		on.guessed = on.guessed || v.Way == 0
		tasks = append(tasks, task{number(l.plan.Line.At(v.At)), number(v.Stop.At), func(there, back drive, home bool) {
			e.road, e.half = &there.byway, there.length()
			on.longer = on.longer || home && back.length() > there.length()+1
			if home {
				e.homeward = &back.byway
			}
		}})
	}
	for i, leg := range l.plan.Legs {
		if out := l.sheet.legs[i].out; out != nil {
			tasks = append(tasks, task{number(l.plan.Line.At(leg.WayOut.At)), number(l.plan.Ways.All[leg.WayOut.Way].Pump),
				func(there, _ drive, _ bool) { out.byway = &there.byway }})
		}
		if leg.ToVisit < 0 || i+1 == len(l.plan.Legs) {
			continue
		}
		v, e := &l.plan.Visits[leg.ToVisit], &l.sheet.stops[i+1]
		detour(e, v)
		if e.off != nil {
			w := l.plan.Ways.All[v.IfDry.Off.Way]
			tasks = append(tasks, task{number(v.Stop.At), number(w.Pump), func(there, _ drive, _ bool) { e.off.byway = &there.byway }})
		}
	}
	for i, b := range l.plan.Passes {
		detour(&l.sheet.passed[i].entry, &l.plan.Visits[b.Visit])
	}
	spots := c.spots(at)
	for _, k := range tasks {
		there, ok := c.drive(spots[k.from], spots[k.to])
		back, home := c.drive(spots[k.to], spots[k.from])
		if ok {
			k.put(there, back, home)
		}
	}
	return on
}
