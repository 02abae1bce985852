// Package words says in English what the planner gives as values. Every sentence that
// lastpump prints about a plan, every flag's name in a hint and every word for a unit is
// made here or in a room of this one and nowhere else; reports lay the sentences out.
//
// Here are answers, assumptions, cans and calls, and what they share with the rooms, which say
// what a [Voice] says and more: warned has warnings and cures, refused what is no plan at all.
package words

import (
	"fmt"
	"strings"

	"lastpump/cmd/lastpump/internal/words/units"
	"lastpump/fuel/leg"
	"lastpump/fuel/plan"
	"lastpump/fuel/trip"
	"lastpump/octane"
	"lastpump/route"
)

// A Voice says in English what a plan holds, to a rider with units of his own.
type Voice struct {
	Plan  *plan.Plan
	Units units.System
	Name  func(string) string // how the name of a place is written
}

// Of gives the voice for a plan. Names are written as they are.
func Of(p *plan.Plan, u units.System) Voice {
	return Voice{Plan: p, Units: u, Name: func(name string) string { return name }}
}

// NameOf names an end of a leg: by the stop that is there, if there is one.
func NameOf(p *plan.Plan, e trip.End) string {
	switch {
	case e.HasStop():
		return p.Stops[e.Stop].Name
	case e.Kind == trip.AtFinish:
		return "the end"
	case p.Start.OnTheWay:
		return "here"
	}
	return "the start"
}

// EndsOf names both ends of a leg, as [NameOf] does.
func EndsOf(p *plan.Plan, leg int) (from, to string) {
	return NameOf(p, p.Legs[leg].From), NameOf(p, p.Legs[leg].To)
}

// Called names a place: a stop, the start or the end; where the rest of a ride is planned, its
// beginning by the kilometre, for who reads it is somewhere else by then.
func (v Voice) Called(to trip.End) string {
	if to.Kind == trip.AtStart && !to.HasStop() && v.Plan.Here.OnTheWay() {
		return v.Km(v.Plan.Here.At)
	}
	return v.Name(NameOf(v.Plan, to))
}

// RideStart names where the ride begins.
func (v Voice) RideStart() string { return v.Called(v.Plan.Legs[0].From) }

// RideEnd names where the ride ends.
func (v Voice) RideEnd() string { return v.Called(v.Plan.Legs[len(v.Plan.Legs)-1].To) }

// Ends names the ends of a leg.
func (v Voice) Ends(leg int) (from, to string) {
	l := v.Plan.Legs[leg]
	return v.Called(l.From), v.Called(l.To)
}

// AllCalled names several places.
func (v Voice) AllCalled(places []trip.End) []string {
	names := make([]string, len(places))
	for i, e := range places {
		names[i] = v.Called(e)
	}
	return names
}

// LegNamed names a leg as the tables number it.
func (v Voice) LegNamed(i int) string {
	from, to := v.Ends(i)
	return fmt.Sprintf("leg %d, %s to %s", i+1, from, to)
}

// Passed names a visit, with its place along the line where a stop of its name is passed
// more than once.
func (v Voice) Passed(visit int) string {
	name, passed := v.Plan.Visits[visit].Stop.Name, 0
	for _, o := range v.Plan.Visits {
		if o.Stop.Name == name {
			passed++
		}
	}
	if passed < 2 {
		return v.Name(name)
	}
	return fmt.Sprintf("%s (%s)", v.Name(name), v.Km(v.Plan.Visits[visit].At))
}

// Km names a place along the line: "km 212".
func (v Voice) Km(at route.Metres) string { return v.Units.Km(at) }

// startName names the start as a place, whatever stop is there.
func (v Voice) startName() string {
	if v.Plan.Here.OnTheWay() {
		return "here"
	}
	return "the start"
}

// Mixture gives a mixture as a rider reads it, rounded down: "91.5 RON" or "91.5 to
// 92.0 RON".
func Mixture(m leg.Mixture) string {
	return Interval(octane.Interval{Scale: m.Scale, Low: m.Low, High: m.High})
}

// Interval gives what petrol is worth as a rider reads it, rounded down.
func Interval(in octane.Interval) string {
	low, high := octane.ShownDown(in.Low), octane.ShownDown(in.High)
	if low == high {
		return fmt.Sprintf("%.1f %s", low, in.Scale)
	}
	return fmt.Sprintf("%.1f to %.1f %s", low, high, in.Scale)
}

// Step says what a plan is being made of.
func Step(s plan.Step) string {
	switch s {
	case plan.ChoosingStops:
		return "choosing stops"
	case plan.TryingSkips:
		return "trying which stops may be skipped"
	case plan.FindingCures:
		return "looking for cures"
	case plan.TryingAnswers:
		return "trying what a call may change"
	}
	return "trying what may turn out otherwise"
}

// lowered gives a sentence as it stands behind a colon.
func lowered(s string) string { return strings.ToLower(s[:1]) + s[1:] }

// raised gives a sentence as it stands behind a full stop.
func raised(s string) string { return strings.ToUpper(s[:1]) + s[1:] }
