package main

import (
	"cmp"
	_ "embed"
	"fmt"

	"lastpump/cmd/lastpump/internal/report/text"
	"lastpump/cmd/lastpump/internal/words/units"
	"lastpump/fuel"
	"lastpump/fuel/plan"

	"github.com/spf13/cobra"
)

//go:embed help/bike.toml
var bikeTemplate string

func (a *app) bikeCommand() *cobra.Command {
	var reserve, system, scale, thirsty string
	c := &cobra.Command{
		Use:   "bike [FILE]",
		Short: "a bike file to fill in, or the ranges of one by ground",
		Args: func(_ *cobra.Command, args []string) error {
			if len(args) > 1 {
				return &usageError{"bike takes one file", "lastpump bike bike.toml"}
			}
			return nil
		},
		RunE: func(_ *cobra.Command, args []string) error {
			if len(args) == 0 {
				fmt.Fprint(a.stdout, bikeTemplate)
				return nil
			}
			posted, err := parseScale(scale)
			if err != nil {
				return err
			}
			b, err := a.bike(args[0], posted)
			if err != nil {
				return err
			}
			thirst, err := parseThirst(cmp.Or(thirsty, "1"))
			if err != nil {
				return flagError("thirst", err)
			}
			return a.ranges(b, reserve, system, thirst)
		},
	}
	c.Flags().StringVar(&reserve, "reserve", "", "")
	c.Flags().StringVar(&system, "units", string(units.Metric), "")
	c.Flags().StringVar(&scale, "pump-scale", "", "")
	c.Flags().StringVar(&thirsty, "thirst", "", "")
	return c
}

// ranges prints what a bike reaches on each ground.
func (a *app) ranges(b fuel.Bike, reserve, system string, thirst float64) error {
	kept := plan.DefaultOptions().Reserve
	if reserve != "" {
		var err error
		if kept, err = parseReserve(reserve); err != nil {
			return flagError("reserve", err)
		}
	}
	u, err := units.Parse(system)
	if err != nil {
		return flagError("units", err)
	}
	if !(thirst >= 0.5 && thirst <= 3) {
		return &usageError{fmt.Sprintf("--thirst: %v is not between 0.5 and 3", thirst), "1 is the bike as measured"}
	}
	return text.WriteRanges(a.stdout, fuel.Ranges(b, kept.Least(b.Usable()), kept.Distance, thirst), b, u)
}
