// Package lowgrade works out how little of a low grade would do where only that is sold,
// and whether good petrol in a can keeps the tank up. A plan fills to the brim all the
// same: what stands here is advice beside it.
package lowgrade

import (
	"cmp"
	"slices"

	"lastpump/fuel"
	"lastpump/fuel/leg"
	"lastpump/fuel/trip"
	"lastpump/octane"
)

// A Dearth is the way from a stop that sells only below the need to the next one that
// meets it. The plan fills to the brim there; Fills say how little would do.
type Dearth struct {
	Visits  []int       // of the stops on it that do not meet, in order
	To      trip.End    // the next stop that meets; the finish where there is none
	Fills   []Fill      // one for each of Visits
	Least   fuel.Litres // of Fills together
	Full    fuel.Litres // to the brim at each of Visits, together
	Lift    *Lift       // good petrol in a can that keeps the mixture up; nil where none can
	Steeper []int       // legs of the stretch that are ridden below the need, by their climb, most first
	Risks   []trip.End  // places that, if dry, strand or are bare where the least was taken, but not on a full tank
}

// A Fill is the least at one stop.
type Fill struct {
	Visit     int
	Leg       int // that it is for
	Litres    fuel.Litres
	Grade     octane.Grade
	HasGrade  bool // false where nothing is taken or no grade is tagged
	TankAfter fuel.Litres
	Mixture   leg.Mixture // after it
	Arrive    fuel.Litres
	Kept      fuel.Litres
	Whole     bool // the reserve is kept and the high figure holds; false where no tank is enough
}

// A Lift is good petrol carried in a can and poured at the stops of a low stretch
// in place of as much of what they sell, so that the mixture meets on every leg.
type Lift struct {
	From   trip.End // where the can is filled: the last stop that meets, or the start
	Grade  octane.Grade
	Litres fuel.Litres
	Size   leg.CanSize
	Pours  []fuel.Litres // at each of the stretch's Visits
}

// Find gives where a ride comes through a dearth of good petrol, with the least that does
// on each way through. On legs that the bike's own can rides on it is not told: the can
// is needed anyway.
func Find(d *trip.Draft) []Dearth {
	a := adviser{d}
	var out []Dearth
	last := len(d.Legs)
	for k := 0; k < last; k++ {
		if !d.Nodes[k].HasStop() || !leg.SellsOnlyBelow(a.sold(k), d.Bike.Needs) {
			continue
		}
		to := k + 1
		for to < last && !a.meetsAt(to) {
			to++
		}
		if to-k <= mostFills && !slices.ContainsFunc(d.Legs[k:to], func(l trip.Leg) bool { return l.Poured > 0 }) {
			out = append(out, a.dearth(k, to))
		}
		k = to - 1
	}
	return out
}

// mostFills is how many low fills in a row are worked out: what may be in the tank grows
// with each. On a longer way nothing is told but the full fills.
const mostFills = 100

// An adviser looks at one ride.
type adviser struct{ *trip.Draft }

// sold gives the grades sold at a node's stop.
func (a adviser) sold(k int) []octane.Grade { return a.Visits[a.Nodes[k].Visit].Stop.Grades }

// meetsAt tells whether a node's stop sells a grade that meets.
func (a adviser) meetsAt(k int) bool {
	return a.Nodes[k].HasStop() && leg.SellsMeeting(a.sold(k), a.Bike.Needs)
}

// dearth works out the way from node k to node to.
func (a adviser) dearth(k, to int) Dearth {
	s := Dearth{To: a.Nodes[to].End}
	for j := k; j < to; j++ {
		v := a.Nodes[j].Visit
		s.Visits = append(s.Visits, v)
		s.Full += a.Visits[v].Fill.Litres
	}
	s.Fills = a.least(k, to)
	for _, f := range s.Fills {
		s.Least += f.Litres
	}
	s.Lift = a.lift(k, s.Fills)
	for _, f := range s.Fills {
		if f.Mixture.Verdict == octane.Below || a.Legs[f.Leg].Below() {
			s.Steeper = append(s.Steeper, f.Leg)
		}
	}
	slices.SortStableFunc(s.Steeper, func(x, y int) int {
		return cmp.Compare(a.Legs[y].Drink.Up, a.Legs[x].Drink.Up)
	})
	s.Risks = a.risks(s.Fills)
	return s
}

// risks gives the places that strand or are bare if they are dry and only the least
// was taken before them, but not on a full tank.
func (a adviser) risks(fills []Fill) []trip.End {
	var out []trip.End
	for _, f := range fills {
		full, least := a.IfDry(f.Leg+1), a.IfDryWith(f.Leg+1, f.TankAfter)
		if least != nil && least.Risk() > full.Risk() {
			out = append(out, a.Nodes[f.Leg+1].End)
		}
	}
	return out
}

// lift gives the good petrol from the last stop that meets which, poured in place of
// as much of each low fill, keeps the mixture at what meets; nil where no such petrol
// can. Petrol that is poured early is partly burnt when the next low fill comes:
// pouring as little as meets, each time, takes the least in all.
func (a adviser) lift(k int, fills []Fill) *Lift {
	l, ok := a.lifter(k)
	if !ok {
		return nil
	}
	need := a.Bike.Needs
	good := l.Grade.In(need.Scale)
	tank := a.Arriving[k]
	for i, f := range fills {
		j := k + i
		v := a.Visits[a.Nodes[j].Visit]
		poor, ok := f.interval(need)
		if !ok && f.Litres > 0 {
			return nil // of no known grade
		}
		low := tank.AddMixture(octane.Of(float64(f.Litres), poor))
		pour := fuel.Litres(0)
		if low.Low() < need.Number-octane.MeetsWithin {
			lack := low.Volume() * (need.Number - octane.MeetsWithin - low.Low())
			pour = fuel.Litres(lack / (good.Low - poor.Low))
		}
		if !(pour <= f.Litres+leg.Hair) || good.Low <= poor.Low && pour > 0 || v.Fill == nil {
			return nil
		}
		pour = min(pour, f.Litres)
		tank = tank.AddMixture(octane.Of(float64(f.Litres-pour), poor)).AddGrade(float64(pour), l.Grade, need)
		l.Pours = append(l.Pours, pour)
		l.Litres += pour
		tank = tank.DrawTo(float64(max(0, f.Arrive) + a.Bike.Unusable))
	}
	if l.Size = a.Trip.Options.Cans.Smallest(l.Litres); l.Litres <= 0 || l.Size.TooBig {
		return nil
	}
	return &l
}

// interval gives what the fill is worth in the scale of the need; ok is false where
// it is not known.
func (f Fill) interval(need octane.Grade) (octane.Interval, bool) {
	if !f.HasGrade {
		return octane.Interval{Scale: need.Scale}, false
	}
	return f.Grade.In(need.Scale), true
}

// lifter says where the can for a dearth is filled and with what: the best that the last
// stop that meets sells, or what is in the tank at the start.
func (a adviser) lifter(k int) (Lift, bool) {
	for j := k - 1; j >= 0; j-- {
		if a.meetsAt(j) {
			grades := leg.LowestFirst(a.sold(j), a.Bike.Needs)
			return Lift{From: a.Nodes[j].End, Grade: grades[len(grades)-1]}, true
		}
	}
	if k > 0 && !a.Nodes[0].HasStop() && !a.NoFill(0) {
		return Lift{From: a.Nodes[0].End, Grade: a.Start.Grade}, true
	}
	return Lift{}, false
}
