package app

import (
	"fmt"

	"lastpump/cmd/lastpump/internal/words/refused"
	"lastpump/cmd/lastpump/internal/words/units"

	"github.com/spf13/cobra"
)

// A usageError is a wrong flag or argument.
type usageError struct{ what, hint string }

func (e *usageError) Error() string    { return e.what }
func (e *usageError) HintText() string { return e.hint }

// Misuse is the error of a wrong flag or argument, with what to write instead.
func Misuse(what, hint string) error { return &usageError{what, hint} }

// FlagError says which flag an error is about.
func FlagError(flag string, err error) error {
	return Misuse("--"+flag+": "+err.Error(), refused.Hint(err, units.Metric))
}

// AFileAtLeast is the rule for arguments of the commands that take GPX files.
func AFileAtLeast(c *cobra.Command, args []string) error {
	if len(args) == 0 {
		return Misuse(c.Name()+" takes a GPX file, or several in the order of the ride", "lastpump "+c.Use)
	}
	return nil
}

// NoArgs is the rule for arguments of the commands that take none.
func NoArgs(_ *cobra.Command, args []string) error {
	if len(args) > 0 {
		return Misuse(fmt.Sprintf("unexpected argument %q", args[0]), "see lastpump --help")
	}
	return nil
}
