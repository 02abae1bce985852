package plan

import (
	"slices"

	"lastpump/fuel"
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
	t.CanWeight = weight(p.Can.SizeForPlan.Litres)
	t.DryWeight = weight(p.Can.SizeForDry.Litres)
	return t
}

func weight(l fuel.Litres) fuel.Kilograms { return fuel.Kilograms(l * petrolDensity) }

func (t *Totals) addGrade(f *Fill, l fuel.Litres) {
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

func (t *Totals) addMoney(v Visit, l fuel.Litres) {
	price, ok := v.Stop.Price(v.Fill.Grade)
	per, err := fuel.ParseLitres("1 " + price.Per)
	if !ok || err != nil {
		t.Unpriced += l
		return
	}
	i := slices.IndexFunc(t.Money, func(m Money) bool { return m.Currency == price.Currency })
	if i < 0 {
		i = len(t.Money)
		t.Money = append(t.Money, Money{Currency: price.Currency})
	}
	t.Money[i].Amount += price.Amount * float64(l/per)
}
