package here

import (
	"lastpump/fuel"
	"lastpump/fuel/learn/fills"
	"lastpump/fuel/trip"
	"lastpump/route"
)

// A Tank is what fills say of the tank where the rider stands.
type Tank struct {
	From fills.Level // the row from which on it is counted
	Left fuel.Litres // usable, likely
	// Least is what is left if the way since that row took the high figure.
	Least fuel.Litres
}

// Beyond gives the farthest fill that lies ahead of where the rider stands, along the line: he may
// have turned round, or said a wrong place.
func (f Fills) Beyond(at route.Metres) (farthest route.Metres, ok bool) {
	for _, l := range f.Levels {
		if l.HasAt && l.At > at && !Together(l.At, at) && (!ok || l.At > farthest) {
			farthest, ok = l.At, true
		}
	}
	return farthest, ok
}

// TankAt gives what is in the tank where the rider stands: from the last row that tells what was in
// it, with what went in since and without what the way since takes. Not ok where it cannot be told:
// a row without a place or without litres, or fills that lie ahead of him.
func (f Fills) TankAt(d *trip.Draft, s trip.Standpoint) (t Tank, ok bool) {
	if _, ahead := f.Beyond(s.At); ahead {
		return Tank{}, false
	}
	full, added := d.Bike.Usable(), fuel.Litres(0)
	for _, l := range f.Levels {
		switch {
		case l.Event == fills.Part && l.Known:
			added += l.Litres
		case l.Event == fills.Part || l.Event == fills.Missed:
			t, ok = Tank{}, false
		default:
			t, ok, added = Tank{From: l}, l.HasAt && l.Known, 0
		}
	}
	if !ok {
		return Tank{}, false
	}
	used := since(d, t.From, s).Figures()
	left := func(used fuel.Litres) fuel.Litres { return min(full, max(0, t.From.Litres+added-used)) }
	t.Left, t.Least = left(used.Likely), left(used.High)
	return t, true
}

// since gives what the way takes from a row to where the rider stands: with the half detour from a pump
// there, and whole ones to what the plan visits between.
func since(d *trip.Draft, l fills.Level, s trip.Standpoint) (used fuel.Amount) {
	if Together(l.At, s.At) && s.AtStop && l.Event == fills.Full || l.At >= s.At {
		return fuel.Amount{}
	}
	c := d.Trip.Course
	used = c.Between(l.At, s.At).Amount.Plus(s.On.Out(c))
	for _, n := range d.Nodes {
		switch {
		case Together(n.On.At, l.At):
			if l.Event == fills.Full {
				used = used.Plus(n.On.Home(c))
			}
		case n.On.At > l.At && n.On.At < s.At && !Together(n.On.At, s.At):
			used = used.Plus(n.On.Out(c)).Plus(n.On.Home(c))
		}
	}
	return used
}
