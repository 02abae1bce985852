package rides_test

import (
	"fmt"
	"math/rand/v2"
	"time"

	"lastpump/fuel/clock"
	"lastpump/route"
)

// speeds over the grounds in km/h: at the most, likely, at the least; and pauses and fills in
// hours: early, likely, late. They are the tables of the clock, written down a second time.
var (
	speeds = map[route.Ground]band{
		route.Paved: {80, 65, 50}, route.PackedGravel: {70, 55, 45}, route.LooseGravel: {60, 45, 35},
		route.Dirt: {50, 40, 30}, route.Soft: {35, 25, 18}, route.Rocky: {25, 18, 12}, route.Mud: {25, 15, 9},
		route.Sand: {35, 25, 18}, route.DeepSand: {25, 15, 10}, route.Snow: {30, 20, 12},
	}
	pauses = band{0.25, 35. / 60, 1} // an hour of likely riding
	fills  = band{10. / 60, 0.25, 0.5}
)

// hours are those that a metre takes on a ground, pauses included.
func hoursOn(ground int) band {
	v := speeds[grounds[ground].name]
	return band{(1/v.low + pauses.low/v.likely) / 1000, (1/v.likely + pauses.likely/v.likely) / 1000,
		(1/v.high + pauses.high/v.likely) / 1000}
}

// A tempo is how fast somebody is: where he is between early, -1, and late, 1.
type tempo struct {
	on     [][]float64 // by day and ground
	fill   []float64   // by stop
	beyond float64     // times the hours of all that: over 1 he is later than late
}

// Of all riders so many are early all the way, as many late, and of these some are later still, up
// to the tenth by which an open pump stays open longer than late.
const (
	allEarly, allLate = 0.15, 0.3
	laterThanLate     = 0.10
)

func (l *loop) drawTempo(rnd *rand.Rand, beyond bool) *tempo {
	t := &tempo{beyond: 1}
	kind, hand := rnd.Float64(), 2*rnd.Float64()-1
	if beyond {
		t.beyond, kind = 1+laterThanLate*rnd.Float64(), allEarly
	}
	one := func() float64 {
		switch {
		case kind < allEarly:
			return -1
		case kind < allEarly+allLate:
			return 1
		}
		return max(-1, min(1, hand+0.5*rnd.NormFloat64()))
	}
	for range l.road.days {
		day := make([]float64, len(grounds))
		for g := range day {
			day[g] = one()
		}
		t.on = append(t.on, day)
	}
	for range l.sheet.stops {
		t.fill = append(t.fill, one())
	}
	return t
}

// A night is where the sheet has the rider sleep, and when he leaves. Where it is at a pump it
// begins there.
type night struct {
	at    float64
	pump  string // "" for none
	leave time.Time
}

// A timetable is what a sheet says of hours.
type timetable struct {
	first  time.Time
	nights []night
	halts  []halt
	wait   time.Duration // for a pump to open, at the most
}

// A halt is a stay that the rider has planned.
type halt struct {
	at   float64
	stay time.Duration
}

// A dial is what a rider with a clock knows.
type dial struct {
	now, left time.Time
	nextBed   int  // into timetable.nights
	nextHalt  int  // into timetable.halts
	off       bool // he has filled where the sheet has him pass, or been at a dry pump
	shut      []found
	wentBack  bool
	afterBack time.Duration // the wait at the pump that he has ridden back to, however long
	wrong     []string      // of what the sheet says of hours
}

// A found pump is one that a rider has found shut for longer than he waits.
type found struct {
	name   string
	within bool // he was there between early and late
}

// takes lets the time for a bit of way pass.
func (r *rider) takes(metres float64, p *piece) {
	if r.tempo != nil {
		r.spend(hoursOn(p.ground).at(r.tempo.on[p.day][p.ground]) * metres)
	}
}

// takesRoad lets the time for a way off the line pass.
func (r *rider) takesRoad(b *byway, day int) {
	if r.tempo == nil {
		return
	}
	for g, m := range b.metres {
		r.spend(hoursOn(g).at(r.tempo.on[day][g]) * m)
	}
}

func (r *rider) spend(hours float64) { r.now = r.now.Add(r.lasting(hours)) }

func (r *rider) lasting(hours float64) time.Duration {
	return time.Duration(hours * r.tempo.beyond * float64(time.Hour))
}

// bed gives how far the line may be ridden before the next night.
func (r *rider) bed() (at float64, ok bool) {
	if r.tempo == nil || r.nextBed == len(r.sheet.clock.nights) {
		return 0, false
	}
	n := r.sheet.clock.nights[r.nextBed]
	if n.pump != "" {
		return n.at + 1, true
	}
	return n.at, true
}

// rest gives how far the line may be ridden before the next night or halt.
func (r *rider) rest() (at float64, ok bool) {
	at, ok = r.bed()
	if r.tempo != nil && r.nextHalt < len(r.sheet.clock.halts) {
		if h := r.sheet.clock.halts[r.nextHalt]; !ok || h.at < at {
			return h.at, true
		}
	}
	return at, ok
}

