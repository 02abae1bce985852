package main

import (
	"fmt"
	"runtime/debug"
	"strings"

	"lastpump/cmd/lastpump/help"
	"lastpump/cmd/lastpump/internal/app"
	"lastpump/route/input"

	"github.com/spf13/cobra"
)

// rootCommand builds the command line. The help is written by hand: one screen
// for each command.
func rootCommand(a *app.App) *cobra.Command {
	root := &cobra.Command{
		Use:           programName,
		SilenceErrors: true,
		SilenceUsage:  true,
		Args: func(_ *cobra.Command, args []string) error {
			if len(args) > 0 {
				return app.Misuse(fmt.Sprintf("unknown command %q", args[0]),
					input.Suggest(args[0], commandNames)+"the commands are "+strings.Join(commandNames[:len(commandNames)-1], ", ")+
						" and "+commandNames[len(commandNames)-1])
			}
			return nil
		},
		RunE: func(cmd *cobra.Command, _ []string) error {
			fmt.Fprint(a.Stderr, help.Root)
			return app.Misuse("no command given", "start with: lastpump plan LOOP.gpx --stops stops.csv")
		},
	}
	root.SetFlagErrorFunc(func(c *cobra.Command, err error) error { return usage(c, err) })
	root.AddCommand(commands(a)...)
	root.SetHelpCommand(withHelp(help.Command(a, root, commandNames), help.Help))
	return withHelp(root, help.Root)
}

func withHelp(c *cobra.Command, text string) *cobra.Command {
	c.SetHelpFunc(func(cmd *cobra.Command, _ []string) { fmt.Fprint(cmd.OutOrStdout(), text) })
	c.SetUsageFunc(func(cmd *cobra.Command) error {
		_, err := fmt.Fprint(cmd.OutOrStderr(), text)
		return err
	})
	return c
}

func versionCommand(a *app.App) *cobra.Command {
	return &cobra.Command{
		Use:   "version",
		Short: "print the version",
		Args:  app.NoArgs,
		RunE: func(*cobra.Command, []string) error {
			v := "unreleased"
			if info, ok := debug.ReadBuildInfo(); ok && info.Main.Version != "" && info.Main.Version != "(devel)" {
				v = info.Main.Version
			}
			fmt.Fprintln(a.Stdout, programName, v)
			return nil
		},
	}
}
