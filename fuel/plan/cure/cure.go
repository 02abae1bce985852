// Package cure finds what would mend a leg that does not hold, a dry place that strands
// or petrol that is under the need. Each cure is a change that is made and planned again,
// and only what then cures is given, cheapest first.
//
// Start with [Find]. What may be tried stands in tries.go, one function each; what a cure
// may not make worse stands in tally.go.
package cure

import (
	"slices"

	"lastpump/fuel"
	"lastpump/fuel/leg"
	"lastpump/fuel/plan/lowgrade"
	"lastpump/fuel/stop"
	"lastpump/fuel/trip"
	"lastpump/octane"
	"lastpump/route"
)

// A Cost says what a cure asks of the rider.
type Cost string

// The costs, cheapest first.
const (
	Nothing Cost = "nothing"
	Call    Cost = "a phone call"
	Carry   Cost = "a can"
	Detour  Cost = "a detour"
	Other   Cost = "other" // the other way round, begun elsewhere, with another's fuel
)

// rank orders costs, cheapest first.
func (c Cost) rank() int { return slices.Index([]Cost{Nothing, Call, Carry, Detour, Other}, c) }

// A Kind says what a cure does.
type Kind string

// The kinds of cures. Which figures of a [Cure] each has stands beside it.
const (
	SetOutFull Kind = "set out full" // Litres more in the tank
	Slower     Kind = "slower"       // Rate, Planned, Thirst
	PassBy     Kind = "pass by"      // Stops that are not filled at
	Confirmed  Kind = "confirmed"    // fill at Stops[0], passed at At, once its Standing is better
	InCan      Kind = "can"          // of Size, Litres in it at the least, as Use says
	Less       Kind = "less"         // the least of Low, up to its fill for Upto
	Lift       Kind = "lift"         // good petrol in a can, as Low.Lift says: Litres
	OffLine    Kind = "off the line" // fill at Stops[0], Off at At, once its Standing, if any, is better
	Reverse    Kind = "reverse"      // the other way round
	Begin      Kind = "begin"        // at Stops[0], BeginAt
	Borrow     Kind = "borrow"       // Litres in Loans
)

// Kinds lists them all.
func Kinds() []Kind {
	return []Kind{SetOutFull, Slower, PassBy, Confirmed, InCan, Less, Lift, OffLine, Reverse, Begin, Borrow}
}

// A Cure is a change that was made and planned again, and what came of it.
type Cure struct {
	Kind      Kind
	Cost      Cost
	Leg       int         // that it is for: the leg of the warning, or the one that leads to its place
	Mends     []int       // of several legs below grade those that no longer are
	Litres    fuel.Litres // to carry or to fill; meaningless unless HasLitres
	HasLitres bool
	Detour    route.Metres // meaningless unless HasDetour
	HasDetour bool
	Rate      fuel.Consumption // not to be exceeded on the leg, by the kilometres the bike shows
	Planned   fuel.Consumption // the same as it is planned
	HasRate   bool
	Thirst    float64      // of the ride at that rate
	Reverse   bool         // the other way round
	BeginAt   route.Metres // along the line; meaningless unless HasBegin
	HasBegin  bool
	BeginWas  route.Metres // the same along the line before it was turned
	BeginOnce bool         // the stop is passed but once: its name says where

	Stops    []string      // by name
	Standing stop.Standing // of the stop, that has to be confirmed; "" where it counts as it is
	At, Off  route.Metres  // of the stop, along the line and off it
	Size     fuel.Litres   // of the can
	Use      trip.Use      // of the can
	Low      *lowgrade.Dearth
	Upto     int // leg, to the end of which the least of Low is taken
	Loans    []Loan
	AllLent  bool // false: not all bikes that lack fuel on the leg can be lent enough

	Risky   bool   // of Low: a dry pump of Low.Risks strands then, or Cuts
	Cuts    bool   // into the reserve
	CanLegs int    // more legs on which the bike's can has to be full
	Below   int    // more legs below grade
	Verdict string // the new one: of the leg, of the worst mixture on Mends, or the outcome if the place is dry
}

// A Loan is one loan of a cure, and what speaks against it.
type Loan struct {
	From    string // the name of the lender
	Litres  fuel.Litres
	Worse   *leg.Mixture   // of the lender, where it is worse than the borrower's own; else nil
	Need    octane.Grade   // of the borrower
	Grade   octane.Verdict // of the lender's petrol for it
	IfDry   leg.Outcome    // what the lender no longer gets to if the end of the leg is dry; "" where he still does
	DryAt   trip.End       // the place that is dry
	DryGoal trip.End       // and the one that is out of reach then
}

// carried is what of a cure has to be carried.
func (c Cure) carried() fuel.Litres {
	if c.Cost != Carry {
		return 0
	}
	return c.Litres
}

// A Lacking says what is missing where nothing that was tried cures; of several legs below
// grade, the worst of them.
type Lacking struct {
	Untried  bool         // there are too many failures: none was looked for
	Tried    []Kind       // what was, in the order of [Kinds]
	Octane   float64      // under the need, of a leg below grade; else 0
	Litres   fuel.Litres  // to arrive, to keep the reserve, or to reach another stop if the place is dry
	Distance route.Metres // that they would take
}

// A Fault is what there is to cure.
type Fault string

// The faults.
const (
	Short    Fault = "short"    // a leg does not arrive
	Tight    Fault = "tight"    // a leg eats into its reserve
	Below    Fault = "below"    // a leg is ridden below grade
	Stranded Fault = "stranded" // a place strands if it is dry
)

// A Complaint is one fault of a ride: a leg, legs below grade that follow each other, or the
// place at the end of a leg, and the span of line on which a cure has to work.
type Complaint struct {
	Fault Fault
	Leg   int   // the leg, the worst of several, or the one that leads to the place
	legs  []int // all of them
	on    trip.Span
	place int // the stop that strands; meaningless for other faults
}

// OfLeg gives the complaint about a leg.
func OfLeg(d *trip.Draft, f Fault, i int) Complaint {
	return Complaint{Fault: f, Leg: i, legs: []int{i}, on: spanOf(d, i, i)}
}

// OfStretch gives the complaint about legs that follow each other and are below grade.
func OfStretch(d *trip.Draft, worst int, legs []int) Complaint {
	return Complaint{Fault: Below, Leg: worst, legs: legs, on: spanOf(d, legs[0], legs[len(legs)-1])}
}

// spanOf gives the span of line from one leg to another.
func spanOf(d *trip.Draft, from, to int) trip.Span {
	return trip.Span{From: d.Legs[from].FromAt, To: d.Legs[to].ToAt}
}

// OfVisit gives the complaint about a place that strands if it is dry.
func OfVisit(d *trip.Draft, visit int) Complaint {
	k := d.NodeOf(visit)
	return Complaint{Fault: Stranded, Leg: k - 1, legs: []int{k - 1}, place: d.Nodes[k].Stop,
		on: trip.Span{From: d.Nodes[k-1].On.At, To: d.Nodes[k+1].On.At}}
}
