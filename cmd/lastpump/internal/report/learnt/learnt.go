// Package learnt writes what was learnt from fill-ups: as text for a terminal, as a page with
// pictures, and as JSON for other programs.
package learnt

import (
	"lastpump/fuel"
	"lastpump/fuel/learn"
	"lastpump/fuel/learn/fills"
	"lastpump/route"
)

// A Report is what was learnt from a file of fills.
type Report struct {
	Bike    fuel.Bike
	Log     *fills.Log
	Tanks   fills.Tanks
	Entries []learn.Entry // one for each of the tanks
	Kept    learn.State   // after the last full tank: the one to go on from
	Now     learn.State   // with what is known of the tank that is not full yet
	Notes   []string      // of the files
	Written string        // the bike file that was written; "" for none
}

// New learns from the tanks of a log, from a state on.
func New(b fuel.Bike, s learn.State, l *fills.Log, t fills.Tanks) Report {
	r := Report{Bike: b, Log: l, Tanks: t, Entries: s.Through(t.Learn()), Kept: s, Notes: l.Notes}
	if n := len(r.Entries); n > 0 {
		r.Kept = r.Entries[n-1].After
	}
	r.Now, _ = r.Kept.LearnOpen(t.Open)
	return r
}

// used counts the tanks that were learnt from.
func (r Report) used() (n int) {
	for _, e := range r.Entries {
		if e.Step.Used {
			n++
		}
	}
	return n
}

// oneLeg is a leg on paved road that takes a whole tank by the bike file.
func (r Report) oneLeg(s learn.State) (planned fuel.Litres, ahead learn.Band) {
	planned = r.Bike.Usable()
	return planned, s.Ahead(fuel.SureNeeds(map[route.Ground]fuel.Litres{route.Paved: planned}, 0))
}

// ridden gives the litres that the tanks learnt from had on each ground, by the bike file.
func (r Report) ridden() (litres [fuel.WeightCount]fuel.Litres, all fuel.Litres) {
	for _, e := range r.Entries {
		if !e.Step.Used {
			continue
		}
		for i, f := range e.Tank.Needs.Flat {
			litres[i] += f.Likely
			all += f.Likely
		}
	}
	return litres, all
}

// littlePaved is the share of paved litres under which rate and weights are not told apart:
// our estimate.
const littlePaved = 0.05

// noPaved tells whether the tanks had next to no paved road.
func (r Report) noPaved() bool {
	litres, all := r.ridden()
	return all > 0 && litres[0] < littlePaved*all
}
