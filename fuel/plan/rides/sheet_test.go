package rides_test

import (
	"cmp"
	"math"
	"slices"

	"lastpump/fuel/clock"
	"lastpump/fuel/leg"
	"lastpump/fuel/plan"
	"lastpump/fuel/stop"
)

// A sheet is a plan as a rider has it on paper: what to do at each stop and on the
// way to the next. It is all that a rider in here knows of the plan.
type sheet struct {
	stops  []entry    // the start, the places to fill at, the end
	legs   []way      // one fewer
	passed []passed   // in order along the line
	clock  *timetable // nil for none
}

// A passed pump is one that a plan of chosen stops rides past.
type passed struct {
	entry
	leg   int     // on which it is passed
	under float64 // litres in the tank: with less fill there
}

// An entry is a line of the sheet: a stop.
type entry struct {
	name string
	also []string // all pumps of the place, which run dry together
	km   float64  // metres along the line
	half float64  // metres from there to the pump
	pump bool     // false at a start or an end without one
	sure bool     // seen or phoned
	can  bool     // something is to go into the can
	road *byway   // by which half the detour goes; nil where it is guessed
	off  *exit    // by which to leave it if it is dry

	homeward *byway // by which the way home to the line goes; nil for the same as out
	dry      word   // what to do if it is dry
	to       string // and where that leads

	open *week          // when it truly is; nil for always
	hour *clock.Passing // what is said of that; nil for nothing

	place int // the same for all stops and passed pumps of one place
}

// A word is what the sheet says of a dry pump.
type word int

const (
	nothing word = iota // at the start and the end
	goOn
	goBack
	goOff // by road, and the ride is over there
)

// A way is what the sheet says of a leg. Figures on the trip meter are in metres,
// zero at the fill.
type way struct {
	can      float64 // litres to have in the can
	pour     bool    // into the tank on the way; else they are a reserve
	fits     float64 // trip figure from which on all of it fits
	pourBy   float64 // trip figure by which to pour
	turnBack float64 // trip figure by which to turn back
	out      *exit   // the last way out by road; nil for none
}

// An exit is a way to a pump off the line, which ends the ride.
type exit struct {
	*byway
	at   float64 // metres along the line: where it is left
	pump string
	open *week // when that pump truly is; nil for always
}

// exitOf reads a way out of a plan.
func exitOf(p *plan.Plan, way int, at float64) *exit {
	w := p.Ways.All[way]
	return &exit{byway: bywayOf(w.Way), at: at, pump: p.Stops[w.ToStop].Name}
}

// read writes down what a plan prints: whole kilometres on the trip meter, the way the
// sheet rounds them. It is the only place in here that looks into a plan to ride by it.
// How far a pump lies off the road is measured on the ground.
func read(p *plan.Plan, r *road) *sheet {
	s := &sheet{}
	for i, l := range p.Legs {
		if i == 0 {
			s.stops = append(s.stops, entryOf(p, r, l.From.Key(p.Stops), l.FromVisit, float64(l.FromAt), false))
		}
		s.stops = append(s.stops, entryOf(p, r, l.To.Key(p.Stops), l.ToVisit, float64(l.ToAt), i+1 < len(p.Legs)))
		w := way{can: float64(l.Can), turnBack: kmDown(float64(min(l.TurnBack, l.TurnBackHigh)))}
		if l.Poured > 0 {
			w.pour, w.fits, w.pourBy = true, never, never // where none is filled it is not said, and the tank tells
			if k := p.Can.UseOf(i); k >= 0 {
				u := p.Can.Uses[k]
				w.fits, w.pourBy = kmUp(float64(u.FullAt)), kmDown(float64(u.PourBy))
			}
		}
		if o := l.WayOut; o != nil {
			w.out = exitOf(p, o.Way, float64(o.At))
		}
		s.legs = append(s.legs, w)
	}
	for _, b := range p.Passes {
		v := p.Visits[b.Visit]
		e := entry{name: v.Stop.Name, also: []string{v.Stop.Name}, km: float64(v.At), pump: true}
		if e.half = r.halfDetour(e.km, v.Stop.At); v.Way > 0 {
			e.road = bywayOf(p.Ways.All[v.Way-1].Way)
			e.half = e.road.length()
		}
		s.passed = append(s.passed, passed{entry: e, leg: b.Leg, under: float64(b.FillUnder)})
	}
	s.numberPlaces()
	return s
}

