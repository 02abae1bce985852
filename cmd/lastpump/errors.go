package main

import (
	"errors"
	"fmt"
	"io"
	"strings"

	"lastpump/cmd/lastpump/internal/app"
	"lastpump/cmd/lastpump/internal/report/sheet"
	"lastpump/cmd/lastpump/internal/words/refused"
	"lastpump/cmd/lastpump/internal/words/units"
	"lastpump/route/input"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"
)

// printError prints each fault on a line of its own, as file:line:col: what, and
// under it what to do next. A hint that several faults share stands once, under
// the last of them. File names and flags in it are as somebody has typed them: they are
// cleaned here.
func printError(w io.Writer, err error, u units.System) {
	faults := flatten(err)
	for i, f := range faults {
		fmt.Fprintln(w, sheet.Isolated(input.OneLine(refused.Fault(f, u))))
		if hint := refused.Hint(f, u); hint != "" && (i+1 == len(faults) || refused.Hint(faults[i+1], u) != hint) {
			fmt.Fprintln(w, "hint:", sheet.Isolated(input.OneLine(hint)))
		}
	}
}

// flatten takes joined errors apart.
func flatten(err error) []error {
	joined, ok := err.(interface{ Unwrap() []error })
	if !ok {
		return []error{err}
	}
	var out []error
	for _, e := range joined.Unwrap() {
		out = append(out, flatten(e)...)
	}
	return out
}

// usage turns what the flag library says into an error with a hint, which names the flag that
// is likely meant.
func usage(c *cobra.Command, err error) error {
	hint := "see " + c.CommandPath() + " --help"
	var unknown *pflag.NotExistError
	if errors.As(err, &unknown) {
		var flags []string
		c.Flags().VisitAll(func(f *pflag.Flag) { flags = append(flags, f.Name) })
		if near := input.Nearest(unknown.GetSpecifiedName(), flags); near != "" {
			hint = fmt.Sprintf("did you mean --%s? %s", near, hint)
		}
	}
	return app.Misuse(strings.TrimSpace(err.Error()), hint)
}
