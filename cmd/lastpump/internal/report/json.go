package report

import (
	"encoding/json"
	"io"
	"math"
	"time"

	"lastpump/fuel"
	"lastpump/fuel/plan"
	"lastpump/octane"
	"lastpump/route"
)

// Format names the version of the JSON that [WriteJSON] writes. Keys may be
// added to it, never renamed.
const Format = "lastpump-plan-1"

// A Document is a plan as JSON: litres, kilometres and degrees, at full
// precision. A null is not known or does not apply.
type Document struct {
	Format      string           `json:"format"`
	Answer      []string         `json:"answer"`
	Loop        jsonLoop         `json:"loop"`
	Bike        jsonBike         `json:"bike"`
	Reserve     jsonReserve      `json:"reserve"`
	Start       jsonStart        `json:"start"`
	Visits      []jsonVisit      `json:"visits"`
	Legs        []jsonLeg        `json:"legs"`
	Can         jsonCan          `json:"can"`
	NotUsed     []jsonNotUsed    `json:"not_used"`
	Totals      jsonTotals       `json:"totals"`
	Warnings    []jsonWarning    `json:"warnings"`
	Assumptions []jsonAssumption `json:"assumptions"`
	FromHere    *jsonFromHere    `json:"from_here"` // null where all of it is planned
	Group       *jsonGroup       `json:"group"`
	LowGrade    []jsonLowStretch `json:"low_grade"`
	WhatIf      []jsonCase       `json:"what_if"`
	Chosen      *jsonChoice      `json:"chosen"` // null where all counted stops are filled at
}

type jsonLoop struct {
	Name     string     `json:"name"`
	Points   int        `json:"points"`
	LineKm   float64    `json:"line_km"`
	Stretch  float64    `json:"stretch"`
	RiddenKm float64    `json:"ridden_km"`
	AscentM  *float64   `json:"ascent_m"`
	Closed   bool       `json:"closed"`
	Parts    []jsonPart `json:"parts"`
	Gaps     []jsonGap  `json:"gaps"`
	Halts    []jsonHalt `json:"halts"`
	Cut      bool       `json:"cut"`
	Arranged *string    `json:"arranged"` // how it is ridden otherwise than in the file
}

type jsonPart struct {
	Name   string  `json:"name"`
	FromKm float64 `json:"from_km"`
	ToKm   float64 `json:"to_km"`
	Number int     `json:"number"`    // in the file, from 1
	Back   bool    `json:"backwards"` // ridden against the order of the file
}

type jsonHalt struct {
	AtKm    float64 `json:"at_km"`
	TakenKm float64 `json:"taken_km"`
	Points  int     `json:"points"`
	Minutes float64 `json:"minutes"`
}

type jsonGap struct {
	AtKm       float64 `json:"at_km"`
	StraightKm float64 `json:"straight_km"`
	Ridden     bool    `json:"ridden"`
}

type jsonBike struct {
	Name        string  `json:"name"`
	TankL       float64 `json:"tank_l"`
	UnusableL   float64 `json:"unusable_l"`
	Consumption float64 `json:"consumption_l_per_100km"`
	LoadedMass  float64 `json:"loaded_mass_kg"`
	Needs       string  `json:"needs"`
	Odometer    float64 `json:"odometer"`
	CanL        float64 `json:"can_l"`
}

type jsonReserve struct {
	Share      float64 `json:"share"`
	DistanceKm float64 `json:"distance_km"`
}

type jsonStart struct {
	FuelL         float64      `json:"fuel_l"`
	Grade         string       `json:"grade"`
	GradeAssumed  bool         `json:"grade_assumed"`
	Mixture       *jsonMixture `json:"mixture"` // on the way, as the whole plan has it there
	NearestStop   *string      `json:"nearest_stop"`
	NearestStopKm *float64     `json:"nearest_stop_km"`
}

type jsonVisit struct {
	Stop      string       `json:"stop"`
	Lat       float64      `json:"lat"`
	Lon       float64      `json:"lon"`
	LineKm    float64      `json:"line_km"`
	OffLineKm float64      `json:"off_line_km"`
	DetourKm  float64      `json:"detour_km"`
	Standing  string       `json:"standing"`
	Confirmed *string      `json:"confirmed"`
	Hours     *string      `json:"hours"`
	Pay       *string      `json:"pay"`
	Phone     *string      `json:"phone"`
	Note      *string      `json:"note"`
	Grades    []string     `json:"grades"`
	Counted   bool         `json:"counted"`
	WhyNot    *string      `json:"why_not"`
	Also      []string     `json:"also"`
	LastFuel  bool         `json:"last_fuel"`
	Need      *string      `json:"need"` // must fill or may skip
	Fill      *jsonFill    `json:"fill"`
	Mixture   *jsonMixture `json:"mixture"`
	IfDry     *jsonIfDry   `json:"if_dry"`
}

