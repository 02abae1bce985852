package plandata

// Options are the rider's choices. The reserve stands by itself.
type Options struct {
	CorridorKm  float64  `json:"corridor_km"`
	Trust       string   `json:"trust"`
	Skip        []string `json:"skip"`
	StartFuelL  *float64 `json:"start_fuel_l"`
	SinceFillKm *float64 `json:"since_fill_km"`
	StartGrade  *string  `json:"start_grade"`
	Thirst      float64  `json:"thirst"`
	LowGrade    string   `json:"low_grade"`
	FillAt      string   `json:"fill_at"`
	DetoursKm   float64  `json:"detours_km"`
	Detours     *string  `json:"detours"`
}

// A Price is what petrol costs at a stop: one for all grades, or one for each in its order.
type Price struct {
	Amount   float64 `json:"amount"`
	Currency string  `json:"currency"`
	Per      string  `json:"per"`
}

// A Loop is the ride as a whole.
type Loop struct {
	Name     string   `json:"name"`
	Points   int      `json:"points"`
	LineKm   float64  `json:"line_km"`
	Stretch  float64  `json:"stretch"`
	RiddenKm float64  `json:"ridden_km"`
	AscentM  *float64 `json:"ascent_m"`
	KnownM   float64  `json:"ascent_known_m"`
	Closed   bool     `json:"closed"`
	Parts    []Part   `json:"parts"`
	Gaps     []Gap    `json:"gaps"`
	Halts    []Halt   `json:"halts"`
	Cut      bool     `json:"cut"`
	Arranged *string  `json:"arranged"` // how it is ridden otherwise than in the file
}

// A Part is a part of the file, often a day.
type Part struct {
	Name   string  `json:"name"`
	FromKm float64 `json:"from_km"`
	ToKm   float64 `json:"to_km"`
	Number int     `json:"number"`    // in the file, from 1
	Back   bool    `json:"backwards"` // ridden against the order of the file
}

// A Halt is a pause of a recording, whose jitter is left out.
type Halt struct {
	AtKm    float64 `json:"at_km"`
	TakenKm float64 `json:"taken_km"`
	Points  int     `json:"points"`
	Minutes float64 `json:"minutes"`
}

// A Gap is a hole in the line.
type Gap struct {
	AtKm       float64 `json:"at_km"`
	StraightKm float64 `json:"straight_km"`
	Ridden     bool    `json:"ridden"`
}

// A Bike is what the plan takes of the bike.
type Bike struct {
	Name        string  `json:"name"`
	TankL       float64 `json:"tank_l"`
	UnusableL   float64 `json:"unusable_l"`
	Consumption float64 `json:"consumption_l_per_100km"`
	LoadedMass  float64 `json:"loaded_mass_kg"`
	Needs       string  `json:"needs"`
	Odometer    float64 `json:"odometer"`
	CanL        float64 `json:"can_l"`
}

// A Band is what the low and high figures rest on.
type Band struct {
	Basis string  `json:"basis"`
	Tanks int     `json:"tanks"`
	Under float64 `json:"low_under"`
	Over  float64 `json:"high_over"`
	RideL Figures `json:"ride_l"`
}

// A Reserve is what is kept back on a leg: the larger of the two.
type Reserve struct {
	Share      float64 `json:"share"`
	DistanceKm float64 `json:"distance_km"`
	Litres     float64 `json:"litres"`
}

// A Start is where the ride, or the rest of it, begins.
type Start struct {
	FuelL         float64  `json:"fuel_l"`
	Grade         string   `json:"grade"`
	GradeAssumed  bool     `json:"grade_assumed"`
	Mixture       *Mixture `json:"mixture"` // on the way, as the whole plan has it there
	NearestStop   *string  `json:"nearest_stop"`
	NearestStopKm *float64 `json:"nearest_stop_km"`
}

