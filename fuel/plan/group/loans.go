package group

import (
	"slices"

	"lastpump/fuel"
	"lastpump/fuel/leg"
	"lastpump/fuel/plan/cure"
	"lastpump/octane"
)

// A Loan is fuel that one bike of a group gives another on a leg, so that the
// other arrives with its reserve and at its high figure. The lender still does.
type Loan struct {
	From, To int // into the bikes
	Litres   fuel.Litres
	Grade    octane.Verdict // of the lender's petrol for the borrower's engine
	Worse    bool           // that is worse than what the borrower rides on
}

// lacks gives what each bike lacks on a leg to be OK.
func (r *Ride) lacks(i int) []fuel.Litres {
	out := make([]fuel.Litres, len(r.bikes))
	for b, d := range r.bikes {
		if l := d.Legs[i]; l.Verdict != leg.OK {
			out[b] = max(0, -l.Over(l.With()))
		}
	}
	return out
}

// spares gives what each bike can lend on a leg and still be OK.
func (r *Ride) spares(i int) []fuel.Litres {
	out := make([]fuel.Litres, len(r.bikes))
	for b, d := range r.bikes {
		l := d.Legs[i]
		out[b] = max(0, l.Over(l.With()))
	}
	return out
}

// lend lets whoever can spare most lend to whoever lacks most, until nobody lacks
// or nobody can spare anything. It gives the loans and what is lacking still.
func (r *Ride) lend(i int, lacks []fuel.Litres) (loans []Loan, lacking []fuel.Litres) {
	lacking = slices.Clone(lacks)
	spares := r.spares(i)
	for {
		to, from := largest(lacking), largest(spares)
		if lacking[to] <= leg.Hair {
			lacking[to] = 0
			return loans, lacking
		}
		if spares[from] <= leg.Hair {
			return loans, lacking
		}
		l := min(lacking[to], spares[from])
		loans = append(loans, r.loan(i, from, to, l))
		lacking[to] -= l
		spares[from] -= l
	}
}

// afterLoans gives the worst verdict of a leg after loans. Lenders are still OK.
func (r *Ride) afterLoans(i int, loans []Loan) leg.Verdict {
	worst := leg.OK
	for b, d := range r.bikes {
		v := d.Legs[i].Verdict
		var got fuel.Litres
		for _, l := range loans {
			if l.To == b {
				got += l.Litres
			}
		}
		switch l := d.Legs[i]; {
		case got <= 0:
		case l.Over(l.With()+got) >= -leg.Hair:
			v = leg.OK
		case l.Arrive+got >= -leg.Hair:
			v = leg.Tight
		}
		worst = leg.Worst(worst, v)
	}
	return worst
}

func largest(of []fuel.Litres) int { return slices.Index(of, slices.Max(of)) }

// lenders gives the loans that make a leg OK for one bike: those of the group
// where all who lack fuel get it, else those that will do if nobody else borrows;
// none where the others cannot spare enough.
func (r *Ride) lenders(bike, i int) (loans []Loan) {
	if r.Legs[i].Lack <= 0 {
		for _, l := range r.Legs[i].Loans {
			if l.To == bike {
				loans = append(loans, l)
			}
		}
		return loans
	}
	only := make([]fuel.Litres, len(r.bikes))
	only[bike] = r.lacks(i)[bike]
	loans, left := r.lend(i, only)
	if left[bike] > 0 {
		return nil
	}
	return loans
}

// loan says what a loan does to the borrower's engine. The lender's petrol is
// taken at the worst it is on the leg.
func (r *Ride) loan(i, from, to int, l fuel.Litres) Loan {
	petrol, own := r.bikes[from].Legs[i].Mixture, r.bikes[to].Legs[i].Mixture
	v := petrol.Against(r.bikes[to].Bike.Needs)
	return Loan{From: from, To: to, Litres: l, Grade: v, Worse: v.Rank() > own.Verdict.Rank()}
}

// Borrow gives what a bike can borrow to be OK on a leg that is not; ok is false where the
// others cannot spare enough.
func (r *Ride) Borrow(bike, i int) (c cure.Cure, ok bool) {
	loans := r.lenders(bike, i)
	c = cure.Cure{Kind: cure.Borrow, Cost: cure.Other, Leg: i, HasLitres: true, AllLent: r.Legs[i].Lack <= 0,
		Verdict: string(leg.OK)}
	for _, l := range loans {
		c.Litres += l.Litres
		c.Loans = append(c.Loans, r.loanCure(i, l))
	}
	return c, len(loans) > 0
}

// loanCure says what else a loan does: to the borrower's engine, and to the lender if
// the pump at the end is dry.
func (r *Ride) loanCure(i int, l Loan) cure.Loan {
	lender := r.bikes[l.From]
	end := lender.Legs[i]
	out := cure.Loan{From: lender.Bike.Name, Litres: l.Litres, Need: r.bikes[l.To].Bike.Needs, Grade: l.Grade}
	if l.Worse {
		out.Worse = &end.Mixture
	}
	if end.ToVisit < 0 {
		return out
	}
	given := fuel.Litres(0)
	for _, other := range r.Legs[i].Loans {
		if other.From == l.From {
			given += other.Litres
		}
	}
	dry := lender.Visits[end.ToVisit].IfDry
	if dry != nil && dry.Outcome != leg.Stranded && dry.Spare < max(given, l.Litres) {
		out.IfDry, out.DryAt, out.DryGoal = dry.Outcome, end.To, dry.To
	}
	return out
}
