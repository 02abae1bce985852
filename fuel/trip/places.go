package trip

import (
	"slices"

	"lastpump/fuel/leg"
	"lastpump/fuel/stop"
	"lastpump/route"
)

// A place is the counted stops within 3 km along the line, which are dry together; one of
// them is visited.
type place struct {
	visit int   // into Ride.Visits
	stops []int // into Inputs.Stops, all of them
}

// gathered are the visits of a ride, the counted ones gathered into places.
type gathered struct {
	visits []Visit
	places []place
	shown  bool    // what is not counted is among the visits
	groups [][]int // the stops of each place of the line, those behind the rider too
}

// gather puts the counted passes together into places and keeps of each the visit at its
// best stop. What lies behind the rider is left out, and where they are not to be shown what
// is not counted.
func (t *Trip) gather(all []pass, shown bool) gathered {
	g := gathered{shown: shown}
	for i := 0; i < len(all); i++ {
		if !all[i].counted() {
			if shown {
				g.list(t, t.ahead(all, []int{i}), all)
			}
			continue
		}
		members := []int{i}
		var between []int // not counted, and so of no place
		j := i + 1
		for ; j < len(all) && all[j].At-all[i].At <= placeReach; j++ {
			if all[j].counted() {
				members = append(members, j)
			} else {
				between = append(between, j)
			}
		}
		g.groups = append(g.groups, numbersOf(all, members))
		g.addPlace(t, all, t.ahead(all, members), t.ahead(all, between))
		i = j - 1
	}
	return g
}

// list adds visits that are not counted, one by one.
func (g *gathered) list(t *Trip, which []int, all []pass) {
	if !g.shown {
		return
	}
	for _, k := range which {
		g.visits = append(g.visits, t.visit(all[k]))
	}
}

// numbersOf gives the numbers of the stops visited.
func numbersOf(all []pass, which []int) []int {
	stops := make([]int, 0, len(which))
	for _, k := range which {
		stops = append(stops, all[k].Stop)
	}
	return stops
}

// addPlace keeps the best of the members and puts it in its order among the visits that
// are not counted.
func (g *gathered) addPlace(t *Trip, all []pass, members, between []int) {
	if len(members) == 0 { // all of it is behind the rider
		g.list(t, between, all)
		return
	}
	best := members[0]
	for _, m := range members[1:] {
		if t.better(all[m].Sighting, all[best].Sighting) {
			best = m
		}
	}
	after, _ := slices.BinarySearch(between, best)
	g.list(t, between[:after], all)
	g.places = append(g.places, place{visit: len(g.visits), stops: numbersOf(all, members)})
	g.visits = append(g.visits, t.visit(all[best]))
	g.list(t, between[after:], all)
}

// nameAlso names beside the stop of each place the others.
func (d *Draft) nameAlso() {
	for _, n := range d.Nodes {
		if n.Visit < 0 {
			continue
		}
		v := &d.Visits[n.Visit]
		named := map[string]bool{}
		for _, i := range n.Stops {
			if name := d.Trip.Stops[i].Name; i != v.Number && !named[name] {
				v.Also = append(v.Also, name)
				named[name] = true
			}
		}
	}
}

// PlaceNumbers gives each stop the number of its place, as if every counted stop were
// filled at.
func (t *Trip) PlaceNumbers() []int {
	if t.numbers == nil {
		t.numbers = t.placeNumbers(t.gather(t.passes(Change{}), false).groups)
	}
	return t.numbers
}

// besideByRoad gives the counted stops that lie so near another straight that they are dry with it,
// though the road to one of them leaves the line elsewhere.
func (t *Trip) besideByRoad() (pairs [][2]int) {
	for _, g := range slices.Concat(t.Sightings, t.Beside) {
		if g.Way == 0 || t.merits[g.Stop].unfit != "" {
			continue
		}
		for i, s := range t.Stops {
			if i != g.Stop && t.merits[i].unfit == "" && route.Distance(s.At, t.Stops[g.Stop].At) <= placeReach {
				pairs = append(pairs, [2]int{g.Stop, i})
			}
		}
	}
	return pairs
}

// placeNumbers gives each stop the number of its place: places that share a stop are one,
// for a place passed again is dry again; so are those that a late rider finds shut.
func (t *Trip) placeNumbers(groups [][]int) []int {
	if len(t.late) > 1 {
		groups = append(slices.Clip(groups), t.late)
	}
	root := make([]int, len(t.Stops)) // of each stop, in a forest of stops of one place
	for i := range root {
		root[i] = i
	}
	find := func(i int) int {
		for root[i] != i {
			root[i] = root[root[i]]
			i = root[i]
		}
		return i
	}
	for _, g := range groups {
		for _, s := range g[1:] {
			root[find(s)] = find(g[0])
		}
	}
	for _, pair := range t.besideByRoad() {
		root[find(pair[0])] = find(pair[1])
	}
	for i := range root {
		root[i] = find(i)
	}
	return root
}

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

// StartNode gives where the first leg begins, with no stop there.
func (t *Trip) StartNode() Node {
	n := Node{End: End{AtStart, -1}, Visit: -1, Place: -1}
	if t.stands != nil {
		n.On = t.stands.On
	}
	return n
}

// FinishNode gives where the last leg ends, with no stop there.
func (t *Trip) FinishNode() Node {
	return Node{End: End{AtFinish, -1}, Visit: -1, Place: -1, On: leg.End{At: t.Length}}
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