type jsonFill struct {
	Grade      *string `json:"grade"`
	Verdict    string  `json:"verdict"`
	Litres     float64 `json:"litres"`
	LowL       float64 `json:"low_l"`
	HighL      float64 `json:"high_l"`
	TankAfterL float64 `json:"tank_after_l"`
	CanL       float64 `json:"can_l"`
}

type jsonMixture struct {
	Low     float64 `json:"low"`
	High    float64 `json:"high"`
	Scale   string  `json:"scale"`
	Verdict string  `json:"verdict"`
}

type jsonIfDry struct {
	Outcome string  `json:"outcome"`
	To      string  `json:"to"`
	SpareL  float64 `json:"spare_l"`
	Bare    bool    `json:"bare"`
}

type jsonLeg struct {
	From        string       `json:"from"`
	To          string       `json:"to"`
	FromVisit   *int         `json:"from_visit"`
	ToVisit     *int         `json:"to_visit"`
	FromKm      float64      `json:"from_km"`
	ToKm        float64      `json:"to_km"`
	RiddenKm    float64      `json:"ridden_km"`
	AscentM     *float64     `json:"ascent_m"`
	Ground      []jsonGround `json:"ground"`
	ClimbL      float64      `json:"climb_l"`
	DetourL     float64      `json:"detour_l"`
	FuelL       jsonFigures  `json:"fuel_l"`
	StartL      float64      `json:"start_l"`
	CanL        float64      `json:"can_l"`
	KeptL       float64      `json:"kept_l"`
	ArriveL     float64      `json:"arrive_l"`
	Verdict     string       `json:"verdict"`
	ShortL      float64      `json:"short_l"`
	Headroom    *float64     `json:"headroom"`
	SafeToKm    float64      `json:"safe_to_km"`
	DryAtKm     float64      `json:"dry_at_km"`
	TurnBackKm  float64      `json:"turn_back_km"`
	TurnBackAt  [2]float64   `json:"turn_back_at"`
	Mixture     jsonMixture  `json:"mixture"`
	DryAtHighKm float64      `json:"dry_at_high_km"`
	TurnHighKm  float64      `json:"turn_back_high_km"`
	UnknownGrKm float64      `json:"unknown_ground_km"`
}

type jsonGround struct {
	Ground   string  `json:"ground"`
	RiddenKm float64 `json:"ridden_km"`
	LikelyL  float64 `json:"likely_l"`
}

type jsonFigures struct {
	Low    float64 `json:"low"`
	Likely float64 `json:"likely"`
	High   float64 `json:"high"`
}

type jsonCan struct {
	ForPlanL          float64   `json:"for_plan_l"`
	ForAnyDryPumpL    float64   `json:"for_any_dry_pump_l"`
	SizeForPlan       *float64  `json:"size_for_plan_l"`
	SizeForAnyDryPump *float64  `json:"size_for_any_dry_pump_l"`
	Uses              []jsonUse `json:"uses"`
	ForDryHighL       float64   `json:"for_any_dry_pump_high_l"`
	SizeForDryHigh    *float64  `json:"size_for_any_dry_pump_high_l"`
}

type jsonUse struct {
	Leg      int     `json:"leg"`
	Why      string  `json:"why"`
	FillAt   string  `json:"fill_at"`
	PourAtKm float64 `json:"pour_at_km"`
	Litres   float64 `json:"litres"`
	IfDryL   float64 `json:"if_dry_l"`
	FullL    float64 `json:"full_l"`
	FullAtKm float64 `json:"full_at_km"`
	PourByKm float64 `json:"pour_by_km"`
}

type jsonNotUsed struct {
	Stop      string  `json:"stop"`
	OffLineKm float64 `json:"off_line_km"`
}

type jsonTotals struct {
	Grades        []jsonGrade `json:"grades"`
	Money         []jsonMoney `json:"money"`
	UnpricedL     float64     `json:"unpriced_l"`
	CanForPlanKg  float64     `json:"can_for_plan_kg"`
	CanForAnyDrKg float64     `json:"can_for_any_dry_pump_kg"`
}

