package plandata

import (
	"lastpump/cmd/lastpump/internal/words"
	"lastpump/cmd/lastpump/internal/words/warned"
	"lastpump/fuel/leg"
	"lastpump/fuel/plan"
	"lastpump/fuel/plan/call"
	"lastpump/fuel/plan/cure"
	"lastpump/fuel/plan/days"
	"lastpump/fuel/plan/lowgrade"
	"lastpump/fuel/plan/whatif"
	"lastpump/fuel/trip"
)

// A Warning is what is not well.
type Warning struct {
	Kind   string  `json:"kind"`
	Leg    *int    `json:"leg"`
	Number *int    `json:"number"` // of the leg, from 1
	Visit  *int    `json:"visit"`
	Legs   []int   `json:"legs"`
	Visits []int   `json:"visits"`
	Text   string  `json:"text"`
	Cures  []Cure  `json:"cures"`
	NoCure *string `json:"no_cure"`
}

func warningOf(w plan.Warning, say warned.Voice) Warning {
	cures := each(w.Cures, func(c cure.Cure) Cure { return cureOf(c, say.Cure(w, c)) })
	for _, c := range w.Hours {
		cures = append(cures, hourCureOf(c, say))
	}
	return Warning{string(w.Kind), index(w.Leg), number(w.Leg), index(w.Visit), list(w.Legs),
		list(w.Visits), say.Warning(w), cures, text(say.NoCure(w))}
}

// A Cure is a change that mends what a warning warns of.
type Cure struct {
	Text     string   `json:"text"`
	Litres   *float64 `json:"litres"`
	Km       *float64 `json:"km"`
	Verdict  string   `json:"verdict"`
	Cost     string   `json:"cost"`
	RateL    *float64 `json:"l_per_100km"` // not to be exceeded, by the kilometres the bike shows
	BeginKm  *float64 `json:"begin_at_km"` // where the loop is begun
	Reversed bool     `json:"reverse"`
}

func cureOf(c cure.Cure, text string) Cure {
	return Cure{
		Text: text, Litres: known(float64(c.Litres), c.HasLitres), Km: known(c.Detour.Kilometres(), c.HasDetour),
		Verdict: c.Verdict, Cost: string(c.Cost), RateL: known(float64(c.Rate), c.HasRate),
		BeginKm: known(c.BeginAt.Kilometres(), c.HasBegin), Reversed: c.Reverse,
	}
}

// hourCureOf lays out what a rider may do about a pump that is shut or may be.
func hourCureOf(c days.Cure, say warned.Voice) Cure {
	cost := cure.Nothing
	switch c.Kind {
	case days.Phone:
		cost = cure.Call
	case days.StartOn, days.SleepAt:
		cost = cure.Other
	}
	return Cure{Text: say.HourCure(c), Verdict: warned.AfterHourCure(c), Cost: string(cost)}
}

// A Choice is how the stops were chosen.
type Choice struct {
	Objective  string  `json:"objective"`
	Candidates int     `json:"candidates"`
	Taken      int     `json:"taken"`
	Bike       *string `json:"for_bike"` // of a group
}

func choiceOf(c *plan.Choice) *Choice {
	if c == nil {
		return nil
	}
	return &Choice{words.Objective, c.Candidates, c.Taken, text(c.Bike)}
}

// A LowGrade is a way over stops that sell only below the need.
type LowGrade struct {
	To      string    `json:"to"`
	Fills   []LowFill `json:"fills"`
	LeastL  float64   `json:"least_l"`
	FullL   float64   `json:"full_l"`
	Lift    *Lift     `json:"lift"`
	Steeper []int     `json:"legs_below_by_climb"`
	Risks   []string  `json:"risks_if_dry"`
}

// A LowFill is the least that does at one of them.
type LowFill struct {
	Visit      int     `json:"visit"`
	Leg        int     `json:"leg"`
	Number     int     `json:"number"` // of the leg, from 1
	Litres     float64 `json:"litres"`
	Grade      *string `json:"grade"`
	TankAfterL float64 `json:"tank_after_l"`
	Mixture    Mixture `json:"mixture"`
	ArriveL    float64 `json:"arrive_l"`
	KeptL      float64 `json:"kept_l"`
	Whole      bool    `json:"reserve_whole"`
}

