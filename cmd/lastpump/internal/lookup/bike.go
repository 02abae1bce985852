// Package lookup has the commands that answer one question without a ride: how far a bike reaches ([Bike]), what a
// grade is worth ([Grade]), when a pump is open ([Hours]), and when the sun rises and sets ([Sun]).
package lookup

import (
	"cmp"
	"fmt"

	"lastpump/cmd/lastpump/help"
	"lastpump/cmd/lastpump/internal/app"
	"lastpump/cmd/lastpump/internal/report/text"
	"lastpump/cmd/lastpump/internal/ride"
	"lastpump/cmd/lastpump/internal/typed"
	"lastpump/cmd/lastpump/internal/words/units"
	"lastpump/fuel"
	"lastpump/fuel/plan"

	"github.com/spf13/cobra"
)

// Bike is the command that prints a bike file to fill in, or the ranges of one.
func Bike(a *app.App) *cobra.Command {
	var reserve, system, scale, thirsty string
	c := &cobra.Command{
		Use:   "bike [FILE]",
		Short: "a bike file to fill in, or the ranges of one by ground",
		Args: func(_ *cobra.Command, args []string) error {
			if len(args) > 1 {
				return app.Misuse("bike takes one file", "lastpump bike bike.toml")
			}
			return nil
		},
		RunE: func(_ *cobra.Command, args []string) error {
			if len(args) == 0 {
				fmt.Fprint(a.Stdout, help.BikeTemplate)
				return nil
			}
			posted, err := app.ParseScale(scale)
			if err != nil {
				return err
			}
			b, err := ride.Bike(a, args[0], posted)
			if err != nil {
				return err
			}
			thirst, err := typed.Thirst(cmp.Or(thirsty, "1"))
			if err != nil {
				return app.FlagError("thirst", err)
			}
			return ranges(a, b, reserve, system, thirst)
		},
	}
	c.Flags().StringVar(&reserve, "reserve", "", "")
	c.Flags().StringVar(&system, "units", string(units.Metric), "")
	c.Flags().StringVar(&scale, "pump-scale", "", "")
	c.Flags().StringVar(&thirsty, "thirst", "", "")
	return c
}

// ranges prints what a bike reaches on each ground.
func ranges(a *app.App, b fuel.Bike, reserve, system string, thirst float64) error {
	kept := plan.DefaultOptions().Reserve
	if reserve != "" {
		var err error
		if kept, err = typed.Reserve(reserve); err != nil {
			return app.FlagError("reserve", err)
		}
	}
	u, err := units.Parse(system)
	if err != nil {
		return app.FlagError("units", err)
	}
	if !(thirst >= 0.5 && thirst <= 3) {
		return app.Misuse(fmt.Sprintf("--thirst: %v is not between 0.5 and 3", thirst), "1 is the bike as measured")
	}
	return text.WriteRanges(a.Stdout, fuel.Ranges(b, kept.Least(b.Usable()), kept.Distance, thirst), b, u)
}
