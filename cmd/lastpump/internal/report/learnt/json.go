package learnt

import (
	"encoding/json"
	"io"
	"time"

	"lastpump/fuel"
	"lastpump/fuel/learn"
)

// Format names the form of [Document]. Keys may be added, never renamed.
const Format = "lastpump-learnt-1"

// A Document is what was learnt as JSON. Figures are whole, litres and kilometres; null is
// what is not known.
type Document struct {
	Format  string       `json:"format"`
	Bike    string       `json:"bike"`
	Tanks   []TankData   `json:"tanks"` // those after what was learnt before
	Theta   float64      `json:"theta"` // with these: of the last full tank
	SDTheta float64      `json:"sd_theta"`
	Tau     float64      `json:"tau"`
	DoF     float64      `json:"dof"`
	T       float64      `json:"t"`
	Thirst  FiguresData  `json:"thirst"`
	Grounds []GroundData `json:"grounds"`
	OneLeg  LegData      `json:"one_leg"`
	Seen    int          `json:"tanks_in_all"`
	Ties    []TieData    `json:"not_told_apart"`
	NoPaved bool         `json:"no_paved_road"`
	Score   ScoreData    `json:"forecasts"`
	Open    *OpenData    `json:"with_open_tank"` // with what is known of the tank that is not full yet
	Remarks []RemarkData `json:"remarks"`
}

// A TankData is one tank, and the state after it.
type TankData struct {
	Row        int          `json:"row"`
	Date       string       `json:"date"`
	DistanceKm *float64     `json:"distance_km"` // as the bike shows it
	Ground     string       `json:"ground"`      // known from line, columns, or ""
	PlannedL   float64      `json:"planned_l"`   // by the bike file
	FilledL    *float64     `json:"filled_l"`
	ForecastL  *FiguresData `json:"forecast_l"` // from those before it
	V          *float64     `json:"v"`
	VarianceV  *float64     `json:"V"`
	R          *float64     `json:"R"`
	W          *float64     `json:"w"`
	SDs        *float64     `json:"off_sd"`
	Theta      float64      `json:"theta"`
	SDTheta    float64      `json:"sd_theta"`
	Tau        float64      `json:"tau"`
	Used       bool         `json:"used"`
	Why        *learn.Why   `json:"why"` // it was not
}

// FiguresData are three figures.
type FiguresData struct {
	Low    float64 `json:"low"`
	Likely float64 `json:"likely"`
	High   float64 `json:"high"`
}

// A GroundData is what is known of an unpaved ground.
type GroundData struct {
	Ground    string        `json:"ground"`
	U         float64       `json:"u"`
	SD        float64       `json:"sd"`
	Share     float64       `json:"share"`   // of the doubt at the start that is left
	Weights   [3]float64    `json:"weights"` // low, likely, high
	Yours     fuel.Standing `json:"yours"`
	RiddenL   float64       `json:"ridden_l"`    // in these tanks, by the bike file
	KmToHalve *float64      `json:"km_to_halve"` // that would halve the doubt; null where 20 tanks would not
}

// A LegData is a leg on paved road that takes a whole tank by the bike file.
type LegData struct {
	PlannedL float64 `json:"planned_l"`
	FiguresData
	SD float64 `json:"sd"`
}

// A TieData is two things that are not told apart; With is "thirst" or a ground.
type TieData struct {
	Ground      string  `json:"ground"`
	With        string  `json:"with"`
	Correlation float64 `json:"correlation"`
}

// A ScoreData is how tanks came out that were forecast from those before them.
type ScoreData struct {
	Tanks     int     `json:"tanks"`
	MeanError float64 `json:"mean_error"`
	Inside    int     `json:"inside"`
	Above     int     `json:"above"`
}

// An OpenData is the state with what is known of the open tank.
type OpenData struct {
	Theta   float64 `json:"theta"`
	SDTheta float64 `json:"sd_theta"`
	OneLeg  LegData `json:"one_leg"`
}

