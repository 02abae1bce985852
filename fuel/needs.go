package fuel

import (
	"slices"

	"lastpump/route"
)

// WeightCount is how many grounds have a weight: paved road and nine others.
const WeightCount = 10

// WeighedGrounds gives the grounds that have a weight, in the order of [route.AllGrounds]:
// paved road first, unknown ground not among them.
func WeighedGrounds() []route.Ground { return route.AllGrounds()[:WeightCount] }

// WeighedAs gives where a ground stands in [WeighedGrounds]; unknown ground is dirt.
func WeighedAs(g route.Ground) int {
	if i := slices.Index(WeighedGrounds(), g); i >= 0 {
		return i
	}
	return WeighedAs(route.Dirt)
}

// Needs are the litres that a way takes by the likely weights of the bike, kept apart by
// what may turn out otherwise: those on each ground, and those for climbing. Low and High
// are for the low and the high kilometres and metres of climb, at the same weights; where
// neither is in doubt they are as Likely.
type Needs struct {
	Flat  [WeightCount]Figures // in the order of [WeighedGrounds]
	Climb Figures
}

// SureNeeds gives the needs of a way whose length and climb are known.
func SureNeeds(flat map[route.Ground]Litres, climb Litres) Needs {
	n := Needs{Climb: Figures{climb, climb, climb}}
	for _, g := range route.AllGrounds() { // in order, for sums to be the same each time
		l := flat[g]
		at := &n.Flat[WeighedAs(g)]
		*at = at.Plus(Figures{l, l, l})
	}
	return n
}

// Plus adds what another way takes.
func (n Needs) Plus(o Needs) Needs {
	for i := range n.Flat {
		n.Flat[i] = n.Flat[i].Plus(o.Flat[i])
	}
	n.Climb = n.Climb.Plus(o.Climb)
	return n
}

// Times multiplies all of it, as a thirst does.
func (n Needs) Times(f float64) Needs {
	n.Climb = n.Climb.times(f)
	for i := range n.Flat {
		n.Flat[i] = n.Flat[i].times(f)
	}
	return n
}

// Measured gives the needs of a way whose kilometres have been measured, and are so many
// times the likely ones: the climb stays as it is.
func (n Needs) Measured(times float64) Needs {
	for i, f := range n.Flat {
		l := f.Likely * Litres(times)
		n.Flat[i] = Figures{l, l, l}
	}
	return n
}

func (f Figures) times(by float64) Figures {
	l := Litres(by)
	return Figures{f.Low * l, f.Likely * l, f.High * l}
}

// Sum gives the three figures of the whole.
func (n Needs) Sum() Figures {
	f := n.Climb
	for _, g := range n.Flat {
		f = f.Plus(g)
	}
	return f
}

// Needs gives what the line takes from one place along it to another, and what the same
// way takes ridden backwards, before anything is learnt of the bike.
func (c *Course) Needs(from, to route.Metres) (ahead, back Needs) {
	m := c.between(from, to)
	learnt := Litres(c.by.Thirst)
	for i := c.RunAt(from); i < len(c.runs) && c.runs[i].From < to; i++ {
		r := c.runs[i]
		share := (min(r.To, to) - max(r.From, from)) / (r.To - r.From)
		if !(share > 0) { // NaN for a run of no length
			continue
		}
		ahead = ahead.Plus(c.flatNeeds(r.Ground,
			Distances{share * r.RiddenLow, share * r.Ridden, share * r.RiddenHigh}))
	}
	back = ahead
	ahead.Climb = c.climbNeeds(m.climb/learnt, m.noHeights)
	back.Climb = c.climbNeeds(m.fall/learnt, m.noHeights)
	return ahead, back
}

// climbNeeds gives the litres for climbing, of which the likely ones hold those of a climb
// that is not known over so much of line.
func (c *Course) climbNeeds(likely Litres, noHeights route.Metres) Figures {
	all := Litres(c.bike.EthanolFactor() * c.thirst)
	unknown := func(perKm route.Metres) Litres { return c.bike.Climb(perKm*noHeights/1000) * all }
	known := likely - unknown(unknownClimb.likely)
	return Figures{known + unknown(unknownClimb.low), likely, known + unknown(unknownClimb.high)}
}

// DetourNeeds gives what a way off the line at a place takes: on the ground that the line
// has there, no stretch, no climb.
func (c *Course) DetourNeeds(at, distance route.Metres) Needs {
	d := max(distance, 0)
	return c.flatNeeds(c.runs[c.RunAt(at)].Ground, Distances{d, d, d})
}

// FlatNeeds gives what so many kilometres ridden on a ground take of a bike, level.
func (b Bike) FlatNeeds(g route.Ground, d Distances) (n Needs) {
	n.Flat[WeighedAs(g)] = Figures{b.flatLitres(g, d.Low), b.flatLitres(g, d.Likely), b.flatLitres(g, d.High)}
	return n
}

// flatLitres gives what a distance ridden on a ground takes of a bike, level.
func (b Bike) flatLitres(g route.Ground, d route.Metres) Litres {
	return b.Rate().Over(d) * Litres(b.EthanolFactor()*b.Weight(g).Likely)
}

func (c *Course) flatNeeds(g route.Ground, d Distances) Needs {
	return c.bike.FlatNeeds(g, d).Times(c.thirst)
}
