package rides_test

import (
	"math"
	"slices"

	"lastpump/fuel/plan"
	"lastpump/fuel/stop"
)

// A sheet is a plan as a rider has it on paper: what to do at each stop and on the
// way to the next. It is all that a rider in here knows of the plan.
type sheet struct {
	stops []entry // the start, the places to fill at, the end
	legs  []way   // one fewer
	place []int   // of each stop, the same for all passings of one place
}

// An entry is a line of the sheet: a stop.
type entry struct {
	name string
	also []string // all pumps of the place, which run dry together
	km   float64  // metres along the line
	half float64  // metres from there to the pump
	pump bool     // false at a start or an end without one
	sure bool     // seen or phoned
	dry  word     // what to do if it is dry
	to   string   // and where that leads
}

// A word is what the sheet says of a dry pump.
type word int

const (
	nothing word = iota // at the start and the end
	goOn
	goBack
)

// A way is what the sheet says of a leg. Figures on the trip meter are in metres,
// zero at the fill.
type way struct {
	can      float64 // litres to have in the can
	fits     float64 // trip figure from which on all of it fits
	pourBy   float64 // trip figure by which to pour
	turnBack float64 // trip figure by which to turn back
}

// read writes down what a plan prints: whole kilometres on the trip meter, the way the
// sheet rounds them. It is the only place in here that looks into a plan to ride by it.
// How far a pump lies off the road is measured on the ground.
func read(p *plan.Plan, r *road) *sheet {
	s := &sheet{}
	for i, l := range p.Legs {
		if i == 0 {
			s.stops = append(s.stops, entryOf(p, r, l.From, l.FromVisit, float64(l.FromAt), false))
		}
		s.stops = append(s.stops, entryOf(p, r, l.To, l.ToVisit, float64(l.ToAt), i+1 < len(p.Legs)))
		w := way{can: float64(l.Can), turnBack: kmDown(float64(min(l.TurnBack, l.TurnBackHigh)))}
		for _, u := range p.Can.Uses {
			switch {
			case u.Leg != i:
			case u.Full > 0:
				w.fits, w.pourBy = kmUp(float64(u.FullAt)), kmDown(float64(u.PourBy))
			default: // the sheet says from where on the litres that are lacking fit
				w.fits, w.pourBy = kmUp(float64(u.PourAt)), kmUp(float64(u.PourAt))
			}
		}
		s.legs = append(s.legs, w)
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
	e.sure = v.Stop.Standing == stop.Seen || v.Stop.Standing == stop.Phoned
	if !between {
		return e
	}
	e.half = r.halfDetour(at, v.Stop.At)
	e.dry, e.to = goBack, v.IfDry.To
	if v.IfDry.Outcome == plan.On {
		e.dry = goOn
	}
	return e
}

func kmDown(m float64) float64 { return math.Floor(m/1000) * 1000 }
func kmUp(m float64) float64   { return math.Ceil(m/1000) * 1000 }

// numberPlaces gives stops that share a pump the same number.
func (s *sheet) numberPlaces() {
	share := func(a, b entry) bool {
		return slices.ContainsFunc(a.also, func(name string) bool { return slices.Contains(b.also, name) })
	}
	for i := range s.stops {
		s.place = append(s.place, i)
		for j := range i {
			if !share(s.stops[i], s.stops[j]) {
				continue
			}
			for k, was := range s.place {
				if was == s.place[i] {
					s.place[k] = s.place[j]
				}
			}
		}
	}
}

// ahead finds the next stop of a name, behind the last one before.
func (s *sheet) ahead(from int, name string) int {
	for i := from + 1; i < len(s.stops); i++ {
		if s.stops[i].name == name {
			return i
		}
	}
	return -1
}

func (s *sheet) behind(from int, name string) int {
	for i := from - 1; i >= 0; i-- {
		if s.stops[i].name == name {
			return i
		}
	}
	return -1
}

// last is the number of the end.
func (s *sheet) last() int { return len(s.stops) - 1 }
