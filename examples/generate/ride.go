package main

import (
	"math"
	"math/rand/v2"
)

// stride is the length of one step of a ride in metres: far below what any
// recorder keeps, so that the ride may stand for the ground itself.
const stride = 5.0

// A rider is building a road, stride by stride, and is its foremost end.
type rider struct {
	*land
	*rand.Rand
	spot
	heading float64 // radians, from east to north
	aim     float64 // the heading wished for, before winding
	winding drift   // how far the road strays from its aim, from bend to bend
	leaning drift   // and over a kilometre or so
	temper  drift   // long straights here, bend on bend there
	line    []spot  // the road so far
}

// follow rides along a way to its end, or as near as it comes.
func (r *rider) follow(way []spot) {
	const sight, near = 2000.0, 150.0
	next, nearest := 0, math.Inf(1)
	end := way[len(way)-1]
	for i := 0; ; i++ {
		_, left := r.to(end)
		nearest = min(nearest, left)
		if left < near || nearest < 500 && left > nearest+50 {
			return
		}
		for next < len(way)-1 {
			if _, d := r.to(way[next]); d > sight {
				break
			}
			next++
		}
		if i%8 == 0 { // look up every 40 m
			r.aim = r.choose(way[next])
		}
		r.step(left)
	}
}

// choose picks a heading towards the target: straight at it where the ground
// allows, across the slope where it is steep. It likes to keep the heading it
// has, so that on a long slope it holds one side until the target lies far over
// to the other, and turns back: a hairpin.
func (r *rider) choose(target spot) float64 {
	const (
		probe  = 120.0 // metres of ground looked at
		steep  = 0.06  // the grade where roads begin to turn away
		sector = 12 * math.Pi / 180
	)
	straight, _ := r.to(target)
	here := r.height(r.spot)
	best, least := straight, math.Inf(1)
	for i := -7; i <= 7; i++ {
		aside := float64(i) * sector
		h := straight + aside
		over := math.Abs(r.height(r.ahead(h, probe))-here)/probe/steep - 0.7
		turn := math.Remainder(h-r.aim, 2*math.Pi)
		cost := aside*aside + 0.35*turn*turn
		if over > 0 {
			cost += 3 * over * over
		}
		if cost < least {
			best, least = h, cost
		}
	}
	return best
}

// step adds one stride. Roads wind more in rough country, by fits and starts,
// and little on the last metres into a town.
func (r *rider) step(left float64) {
	const (
		bend  = 150.0       // metres over which a bend is forgotten
		lean  = 800.0       // and a longer straying
		mood  = 1500.0      // and whether the road winds or not
		tight = stride / 22 // radians: a hairpin of 22 m radius
	)
	wind := 0.17 + 0.16*r.rough(r.spot)
	wind *= math.Exp(1.1*r.temper.next(stride/mood, r.Rand)) * min(1, left/1000)
	stray := r.winding.next(stride/bend, r.Rand) + r.leaning.next(stride/lean, r.Rand)
	want := r.aim + min(wind, 1)*stray
	turn := 0.09 * math.Remainder(want-r.heading, 2*math.Pi)
	r.heading += min(max(turn, -tight), tight)
	r.spot = settle(r.ahead(r.heading, stride))
	r.line = append(r.line, r.spot)
}

// settle keeps a spot on a grid of a thousandth of a metre. Machines differ in
// the last bit of a product and sum; here that bit ends, and does not grow into
// another road.
func settle(p spot) spot { return spot{round(p.x, 1e3), round(p.y, 1e3)} }