// A RemarkData is something that was made of the file.
type RemarkData struct {
	Kind string `json:"kind"`
	Rows []int  `json:"rows"`
}

// NewDocument lays out what was learnt.
func NewDocument(r Report) Document {
	s := r.Kept
	low, likely, high := s.Thirst()
	score := learn.ScoreOf(r.Entries)
	d := Document{
		Format: Format, Bike: r.Bike.Name, Tanks: []TankData{}, Theta: s.Theta(), SDTheta: s.SDTheta(), Tau: s.Tau(),
		DoF: s.DoF(), T: s.T(), Thirst: FiguresData{low, likely, high}, Seen: s.Tanks(), Ties: []TieData{},
		OneLeg: r.leg(s), NoPaved: r.noPaved(),
		Score: ScoreData{score.Tanks, score.Error, score.Inside, score.Above}, Remarks: []RemarkData{},
	}
	for i, e := range r.Entries {
		d.Tanks = append(d.Tanks, r.tank(i, e))
	}
	d.Grounds = r.grounds()
	for _, t := range s.Ties() {
		with := string(t.With)
		if with == "" {
			with = "thirst"
		}
		d.Ties = append(d.Ties, TieData{string(t.Ground), with, t.Correlation})
	}
	if r.Now != r.Kept {
		d.Open = &OpenData{r.Now.Theta(), r.Now.SDTheta(), r.leg(r.Now)}
	}
	for _, x := range append(r.Log.Remarks[:len(r.Log.Remarks):len(r.Log.Remarks)], r.Tanks.Remarks...) {
		d.Remarks = append(d.Remarks, RemarkData{string(x.Kind), append([]int{}, x.Lines...)})
	}
	return d
}

func (r Report) leg(s learn.State) LegData {
	planned, ahead := r.oneLeg(s)
	return LegData{float64(planned), figuresOf(ahead.Figures), ahead.SD}
}

func (r Report) tank(i int, e learn.Entry) TankData {
	t := r.Tanks.Tanks[i]
	d := TankData{
		Row: t.To.Line, Date: t.To.Date.Format(time.DateOnly), DistanceKm: known(t.Distance.Kilometres(), t.Distance > 0),
		Ground: string(t.Ground), PlannedL: float64(t.Needs.Sum().Likely), FilledL: known(float64(t.Litres), t.Litres > 0),
		Theta: e.After.Theta(), SDTheta: e.After.SDTheta(), Tau: e.After.Tau(), Used: e.Step.Used,
		W: known(e.Step.Weight, e.Step.Used), Why: known(e.Step.Why, !e.Step.Used),
		ForecastL: known(figuresOf(e.Forecast.Figures), e.Forecast.Likely > 0),
	}
	if e.Step.HasOff() {
		d.V, d.VarianceV, d.R = known(e.Step.Off, true), known(e.Step.V, true), known(e.Step.R, true)
		d.SDs = known(e.Step.SDs(), true)
	}
	return d
}

func (r Report) grounds() (out []GroundData) {
	ridden, _ := r.ridden()
	for _, g := range r.Kept.Grounds() {
		km, ok := r.Kept.ToHalve(r.Bike, g.Ground)
		out = append(out, GroundData{Ground: string(g.Ground), U: g.U, SD: g.SD, Share: g.Share,
			Weights: [3]float64{g.Weight.Low, g.Weight.Likely, g.Weight.High}, Yours: g.Standing,
			RiddenL: float64(ridden[fuel.WeighedAs(g.Ground)]), KmToHalve: known(km.Kilometres(), ok)})
	}
	return out
}

func figuresOf(f fuel.Figures) FiguresData {
	return FiguresData{float64(f.Low), float64(f.Likely), float64(f.High)}
}

func known[T any](v T, ok bool) *T {
	if !ok {
		return nil
	}
	return &v
}

// WriteJSON writes what was learnt as JSON.
func WriteJSON(w io.Writer, r Report) error {
	e := json.NewEncoder(w)
	e.SetIndent("", " ")
	e.SetEscapeHTML(false)
	return e.Encode(NewDocument(r))
}
