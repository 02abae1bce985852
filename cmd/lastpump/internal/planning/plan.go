// Package planning has the commands that plan: plan with its reports ([Plan]), several plans beside each other
// ([Compare]), and the planner as a page ([Page]).
package planning

import (
	"context"
	"io"
	"slices"
	"time"

	"lastpump/cmd/lastpump/internal/app"
	"lastpump/cmd/lastpump/internal/output"
	"lastpump/cmd/lastpump/internal/report/text"
	"lastpump/cmd/lastpump/internal/ride"
	"lastpump/cmd/lastpump/internal/words/units"
	"lastpump/fuel/plan"
	"lastpump/fuel/stop"

	"github.com/spf13/cobra"
)

// A run is one run of plan, and what its reports need beside the plan.
type run struct {
	*app.App
	listed  []stop.Stop // the stops that are planned with, answers in them
	carried carried     // what a page with the planner in it is made from
}

// Plan is the command that plans the fuel for a loop.
func Plan(with *app.App) *cobra.Command {
	var f ride.Flags
	a := &run{App: with}
	c := &cobra.Command{
		Use:   "plan LOOP.gpx…",
		Short: "plan the fuel for a loop",
		Args:  app.AFileAtLeast,
		RunE: func(c *cobra.Command, args []string) error {
			if f.Planner {
				a.Through = a.carried.through
				a.carried.say(c.Flags())
			}
			return a.plan(args, f)
		},
	}
	c.Flags().SortFlags = false
	f.Register(c.Flags())
	return c
}

// plan reads what a plan is made from, makes it and writes every report asked
// for: all of them, or none.
func (a *run) plan(gpx []string, f ride.Flags) error {
	if err := checkPlanner(f); err != nil {
		return err
	}
	reports, err := asked(f, a.pageReport(gpx, f), func(w io.Writer, p *plan.Plan, u units.System) error {
		style := text.Style{Units: u, Colour: app.WantsColour(a.Stdout)}
		if f.Full {
			return text.Write(w, p, style)
		}
		return text.WriteFirst(w, p, style)
	}, func(w io.Writer, _ *plan.Plan, _ units.System) error { return stop.WriteCSV(w, a.listed) })
	if err != nil {
		return err
	}
	from := slices.Concat(gpx, f.Stops, f.Bikes, f.Ground, []string{f.Roads, f.BailOuts, f.Land, f.Fills})
	if err := output.KeepFiles(a.Stdout, files(reports), from); err != nil {
		return err
	}
	stopWatch := a.Progress.Watch(a.Stderr, app.IsTerminal(a.Stderr), time.Second, time.Second/5)
	p, err := a.make(gpx, f)
	stopWatch()
	if err != nil {
		return err
	}
	out := output.Outputs{Stdout: a.Stdout}
	for _, r := range reports {
		out.Add(r.File, func(w io.Writer) error { return r.write(w, p, a.Units) })
	}
	if err := out.Write(); err != nil {
		return err
	}
	if !p.Holds() || p.Group != nil && !p.Group.Holds() {
		a.Exit = app.ExitFails
	}
	return nil
}

// make reads the files and makes the plan.
func (a *run) make(gpx []string, f ride.Flags) (*plan.Plan, error) {
	in, bikes, notes, err := ride.Inputs(a.App, gpx, f)
	if err != nil {
		return nil, err
	}
	a.Progress.Begin("planning")
	in.Tell = a.Progress.Tell
	ctx := context.Background()
	p, err := plan.MakeGroup(ctx, in, bikes)
	if err != nil {
		return nil, err
	}
	a.listed = in.Stops
	p.Note(app.OneLines(slices.Concat(notes, ride.DayNotes(p)))...)
	if err := plan.Cures(ctx, p); err != nil {
		return nil, err
	}
	if err := plan.Calls(ctx, p); err != nil {
		return nil, err
	}
	return p, plan.WhatIf(ctx, p)
}
