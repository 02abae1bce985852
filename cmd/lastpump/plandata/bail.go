package plandata

import (
	"lastpump/fuel/bailout"
	"lastpump/fuel/plan"
)

// A BailOut is a mark of the line with what is nearest to it by road; null what is not known.
type BailOut struct {
	AtKm     float64 `json:"at_km"`
	Lat      float64 `json:"lat"`
	Lon      float64 `json:"lon"`
	Leg      int     `json:"leg"`     // on which it lies, from 0
	TripKm   float64 `json:"trip_km"` // on the trip meter; below 0 how far it is behind the rider
	Village  *Help   `json:"village"`
	Road     *Help   `json:"road"`
	Pump     *Help   `json:"pump"`
	Clinic   *Help   `json:"clinic"`
	Pharmacy *Help   `json:"pharmacy"`
	Shelter  *Help   `json:"shelter"`
	Water    *Help   `json:"water"`
}

// A Help is the nearest of a kind by road.
type Help struct {
	Name      string   `json:"name"`
	What      *string  `json:"what"`
	RoadKm    float64  `json:"road_km"`
	Lat       float64  `json:"lat"`
	Lon       float64  `json:"lon"`
	LeaveKm   float64  `json:"leave_at_km"`
	Road      *string  `json:"road"`
	Direction *string  `json:"direction"`
	Marks     []string `json:"marks"`
	Or        *Help    `json:"or,omitempty"` // much nearer, over roads that may be shut
}

// bailOutsOf lays out where a rider in trouble gets help; nil where no file says that.
func bailOutsOf(p *plan.Plan) (out []BailOut) {
	for i := range p.Bail {
		m := &p.Bail[i]
		to := func(k bailout.Kind) *Help {
			help := helpOf(m.Way(k))
			if help != nil {
				help.Or = helpOf(m.Perhaps(k))
			}
			return help
		}
		out = append(out, BailOut{m.At.Kilometres(), m.Place.Lat(), m.Place.Lon(), m.Leg, m.Trip.Kilometres(), to(bailout.Village),
			to(bailout.Road), to(bailout.Pump), to(bailout.Clinic), to(bailout.Pharmacy), to(bailout.Shelter), to(bailout.Water)})
	}
	return out
}

func helpOf(w *bailout.Way) *Help {
	if w == nil {
		return nil
	}
	marks := []string{}
	for _, m := range w.Marks.Each() {
		marks = append(marks, m.String())
	}
	return &Help{w.To, text(w.What), w.Length.Kilometres(), w.Goal.Lat(), w.Goal.Lon(), w.Leave.Kilometres(), text(w.Road),
		text(w.Toward), marks, nil}
}
