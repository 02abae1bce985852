package trip

import (
	"slices"

	"lastpump/fuel/leg"
	"lastpump/fuel/stop"
	"lastpump/octane"
	"lastpump/route"

	"github.com/paulmach/orb"
)

// A Standpoint is where the rider stands, from where the rest of a ride is planned.
type Standpoint struct {
	At     route.Metres // along the line
	AtStop bool         // he has said at which stop, and stands there
	Stop   int          // which; meaningless unless AtStop
	On     leg.End      // there, with his way back to the line
	Point  orb.Point
	Tank   octane.Mixture // as the whole plan has it on arriving there; empty at the start
}

// From gives the trip from where the rider stands on.
func (t *Trip) From(s Standpoint) *Trip {
	n := t.fresh()
	n.stands = &s
	return n
}

// Stands gives where the rider stands; nil at the start of the line.
func (t *Trip) Stands() *Standpoint { return t.stands }

// StartAt gives where the first leg begins.
func (t *Trip) StartAt() route.Metres {
	if t.stands != nil {
		return t.stands.At
	}
	return 0
}

// startPoint gives where the first leg begins, on the ground.
func (t *Trip) startPoint() orb.Point {
	if t.stands != nil {
		return t.stands.Point
	}
	return t.Line.At(0)
}

// onTheWay tells whether the rider is no longer at the start of the line.
func (t *Trip) onTheWay() bool { return t.stands != nil && t.stands.At > 0 }

// standsBy tells whether a sighting is that of the stop the rider has named.
func (t *Trip) standsBy(g Sighting) bool {
	return t.stands != nil && t.stands.AtStop && g.At == t.stands.At && g.Stop == t.stands.Stop
}

// ahead gives those of what is passed that the rider has not left behind. One just behind him
// by the line is where he stands, unless he has named another.
func (t *Trip) ahead(all []pass, which []int) []int {
	if t.stands == nil {
		return which
	}
	back := t.stands.At - atEnd
	return slices.DeleteFunc(slices.Clone(which), func(i int) bool {
		v := all[i]
		stands := v.counted() && !t.stands.AtStop && v.Off <= stop.OnLine && v.At >= back
		return v.At < t.stands.At && !stands
	})
}

// startTank gives what is in a tank of so many litres at the start: of the grade that is
// said, or on the way what the whole plan has there, or of the need.
func (t *Trip) startTank(volume float64) octane.Mixture {
	if t.startsAsPlanned() {
		return t.stands.Tank.Resize(volume)
	}
	return octane.Mixture{}.AddGrade(volume, t.StartGrade(), t.Bike.Needs)
}

// StartGrade gives the grade of what is in the tank at the start: what is said, or the
// need.
func (t *Trip) StartGrade() octane.Grade {
	if g := t.Options.StartGrade; g.Scale != "" {
		return g
	}
	return t.Bike.Needs
}

// startsAsPlanned tells whether the mixture at the start is that of the whole plan.
func (t *Trip) startsAsPlanned() bool {
	return t.Options.StartGrade.Scale == "" && t.stands != nil && t.stands.Tank.Volume() > 0
}
