package main

import "github.com/spf13/cobra"

// commandNames are the commands of the planner in a page.
var commandNames = []string{"plan", "bike", "version"}

// commands makes those commands that a page runs: the linker leaves out what only the others need.
func (a *app) commands() []*cobra.Command {
	return []*cobra.Command{withHelp(a.planCommand(), planHelp), withHelp(a.bikeCommand(), bikeHelp), a.versionCommand()}
}
