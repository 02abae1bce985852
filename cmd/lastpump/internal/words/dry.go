package words

import (
	"fmt"

	"lastpump/fuel"
	"lastpump/fuel/leg"
	"lastpump/fuel/stop"
	"lastpump/fuel/trip"
)

// What becomes of a ride if a pump is dry is said in three places: in a cell of a table,
// whose head has the unit; on the strip, in as few letters as can be; and in the notes of
// a waypoint, which is read when the pump is near. The last two are in trail.

// IfDryCell says it in a table. mark shows an outcome.
func (v Voice) IfDryCell(d *trip.IfDry, mark func(string) string) string {
	if d == nil {
		return "-"
	}
	outcome := mark(string(d.Outcome))
	if d.Outcome == leg.Stranded {
		return fmt.Sprintf("%s, %s", outcome, v.ShortOf(*d, v.Units.VolumeUp))
	}
	return fmt.Sprintf("%s to %s, %s spare", outcome, v.Goal(*d), v.Units.VolumeDown(d.Spare)) + v.OnTheHighFigure(*d)
}

// ShortOf says how much is lacking to the pump that is the least out of reach.
func (v Voice) ShortOf(d trip.IfDry, volume func(fuel.Litres) string) string {
	return fmt.Sprintf("%s short of %s", volume(-d.Spare), v.Goal(d))
}

// Goal names where one rides to from a dry pump, and how sure that is where nobody is.
func (v Voice) Goal(d trip.IfDry) string {
	if !d.To.HasStop() {
		return v.Called(d.To)
	}
	return v.Called(d.To) + v.Unsure(v.Plan.Stops[d.To.Stop], " (map)", " (not confirmed)")
}

// Unsure gives one word for a stop that is only from a map, and another for one that nobody
// has confirmed within a year; none for one that is sure.
func (v Voice) Unsure(s stop.Stop, onMap, unconfirmed string) string {
	switch {
	case s.Sure(v.Plan.Options.Today):
		return ""
	case s.Standing.Rank() > stop.Phoned.Rank():
		return onMap
	}
	return unconfirmed
}

// OnTheHighFigure says what becomes of an outcome if the bike drinks the high figure.
func (v Voice) OnTheHighFigure(d trip.IfDry) string {
	switch {
	case d.Bare:
		return ", not at the high figure"
	case d.Outcome == leg.On && d.High == leg.Back:
		return fmt.Sprintf("; at the high figure only back to %s", v.Called(d.Back))
	}
	return ""
}
