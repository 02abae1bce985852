package plan

import (
	"fmt"
	"slices"
	"strings"

	"lastpump/fuel"
	"lastpump/octane"
)

// A Loan is fuel that one bike of a group gives another on a leg, so that the
// other arrives with its reserve and at its high figure. The lender still does.
type Loan struct {
	From, To int // into Group.Bikes
	Litres   fuel.Litres
	Grade    octane.Verdict // of the lender's petrol for the borrower's engine
	Worse    bool           // that is worse than what the borrower rides on
}

// over gives what a leg leaves of the fuel it sets out with, beyond the reserve
// and at the high figure: negative is what it lacks to be OK.
func (l Leg) over(with fuel.Litres) fuel.Litres {
	return with - l.asks()
}

// lacks gives what each bike lacks on a leg to be OK.
func (g *Group) lacks(i int) []fuel.Litres {
	out := make([]fuel.Litres, len(g.Bikes))
	for b, p := range g.Bikes {
		if l := p.Legs[i]; l.Verdict != OK {
			out[b] = max(0, -l.over(l.Start+l.Can))
		}
	}
	return out
}

// spares gives what each bike can lend on a leg and still be OK.
func (g *Group) spares(i int) []fuel.Litres {
	out := make([]fuel.Litres, len(g.Bikes))
	for b, p := range g.Bikes {
		l := p.Legs[i]
		out[b] = max(0, l.over(l.Start+l.Can))
	}
	return out
}

// lend lets whoever can spare most lend to whoever lacks most, until nobody lacks
// or nobody can spare anything. It gives the loans and what is lacking still.
func (g *Group) lend(i int, lacks []fuel.Litres) (loans []Loan, lacking []fuel.Litres) {
	lacking = slices.Clone(lacks)
	spares := g.spares(i)
	for {
		to, from := largest(lacking), largest(spares)
		if lacking[to] <= hair {
			lacking[to] = 0
			return loans, lacking
		}
		if spares[from] <= hair {
			return loans, lacking
		}
		l := min(lacking[to], spares[from])
		loans = append(loans, g.loan(i, from, to, l))
		lacking[to] -= l
		spares[from] -= l
	}
}

// afterLoans gives the worst verdict of a leg after loans. Lenders are still OK.
func (g *Group) afterLoans(i int, loans []Loan) Verdict {
	worst := OK
	for b, p := range g.Bikes {
		v := p.Legs[i].Verdict
		var got fuel.Litres
		for _, l := range loans {
			if l.To == b {
				got += l.Litres
			}
		}
		switch l := p.Legs[i]; {
		case got <= 0:
		case l.over(l.Start+l.Can+got) >= -hair:
			v = OK
		case l.Arrive+got >= -hair:
			v = Tight
		}
		if v.rank() > worst.rank() {
			worst = v
		}
	}
	return worst
}

func largest(of []fuel.Litres) int { return slices.Index(of, slices.Max(of)) }

// lenders gives the loans that make a leg OK for one bike: those of the group
// where all who lack fuel get it, else those that will do if nobody else borrows;
// none where the others cannot spare enough.
func (g *Group) lenders(bike, leg int) (loans []Loan) {
	if g.Legs[leg].Lack <= 0 {
		for _, l := range g.Legs[leg].Loans {
			if l.To == bike {
				loans = append(loans, l)
			}
		}
		return loans
	}
	only := make([]fuel.Litres, len(g.Bikes))
	only[bike] = g.lacks(leg)[bike]
	loans, left := g.lend(leg, only)
	if left[bike] > 0 {
		return nil
	}
	return loans
}

// loan says what a loan does to the borrower's engine. The lender's petrol is
// taken at the worst it is on the leg.
func (g *Group) loan(leg, from, to int, l fuel.Litres) Loan {
	petrol, own := g.Bikes[from].Legs[leg].Mixture, g.Bikes[to].Legs[leg].Mixture
	v := petrol.against(g.Bikes[to].Bike.Needs)
	return Loan{From: from, To: to, Litres: l, Grade: v, Worse: v.Rank() > own.Verdict.Rank()}
}

// against compares what is in one tank with the need of another engine.
func (m Mixture) against(need octane.Grade) octane.Verdict {
	if m.Scale == need.Scale && m.Verdict == octane.NotKnown {
		return octane.NotKnown
	}
	low := octane.Grade{Scale: m.Scale, Number: m.Low}.In(need.Scale)
	high := octane.Grade{Scale: m.Scale, Number: m.High}.In(need.Scale)
	petrol, err := octane.Mixture{}.Add(1, octane.Interval{Scale: need.Scale, Low: low.Low, High: high.High})
	if err != nil { // an empty tank takes any scale
		return octane.NotKnown
	}
	return petrol.Against(need)
}

// cures adds to the warnings of legs that are not OK what the bike can borrow.
func (g *Group) cures() {
	for b, p := range g.Bikes {
		for i := range p.Warnings {
			w := &p.Warnings[i]
			if w.Kind != KindShort && w.Kind != KindTight {
				continue
			}
			if loans := g.lenders(b, w.Leg); len(loans) > 0 {
				w.Cures = append(w.Cures, g.cure(b, w.Leg, loans))
				w.NoCure = ""
			}
		}
	}
}

func (g *Group) cure(bike, leg int, loans []Loan) Cure {
	u := g.Bikes[bike].Options.Units
	c := Cure{Cost: CostOther, HasLitres: true, Verdict: string(OK)}
	var from, but []string
	for _, l := range loans {
		c.Litres += l.Litres
		from = append(from, fmt.Sprintf("%s from %s", u.Needed(l.Litres), g.name(l.From)))
		but = append(but, g.drawbacks(leg, l)...)
	}
	if g.Legs[leg].Lack > 0 {
		but = append(but, "not all who lack fuel on it can be lent enough")
	}
	who := "both"
	if len(loans) > 1 {
		who = "all"
	}
	c.Text = fmt.Sprintf("borrow %s on this leg; %s still arrive with the reserve", strings.Join(from, " and "), who)
	if len(but) > 0 {
		c.Text += " (but " + strings.Join(but, "; ") + ")"
	}
	return c
}

// drawbacks says what else a loan does: to the borrower's engine, and to the
// lender if the pump at the end is dry.
func (g *Group) drawbacks(leg int, l Loan) (but []string) {
	lender := g.Bikes[l.From]
	end := lender.Legs[leg]
	if l.Worse {
		but = append(but, fmt.Sprintf("it is %s, which for %s is %s", end.Mixture, g.Bikes[l.To].Bike.Needs, l.Grade))
	}
	if end.ToVisit < 0 {
		return but
	}
	given := fuel.Litres(0)
	for _, other := range g.Legs[leg].Loans {
		if other.From == l.From {
			given += other.Litres
		}
	}
	if dry := lender.Visits[end.ToVisit].IfDry; dry != nil && dry.Outcome != Stranded && dry.Spare < max(given, l.Litres) {
		but = append(but, fmt.Sprintf("if %s is dry, %s no longer gets %s to %s",
			lender.NameOf(end.To), g.name(l.From), dry.Outcome, lender.NameOf(dry.To)))
	}
	return but
}
