package plan

import (
	"cmp"
	"fmt"
	"slices"

	"lastpump/fuel"
	"lastpump/route"
)

// Detours says which stops a plan fills at.
type Detours string

// The rules for stops.
const (
	DetoursNone Detours = ""     // at every counted stop within the corridor
	DetoursAuto Detours = "auto" // where it serves the ride best, up to 30 km off the line, too
)

// Objective says what stops are chosen for, in this order.
const Objective = "no SHORT leg, else the fewest litres missing on them, each rounded up to a can it takes; no stop that strands if it is dry, else the fewest; " +
	"the fewest litres burnt below grade; the smallest can; the shortest detours; the fewest stops"

// A Choice is how the stops of a plan were chosen.
type Choice struct {
	Objective  string
	Candidates int    // counted passings of stops, those off the line included
	Taken      int    // of them
	Bike       string // of a group, the one that they were chosen for; "" for a single one
}

// A worth is what stops are chosen for: all of it speaks against a ride, and the smaller
// is the better. It is in whole millionths of a litre and millimetres, so that sums do not
// depend on their order.
type worth struct {
	missing  int64 // on SHORT legs, each rounded up to a can
	stranded int64 // stops that strand if they are dry
	below    int64 // likely litres of the legs that are below grade
	can      int64 // rank of its size; 0 in the search, which tries one after the other
	detour   int64
	stops    int64
}

func (w worth) list() [6]int64 {
	return [6]int64{w.missing, w.stranded, w.below, w.can, w.detour, w.stops}
}

// compare orders worths, the better first.
func (w worth) compare(o worth) int {
	a, b := w.list(), o.list()
	return slices.Compare(a[:], b[:])
}

func (w worth) plus(o worth) worth {
	return worth{w.missing + o.missing, w.stranded + o.stranded, w.below + o.below, max(w.can, o.can), w.detour + o.detour, w.stops + o.stops}
}

// minus takes off what a part of the way is worth; cans are left out.
func (w worth) minus(o worth) worth {
	return worth{w.missing - o.missing, w.stranded - o.stranded, w.below - o.below, 0, w.detour - o.detour, w.stops - o.stops}
}

func micro(l fuel.Litres) int64  { return int64(float64(l)*1e6 + 0.5) }
func milli(m route.Metres) int64 { return int64(float64(m)*1e3 + 0.5) }

// inCans gives what a SHORT leg is worth: what it lacks to be OK, rounded up to a can
// that is sold. It is carried in one, and a tenth of a litre less in it is not worth a
// worse petrol. What no can holds is worse than any number of cans.
func inCans(lack fuel.Litres) int64 {
	if s := canSize(lack); !s.TooBig {
		return micro(s.Litres)
	}
	return micro(lack + 1000)
}

// canRank orders sizes of cans; one that is not sold comes last.
func canRank(l fuel.Litres) int64 {
	s := canSize(l)
	switch {
	case s.TooBig:
		return int64(len(canSizes)) + 1
	case s.Litres == 0:
		return 0
	}
	return int64(slices.Index(canSizes, s.Litres)) + 1
}

// worth gives what a draft is worth.
func (d *draft) worth() worth {
	var w worth
	var can fuel.Litres
	for i, l := range d.plan.Legs {
		if l.Verdict == Short {
			w.missing += inCans(d.lack(i))
		}
		if d.below(i) {
			w.below += micro(l.Drink.Fuel.Likely)
		}
		if !d.noFill(i) {
			can = max(can, d.lack(i), d.dryLack(i))
		}
	}
	for _, n := range d.nodes[1 : len(d.nodes)-1] {
		v := d.plan.Visits[n.visit]
		if v.IfDry.Outcome == Stranded {
			w.stranded++
		}
		w.detour += milli(v.Detour)
		w.stops++
	}
	w.can = canRank(can)
	return w
}

