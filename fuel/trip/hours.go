package trip

import (
	"maps"
	"slices"

	"lastpump/fuel"
	"lastpump/fuel/clock"
	"lastpump/route"
)

// Hours are what a clock says of passings. One that is shut for longer than anybody waits is
// not counted; those that are so for the late run alone share its lateness, and are dry
// together.
type Hours map[Sighting]Hour

// An Hour is what a clock says of a passing, and the worst that one has said of it: by that the
// best stop of a place is kept.
type Hour struct {
	clock.Passing
	Worst clock.State
}

// With gives the hours of a later clock, and whether more passings fail in it than before. What
// has failed once goes on to fail: else one shut pump might open by another's being passed, and
// the other way round, for ever. So does what has been worse.
func (h Hours) With(later Hours) (all Hours, more bool) {
	all = maps.Clone(later)
	for g, p := range all {
		before := h[g]
		more = more || p.LongShut && !before.LongShut || p.DryIfLate && !before.DryIfLate
		p.LongShut, p.DryIfLate = p.LongShut || before.LongShut, p.DryIfLate || before.DryIfLate
		if rank(before.Worst) > rank(p.Worst) {
			p.Worst = before.Worst
		}
		all[g] = p
	}
	return all, more
}

// ByClock gives the trip with what a clock says of its passings.
func (t *Trip) ByClock(h Hours) *Trip {
	n := t.fresh()
	n.hours, n.late = h, nil
	for g, p := range h {
		if !g.IsOut() && p.DryIfLate && !p.LongShut && !slices.Contains(n.late, g.Stop) { // what is long shut is not counted
			n.late = append(n.late, g.Stop)
		}
	}
	slices.Sort(n.late)
	return n
}

// HasHours tells whether a clock has been asked.
func (t *Trip) HasHours() bool { return t.hours != nil }

// Hour gives what a clock says of a passing; nil where none was asked.
func (t *Trip) Hour(g Sighting) *clock.Passing {
	if p, ok := t.hours[g]; ok && p.Reached {
		return &p.Passing
	}
	return nil
}

// longShut tells whether a passing is out of the question by its hours.
func (t *Trip) longShut(g Sighting) bool { return t.hours != nil && t.hours[g].LongShut }

// hourRank gives how well a passing is to be preferred by its hours, 0 being the best.
func (t *Trip) hourRank(g Sighting) int { return rank(t.hours[g].Worst) }

func rank(s clock.State) int {
	return slices.Index([]clock.State{clock.Open, clock.NotKnown, "", clock.Doubtful, clock.Shut}, s)
}

// Counts tells whether a passing may be filled at.
func (t *Trip) Counts(g Sighting) bool { return t.Unfit(g.Stop, Change{}) == "" && !t.longShut(g) }

// Passable lists every passing that the line makes, and what lies beside it no farther off than
// anybody looks, in order.
func (t *Trip) Passable() []Sighting {
	all := slices.Clone(t.Sightings)
	for _, g := range t.Beside {
		if g.Off <= max(Reach, t.Options.Detours) {
			all = append(all, g)
		}
	}
	InOrder(all)
	return all
}

// Meets tells whether a stop sells what meets the need of each bike.
func (t *Trip) Meets(stop int) bool { return t.merits[stop].meets }

// Runs gives those of the line. They are not to be changed.
func (t *Trip) Runs() []route.Run { return t.runs }

// StretchRidden gives the stretch of line of so much ridden: the last behind where the rider
// stands, or the first of the line; all there is where that is less.
func (t *Trip) StretchRidden(over route.Metres) (from, to route.Metres) {
	ridden := func(from, to route.Metres) route.Metres { return t.Course.Between(from, to).Ridden }
	if at := t.StartAt(); at > 0 {
		return reach(at, 0, func(m route.Metres) bool { return ridden(m, at) >= over }), at
	}
	return 0, reach(0, t.Length, func(m route.Metres) bool { return ridden(0, m) >= over })
}

// reach gives how far from a place towards another enough is reached, to the metre.
func reach(from, to route.Metres, enough func(route.Metres) bool) route.Metres {
	if !enough(to) {
		return to
	}
	for max(from-to, to-from) > 1 {
		if middle := (from + to) / 2; enough(middle) {
			to = middle
		} else {
			from = middle
		}
	}
	return to
}

// Hours gives what a clock says of the passings; nil where none was asked. They are not to be
// changed.
func (t *Trip) Hours() Hours { return t.hours }

// VisitAt gives the visit of a passing; -1 where there is none.
func (d *Draft) VisitAt(g Sighting) int {
	return slices.IndexFunc(d.Visits, func(v Visit) bool { return v.Number == g.Stop && v.At == g.At })
}

// Near tells whether a ride fills within a place of a passing.
func (d *Draft) Near(g Sighting) bool {
	return slices.ContainsFunc(d.Nodes, func(n Node) bool { return n.HasStop() && Together(n.On.At, g.At) })
}

// TankOn gives the likely litres in the tank at a place along the line, on arriving there, or
// after a fill. Cans are not counted until they are poured by plan: as soon as all of it fits.
func (d *Draft) TankOn(at route.Metres, filled bool) fuel.Litres {
	if filled {
		return d.Bike.Usable()
	}
	for i, l := range d.Legs {
		if at > l.FromAt && at <= l.ToAt {
			left := l.Start - d.course.Between(l.FromAt, at).Fuel.Likely
			if on := d.Nodes[i].On; on.Half > 0 {
				left -= on.Home(d.course).Likely
			}
			if d.Bike.Usable()-left >= l.Poured {
				left += l.Poured
			}
			return max(0, left)
		}
	}
	return d.Start.Fuel
}

// ShownAt gives what stands on the trip meter on arriving at a place along the line, zeroed at the
// last fill before it.
func (d *Draft) ShownAt(at route.Metres) route.Metres {
	for i, l := range d.Legs {
		switch {
		case at <= l.FromAt:
			return 0
		case at < l.ToAt:
			return d.Bike.Shown(d.Ways[i].Ridden(at))
		case at == l.ToAt:
			return l.Trip(d.Bike)
		}
	}
	return 0
}
