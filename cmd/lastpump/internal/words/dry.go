package words

import (
	"fmt"

	"lastpump/fuel"
	"lastpump/fuel/leg"
	"lastpump/fuel/stop"
	"lastpump/fuel/trip"
	"lastpump/fuel/wayout"
	"lastpump/route"

	"github.com/paulmach/orb"
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
	return fmt.Sprintf("%s to %s%s, %s spare", outcome, v.Goal(*d), v.byRoad(*d), v.Units.VolumeDown(d.Spare)) + v.IfThirsty(*d)
}

// byRoad says how far it is to where a road leads off to; "" for any other outcome.
func (v Voice) byRoad(d trip.IfDry) string {
	if d.Outcome != leg.Off {
		return ""
	}
	return v.lowThere(d.To.Stop) + ", " + v.RoadFar(d.Off.Way) + " " + v.onto(d.Off.Way)
}

// RoadsOf says how far to trust ways by road, and whose map they are of.
const RoadsOf = "Ways by road are of a map, and nobody has ridden them for this plan: a gate may be locked, a ford deep, a pump " +
	"gone. Map data © OpenStreetMap contributors, ODbL."

// RoadFar says how long a way out is: "29 km by road".
func (v Voice) RoadFar(way int) string {
	return v.Units.Distance(v.Plan.Ways.All[way].Length()) + " by road"
}

// onto says by which road a way out begins, and which way: "(right, NE, on Siding Road)".
func (v Voice) onto(way int) string {
	w := v.Plan.Ways.All[way]
	by := "to the " + w.Toward
	if w.Way.Road != "" {
		by = w.Toward + " on " + v.Name(w.Way.Road)
	}
	const atIt route.Metres = 500 // of the stop, where the road is seen from it
	if w.From >= 0 && route.Distance(v.Plan.Stops[w.From].At, w.TurnOff) > atIt {
		if at, ok := v.Plan.Line.Nearest(w.TurnOff, max(0, w.Along-farOff), w.Along+farOff); ok && at.Off <= atIt {
			return fmt.Sprintf("(from km %s of the ride, %s)", v.Units.Nearest(at.At), by)
		}
	}
	return "(" + by + ")"
}

// farOff is as far as a survey looks for a road along the line from a stop.
const farOff route.Metres = 100_000

// Off names where a road leads off to from a dry pump, how far it is, and by which road.
func (v Voice) Off(o trip.Off) string {
	w := v.Plan.Ways.All[o.Way]
	name := w.To
	if w.ToStop >= 0 {
		name = v.Plan.Stops[w.ToStop].Name
	}
	return fmt.Sprintf("%s%s, %s %s", v.Name(name), v.lowThere(w.ToStop), v.RoadFar(o.Way), v.onto(o.Way))
}

// lowThere says what is sold at a stop where all of it is below the need; "" where it is not, and for
// no stop.
func (v Voice) lowThere(stop int) string {
	if stop < 0 || !leg.SellsOnlyBelow(v.Plan.Stops[stop].Grades, v.Plan.Bike.Needs) {
		return ""
	}
	grades := leg.LowestFirst(v.Plan.Stops[stop].Grades, v.Plan.Bike.Needs)
	return fmt.Sprintf(" (%s)", grades[len(grades)-1])
}

// PerhapsOff says where a road leads off to from a dry pump that may not be leaned on, and why not.
func (v Voice) PerhapsOff(o trip.Off) string {
	why := map[trip.Perhaps]string{
		trip.NotListed:   "it is not in your list of stops: add it, with who has seen or phoned it and when, and it counts",
		trip.NotCounted:  "it is left out, only hearsay, not trusted, or sells no petrol",
		trip.NotSure:     "nobody has confirmed it within a year: phone, and it counts",
		trip.MaybeClosed: "the road may be closed, or its ground is not known",
		trip.MaybeShut:   "it may be shut when you get there",
		trip.OutOfReach:  "not if the bike is thirsty",
	}[o.Why]
	return fmt.Sprintf("perhaps off to %s: %s", v.Off(o), why)
}

// TurnSide says on which side of the line a way out leaves it; "" where it goes on ahead, back, or
// nobody knows.
func (v Voice) TurnSide(way int) string {
	w := v.Plan.Ways.All[way]
	at, ok := wayout.Beside(w.TurnOff, w.Toward)
	if !ok {
		return ""
	}
	_, side := v.Plan.Line.Toward(at, w.Along)
	return string(side)
}

// LatLon gives a place in degrees.
func LatLon(p orb.Point) string { return fmt.Sprintf("%.5f, %.5f", p.Lat(), p.Lon()) }

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

// IfThirsty says what becomes of an outcome if the bike drinks as much as dry places are judged by.
func (v Voice) IfThirsty(d trip.IfDry) string {
	switch {
	case d.Bare:
		return ", not if thirsty"
	case d.Outcome == leg.On && d.High == leg.Back:
		return fmt.Sprintf("; if thirsty only back to %s", v.Called(d.Back))
	case d.Outcome != leg.Off && d.High == leg.Off:
		return fmt.Sprintf("; if thirsty only off to %s", v.Off(*d.Off))
	}
	return ""
}