type jsonGrade struct {
	Grade  string  `json:"grade"`
	Litres float64 `json:"litres"`
}

type jsonMoney struct {
	Currency string  `json:"currency"`
	Amount   float64 `json:"amount"`
}

type jsonAssumption struct {
	Name  string `json:"name"`
	Value string `json:"value"`
	Mark  string `json:"mark"`
}

// WriteJSON writes a plan as one indented JSON document.
func WriteJSON(w io.Writer, p *plan.Plan) error { return EncodeJSON(w, NewDocument(p)) }

// EncodeJSON writes a document as [WriteJSON] does.
func EncodeJSON(w io.Writer, d Document) error {
	e := json.NewEncoder(w)
	e.SetIndent("", " ")
	e.SetEscapeHTML(false)
	return e.Encode(d)
}

// ReadJSON reads what [WriteJSON] wrote. Unknown keys are an error.
func ReadJSON(r io.Reader) (Document, error) {
	var d Document
	dec := json.NewDecoder(r)
	dec.DisallowUnknownFields()
	err := dec.Decode(&d)
	return d, err
}

// NewDocument lays a plan out for JSON. Lists are never null.
func NewDocument(p *plan.Plan) Document {
	return Document{
		Format: Format, Answer: p.Answer[:],
		Loop: loopOf(p), Bike: bikeOf(p.Bike),
		Reserve: jsonReserve{p.Options.Reserve.Share, p.Options.Reserve.Distance.Kilometres()},
		Start:   startOf(p.Start),
		Visits:  each(p.Visits, visitOf), Legs: each(p.Legs, legOf), Can: canOf(p.Can),
		NotUsed: each(p.NotUsed, func(n plan.NotUsed) jsonNotUsed { return jsonNotUsed{n.Stop, n.Off.Kilometres()} }),
		Totals:  totalsOf(p.Totals), Warnings: each(p.Warnings, warningOf),
		Assumptions: each(p.Assumptions, func(a plan.Assumption) jsonAssumption {
			return jsonAssumption{a.Name, a.Value, string(a.Mark)}
		}),
		FromHere: fromHereOf(p.Here),
		Group:    groupOf(p.Group),
		LowGrade: each(p.LowGrade, lowStretchOf), WhatIf: each(p.Cases, caseOf), Chosen: choiceOf(p.Choice),
	}
}

// each lays out every element of a list.
func each[T, U any](in []T, f func(T) U) []U {
	out := make([]U, len(in))
	for i, v := range in {
		out[i] = f(v)
	}
	return out
}

// known gives a pointer to a value, or nil where it is not known.
func known[T any](v T, ok bool) *T {
	if !ok {
		return nil
	}
	return &v
}

func text(s string) *string { return known(s, s != "") }

func index(i int) *int { return known(i, i >= 0) }

func loopOf(p *plan.Plan) jsonLoop {
	l := p.Line
	return jsonLoop{
		Name: p.Name, Points: l.Points(), LineKm: l.Length().Kilometres(), Stretch: l.Stretch.Factor,
		RiddenKm: p.Loop.Ridden.Kilometres(), AscentM: known(float64(p.Loop.Ascent), p.Loop.HasAscent), Closed: l.Closed,
		Parts: each(l.Parts, func(t route.Part) jsonPart {
			return jsonPart{t.Name, t.From.Kilometres(), t.To.Kilometres(), t.Number, t.Backwards}
		}),
		Halts: each(l.Halts, func(h route.Halt) jsonHalt {
			return jsonHalt{h.At.Kilometres(), h.Taken.Kilometres(), h.Points, h.For.Minutes()}
		}),
		Arranged: text(p.Arranged),
		Cut:      p.Cut.Where != "",
		Gaps:     each(l.Gaps, func(g route.Gap) jsonGap { return jsonGap{g.At.Kilometres(), g.Straight.Kilometres(), g.Ridden} }),
	}
}

func bikeOf(b fuel.Bike) jsonBike {
	return jsonBike{b.Name, float64(b.Tank), float64(b.Unusable), float64(b.Consumption), float64(b.LoadedMass),
		b.Needs.String(), b.Odometer, float64(b.Can)}
}

