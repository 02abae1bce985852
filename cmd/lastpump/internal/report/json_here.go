package report

import "lastpump/fuel/plan"

type jsonFromHere struct {
	AtKm         float64       `json:"at_km"`
	Stop         *string       `json:"stop"`
	Answer       string        `json:"answer"`
	UsedL        *float64      `json:"used_l"`
	TripKm       *float64      `json:"trip_km"` // as the bike shows them
	ExpectedL    *jsonFigures  `json:"expected_l"`
	Factor       float64       `json:"factor"`
	ThirstBefore float64       `json:"thirst_before"`
	Thirst       float64       `json:"thirst"`
	Legs         []jsonHereLeg `json:"legs"`
}

type jsonHereLeg struct {
	To         string          `json:"to"`
	ToKm       float64         `json:"to_km"`
	Then       *jsonHereFigure `json:"then"`
	Now        jsonHereFigure  `json:"now"`
	Allowed    *float64        `json:"allowed_l_per_100km"`     // as the bike shows them
	AllowedDry *float64        `json:"allowed_dry_l_per_100km"` // likewise
}

type jsonHereFigure struct {
	NeedL   float64 `json:"need_l"`
	ArriveL float64 `json:"arrive_l"`
	Verdict string  `json:"verdict"`
}

func fromHereOf(h *plan.Here) *jsonFromHere {
	if h == nil {
		return nil
	}
	out := &jsonFromHere{
		AtKm: h.At.Kilometres(), Stop: text(h.Stop), Answer: h.Answer,
		Factor: h.Factor, ThirstBefore: h.Before, Thirst: h.Thirst, Legs: each(h.Legs, hereLegOf),
	}
	if u := h.Used; u != nil {
		out.UsedL, out.TripKm = known(float64(u.Litres), true), known(u.Trip.Kilometres(), true)
		out.ExpectedL = &jsonFigures{float64(h.Low), float64(h.Likely), float64(h.High)}
	}
	return out
}

func hereLegOf(l plan.HereLeg) jsonHereLeg {
	return jsonHereLeg{
		To: l.To, ToKm: l.ToAt.Kilometres(), Then: known(figureOf(l.Then), l.HasThen), Now: figureOf(l.Now),
		Allowed: known(float64(l.Allowed), l.HasAllowed), AllowedDry: known(float64(l.AllowedDry), l.HasAllowedDry),
	}
}

func figureOf(f plan.HereFigures) jsonHereFigure {
	return jsonHereFigure{float64(f.Need), float64(f.Arrive), string(f.Verdict)}
}

func startOf(s plan.Start) jsonStart {
	out := jsonStart{FuelL: float64(s.Fuel), Grade: s.Grade.String(), GradeAssumed: s.Assumed,
		NearestStop: text(s.Nearest), NearestStopKm: known(s.Away.Kilometres(), s.Nearest != "")}
	if s.Mixture != nil {
		m := mixtureOf(*s.Mixture)
		out.Mixture = &m
	}
	return out
}
