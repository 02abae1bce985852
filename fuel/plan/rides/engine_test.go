package rides_test

import (
	"lastpump/fuel"
	"lastpump/route"
)

// grounds and their weights on the rate on paved road: at the least, likely, at the
// most. They are the table of the model, written down a second time.
var grounds = []struct {
	name   route.Ground
	weight fuel.Weight
}{
	{route.Paved, fuel.Weight{Low: 0.95, Likely: 1.00, High: 1.05}},
	{route.PackedGravel, fuel.Weight{Low: 1.00, Likely: 1.05, High: 1.15}},
	{route.LooseGravel, fuel.Weight{Low: 1.10, Likely: 1.25, High: 1.40}},
	{route.Dirt, fuel.Weight{Low: 1.10, Likely: 1.25, High: 1.40}},
	{route.Soft, fuel.Weight{Low: 1.30, Likely: 1.50, High: 1.80}},
	{route.Rocky, fuel.Weight{Low: 1.30, Likely: 1.50, High: 2.00}},
	{route.Mud, fuel.Weight{Low: 1.40, Likely: 1.70, High: 2.50}},
	{route.Sand, fuel.Weight{Low: 1.50, Likely: 1.80, High: 2.80}},
	{route.DeepSand, fuel.Weight{Low: 2.00, Likely: 2.50, High: 3.50}},
	{route.Snow, fuel.Weight{Low: 1.30, Likely: 1.60, High: 2.20}},
}

// groundNumber gives the place of a ground in the table; what is not known is dirt.
func groundNumber(g route.Ground) int {
	number := func(g route.Ground) int {
		for i := range grounds {
			if grounds[i].name == g {
				return i
			}
		}
		return -1
	}
	if i := number(g); i >= 0 {
		return i
	}
	return number(route.Dirt)
}

// A band is what something may take: from low over likely to high.
type band struct{ low, likely, high float64 }

// at gives a figure of the band: -1 is low, 0 likely, 1 high.
func (b band) at(p float64) float64 {
	if p < 0 {
		return b.likely + p*(b.likely-b.low)
	}
	return b.likely + p*(b.high-b.likely)
}

func (b band) times(f float64) band { return band{b.low * f, b.likely * f, b.high * f} }

// An engine is what a bike may drink by the model, in litres a metre: as far from the likely
// figure as one tank may be that is ridden on one ground alone.
type engine struct {
	doubt
	highest  []float64 // of each ground, its high weight as so many times the likely one
	usable   float64   // litres of a full tank
	odometer float64   // metres shown a metre ridden
	flat     []band    // a metre ridden, by ground
	climb    band      // a metre climbed

	climbUnknown band // a metre of line of which it is not known how much is climbed, in likely litres
}

// unknown is how much is climbed a metre of line where the heights are not known: at the
// least, likely, at the most.
var unknown = band{2.0 / 1000, 8.0 / 1000, 18.0 / 1000}

// newEngine reads a bike. Petrol with ethanol holds less: 76 000 Btu a gallon of
// ethanol against 115 000 of petrol.
func newEngine(b fuel.Bike, thirst float64) *engine {
	energy := func(e fuel.Ethanol) float64 { return 1 - float64(e) + float64(e)*76000/115000 }
	all := thirst * energy(b.MeasuredOn) / energy(b.RiddenOn)
	rate := float64(b.Consumption) / 100 / 1000
	if !b.TrueRate {
		rate *= b.Odometer // measured in kilometres as the bike shows them
	}
	e := &engine{doubt: newDoubt(b), usable: float64(b.Tank - b.Unusable), odometer: b.Odometer}
	long := 1e6 // litres, beside which brims are nothing
	spread := func(s sum) band {
		s.likely, s.short, s.long, s.floor = long, long, long, 0
		return band{e.low(s) / long, 1, e.high(s) / long}
	}
	for i, g := range grounds {
		w, own := b.Own[g.name]
		if !own {
			w = g.weight
		}
		var alone sum
		alone.on[i] = long
		e.flat = append(e.flat, spread(alone).times(w.Likely*rate*all))
		e.highest = append(e.highest, w.High/w.Likely)
	}
	lift := float64(b.LoadedMass) * 9.80665 / (0.25 * 32.05e6)
	e.climb = spread(sum{}).times(lift * all)
	e.climbUnknown = unknown.times(lift * all)
	return e
}

// A pace is what one rider drinks, in litres a metre: by day and ground on the flat,
// by day on the climb and on line of which the climb is not known.
type pace struct {
	flat    [][]float64
	climb   []float64
	unknown []float64
	longer  float64 // where in its band the length of the road is: -1 low, 0 likely, 1 high
}

// pace gives what a rider drinks who is, on each day and ground, somewhere in the
// band: -1 is low, 0 likely, 1 high.
func (e *engine) pace(days int, in func(day, ground int) float64, climbing func(day int) float64) *pace {
	p := &pace{}
	for day := range days {
		var flat []float64
		for g := range grounds {
			flat = append(flat, e.flat[g].at(in(day, g)))
		}
		c := climbing(day)
		p.flat = append(p.flat, flat)
		p.climb = append(p.climb, e.climb.at(c))
		p.unknown = append(p.unknown, e.climbUnknown.at(c)*e.climb.at(c)/e.climb.likely)
	}
	return p
}

// steady is the pace of one who is at the same place in every band.
func (e *engine) steady(days int, where float64) *pace {
	p := e.pace(days, func(int, int) float64 { return where }, func(int) float64 { return where })
	p.longer = where
	return p
}

// most is the pace of one who takes the high figure all the way: more than that is not let
// through, see [rider.use].
func (e *engine) most(days int) *pace {
	p := e.steady(days, 1)
	for day := range days {
		for g := range p.flat[day] {
			p.flat[day][g] *= 2
		}
		p.climb[day] *= 2
		p.unknown[day] *= 2
	}
	return p
}

// over gives the litres for a piece of road, there or back.
func (p *pace) over(b *piece, back bool) float64 {
	up := b.up
	if back {
		up = b.down
	}
	l := p.flat[b.day][b.ground]*b.ridden.at(p.longer) + p.climb[b.day]*up
	if b.unknown {
		l += p.unknown[b.day] * (b.to - b.from)
	}
	return l
}

// between gives the litres from one place of a road to another, there or back.
func (p *pace) between(r *road, from, to float64) (l float64) {
	back := to < from
	a, z := min(from, to), max(from, to)
	for i := r.on(a); i < len(r.pieces) && r.pieces[i].from < z; i++ {
		b := &r.pieces[i]
		l += p.over(b, back) * (min(b.to, z) - max(b.from, a)) / (b.to - b.from)
	}
	return l
}

// ridden gives the likely metres that the wheels roll from one place of a road to another.
func (r *road) ridden(from, to float64) (d float64) {
	for i := r.on(from); i < len(r.pieces) && r.pieces[i].from < to; i++ {
		b := &r.pieces[i]
		d += b.ridden.likely * (min(b.to, to) - max(b.from, from)) / (b.to - b.from)
	}
	return d
}
