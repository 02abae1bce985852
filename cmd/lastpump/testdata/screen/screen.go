// Package screen prints a plan for tests that may not import what is internal to the command.
package screen

import (
	"fmt"
	"strings"

	"lastpump/cmd/lastpump/internal/report/sheet"
	"lastpump/cmd/lastpump/internal/report/text"
	"lastpump/cmd/lastpump/internal/words/units"
	"lastpump/fuel/plan"
)

// First gives the first screen of a plan in metric, us or uk units, as the command prints it.
func First(p *plan.Plan, in string) (string, error) {
	u, err := units.Parse(in)
	if err != nil {
		return "", err
	}
	var b strings.Builder
	err = text.WriteFirst(&b, p, text.Style{Units: u})
	return b.String(), err
}

// Fits gives an error if a first screen has over 100 columns, or lines that no screen has room
// for: over 55 for up to 14 fills, and two more for each three beyond.
func Fits(screen string, p *plan.Plan) error {
	fills, lines := 0, 0
	for _, v := range p.Visits {
		if v.Fill != nil {
			fills++
		}
	}
	for line := range strings.Lines(screen) {
		lines++
		if n := sheet.Width(strings.TrimSuffix(line, "\n")); n > 100 {
			return fmt.Errorf("%d columns: %s", n, line)
		}
	}
	if most := 55 + 2*((max(0, fills-14)+2)/3); lines > most {
		return fmt.Errorf("%d lines for %d fills, want at most %d:\n%s", lines, fills, most, screen)
	}
	return nil
}
