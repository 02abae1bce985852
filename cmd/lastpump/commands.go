//go:build !js

package main

import (
	"lastpump/cmd/lastpump/help"
	"lastpump/cmd/lastpump/internal/app"
	"lastpump/cmd/lastpump/internal/learning"
	"lastpump/cmd/lastpump/internal/lookup"
	"lastpump/cmd/lastpump/internal/planning"
	"lastpump/cmd/lastpump/internal/surveying"

	"github.com/spf13/cobra"
)

// commandNames are the commands in the order in which a rider meets them.
var commandNames = []string{"init", "plan", "compare", "survey", "bike", "grade", "hours", "sun", "fills", "learn", "page", "help", "version", "completion"}

// commands makes the commands.
func commands(a *app.App) []*cobra.Command {
	return []*cobra.Command{withHelp(surveying.Init(a), help.Init), withHelp(planning.Plan(a), help.Plan),
		withHelp(planning.Compare(a), help.Compare), withHelp(surveying.Survey(a), help.Survey),
		withHelp(lookup.Bike(a), help.Bike),
		withHelp(lookup.Grade(a), help.Grade), withHelp(lookup.Hours(a), help.Hours), withHelp(lookup.Sun(a), help.Sun),
		withHelp(learning.Fills(a), help.Fills), withHelp(learning.Learn(a), help.Learn),
		withHelp(planning.Page(a), help.Page), versionCommand(a)}
}
