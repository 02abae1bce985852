package main

import (
	_ "embed"
	"fmt"

	"lastpump/cmd/lastpump/internal/report"
	"lastpump/fuel"
	"lastpump/fuel/plan"

	"github.com/spf13/cobra"
)

//go:embed help/bike.toml
var bikeTemplate string

func (a *app) bikeCommand() *cobra.Command {
	var reserve, units, scale string
	var thirst float64
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
			return a.ranges(b, reserve, units, thirst)
		},
	}
	c.Flags().StringVar(&reserve, "reserve", "", "")
	c.Flags().StringVar(&units, "units", string(fuel.Metric), "")
	c.Flags().StringVar(&scale, "pump-scale", "", "")
	c.Flags().Float64Var(&thirst, "thirst", 1, "")
	return c
}

// ranges prints what a bike reaches on each ground.
func (a *app) ranges(b fuel.Bike, reserve, units string, thirst float64) error {
	kept := plan.DefaultOptions().Reserve
	if reserve != "" {
		var err error
		if kept, err = parseReserve(reserve); err != nil {
			return flagError("reserve", err)
		}
	}
	u, err := fuel.ParseUnits(units)
	if err != nil {
		return flagError("units", err)
	}
	if !(thirst >= 0.5 && thirst <= 3) {
		return &usageError{fmt.Sprintf("--thirst: %v is not between 0.5 and 3", thirst), "1 is the bike as measured"}
	}
	return report.WriteRanges(a.stdout, fuel.Ranges(b, kept.Share, kept.Distance, thirst), b, u)
}