// A Lift is better petrol taken along in a can.
type Lift struct {
	From   string    `json:"from"`
	Grade  string    `json:"grade"`
	Litres float64   `json:"litres"`
	SizeL  *float64  `json:"size_l"`
	Pours  []float64 `json:"pours_l"`
}

func (k keyed) lowStretch(s lowgrade.Dearth) LowGrade {
	out := LowGrade{
		To: s.To.Key(k), LeastL: float64(s.Least), FullL: float64(s.Full),
		Fills: each(s.Fills, func(f lowgrade.Fill) LowFill {
			return LowFill{f.Visit, f.Leg, f.Leg + 1, float64(f.Litres), known(f.Grade.String(), f.HasGrade), float64(f.TankAfter),
				mixtureOf(f.Mixture),
				float64(f.Arrive), float64(f.Kept), f.Whole}
		}),
		Steeper: list(s.Steeper),
		Risks:   each(s.Risks, func(e trip.End) string { return e.Key(k) }),
	}
	if l := s.Lift; l != nil {
		out.Lift = &Lift{l.From.Key(k), l.Grade.String(), float64(l.Litres), sizeOf(l.Size), litresOf(l)}
	}
	return out
}

func litresOf(l *lowgrade.Lift) []float64 {
	var out []float64
	for _, p := range l.Pours {
		out = append(out, float64(p))
	}
	return out
}

func sizeOf(s leg.CanSize) *float64 { return known(float64(s.Litres), !s.TooBig) }

// A Case is one thing that turns out otherwise than planned.
type Case struct {
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

func (k keyed) whatIf(c whatif.Case) Case {
	return Case{
		Kind: string(c.Kind), Thirst: known(c.Thirst, c.Kind == whatif.Thirst), Stops: list(c.Stops),
		From: c.From.Key(k), To: c.To.Key(k), Verdict: string(c.Verdict), ArriveL: float64(c.Arrive), NotOK: c.NotOK,
		Worst: c.Worst,
		CanL:  float64(c.Can), SizeL: sizeOf(c.Size),
		Stranding: known(c.Stranding, c.DryIsKnown), DryL: known(float64(c.CanDry), c.DryIsKnown),
		DrySizeL: known(float64(c.SizeDry.Litres), c.DryIsKnown && !c.SizeDry.TooBig),
	}
}

// A Call is a stop to ask before the ride.
type Call struct {
	Stop    string  `json:"stop"`
	Visit   *int    `json:"visit"`
	AtKm    float64 `json:"at_km"`
	Phone   *string `json:"phone"`
	AskAt   *string `json:"ask_at"` // whom to ask instead
	AskVis  *int    `json:"ask_at_visit"`
	Ask     string  `json:"ask"`
	Grade   *string `json:"grade"` // asked for
	Decided bool    `json:"decided"`
	If      []If    `json:"if"`
}

// An If is an answer and what it changes.
type If struct {
	Answer  string  `json:"answer"`
	Changes Changes `json:"changes"`
}

// Changes are what a plan has more with an answer than without.
type Changes struct {
	Stranded     int     `json:"stranded"`
	StrandedHigh int     `json:"stranded_high"`
	LegsNotOK    int     `json:"legs_not_ok"`
	ShortL       float64 `json:"short_l"`
	CanL         float64 `json:"can_l"`
	OctaneLitres float64 `json:"octane_litres"`
	Km           float64 `json:"km"`
}

func callsOf(p *plan.Plan) []Call {
	return each(p.Calls, func(c call.Call) Call {
		s := p.Stops[c.Stop]
		out := Call{
			Stop: s.Name, Visit: index(c.Visit), AtKm: c.At.Kilometres(), Phone: text(s.Phone),
			AskVis: index(c.AskAt), Ask: string(c.Ask), Grade: known(c.Grade.String(), c.Ask == call.ForGrade),
			Decided: c.Decided, If: each(c.If, func(i call.If) If { return If{i.Answer.String(), changesOf(i.Changes)} }),
		}
		if c.AskAt >= 0 {
			out.AskAt = text(p.Visits[c.AskAt].Stop.Name)
		}
		return out
	})
}

func changesOf(c call.Changes) Changes {
	return Changes{c.Stranded, c.Bare, c.NotOK, float64(c.Short), float64(c.Can), float64(c.Octane), c.Ridden.Kilometres()}
}
