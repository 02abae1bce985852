package days

import (
	"slices"
	"time"

	"lastpump/fuel"
	"lastpump/fuel/clock"
	"lastpump/fuel/leg"
	"lastpump/fuel/trip"
	"lastpump/route"
	"lastpump/route/sun"

	"github.com/paulmach/orb"
)

// A Day is one of the ride, as a rider looks at it.
type Day struct {
	clock.Day
	Ridden route.Metres
	Trip   route.Metres // on the trip meter on arriving at the night, zeroed at the last fill before it
	Visit  int          // of the stop where the night is, into Ride.Visits; -1 for none
	Tank   fuel.Litres  // in it on leaving in the morning, or at the end of the ride; cans are not counted
	Fit    []Window     // of leaving that day, at which every pump with known hours is open; nil for none
	Asked  bool         // there are pumps with known hours that day
}

// A Window is hours of leaving, the first and the last that were tried.
type Window struct{ From, To time.Time }

// Days gives the days of a ride.
func (r *Reckoning) Days(d *trip.Draft) (out []Day) {
	for i, of := range r.Clock.Days {
		day := Day{Day: of, Visit: -1, Ridden: d.Trip.Course.Between(of.From, of.To).Ridden}
		if p := of.Night.Place; p >= 0 {
			day.Visit = d.VisitAt(r.passing[p])
		}
		day.Trip = d.ShownAt(of.To)
		day.Tank = d.TankOn(of.To, r.filledThere(i))
		day.Fit, day.Asked = r.fit(i)
		out = append(out, day)
	}
	return out
}

// filledThere tells whether a day ends where the tank is filled.
func (r *Reckoning) filledThere(day int) bool {
	p := r.Clock.Days[day].Night.Place
	if p < 0 {
		return false
	}
	return r.Passings[p].Fill != clock.NoFill && r.ride.Places[p].Use == clock.Filled
}

// A shift is a quarter of an hour, from the beginning of civil dawn to two in the afternoon.
const (
	shift     = 15 * time.Minute
	lastLeave = 14
)

// A Standing counts the pumps that a day or a ride meets and that are shut for too long, shut, or
// doubtful.
type Standing struct{ LongShut, Shut, Doubtful int }

// add counts a passing.
func (s *Standing) add(p *clock.Passing) {
	switch {
	case p.LongShut:
		s.LongShut++
	case p.State == clock.Shut:
		s.Shut++
	case p.State == clock.Doubtful:
		s.Doubtful++
	}
}

// StandingOf counts those of a ride: the pumps that it fills at, and those that it does not count
// because they are shut. Where it begins and ends it needs none.
func StandingOf(r *trip.Ride) (s Standing) {
	for i, v := range r.Visits {
		if v.Hour != nil && NeedsPump(r, i) && (v.Fill != nil || v.WhyNot == trip.LongShut) {
			s.add(v.Hour)
		}
	}
	return s
}

// NeedsPump tells whether a visit is where a pump is needed: not where the ride begins full, nor
// where it ends.
func NeedsPump(r *trip.Ride, visit int) bool {
	f := r.Visits[visit].Fill
	begins := visit == r.Legs[0].FromVisit && !r.Start.OnTheWay && f != nil && f.Litres <= 0
	return !begins && visit != r.Legs[len(r.Legs)-1].ToVisit
}

// Compare orders standings, the better first.
func (s Standing) Compare(o Standing) int {
	return slices.Compare([]int{s.LongShut, s.Shut, s.Doubtful}, []int{o.LongShut, o.Shut, o.Doubtful})
}

// LeavingAt gives how the pumps of a day stand if it is begun at another hour; nights stay put.
// The pump of one passing is filled at all the same; nil for none.
func (r *Reckoning) LeavingAt(day int, leave time.Time, too *trip.Sighting) (s Standing, asked bool) {
	ride := r.dayRide(day, too)
	leave, shut := r.afterMorning(day, leave)
	if shut {
		s.Shut, asked = 1, true
	}
	ride.Leaving.First = leave
	for i, p := range clock.Straight(ride) {
		if p.Reached && ride.Places[i].Hours != nil {
			asked = true
			s.add(&p)
		}
	}
	return s, asked
}

