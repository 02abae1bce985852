// Package call finds whom to phone before a ride: the stops that nobody is sure of, and what each
// answer that they may give changes in the plan.
//
// Start with [Find]. The idea that surprises: a call is worth what its worst answer costs, for
// that is what the rider learns at home instead of at a dry pump; what its best answer saves comes
// second. Both are in the order of [trip.Worth].
//
// # Limits
//
// One stop is asked at a time: two that lean on each other are not tried together.
package call

import (
	"lastpump/fuel"
	"lastpump/fuel/leg"
	"lastpump/fuel/stop"
	"lastpump/fuel/trip"
	"lastpump/octane"
	"lastpump/route"
)

// A Call is a stop to ask before the ride.
type Call struct {
	Stop  int          // into the stops given
	Visit int          // the first ahead; -1 where the ride has none
	At    route.Metres // along the line
	AskAt int          // visit of the sure stop before it that has a number, where it has none itself; -1 for none
	Ask   Ask
	Grade octane.Grade // asked for; meaningless unless Ask is [ForGrade]
	If    []If
	// Decided tells that stops and cans were decided anew with each answer, so that a plan made
	// with it changes by just this; else fills and cans are as they are.
	Decided bool
}

// An Ask is what is asked.
type Ask string

// What may be asked.
const (
	Whether  Ask = "sells" // whether it sells at all: no grade is listed that would meet
	ForGrade Ask = "grade" // whether it sells a grade
)

// An If is an answer, and what it changes in the plan.
type If struct {
	Answer  stop.Answer
	Changes Changes
}

// Changes are what a plan has more, or less where they are negative, than the one without an
// answer.
type Changes struct {
	Stranded int          // places that strand if they are dry
	Bare     int          // places that do so at the most alone, see [fuel.Most]
	NotOK    int          // legs that are TIGHT or SHORT
	Short    fuel.Litres  // that SHORT legs lack
	Can      fuel.Litres  // in all cans
	Octane   fuel.Litres  // times octane that the tank is under the need
	Ridden   route.Metres // with detours
}

// What is shown as nothing: our estimate.
const (
	noLitres fuel.Litres  = 0.05
	noOctane fuel.Litres  = 0.5
	noMetres route.Metres = 50
)

// Nothing tells whether nothing changes that a rider would be shown.
func (c Changes) Nothing() bool {
	return c.Stranded == 0 && c.Bare == 0 && c.NotOK == 0 && c.Can == 0 &&
		max(c.Short, -c.Short) < noLitres && max(c.Octane, -c.Octane) < noOctane && max(c.Ridden, -c.Ridden) < noMetres
}

// An outcome is what a ride comes to.
type outcome struct {
	trip.Worth
	notOK  int
	ridden int64 // millimetres
}

func outcomeOf(d *trip.Draft) outcome {
	o := outcome{Worth: d.Worth()}
	for _, l := range d.Legs {
		if l.Verdict != leg.OK {
			o.notOK++
		}
		o.ridden += trip.Milli(l.Drink.Ridden)
	}
	return o
}

// since gives what has changed since another outcome.
func (o outcome) since(b outcome) Changes {
	return Changes{
		Stranded: int(o.Stranded - b.Stranded), Bare: int(o.Bare - b.Bare), NotOK: o.notOK - b.notOK,
		Short: fuel.Litres(o.Short-b.Short) / 1e6, Octane: fuel.Litres(o.Octane-b.Octane) / 1e6,
		Can: o.Cans.Total() - b.Cans.Total(), Ridden: route.Metres(o.ridden-b.ridden) / 1000,
	}
}
