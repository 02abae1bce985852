package plan

import (
	"slices"

	"lastpump/octane"
	"lastpump/route"
)

// placeReach is how far along the line the stops of one place lie from its
// first: one village, one power line, one delivery.
const placeReach route.Metres = 3000

// atEnd is how near to the start or the end of the line a place is that end.
const atEnd route.Metres = 500

// A place is the counted stops within 3 km along the line, which are dry
// together; one of them is visited.
type place struct {
	visit  int   // into Plan.Visits
	stops  []int // into Inputs.Stops, all of them
	number int   // the same for all passings of one place
}

// findPlaces gathers the counted visits into places and keeps of each the visit
// at its best stop, the names of the others beside it.
func (d *draft) findPlaces() [][]int {
	singles := d.places // one a visit, as visits left them
	all := d.plan.Visits
	d.plan.Visits, d.places = nil, nil
	var groups [][]int // the stops of each place of the line, those behind the rider too
	for i := 0; i < len(all); i++ {
		if !all[i].Counted {
			d.addVisits(all, i)
			continue
		}
		members := []int{i}
		var between []int // not counted, and so of no place
		j := i + 1
		for ; j < len(all) && all[j].At-all[i].At <= placeReach; j++ {
			if all[j].Counted {
				members = append(members, j)
			} else {
				between = append(between, j)
			}
		}
		groups = append(groups, stopsOf(singles, members))
		d.addPlace(all, singles, d.ahead(all, members), between)
		i = j - 1
	}
	d.numberPlaces(groups)
	return groups
}

// addVisits lists visits as they are, those that lie ahead of the rider.
func (d *draft) addVisits(all []Visit, which ...int) {
	for _, k := range d.ahead(all, which) {
		d.plan.Visits = append(d.plan.Visits, all[k])
	}
}

func stopsOf(singles []place, members []int) (stops []int) {
	for _, m := range members {
		stops = append(stops, singles[m].stops...)
	}
	return stops
}

// addPlace keeps the best of the members and puts it in its order among the
// visits that are not counted.
func (d *draft) addPlace(all []Visit, singles []place, members, between []int) {
	if len(members) == 0 { // all of it is behind the rider
		d.addVisits(all, between...)
		return
	}
	best := members[0]
	for _, m := range members[1:] {
		if d.better(all[m], all[best]) {
			best = m
		}
	}
	p := place{stops: stopsOf(singles, members)}
	v := all[best]
	for _, m := range members {
		if name := all[m].Stop.Name; m != best && !slices.Contains(v.Also, name) {
			v.Also = append(v.Also, name)
		}
	}
	after, _ := slices.BinarySearch(between, best)
	d.addVisits(all, between[:after]...)
	p.visit = len(d.plan.Visits)
	d.plan.Visits = append(d.plan.Visits, v)
	d.addVisits(all, between[after:]...)
	d.places = append(d.places, p)
}

// better tells whether a stop is to be preferred to another of its place: that
// at which the rider stands, then a grade that meets, then the surer standing,
// then the shorter detour. In a group, which fills together, a grade has to meet for
// each bike.
func (d *draft) better(a, b Visit) bool {
	if ha, hb := d.isHere(a), d.isHere(b); ha != hb {
		return ha
	}
	if ma, mb := d.meetsAll(a), d.meetsAll(b); ma != mb {
		return ma
	}
	if ra, rb := a.Stop.Standing.Rank(), b.Stop.Standing.Rank(); ra != rb {
		return ra < rb
	}
	return a.Detour < b.Detour
}

func (d *draft) hasMeeting(v Visit) bool { return hasMeeting(v, d.bike.Needs) }

// meetsAll tells whether a stop has a grade that meets for each bike of the group.
func (d *draft) meetsAll(v Visit) bool {
	return d.hasMeeting(v) && !slices.ContainsFunc(d.in.alongside, func(need octane.Grade) bool {
		return !hasMeeting(v, need)
	})
}

func hasMeeting(v Visit, need octane.Grade) bool {
	return slices.ContainsFunc(v.Stop.Grades, func(g octane.Grade) bool {
		return g.Against(need) == octane.Meets
	})
}

// numberPlaces gives the same number to places that share a stop: a place passed
// again is dry again.
//
// Where stops are chosen, those that are passed by are dry with their neighbours all
// the same.
func (d *draft) numberPlaces(groups [][]int) {
	if d.change.chosen != nil {
		for i := range d.places {
			d.places[i].number = d.villages()[d.places[i].stops[0]]
		}
		return
	}
	numbers := d.numbers(groups)
	for i := range d.places {
		d.places[i].number = numbers[d.places[i].stops[0]]
	}
}

// villages gives each stop the number of its place, as if every stop were filled at.
func (s *survey) villages() []int {
	if s.village == nil {
		all := &draft{survey: s, course: s.course, bike: s.in.Bike, plan: &Plan{}}
		all.visits()
		s.village = all.numbers(all.findPlaces())
	}
	return s.village
}

// numbers gives each stop the number of its place.
func (d *draft) numbers(groups [][]int) []int {
	root := make([]int, len(d.in.Stops)) // of each stop, in a forest of stops of one place
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
	for _, stops := range groups {
		for _, s := range stops[1:] {
			root[find(s)] = find(stops[0])
		}
	}
	for i := range root {
		root[i] = find(i)
	}
	return root
}
