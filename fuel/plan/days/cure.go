package days

import (
	"slices"
	"time"

	"lastpump/fuel/clock"
	"lastpump/fuel/trip"
	"lastpump/route"
)

// A Cure is what a rider may do about a pump that is shut or may be. A ride that does it has been
// planned anew, all of it; [Phone] aside, which makes sure and changes nothing.
type Cure struct {
	Kind     CureKind
	Visit    int           // of the pump, into Ride.Visits
	Day      int           // of [LeaveAt], into Plan.Days
	Leave    time.Time     // of [LeaveAt] and [StartOn]: when that day is begun
	Was      time.Time     // and when it is begun without
	Wait     time.Duration // of [WaitThere]: the likely run's
	There    clock.Times   // when the pump is then reached; zero for [Phone] and [PassBy]
	Standing Standing      // of the whole ride then
}

// A CureKind is what a cure does.
type CureKind string

// The kinds of cures, in the order in which they are given.
const (
	Phone     CureKind = "phone"
	LeaveAt   CureKind = "leave at"   // that day at another hour
	WaitThere CureKind = "wait there" // until it opens
	PassBy    CureKind = "pass by"    // without a fill
	SleepAt   CureKind = "sleep at"   // the pump: the night is there
	StartOn   CureKind = "start on"   // another day, all of it
)

// CureKinds lists the kinds in their order.
func CureKinds() []CureKind { return []CureKind{Phone, LeaveAt, WaitThere, PassBy, SleepAt, StartOn} }

// Leaving gives the hour at which a day may be begun so that the pump of a passing is open and no
// other stands worse: the least shift, of two the earlier.
func (r *Reckoning) Leaving(day int, g trip.Sighting) (leave time.Time, ok bool) {
	if day >= len(r.Clock.Days) {
		return leave, false
	}
	was := r.Clock.Days[day].Leave
	now, _ := r.LeavingAt(day, was, &g)
	least := time.Duration(1<<63 - 1)
	for _, at := range r.Leaves(day) {
		off := at.Sub(was).Abs()
		if off >= least || off == 0 {
			continue
		}
		if s, _ := r.LeavingAt(day, at, &g); s.Compare(now) < 0 && r.opensFor(day, at, g) {
			leave, least, ok = at, off, true
		}
	}
	return leave, ok
}

// opensFor tells whether the pump of a passing is open on a day that is begun at an hour.
func (r *Reckoning) opensFor(day int, leave time.Time, g trip.Sighting) bool {
	ride := r.dayRide(day, &g)
	ride.Leaving.First, _ = r.afterMorning(day, leave)
	end := r.ride.Places[slices.Index(r.passing, g)].End
	for i, p := range clock.Straight(ride) {
		if ride.Places[i].End == end && p.State == clock.Open {
			return true
		}
	}
	return false
}

// Nights lists where the ride sleeps, with the night of one day elsewhere.
func (r *Reckoning) Nights(day int, at route.Metres) (out []Where) {
	for i, d := range r.Clock.Days[:len(r.Clock.Days)-1] {
		if i == day {
			d.To = at
		}
		out = append(out, Where{At: d.To})
	}
	return out
}
