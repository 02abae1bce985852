package rides_test

import (
	"math/rand/v2"
	"slices"
)

// A fate is all that chance decides on one ride. The same fate can be ridden by the
// sheet and by a habit.
type fate struct {
	pace   *pace
	dry    int         // the place that is dry, see entry.place; -1 for none
	noWord bool        // the dry pump gives no word before the turn-back figure; else it is found dry
	silent []bool      // of each stop, whether it gives no word the first time although it has fuel
	turns  []wrongTurn // in order along the line
	tempo  *tempo      // nil for one who knows no hours
	leave  int         // the leg that he leaves by its last way out, counted from 1; 0 for none
	pour   float64     // how far from where the can fits to where it is to be poured; 0 to 1
}

// A wrongTurn is a way off the line and back.
type wrongTurn struct {
	at  float64 // metres along the line
	out float64 // metres one way, at the most
}

// How a fate is drawn. None of these is of the planner: they are how a ride goes.
const (
	highAllDay  = 0.10 // riders who drink the high figure on every metre
	oneDry      = 0.70 // rides on which one place is dry
	noWordIfDry = 0.50 // dry pumps that give no word before the turn-back figure
	noWordIfWet = 0.04 // pumps neither seen nor phoned that give none although they have fuel
	passedDry   = 0.10 // dry places that are passed, where some are; the others are filled at
	perTurn     = 80e3 // metres of line from one wrong turn to the next
	longestTurn = 6e3  // metres one way
)

// draw draws a ride on a loop.
func (l *loop) draw(rnd *rand.Rand) fate {
	f := fate{dry: -1, noWord: rnd.Float64() < noWordIfDry, pour: rnd.Float64()}
	if rnd.Float64() < highAllDay {
		f.pace = l.most
	} else {
		f.pace = l.drawPace(rnd)
	}
	var between []int // places that are neither the start nor the end
	ends := []int{l.sheet.stops[0].place, l.sheet.stops[l.sheet.last()].place}
	for i, e := range l.sheet.stops {
		f.silent = append(f.silent, i > 0 && i < l.sheet.last() && !e.sure && rnd.Float64() < noWordIfWet)
		if n := e.place; !slices.Contains(ends, n) && !slices.Contains(between, n) {
			between = append(between, n)
		}
	}
	var passed []int
	for _, p := range l.sheet.passed {
		if n := p.place; !slices.Contains(ends, n) && !slices.Contains(between, n) && !slices.Contains(passed, n) {
			passed = append(passed, n)
		}
	}
	if len(passed) > 0 && rnd.Float64() < passedDry {
		between = passed
	}
	if len(between) > 0 && rnd.Float64() < oneDry {
		f.dry = between[rnd.IntN(len(between))]
	}
	for at := perTurn * rnd.ExpFloat64(); at < l.road.length(); at += perTurn * rnd.ExpFloat64() {
		f.turns = append(f.turns, wrongTurn{at, longestTurn * rnd.Float64()})
	}
	return f
}

// drawPace draws what a rider drinks: his own hand, another on each ground, another
// on each day, all kept between the low and the high figure; and how long the road is.
func (l *loop) drawPace(rnd *rand.Rand) *pace {
	hand := 1.6*rnd.Float64() - 0.7
	var ground, day []float64
	for range grounds {
		ground = append(ground, 0.35*rnd.NormFloat64())
	}
	for range l.road.days {
		day = append(day, 0.35*rnd.NormFloat64())
	}
	within := func(p float64) float64 { return max(-1, min(1, p)) }
	p := l.engine.pace(l.road.days,
		func(d, g int) float64 { return within(hand + ground[g] + day[d]) },
		func(d int) float64 { return within(hand + day[d]) })
	p.longer = 2*rnd.Float64() - 1
	return p
}
