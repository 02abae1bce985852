package cue

import (
	"slices"

	"lastpump/fuel/bailout"
	"lastpump/fuel/trip"
	"lastpump/route"
)

// Metered gives marks with the leg on which each lies and what the trip meter shows there; of one
// behind the rider the first leg, and how far behind, as the trip meter counts, below zero.
func Metered(d *trip.Draft, marks []bailout.Mark) []bailout.Mark {
	out := slices.Clone(marks)
	for i := range out {
		m := &out[i]
		withPumps(d, m)
		for k, l := range d.Legs {
			if l.FromAt <= m.At {
				m.Leg = k
			}
		}
		if back := d.Legs[0].FromAt - m.At; back > 0 {
			m.Trip = -d.Bike.Shown(back)
			continue
		}
		m.Trip = d.Bike.Shown(d.Ways[m.Leg].Ridden(m.At))
	}
	return out
}

// samePump is how near the pump of a map lies to the stop of a list that it is: our estimate.
const samePump route.Metres = 300

// withPumps gives a mark the nearest counted stop along the line, where that is nearer than the pump
// that the map knows: a map may have no road there, or not the pump. A pump of the map that is a stop
// which does not count is none.
func withPumps(d *trip.Draft, m *bailout.Mark) {
	for _, v := range d.Visits {
		if v.WhyNot != "" && v.WhyNot != trip.NotNeeded {
			m.Drop(func(w bailout.Way) bool {
				return w.Kind == bailout.Pump && route.Distance(w.Goal, v.Stop.At) <= samePump
			})
		}
	}
	for _, v := range d.Visits {
		if v.WhyNot != "" && v.WhyNot != trip.NotNeeded || d.Trip.Line.GapBetween(m.At, v.At) {
			continue // nobody knows whether a gap can be ridden
		}
		half := d.Trip.EndAt(v.Sighting()).Half
		far := d.Trip.Course.Between(min(m.At, v.At), max(m.At, v.At)).Ridden + half
		m.Nearer(bailout.Way{At: m.At, Mark: m.Place, Kind: bailout.Pump, What: "fuel", To: v.Stop.Name, Goal: v.Stop.At,
			Length: far, Leave: v.At})
	}
}
