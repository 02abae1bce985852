package plandata

import (
	"time"

	"lastpump/fuel/clock"
	"lastpump/fuel/plan"
	"lastpump/fuel/plan/days"
)

// A Time is when a ride is ridden. Instants are RFC 3339, with the offset of the place.
type Time struct {
	Depart string `json:"depart"`
	Zone   string `json:"zone"` // where it begins
	Days   []Day  `json:"days"`
}

// A Day is what is ridden from one night to the next.
type Day struct {
	Date   string  `json:"date"`
	FromKm float64 `json:"from_km"`
	ToKm   float64 `json:"to_km"`
	Leave  string  `json:"leave"`
	There  Times   `json:"there"`
	RideH  float64 `json:"ride_h"` // in the saddle, likely
	Sunset *string `json:"sunset"`
	TankL  float64 `json:"tank_l"` // at night, or at the end
}

// Times are when somebody is there who is early, likely and late.
type Times struct {
	Early  string `json:"early"`
	Likely string `json:"likely"`
	Late   string `json:"late"`
}

// timeOf lays the days of a plan out; nil without a departure.
func timeOf(p *plan.Plan) *Time {
	if len(p.Days) == 0 {
		return nil
	}
	first := p.Days[0].Leave
	return &Time{instant(first), first.Location().String(), each(p.Days, dayOf)}
}

func dayOf(d days.Day) Day {
	return Day{
		Date: d.Leave.Format(time.DateOnly), FromKm: d.From.Kilometres(), ToKm: d.To.Kilometres(), Leave: instant(d.Leave),
		There: timesOf(d.There), RideH: d.Riding.Hours(), Sunset: known(instant(d.Sunset), !d.Sunset.IsZero()),
		TankL: float64(d.Tank),
	}
}

func timesOf(t clock.Times) Times {
	return Times{instant(t[clock.Early]), instant(t[clock.Likely]), instant(t[clock.Late])}
}

// instant gives an instant to the nearest second.
func instant(t time.Time) string { return t.Round(time.Second).Format(time.RFC3339) }

// clocked tells of a visit when it is reached; nothing without a departure.
func (v *Visit) clocked(p *clock.Passing) {
	if p == nil {
		return
	}
	there, wait := timesOf(p.There), p.Wait[clock.Likely].Hours()
	v.There, v.Zone, v.Open = &there, text(p.There[clock.Likely].Location().String()), text(string(p.State))
	v.TurnsAt, v.WaitH = known(instant(p.Turns.In(p.There[clock.Likely].Location())), !p.Turns.IsZero()), &wait
}