// choice gives the change that the rule for stops makes to a plan.
func (s *survey) choice() (change, *Choice, error) {
	switch {
	case s.in.Options.Detours != DetoursAuto:
		return change{}, nil, nil
	case s.in.choice != nil:
		return change{chosen: s.in.chosen}, s.in.choice, nil
	}
	taken, choice, err := s.choose()
	return change{chosen: taken}, choice, err
}

// choose gives the stops to fill at: the best there are. The stops at the start and
// at the end are always among them. No two lie within 3 km along the line: they would
// be one place.
func (s *survey) choose() ([]sighting, *Choice, error) {
	return newChooser(s).choose()
}

func (c *chooser) choose() ([]sighting, *Choice, error) {
	if err := c.tooMany(); err != nil {
		return nil, nil, err
	}
	best := c.best(len(canSizes) + 1)
	low, high := 0, int(best.worth.can)
	for low < high { // the smallest can that costs nothing of what comes before it
		mid := (low + high) / 2
		if b := c.best(mid); b != nil && b.worth.first() == best.worth.first() {
			best, high = b, min(mid, int(b.worth.can))
		} else {
			low = mid + 1
		}
	}
	taken := c.taken(best.path)
	slices.SortFunc(taken, func(a, b sighting) int { return cmp.Compare(a.At, b.At) })
	return taken, &Choice{Objective: Objective, Candidates: len(c.nodes) - 2 + len(c.ends), Taken: len(taken)}, nil
}

// first is what comes before the can.
func (w worth) first() [3]int64 { return [3]int64{w.missing, w.stranded, w.below} }

// mostSteps is how many ways of going on from a leg are looked at at the most: about a
// second's work a round.
const mostSteps = 2_000_000

// tooMany refuses to choose among so many stops that it would take minutes.
func (c *chooser) tooMany() error {
	if c.steps <= mostSteps {
		return nil
	}
	return &route.InputError{What: fmt.Sprintf("--detours auto: %d stops are too many to choose among, with so many in reach of each other", len(c.nodes)-2),
		Hint: "take stops out of the list, or plan without --detours"}
}

// candidates lists where one may fill: what the line passes, and what lies off it
// within 30 km. The stops at its ends are given apart.
func (s *survey) candidates() (middle, ends []sighting) {
	d := &draft{survey: s, bike: s.in.Bike}
	all := slices.Concat(s.sightings, s.beside)
	start := d.startNode().at
	all = slices.DeleteFunc(all, func(g sighting) bool {
		return d.unfit(g.stop) != "" || g.Off > cureReach || g.At < start-atEnd
	})
	slices.SortStableFunc(all, func(a, b sighting) int { return cmp.Compare(a.At, b.At) })
	for _, end := range []route.Metres{start, s.length} {
		if g, ok := d.bestAt(all, end); ok && !slices.Contains(ends, g) {
			ends = append(ends, g)
		}
	}
	all = slices.DeleteFunc(all, func(g sighting) bool { return g.At < start })
	for _, g := range all {
		if !slices.ContainsFunc(ends, func(e sighting) bool { return near(e.At, g.At) }) {
			middle = append(middle, g)
		}
	}
	return middle, ends
}

// near tells whether two stops along the line are one place.
func near(a, b route.Metres) bool { return max(a-b, b-a) <= placeReach }

// bestAt gives the best stop at an end of the line.
func (d *draft) bestAt(all []sighting, end route.Metres) (best sighting, ok bool) {
	for _, g := range all {
		v := d.sighted(g)
		named := d.isHere(v)
		if named && end < d.length {
			return g, true
		}
		if named || g.Off > onLine || max(g.At-end, end-g.At) > atEnd || end < d.length && d.stands != nil && d.stands.atStop {
			continue
		}
		if !ok || d.better(d.sighted(g), d.sighted(best)) {
			best, ok = g, true
		}
	}
	return best, ok
}

// sighted gives the visit that a sighting would be.
func (d *draft) sighted(g sighting) Visit {
	return Visit{Stop: d.in.Stops[g.stop], At: g.At, Off: g.Off, Detour: detour(g.Off)}
}
