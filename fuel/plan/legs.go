package plan

import "lastpump/route"

// A node is where a leg begins or ends: the start, a place, the end.
type node struct {
	name   string
	visit  int // -1 where there is none
	number int // of its place; -1 for a start or end without one
	at     route.Metres
	half   route.Metres // half the detour to it
}

// legs lays the legs from the start over each place to the end. A place within
// 500 m of an end and no detour off is that end.
func (d *draft) legs() {
	length := d.length
	start := d.startNode()
	end := node{name: "end", visit: -1, number: -1, at: length}
	middle := d.places
	if n := len(middle); n > 0 && d.isStart(middle[0]) {
		start.visit, start.number = middle[0].visit, middle[0].number
		middle = middle[1:]
	}
	if n := len(middle); n > 0 && d.isEnd(middle[n-1], length) {
		end.visit, end.number = middle[n-1].visit, middle[n-1].number
		middle = middle[:n-1]
	}
	d.nodes = []node{start}
	for _, p := range middle {
		d.nodes = append(d.nodes, d.node(p))
	}
	d.nodes = append(d.nodes, end)
	for i := 1; i < len(d.nodes); i++ {
		a, b := d.nodes[i-1], d.nodes[i]
		d.plan.Legs = append(d.plan.Legs, Leg{
			From: a.name, To: b.name, FromVisit: a.visit, ToVisit: b.visit, FromAt: a.at, ToAt: b.at,
		})
	}
}

func (d *draft) node(p place) node {
	v := d.plan.Visits[p.visit]
	return node{name: v.Stop.Name, visit: p.visit, number: p.number, at: v.At, half: v.Detour / 2}
}

func (d *draft) isEnd(p place, end route.Metres) bool {
	v := d.plan.Visits[p.visit]
	away := v.At - end
	return v.Off <= onLine && away <= atEnd && away >= -atEnd
}
