package clock

import (
	"sort"
	"time"

	"lastpump/fuel/leg"
	"lastpump/route"
)

// here is how near two places along the line are that are one.
const here route.Metres = 1

// A target is where a day is to end.
type target struct {
	By
	at      route.Metres
	place   int // -1 for none
	between [2]route.Metres
}

// A planner tells where the day that a walk stands at the beginning of is to end.
type planner func(*walk) target

// A walk goes along a ride. It stands somewhere, with the hour of each run.
type walk struct {
	*Ride
	clock *Clock
	pos   leg.End // Half is still to be ridden back to the line
	now   Times
	rode  time.Duration // likely riding since leaving
	left  time.Time     // when this day was begun
	begun route.Metres  // and where
	place int           // the next of the places
	halt  int           // the next of the halts
	known *time.Location
}

// follow goes along the whole ride, day by day.
func (r *Ride) follow(plan planner) *walk {
	w := &walk{Ride: r, pos: r.From, left: r.Leaving.First, begun: r.From.At, known: r.Leaving.First.Location()}
	w.clock = &Clock{Passings: make([]Passing, len(r.Places))}
	w.now = Times{w.left, w.left, w.left}
	w.place = sort.Search(len(r.Places), func(i int) bool { return r.Places[i].At >= r.From.At })
	w.halt = sort.Search(len(r.Halts), func(i int) bool { return r.Halts[i].At >= r.From.At })
	for !w.day(plan(w)) {
	}
	return w
}

// day rides to where the day is to end, or to where somebody waits through the night, and
// tells whether the ride is over.
func (w *walk) day(t target) (over bool) {
	for {
		i, at := w.place, w.To.At
		if i < len(w.Places) {
			at = w.Places[i].At
		}
		switch {
		case w.halt < len(w.Halts) && w.Halts[w.halt].At < at && w.Halts[w.halt].before(t):
			w.stay()
		case t.By != ByEnd && t.place < 0 && (t.at < at || i == len(w.Places)):
			w.ride(leg.End{At: t.at})
			w.sleep(t, w.leavingAfter(w.now[Likely], t.at))
			return false
		case i == len(w.Places):
			w.finish(t)
			return true
		default:
			if w.visit(t) {
				return false
			}
		}
	}
}

// ride rides on to a place.
func (w *walk) ride(to leg.End) {
	if w.pos == to {
		return
	}
	moving := w.Pacing.moving(w.pos, to)
	for f := range w.now {
		w.now[f] = w.now[f].Add(moving[f])
	}
	w.rode += w.Pacing.Riding(w.pos, to)[Likely]
	w.pos = to
}

// before tells whether a halt is taken before the end of a day: in the evening too, but at a pump
// in the morning, after the fill.
func (h Halt) before(t target) bool { return h.At < t.at || h.At == t.at && t.place < 0 }

// stay takes the next halt.
func (w *walk) stay() {
	h := w.Halts[w.halt]
	if h.At > w.pos.At {
		w.ride(leg.End{At: h.At})
	}
	for f := range w.now {
		w.now[f] = w.now[f].Add(h.For)
	}
	w.halt++
}

// finish rides to the end of the ride.
func (w *walk) finish(t target) {
	for w.halt < len(w.Halts) {
		w.stay()
	}
	w.ride(w.To)
	w.endDay(t)
}

// endDay notes the day that ends here.
func (w *walk) endDay(t target) {
	w.clock.Days = append(w.clock.Days, Day{From: w.begun, To: w.pos.At, Leave: w.left, There: w.now, Riding: w.rode,
		Night: Night{By: t.By, Place: t.place, Between: t.between}})
}

// sleep ends a day where the walk stands, and leaves in the morning.
func (w *walk) sleep(t target, leave time.Time) { w.sleepUntil(t, leave, Times{leave, leave, leave}) }

// sleepUntil is sleep for runs that are on their way at these times. A late run that is there
// after the hour of leaving goes on at once: it is later than the others on that day, too.
func (w *walk) sleepUntil(t target, leave time.Time, out Times) {
	w.endDay(t)
	w.left, w.begun, w.rode = leave, w.pos.At, 0
	out[Late] = latest(out[Late], w.now[Late])
	w.now = out
}

// Rest is how long after arriving nobody leaves: our estimate.
const Rest = 8 * time.Hour

// leavingAfter gives when the night is left that is reached at an instant: the next time
// that the clock of the place shows the hour, or 8 h later if that is later.
func (w *walk) leavingAfter(there time.Time, at route.Metres) time.Time {
	hour, ok := w.Leaving.On[len(w.clock.Days)+2]
	if !ok {
		hour = w.Leaving.Every
	}
	local := there.In(w.zone(at))
	y, m, d := local.Date()
	leave := time.Date(y, m, d, hour.Hour, hour.Minute, 0, 0, local.Location())
	if leave.Before(local) {
		leave = time.Date(y, m, d+1, hour.Hour, hour.Minute, 0, 0, local.Location())
	}
	if rested := local.Add(Rest); leave.Before(rested) {
		return rested
	}
	return leave
}

// zone gives the zone of a place along the line; where it is not known the last that was.
func (w *walk) zone(at route.Metres) *time.Location {
	if z := w.Ride.Zone(at); z != nil {
		w.known = z
	}
	return w.known
}
