package rides_test

import (
	"math"

	"lastpump/fuel"
)

// What a plan promises holds for who takes no more from one brim to the next than the high
// figure of the way between them, however he came by it; who finds a pump dry may have taken more
// on the tank that led him there, see [cautious]. It is worked out here once more, from the rules
// in words (fuel/learn, "What is ahead", and fuel/doc.go).

// A sum is what the figures of a plan are made of, for a way: likely litres, by the short, the
// likely and the long kilometres; of the likely ones those on each ground; and what the high
// weights ask for.
type sum struct {
	short, likely, long, floor float64
	on                         [10]float64
}

func (s sum) plus(o sum) sum {
	s.add(&o, 1)
	return s
}

// add adds a share of o.
func (s *sum) add(o *sum, share float64) {
	s.short, s.likely = s.short+share*o.short, s.likely+share*o.likely
	s.long, s.floor = s.long+share*o.long, s.floor+share*o.floor
	for g := range s.on {
		s.on[g] += share * o.on[g]
	}
}

// A doubt is how far off all that may be, each a standard deviation of the logarithm.
type doubt struct {
	thirst, single float64 // of the bike, and of one of its tanks
	ground         []float64
	times          float64 // standard deviations to the end of nine in ten
	surely         float64 // no high figure is under so many times the long litres: grounds and brims come on top
}

func newDoubt(b fuel.Bike) doubt {
	d := doubt{thirst: 0.12, single: 0.07}
	if b.ConsumptionTanks >= 2 {
		d.thirst = 0.06
	}
	tanks := 8.0
	if b.Learnt != nil {
		d.thirst, d.single, tanks = math.Sqrt(b.Learnt.P[0]), math.Sqrt(b.Learnt.SSQ/b.Learnt.DoF), b.Learnt.DoF
	}
	d.times = 1.644854 + 1.523769/tanks + 1.420203/(tanks*tanks)
	d.surely = math.Exp(d.times * math.Sqrt(d.whole()))
	for i, g := range grounds {
		w, own := b.Own[g.name]
		if !own {
			w = g.weight
		}
		sd := math.Log(w.High/w.Low) / (2 * 1.2815516)
		if i == 0 { // paved road is what all is measured by
			sd = 0
		}
		d.ground = append(d.ground, sd)
	}
	return d
}

// whole gives the variance that all ways have in common.
func (d doubt) whole() float64 { return d.thirst*d.thirst + 0.03*0.03 + d.single*d.single }

// of gives the standard deviation for a way from brim to brim, each of which is off by 0.3 L.
func (d doubt) of(s sum) float64 {
	unsure := d.whole() + min(square(0.3/s.likely), d.single*d.single)
	for g, sd := range d.ground {
		unsure += square(s.on[g] / s.likely * sd)
	}
	return math.Sqrt(unsure)
}

func square(x float64) float64 { return x * x }

// cautious is how many times as far off as the high figure that is by which a dry place is judged.
const cautious = 1.3

// high gives the high figure of a way from brim to brim.
func (d doubt) high(s sum) float64 { return d.upTo(s, 1) }

// upTo gives what is so many times as far off as the high figure.
func (d doubt) upTo(s sum, times float64) float64 {
	if s.likely <= 0 {
		return 0
	}
	return max(s.long*math.Exp(times*d.times*d.of(s)), s.floor)
}

func (d doubt) low(s sum) float64 {
	if s.likely <= 0 {
		return 0
	}
	return s.short * math.Exp(-d.times*d.of(s))
}

// over gives the sum of a piece of road, there or back.
func (e *engine) over(b *piece, back bool) sum {
	up := b.up
	if back {
		up = b.down
	}
	s := e.flatOver(b.ground, b.ridden)
	climb := band{up, up, up}.times(e.climb.likely)
	if b.unknown {
		u, line := e.climbUnknown, b.to-b.from
		climb = band{climb.low + u.low*line, climb.likely + u.likely*line, climb.high + u.high*line}
	}
	return s.plus(sum{short: climb.low, likely: climb.likely, long: climb.high, floor: climb.high})
}

// flatOver gives the sum of a way on one ground, level.
func (e *engine) flatOver(ground int, ridden band) (s sum) {
	rate := e.flat[ground].likely
	s = sum{short: rate * ridden.low, likely: rate * ridden.likely, long: rate * ridden.high}
	s.floor = s.long * e.highest[ground]
	s.on[ground] = s.likely
	return s
}

// between gives the sum from one place of a road to another, there or back.
func (e *engine) between(r *road, from, to float64) (s sum) {
	back := to < from
	a, z := min(from, to), max(from, to)
	for i := r.on(a); i < len(r.pieces) && r.pieces[i].from < z; i++ {
		b := &r.pieces[i]
		whole := e.over(b, back)
		s.add(&whole, (min(b.to, z)-max(b.from, a))/(b.to-b.from))
	}
	return s
}

// between gives the sum from stop to stop, in either direction.
func (l *loop) between(i, j int) sum {
	a, b := l.sheet.stops[i], l.sheet.stops[j]
	s := l.engine.between(l.road, a.km, b.km)
	return s.plus(l.half(a, true)).plus(l.half(b, false))
}

// half gives the sum of half the detour to a stop, home or out.
func (l *loop) half(e entry, home bool) sum {
	if e.road != nil {
		return l.engine.byway(e.road, home)
	}
	return l.engine.flatOver(l.road.pieces[l.road.on(e.km)].ground, band{e.half, e.half, e.half})
}
