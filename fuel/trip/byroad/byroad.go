// Package byroad lays a list of ways out beside a line and a list of stops: which way leads
// from which stop, or from which place on the line, to which stop, and which of them is the
// detour to a stop off the line.
//
// Start with [Match]. What a way takes and whether it counts is not decided here.
//
// The idea that surprises: a stop is found by its name and its place together. A name alone
// may be that of another stop, and a place alone may be off by the width of a town; who rides
// by either may ride to nothing. What is not found stays on the guess, and is told.
//
// # Sources
//
// How far a stop may lie from where the map has it is our estimate.
package byroad

import (
	"math"
	"slices"
	"strings"

	"lastpump/fuel"
	"lastpump/fuel/stop"
	"lastpump/fuel/wayout"
	"lastpump/route"
)

const (
	sameName  route.Metres = 500 // a pump of the name of a stop is that stop, up to so far away; a road may be so much shorter than the straight from a stop
	sameSpot  route.Metres = 100 // and one of another name
	sameAlong route.Metres = 300 // of the beginning of a way from a stop, along the line

	aside = 0.01 // degrees of latitude that are more than any of these
)

// A Way is one out, laid beside a line and stops.
type Way struct {
	wayout.Way
	Along  route.Metres // the line: where it begins, and is left
	From   int          // stop at which it begins, into the list; -1 for a place on the line
	ToStop int          // stop to which it leads, into the list; -1 where the pump is not on it
	Road   fuel.Road
}

// Doubtful tells whether a way may be shut, or is of ground that nobody knows.
func (w *Way) Doubtful() bool {
	return w.Marks&wayout.Doubtful != 0 || w.Road.Guessed() > 0
}

// Ways are all that lead out, and what of a list of stops they do not have.
type Ways struct {
	All     []Way
	NotFrom []string // stops within the corridor from which no way leads: the map may not have them
	from    map[int][]int
}

// From lists the ways that begin at a stop; -1 for those that begin on the line. They are not to
// be changed.
func (w *Ways) From(stop int) []int {
	if w == nil {
		return nil
	}
	return w.from[stop]
}

// Match lays ways beside a line and stops. A way from a stop that is not on the list is left
// out, for nobody stands there, and one that is the line itself.
func Match(line *route.Line, stops []stop.Stop, corridor route.Metres, ways []wayout.Way) *Ways {
	if len(ways) == 0 {
		return nil
	}
	m := matcher{line, stops, corridor}
	out, known := &Ways{from: map[int][]int{}}, map[int]bool{}
	for _, w := range ways {
		way := Way{Way: w, Along: line.FromFile(w.At), From: -1, ToStop: m.to(w), Road: roadOf(w)}
		if w.From != "" {
			if way.From = m.from(w); way.From < 0 {
				continue
			}
		}
		begins := w.TurnOff
		if way.From >= 0 {
			begins = stops[way.From].At
		}
		if way.Length() < route.Distance(begins, w.Pump)-sameName {
			continue // no road is shorter than the straight: a place is not where it was when it was looked for
		}
		known[way.From] = true
		if way.From >= 0 && way.From == way.ToStop || w.Marks&wayout.AlongLine != 0 { // on and back are told by the line
			continue
		}
		out.from[way.From] = append(out.from[way.From], len(out.All))
		out.All = append(out.All, way)
	}
	for i, s := range stops {
		if !known[i] && len(line.Passages(s.At, corridor)) > 0 {
			out.NotFrom = append(out.NotFrom, s.Name)
		}
	}
	return out
}

// A matcher finds stops.
type matcher struct {
	line     *route.Line
	stops    []stop.Stop
	corridor route.Metres
}

// to gives the stop that a way leads to; -1 for none.
func (m *matcher) to(w wayout.Way) int {
	best, least := -1, sameSpot
	for i, s := range m.stops {
		if math.Abs(s.At.Lat()-w.Pump.Lat()) > aside {
			continue
		}
		d := route.Distance(s.At, w.Pump)
		if strings.EqualFold(s.Name, w.To) && d <= sameName {
			return i
		}
		if d <= least {
			best, least = i, d
		}
	}
	return best
}

// from gives the stop at which a way begins; -1 for none.
func (m *matcher) from(w wayout.Way) int {
	at := m.line.FromFile(w.At)
	return slices.IndexFunc(m.stops, func(s stop.Stop) bool {
		if !strings.EqualFold(s.Name, w.From) {
			return false
		}
		closest, ok := m.line.Nearest(s.At, 0, m.line.Length())
		return ok && near(closest, at) || slices.ContainsFunc(m.line.Passages(s.At, m.corridor), func(p route.Passage) bool {
			return near(p, at)
		})
	})
}

func near(p route.Passage, at route.Metres) bool { return max(p.At-at, at-p.At) <= sameAlong }

// steep is what is climbed on the way home where only the climb on the way out is known, if
// that is not more: nine in ten of 172 recorded rides climb less.
const steep = 0.018

// roadOf gives a way as what it drinks is worked out from.
func roadOf(w wayout.Way) (r fuel.Road) {
	for i, g := range route.AllGrounds() {
		if w.Ground[i] > 0 {
			r.Ground = append(r.Ground, fuel.RoadGround{Ground: g, Length: w.Ground[i]})
		}
	}
	r.Up, r.Down, r.HasClimb = w.Climb, w.Descent, w.Climbed
	if !w.Descended {
		r.Down = max(w.Climb, steep*r.Length())
	}
	return r
}
