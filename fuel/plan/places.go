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
func (d *draft) findPlaces() {
	singles := d.places // one a visit, as visits left them
	all := d.plan.Visits
	d.plan.Visits, d.places = nil, nil
	for i := 0; i < len(all); i++ {
		if !all[i].Counted {
			d.plan.Visits = append(d.plan.Visits, all[i])
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
		d.addPlace(all, singles, members, between)
		i = j - 1
	}
	d.numberPlaces()
}

// addPlace keeps the best of the members and puts it in its order among the
// visits that are not counted.
func (d *draft) addPlace(all []Visit, singles []place, members, between []int) {
	best := members[0]
	for _, m := range members[1:] {
		if d.better(all[m], all[best]) {
			best = m
		}
	}
	p := place{}
	v := all[best]
	for _, m := range members {
		p.stops = append(p.stops, singles[m].stops...)
		if name := all[m].Stop.Name; m != best && !slices.Contains(v.Also, name) {
			v.Also = append(v.Also, name)
		}
	}
	for _, k := range between {
		if k < best {
			d.plan.Visits = append(d.plan.Visits, all[k])
		}
	}
	p.visit = len(d.plan.Visits)
	d.plan.Visits = append(d.plan.Visits, v)
	for _, k := range between {
		if k > best {
			d.plan.Visits = append(d.plan.Visits, all[k])
		}
	}
	d.places = append(d.places, p)
}

// better tells whether a stop is to be preferred to another of its place: a
// grade that meets first, then the surer standing, then the shorter detour. In a
// group, which fills together, a grade has to meet for each bike.
func (d *draft) better(a, b Visit) bool {
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
func (d *draft) numberPlaces() {
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
	for _, p := range d.places {
		for _, s := range p.stops[1:] {
			root[find(s)] = find(p.stops[0])
		}
	}
	for i := range d.places {
		d.places[i].number = find(d.places[i].stops[0])
	}
}
