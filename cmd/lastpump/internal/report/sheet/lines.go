package sheet

import (
	"strings"

	"github.com/mattn/go-runewidth"
	"github.com/olekukonko/tablewriter/pkg/twwidth"
)

// Width gives how many columns of a terminal a text takes: escape codes take none.
func Width(s string) int { return twwidth.Width(s) }

// lines breaks text at white space into lines of a width in columns.
func lines(text string, width int) []string {
	out := Lines(strings.Fields(text), float64(width),
		func(s string) float64 { return float64(Width(s)) },
		func(word string) int { return len(runewidth.Truncate(word, width, "")) })
	if len(out) == 0 {
		return []string{""}
	}
	return out
}

// Lines sets words in lines that are as full as can be, of a width as measure gives it. A
// word that is wider is broken, where head says how many bytes of it fit.
func Lines(words []string, width float64, measure func(string) float64, head func(word string) int) []string {
	var out []string
	line := ""
	for _, word := range words {
		if line != "" && measure(line+" "+word) <= width {
			line += " " + word
			continue
		}
		if line != "" {
			out = append(out, line)
		}
		line = word
		for measure(line) > width {
			n := head(line)
			out, line = append(out, line[:n]), line[n:]
		}
	}
	if line != "" {
		out = append(out, line)
	}
	return out
}
