// Package leg is the home of a leg, the way from one fill to the next: what it takes
// of a tank, whether that holds, where the can is poured, by where to turn back, which
// grade to take before it and what happens if the pump at its end is dry. Each rule
// stands here once, as a small function of values; plans, searches and cures all ask
// these.
//
// Start with [NewWay], which measures the ground between two ends, then [Leg.Judged].
//
// The idea that surprises: a leg is not judged by whether it arrives, but by whether it
// arrives with the reserve untouched, on the likely figures, and at all on the high ones.
//
// # Sources
//
// The sizes of cans are common practice, no published source; that a can is poured while
// the high use leaves 1 L is our estimate.
package leg

import (
	"slices"

	"lastpump/fuel"
	"lastpump/route"
)

// A Verdict says whether a leg holds.
type Verdict string

// The verdicts, best first.
const (
	OK    Verdict = "OK"    // arrives with the reserve whole
	Tight Verdict = "TIGHT" // arrives by eating into it, or runs dry on the high figures
	Short Verdict = "SHORT" // does not arrive
)

// Rank counts verdicts from 0, the best.
func (v Verdict) Rank() int { return slices.Index([]Verdict{OK, Tight, Short}, v) }

// Worst gives the worse of two verdicts.
func Worst(a, b Verdict) Verdict {
	if b.Rank() > a.Rank() {
		return b
	}
	return a
}

// A Reserve is what is kept back on a leg: the largest of a share of the usable tank,
// litres, and the fuel for a distance.
type Reserve struct {
	Share    float64 // 0.15 is 15 %
	Distance route.Metres
	Litres   fuel.Litres
}

// Least gives the litres kept back of a tank of so many usable litres, however little a
// leg takes.
func (r Reserve) Least(usable fuel.Litres) fuel.Litres {
	return max(fuel.Litres(r.Share)*usable, r.Litres)
}

// Kept gives the litres kept back on a leg of a bike.
func (r Reserve) Kept(d fuel.Drink, usable fuel.Litres) fuel.Litres {
	kept := r.Least(usable)
	if d.Ridden > 0 {
		kept = max(kept, d.Fuel.Likely*fuel.Litres(r.Distance/d.Ridden))
	}
	return kept
}

// Allows gives the most that a leg which sets out with so many litres may take, likely, if
// the reserve is to stay whole: a reserve that is a distance falls with what it takes.
// It is negative where even standing still does not keep it.
func (r Reserve) Allows(with fuel.Litres, ridden route.Metres, usable fuel.Litres) fuel.Litres {
	return min(with-r.Least(usable), with*fuel.Litres(ridden/(ridden+r.Distance)))
}

// A Leg is the litres of a leg: what it takes, what it sets out with and what comes of
// that. Drink, Start, Can, Poured and Kept are given; the rest is what [Leg.Judged] says.
type Leg struct {
	Drink  fuel.Drink  // with both half detours
	Detour fuel.Litres // of Drink.Fuel.Likely
	Start  fuel.Litres // usable, in the tank
	Can    fuel.Litres // in the can
	Poured fuel.Litres // of that, by plan on the way
	Kept   fuel.Litres // the reserve

	Arrive      fuel.Litres // may be negative
	Verdict     Verdict
	Short       fuel.Litres // what is missing on a SHORT leg, else 0
	Headroom    float64     // how much more it may drink before it is dry
	HasHeadroom bool        // false where the leg drinks nothing
}

// Hair is what rounding makes of nothing, in litres: sums of binary fractions are equal
// within it.
const Hair = 1e-9

// slack is what rounding may take from a leg with a can: a can of just the litres that
// are lacking is enough.
func (l Leg) slack() fuel.Litres {
	if l.Can > 0 {
		return Hair
	}
	return 0
}

// Judged gives the leg with its verdict, from what it sets out with.
func (l Leg) Judged() Leg {
	need, with, s := l.Drink.Fuel, l.With(), l.slack()
	l.Arrive, l.Short = with-need.Likely, 0
	switch {
	case l.Arrive < -s:
		l.Verdict, l.Short = Short, -l.Arrive
	case l.Arrive >= l.Kept-s && need.High <= with+s:
		l.Verdict = OK
	default:
		l.Verdict = Tight
	}
	if l.HasHeadroom = need.Likely > 0; l.HasHeadroom {
		l.Headroom = float64(with/need.Likely) - 1
	}
	return l
}

// WithCan gives the leg judged again with so many litres in the can.
func (l Leg) WithCan(can fuel.Litres) Leg {
	l.Can = can
	return l.Judged()
}

// With gives what the leg sets out with, tank and can.
func (l Leg) With() fuel.Litres { return l.Start + l.Can }

// Asks gives what a leg has to set out with to be OK.
func (l Leg) Asks() fuel.Litres { return max(l.Drink.Fuel.Likely+l.Kept, l.Drink.Fuel.High) }

// Lack gives what of that is not in the tank; 0 where all of it is.
func (l Leg) Lack() fuel.Litres { return max(0, l.Asks()-l.Start) }

// Over gives what a leg leaves of the fuel it sets out with beyond what it asks for:
// negative is what it lacks to be OK.
func (l Leg) Over(with fuel.Litres) fuel.Litres { return with - l.Asks() }

// slowest is under how much of the planned consumption no wrist holds a bike: our estimate.
const slowest = 0.9

// Rideable tells whether a bike can be ridden on so many times what is planned that it drinks.
func Rideable(times float64) bool { return times >= slowest }

// Worse tells whether a leg is worse than another: by its verdict, then by its headroom.
func (l Leg) Worse(than Leg) bool {
	if a, b := l.Verdict.Rank(), than.Verdict.Rank(); a != b {
		return a > b
	}
	return l.HasHeadroom && (!than.HasHeadroom || l.Headroom < than.Headroom)
}

// Leaner tells whether a leg is worse than another: by its verdict, then by what it
// arrives with above its reserve.
func (l Leg) Leaner(than Leg) bool {
	if l.Verdict != than.Verdict {
		return l.Verdict.Rank() > than.Verdict.Rank()
	}
	return l.Arrive-l.Kept < than.Arrive-than.Kept
}

// Room gives what goes into a tank of so many usable litres at the end of the leg, by
// each figure of what it took: what is not poured by plan stays in the can.
func (l Leg) Room(usable fuel.Litres) fuel.Figures {
	room := func(used fuel.Litres) fuel.Litres {
		return usable - min(usable, max(0, l.Start+l.Poured-used))
	}
	return fuel.Figures{Low: room(l.Drink.Fuel.Low), Likely: room(l.Drink.Fuel.Likely), High: room(l.Drink.Fuel.High)}
}
