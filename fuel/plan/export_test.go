package plan

// A Sighting is one passing of one stop.
type Sighting = sighting

// Candidates lists the stops that may be chosen, and those at the ends of the line.
func Candidates(in Inputs) (middle, ends []Sighting) {
	return NewWeigher(in).s.candidates()
}

// A Weigher plans a ride over some of the stops and tells what it is worth.
type Weigher struct{ s *survey }

// NewWeigher makes one, from where the rider stands on. It panics where he cannot stand.
func NewWeigher(in Inputs) Weigher {
	s := newSurvey(in)
	if _, err := s.fromHere(); err != nil {
		panic(err)
	}
	return Weigher{s}
}

// Worth plans the ride over the stops given: litres missing, stops that strand, litres
// below grade, rank of the can, detour, stops.
func (w Weigher) Worth(taken []Sighting) [6]int64 {
	if taken == nil {
		taken = []Sighting{}
	}
	return w.s.trial(change{chosen: taken}).worth().list()
}

// Choose gives what is chosen, on a first grid of mixtures so many octane wide; 0 for the
// usual one.
func (w Weigher) Choose(grid float64) ([]Sighting, error) {
	c := newChooser(w.s)
	if grid > 0 {
		c.grid = grid
	}
	taken, _, err := c.choose()
	return taken, err
}

// Together tells whether two stops are one place.
func Together(a, b Sighting) bool { return near(a.At, b.At) }

// A Tally is what one leg of a ride adds to its worth: the leg itself, and the stop at
// its end.
type Tally struct{ Missing, Stranded, Below, Can, Detour, Stops int64 }

// Tallies plans a ride over some of the stops, and gives what each leg adds.
func (w Weigher) Tallies(taken []Sighting) []Tally {
	d := w.s.trial(change{chosen: taken})
	var out []Tally
	for i, l := range d.plan.Legs {
		t := Tally{Can: canRank(max(d.lack(i), d.dryLack(i)))}
		if l.Verdict == Short {
			t.Missing = inCans(d.lack(i))
		}
		if d.below(i) {
			t.Below = micro(l.Drink.Fuel.Likely)
		}
		if i+1 < len(d.plan.Legs) {
			v := d.plan.Visits[l.ToVisit]
			t.Detour, t.Stops = milli(v.Detour), 1
			if v.IfDry.Outcome == Stranded {
				t.Stranded = 1
			}
		}
		out = append(out, t)
	}
	return out
}

// SamePlace tells whether two passings are of one place, which is dry whole.
func (w Weigher) SamePlace(a, b Sighting) bool {
	return w.s.villages()[a.stop] == w.s.villages()[b.stop]
}