// entryOf reads a stop. One between the start and the end may lie off the road, and
// has its word for a dry pump.
func entryOf(p *plan.Plan, r *road, name string, visit int, at float64, between bool) entry {
	e := entry{name: name, km: at}
	if visit < 0 {
		return e
	}
	v := p.Visits[visit]
	e.also = append([]string{v.Stop.Name}, v.Also...)
	e.pump = v.Fill != nil
	e.can = e.pump && v.Fill.Can > 0
	e.sure = v.Stop.Standing == stop.Seen || v.Stop.Standing == stop.Phoned
	if !between {
		return e
	}
	e.half = r.halfDetour(at, v.Stop.At)
	if v.Way > 0 {
		e.road = bywayOf(p.Ways.All[v.Way-1].Way)
		e.half = e.road.length()
	}
	e.dry, e.to = goBack, v.IfDry.To.Key(p.Stops)
	if v.IfDry.Outcome == leg.On {
		e.dry = goOn
	}
	if v.IfDry.Outcome == leg.On && v.IfDry.High == leg.Back { // "on, or back if it has drunk more": he cannot tell
		e.dry, e.to = goBack, v.IfDry.Back.Key(p.Stops)
	}
	if v.IfDry.Outcome == leg.Off || v.IfDry.High == leg.Off {
		e.dry, e.to = goOff, v.IfDry.To.Key(p.Stops)
		e.off = exitOf(p, v.IfDry.Off.Way, at)
	}
	return e
}

func kmDown(m float64) float64 { return math.Floor(m/1000) * 1000 }
func kmUp(m float64) float64   { return math.Ceil(m/1000) * 1000 }

// placeReach is how many metres along the line the pumps of one place lie from its first.
const placeReach = 3000

// numberPlaces gives stops and passed pumps of one place the same number: those that share a
// pump, and where pumps are passed, so that they are not gathered yet, those that lie together.
func (s *sheet) numberPlaces() {
	var all []*entry
	for i := range s.stops {
		all = append(all, &s.stops[i])
	}
	for i := range s.passed {
		all = append(all, &s.passed[i].entry)
	}
	slices.SortStableFunc(all, func(a, b *entry) int { return cmp.Compare(a.km, b.km) })
	for i, e := range all {
		e.place = i
	}
	first := -1 // of the place that pumps along the line belong to
	for i, e := range all {
		for _, b := range all[:i] {
			if slices.ContainsFunc(e.also, func(name string) bool { return slices.Contains(b.also, name) }) {
				join(all, e.place, b.place)
			}
		}
		switch {
		case len(s.passed) == 0 || len(e.also) == 0:
		case first >= 0 && e.km-all[first].km <= placeReach:
			join(all, e.place, all[first].place)
		default:
			first = i
		}
	}
}

// join makes one place of two.
func join(all []*entry, a, b int) {
	for _, e := range all {
		if e.place == a {
			e.place = b
		}
	}
}

// ahead finds the next stop or passed pump of a name behind a stop. Of a stop it gives the
// number, of a passed pump that of its leg.
func (s *sheet) ahead(from int, name string) (e entry, i int, fill bool) {
	for i := from + 1; i <= s.last(); i++ {
		for _, p := range s.passedOn(i - 1) {
			if p.name == name {
				return p.entry, i - 1, false
			}
		}
		if s.stops[i].name == name {
			return s.stops[i], i, true
		}
	}
	return e, -1, false
}

// behind is ahead for what lies before a stop.
func (s *sheet) behind(from int, name string) (e entry, i int, fill bool) {
	for i := from - 1; i >= 0; i-- {
		for _, p := range slices.Backward(s.passedOn(i)) {
			if p.name == name {
				return p.entry, i, false
			}
		}
		if s.stops[i].name == name {
			return s.stops[i], i, true
		}
	}
	return e, -1, false
}

// passedOn gives the pumps that are passed on a leg.
func (s *sheet) passedOn(leg int) []passed {
	from := slices.IndexFunc(s.passed, func(p passed) bool { return p.leg == leg })
	if from < 0 {
		return nil
	}
	to := from
	for to < len(s.passed) && s.passed[to].leg == leg {
		to++
	}
	return s.passed[from:to]
}

// last is the number of the end.
func (s *sheet) last() int { return len(s.stops) - 1 }
