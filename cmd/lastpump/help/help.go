// Package help has what --help prints, a text for each command, the texts of lastpump help, and the
// command that prints them.
package help

import (
	"embed"
	"fmt"
	"io/fs"
	"path"
	"strings"

	"lastpump/cmd/lastpump/internal/app"
	"lastpump/route/input"

	"github.com/spf13/cobra"
)

//go:embed topics/*.txt
var topicFiles embed.FS

// A topic is a text on one part of planning. Its first line is "name: title".
type topic struct{ name, title, text string }

// topics gives the texts in help/topics, by name.
func topics() ([]topic, error) {
	files, err := fs.Glob(topicFiles, "topics/*.txt")
	if err != nil {
		return nil, err
	}
	var all []topic
	for _, f := range files {
		text, err := topicFiles.ReadFile(f)
		if err != nil {
			return nil, err
		}
		name := strings.TrimSuffix(path.Base(f), ".txt")
		first, _, _ := strings.Cut(string(text), "\n")
		all = append(all, topic{name, strings.TrimPrefix(first, name+": "), string(text)})
	}
	return all, nil
}

// Command gives the help of a command, or a text on a topic; of a name that is both, both.
func Command(a *app.App, root *cobra.Command, commands []string) *cobra.Command {
	c := &cobra.Command{
		Use:   "help [TOPIC|COMMAND]",
		Short: "a text on a topic, or the options of a command",
		RunE:  func(_ *cobra.Command, args []string) error { return printHelp(a, root, args, commands) },
	}
	c.ValidArgs = append(c.ValidArgs, commands...)
	if all, err := topics(); err == nil {
		for _, t := range all {
			c.ValidArgs = append(c.ValidArgs, t.name+"\t"+t.title)
		}
	}
	return c
}

func printHelp(a *app.App, root *cobra.Command, args, commands []string) error {
	all, err := topics()
	if err != nil {
		return err
	}
	if len(args) == 0 {
		return listTopics(a, all)
	}
	command, rest, err := root.Find(args)
	isCommand := err == nil && command != root && len(rest) == 0
	if isCommand {
		if err := command.Help(); err != nil {
			return err
		}
	}
	name := topicName(args)
	for _, t := range all {
		if t.name != name {
			continue
		}
		if isCommand {
			fmt.Fprintln(a.Stdout)
		}
		_, err := fmt.Fprint(a.Stdout, t.text)
		return err
	}
	if !isCommand {
		return unknownTopic(strings.Join(args, " "), name, all, commands)
	}
	return nil
}

// listTopics prints what lastpump can do, and the topics.
func listTopics(a *app.App, all []topic) error {
	fmt.Fprint(a.Stdout, Root, "\nTopics, with lastpump help TOPIC:\n")
	for _, t := range all {
		fmt.Fprintf(a.Stdout, "  %-11s%s\n", t.name, t.title)
	}
	return nil
}

// topicName gives the name of a topic as its file has it: "Low grade" is low-grade.
func topicName(args []string) string {
	return strings.ToLower(strings.Join(strings.Fields(strings.Join(args, " ")), "-"))
}

func unknownTopic(typed, name string, all []topic, commands []string) error {
	var names []string
	for _, t := range all {
		names = append(names, t.name)
	}
	return app.Misuse(fmt.Sprintf("no topic and no command is called %q", typed),
		input.Suggest(name, append(names[:len(names):len(names)], commands...))+
			"the topics are "+strings.Join(names, ", ")+"; the commands "+strings.Join(commands, ", "))
}
