package answer

import (
	"slices"

	"lastpump/fuel"
	"lastpump/fuel/leg"
	"lastpump/fuel/plan/group"
	"lastpump/fuel/trip"
)

// A Group is how a group fares. What it has to carry is in [group.Ride].
type Group struct {
	Worst     int         // leg
	Lacking   int         // legs on which somebody lacks fuel
	After     leg.Verdict // the worst of them, after the loans
	Uncovered fuel.Litres // the most that is lacking on one of them, after the loans

	Short    []int // legs that are SHORT for somebody
	Tight    []int // of the others those that are TIGHT for somebody
	Stranded []int // visits at which a dry pump strands somebody
	Bare     []int // of the others those at which another is barely in reach for somebody
	Leans    []int // as in [Answer], of all bikes
	Stuck    int   // the bike that is stranded at most of them; meaningless where there is none
	Below    []int // bikes that ride legs below their need
	Lowest   int   // of them that with most such legs
	Doubtful []int // of the others those that ride legs of doubtful or unknown grade
}

// OfGroup sums up how a group fares on its legs.
func OfGroup(legs []group.Leg, bikes []*trip.Draft) Group {
	a := Group{After: leg.OK}
	for i, l := range legs {
		if x, y := bikes[l.SetBy].Legs[i], bikes[legs[a.Worst].SetBy].Legs[a.Worst]; x.Worse(y.Leg) {
			a.Worst = i
		}
		if l.NotOK > 0 {
			a.Lacking++
			a.Uncovered = max(a.Uncovered, l.Lack)
			a.After = leg.Worst(a.After, l.Lent)
		}
		switch l.Verdict {
		case leg.Short:
			a.Short = append(a.Short, i)
		case leg.Tight:
			a.Tight = append(a.Tight, i)
		}
	}
	each := make([]Answer, len(bikes))
	for b, d := range bikes {
		each[b] = Of(d)
	}
	a.ifDry(each, len(bikes[0].Visits))
	a.graded(each)
	return a
}

// ifDry gathers at which places a dry pump strands anybody. All bikes have the same visits.
func (a *Group) ifDry(each []Answer, visits int) {
	for i := range visits {
		at := func(of func(Answer) []int) bool {
			return slices.ContainsFunc(each, func(a Answer) bool { return slices.Contains(of(a), i) })
		}
		switch {
		case at(func(a Answer) []int { return a.Stranded }):
			a.Stranded = append(a.Stranded, i)
		case at(func(a Answer) []int { return a.Bare }):
			a.Bare = append(a.Bare, i)
		}
	}
	for b, of := range each {
		for _, s := range of.Leans {
			if !slices.Contains(a.Leans, s) {
				a.Leans = append(a.Leans, s)
			}
		}
		if len(of.Stranded) > len(each[a.Stuck].Stranded) {
			a.Stuck = b
		}
	}
}

// graded gathers whose petrol is below the need, or may be.
func (a *Group) graded(each []Answer) {
	for b, of := range each {
		switch {
		case len(of.Below) > 0:
			if len(a.Below) == 0 || len(of.Below) > len(each[a.Lowest].Below) {
				a.Lowest = b
			}
			a.Below = append(a.Below, b)
		case len(of.Doubtful) > 0:
			a.Doubtful = append(a.Doubtful, b)
		}
	}
}