// sleepsHere halts or sleeps where the line has come to that.
func (r *rider) sleepsHere() {
	for r.tempo != nil && r.nextHalt < len(r.sheet.clock.halts) && r.at >= r.sheet.clock.halts[r.nextHalt].at-1e-6 {
		r.now = r.now.Add(r.sheet.clock.halts[r.nextHalt].stay)
		r.nextHalt++
	}
	for at, ok := r.bed(); ok && r.at >= at-1e-6; at, ok = r.bed() {
		r.leaves(r.now)
	}
}

// leaves the night: at the hour of the sheet, or later where that is past.
func (r *rider) leaves(notBefore time.Time) {
	n := r.sheet.clock.nights[r.nextBed]
	r.nextBed++
	r.now, r.left = latest(n.leave, notBefore), n.leave
}

func latest(a, b time.Time) time.Time {
	if a.After(b) {
		return a
	}
	return b
}

// comes to a pump in time: waits for it to open, fills if it has petrol, and sleeps if the night is
// there. It tells false where it is shut for longer than he waits.
func (r *rider) comes(e entry, fill float64, dry bool) (open bool) {
	if r.tempo == nil || !e.pump {
		return true
	}
	there := r.now
	r.compare(e)
	opens := e.open.opens(there)
	takes := r.lasting(fills.at(fill))
	if dry {
		takes = 0
	}
	said := e.hour != nil && e.hour.State == clock.Shut && !e.hour.LongShut // the sheet has him wait
	waits := !opens.IsZero() && (said || opens.Sub(there) <= r.sheet.clock.wait)
	if at, ok := r.bed(); ok && at == e.km+1 {
		n := r.sheet.clock.nights[r.nextBed]
		waits = waits || !opens.IsZero() && !opens.After(n.leave.Add(time.Hour))
		switch {
		case !waits:
			r.leaves(there)
		case e.hour != nil && e.hour.Fill == clock.InMorning && opens.After(there):
			r.leaves(latest(opens, n.leave).Add(takes))
		default: // before leaving, if he can
			r.leaves(opens.Add(takes))
		}
	} else if waits {
		r.now = opens.Add(takes)
	}
	if !waits {
		r.shut = append(r.shut, found{e.name, r.within(e, there)})
		r.off = true
	}
	return waits
}

// within tells whether somebody is at a pump between early and late. Who has found another shut
// or dry has not filled there, and is earlier by that.
func (r *rider) within(e entry, there time.Time) bool {
	return e.hour != nil && !there.After(e.hour.There[clock.Late].Add(time.Second)) &&
		!there.Before(e.hour.There[clock.Early].Add(-30*time.Minute))
}

// compare holds what the sheet says of hours against what a rider finds for whom all has gone as
// planned: he is there between early and late, and what is open or shut is so.
func (r *rider) compare(e entry) {
	if r.off || r.dryKnown || e.hour == nil {
		return
	}
	there, second := e.hour.There, time.Second
	late := there[clock.Late].Add(second)
	isLater := r.now.After(late)
	if r.tempo.beyond > 1 { // until he is later than that, for he has waited where late has not
		late = late.Add(time.Duration(laterThanLate * float64(late.Sub(r.left))))
		r.off = r.now.After(late)
	}
	opens, wrong := e.open.opens(r.now), ""
	switch {
	case r.off:
	case r.now.Before(there[clock.Early].Add(-second)) || r.now.After(late):
		wrong = "told of other hours"
	case e.hour.State == clock.Open && opens.After(r.now):
		wrong = "said to be open"
	case e.hour.State == clock.Shut && !opens.After(r.now) && !isLater:
		wrong = "said to be shut"
	}
	if wrong != "" {
		r.wrong = append(r.wrong, fmt.Sprintf("%s, %s: there at %v, not in %v", e.name, wrong, r.now, there))
	}
}

// comesTo a stop of the sheet; at the end nobody needs petrol.
func (r *rider) comesTo(i int, dry bool) (open bool) {
	if r.tempo == nil || i == r.sheet.last() {
		return true
	}
	return r.comes(r.sheet.stops[i], r.tempo.fill[i%len(r.tempo.fill)], dry)
}

// comesBack to a pump behind a dry one, and waits there for as long as it takes.
func (r *rider) comesBack(e entry) {
	if r.tempo != nil && e.pump {
		r.wentBack, r.afterBack = true, e.open.opens(r.now).Sub(r.now)
	}
}

// setsOut when the sheet says; who is not full is filled up first.
func (r *rider) setsOut() {
	if r.tempo == nil {
		return
	}
	r.now, r.left = r.sheet.clock.first, r.sheet.clock.first
	if r.tank < r.engine.usable {
		r.comes(r.sheet.stops[0], r.tempo.fill[0], false)
	}
}
