package plan

import (
	"fmt"

	"lastpump/fuel"
	"lastpump/route"
)

// A bike that drinks half or twice of what is planned has been measured wrong, or
// elsewhere: our estimate.
const (
	leastFactor = 0.5
	mostFactor  = 2
)

// measure compares what has been used with what the plan expected for the same
// kilometres, and plans the rest with the thirst that comes of it.
func (s *survey) measure(whole *draft) error {
	used := s.in.Options.Used
	if used == nil {
		return nil
	}
	u, h := s.in.Options.Units, &s.stands.Here
	behind := whole.behind(s.stands)
	trip := whole.bike.Shown(ridden(behind))
	if !(used.Trip > 0 && used.Litres > 0) {
		return &route.InputError{What: "nothing used, or over no distance, measures nothing", Hint: `write it like --used "9.8 L over 212 km"`}
	}
	if used.Trip > trip+tripHair {
		return &route.InputError{
			What: fmt.Sprintf("the %.1f %s on the trip meter are more than there are from the start to %s: as the bike shows them %.1f",
				u.DistanceIn(used.Trip), u.DistanceUnit(), kmOf(u, h.At), u.DistanceIn(trip)),
			Hint: fmt.Sprintf(`if it was zeroed at the start, write "… over %s %s"; else give what was used since a fill on this ride`,
				fuel.Down(u.DistanceIn(trip)), u.DistanceUnit()),
		}
	}
	f := whole.last(behind, used.Trip/whole.bike.Shown(1))
	h.Used, h.Low, h.Likely, h.High = used, f.Low, f.Likely, f.High
	h.Factor = float64(used.Litres / f.Likely)
	h.Thirst = h.Before * h.Factor
	if !(h.Factor >= leastFactor && h.Factor <= mostFactor) || !thirstFits(h.Thirst) {
		return &route.InputError{
			What: fmt.Sprintf("%s over %s are %.2f times the %s expected", u.Held(used.Litres), u.Distance(used.Trip), h.Factor, u.Needed(f.Likely)),
			Hint: "check the figures: what was filled, what the trip meter showed, and where that was (--from)",
		}
	}
	s.in.Options.Thirst = h.Thirst
	s.course = s.course.Thirstier(h.Factor)
	return nil
}

// tripHair keeps a trip of just what has been ridden from being too long by
// rounding.
const tripHair route.Metres = 1e-3

// A piece is a part of the way that has been ridden: line, or a way off it.
type piece struct {
	from, to route.Metres // along the line
	isOff    bool         // off the line
	ridden   route.Metres
}

// behind lists the way from the start of the line to where the rider stands: there
// and back to each place that the plan visits before it, and only there to the one
// at which he stands.
func (d *draft) behind(here *standpoint) []piece {
	var way []piece
	at := route.Metres(0)
	ride := func(to, off route.Metres) {
		way = append(way, piece{from: at, to: to, ridden: d.course.Between(at, to).Ridden})
		if off > 0 {
			way = append(way, piece{from: to, to: to, isOff: true, ridden: off})
		}
		at = to
	}
	for _, n := range d.nodes {
		if n.at >= here.At {
			break
		}
		ride(n.at, 2*n.half)
	}
	ride(here.At, here.half)
	return way
}

func ridden(way []piece) (sum route.Metres) {
	for _, p := range way {
		sum += p.ridden
	}
	return sum
}

// last gives what the last kilometres of a way take.
func (d *draft) last(way []piece, distance route.Metres) (f fuel.Figures) {
	before := ridden(way) - distance
	for _, p := range way {
		skip := min(max(before, 0), p.ridden)
		before -= p.ridden
		if p.isOff {
			f = f.Plus(d.course.Detour(p.to, p.ridden-skip))
			continue
		}
		f = f.Plus(d.course.Between(p.from, p.to).Fuel.Minus(d.course.Over(p.from, skip)))
	}
	return f
}
