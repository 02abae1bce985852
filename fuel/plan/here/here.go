// Package here is about a ride of which a part is behind the rider: what was measured on
// it, and what that changes in the rest, leg by leg. The rest is a draft like any other.
//
// Start with [Here].
package here

import (
	"math"

	"lastpump/fuel"
	"lastpump/fuel/learn"
	"lastpump/fuel/learn/fills"
	"lastpump/fuel/leg"
	"lastpump/fuel/trip"
	"lastpump/route"
)

// Used is what has been used up to here, over the last kilometres.
type Used struct {
	Litres fuel.Litres
	Trip   route.Metres // as the trip meter shows them
}

// A Here is where the rider plans the rest of his ride, what was measured on the
// way there and what that changes.
type Here struct {
	At     route.Metres // along the line
	Stop   int          // at which he stands, into the list that was given; -1 for none
	Used   *Used        // nil where it has not been measured: all up to Factor is then 0
	Likely fuel.Litres  // what the plan expected for the same kilometres, at the thirst before
	Low    fuel.Litres  // the least it expected
	High   fuel.Litres  // and the most
	Factor float64      // how many times the likely was used; 1 where it has not been measured
	Before float64      // the thirst the whole was planned with
	Thirst float64      // and the rest is planned with: as many times Before as was learnt
	Ahead  float64      // how many times as much the rest is planned to take as before
	Why    learn.Why    // why nothing was learnt from Used; "" where it was
	Tanks  []Happened   // of the ride so far, where they were written down
	Tank   *Tank        // what they say is in it here; nil where the rider says so, or they do not
	Beyond route.Metres // along the line, where one was filled ahead of here; meaningless unless HasBeyond

	HasBeyond bool
	Remarks   []fills.Remark // what was made of the file of fills
	Legs      []Leg          // one for each leg of the rest
	Answer    Answer         // what has changed
}

// A Leg is what there is to say of a leg of the rest besides what stands in the plan: what
// it was in the plan of the whole, and what the bike may drink on it. Allowed is the
// consumption that the leg may not exceed, by the kilometres that the bike shows, if it is
// to arrive with the reserve whole, and AllowedDry if it is to arrive at all; the reserve is
// a distance at the leg's own rate where that is the larger.
type Leg struct {
	Then          Figures // the leg of the whole plan that ends there; meaningless unless HasThen
	HasThen       bool
	Planned       fuel.Consumption // as the bike shows it; 0 where there is nothing to ride
	Allowed       fuel.Consumption // meaningless unless HasAllowed
	HasAllowed    bool             // false where even standing still the reserve is not whole
	AllowedDry    fuel.Consumption // meaningless unless HasAllowedDry
	HasAllowedDry bool             // false where there is no fuel, or nothing to ride
}

// Rideable tells whether the bike can be ridden on a leg so as to drink no more than a figure.
func (l Leg) Rideable(c fuel.Consumption) bool {
	return l.Planned <= 0 || leg.Rideable(float64(c/l.Planned))
}

// Figures are what a leg came to in the plan of the whole, likely.
type Figures struct {
	Need, Arrive fuel.Litres // Arrive may be negative
	Verdict      leg.Verdict
}

// UnderLow tells whether less has been used than the least that was expected: the tank may
// not have been filled to the brim.
func (h *Here) UnderLow() bool { return h != nil && h.Used != nil && h.Used.Litres < h.Low }

// OnTheWay tells whether the rider is no longer at the start of the line; false
// where all of it is planned.
func (h *Here) OnTheWay() bool { return h != nil && h.At > 0 }

// Compare sets each leg of the rest beside what it was in the plan of the whole.
func (h *Here) Compare(rest, whole *trip.Draft) {
	if from := rest.Legs[0].From; from.HasStop() {
		h.Stop = from.Stop
	}
	type end struct {
		kind trip.EndKind
		stop int // of one on the way; what is at the finish may be another stop
		at   route.Metres
	}
	endOf := func(l trip.Leg) end {
		e := end{l.To.Kind, -1, l.ToAt}
		if l.To.Kind == trip.AtStop {
			e.stop = l.To.Stop
		}
		return e
	}
	then := map[end]trip.Leg{}
	for _, l := range whole.Legs {
		then[endOf(l)] = l
	}
	for _, l := range rest.Legs {
		was, ok := then[endOf(l)]
		here := Leg{HasThen: ok}
		if ok {
			here.Then = Figures{was.Drink.Fuel.Likely, was.Arrive, was.Verdict}
		}
		here.Planned, _ = shownRate(rest.Bike, l.Drink.Fuel.Likely, l.Drink.Ridden)
		here.Allowed, here.HasAllowed = allowed(rest, l)
		here.AllowedDry, here.HasAllowedDry = shownRate(rest.Bike, l.With(), l.Drink.Ridden)
		h.Legs = append(h.Legs, here)
	}
	h.Answer = h.changes(rest)
}

// allowed gives the consumption with which a leg just keeps its reserve.
func allowed(d *trip.Draft, l trip.Leg) (fuel.Consumption, bool) {
	return shownRate(d.Bike, d.Trip.Options.Reserve.Allows(l.With(), l.Drink.Ridden, d.Bike.Usable()), l.Drink.Ridden)
}

// shownRate gives the litres per 100 km as the bike shows them; none for no
// litres and for no distance.
func shownRate(b fuel.Bike, l fuel.Litres, ridden route.Metres) (fuel.Consumption, bool) {
	rate := fuel.Consumption(float64(l) / b.Shown(ridden).Kilometres() * 100)
	if !(l > 0 && ridden > 0) || math.IsInf(float64(rate), 0) {
		return 0, false
	}
	return rate, true
}

// A Answer is what planning the rest has changed.
type Answer struct {
	Changed  []int // legs with another verdict than in the plan of the whole
	Tightest int   // the leg that may drink the least more than it does; -1 for none
}

// changes says which legs have another verdict than in the plan of the whole, and which
// has the least room.
func (h *Here) changes(rest *trip.Draft) Answer {
	a := Answer{Tightest: -1}
	least := math.Inf(1)
	for i, l := range h.Legs {
		if l.HasThen && l.Then.Verdict != rest.Legs[i].Verdict {
			a.Changed = append(a.Changed, i)
		}
		need := rest.Legs[i].Drink.Fuel.Likely
		if need <= 0 {
			continue
		}
		room := 0.0 // what it may drink, in parts of what it does
		if l.HasAllowed {
			room = float64(l.Allowed.Over(rest.Legs[i].Trip(rest.Bike)) / need)
		}
		if room < least {
			a.Tightest, least = i, room
		}
	}
	return a
}
