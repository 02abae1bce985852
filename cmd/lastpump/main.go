// Command lastpump plans the fuel for a long off-road loop from a GPX track and a
// list of fuel stops. See the README beside go.mod, or run it with --help.
package main

import (
	"io"
	"os"
	"runtime/debug"

	"lastpump/cmd/lastpump/internal/words/units"
	"lastpump/fuel/stop"
)

func main() {
	if os.Getenv("GOGC") == "" {
		debug.SetGCPercent(40) // a third less memory for a long ride, in the same time
	}
	os.Exit(run(os.Args[1:], os.Stdin, os.Stdout, os.Stderr))
}

// The exit codes, a contract with scripts.
const (
	exitHolds  = 0 // the plan holds
	exitFails  = 1 // a plan was made, but something in it fails
	exitNoPlan = 2 // nothing could be planned: flags, files
)

const programName = "lastpump"

// run is the command without the process around it.
func run(args []string, stdin io.Reader, stdout, stderr io.Writer) int {
	a := &app{stdin: stdin, stdout: stdout, stderr: stderr, exit: exitHolds}
	root := a.rootCommand()
	root.SetArgs(placesLast(args))
	root.SetIn(stdin)
	root.SetOut(stdout)
	root.SetErr(stderr)
	if err := root.Execute(); err != nil {
		printError(stderr, err, a.units)
		return exitNoPlan
	}
	return a.exit
}

// An app is one run of the command: where it reads and writes, and with which
// code it ends.
type app struct {
	stdin          io.Reader
	stdout, stderr io.Writer
	exit           int
	units          units.System // of what it prints
	progress       progress
	listed         []stop.Stop // the stops that are planned with, answers in them
	carried        carried     // what a page with the planner in it is made from
}
