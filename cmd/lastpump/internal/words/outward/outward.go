// Package outward says which roads lead to petrol that lies off the line: the last way out of
// each leg, and what becomes of a dry pump that only a road leads away from. Start with [Of].
package outward

import (
	"cmp"
	"fmt"

	"lastpump/cmd/lastpump/internal/words"
	"lastpump/fuel/trip"
)

// A Voice says what there is to say of ways out.
type Voice struct{ words.Voice }

// Of gives the voice for a plan.
func Of(v words.Voice) Voice { return Voice{v} }

// Head is what stands above the table of ways out.
func (v Voice) Head() string {
	return "WAYS OUT BY ROAD (the last place on each leg to leave the line for a pump other than the next, if the bike drinks " +
		"the high figure; trip: " + v.Units.DistanceUnit() + " on the trip meter; left: in tank and cans on getting there, " +
		v.Units.VolumeUnit() + ")"
}

// None is said where no leg has a way out that may be leaned on.
const None = "No leg has a way out that may be leaned on: to a pump that somebody has seen or phoned within a year."

// A Row is one leg's way out.
type Row struct{ Trip, Turn, Onto, To, Far, Left, Where string }

// Row gives that of a leg; not ok where it has none.
func (v Voice) Row(i int) (r Row, ok bool) {
	out := v.Plan.Legs[i].WayOut
	if out == nil {
		return r, false
	}
	w := v.Plan.Ways.All[out.Way]
	return Row{Trip: v.Units.Nearest(out.Trip), Turn: v.Turn(out.Way), Onto: v.Name(w.Way.Road), To: v.pump(out.Way),
		Far: v.Units.Distance(w.Length()), Left: v.Units.VolumeDown(out.Spare), Where: words.LatLon(w.TurnOff)}, true
}

// pump names the pump at the end of a way as the list of stops does.
func (v Voice) pump(way int) string {
	w := v.Plan.Ways.All[way]
	if w.ToStop >= 0 {
		return v.Name(v.Plan.Stops[w.ToStop].Name)
	}
	return v.Name(w.To)
}

// Turn says which way a road leaves the line: "left, NE".
func (v Voice) Turn(way int) string {
	w := v.Plan.Ways.All[way]
	if side := v.TurnSide(way); side != "" {
		return side + ", " + w.Toward
	}
	return w.Toward
}

// Told says where a way out leaves a leg, and where it leads: "right, NE, on Siding Road to Hark
// Siding, 29 km by road".
func (v Voice) Told(out *trip.WayOut) string {
	w := v.Plan.Ways.All[out.Way]
	return fmt.Sprintf("%s, on %s to %s, %s", v.Turn(out.Way), cmp.Or(v.Name(w.Way.Road), "the road"), v.pump(out.Way),
		v.RoadFar(out.Way))
}

// Perhaps says, of each pump at the end of a leg, which way out is known that may not be leaned on
// if it is dry, and why not.
func (v Voice) Perhaps() (out []string) {
	for _, at := range v.Plan.Visits {
		if at.IfDry != nil && at.IfDry.Off != nil && at.IfDry.Off.Why != "" {
			out = append(out, fmt.Sprintf("If %s is dry, %s.", v.Name(at.Stop.Name), v.PerhapsOff(*at.IfDry.Off)))
		}
	}
	return out
}

// Pumps describes each pump that a way out leads to, as the list of stops has it: where it is, its
// telephone, hours and what it takes. The ride does not pass it, so no other table has it.
func (v Voice) Pumps() (out []string) {
	told := map[int]bool{}
	add := func(way int) {
		k := v.Plan.Ways.All[way].ToStop
		if k < 0 || told[k] {
			return
		}
		told[k] = true
		s := v.Plan.Stops[k]
		line := v.Name(s.Name) + ": " + words.LatLon(s.At)
		for _, more := range []struct{ before, text string }{{"", s.Phone}, {"open ", s.Hours}, {"pay ", s.Pay}} {
			if more.text != "" {
				line += "; " + more.before + v.Name(more.text)
			}
		}
		out = append(out, line+".")
	}
	for _, l := range v.Plan.Legs {
		if l.WayOut != nil {
			add(l.WayOut.Way)
		}
	}
	for _, at := range v.Plan.Visits {
		if at.IfDry != nil && at.IfDry.Off != nil {
			add(at.IfDry.Off.Way)
		}
	}
	return out
}
