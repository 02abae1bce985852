// Command lastpump plans the fuel for a long off-road loop from a GPX track and a
// list of fuel stops. See the README beside go.mod, or run it with --help.
package main

import (
	"io"
	"os"
	"runtime/debug"

	"lastpump/cmd/lastpump/internal/app"
	"lastpump/cmd/lastpump/internal/lookup"
)

func main() {
	if os.Getenv("GOGC") == "" {
		debug.SetGCPercent(40) // a third less memory for a long ride, in the same time
	}
	os.Exit(run(os.Args[1:], os.Stdin, os.Stdout, os.Stderr))
}

const programName = "lastpump"

// run is the command without the process around it.
func run(args []string, stdin io.Reader, stdout, stderr io.Writer) int {
	a := &app.App{Stdin: stdin, Stdout: stdout, Stderr: stderr}
	root := rootCommand(a)
	root.SetArgs(lookup.PlacesLast(args))
	root.SetIn(stdin)
	root.SetOut(stdout)
	root.SetErr(stderr)
	if err := root.Execute(); err != nil {
		printError(stderr, err, a.Units)
		return app.ExitNoPlan
	}
	return a.Exit
}
