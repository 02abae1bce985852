package clock

import (
	"cmp"
	"slices"
	"time"

	"lastpump/route"
	"lastpump/route/sun"
)

func (w *walk) note(n Note) { w.clock.Notes = append(w.clock.Notes, n) }

// noted ends a clock: its instants in the zone of their places, sunsets, and what there is to
// note.
func (w *walk) noted() *Clock {
	for i := range w.clock.Days {
		w.dayNotes(i)
	}
	w.gapNotes()
	w.zoneNotes()
	slices.SortStableFunc(w.clock.Notes, func(a, b Note) int { return cmp.Compare(a.At, b.At) })
	return w.clock
}

// dayNotes says when the sun sets on a day, and what is wrong with its end.
func (w *walk) dayNotes(i int) {
	d := &w.clock.Days[i]
	if zone := w.Ride.Zone(d.To); zone != nil {
		for f := range d.There {
			d.There[f] = d.There[f].In(zone)
		}
		if _, set := sun.Next(w.Point(d.To), d.Leave); !set.IsZero() {
			d.Sunset = set.In(zone)
		}
	}
	if sun.At(w.Point(d.To), d.There[Likely]) != sun.Day {
		w.note(Note{Kind: ArrivesDark, Day: i, At: d.To})
	}
	if i+1 < len(w.clock.Days) && d.There[Late].After(w.clock.Days[i+1].Leave) {
		w.note(Note{Kind: LateAtNight, Day: i, At: d.To})
	}
}

// dayOf gives the day in which a place along the line lies.
func (w *walk) dayOf(at route.Metres) int {
	for i, d := range w.clock.Days {
		if at < d.To {
			return i
		}
	}
	return len(w.clock.Days) - 1
}

// gapNotes asks how long it takes over gaps that are skipped.
func (w *walk) gapNotes() {
	for _, r := range w.Pacing.runs {
		halted := slices.ContainsFunc(w.Halts, func(h Halt) bool { return h.At >= r.From-here && h.At <= r.To+here })
		if r.Skipped && r.To > r.From && r.From >= w.From.At && r.To <= w.To.At && !halted {
			w.note(Note{Kind: GapNoTime, Day: w.dayOf(r.From), At: r.From})
		}
	}
}

// A moment is where the likely run is, by the clock that is kept there.
type moment struct {
	at    route.Metres
	day   int
	t     time.Time
	known bool
}

// moments gives those that a clock has, in order.
func (w *walk) moments() (all []moment) {
	known := func(at route.Metres) bool { return w.Ride.Zone(at) != nil }
	next := 0
	for i, d := range w.clock.Days {
		all = append(all, moment{d.From, i, d.Leave, known(d.From)})
		for ; next < len(w.Places) && w.clock.Passings[next].Day <= i; next++ {
			if v := w.clock.Passings[next]; v.Reached {
				p := w.Places[next]
				all = append(all, moment{p.At, i, v.There[Likely], p.Zone != nil || known(p.At)})
			}
		}
		all = append(all, moment{d.To, i, d.There[Likely], known(d.To)})
	}
	return all
}

// zoneNotes tells where clocks differ from those before, and the first place whose zone is
// not known.
func (w *walk) zoneNotes() {
	all := w.moments()
	for i, m := range all {
		if !m.known && !slices.ContainsFunc(w.clock.Notes, func(n Note) bool { return n.Kind == ZoneNotKnown }) {
			w.note(Note{Kind: ZoneNotKnown, Day: m.day, At: m.at})
		}
		if i == 0 {
			continue
		}
		last := all[i-1].t
		kind, before := ZoneChanges, m.t.In(last.Location())
		if last.Location().String() == m.t.Location().String() {
			kind, before = ClocksChange, m.t.In(time.FixedZone(last.Zone()))
		}
		_, was := before.Zone()
		if _, is := m.t.Zone(); was != is {
			w.note(Note{Kind: kind, Day: m.day, At: m.at, Before: before, After: m.t})
		}
	}
}
