package plan

import (
	"slices"

	"lastpump/fuel"
	"lastpump/fuel/leg"
	"lastpump/fuel/trip"
	"lastpump/route"
)

// petrolDensity is kilograms per litre: inside the 0.720 to 0.775 of EN 228.
const petrolDensity = 0.75

// totals sums up what the ride takes at the pumps, likely.
func totals(p *Plan) Totals {
	var t Totals
	for _, v := range p.Visits {
		if v.Fill == nil {
			continue
		}
		l := v.Fill.Litres + v.Fill.Can
		t.addGrade(v.Fill, l)
		t.addMoney(v, l)
	}
	t.payments(p)
	t.CanWeight = weight(p.Can.SizeForPlan.Litres)
	t.DryWeight = weight(p.Can.SizeForDry.Litres)
	return t
}

func weight(l fuel.Litres) fuel.Kilograms { return fuel.Kilograms(l * petrolDensity) }

func (t *Totals) addGrade(f *leg.Fill, l fuel.Litres) {
	name := "not known"
	if f.HasGrade {
		name = f.Grade.String()
	}
	i := slices.IndexFunc(t.Grades, func(g GradeTotal) bool { return g.Grade == name })
	if i < 0 {
		i = len(t.Grades)
		t.Grades = append(t.Grades, GradeTotal{Grade: name})
	}
	t.Grades[i].Litres += l
}

func (t *Totals) addMoney(v trip.Visit, l fuel.Litres) {
	price, ok := v.Stop.Price(v.Fill.Grade)
	if !ok {
		t.Unpriced += l
		return
	}
	i := slices.IndexFunc(t.Money, func(m Money) bool { return m.Currency == price.Currency })
	if i < 0 {
		i = len(t.Money)
		t.Money = append(t.Money, Money{Currency: price.Currency})
	}
	t.Money[i].Amount += price.PerLitre() * float64(l)
}

// A Reach is how far a full tank goes on a ride, as the trip meter shows it.
type Reach struct {
	DryHigh route.Metres // on the thirstiest leg, at the high figure
	Dry     route.Metres // on the leg that takes the least, at the likely figure
	Safe    route.Metres // on the thirstiest leg, with the reserve whole
}

// FullTank gives how far a full tank goes, by the legs that set out full and without a can;
// ok is false where there are none.
func (p *Plan) FullTank() (r Reach, ok bool) {
	for i, l := range p.Legs {
		switch {
		case !p.SetsOutFull(i) || l.Can > 0:
		case !ok:
			r, ok = Reach{l.DryAtHigh, l.DryAt, l.SafeTo}, true
		default:
			r = Reach{min(r.DryHigh, l.DryAtHigh), max(r.Dry, l.DryAt), min(r.Safe, l.SafeTo)}
		}
	}
	return r, ok
}

// SetsOutFull tells whether the tank is full where a leg begins.
func (p *Plan) SetsOutFull(i int) bool { return p.Legs[i].Start >= p.Bike.Usable()-leg.Hair }

// payments adds up what has to be paid in cash, at the high figures, and names the stops that
// take only cards.
func (t *Totals) payments(p *Plan) {
	row := map[string]float64{} // since the last stop that takes cards
	for k, v := range p.Visits {
		if v.Fill == nil {
			continue
		}
		cash, card := v.Stop.TakesCash(), v.Stop.TakesCard()
		if card && !cash {
			t.CardOnly = append(t.CardOnly, k)
		}
		if card {
			clear(row)
		}
		if card || !cash {
			continue
		}
		price, ok := v.Stop.Price(v.Fill.Grade)
		if !ok {
			continue
		}
		i := slices.IndexFunc(t.Cash, func(c Cash) bool { return c.Currency == price.Currency })
		if i < 0 {
			i = len(t.Cash)
			t.Cash = append(t.Cash, Cash{Currency: price.Currency})
		}
		amount := price.PerLitre() * float64(v.Fill.High+v.Fill.Can)
		row[price.Currency] += amount
		t.Cash[i].Amount += amount
		t.Cash[i].InARow = max(t.Cash[i].InARow, row[price.Currency])
	}
}
