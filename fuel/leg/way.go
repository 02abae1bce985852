package leg

import (
	"lastpump/fuel"
	"lastpump/route"
)

// An End is where a way begins or ends.
type End struct {
	At   route.Metres // along the line
	Half route.Metres // half the detour to the stop there, from the line; 0 for a stop on it
	Off  *fuel.Road   // that half, by road; nil where it is guessed, on the ground that the line has there
}

// Out gives what half the detour takes ridden from the line to the stop.
func (e End) Out(c *fuel.Course) fuel.Amount {
	if e.Off != nil {
		return c.RoadOut(e.Off)
	}
	return c.Detour(e.At, e.Half)
}

// Home gives what it takes ridden from the stop to the line.
func (e End) Home(c *fuel.Course) fuel.Amount {
	if e.Off != nil {
		return c.RoadHome(e.Off)
	}
	return c.Detour(e.At, e.Half)
}

// add adds half the detour, ridden out or home.
func (e End) add(c *fuel.Course, d *fuel.Drink, out bool) fuel.Litres {
	if e.Off != nil {
		return c.AddRoad(d, e.Off, out)
	}
	return c.AddDetour(d, e.At, e.Half)
}

// A Way is the ground of a leg: from the stop at one end to the line, along it, and to
// the stop at the other end, as one bike drinks it.
type Way struct {
	Course   *fuel.Course
	From, To End
	Drink    fuel.Drink  // with both half detours
	Detour   fuel.Litres // of Drink.Fuel.Likely
}

// NewWay measures the way between two ends: the line, and half the detour at each.
func NewWay(c *fuel.Course, from, to End) Way {
	w := Way{Course: c, From: from, To: to, Drink: c.Between(from.At, to.At)}
	w.Detour = from.add(c, &w.Drink, false)
	w.Detour += to.add(c, &w.Drink, true)
	return w
}

// Takes gives what the way between two ends takes, and what it takes ridden backwards: of
// [NewWay] what is asked for most often.
func Takes(c *fuel.Course, from, to End) (ahead, back fuel.Amount) {
	ahead, back = c.Amounts(from.At, to.At)
	return ahead.Plus(from.Home(c)).Plus(to.Out(c)), back.Plus(from.Out(c)).Plus(to.Home(c))
}

// Until gives the distance ridden from the beginning of a leg until the litres are used,
// by one of the figures: half the detour first, then on along the line as if the next
// stop were not there, and past the end of the line at the leg's mean rate. It is never
// under 0. It is what the trip meter counts: how sure the length of the line is changes
// where that is, not how many litres a kilometre takes.
func (w Way) Until(l fuel.Litres, by fuel.Figure) route.Metres {
	if l <= 0 {
		return 0
	}
	off := w.From.Home(w.Course)
	if l < off.At(by) {
		return w.From.Half * share(l, fuel.Amount{}, off, by)
	}
	spot := w.Course.Reach(w.From.At, off, l, by)
	ridden := w.From.Half + spot.Ridden
	if need := by.Of(w.Drink.Fuel); spot.Left > 0 && need > 0 {
		ridden += by.Ridden(w.Drink.RiddenAll) * route.Metres(spot.Left/need)
	}
	return ridden
}

// share gives the share of a way off the line at which what was used before it and on it has
// come to the litres.
func share(l fuel.Litres, before, off fuel.Amount, by fuel.Figure) route.Metres {
	return route.Metres(fuel.Until(l, func(share float64) fuel.Litres { return before.Plus(off.Times(share)).At(by) }))
}

// Farthest gives the farthest point of a leg from which riding out and back uses no more
// than the litres, by the likely or the high figures: half the detour, the line, and half
// the detour to the stop ahead. The place given is along the line, where the detour
// leaves it.
func (w Way) Farthest(l fuel.Litres, by fuel.Figure) (ridden, at route.Metres) {
	a, b := w.From, w.To
	if l <= 0 {
		return 0, a.At
	}
	behind := a.Home(w.Course).Plus(a.Out(w.Course))
	if l < behind.At(by) {
		return a.Half * share(l, fuel.Amount{}, behind, by), a.At
	}
	spot := w.Course.ReachAndBack(a.At, behind, l, by)
	if spot.At < b.At {
		return a.Half + spot.Ridden, spot.At
	}
	all := by.Ridden(w.Drink.RiddenAll)
	whole := w.Drink.Amount.Plus(w.Drink.Back)
	if b.Half == 0 || l >= whole.At(by) {
		return all, b.At
	}
	ahead := b.Out(w.Course).Plus(b.Home(w.Course))
	return all - b.Half*(1-share(l, whole.Minus(ahead), ahead, by)), b.At
}

// Used gives what is drunk over the first kilometres of a leg, as the trip meter counts them,
// by one of the figures.
func (w Way) Used(ridden route.Metres, by fuel.Figure) fuel.Litres { return w.used(ridden, by).At(by) }

func (w Way) used(ridden route.Metres, by fuel.Figure) fuel.Amount {
	a, b := w.From, w.To
	behind := a.Home(w.Course)
	if ridden <= a.Half {
		if a.Half == 0 {
			return fuel.Amount{}
		}
		return behind.Times(float64(ridden / a.Half))
	}
	line := by.Ridden(w.Drink.RiddenAll) - a.Half - b.Half
	onLine := min(ridden-a.Half, line)
	used := behind.Plus(w.Course.Over(a.At, onLine, by))
	if beyond := ridden - a.Half - line; beyond > 0 && b.Half > 0 {
		used = used.Plus(b.Out(w.Course).Times(float64(beyond / b.Half)))
	}
	return used
}

// Along gives the place along the line that is reached after a distance ridden, no
// farther than the end of the leg.
func (w Way) Along(ridden route.Metres) route.Metres {
	return min(w.Course.After(w.From.At, ridden-w.From.Half), w.To.At)
}

// Ridden gives the distance ridden up to a place along the line.
func (w Way) Ridden(at route.Metres) route.Metres { return w.riddenAll(at).Likely }

// riddenAll is Ridden by each figure.
func (w Way) riddenAll(at route.Metres) fuel.Distances {
	return w.Course.RiddenTo(at).Minus(w.Course.RiddenTo(w.From.At)).Plus(w.From.Half)
}

// UsedThere gives what is drunk, by one of the figures, up to the place that is reached after
// a likely distance.
func (w Way) UsedThere(ridden route.Metres, by fuel.Figure) fuel.Litres {
	return w.Leaving(ridden, fuel.Amount{}, by)
}

// Leaving is UsedThere with what it takes to ride off from that place.
func (w Way) Leaving(ridden route.Metres, off fuel.Amount, by fuel.Figure) fuel.Litres {
	trip := ridden
	switch beyond := ridden - (w.Drink.Ridden - w.To.Half); {
	case beyond > 0:
		trip = by.Ridden(w.Drink.RiddenAll) - w.To.Half + beyond
	case ridden > w.From.Half:
		trip = by.Ridden(w.riddenAll(w.Along(ridden)))
	}
	return w.used(trip, by).Plus(off).At(by)
}

// A Turn says by where to turn back on a leg.
type Turn struct {
	Ridden route.Metres // from the beginning of the leg
	At     route.Metres // along the line
}

// TurnBack gives the farthest points from which the beginning of a leg is reached again:
// with the reserve kept by the likely figures, and with nothing kept by the high ones.
func (w Way) TurnBack(l Leg) (likely, high Turn) {
	likely.Ridden, likely.At = w.Farthest(l.With()-l.Kept, fuel.Likely)
	high.Ridden, high.At = w.Farthest(l.With(), fuel.High)
	return likely, high
}
