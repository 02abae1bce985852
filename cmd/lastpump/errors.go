package main

import (
	"errors"
	"fmt"
	"io"
	"strings"
)

// printError prints each fault on a line of its own, as file:line:col: what, and
// under it what to do next. A hint that several faults share stands once, under
// the last of them.
func printError(w io.Writer, err error) {
	faults := flatten(err)
	for i, f := range faults {
		fmt.Fprintln(w, f)
		if hint := hintOf(f); hint != "" && (i+1 == len(faults) || hintOf(faults[i+1]) != hint) {
			fmt.Fprintln(w, "hint:", hint)
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

func hintOf(err error) string {
	var hinted interface{ HintText() string }
	if errors.As(err, &hinted) {
		return hinted.HintText()
	}
	return ""
}

// A usageError is a wrong flag or argument.
type usageError struct{ what, hint string }

func (e *usageError) Error() string    { return e.what }
func (e *usageError) HintText() string { return e.hint }

// flagError says which flag an error is about.
func flagError(flag string, err error) error {
	return &usageError{"--" + flag + ": " + err.Error(), hintOf(err)}
}

// usage turns what the flag library says into an error with a hint.
func usage(command string, err error) error {
	return &usageError{strings.TrimSpace(err.Error()), "see " + command + " --help"}
}
