package plan

import "lastpump/fuel"

// A relaxed is the search without mixtures: no leg counts as below grade but those that
// are so on whatever was filled before. What is left adds up over pairs of legs that follow each other, for two legs tell what happens if
// the stop between them is dry. It is worked out from the end backwards, so that every
// way on from a leg has its bound. Where the same place is passed twice running, the
// stop between counts as one that does not strand.
type relaxed struct {
	*chooser
	can   int64 // rank of the largest can
	legs  map[*arc]*[2]step
	first *step
	bound worth // of the whole ride
}

// A step is a leg and the best way on behind it.
type step struct {
	worth worth // of all behind the leg
	ok    bool  // there is a way on
	next  *arc
	full  bool // the can on the next leg
}

// relax works out the bounds for cans up to a rank.
func (c *chooser) relax(can int64) *relaxed {
	r := &relaxed{chooser: c, can: can, legs: map[*arc]*[2]step{}}
	last := len(c.nodes) - 1
	for i := last - 1; i >= 0; i-- {
		for _, a := range c.arcs[i] {
			s := &[2]step{}
			r.legs[a] = s
			for _, full := range r.cans(a) {
				*r.behind(a, full) = r.goOn(a, full)
			}
		}
	}
	start := r.goOn(nil, false)
	r.first, r.bound = &start, start.worth
	return r
}

// behind gives the step behind a leg.
func (r *relaxed) behind(a *arc, full bool) *step {
	if full {
		return &r.legs[a][1]
	}
	return &r.legs[a][0]
}

// from gives the bound of all behind a leg.
func (r *relaxed) from(a *arc, full bool) *worth { return &r.behind(a, full).worth }

// goOn finds the best way on behind a leg, or from the start.
func (r *relaxed) goOn(a *arc, full bool) step {
	at := 0
	if a != nil {
		at = a.to
	}
	if at == len(r.nodes)-1 {
		return step{ok: true}
	}
	var best step
	for _, n := range r.arcs[at] {
		if n.lack > r.can {
			continue
		}
		w, ok := r.between(a, full, n)
		if !ok {
			continue
		}
		w = w.plus(n.worth)
		for _, nextFull := range r.cans(n) {
			s := r.behind(n, nextFull)
			if !s.ok {
				continue
			}
			way := w.plus(s.worth)
			way.missing += n.missing(nextFull)
			if !best.ok || way.compare(best.worth) < 0 {
				best = step{worth: way, ok: true, next: n, full: nextFull}
			}
		}
	}
	return best
}

// missing gives what a leg lacks with the can full or empty.
func (a *arc) missing(full bool) int64 {
	if full {
		return a.lacks[1]
	}
	return a.lacks[0]
}

// between says what the stop between two legs adds if it is dry; not ok where it asks
// for too large a can, or the bike's can rides against the rule.
func (r *relaxed) between(a *arc, full bool, n *arc) (worth, bool) {
	if a == nil {
		return worth{}, true
	}
	if here := r.nodes[a.to].number; here == r.nodes[n.to].number && r.nodes[n.to].isStop || a.from > 0 && here == r.nodes[a.from].number {
		return worth{}, true
	}
	w, _, ok := r.settle([]waiting{a.waits(full, a.back, r)}, n)
	return w, ok
}

// ride gives the ride that is worth most but for its grades; nil where there is none.
func (r *relaxed) ride() *found {
	if !r.first.ok {
		return nil
	}
	f := &found{}
	for s := r.first; s.next != nil && s.next.to < len(r.nodes)-1; s = r.behind(s.next, s.full) {
		f.path = append(f.path, s.next.to)
	}
	f.worth = r.worthOf(f.path)
	return f
}

// waits gives the stop at the end of a leg, of which it is not known yet what happens
// if it is dry.
func (a *arc) waits(full bool, back fuel.Litres, r *relaxed) waiting {
	q := waiting{number: r.nodes[a.to].number, left: a.leg.Start - a.leg.Drink.Fuel.Likely, back: back}
	q.noCan = r.noFill(a.from)
	q.mayBeFull = a.leg.Verdict == OK && !q.noCan
	if full {
		q.canLeft = r.in.Bike.Can
	}
	return q
}

// cans gives how the bike's own can may ride on a leg.
func (r *relaxed) cans(a *arc) []bool {
	switch {
	case r.in.Bike.Can <= 0 || r.noFill(a.from):
		return []bool{false}
	case a.leg.Verdict != OK:
		return []bool{true}
	case a.to == len(r.nodes)-1:
		return []bool{false}
	}
	return []bool{false, true}
}

// settle says what becomes of the stops that wait when the ride goes on over a leg: what
// they add to its worth, and which still wait. It is not ok where one of them asks for
// too large a can, or its can rides against the rule.
func (r *relaxed) settle(all []waiting, a *arc) (w worth, open []waiting, ok bool) {
	for _, q := range all {
		q.on += a.leg.Drink.Fuel.Likely
		if n := r.nodes[a.to]; n.isStop && n.number == q.number {
			open = append(open, q)
			continue
		}
		lack := min(q.on, q.back) - q.left
		if lack > 0 && !q.noCan && canRank(lack) > r.can || q.mayBeFull && (lack > 0) != (q.canLeft > 0) && r.in.Bike.Can > 0 {
			return w, nil, false
		}
		slack := fuel.Litres(0)
		if q.canLeft > 0 {
			slack = hair
		}
		if lack-q.canLeft > slack {
			w.stranded++
		}
	}
	return w, open, true
}
