package trip

import (
	"cmp"
	"slices"

	"lastpump/fuel"
	"lastpump/fuel/leg"
	"lastpump/fuel/stop"
	"lastpump/route"
)

// A Sighting is one passing of one stop.
type Sighting struct {
	Stop int // into Inputs.Stops
	route.Passage
	ByRoad
}

// A ByRoad is the way by road to a stop off the line. Where there is one the passing is where the
// line is left for it. The zero value is none: the way is guessed.
type ByRoad struct {
	Way int          // into [byroad.Ways], plus one
	Far route.Metres // how long it is, one way
}

// Detour gives the way there and back from the line to where the sighting's stop is; 0
// for a stop on the line.
func (g Sighting) Detour() route.Metres {
	switch {
	case g.Way > 0:
		return 2 * g.Far
	case g.Off <= stop.OnLine:
		return 0
	}
	return 2 * stop.DetourOverStraight * g.Off
}

// EndAt gives where a leg over a sighting's stop begins or ends.
func (t *Trip) EndAt(g Sighting) leg.End {
	return leg.End{At: g.At, Half: g.Detour() / 2, Off: t.roadOf(g.ByRoad)}
}

// roadOf gives a way by road; nil for none.
func (t *Trip) roadOf(by ByRoad) *fuel.Road {
	if by.Way == 0 {
		return nil
	}
	return &t.Ways.All[by.Way-1].Road
}

// sight gives the passings of a stop, each where the line is left for it.
func (t *Trip) sight(i int, passages []route.Passage) (out []Sighting) {
	for k, p := range passages {
		g := Sighting{Stop: i, Passage: p}
		if way, ok := t.Ways.Detour(i, passages, k, g.Detour()/2); ok {
			w := &t.Ways.All[way]
			g.At, g.ByRoad = w.Along, ByRoad{way + 1, w.Length()}
		}
		out = append(out, g)
	}
	return out
}

// placeReach is how far along the line the stops of one place lie from its first: one
// village, one power line, one delivery.
const placeReach route.Metres = 3000

// Together tells whether two places along the line are so near that stops there are one
// place.
func Together(a, b route.Metres) bool { return max(a-b, b-a) <= placeReach }

// InOrder sorts sightings as they come along the line.
func InOrder(sightings []Sighting) {
	slices.SortStableFunc(sightings, func(a, b Sighting) int { return cmp.Compare(a.At, b.At) })
}

// moved gives sightings at their new places along a line.
func moved(sightings []Sighting, to func(route.Metres) route.Metres) []Sighting {
	if sightings == nil {
		return nil
	}
	out := make([]Sighting, len(sightings))
	for i, g := range sightings {
		g.At = to(g.At)
		out[i] = g
	}
	InOrder(out)
	return out
}

// Reach is how far off the line a stop may lie to be worth a try on the way, where nobody
// says how far: our estimate.
const Reach route.Metres = 30000

// Candidates lists where one may fill: what the line passes, and what lies beside it no
// farther off than one looks. The stops at its ends are given apart.
func (t *Trip) Candidates() (middle, ends []Sighting) {
	all := slices.Clone(t.Sightings)
	for _, g := range t.Beside {
		if g.Off <= t.Options.Detours {
			all = append(all, g)
		}
	}
	start := t.StartAt()
	all = slices.DeleteFunc(all, func(g Sighting) bool {
		return !t.Counts(g) || g.At < start-atEnd
	})
	InOrder(all)
	for _, end := range []route.Metres{start, t.Length} {
		if g, ok := t.bestAt(all, end); ok && !slices.Contains(ends, g) {
			ends = append(ends, g)
		}
	}
	all = slices.DeleteFunc(all, func(g Sighting) bool { return g.At < start })
	for _, g := range all {
		if !slices.ContainsFunc(ends, func(e Sighting) bool { return Together(e.At, g.At) }) {
			middle = append(middle, g)
		}
	}
	return middle, ends
}

// bestAt gives the best stop at an end of the line.
func (t *Trip) bestAt(all []Sighting, end route.Metres) (best Sighting, ok bool) {
	atStart := end < t.Length
	for _, g := range all {
		named := t.standsBy(g)
		if named && atStart {
			return g, true
		}
		if named || g.Off > stop.OnLine || !NearEnd(g.At, end) || atStart && t.stands != nil && t.stands.AtStop {
			continue
		}
		if !ok || t.better(g, best) {
			best, ok = g, true
		}
	}
	return best, ok
}
