package clock

import (
	"time"

	"lastpump/fuel"
	"lastpump/route"
)

// A Figure is one of the three runs of a clock.
type Figure int

// The three runs.
const (
	Early Figure = iota
	Likely
	Late
)

// Durations are one for each run.
type Durations [3]time.Duration

// Times are an instant for each run.
type Times [3]time.Time

// KmPerHour is a speed while moving, over some kilometres of one ground.
type KmPerHour float64

// A Speed is how fast a ground is ridden: at the least, likely and at the most.
type Speed struct{ Low, Likely, High KmPerHour }

// of gives the speed of a run: the early one is fast.
func (s Speed) of(f Figure) KmPerHour { return [...]KmPerHour{s.High, s.Likely, s.Low}[f] }

// speeds in general. Our estimate; only paved road is near a measurement (one rider's 145
// recorded days: 46, 60 and 78 km/h moving, 10th, 50th and 90th percentile). Published and
// near: forest roads are designed for 50 km/h unsealed, 40 in mountains (NZ Forest Road
// Engineering Manual, 3.3); enduro tests are laid for 50 km/h at most, extreme ones 25 (FIM).
var speeds = map[route.Ground]Speed{
	route.Paved:        {50, 65, 80},
	route.PackedGravel: {45, 55, 70},
	route.LooseGravel:  {35, 45, 60},
	route.Dirt:         {30, 40, 50},
	route.Soft:         {18, 25, 35},
	route.Rocky:        {12, 18, 25},
	route.Mud:          {9, 15, 25},
	route.Sand:         {18, 25, 35},
	route.DeepSand:     {10, 15, 25},
	route.Snow:         {12, 20, 30},
	route.Unknown:      {25, 40, 55},
}

// GeneralSpeed gives how fast any bike rides a ground; unknown ground where it is none.
func GeneralSpeed(g route.Ground) Speed {
	if s, ok := speeds[g]; ok {
		return s
	}
	return speeds[route.Unknown]
}

// ScaledSpeed gives the general speed of a ground with its likely figure replaced: low and
// high go with it. The figure is over 0.
func ScaledSpeed(g route.Ground, likely KmPerHour) Speed {
	s := GeneralSpeed(g)
	f := likely / s.Likely
	return Speed{s.Low * f, likely, s.High * f}
}

// A Manner is how somebody rides.
type Manner struct {
	Own    map[route.Ground]Speed // where it is not the general one; each figure over 0, Low least
	Pace   float64                // times the hours of riding and pauses, over 0; 1 in general
	Pauses Durations              // for each hour of likely riding, rising
	Fill   Durations              // at a pump, rising
	Hours  time.Duration          // of riding a day, likely; over 0
}

// DefaultManner gives the general manner. Our estimates: pauses from one rider's recorded
// days (21 and 44 min an hour, fills among them), the others from what riders say.
func DefaultManner() Manner {
	return Manner{Pace: 1, Pauses: minutes(15, 35, 60), Fill: minutes(10, 15, 30), Hours: 6 * time.Hour}
}

// GroupFill is how long a group stands at a pump. Our estimate.
func GroupFill() Durations { return minutes(20, 40, 60) }

func minutes(early, likely, late int) Durations {
	return Durations{time.Duration(early) * time.Minute, time.Duration(likely) * time.Minute,
		time.Duration(late) * time.Minute}
}

// MannerOf gives the manner in which a bike is ridden: the general one where its owner says
// nothing. Several bikes stand longer at a pump.
func MannerOf(r fuel.Riding, several bool) Manner {
	m := DefaultManner()
	if several {
		m.Fill = GroupFill()
	}
	if r.Hours > 0 {
		m.Hours = r.Hours
	}
	if r.Pace > 0 {
		m.Pace = r.Pace
	}
	if r.Pauses[Late] > 0 {
		m.Pauses = r.Pauses
	}
	if r.Fill[Late] > 0 {
		m.Fill = r.Fill
	}
	m.Own = map[route.Ground]Speed{}
	for g, v := range r.Speeds {
		m.Own[g] = Speed{KmPerHour(v.Low), KmPerHour(v.Likely), KmPerHour(v.High)}
		if v.Low <= 0 {
			m.Own[g] = ScaledSpeed(g, KmPerHour(v.Likely))
		}
	}
	return m
}

// Speed gives how fast a ground is ridden in this manner.
func (m Manner) Speed(g route.Ground) Speed {
	if s, ok := m.Own[g]; ok {
		return s
	}
	return GeneralSpeed(g)
}
