package clock

import (
	"time"

	"lastpump/fuel/leg"
)

// visit rides to the next place, and tells whether the night is there.
func (w *walk) visit(t target) (slept bool) {
	i := w.place
	w.place++
	p := w.Places[i]
	night := t.place == i
	stops := p.Use == Filled || night && p.Use == Counted
	if !stops { // it is passed on the line
		w.ride(leg.End{At: p.At})
		w.clock.Passings[i] = w.arrive(i, w.Pacing.moving(w.pos, p.End))
		if night {
			w.sleep(t, w.leavingAfter(w.now[Likely], p.At))
		}
		return night
	}
	w.ride(p.End)
	v := w.arrive(i, Durations{})
	likely := v.There[Likely]
	opens := p.Hours.opening(likely)
	if !night && w.throughNight(likely, opens, v) {
		night, t = true, target{By: ByWait, at: p.At, place: i}
	}
	if night {
		leave, out := w.night(&v, p, opens)
		w.clock.Passings[i] = v
		w.sleepUntil(t, leave, out)
		return true
	}
	w.fill(&v, p)
	w.clock.Passings[i] = v
	return false
}

// arrive says when a place is reached, from where it stands or after a detour, and what it then is.
func (w *walk) arrive(i int, detour Durations) Passing {
	p := w.Places[i]
	v := Passing{Reached: true, Day: len(w.clock.Days)}
	zone := p.Zone
	if zone == nil {
		zone = w.zone(p.At)
	}
	for f := range v.There {
		v.There[f] = w.now[f].Add(detour[f]).In(zone)
	}
	v.State, v.Turns = p.Hours.state(v.There, w.left, w.Pacing.manner.Fill[Late])
	opens := p.Hours.opening(v.There[Likely])
	if opens.After(v.There[Likely]) {
		v.Opens = opens
	}
	v.LongShut = v.State == Shut && !w.waits(v.There[Likely], opens)
	v.DryIfLate = v.LongShut || v.State == Doubtful && !p.Hours.firstOutOfReach(v.There, w.waits).IsZero()
	v.Closes = p.Hours.closes(opens)
	return v
}

// waits tells whether a run that is there waits for an opening.
func (w *walk) waits(there, opens time.Time) bool {
	return !opens.IsZero() && opens.Sub(there) <= w.Wait
}

// A wait of over 4 h between 22:00 and 06:00 is a night.
const (
	dark      = 22
	light     = 6
	nightLong = 4 * time.Hour
)

// throughNight tells whether the likely run waits through the night.
func (w *walk) throughNight(there, opens time.Time, v Passing) bool {
	if !w.waits(there, opens) {
		return false
	}
	y, m, d := there.Date()
	var in time.Duration
	for day := d - 1; ; day++ {
		from := time.Date(y, m, day, dark, 0, 0, 0, there.Location())
		to := time.Date(y, m, day+1, light, 0, 0, 0, there.Location())
		if !from.Before(opens) {
			return in > nightLong
		}
		if from.Before(there) {
			from = there
		}
		if to.After(opens) {
			to = opens
		}
		in = max(in, to.Sub(from))
	}
}

// aroundLeaving is by how much a pump may open after the hour of leaving to be filled at in
// the morning.
const aroundLeaving = time.Hour

// night fills at the place of the night: in the evening if it is not shut then, else in the
// morning, and gives when it is left and when each run is on its way. What is doubtful and shut
// for longer than the likely run waits is dry to it, and it leaves as if it had been filled at.
func (w *walk) night(v *Passing, p Place, opens time.Time) (leave time.Time, out Times) {
	there := v.There[Likely]
	leave = w.leavingAfter(there, p.At)
	morning := leave.Add(aroundLeaving)
	reaches := func(t, opens time.Time) bool {
		return !opens.IsZero() && (!opens.After(morning) || w.waits(t, opens))
	}
	v.LongShut = v.State == Shut && !reaches(there, opens)
	first := p.Hours.firstOutOfReach(v.There, reaches)
	v.DryIfLate = v.LongShut || v.State == Doubtful && !first.IsZero()
	switch {
	case v.LongShut:
		return leave, Times{leave, leave, leave}
	case !opens.After(there) || !reaches(there, opens):
		v.Fill = OnArrival
	default:
		v.Fill = InMorning
		for f, t := range v.There {
			v.Wait[f] = max(0, opens.Sub(t))
		}
		leave = latest(leave, opens.In(leave.Location()))
	}
	return leave, w.outOfNight(v, p, leave, reaches)
}

// outOfNight gives when each run is on its way from a night at a pump. Who has filled in the
// evening, or can before leaving, need not in the morning; who finds it shut and waits may be
// late for leaving.
func (w *walk) outOfNight(v *Passing, p Place, leave time.Time, reaches func(t, opens time.Time) bool) Times {
	fill, out := w.Pacing.manner.Fill, Times{leave, leave, leave}
	if v.Fill == InMorning {
		out[Likely], out[Late] = leave.Add(fill[Likely]), leave.Add(fill[Late])
	}
	for f, t := range v.There {
		ready := p.Hours.opening(t)
		if !reaches(t, ready) {
			continue
		}
		if ready = ready.Add(fill[f]); Figure(f) != Likely {
			out[f] = latest(out[f], ready)
		}
	}
	if v.State != Shut {
		out[Early] = leave
	}
	return out
}

// fill waits for a place to open, each run by its own arrival, and fills. A place that is
// shut throughout for too long is passed by; so is one that is doubtful by the runs that find it
// shut for too long. The late run is then no earlier than whoever fills there just before it
// shuts, the early one no later than the first who passes by.
func (w *walk) fill(v *Passing, p Place) {
	if v.LongShut {
		return
	}
	v.Fill = OnArrival
	fill := w.Pacing.manner.Fill
	for f, there := range v.There {
		opens := p.Hours.opening(there)
		switch {
		case v.State == Shut || w.waits(there, opens):
			v.Wait[f] = max(0, opens.Sub(there))
			w.now[f] = w.now[f].Add(v.Wait[f] + fill[f])
		case Figure(f) == Late:
			w.now[f] = w.now[f].Add(fill[f])
		}
	}
	if first := p.Hours.firstOutOfReach(v.There, w.waits); v.State == Doubtful && !first.IsZero() && first.Before(w.now[Early]) {
		w.now[Early] = first
	}
}

// latest gives the later of two instants.
func latest(a, b time.Time) time.Time {
	if b.After(a) {
		return b
	}
	return a
}