func visitOf(v plan.Visit) jsonVisit {
	s := v.Stop
	out := jsonVisit{
		Stop: s.Name, Lat: s.At.Lat(), Lon: s.At.Lon(), LineKm: v.At.Kilometres(), OffLineKm: v.Off.Kilometres(),
		DetourKm: v.Detour.Kilometres(), Standing: string(s.Standing),
		Confirmed: known(s.Confirmed.Format(time.DateOnly), s.HasConfirmed),
		Hours:     text(s.Hours), Pay: text(s.Pay), Phone: text(s.Phone), Note: text(s.Note),
		Grades: each(s.Grades, octane.Grade.String), Counted: v.Counted, WhyNot: text(v.WhyNot),
		Also: each(v.Also, func(s string) string { return s }), LastFuel: v.LastFuel, Need: text(string(v.Need)),
	}
	if f := v.Fill; f != nil {
		out.Fill = &jsonFill{known(f.Grade.String(), f.HasGrade), string(f.Verdict), float64(f.Litres), float64(f.Low),
			float64(f.High), float64(f.TankAfter), float64(f.Can)}
	}
	if v.Mixture != nil {
		m := mixtureOf(*v.Mixture)
		out.Mixture = &m
	}
	if d := v.IfDry; d != nil {
		out.IfDry = &jsonIfDry{string(d.Outcome), d.To, float64(d.Spare), d.Bare}
	}
	return out
}

func mixtureOf(m plan.Mixture) jsonMixture {
	return jsonMixture{m.Low, m.High, string(m.Scale), string(m.Verdict)}
}

func legOf(l plan.Leg) jsonLeg {
	return jsonLeg{
		From: l.From, To: l.To, FromVisit: index(l.FromVisit), ToVisit: index(l.ToVisit),
		FromKm: l.FromAt.Kilometres(), ToKm: l.ToAt.Kilometres(), RiddenKm: l.Drink.Ridden.Kilometres(),
		AscentM: known(float64(l.Drink.Up), l.Drink.NoHeights <= 0),
		Ground: each(l.Drink.Grounds, func(g fuel.Ground) jsonGround {
			return jsonGround{string(g.Ground), g.Ridden.Kilometres(), float64(g.Likely)}
		}),
		ClimbL: float64(l.Drink.Climb), DetourL: float64(l.Detour),
		FuelL:  jsonFigures{float64(l.Drink.Fuel.Low), float64(l.Drink.Fuel.Likely), float64(l.Drink.Fuel.High)},
		StartL: float64(l.Start), CanL: float64(l.Can), KeptL: float64(l.Kept), ArriveL: float64(l.Arrive),
		Verdict: string(l.Verdict), ShortL: float64(l.Short), Headroom: known(l.Headroom, l.HasHeadroom && !math.IsInf(l.Headroom, 0)),
		SafeToKm: l.SafeTo.Kilometres(), DryAtKm: l.DryAt.Kilometres(), TurnBackKm: l.TurnBack.Kilometres(),
		TurnBackAt: [2]float64{l.TurnBackAt.Lat(), l.TurnBackAt.Lon()}, Mixture: mixtureOf(l.Mixture),
		DryAtHighKm: l.DryAtHigh.Kilometres(), TurnHighKm: l.TurnBackHigh.Kilometres(),
		UnknownGrKm: l.Drink.Guessed.Kilometres(),
	}
}

func canOf(c plan.Can) jsonCan {
	return jsonCan{
		float64(c.ForPlan), float64(c.ForAnyDryPump),
		known(float64(c.SizeForPlan.Litres), !c.SizeForPlan.TooBig), known(float64(c.SizeForDry.Litres), !c.SizeForDry.TooBig),
		each(c.Uses, func(u plan.Use) jsonUse {
			return jsonUse{u.Leg, u.Why, u.FillAt, u.PourAt.Kilometres(), float64(u.Litres), float64(u.IfDry), float64(u.Full), u.FullAt.Kilometres(),
				u.PourBy.Kilometres()}
		}),
		float64(c.ForDryHigh), sizeOf(c.SizeForDryHigh),
	}
}

func totalsOf(t plan.Totals) jsonTotals {
	return jsonTotals{
		each(t.Grades, func(g plan.GradeTotal) jsonGrade { return jsonGrade{g.Grade, float64(g.Litres)} }),
		each(t.Money, func(m plan.Money) jsonMoney { return jsonMoney{m.Currency, m.Amount} }),
		float64(t.Unpriced), float64(t.CanWeight), float64(t.DryWeight),
	}
}
