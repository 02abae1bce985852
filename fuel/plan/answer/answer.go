// Package answer sums a plan up in what stands first of it: does it hold, what if a pump
// is dry, is the grade there. Start with [Of], or with [OfGroup] for several bikes.
package answer

import (
	"slices"

	"lastpump/fuel/leg"
	"lastpump/fuel/stop"
	"lastpump/fuel/trip"
	"lastpump/octane"
	"lastpump/route"
)

// An Answer is what stands first of a plan: does it hold, what if a pump is dry, is
// the grade there. What to carry is in Plan.Can.
type Answer struct {
	Short []int        // legs
	Tight []int        // legs
	Worst int          // of Short, the leg that lacks most; -1 for none
	Last  route.Metres // of that leg, that the litres missing would take
	NoCan bool         // leg 0 is not OK and begins on the way, where no can is filled

	Places   int   // that may be dry
	Stranded []int // visits at which a dry pump strands
	Bare     []int // visits at which another is in reach on the likely figures only
	NoPump   int   // places from which only a start without a pump is in reach
	Leans    []int // stops that nobody is sure of, to which one rides on or back from a dry place
	Counted  int   // different stops that are counted
	FromMap  int   // of them, those only from a map

	Below    []int // legs below grade
	Doubtful []int // legs of doubtful grade, or not known
	Lowest   leg.Mixture
}

// Of sums up a ride.
func Of(d *trip.Draft) Answer {
	a := Answer{Worst: -1}
	a.holds(d)
	a.ifDry(d)
	a.sure(d)
	a.graded(d)
	return a
}

func (a *Answer) holds(d *trip.Draft) {
	for i, l := range d.Legs {
		switch l.Verdict {
		case leg.Short:
			a.Short = append(a.Short, i)
			if a.Worst < 0 || l.Short > d.Legs[a.Worst].Short {
				a.Worst, a.Last = i, l.Drink.Rate().Reach(l.Short)
			}
		case leg.Tight:
			a.Tight = append(a.Tight, i)
		}
	}
	a.NoCan = d.NoFill(0) && d.Legs[0].Verdict != leg.OK
}

func (a *Answer) ifDry(d *trip.Draft) {
	for i, v := range d.Visits {
		if v.IfDry == nil {
			continue
		}
		a.Places++
		if to := v.IfDry.To; v.IfDry.Outcome != leg.Stranded && to.HasStop() &&
			!d.Trip.Stops[to.Stop].Sure(d.Trip.Options.Today) && !slices.Contains(a.Leans, to.Stop) {
			a.Leans = append(a.Leans, to.Stop)
		}
		if BackToNoPump(*v.IfDry) {
			a.NoPump++
		}
		switch {
		case v.IfDry.Outcome == leg.Stranded:
			a.Stranded = append(a.Stranded, i)
		case v.IfDry.Bare:
			a.Bare = append(a.Bare, i)
		}
	}
}

// BackToNoPump tells whether a dry place leaves only the way back to a start at which
// no pump is counted.
func BackToNoPump(dry trip.IfDry) bool {
	return dry.Outcome == leg.Back && dry.To.Kind == trip.AtStart && !dry.To.HasStop()
}

// sure counts the stops that nobody has confirmed.
func (a *Answer) sure(d *trip.Draft) {
	seen := map[stop.Spot]bool{}
	for _, v := range d.Visits {
		if !v.Counted || seen[v.Stop.Spot()] {
			continue
		}
		seen[v.Stop.Spot()] = true
		a.Counted++
		if v.Stop.Standing == stop.Map {
			a.FromMap++
		}
	}
}

func (a *Answer) graded(d *trip.Draft) {
	for i, l := range d.Legs {
		switch l.Mixture.Verdict {
		case octane.Below:
			if a.Below = append(a.Below, i); len(a.Below) == 1 || l.Mixture.Low < a.Lowest.Low {
				a.Lowest = l.Mixture
			}
		case octane.Doubtful, octane.NotKnown:
			a.Doubtful = append(a.Doubtful, i)
		}
	}
}