// afterMorning gives when a day is begun behind a fill in the morning, if the night before is where
// one is, and whether that pump is shut at the hour of leaving.
func (r *Reckoning) afterMorning(day int, leave time.Time) (time.Time, bool) {
	if day == 0 {
		return leave, false
	}
	night := r.Clock.Days[day-1].Night.Place
	if night < 0 || r.Passings[night].Fill != clock.InMorning {
		return leave, false
	}
	is, until := r.ride.Places[night].Hours(leave)
	shut := is == clock.IsShut
	if shut && !until.IsZero() {
		leave = until
	}
	return leave.Add(r.Manner.Fill[clock.Likely]), shut
}

// dayRide gives the ride of one day over the pumps that are filled at, those that are left out for
// their hours, and that of a passing.
func (r *Reckoning) dayRide(day int, too *trip.Sighting) clock.Ride {
	d := r.Clock.Days[day]
	ride := r.ride
	if day > 0 {
		ride.From = leg.End{At: d.From}
	}
	if day+1 < len(r.Clock.Days) {
		ride.To = leg.End{At: d.To}
	}
	ride.Places, ride.Halts = nil, nil
	for i, p := range r.ride.Places {
		of := r.Passings[i]
		if r.leftOut[i] || too != nil && r.passing[i] == *too {
			p.Use = clock.Filled
		}
		if !of.Reached || of.Day != day || p.Use != clock.Filled || p.At < ride.From.At || p.At > ride.To.At {
			continue
		}
		if of.Fill != clock.InMorning {
			ride.Places = append(ride.Places, p)
		}
	}
	for _, h := range r.ride.Halts {
		if (day == 0 || h.At > ride.From.At) && h.At >= ride.From.At && h.At <= ride.To.At { // one at the night is taken in the evening
			ride.Halts = append(ride.Halts, h)
		}
	}
	return ride
}

// Standing counts the pumps that the ride of the clock fills at, where it begins and ends aside.
func (r *Reckoning) Standing() (s Standing) {
	for i, p := range r.Passings {
		at := r.ride.Places[i]
		if at.Use == clock.Filled && p.Reached && at.At > r.ride.From.At && at.At < r.ride.To.At {
			s.add(&p)
		}
	}
	return s
}

// Leaves lists the hours at which a day may be begun: each quarter from civil dawn to two in the
// afternoon, by the clock of the place.
func (r *Reckoning) Leaves(day int) (out []time.Time) {
	d := r.Clock.Days[day]
	y, m, date := d.Leave.Date()
	at := time.Date(y, m, date, 0, 0, 0, 0, d.Leave.Location())
	end := time.Date(y, m, date, lastLeave, 0, 0, 0, d.Leave.Location())
	first := time.Time{}
	switch {
	case day > 0:
		first = r.Clock.Days[day-1].There[clock.Likely].Add(clock.Rest)
	case r.onWay:
		first = d.Leave
	}
	for ; !at.After(end); at = at.Add(shift) {
		if !at.Before(first) && dawn(r.ride.Point(d.From), at) {
			out = append(out, at)
		}
	}
	return out
}

// fit gives the hours of leaving at which every pump of a day is open.
func (r *Reckoning) fit(day int) (out []Window, asked bool) {
	for _, at := range r.Leaves(day) {
		s, some := r.LeavingAt(day, at, nil)
		if asked = asked || some; s != (Standing{}) {
			continue
		}
		if n := len(out); n > 0 && at.Sub(out[n-1].To) == shift {
			out[n-1].To = at
		} else {
			out = append(out, Window{at, at})
		}
	}
	return out, asked
}

// dawn tells whether it is at least civil dawn, or the sun is up.
func dawn(p orb.Point, at time.Time) bool { return sun.At(p, at) != sun.Dark }
