package output

import (
	"fmt"
	"io"
	"os"

	"lastpump/cmd/lastpump/internal/app"
)

// A Named file is one that is written to, and the flag that names it.
type Named struct {
	Flag string // without its dashes
	File string // "" for none, "-" for standard output
}

// To is the file that a flag names.
func To(flag, file string) Named { return Named{flag, file} }

// OneFileEach refuses two reports that would take each other's place.
func OneFileEach(all []Named) error {
	at := map[string]string{}
	for _, r := range all {
		name, where := r.File, r.File
		if name == "-" {
			where = "standard output"
		} else {
			name = place(name)
		}
		if first, taken := at[name]; taken {
			return app.Misuse(fmt.Sprintf("--%s and --%s both to %s", first, r.Flag, where),
				fmt.Sprintf("give each a file of its own: --%s %s", r.Flag, usualName[r.Flag]))
		}
		at[name] = r.Flag
	}
	return nil
}

// KeepFiles refuses to write a report over a file that the plan is made from: what the
// plan does not hold of it would be lost. The file that the program prints to is refused,
// too: one of the two texts would be.
func KeepFiles(stdout io.Writer, reports []Named, inputs []string) error {
	for _, r := range reports {
		if IsPrintedTo(stdout, r.File) {
			return app.Misuse(fmt.Sprintf("--%s %s is the file that is printed to", r.Flag, r.File),
				fmt.Sprintf("print it and nothing else with --%s -, or give it another name: --%s %s",
					r.Flag, r.Flag, usualName[r.Flag]))
		}
		there, err := os.Stat(r.File)
		if err != nil {
			continue // nothing is there, or it is standard output
		}
		for _, name := range inputs {
			if info, err := os.Stat(name); err == nil && os.SameFile(there, info) {
				return app.Misuse(fmt.Sprintf("--%s %s would take the place of a file that the plan is made from", r.Flag, r.File),
					fmt.Sprintf("give it another name: --%s %s", r.Flag, usualName[r.Flag]))
			}
		}
	}
	return nil
}

// usualName is the name that a hint proposes for the file of a flag.
var usualName = map[string]string{
	"json": "plan.json", "csv": "plan.csv", "html": "plan.html", "gpx": "plan.gpx",
	"strip": "strip.pdf", "home": "home.html", "map-sheet": "map.pdf", "out": "learnt.toml", "write-stops": "stops-answered.csv",
}
