// Package cue lists what there is to do on the way of a ride, place by place, as it
// stands on paper or in a GPS.
package cue

import (
	"cmp"
	"slices"

	"lastpump/fuel"
	"lastpump/fuel/trip"
	"lastpump/route"

	"github.com/paulmach/orb"
)

// A Kind says what there is to do at a cue.
type Kind string

// The kinds of cues. Where several fall on one place they come in this order.
const (
	Start    Kind = "start"     // set out: zero the trip meter, fill up where there is a pump
	Part     Kind = "part"      // a part of the file begins, often a day
	Pour     Kind = "pour"      // from here on the can fits into the tank
	WayOut   Kind = "way-out"   // the last place to leave the line by road for another pump
	TurnBack Kind = "turn-back" // the last place to turn back from
	Fill     Kind = "fill"      // fill up and zero the trip meter
	End      Kind = "end"       // the ride is over, and no pump is there
)

var kinds = []Kind{Start, Part, Pour, WayOut, TurnBack, Fill, End}

// A Cue is one thing to do at one place of the ride, as it stands on paper or
// in a GPS. Figures of the fill and of the can stand where the indices point.
type Cue struct {
	Kind  Kind
	Leg   int          // on which it lies, or which ends there; 0 for the start
	Visit int          // into Plan.Visits: where to fill; -1 for none
	Use   int          // into Can.Uses: the can that is filled here, or poured; -1 for none
	Can   fuel.Litres  // into the can here
	Part  int          // into Line.Parts: which begins; -1 for none
	Trip  route.Metres // on the trip meter, which was zeroed at the last fill
	At    route.Metres // along the line
	Point orb.Point    // of the pump where there is one, else on the line

	Toward route.Bearing // in which the pump lies from the line; meaningless where it does not lie off it
	Side   route.Side    // of the line, on which it does, for who rides along it
}

// A cuer lists the cues of one ride.
type cuer struct {
	*trip.Draft
	can trip.Can
}

// Of gives what there is to do on the way of a ride, with the can that it carries.
func Of(d *trip.Draft, can trip.Can) []Cue {
	c := cuer{d, can}
	first := d.Legs[0]
	out := []Cue{c.cueAt(Start, 0, first.FromVisit, 0, first.FromAt)}
	out[0].Use, out[0].Can = c.canAt(0)
	for i, l := range d.Legs {
		var on []Cue
		on = append(on, c.partCues(i)...)
		on = append(on, c.pourCue(i)...)
		if out := l.WayOut; out != nil {
			way := c.cueAt(WayOut, i, -1, out.Trip, out.At)
			way.Point = c.Trip.Ways.All[out.Way].TurnOff
			on = append(on, way)
		}
		if l.TurnsBack(c.Bike) {
			on = append(on, c.cueAt(TurnBack, i, -1, l.TurnBackBy, l.TurnBackByAt))
		}
		slices.SortStableFunc(on, func(a, b Cue) int {
			return cmp.Or(cmp.Compare(a.Trip, b.Trip),
				cmp.Compare(slices.Index(kinds, a.Kind), slices.Index(kinds, b.Kind)))
		})
		kind := Fill
		if l.ToVisit < 0 {
			kind = End
		}
		end := c.cueAt(kind, i, l.ToVisit, l.Trip(c.Bike), l.ToAt)
		end.Use, end.Can = c.canAt(i + 1)
		out = append(append(out, on...), end)
	}
	return out
}

// cueAt makes a cue at a place along the line, or at the pump that is visited there.
func (c cuer) cueAt(kind Kind, leg, visit int, shown, at route.Metres) Cue {
	cue := Cue{Kind: kind, Leg: leg, Visit: visit, Use: -1, Part: -1, Trip: shown, At: at, Point: c.Trip.Line.At(at)}
	if visit >= 0 {
		cue.Point = c.Visits[visit].Stop.At
		cue.Toward, cue.Side = c.Trip.Line.Toward(cue.Point, c.Visits[visit].At)
	}
	return cue
}

// partCues tells where on a leg parts of the file begin. A ride of one part has no breaks.
func (c cuer) partCues(i int) (out []Cue) {
	l, parts := c.Legs[i], c.Trip.Line.Parts
	for k, p := range parts {
		if len(parts) < 2 || p.From >= l.ToAt || p.To <= l.FromAt || p.From < l.FromAt && i > 0 {
			continue
		}
		trip := route.Metres(0)
		if p.From > l.FromAt {
			trip = c.Bike.Shown(c.Ways[i].Ridden(p.From))
		}
		cue := c.cueAt(Part, i, -1, trip, max(p.From, l.FromAt))
		cue.Part = k
		out = append(out, cue)
	}
	return out
}

// canAt gives the first use of what goes into the can at a node, and how much that is.
func (c cuer) canAt(k int) (use int, l fuel.Litres) {
	if k == len(c.Legs) || c.CanFilled[k] <= 0 {
		return -1, 0
	}
	return slices.IndexFunc(c.can.Uses, func(u trip.Use) bool { return c.FilledAt[u.Leg] == k }), c.CanFilled[k]
}

// pourCue tells where on a leg all that is in the can fits into the tank, or as much as fits
// before a thirsty bike has only 1 L left. There is no cue where nothing is poured by plan: it
// is ridden on with where a pump is dry.
func (c cuer) pourCue(i int) []Cue {
	k, l := c.can.UseOf(i), c.Legs[i]
	if k < 0 || l.Poured <= 0 {
		return nil
	}
	trip := min(c.can.Uses[k].FullAt, c.can.Uses[k].PourBy)
	if trip >= l.Trip(c.Bike) {
		return nil
	}
	cue := c.cueAt(Pour, i, -1, trip, c.Ways[i].Along(trip/c.Bike.Shown(1)))
	cue.Use = k
	return []Cue{cue}
}
