package plandata

import (
	"lastpump/cmd/lastpump/internal/words"
	"lastpump/fuel/plan"
	"lastpump/fuel/plan/here"
	"lastpump/fuel/trip"
)

// A FromHere is the rest of a ride, from where the rider stands.
type FromHere struct {
	AtKm         float64    `json:"at_km"`
	Stop         *string    `json:"stop"`
	Answer       string     `json:"answer"`
	UsedL        *float64   `json:"used_l"`
	TripKm       *float64   `json:"trip_km"` // as the bike shows them
	ExpectedL    *Figures   `json:"expected_l"`
	Factor       float64    `json:"factor"`
	ThirstBefore float64    `json:"thirst_before"`
	Thirst       float64    `json:"thirst"`
	Tanks        []HereTank `json:"tanks"` // of the ride so far
	Legs         []HereLeg  `json:"legs"`
}

// A HereTank is a tank of the ride so far, as it was planned before the ride and as it turned out.
type HereTank struct {
	From     *string  `json:"from"` // null where nothing is known to be there
	To       *string  `json:"to"`
	FromKm   *float64 `json:"from_km"`
	ToKm     *float64 `json:"to_km"`
	PlannedL *Figures `json:"planned_l"` // null where it cannot be told
	RealL    *float64 `json:"real_l"`    // null where it was not written down
	Inside   *bool    `json:"inside"`    // the band; null where the tank cannot be compared
	Why      *string  `json:"why"`       // nothing was learnt from it; null where it was
}

// A HereLeg is a leg of the rest, as planned and as it is now.
type HereLeg struct {
	To         string       `json:"to"`
	ToKm       float64      `json:"to_km"`
	Then       *HereFigures `json:"then"`
	Now        HereFigures  `json:"now"`
	Allowed    *float64     `json:"allowed_l_per_100km"`     // as the bike shows them
	AllowedDry *float64     `json:"allowed_dry_l_per_100km"` // likewise
}

// HereFigures are what a leg takes and arrives with.
type HereFigures struct {
	NeedL   float64 `json:"need_l"`
	ArriveL float64 `json:"arrive_l"`
	Verdict string  `json:"verdict"`
}

func (k keyed) fromHere(p *plan.Plan, say words.Voice) *FromHere {
	h := p.Here
	if h == nil {
		return nil
	}
	out := &FromHere{
		AtKm: h.At.Kilometres(), Stop: k.name(h.Stop), Answer: say.FromHere(),
		Factor: h.Factor, ThirstBefore: h.Before, Thirst: h.Thirst, Tanks: []HereTank{}, Legs: []HereLeg{},
	}
	for i, l := range h.Legs {
		out.Legs = append(out.Legs, k.hereLeg(p.Legs[i], l))
	}
	for _, t := range h.Tanks {
		out.Tanks = append(out.Tanks, k.hereTank(t))
	}
	if u := h.Used; u != nil {
		out.UsedL, out.TripKm = known(float64(u.Litres), true), known(u.Trip.Kilometres(), true)
		out.ExpectedL = &Figures{float64(h.Low), float64(h.Likely), float64(h.High)}
	}
	return out
}

func (k keyed) hereTank(t here.Happened) HereTank {
	out := HereTank{
		FromKm: known(t.From.Kilometres(), t.HasSpan), ToKm: known(t.To.Kilometres(), t.HasSpan),
		PlannedL: known(Figures{float64(t.Planned.Low), float64(t.Planned.Likely), float64(t.Planned.High)}, t.Planned.Likely > 0),
		RealL:    known(float64(t.Real), t.Real > 0),
		Inside:   known(t.In(), t.Told), Why: text(string(t.Why)),
	}
	if t.HasEnds {
		out.From, out.To = text(t.FromEnd.Key(k)), text(t.ToEnd.Key(k))
	}
	return out
}

func (k keyed) hereLeg(now trip.Leg, l here.Leg) HereLeg {
	return HereLeg{
		To: now.To.Key(k), ToKm: now.ToAt.Kilometres(),
		Then:    known(HereFigures{float64(l.Then.Need), float64(l.Then.Arrive), string(l.Then.Verdict)}, l.HasThen),
		Now:     HereFigures{float64(now.Drink.Fuel.Likely), float64(now.Arrive), string(now.Verdict)},
		Allowed: known(float64(l.Allowed), l.HasAllowed), AllowedDry: known(float64(l.AllowedDry), l.HasAllowedDry),
	}
}

func startOf(s trip.Start) Start {
	out := Start{FuelL: float64(s.Fuel), Grade: s.Grade.String(), GradeAssumed: s.Assumed,
		NearestStop: text(s.Nearest), NearestStopKm: known(s.Away.Kilometres(), s.Nearest != "")}
	if s.Mixture != nil {
		m := mixtureOf(*s.Mixture)
		out.Mixture = &m
	}
	return out
}

// name names a stop by its number; null where there is none.
func (k keyed) name(i int) *string {
	if i < 0 {
		return nil
	}
	return text(k[i].Name)
}
