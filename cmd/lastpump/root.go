package main

import (
	_ "embed"
	"fmt"
	"runtime/debug"
	"strings"

	"lastpump/route/input"

	"github.com/spf13/cobra"
)

//go:embed help/root.txt
var rootHelp string

//go:embed help/plan.txt
var planHelp string

//go:embed help/survey.txt
var surveyHelp string

//go:embed help/init.txt
var initHelp string

//go:embed help/compare.txt
var compareHelp string

//go:embed help/bike.txt
var bikeHelp string

//go:embed help/grade.txt
var gradeHelp string

//go:embed help/fills.txt
var fillsHelp string

//go:embed help/learn.txt
var learnHelp string

//go:embed help/hours.txt
var hoursHelp string

//go:embed help/sun.txt
var sunHelp string

//go:embed help/page.txt
var pageHelp string

//go:embed help/help.txt
var helpHelp string

// rootCommand builds the command line. The help is written by hand: one screen
// for each command.
func (a *app) rootCommand() *cobra.Command {
	root := &cobra.Command{
		Use:           programName,
		SilenceErrors: true,
		SilenceUsage:  true,
		Args: func(_ *cobra.Command, args []string) error {
			if len(args) > 0 {
				return &usageError{fmt.Sprintf("unknown command %q", args[0]),
					input.Suggest(args[0], commandNames) + "the commands are " + strings.Join(commandNames[:len(commandNames)-1], ", ") +
						" and " + commandNames[len(commandNames)-1]}
			}
			return nil
		},
		RunE: func(cmd *cobra.Command, _ []string) error {
			fmt.Fprint(a.stderr, rootHelp)
			return &usageError{"no command given", "start with: lastpump plan LOOP.gpx --stops stops.csv"}
		},
	}
	root.SetFlagErrorFunc(func(c *cobra.Command, err error) error { return usage(c, err) })
	root.AddCommand(a.commands()...)
	root.SetHelpCommand(a.helpCommand(root))
	return withHelp(root, rootHelp)
}

func withHelp(c *cobra.Command, text string) *cobra.Command {
	c.SetHelpFunc(func(cmd *cobra.Command, _ []string) { fmt.Fprint(cmd.OutOrStdout(), text) })
	c.SetUsageFunc(func(cmd *cobra.Command) error {
		_, err := fmt.Fprint(cmd.OutOrStderr(), text)
		return err
	})
	return c
}

func (a *app) versionCommand() *cobra.Command {
	return &cobra.Command{
		Use:   "version",
		Short: "print the version",
		Args:  noArgs,
		RunE: func(*cobra.Command, []string) error {
			v := "unreleased"
			if info, ok := debug.ReadBuildInfo(); ok && info.Main.Version != "" && info.Main.Version != "(devel)" {
				v = info.Main.Version
			}
			fmt.Fprintln(a.stdout, programName, v)
			return nil
		},
	}
}

func noArgs(_ *cobra.Command, args []string) error {
	if len(args) > 0 {
		return &usageError{fmt.Sprintf("unexpected argument %q", args[0]), "see lastpump --help"}
	}
	return nil
}
