package main

import (
	"lastpump/cmd/lastpump/help"
	"lastpump/cmd/lastpump/internal/app"
	"lastpump/cmd/lastpump/internal/lookup"
	"lastpump/cmd/lastpump/internal/planning"

	"github.com/spf13/cobra"
)

// commandNames are the commands of the planner in a page.
var commandNames = []string{"plan", "bike", "version"}

// commands makes those commands that a page runs: the linker leaves out what only the others need.
func commands(a *app.App) []*cobra.Command {
	return []*cobra.Command{withHelp(planning.Plan(a), help.Plan), withHelp(lookup.Bike(a), help.Bike), versionCommand(a)}
}