// A Visit is a passing of a stop.
type Visit struct {
	Stop      string   `json:"stop"`
	Lat       float64  `json:"lat"`
	Lon       float64  `json:"lon"`
	LineKm    float64  `json:"line_km"`
	OffLineKm float64  `json:"off_line_km"`
	DetourKm  float64  `json:"detour_km"`
	Standing  string   `json:"standing"`
	Confirmed *string  `json:"confirmed"`
	Hours     *string  `json:"hours"`
	Pay       *string  `json:"pay"`
	Phone     *string  `json:"phone"`
	Note      *string  `json:"note"`
	Grades    []string `json:"grades"`
	Prices    []Price  `json:"prices"`
	Counted   bool     `json:"counted"`
	WhyNot    *string  `json:"why_not"`
	Also      []string `json:"also"`
	LastFuel  bool     `json:"last_fuel"`
	Unsure    bool     `json:"unsure_ahead"`
	Need      *string  `json:"need"` // must fill or may skip
	Fill      *Fill    `json:"fill"`
	Mixture   *Mixture `json:"mixture"`
	IfDry     *IfDry   `json:"if_dry"`
	Detour    *Road    `json:"detour_road,omitempty"` // by road to the stop; none where the detour is guessed
	There     *Times   `json:"there"`
	Zone      *string  `json:"zone"`
	Open      *string  `json:"open"` // what it is when one is there
	TurnsAt   *string  `json:"turns_at"`
	WaitH     *float64 `json:"wait_h"` // likely, for it to open
}

// A Fill is what is filled in at a visit.
type Fill struct {
	Grade      *string `json:"grade"`
	Verdict    string  `json:"verdict"`
	Litres     float64 `json:"litres"`
	LowL       float64 `json:"low_l"`
	HighL      float64 `json:"high_l"`
	TankAfterL float64 `json:"tank_after_l"`
	CanL       float64 `json:"can_l"`
}

// A Mixture is what the petrol in the tank is worth.
type Mixture struct {
	Low     float64 `json:"low"`
	High    float64 `json:"high"`
	Scale   string  `json:"scale"`
	Verdict string  `json:"verdict"`
}

// An IfDry is what becomes of the ride if a place has no petrol.
type IfDry struct {
	Outcome string  `json:"outcome"`
	To      string  `json:"to"`
	SpareL  float64 `json:"spare_l"`
	Bare    bool    `json:"bare"`

	Standing *string `json:"standing"`     // of the stop it leads to
	High     string  `json:"high_outcome"` // if the bike is thirsty: a third farther above likely than high is
	Back     string  `json:"back_to"`
	Off      *Off    `json:"off,omitempty"` // the way out by road, be it counted or not
}

// A Leg is the way from one fill to the next.
type Leg struct {
	Number      int        `json:"number"` // as a rider counts, from 1
	From        string     `json:"from"`
	To          string     `json:"to"`
	FromVisit   *int       `json:"from_visit"`
	ToVisit     *int       `json:"to_visit"`
	FromKm      float64    `json:"from_km"`
	ToKm        float64    `json:"to_km"`
	RiddenKm    float64    `json:"ridden_km"`
	AscentM     *float64   `json:"ascent_m"`
	KnownM      float64    `json:"ascent_known_m"`
	Ground      []Ground   `json:"ground"`
	ClimbL      float64    `json:"climb_l"`
	DetourL     float64    `json:"detour_l"`
	FuelL       Figures    `json:"fuel_l"`
	StartL      float64    `json:"start_l"`
	CanL        float64    `json:"can_l"`
	PouredL     float64    `json:"poured_l"` // of that, by plan on the way
	KeptL       float64    `json:"kept_l"`
	ArriveL     float64    `json:"arrive_l"`
	Verdict     string     `json:"verdict"`
	ShortL      float64    `json:"short_l"`
	Headroom    *float64   `json:"headroom"`
	SafeToKm    float64    `json:"safe_to_km"`
	DryAtKm     float64    `json:"dry_at_km"`
	TurnBackKm  float64    `json:"turn_back_km"`
	TurnBackAt  [2]float64 `json:"turn_back_at"` // of TurnBackBy
	TurnBackBy  float64    `json:"turn_back_by_km"`
	Mixture     Mixture    `json:"mixture"`
	DryAtHighKm float64    `json:"dry_at_high_km"`
	TurnHighKm  float64    `json:"turn_back_high_km"`
	UnknownGrKm float64    `json:"unknown_ground_km"`
	RideH       float64    `json:"ride_h"`            // in the saddle, likely
	WayOut      *WayOut    `json:"way_out,omitempty"` // the last to a pump other than the next
}

