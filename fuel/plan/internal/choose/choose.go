// Package choose finds which stops of a ride to fill at, for the cans that the bike
// carries, by [trip.Worth].
//
// Start with [Best]. The stops and the legs between them are a graph (graph.go); bounds
// tell what is still to come (bound.go), and a search along the line keeps what may become
// the best (search.go). A draft of what is found is made and weighed: nothing is worth what
// a plan would not confirm.
//
// The idea that surprises: what a can makes of a leg does not depend on where it was filled.
// What a leg asks for, at the high figures and if its end is dry at the most, is in it wherever the can holds so much, and else
// it is full. So legs, and what happens if a pump is dry, are judged before it is known how
// the ride came there; where it was filled bears on the mixture alone.
//
// # Limits
//
// No two stops within 3 km along the line are chosen together: they would be one place.
// Where the search comes to the end of its work it does not prove what it found, and says
// what the best may be at the best.
package choose

import (
	"context"
	"slices"

	"lastpump/fuel/trip"
)

// A Choice is the stops that were chosen.
type Choice struct {
	Taken      []trip.Sighting // in order along the line
	Candidates int             // counted passings of stops, those off the line included
	Worth      trip.Worth      // of the ride that fills at them
	Bound      trip.Worth      // no choice is better; less than Worth where the best is not proven
}

// Proven tells whether there is no better choice.
func (c Choice) Proven() bool { return c.Bound.Compare(c.Worth) == 0 }

// Best gives the stops to fill at: the best there are, or as good as a bound of work allows.
// It is never worse than filling everywhere. The stops at the start and at the end are always
// among them. Who waits is told how far along the ride the search is, each time it goes along
// it anew. The error is that of the context.
func Best(ctx context.Context, t *trip.Trip, tell func(done, of int)) (Choice, error) {
	return BestWith(ctx, t, Work{Legs: 500_000, Nodes: 1200, Pairs: 60_000}, tell)
}

// Work is how much of it is done at the most: what [Best] does takes a second or two.
type Work struct {
	Legs  int     // that are ridden in a search
	Nodes int     // stops that are searched among
	Pairs int     // of them that are in reach of each other
	Width float64 // octane: of the cells of the bounds; 0 for what suits the ride
}

// BestWith is [Best] with so much work.
func BestWith(ctx context.Context, t *trip.Trip, work Work, tell func(done, of int)) (Choice, error) {
	middle, ends := t.Candidates()
	g := newGraph(t, middle, ends, work)
	g.tell = tell
	taken, found, bound, err := g.best(ctx)
	if err != nil {
		return Choice{}, err
	}
	if g.thinned {
		bound = g.coarse(middle)
	}
	if all, w := g.everywhere(); w.compare(found) < 0 {
		taken, found = all, w
	}
	c := Choice{Taken: taken, Candidates: len(middle) + len(ends), Worth: found.worth(t)}
	c.Bound = lesser(found, bound).worth(t)
	return c, nil
}

// best gives the best choice that is found, what it weighs, and what no choice is less than.
func (g *graph) best(ctx context.Context) (taken []trip.Sighting, found, bound weight, err error) {
	g.layArcs()
	g.findStances()
	taken = g.taken(g.firstPath())
	found = g.weigh(taken)
	g.prune(found)
	g.findStances()
	for _, e := range g.efforts() {
		var l *label
		if l, bound, err = g.bound(e.width, found).search(ctx, e.most); err != nil {
			return nil, worst, worst, err
		}
		if l != nil {
			t := g.taken(l.path())
			if w := g.weigh(t); w.compare(found) < 0 {
				taken, found = t, w
			}
		}
		if bound.compare(found) >= 0 {
			break
		}
	}
	return taken, found, bound, nil
}

// firstPath gives the best ride, mixtures left out.
func (g *graph) firstPath() (path []int) {
	_, rests := g.least()
	for i := rests[0].next; i < len(g.nodes)-1; i = rests[i].next {
		path = append(path, i)
	}
	return path
}

// An effort is how wide the finest cells of the bounds are in a search, in octane, and how many
// labels are kept for each node.
type effort struct {
	width float64
	most  int
}

// efforts gives what search after search does: little for something to better, then as much as
// the work allows.
func (g *graph) efforts() []effort {
	const finest, fineLegs, few = 0.01, 8000, 8
	legs := max(1, g.legs())
	width := finest * max(1, float64(legs)/fineLegs)
	if g.work.Width > 0 {
		width = g.work.Width
	}
	most := max(1, g.work.Legs/legs)
	return []effort{{16 * width, min(few, most)}, {width, min(few, most)}, {width, most}}
}

// legs counts the arcs.
func (g *graph) legs() (n int) {
	for _, all := range g.arcs {
		n += len(all)
	}
	return n
}

// everywhere gives the choice of all that the line passes, and what it weighs.
func (g *graph) everywhere() ([]trip.Sighting, weight) {
	all := append([]trip.Sighting{}, g.ends...) // one at which the rider stands may lie off the line
	for _, s := range g.trip.Sightings {
		if g.trip.Counts(s) && !slices.Contains(g.ends, s) {
			all = append(all, s)
		}
	}
	trip.InOrder(all)
	return all, g.weigh(all)
}
