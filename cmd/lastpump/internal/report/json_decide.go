package report

import (
	"lastpump/fuel/plan"
)

type jsonWarning struct {
	Kind   string     `json:"kind"`
	Leg    *int       `json:"leg"`
	Visit  *int       `json:"visit"`
	Text   string     `json:"text"`
	Cures  []jsonCure `json:"cures"`
	NoCure *string    `json:"no_cure"`
}

func warningOf(w plan.Warning) jsonWarning {
	return jsonWarning{string(w.Kind), index(w.Leg), index(w.Visit), w.Text, each(w.Cures, cureOf), text(w.NoCure)}
}

type jsonCure struct {
	Text     string   `json:"text"`
	Litres   *float64 `json:"litres"`
	Km       *float64 `json:"km"`
	Verdict  string   `json:"verdict"`
	Cost     string   `json:"cost"`
	RateL    *float64 `json:"l_per_100km"` // not to be exceeded, by the kilometres the bike shows
	BeginKm  *float64 `json:"begin_at_km"` // where the loop is begun
	Reversed bool     `json:"reverse"`
}

func cureOf(c plan.Cure) jsonCure {
	return jsonCure{
		Text: c.Text, Litres: known(float64(c.Litres), c.HasLitres), Km: known(c.Detour.Kilometres(), c.HasDetour), Verdict: c.Verdict,
		Cost: string(c.Cost), RateL: known(float64(c.Rate), c.HasRate), BeginKm: known(c.BeginAt.Kilometres(), c.HasBegin), Reversed: c.Reverse,
	}
}

type jsonChoice struct {
	Objective  string  `json:"objective"`
	Candidates int     `json:"candidates"`
	Taken      int     `json:"taken"`
	Bike       *string `json:"for_bike"` // of a group
}

func choiceOf(c *plan.Choice) *jsonChoice {
	if c == nil {
		return nil
	}
	return &jsonChoice{c.Objective, c.Candidates, c.Taken, text(c.Bike)}
}

type jsonLowStretch struct {
	To      string        `json:"to"`
	Fills   []jsonLowFill `json:"fills"`
	LeastL  float64       `json:"least_l"`
	FullL   float64       `json:"full_l"`
	Lift    *jsonLift     `json:"lift"`
	Steeper []int         `json:"legs_below_by_climb"`
	Risks   []string      `json:"risks_if_dry"`
}

type jsonLowFill struct {
	Visit      int         `json:"visit"`
	Leg        int         `json:"leg"`
	Litres     float64     `json:"litres"`
	Grade      *string     `json:"grade"`
	TankAfterL float64     `json:"tank_after_l"`
	Mixture    jsonMixture `json:"mixture"`
	ArriveL    float64     `json:"arrive_l"`
	KeptL      float64     `json:"kept_l"`
	Whole      bool        `json:"reserve_whole"`
}

type jsonLift struct {
	From   string    `json:"from"`
	Grade  string    `json:"grade"`
	Litres float64   `json:"litres"`
	SizeL  *float64  `json:"size_l"`
	Pours  []float64 `json:"pours_l"`
}

func lowStretchOf(s plan.LowStretch) jsonLowStretch {
	out := jsonLowStretch{
		To: s.To, LeastL: float64(s.Least), FullL: float64(s.Full),
		Fills: each(s.Fills, func(f plan.LowFill) jsonLowFill {
			return jsonLowFill{f.Visit, f.Leg, float64(f.Litres), known(f.Grade.String(), f.HasGrade), float64(f.TankAfter), mixtureOf(f.Mixture),
				float64(f.Arrive), float64(f.Kept), f.Whole}
		}),
		Steeper: each(s.Steeper, func(i int) int { return i }), Risks: each(s.Risks, func(r string) string { return r }),
	}
	if l := s.Lift; l != nil {
		out.Lift = &jsonLift{l.From, l.Grade.String(), float64(l.Litres), sizeOf(l.Size), litresOf(l)}
	}
	return out
}

func litresOf(l *plan.Lift) []float64 {
	var out []float64
	for _, p := range l.Pours {
		out = append(out, float64(p))
	}
	return out
}

func sizeOf(s plan.CanSize) *float64 { return known(float64(s.Litres), !s.TooBig) }

type jsonCase struct {
	Kind      string   `json:"kind"`
	Thirst    *float64 `json:"thirst"`
	Stops     []string `json:"stops"`
	From      string   `json:"from"` // of the worst leg
	To        string   `json:"to"`
	Verdict   string   `json:"verdict"`
	ArriveL   float64  `json:"arrive_l"`
	NotOK     int      `json:"legs_not_ok"`
	Worst     bool     `json:"worst"` // of the dry ones of its kind
	CanL      float64  `json:"can_l"`
	SizeL     *float64 `json:"size_l"`
	Stranding *int     `json:"stranding"`
	DryL      *float64 `json:"for_any_dry_pump_l"`
	DrySizeL  *float64 `json:"size_for_any_dry_pump_l"`
}

func caseOf(c plan.Case) jsonCase {
	return jsonCase{
		Kind: string(c.Kind), Thirst: known(c.Thirst, c.Kind == plan.CaseThirst), Stops: each(c.Stops, func(s string) string { return s }),
		From: c.From, To: c.To, Verdict: string(c.Verdict), ArriveL: float64(c.Arrive), NotOK: c.NotOK, Worst: c.Worst,
		CanL: float64(c.Can), SizeL: sizeOf(c.Size),
		Stranding: known(c.Stranding, c.DryIsKnown), DryL: known(float64(c.CanDry), c.DryIsKnown),
		DrySizeL: known(float64(c.SizeDry.Litres), c.DryIsKnown && !c.SizeDry.TooBig),
	}
}
