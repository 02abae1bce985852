package cue

import (
	"slices"

	"lastpump/fuel/bailout"
	"lastpump/fuel/trip"
)

// Metered gives marks with the leg on which each lies and what the trip meter shows there; of one
// behind the rider the first leg, and how far behind, as the trip meter counts, below zero.
func Metered(d *trip.Draft, marks []bailout.Mark) []bailout.Mark {
	out := slices.Clone(marks)
	for i := range out {
		m := &out[i]
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
