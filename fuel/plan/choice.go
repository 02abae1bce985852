package plan

import (
	"context"

	"lastpump/fuel/plan/internal/choose"
	"lastpump/fuel/trip"
)

// FillAt says which stops a plan fills at.
type FillAt string

// The rules for stops.
const (
	FillEverywhere FillAt = "everywhere" // at every counted stop within the corridor
	FillChosen     FillAt = "chosen"     // where it serves the ride best, as far off the line as Detours goes
)

// A Choice is how the stops of a plan were chosen, by [trip.Worth].
type Choice struct {
	Candidates int    // counted passings of stops, those off the line included
	Taken      int    // of them
	Bike       string // of a group, the one that they were chosen for; "" for a single one
	Worth      trip.Worth
	Bound      trip.Worth // no choice is better; equal to Worth where the best is proven
}

// choose gives the change that the rule for stops makes to a ride.
func (in Inputs) choose(ctx context.Context, t *trip.Trip) (trip.Change, *Choice, error) {
	switch {
	case in.Options.FillAt != FillChosen:
		return trip.Change{}, nil, nil
	case in.choice != nil:
		return trip.Change{Chosen: in.chosen}, in.choice, nil
	}
	c, err := choose.Best(ctx, t, in.Tell.at(ChoosingStops))
	return trip.Change{Chosen: c.Taken},
		&Choice{Candidates: c.Candidates, Taken: len(c.Taken), Worth: c.Worth, Bound: c.Bound}, err
}
