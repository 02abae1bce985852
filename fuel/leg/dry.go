package leg

import "lastpump/fuel"

// An Outcome is what happens if a pump is dry.
type Outcome string

// The outcomes, best first.
const (
	On       Outcome = "on"   // the next stop is within reach
	Back     Outcome = "back" // the last one is
	Off      Outcome = "off"  // another by road is, at the most
	Stranded Outcome = "stranded"
)

// Rank counts outcomes from 0, the best.
func (o Outcome) Rank() int {
	switch o {
	case On:
		return 0
	case Back:
		return 1
	case Off:
		return 2
	}
	return 3
}

// Rescues are what it takes from a dry pump to the others.
type Rescues struct {
	On, Back fuel.Amount // to the next and to the last that the ride passes
	Off      fuel.Amount // by road to one that may be leaned on; meaningless unless HasOff
	HasOff   bool
}

// A Dry says what happens if the place at the end of a leg is dry.
type Dry struct {
	Outcome Outcome
	Ahead   bool        // the stop that is reached, or less out of reach, is the next
	Aside   bool        // it is the one by road; neither for the last
	Spare   fuel.Litres // left on reaching it, by road at the most; negative is the lack
	Bare    bool        // none of them is within reach at the most, see [fuel.Most]
	High    Outcome     // which of them is, at the most: may be back where the likely says on
}

// IfDry says what happens if the place at the end of a leg is dry: whether the next other
// place, or else the last one, is within reach of what is left, or else one by road of what
// is left at the most. No reserve is kept in this.
func (l Leg) IfDry(r Rescues) Dry { return l.ifDry(r, l.slack()) }

// IfDryWith is [Leg.IfDry] for a leg that sets out with so many litres just worked out:
// rounding takes nothing from them.
func (l Leg) IfDryWith(with fuel.Litres, r Rescues) Dry {
	l.Start = with
	return l.ifDry(r, Hair)
}

func (l Leg) ifDry(r Rescues, slack fuel.Litres) Dry {
	left, with := l.With()-l.Drink.Fuel.Likely, l.With()+slack
	var off fuel.Litres // left by road
	if r.HasOff {
		off = l.With() - l.Drink.Amount.Plus(r.Off).At(fuel.Most)
	}
	high := Stranded
	switch { // nobody fills at a dry pump: the way there and the way on are one
	case with >= l.Drink.Amount.Plus(r.On).At(fuel.Most):
		high = On
	case with >= l.Drink.Amount.Plus(r.Back).At(fuel.Most):
		high = Back
	case r.HasOff && off >= -slack:
		high = Off
	}
	bare := high == Stranded
	on, back := left-r.On.Likely, left-r.Back.Likely
	switch {
	case left >= r.On.Likely-slack:
		return Dry{Outcome: On, Ahead: true, Spare: max(0, on), Bare: bare, High: high}
	case left >= r.Back.Likely-slack:
		return Dry{Outcome: Back, Spare: max(0, back), Bare: bare, High: high}
	case r.HasOff && off >= -slack:
		return Dry{Outcome: Off, Aside: true, Spare: max(0, off), High: high}
	case r.HasOff && off > max(on, back):
		return Dry{Outcome: Stranded, Aside: true, Spare: off, High: high}
	case r.Back.Likely < r.On.Likely:
		return Dry{Outcome: Stranded, Spare: back, High: high}
	}
	return Dry{Outcome: Stranded, Ahead: true, Spare: on, High: high}
}

// DryLack gives the litres that a leg lacks, by one of the figures and without a can, so
// that a dry pump at its end does not strand.
func (l Leg) DryLack(r Rescues, by fuel.Figure) fuel.Litres { return max(0, l.Through(r, by)-l.Start) }

// Through gives what the leg and then the way on, back or off takes, whichever is least, by one
// of the figures: nobody fills at a dry pump, so the two are one. A way out by road asks for
// the most whichever is asked for: else it is not counted.
func (l Leg) Through(r Rescues, by fuel.Figure) fuel.Litres {
	through := min(l.Drink.Amount.Plus(r.On).At(by), l.Drink.Amount.Plus(r.Back).At(by))
	if r.HasOff {
		through = min(through, l.Drink.Amount.Plus(r.Off).At(fuel.Most))
	}
	return through
}

// Risk ranks what a dry place does: 0 where it may be ridden on, back or off from, 1 where
// that fails at the most, 2 where it strands.
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
// where both strand, and whether it fails at the most.
func (d Dry) NoWorse(than Dry) bool {
	if d.Outcome == Stranded && than.Outcome == Stranded {
		return d.Spare >= than.Spare-Hair
	}
	return d.Outcome.Rank() <= than.Outcome.Rank() && (!d.Bare || than.Bare)
}