// A Ground is what one ground of a leg takes, climb not counted.
type Ground struct {
	Ground   string  `json:"ground"`
	RiddenKm float64 `json:"ridden_km"`
	LikelyL  float64 `json:"likely_l"`
}

// Figures are litres, from low to high.
type Figures struct {
	Low    float64 `json:"low"`
	Likely float64 `json:"likely"`
	High   float64 `json:"high"`
}

// A Can is how big a can has to be.
type Can struct {
	ForPlanL          float64  `json:"for_plan_l"`
	ForAnyDryPumpL    float64  `json:"for_any_dry_pump_l"`
	SizeForPlan       *float64 `json:"size_for_plan_l"`
	SizeForAnyDryPump *float64 `json:"size_for_any_dry_pump_l"`
	Uses              []Use    `json:"uses"`
	ForDryHighL       float64  `json:"for_any_dry_pump_high_l"`
	SizeForDryHigh    *float64 `json:"size_for_any_dry_pump_high_l"`
}

// A Use is one leg that asks for a can.
type Use struct {
	Leg      int     `json:"leg"`
	Number   int     `json:"number"` // of the leg, from 1
	Why      string  `json:"why"`
	FillAt   string  `json:"fill_at"`
	PourAtKm float64 `json:"pour_at_km"`
	Litres   float64 `json:"litres"`
	IfDryL   float64 `json:"if_dry_l"`
	FullL    float64 `json:"full_l"`
	FullAtKm float64 `json:"full_at_km"`
	PourByKm float64 `json:"pour_by_km"`
}

// A NotUsed is a stop beyond the corridor.
type NotUsed struct {
	Stop      string  `json:"stop"`
	OffLineKm float64 `json:"off_line_km"`
	In        *string `json:"in"` // gap or leap
}

// Totals are what the ride takes at the pumps.
type Totals struct {
	Grades        []Grade `json:"grades"`
	Money         []Money `json:"money"`
	UnpricedL     float64 `json:"unpriced_l"`
	CanForPlanKg  float64 `json:"can_for_plan_kg"`
	CanForAnyDrKg float64 `json:"can_for_any_dry_pump_kg"`
}

// A Grade is how much of one grade.
type Grade struct {
	Grade  string  `json:"grade"`
	Litres float64 `json:"litres"`
}

// A Money is what is paid in one currency.
type Money struct {
	Currency string  `json:"currency"`
	Amount   float64 `json:"amount"`
}

// An Assumption is what the plan takes for granted.
type Assumption struct {
	Name  string `json:"name"`
	Value string `json:"value"`
	Mark  string `json:"mark"`
}

// A CanRow says how the same stops fare with other cans.
type CanRow struct {
	CansL        []float64 `json:"cans_l"`
	LegsNotOK    int       `json:"legs_not_ok"`
	Stranded     int       `json:"stranded"`
	StrandedHigh int       `json:"stranded_high"`
	WeightKg     float64   `json:"weight_kg"` // of the petrol in them
	Planned      bool      `json:"planned"`
}

// A Pass is a counted pump that is passed and not filled at.
type Pass struct {
	Visit     int     `json:"visit"`
	TankL     float64 `json:"tank_l"`       // likely, in the tank there
	FillUnder float64 `json:"fill_under_l"` // with less than that fill there all the same
	StrayedKm float64 `json:"strayed_km"`   // or having strayed farther than that
}

// Cash is what is paid where only cash is taken, at the high use.
type Cash struct {
	Currency string  `json:"currency"`
	Amount   float64 `json:"amount"`
	InARow   float64 `json:"in_a_row"` // the most of it before a stop that takes cards
}
