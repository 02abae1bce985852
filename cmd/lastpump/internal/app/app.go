// Package app holds what every command stands on: an [App], which is one run of the program, what it
// reads ([Read]) and what it says meanwhile ([Progress]), flags with a value ([ReadFlags]), and the
// error of who has called it wrongly ([Misuse]).
package app

import (
	"io"

	"lastpump/cmd/lastpump/internal/words/units"
)

// The exit codes, a contract with scripts.
const (
	ExitHolds  = 0 // the plan holds
	ExitFails  = 1 // a plan was made, but something in it fails
	ExitNoPlan = 2 // nothing could be planned: flags, files
)

// An App is one run of the program: where it reads and writes, and with which
// code it ends.
type App struct {
	Stdin          io.Reader
	Stdout, Stderr io.Writer
	Exit           int          // ExitHolds unless a command says otherwise
	Units          units.System // of what it prints
	Progress       Progress

	// Through is what goes between a file, or standard input, and who reads it; nil for nothing.
	Through func(name string, r io.Reader) (io.Reader, error)
}
