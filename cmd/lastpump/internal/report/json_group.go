package report

import (
	"lastpump/fuel"
	"lastpump/fuel/plan"
)

// A jsonGroup is several bikes on one loop. Bikes are counted from 0.
type jsonGroup struct {
	Answer string         `json:"answer"`
	Bikes  []jsonRider    `json:"bikes"`
	Legs   []jsonGroupLeg `json:"legs"`
	Can    jsonGroupCan   `json:"can"`
}

// A jsonRider is one bike of a group, with the whole plan of it alone.
type jsonRider struct {
	Name   string   `json:"name"`
	Holds  bool     `json:"holds"`
	Answer []string `json:"answer"`
	Plan   Document `json:"plan"`
}

type jsonGroupLeg struct {
	Leg      int        `json:"leg"`
	To       string     `json:"to"`
	SetBy    int        `json:"set_by"`
	Verdict  string     `json:"verdict"`
	NotOK    int        `json:"not_ok"`
	Loans    []jsonLoan `json:"loans"`
	Lent     string     `json:"verdict_lent"` // of the worst bike, after the loans
	LackL    float64    `json:"lack_l"`
	LackingL []float64  `json:"lacking_l"` // of each bike
}

type jsonLoan struct {
	From   int     `json:"from"`
	To     int     `json:"to"`
	Litres float64 `json:"litres"`
	Grade  string  `json:"grade"` // what the lender's petrol is to the borrower's engine
	Worse  bool    `json:"worse"`
}

type jsonGroupCan struct {
	Litres            float64  `json:"litres"`
	Size              *float64 `json:"size_l"`
	WithoutLendingL   float64  `json:"without_lending_l"`
	SizeWithout       *float64 `json:"size_without_lending_l"`
	ForAnyDryPumpL    float64  `json:"for_any_dry_pump_l"`
	SizeForAnyDryPump *float64 `json:"size_for_any_dry_pump_l"`
}

// groupOf lays a group out; nil for one bike.
func groupOf(g *plan.Group) *jsonGroup {
	if g == nil {
		return nil
	}
	size := func(s plan.CanSize) *float64 { return known(float64(s.Litres), !s.TooBig) }
	out := &jsonGroup{
		Answer: g.Answer,
		Bikes: each(g.Bikes, func(p *plan.Plan) jsonRider {
			return jsonRider{p.Bike.Name, p.Holds(), p.Answer[:], NewDocument(p)}
		}),
		Can: jsonGroupCan{float64(g.Can.Litres), size(g.Can.Size), float64(g.Can.WithoutLending), size(g.Can.SizeWithout),
			float64(g.Can.ForAnyDryPump), size(g.Can.SizeForDry)},
	}
	out.Legs = each(g.Legs, groupLegOf)
	for i := range out.Legs {
		out.Legs[i].Leg = i
	}
	return out
}

func groupLegOf(l plan.GroupLeg) jsonGroupLeg {
	return jsonGroupLeg{
		To: l.To, SetBy: l.SetBy, Verdict: string(l.Verdict), NotOK: l.NotOK, Lent: string(l.Lent), LackL: float64(l.Lack),
		Loans: each(l.Loans, func(l plan.Loan) jsonLoan {
			return jsonLoan{l.From, l.To, float64(l.Litres), string(l.Grade), l.Worse}
		}),
		LackingL: each(l.Lacking, func(l fuel.Litres) float64 { return float64(l) }),
	}
}
