package trip

import (
	"slices"

	"lastpump/fuel/leg"
	"lastpump/fuel/stop"
	"lastpump/route"
)

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
