package choose

import (
	"cmp"
	"slices"

	"lastpump/fuel"
	"lastpump/fuel/leg"
	"lastpump/fuel/trip"
	"lastpump/route"
)

// Among very many stops the search would take minutes. Then it looks at the best of each
// stretch of line only, and what the best of all choices may be at the best is told by the
// stretches alone.

// shortest is how long a stretch is at least: what lies nearer together is one place.
const shortest route.Metres = 3000

// thin gives the sightings to search among: all, or the best of each stretch of line, as
// long as it has to be.
func (g *graph) thin(middle []trip.Sighting) []trip.Sighting {
	all := slices.Clone(middle)
	for length := shortest; len(all) > g.work.Nodes || g.pairs(all) > g.work.Pairs; length *= 2 {
		all = all[:0]
		for _, s := range stretches(middle, length) {
			all = append(all, g.bestOf(s)...)
		}
		g.thinned = true
		if len(all) <= 2 {
			break
		}
	}
	return all
}

// pairs counts the pairs of stops that are in reach of each other on tank and can.
func (g *graph) pairs(all []trip.Sighting) (n int) {
	used := make([]fuel.Litres, len(all))
	for i, s := range all {
		used[i] = g.trip.Course.Between(0, s.At).Fuel.Likely
	}
	first := 0
	for i := range all {
		for used[i]-used[first] > g.trip.Bike.Usable()+g.trip.Bike.Can {
			first++
		}
		n += i - first
	}
	return n
}

// stretches cuts sightings, which are in order, into those of stretches of line.
func stretches(all []trip.Sighting, length route.Metres) (out [][]trip.Sighting) {
	for len(all) > 0 {
		n := 1
		for n < len(all) && all[n].At-all[0].At <= length {
			n++
		}
		out = append(out, all[:n])
		all = all[n:]
	}
	return out
}

// bestOf gives the best of a stretch, and the last that is not ridden past before a poor
// fill: grade first, then how sure it is, then the detour.
func (g *graph) bestOf(all []trip.Sighting) []trip.Sighting {
	meets := func(s trip.Sighting) int {
		return bit(!leg.SellsMeeting(g.trip.Stops[s.Stop].Grades, g.trip.Bike.Needs))
	}
	best := slices.MinFunc(all, func(a, b trip.Sighting) int {
		return cmp.Or(cmp.Compare(meets(a), meets(b)), cmp.Compare(bit(g.poor[a.Stop]), bit(g.poor[b.Stop])),
			cmp.Compare(a.Detour(), b.Detour()))
	})
	out := []trip.Sighting{best}
	for _, s := range slices.Backward(all) {
		if g.isGood(s) {
			if s.At > best.At {
				out = append(out, s)
			}
			break
		}
	}
	return out
}

func bit(b bool) int {
	if b {
		return 1
	}
	return 0
}

// A stretch is all stops of a stretch of line as one that is everywhere along it, and has the
// best of each.
type stretch struct {
	from, to fuel.Amount // used up to its first stop and its last
	adds     weight
}

// coarse bounds all choices, those among stops that the search does not look at, too: by
// what there is between the stretches, no detour, no place dry and all petrol good.
func (g *graph) coarse(middle []trip.Sighting) weight {
	used := func(at route.Metres) (ahead fuel.Amount) {
		ahead, _ = g.trip.Course.Amounts(0, at)
		return ahead
	}
	start, end := used(g.trip.StartAt()), used(g.trip.Length)
	all := []stretch{{start, start, weight{}}}
	for _, some := range stretches(middle, max(shortest, g.trip.Length/1000)) {
		s := stretch{used(some[0].At), used(some[len(some)-1].At), worst}
		for _, one := range some {
			s.adds = lesser(s.adds, g.stopNode(one).adds)
		}
		all = append(all, s)
	}
	all = append(all, stretch{end, end, weight{}})
	least := make([]weight, len(all))
	for j := 1; j < len(all); j++ {
		least[j] = worst
		for i := range j {
			least[j] = lesser(least[j], least[i].plus(all[j].adds).plus(g.between(&all[i], &all[j], i == 0)))
		}
	}
	return least[len(all)-1].plus(g.base)
}

// between gives the least that a leg weighs from one stretch to another.
func (g *graph) between(a, b *stretch, first bool) (w weight) {
	usable := g.trip.Bike.Usable()
	way := b.from.Minus(a.to)
	l := leg.Leg{Drink: fuel.Drink{Amount: way, Fuel: way.Figures()}, Start: usable, Kept: g.trip.Options.Reserve.Least(usable)}
	if first && !g.nodes[0].sells && g.trip.Options.HasStartFuel {
		l.Start = g.trip.Options.StartFuel
	}
	l = l.WithCan(g.trip.Bike.Can)
	w[short] = trip.Micro(l.Short)
	w[tight] = int64(bit(l.Verdict == leg.Tight))
	return w
}
