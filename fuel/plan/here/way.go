package here

import (
	"lastpump/fuel"
	"lastpump/fuel/trip"
	"lastpump/octane"
	"lastpump/route"
)

// TankAt gives what is in the tank at a place on the way: on arriving at a pump there,
// else of the fill before, with nothing poured; nothing at the start.
func TankAt(d *trip.Draft, at route.Metres) octane.Mixture {
	if at <= d.Nodes[0].On.At {
		return octane.Mixture{}
	}
	for k, n := range d.Nodes[1:] {
		near := n.On.Half == 0 && trip.NearEnd(n.On.At, at)
		if n.HasStop() && (near || n.On.At == at) {
			return d.Arriving[k+1]
		}
		if n.On.At >= at {
			return d.Leaving[k]
		}
	}
	return octane.Mixture{}
}

// A part is a part of the way that has been ridden: line, or a way off it.
type part struct {
	from, to route.Metres // along the line
	isOff    bool         // off the line
	ridden   route.Metres
	road     *fuel.Amount // what one by road takes; nil where it is guessed
}

// A Way is what has been ridden on a ride.
type Way struct {
	on    *trip.Draft
	parts []part
}

// Behind gives the way of a ride from the start of the line to where the rider stands: there
// and back to each place that the plan visits before it, and only there to the one
// at which he stands.
func Behind(d *trip.Draft, here trip.Standpoint) Way {
	way := Way{on: d}
	at := route.Metres(0)
	ride := func(to, off route.Metres, road *fuel.Amount) {
		way.parts = append(way.parts, part{from: at, to: to, ridden: d.Trip.Course.Between(at, to).Ridden})
		if off > 0 {
			way.parts = append(way.parts, part{from: to, to: to, isOff: true, ridden: off, road: road})
		}
		at = to
	}
	for _, n := range d.Nodes {
		if n.On.At >= here.At {
			break
		}
		var road *fuel.Amount
		if n.On.Off != nil {
			f := n.On.Out(d.Trip.Course).Plus(n.On.Home(d.Trip.Course))
			road = &f
		}
		ride(n.On.At, 2*n.On.Half, road)
	}
	var road *fuel.Amount
	if here.On.Off != nil {
		f := here.On.Out(d.Trip.Course)
		road = &f
	}
	ride(here.At, here.On.Half, road)
	return way
}

func (w Way) ridden() (sum route.Metres) {
	for _, p := range w.parts {
		sum += p.ridden
	}
	return sum
}

// Shown gives how long it is on the trip meter.
func (w Way) Shown() route.Metres { return w.on.Bike.Shown(w.ridden()) }

// Last gives what its last kilometres, as the trip meter shows them, were planned to take
// from one brim to the next. Where the meter shows more than there are it is the meter that is off,
// or the line: all of the way counts, scaled to what the meter shows, but for its climb.
func (w Way) Last(shown route.Metres) fuel.Figures {
	by := func(f fuel.Figure) fuel.Litres { return w.last(shown, f).At(f) }
	return fuel.Figures{Low: by(fuel.Low), Likely: by(fuel.Likely), High: by(fuel.High)}
}

// last gives it over as many kilometres by one of the figures.
func (w Way) last(shown route.Metres, by fuel.Figure) (sum fuel.Amount) {
	c := w.on.Trip.Course
	before := w.ridden() - shown/w.on.Bike.Shown(1)
	for _, p := range w.parts {
		skip := min(max(before, 0), p.ridden)
		before -= p.ridden
		if p.isOff {
			sum = sum.Plus(p.last(c, p.ridden-skip))
			continue
		}
		sum = sum.Plus(c.Over(p.from, p.ridden, by).Minus(c.Over(p.from, skip, by)))
	}
	if over := shown / w.Shown(); over > 1 {
		return sum.Measured(float64(over))
	}
	return sum
}

// last gives what the last kilometres of a way off the line were planned to take.
func (p part) last(c *fuel.Course, ridden route.Metres) fuel.Amount {
	if p.road == nil {
		return c.Detour(p.to, ridden)
	}
	return p.road.Times(float64(ridden / p.ridden))
}
