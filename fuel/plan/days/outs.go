package days

import (
	"cmp"
	"slices"
	"time"

	"lastpump/fuel/clock"
	"lastpump/fuel/leg"
	"lastpump/fuel/trip"
	"lastpump/route"
)

// outs puts the pumps at the ends of the ways out among the places of a clock, each as if it were
// ridden to from where its way begins: nobody fills there by plan.
type outs struct {
	r      *Reckoning
	t      *trip.Trip
	read   *readings
	onLine []int // ways that begin on the line and are still to come, in order along it
}

func (r *Reckoning) outs(t *trip.Trip, read *readings) *outs {
	o := &outs{r: r, t: t, read: read}
	for _, way := range t.Ways.From(-1) {
		if t.Ways.All[way].Along >= t.StartAt() {
			o.onLine = append(o.onLine, way)
		}
	}
	slices.SortStableFunc(o.onLine, func(a, b int) int { return cmp.Compare(t.Ways.All[a].Along, t.Ways.All[b].Along) })
	return o
}

// upTo adds the ways that begin on the line up to a place.
func (o *outs) upTo(at route.Metres) {
	for len(o.onLine) > 0 && o.t.Ways.All[o.onLine[0]].Along <= at {
		o.add(o.onLine[0], leg.End{At: o.t.Ways.All[o.onLine[0]].Along})
		o.onLine = o.onLine[1:]
	}
}

// add adds the pump at the end of a way that is left for at an end of a leg.
func (o *outs) add(way int, from leg.End) {
	key, end, ok := o.t.Out(way, from)
	if !ok {
		return
	}
	end.At = max(end.At, o.t.StartAt())
	h := o.read.at(key.Stop, o.r.Zone(end.At))
	o.r.ride.Places = append(o.r.ride.Places, clock.Place{End: end, Use: clock.Passed, Hours: h.hours, Zone: h.zone})
	o.r.passing, o.r.leftOut = append(o.r.passing, key), append(o.r.leftOut, false)
}

// opensInTime tells whether a pump is surely open when somebody is there, or opens while he waits,
// the early run too: it waits the longest, and nobody has told it that it will have to.
func opensInTime(p clock.Passing, wait time.Duration) bool {
	return p.State == clock.Open || p.State == clock.Shut && !p.LongShut && p.Opens.Sub(p.There[clock.Early]) <= wait
}
