package plan

import (
	"cmp"
	"slices"

	"lastpump/route"

	"github.com/paulmach/orb"
)

// A CueKind says what there is to do at a cue.
type CueKind string

// The kinds of cues. Where several fall on one place they come in this order.
const (
	CueStart    CueKind = "start"     // set out: zero the trip meter, fill up where there is a pump
	CuePart     CueKind = "part"      // a part of the file begins, often a day
	CuePour     CueKind = "pour"      // from here on the can fits into the tank
	CueTurnBack CueKind = "turn-back" // the last place to turn back from
	CueFill     CueKind = "fill"      // fill up and zero the trip meter
	CueEnd      CueKind = "end"       // the ride is over, and no pump is there
)

var cueKinds = []CueKind{CueStart, CuePart, CuePour, CueTurnBack, CueFill, CueEnd}

// A Cue is one thing to do at one place of the ride, as it stands on a roll of paper
// or in a GPS. Figures of the fill and of the can stand where the indices point.
type Cue struct {
	Kind  CueKind
	Leg   int          // on which it lies, or which ends there; 0 for the start
	Visit int          // into Plan.Visits: where to fill; -1 for none
	Use   int          // into Can.Uses: the can that is filled here, or poured; -1 for none
	Part  int          // into Line.Parts: which begins; -1 for none
	Trip  route.Metres // on the trip meter, which was zeroed at the last fill
	At    route.Metres // along the line
	Point orb.Point    // of the pump where there is one, else on the line
}

// roll gives what there is to do on the way.
func (d *draft) roll() []Cue {
	first := d.plan.Legs[0]
	out := []Cue{d.cueAt(CueStart, 0, first.FromVisit, 0, first.FromAt)}
	out[0].Use = d.useOf(0)
	for i, l := range d.plan.Legs {
		var on []Cue
		on = append(on, d.partCues(i)...)
		on = append(on, d.pourCue(i)...)
		if l.TurnBackBy > 0 && l.TurnBackBy < l.Trip(d.bike) {
			on = append(on, d.cueAt(CueTurnBack, i, -1, l.TurnBackBy, l.TurnBackByAt))
		}
		slices.SortStableFunc(on, func(a, b Cue) int {
			return cmp.Or(cmp.Compare(a.Trip, b.Trip), cmp.Compare(slices.Index(cueKinds, a.Kind), slices.Index(cueKinds, b.Kind)))
		})
		kind := CueFill
		if l.ToVisit < 0 {
			kind = CueEnd
		}
		end := d.cueAt(kind, i, l.ToVisit, l.Trip(d.bike), l.ToAt)
		end.Use = d.useOf(i + 1)
		out = append(append(out, on...), end)
	}
	return out
}

// cueAt makes a cue at a place along the line, or at the pump that is visited there.
func (d *draft) cueAt(kind CueKind, leg, visit int, trip, at route.Metres) Cue {
	c := Cue{Kind: kind, Leg: leg, Visit: visit, Use: -1, Part: -1, Trip: trip, At: at, Point: d.in.Line.At(at)}
	if visit >= 0 {
		c.Point = d.plan.Visits[visit].Stop.At
	}
	return c
}

// useOf gives the use of the can on a leg, which is filled where the leg begins; -1
// for none.
func (d *draft) useOf(leg int) int {
	return slices.IndexFunc(d.plan.Can.Uses, func(u Use) bool { return u.Leg == leg })
}

// partCues tells where on a leg parts of the file begin. A ride of one part has no breaks.
func (d *draft) partCues(i int) (out []Cue) {
	l, parts := d.plan.Legs[i], d.in.Line.Parts
	for k, p := range parts {
		if len(parts) < 2 || p.From >= l.ToAt || p.To <= l.FromAt || p.From < l.FromAt && i > 0 {
			continue
		}
		trip := route.Metres(0)
		if p.From > l.FromAt {
			trip = d.bike.Shown(d.nodes[i].half + d.course.RiddenTo(p.From) - d.course.RiddenTo(l.FromAt))
		}
		c := d.cueAt(CuePart, i, -1, trip, max(p.From, l.FromAt))
		c.Part = k
		out = append(out, c)
	}
	return out
}

// pourCue tells where on a leg all of a full can fits into the tank, or as much as fits
// before a thirsty bike has only 1 L left. Beyond the end of the leg there is no cue: it
// is poured at the pump, or ridden on with where that is dry.
func (d *draft) pourCue(i int) []Cue {
	k := d.useOf(i)
	if k < 0 {
		return nil
	}
	u, l := d.plan.Can.Uses[k], d.plan.Legs[i]
	trip := u.PourAt
	if u.Full > 0 {
		trip = min(u.FullAt, u.PourBy)
	}
	if trip >= l.Trip(d.bike) {
		return nil
	}
	c := d.cueAt(CuePour, i, -1, trip, d.along(i, trip))
	c.Use = k
	return []Cue{c}
}

// along gives the place along the line at which the trip meter shows a distance.
func (d *draft) along(i int, trip route.Metres) route.Metres {
	ridden := trip / d.bike.Shown(1)
	return min(d.course.After(d.nodes[i].at, ridden-d.nodes[i].half), d.nodes[i+1].at)
}
