package plandata

import (
	"lastpump/fuel/plan"
	"lastpump/fuel/trip"
	"lastpump/fuel/trip/byroad"
)

// A Road is a way by road to a stop.
type Road struct {
	To        string     `json:"to"`
	Lat       float64    `json:"lat"` // of the pump
	Lon       float64    `json:"lon"`
	RoadKm    float64    `json:"road_km"`    // one way
	UnknownKm float64    `json:"unknown_km"` // of it, of ground that nobody knows
	TurnOff   [2]float64 `json:"turn_off"`   // where the line is left
	Road      *string    `json:"road"`
	Direction *string    `json:"direction"`
	Marks     []string   `json:"marks"`
}

// An Off is a way out by road from a dry pump.
type Off struct {
	Road
	SpareL float64 `json:"spare_l"` // if the bike is thirsty: a third farther above likely than high is
	Counts bool    `json:"counts"`
	WhyNot *string `json:"why_not"`
}

// A WayOut is the last place at which a leg is left by road for a pump.
type WayOut struct {
	Road
	AtKm   float64 `json:"at_km"`   // along the line
	TripKm float64 `json:"trip_km"` // on the trip meter
	SpareL float64 `json:"spare_l"` // at the high figures
}

func roadOf(w byroad.Way) Road {
	marks := []string{}
	for _, m := range w.Marks.Each() {
		marks = append(marks, m.String())
	}
	return Road{To: w.To, Lat: w.Pump.Lat(), Lon: w.Pump.Lon(), RoadKm: w.Length().Kilometres(),
		UnknownKm: w.Road.Guessed().Kilometres(), TurnOff: [2]float64{w.TurnOff.Lat(), w.TurnOff.Lon()},
		Road: text(w.Way.Road), Direction: text(w.Toward), Marks: marks}
}

// addRoads adds what is known of ways by road.
func (d *Document) addRoads(p *plan.Plan) {
	if p.Ways == nil {
		return
	}
	for i, v := range p.Visits {
		if v.Way > 0 {
			r := roadOf(p.Ways.All[v.Way-1])
			d.Visits[i].Detour = &r
		}
		if v.IfDry != nil && v.IfDry.Off != nil {
			d.Visits[i].IfDry.Off = offOf(*v.IfDry.Off, p.Ways)
		}
	}
	for i, l := range p.Legs {
		if w := l.WayOut; w != nil {
			d.Legs[i].WayOut = &WayOut{roadOf(p.Ways.All[w.Way]), w.At.Kilometres(), w.Trip.Kilometres(), float64(w.Spare)}
		}
	}
}

func offOf(o trip.Off, ways *byroad.Ways) *Off {
	return &Off{roadOf(ways.All[o.Way]), float64(o.Spare), o.Why == "", text(string(o.Why))}
}
