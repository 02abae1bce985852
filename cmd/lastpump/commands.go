//go:build !js

package main

import "github.com/spf13/cobra"

// commandNames are the commands in the order in which a rider meets them.
var commandNames = []string{"init", "plan", "compare", "survey", "bike", "grade", "hours", "sun", "fills", "learn", "page", "help", "version", "completion"}

// commands makes the commands.
func (a *app) commands() []*cobra.Command {
	return []*cobra.Command{withHelp(a.initCommand(), initHelp), withHelp(a.planCommand(), planHelp),
		withHelp(a.compareCommand(), compareHelp), withHelp(a.surveyCommand(), surveyHelp), withHelp(a.bikeCommand(), bikeHelp),
		withHelp(a.gradeCommand(), gradeHelp), withHelp(a.hoursCommand(), hoursHelp),
		withHelp(a.sunCommand(), sunHelp),
		withHelp(a.fillsCommand(), fillsHelp), withHelp(a.learnCommand(), learnHelp), withHelp(a.pageCommand(), pageHelp), a.versionCommand()}
}
