package plandata

import (
	"lastpump/cmd/lastpump/internal/words"
	"lastpump/fuel"
	"lastpump/fuel/plan"
	"lastpump/fuel/plan/group"
)

// A Group is several bikes on one loop. Bikes are counted from 0.
type Group struct {
	Answer string     `json:"answer"`
	Bikes  []Rider    `json:"bikes"`
	Legs   []GroupLeg `json:"legs"`
	Can    GroupCan   `json:"can"`
}

// A Rider is one bike of a group, with the whole plan of it alone.
type Rider struct {
	Name   string   `json:"name"`
	Holds  bool     `json:"holds"`
	Answer []string `json:"answer"`
	Plan   Document `json:"plan"`
}

// A GroupLeg is a leg as a group rides it.
type GroupLeg struct {
	Leg      int       `json:"leg"`
	Number   int       `json:"number"` // from 1
	To       string    `json:"to"`
	SetBy    int       `json:"set_by"`
	Verdict  string    `json:"verdict"`
	NotOK    int       `json:"not_ok"`
	Loans    []Loan    `json:"loans"`
	Lent     string    `json:"verdict_lent"` // of the worst bike, after the loans
	LackL    float64   `json:"lack_l"`
	LackingL []float64 `json:"lacking_l"` // of each bike
}

// A Loan is petrol that one bike lends another.
type Loan struct {
	From   int     `json:"from"`
	To     int     `json:"to"`
	Litres float64 `json:"litres"`
	Grade  string  `json:"grade"` // what the lender's petrol is to the borrower's engine
	Worse  bool    `json:"worse"`
}

// A GroupCan is how big a can has to be for all.
type GroupCan struct {
	Litres            float64  `json:"litres"`
	Size              *float64 `json:"size_l"`
	WithoutLendingL   float64  `json:"without_lending_l"`
	SizeWithout       *float64 `json:"size_without_lending_l"`
	ForAnyDryPumpL    float64  `json:"for_any_dry_pump_l"`
	SizeForAnyDryPump *float64 `json:"size_for_any_dry_pump_l"`
}

// groupOf lays a group out; nil for one bike.
func groupOf(g *plan.Group, say words.Voice) *Group {
	if g == nil {
		return nil
	}
	out := &Group{
		Answer: say.Group(),
		Bikes: each(g.Bikes, func(p *plan.Plan) Rider {
			answer := words.Of(p, say.Units).Answer()
			return Rider{p.Bike.Name, p.Holds(), answer[:], New(p, say.Units)}
		}),
		Can: GroupCan{float64(g.Can.Litres), sizeOf(g.Can.Size), float64(g.Can.WithoutLending), sizeOf(g.Can.SizeWithout),
			float64(g.Can.ForAnyDryPump), sizeOf(g.Can.SizeForDry)},
	}
	out.Legs = each(g.Legs, keyed(say.Plan.Stops).groupLeg)
	for i := range out.Legs {
		out.Legs[i].Leg, out.Legs[i].Number = i, i+1
	}
	return out
}

func (k keyed) groupLeg(l group.Leg) GroupLeg {
	return GroupLeg{
		To: l.To.Key(k), SetBy: l.SetBy, Verdict: string(l.Verdict), NotOK: l.NotOK, Lent: string(l.Lent),
		LackL: float64(l.Lack),
		Loans: each(l.Loans, func(l group.Loan) Loan {
			return Loan{l.From, l.To, float64(l.Litres), string(l.Grade), l.Worse}
		}),
		LackingL: each(l.Lacking, func(l fuel.Litres) float64 { return float64(l) }),
	}
}
