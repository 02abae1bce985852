package lowgrade

import (
	"cmp"
	"math"
	"slices"

	"lastpump/fuel"
	"lastpump/fuel/leg"
	"lastpump/octane"
)

// pumpStep is how finely a rider can stop a pump: our estimate. The litres bought so far
// in a dearth are a multiple of it at each stop, or just what takes him to one of
// the stops ahead.
const pumpStep fuel.Litres = 0.25

// A state is one way of having filled in a dearth, up to leaving a stop.
//
// Two that leave the same stop with the same litres in the tank have the same fills
// open to them from there on. Of these, one whose petrol is worth no less at its low end
// and that has been ridden on a better one so far stays ahead: mixing by volume is
// linear, so each fill makes of the better mixture the better one, and what is added of
// litres × octane under the need is no more. Where both have been ridden on the same,
// it has to have no more stops. So the other is dropped and nothing is lost.
type state struct {
	before *state // leaving the stop before
	Fill
	tank  octane.Mixture // on leaving
	lack  float64        // litres burnt × octane under the need, up to the next stop
	stops int
}

// least gives the fills from node k to node to that take the least in all, then are
// ridden on the best petrol (litres burnt times the octane they are under the need),
// then have the fewest stops. Each leg keeps its reserve and holds at the high figure,
// as far as a full tank does.
//
// It is a search by dynamic programming, stop by stop, over litres and mixture. No
// fill goes over what the legs ahead ask for: so the litres in all are the least
// always, and what is left to choose is where they are bought.
func (a adviser) least(k, to int) []Fill {
	open := []*state{{tank: a.Arriving[k]}}
	first, _ := a.arrivingOn(open[0], k, k)
	for j := k; j < to; j++ {
		var next []*state
		all := a.levels(first, k, j, to)
		for _, t := range open {
			level, tank := a.arrivingOn(t, k, j)
			for _, full := range a.above(level, j, all) {
				next = append(next, a.fill(t, j, level, full, tank))
			}
		}
		open = thinned(next)
	}
	best := slices.MinFunc(open, func(a, b *state) int {
		return cmp.Or(compareNear(a.lack, b.lack), cmp.Compare(a.stops, b.stops))
	})
	fills := make([]Fill, to-k)
	for j := to - 1; j >= k; j-- {
		fills[j-k] = best.Fill
		fills[j-k].Mixture = leg.MixtureOf(best.tank, a.Bike.Needs)
		best = best.before
	}
	return fills
}

// compareNear compares what rounding may have moved.
func compareNear(a, b float64) int {
	if a < b+leg.Hair && b < a+leg.Hair {
		return 0
	}
	return cmp.Compare(a, b)
}

// arrivingOn gives what is in the tank on arriving at node j: for the first, k, as
// planned.
func (a adviser) arrivingOn(t *state, k, j int) (fuel.Litres, octane.Mixture) {
	level := a.Start.Fuel
	if j > k {
		level = max(0, t.Arrive)
	} else if j > 0 {
		l := a.Legs[j-1]
		level = min(max(0, l.With()-l.Drink.Fuel.Likely), a.Bike.Usable())
	}
	return level, t.tank.DrawTo(float64(level + a.Bike.Unusable))
}

// asked gives what a leg asks for at its beginning: enough to be OK, or a full tank
// where that is not enough.
func (a adviser) asked(i int) fuel.Litres {
	return min(a.Bike.Usable(), a.Legs[i].Asks())
}

// levels gives what may be in the tank on leaving node j, where it was first on arriving
// at node k: no more than the legs up to node to ask for.
func (a adviser) levels(first fuel.Litres, k, j, to int) []fuel.Litres {
	var out []fuel.Litres
	var used, most fuel.Litres
	for m := j; m < to; m++ {
		at := min(a.Bike.Usable(), used+a.asked(m))
		most = max(most, at)
		out = append(out, at)
		if used += a.Legs[m].Drink.Fuel.Likely; used >= a.Bike.Usable() {
			break // all legs beyond ask for a full tank
		}
	}
	var gone fuel.Litres
	for _, l := range a.Legs[k:j] {
		gone += l.Drink.Fuel.Likely
	}
	for n := math.Ceil(float64((gone - first) / pumpStep)); ; n++ {
		at := first - gone + fuel.Litres(n)*pumpStep
		if at > most {
			break
		}
		out = append(out, at)
	}
	return out
}

// above gives which of the levels can be left with by one who comes with a level: what
// the leg asks for and more, or what he comes with if that is enough.
func (a adviser) above(level fuel.Litres, j int, all []fuel.Litres) []fuel.Litres {
	least := a.asked(j)
	if least < level+leg.Hair {
		least = level
	}
	out := []fuel.Litres{least}
	for _, at := range all {
		if at > least+leg.Hair {
			out = append(out, at)
		}
	}
	slices.Sort(out)
	return slices.CompactFunc(out, func(a, b fuel.Litres) bool { return compareNear(float64(a), float64(b)) == 0 })
}

// fill fills at node j from one level to another, and rides the leg. It takes the grade
// that is worth most at its low end: for as many litres the mixture is then the best, now
// and later.
func (a adviser) fill(t *state, j int, from, to fuel.Litres, tank octane.Mixture) *state {
	need, l := a.Bike.Needs, a.Legs[j]
	n := &state{before: t, tank: tank, lack: t.lack, stops: t.stops, Fill: Fill{
		Visit: a.Nodes[j].Visit, Leg: j, Litres: to - from, TankAfter: to, Arrive: to - l.Drink.Fuel.Likely, Kept: l.Kept,
		Whole: to >= l.Asks()-leg.Hair,
	}}
	if n.Litres > 0 {
		var take *octane.Grade
		if grades := leg.LowestFirst(a.sold(j), need); len(grades) > 0 {
			n.Grade, n.HasGrade = grades[len(grades)-1], true
			take = &n.Grade
		}
		n.tank = leg.Add(tank, n.Litres, take, need)
		n.stops++
	}
	n.lack += float64(l.Drink.Fuel.Likely) * max(0, need.Number-n.tank.Low())
	return n
}

// fewStates is how many of one level are told apart to the last digit. Where there are
// more, on stretches of many low pumps, mixtures within 0.05 octane of each other are
// one: pumps are not posted, nor petrol tested, as finely.
const (
	fewStates  = 60
	oneMixture = 0.05
)

// thinned drops each state that another is never worse than, whatever comes.
func thinned(all []*state) []*state {
	const rounding = 1e-7
	slices.SortStableFunc(all, func(a, b *state) int {
		return cmp.Or(compareNear(float64(a.TankAfter), float64(b.TankAfter)), compareNear(a.lack, b.lack),
			cmp.Compare(a.stops, b.stops),
			cmp.Compare(b.tank.Low(), a.tank.Low()))
	})
	var out []*state
	for i := 0; i < len(all); {
		j := i + 1
		for j < len(all) && all[j].TankAfter-all[i].TankAfter <= leg.Hair {
			j++
		}
		few := better(all[i:j], rounding)
		if len(few) > fewStates {
			few = better(few, oneMixture)
		}
		out = append(out, few...)
		i = j
	}
	return out
}

// better keeps of states of one level, the one ridden on the best petrol first, each
// that has better petrol in the tank than all before it, by a step at least. One that
// was ridden on the same petrol as another, to what rounding moves, and has fewer stops
// comes before it.
func better(all []*state, step float64) []*state {
	var out []*state
	for _, t := range all {
		if n := len(out); n == 0 || t.tank.Low() > out[n-1].tank.Low()+step {
			out = append(out, t)
		}
	}
	return out
}
