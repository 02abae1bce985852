// Package compared has the words of variants of a ride laid beside each other. Start with
// [Variant].
package compared

import (
	"cmp"
	"fmt"

	"lastpump/cmd/lastpump/internal/words"
	"lastpump/cmd/lastpump/internal/words/units"
	"lastpump/fuel"
	"lastpump/fuel/leg"
	"lastpump/fuel/plan"
	"lastpump/fuel/plan/days"
	"lastpump/route"
)

// A Variant is one variant of a ride: its plan, or why there is none.
type Variant struct {
	Name string
	Plan *plan.Plan // nil where it could not be made
	Why  string
}

// Compare orders variants, the better first: a group is as good as its worst bike.
func (c Variant) Compare(o Variant) int {
	switch {
	case c.Plan == nil || o.Plan == nil:
		return cmp.Compare(b2i(c.Plan == nil), b2i(o.Plan == nil))
	}
	return c.worst().Worth.Compare(o.worst().Worth)
}

func b2i(b bool) int {
	if b {
		return 1
	}
	return 0
}

// worst gives the plan of the bike that fares worst.
func (c Variant) worst() *plan.Plan {
	worst := c.Plan
	if c.Plan.Group != nil {
		for _, p := range c.Plan.Group.Bikes {
			if p.Worth.Compare(worst.Worth) > 0 {
				worst = p
			}
		}
	}
	return worst
}

// Figures are what variants are compared by: of the bike that fares worst.
type Figures struct {
	Verdict                         leg.Verdict // the worst of all legs
	WorstLeg, NotOK, Stranded, Bare int
	Short, Can, Litres              fuel.Litres
	Octane                          float64 // likely litres × octane under the need
	Fills                           int
	Ridden                          route.Metres
}

// Figures gives the figures of a variant that was planned.
func (c Variant) Figures() Figures {
	p := c.worst()
	f := Figures{Verdict: leg.OK, Can: p.Bike.Can, Octane: float64(p.Worth.Octane) / 1e6, Fills: int(p.Worth.Fills),
		Ridden: p.Loop.Ridden, Stranded: int(p.Worth.Stranded), Bare: int(p.Worth.Bare)}
	for i, l := range p.Legs {
		f.Verdict = leg.Worst(f.Verdict, l.Verdict)
		if l.Worse(p.Legs[f.WorstLeg].Leg) {
			f.WorstLeg = i
		}
		if l.Verdict != leg.OK {
			f.NotOK++
		}
		f.Short += l.Short
		f.Litres += l.Drink.Fuel.Likely
	}
	return f
}

// WorstVerdict says in two words how the legs of a variant fare.
func WorstVerdict(f Figures) string {
	if f.NotOK > 0 {
		return fmt.Sprintf("%s on %d", f.Verdict, f.NotOK)
	}
	return string(f.Verdict)
}

// WorstLeg names the leg that has the least to spare.
func WorstLeg(c Variant, f Figures, u units.System) string {
	p := c.worst()
	say := words.Of(p, u)
	from, to := words.EndsOf(p, f.WorstLeg)
	s := fmt.Sprintf("%d %s to %s", f.WorstLeg+1, say.Name(from), say.Name(to))
	if short := p.Legs[f.WorstLeg].Short; short > 0 {
		s += ", short by " + u.Needed(short)
	}
	return s
}

// Hours says how the pumps of a variant fare by the clock.
func Hours(c Variant) string {
	p := c.worst()
	if len(p.Days) == 0 {
		return "not checked"
	}
	return words.Standing(days.StandingOf(&p.Ride))
}
