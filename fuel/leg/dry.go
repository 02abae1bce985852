package leg

import "lastpump/fuel"

// An Outcome is what happens if a pump is dry.
type Outcome string

// The outcomes, best first.
const (
	On       Outcome = "on"   // the next stop is within reach
	Back     Outcome = "back" // the last one is
	Stranded Outcome = "stranded"
)

// Rank counts outcomes from 0, the best.
func (o Outcome) Rank() int {
	switch o {
	case On:
		return 0
	case Back:
		return 1
	}
	return 2
}

// A Dry says what happens if the place at the end of a leg is dry.
type Dry struct {
	Outcome Outcome
	Ahead   bool        // the stop that is reached, or less out of reach, is the next; else the last
	Spare   fuel.Litres // left on reaching it; negative is the lack
	Bare    bool        // neither the next stop nor the last is within reach on the high figures
	High    Outcome     // which of them is, on the high figures: may be back where the likely says on
}

// IfDry says what happens if the place at the end of a leg is dry: whether the next
// other place, or else the last one, is within reach of what is left. On and back are
// what it takes to each from there. No reserve is kept in this.
func (l Leg) IfDry(on, back fuel.Amount) Dry { return l.ifDry(on, back, l.slack()) }

// IfDryWith is [Leg.IfDry] for a leg that sets out with so many litres just worked out:
// rounding takes nothing from them.
func (l Leg) IfDryWith(with fuel.Litres, on, back fuel.Amount) Dry {
	l.Start = with
	return l.ifDry(on, back, Hair)
}

func (l Leg) ifDry(on, back fuel.Amount, slack fuel.Litres) Dry {
	left, with := l.With()-l.Drink.Fuel.Likely, l.With()+slack
	high := Stranded
	switch { // nobody fills at a dry pump: the way there and the way on are one
	case with >= l.Drink.Amount.Plus(on).At(fuel.High):
		high = On
	case with >= l.Drink.Amount.Plus(back).At(fuel.High):
		high = Back
	}
	bare := high == Stranded
	switch {
	case left >= on.Likely-slack:
		return Dry{On, true, max(0, left-on.Likely), bare, high}
	case left >= back.Likely-slack:
		return Dry{Back, false, max(0, left-back.Likely), bare, high}
	case back.Likely < on.Likely:
		return Dry{Stranded, false, left - back.Likely, false, high}
	}
	return Dry{Stranded, true, left - on.Likely, false, high}
}

// DryLack gives the litres that a leg lacks, by one of the figures and without a can, so
// that a dry pump at its end does not strand.
func (l Leg) DryLack(on, back fuel.Amount, by fuel.Figure) fuel.Litres {
	return max(0, l.Through(on, back, by)-l.Start)
}

// Through gives what the leg and then the way on or back takes, whichever is less, by one of
// the figures: nobody fills at a dry pump, so the two are one.
func (l Leg) Through(on, back fuel.Amount, by fuel.Figure) fuel.Litres {
	return min(l.Drink.Amount.Plus(on).At(by), l.Drink.Amount.Plus(back).At(by))
}

// Risk ranks what a dry place does: 0 where it may be ridden past or back from, 1 where
// that fails on the high figures, 2 where it strands.
func (d Dry) Risk() int {
	switch {
	case d.Outcome == Stranded:
		return 2
	case d.Bare:
		return 1
	}
	return 0
}

// NoWorse tells whether a dry place is no worse than another: by its outcome, its spare
// where both strand, and whether it fails on the high figures.
func (d Dry) NoWorse(than Dry) bool {
	if d.Outcome == Stranded && than.Outcome == Stranded {
		return d.Spare >= than.Spare-Hair
	}
	return d.Outcome.Rank() <= than.Outcome.Rank() && (!d.Bare || than.Bare)
}
