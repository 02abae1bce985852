package trip

import (
	"lastpump/fuel/leg"
	"lastpump/fuel/stop"
	"lastpump/route"
)

// atEnd is how near to the start or the end of the line a place is that end.
const atEnd route.Metres = 500

// NearEnd tells whether a place along the line is so near to an end that it is that end.
func NearEnd(at, end route.Metres) bool { return max(at-end, end-at) <= atEnd }

// A Node is where a leg begins or ends: the start, a place, the finish.
type Node struct {
	End
	Visit int     // into Ride.Visits; -1 for none
	On    leg.End // where on the line, and half the detour
	Place int     // the number of its place; -1 for a start or finish without one
	Stops []int   // of the place, into Inputs.Stops; nil for none
}

// nodes lays the ends of the legs: the start, each place, the finish. A place within
// 500 m of an end and no detour off is that end.
func (t *Trip) nodes(g gathered, numbers []int) []Node {
	start, finish := t.StartNode(), t.FinishNode()
	into := func(n *Node, p place) {
		n.Visit, n.Stop, n.Place, n.Stops = p.visit, g.visits[p.visit].Number, numbers[p.stops[0]], p.stops
	}
	middle := g.places
	if n := len(middle); n > 0 && t.isStart(g.visits[middle[0].visit]) {
		into(&start, middle[0])
		middle = middle[1:]
	}
	if n := len(middle); n > 0 && onEnd(g.visits[middle[n-1].visit], t.Length) {
		into(&finish, middle[n-1])
		middle = middle[:n-1]
	}
	out := []Node{start}
	for _, p := range middle {
		v := g.visits[p.visit]
		n := Node{End: End{Kind: AtStop}, On: t.EndAt(v.Sighting())}
		into(&n, p)
		out = append(out, n)
	}
	return append(out, finish)
}

// isStart tells whether a visit is where the first leg begins: at the stop the rider has
// named, or one by the line within 500 m.
func (t *Trip) isStart(v Visit) bool {
	if t.stands != nil && t.stands.AtStop {
		return t.standsBy(v.Sighting())
	}
	return onEnd(v, t.StartAt())
}

// onEnd tells whether a visit is at an end of the line.
func onEnd(v Visit, end route.Metres) bool { return v.Off <= stop.OnLine && NearEnd(v.At, end) }
