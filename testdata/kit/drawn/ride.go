// Package drawn has the rides that the tests of the planner and of its words are about: lines
// drawn along meridians, where kilometres can be counted by hand, stops beside them and a bike
// that needs no calculator; and random rides, the same for all.
//
// Start with [Ride], or with [AnyRide].
package drawn

import (
	"math"
	"time"

	"lastpump/fuel"
	"lastpump/fuel/leg"
	"lastpump/fuel/plan"
	"lastpump/fuel/plan/here"
	"lastpump/fuel/stop"
	"lastpump/octane"
	"lastpump/route"

	"github.com/paulmach/orb"
	"pgregory.net/rapid"
)

// PerDegree is a degree of a meridian on the sphere of 6 371 008.8 m (Moritz,
// Geodetic Reference System 1980): the rides below lie along one, so that their
// kilometres can be counted.
const PerDegree = 6371008.8 * math.Pi / 180 / 1000 // km

// At gives the place a number of kilometres north of 40° N on a meridian, and
// east of it by off kilometres: on the great circle that leaves the meridian there
// At a right angle, so that off is how far off the line it lies.
func At(km, off float64) orb.Point {
	lat, away := (40+km/PerDegree)*math.Pi/180, off/PerDegree*math.Pi/180
	return orb.Point{
		20 + math.Atan2(math.Sin(away), math.Cos(lat)*math.Cos(away))*180/math.Pi,
		math.Asin(math.Sin(lat)*math.Cos(away)) * 180 / math.Pi,
	}
}

// Straight is a line of that many kilometres with a point each kilometre.
func Straight(t rapid.TB, km int) *route.Line {
	t.Helper()
	return LineOf(t, 0, float64(km))
}

// LineOf goes from turn to turn along the meridian at sea level, with a point each
// kilometre.
func LineOf(t rapid.TB, turns ...float64) *route.Line {
	t.Helper()
	points := []route.Point{{Point: At(turns[0], 0), HasEle: true}}
	for i := 1; i < len(turns); i++ {
		step := math.Copysign(1, turns[i]-turns[i-1])
		for k := turns[i-1] + step; k*step <= turns[i]*step+1e-9; k += step {
			points = append(points, route.Point{Point: At(k, 0), HasEle: true})
		}
	}
	return LineThrough(t, points)
}

// LineThrough makes a line of segments as they are, with no stretch.
func LineThrough(t rapid.TB, segments ...[]route.Point) *route.Line {
	t.Helper()
	return LineWith(t, route.LineOptions{Stretch: 1}, segments...)
}

// LineWith makes a line of segments with options.
func LineWith(t rapid.TB, opt route.LineOptions, segments ...[]route.Point) *route.Line {
	t.Helper()
	l, err := route.NewLine([]route.Track{{Segments: segments}}, opt)
	if err != nil {
		t.Fatal(err)
	}
	return l
}

// Pump is a stop seen by the rider with the grades given.
func Pump(name string, km, off float64, grades ...octane.Grade) stop.Stop {
	if grades == nil {
		grades = []octane.Grade{octane.FromRON(95)}
	}
	return stop.Stop{Name: name, At: At(km, off), Grades: grades, Standing: stop.Seen,
		Confirmed: time.Date(2026, 6, 15, 0, 0, 0, 0, time.UTC), HasConfirmed: true}
}

// Flat is a bike that needs no calculator: 10.5 L, of which 10 usable, 5 L/100 km,
// on paved ground: 200 km to the last drop. It is a steady one.
func Flat() fuel.Bike {
	b := fuel.DefaultBike()
	b.Tank, b.Consumption = 10.5, 5
	b.Learnt = Steady(b)
	return b
}

// Ride is a plan on paved ground with no reserve; change what a test is about.
func Ride(line *route.Line, stops ...stop.Stop) plan.Inputs {
	o := plan.DefaultOptions()
	o.Reserve, o.Carry, o.FillAt = leg.Reserve{}, plan.Carry{}, plan.FillEverywhere
	o.Today = time.Date(2026, 7, 1, 0, 0, 0, 0, time.UTC)
	return plan.Inputs{Line: line, Stops: stops, Bike: Flat(), Options: o, Grounds: route.Grounds{Default: route.Paved}}
}

// RON is a grade by its research octane number.
func RON(n float64) octane.Grade { return octane.FromRON(octane.RON(n)) }

// Changed gives inputs after a change.
func Changed(in plan.Inputs, change func(in *plan.Inputs)) plan.Inputs {
	change(&in)
	return in
}

// Standing gives a stop another standing, with nobody to confirm it.
func Standing(s stop.Stop, st stop.Standing) stop.Stop {
	s.Standing, s.HasConfirmed = st, false
	return s
}

// ChangedStop gives a stop after a change.
func ChangedStop(s stop.Stop, change func(s *stop.Stop)) stop.Stop {
	change(&s)
	return s
}

// StartWith sets out with litres in the tank.
func StartWith(l fuel.Litres) func(in *plan.Inputs) {
	return func(in *plan.Inputs) { in.Options.HasStartFuel, in.Options.StartFuel = true, l }
}

// Keep keeps a share of the tank.
func Keep(share float64) func(in *plan.Inputs) {
	return func(in *plan.Inputs) { in.Options.Reserve.Share = share }
}

// Hearsay is a stop that somebody has heard of.
func Hearsay(name string, km float64, grades ...octane.Grade) stop.Stop {
	return Standing(Pump(name, km, 0, grades...), stop.Hearsay)
}

// FullOfIt leaves out what is said of taking less of a low grade.
func FullOfIt(in *plan.Inputs) { in.Options.LowGrade = plan.LowGradeFull }

// Tank gives the bike another usable tank.
func Tank(usable fuel.Litres) func(in *plan.Inputs) {
	return func(in *plan.Inputs) { in.Bike.Tank = usable + in.Bike.Unusable }
}

// OwnCan gives the bike a can.
func OwnCan(l fuel.Litres) func(in *plan.Inputs) { return func(in *plan.Inputs) { in.Bike.Can = l } }

// From plans the rest of a ride from a kilometre, with litres in the tank there.
func From(in plan.Inputs, km float64, litres fuel.Litres) plan.Inputs {
	in.Options.From, in.Options.HasFrom = route.Kilometres(km), true
	in.Options.StartFuel, in.Options.HasStartFuel = litres, true
	return in
}

// Used says what has been used over the last kilometres.
func Used(in plan.Inputs, litres fuel.Litres, km float64) plan.Inputs {
	in.Options.Used = &here.Used{Litres: litres, Trip: route.Kilometres(km)}
	return in
}

// Called is the flat bike with a name and another usable tank.
func Called(name string, usable fuel.Litres) fuel.Bike {
	b := Flat()
	b.Name, b.Tank = name, usable+b.Unusable
	return b
}
