package choose

import (
	"math"

	"lastpump/fuel/leg"
	"lastpump/fuel/trip"
	"lastpump/octane"
)

// Bounds tell the least that is still to come: from a node on, where what is in the tank
// on leaving it is worth so much octane at its low end. That is cut into cells, and of each
// cell everything counts as good as the best in it: legs, and what mixing makes of them.
// What is in a can that is poured counts as the best and the worst there may be, and a stop
// that is dry as the best it may turn out. So no ride is better than its bound. Rides that are
// no better than one that is known are left out.
type bounds struct {
	*graph
	grids []*grid  // the finest first: how uncertain a mixture is says by which it is looked up
	pours []bool   // of each node, whether a can is poured on a leg from it
	can   span     // octane: what may be in the can
	known weight   // of a ride
	to    []weight // the least to each node, and from each, mixtures left out
	from  []rest
}

// A grid is one way of cutting octane into cells.
type grid struct {
	from, width float64 // octane: the low end of the first cell, and how wide each is
	cells       int
	of          [][]least // of each node and cell
}

// A least is a bound, once it is worked out.
type least struct {
	weight
	known bool
}

// A span is from the least to the most.
type span struct{ low, high float64 }

func (s span) with(x float64) span { return span{min(s.low, x), max(s.high, x)} }

// The cells reach from so far under the need to so far above it; what lies beyond counts
// to the first and the last.
const (
	cellsUnder = 16 // octane
	cellsOver  = 4
	narrow     = 8 // cells, up to which a span is looked up by a grid
	widen      = 4 // times: the next coarser
)

// bound makes the bounds with cells so many octane wide on the finest grid, where a ride is known.
func (g *graph) bound(width float64, known weight) *bounds {
	b := &bounds{graph: g, pours: make([]bool, len(g.nodes)), can: span{math.Inf(1), math.Inf(-1)}, known: known}
	b.to, b.from = g.least()
	for cells := narrow + 1; cells > narrow; width *= widen {
		cells = int(math.Ceil((cellsUnder + cellsOver) / width))
		b.grids = append(b.grids, &grid{g.trip.Bike.Needs.Number - cellsUnder, width, cells, make([][]least, len(g.nodes))})
	}
	for i := range g.nodes {
		for _, grade := range g.nodes[i].grades {
			b.can = b.can.with(grade.In(g.trip.Bike.Needs.Scale).Low)
		}
		for _, a := range g.arcs[i] {
			b.pours[i] = b.pours[i] || a.plan > 0 && g.can(i) > 0
		}
	}
	b.can = b.can.with(b.unknown()).with(g.inTank.In(g.trip.Bike.Needs.Scale).Low)
	if now := g.trip.CanNow(g.trip.Bike.Can); now.Volume() > 0 {
		b.can = b.can.with(now.Low())
	}
	return b
}

// unknown gives what a fill of no known grade is worth at its low end.
func (b *bounds) unknown() float64 { return octane.Mixture{}.AddUnknown(1, b.trip.Bike.Needs).Low() }

// cell gives the cell of a mixture.
func (g *grid) cell(low float64) int {
	return int(max(0, min(float64(g.cells-1), math.Floor((low-g.from)/g.width))))
}

// edges gives what a cell holds.
func (g *grid) edges(c int) span {
	s := span{g.from + float64(c)*g.width, g.from + float64(c+1)*g.width + leg.Hair}
	if c == 0 {
		s.low = 0
	}
	if c == g.cells-1 {
		s.high = math.Inf(1)
	}
	return s
}

// least gives the bound behind a node that is left with a mixture of a cell.
func (b *bounds) least(g *grid, i, c int) weight {
	if g.of[i] == nil {
		g.of[i] = make([]least, g.cells)
	}
	if m := &g.of[i][c]; m.known {
		return m.weight
	}
	best := worst
	tank := g.edges(c)
	for _, a := range b.arcs[i] {
		w := a.adds.plus(a.dry)
		high, arrives := tank.high, tank
		left := a.start - a.fuel.Likely
		volume := span{float64(left), float64(left)}
		if can := b.graph.can(i); a.plan > 0 && can > 0 {
			high = max(high, b.can.high)
			arrives = tank.with(b.can.low).with(b.can.high)
			volume.high += float64(can)
		}
		w[missing] = trip.Micro(trip.OctaneMissing(a.fuel.Likely, high, b.trip.Bike.Needs.Number))
		if w.compare(best) < 0 && b.to[i].plus(w).plus(b.from[a.to].weight).compare(b.known) < 0 {
			best = lesser(best, w.plus(b.behind(a.to, arrives, volume)))
		}
	}
	g.of[i][c] = least{best, true}
	return best
}

// behind gives the bound behind a node that is reached with a mixture and so many usable
// litres in the tank.
func (b *bounds) behind(i int, tank, litres span) weight {
	if i == len(b.nodes)-1 {
		return weight{}
	}
	n := &b.nodes[i]
	if len(n.grades) == 0 {
		return b.among(i, b.mix(tank, litres, b.unknown()))
	}
	need, best, top := b.trip.Bike.Needs, worst, math.Inf(1)
	for k := n.meeting; k < len(n.grades); k++ {
		s := b.mix(tank, litres, n.grades[k].In(need.Scale).Low)
		s.high = min(s.high, top)
		if b.pours[i] { // what is in the can tells, too
			best = lesser(best, b.among(i, s))
			continue
		}
		const meets = octane.MeetsWithin + leg.Hair
		if taken := (span{max(s.low, need.Number-meets), s.high}); taken.low <= taken.high {
			best = lesser(best, b.among(i, taken))
		}
		if s.low >= need.Number-octane.MeetsWithin || k+1 == len(n.grades) {
			break
		}
		// the next grade is taken only where this does not do
		share := 1 - (max(0, litres.low)+float64(b.trip.Bike.Unusable))/float64(b.trip.Bike.Tank)
		top = need.Number - octane.MeetsWithin + leg.Hair +
			share*(n.grades[k+1].In(need.Scale).Low-n.grades[k].In(need.Scale).Low)
	}
	last := b.mix(tank, litres, n.grades[len(n.grades)-1].In(need.Scale).Low)
	if n.meeting == len(n.grades) || last.low < need.Number-octane.MeetsWithin || b.pours[i] {
		best = lesser(best, b.among(i, span{last.low, min(last.high, top)}))
	}
	return best
}

// mix gives what filling up with a grade makes of a mixture of so many usable litres.
func (b *bounds) mix(tank, litres span, grade float64) span {
	all := float64(b.trip.Bike.Tank)
	s := span{math.Inf(1), math.Inf(-1)}
	for _, l := range []float64{litres.low, litres.high} {
		left := min(all, max(0, l)+float64(b.trip.Bike.Unusable))
		for _, low := range []float64{tank.low, tank.high} {
			if left > 0 {
				s = s.with((left*low + (all-left)*grade) / all)
			} else {
				s = s.with(grade)
			}
		}
	}
	return s
}

// among gives the least bound behind a node of those of the cells that hold a span.
func (b *bounds) among(i int, s span) weight {
	best := worst
	for k, g := range b.grids {
		first, last := g.cell(s.low), g.cell(s.high)
		if last-first >= narrow && k+1 < len(b.grids) {
			continue
		}
		for c := first; c <= last; c++ {
			best = lesser(best, b.least(g, i, c))
		}
		break
	}
	return best
}
