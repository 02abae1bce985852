package leg

import (
	"cmp"
	"slices"

	"lastpump/fuel"
	"lastpump/octane"
)

// LowestFirst orders grades by what they are worth to an engine, the least first.
func LowestFirst(grades []octane.Grade, need octane.Grade) []octane.Grade {
	sorted := slices.Clone(grades)
	slices.SortStableFunc(sorted, func(a, b octane.Grade) int {
		x, y := a.In(need.Scale), b.In(need.Scale)
		return cmp.Or(cmp.Compare(x.Low, y.Low), cmp.Compare(x.High, y.High))
	})
	return sorted
}

// Take gives which of the grades sold, in the order of [LowestFirst], to take: of those
// that meet the need by themselves the first with which what is ridden on meets it, too,
// else the last of all. So none below the need is taken where one that meets is sold. It is
// -1 where no grade is known.
func Take(sold []octane.Grade, need octane.Grade, meets func(octane.Grade) bool) int {
	for i, g := range sold {
		if g.Against(need) == octane.Meets && meets(g) {
			return i
		}
	}
	return len(sold) - 1
}

// SellsMeeting tells whether one of the grades meets the need by itself.
func SellsMeeting(grades []octane.Grade, need octane.Grade) bool {
	return slices.ContainsFunc(grades, func(g octane.Grade) bool { return g.Against(need) == octane.Meets })
}

// SellsOnlyBelow tells whether grades are known, and none may meet the need.
func SellsOnlyBelow(grades []octane.Grade, need octane.Grade) bool {
	return len(grades) > 0 && !slices.ContainsFunc(grades,
		func(g octane.Grade) bool { return g.Against(need) != octane.Below })
}

// A Fill is what to take at a stop.
type Fill struct {
	Grade     octane.Grade
	HasGrade  bool           // false where no grade is tagged
	Verdict   octane.Verdict // of the grade itself, not of the mixture
	Litres    fuel.Litres    // into the tank, likely
	Low, High fuel.Litres    // if the bike has drunk less or more than likely
	TankAfter fuel.Litres    // usable
	Can       fuel.Litres    // into the can
}

// Add mixes litres of a grade into a vessel, or of none known where it is nil.
func Add(to octane.Mixture, l fuel.Litres, g *octane.Grade, need octane.Grade) octane.Mixture {
	switch {
	case l <= 0:
		return to
	case g == nil:
		return to.AddUnknown(float64(l), need)
	}
	return to.AddGrade(float64(l), *g, need)
}

// A Mixture is what petrol in a tank is worth, in the scale of the need.
type Mixture struct {
	Low, High float64
	Scale     octane.Scale
	Verdict   octane.Verdict
}

// MixtureOf gives what a tank is worth to an engine.
func MixtureOf(m octane.Mixture, need octane.Grade) Mixture {
	return Mixture{Low: m.Low(), High: m.High(), Scale: need.Scale, Verdict: m.Against(need)}
}

// Against compares what is in one tank with the need of another engine.
func (m Mixture) Against(need octane.Grade) octane.Verdict {
	if m.Scale == need.Scale && m.Verdict == octane.NotKnown {
		return octane.NotKnown
	}
	low := octane.Grade{Scale: m.Scale, Number: m.Low}.In(need.Scale)
	high := octane.Grade{Scale: m.Scale, Number: m.High}.In(need.Scale)
	return octane.Of(1, octane.Interval{Scale: need.Scale, Low: low.Low, High: high.High}).Against(need)
}
