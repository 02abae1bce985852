// Package phrase has pieces of sentences that stand in many: how many of what, all of several, lists. It knows nothing
// of plans.
package phrase

import (
	"fmt"
	"slices"
	"strings"
)

// Count says how many of what: "1 leg", "2 legs".
func Count(n int, what string) string {
	if n == 1 {
		return "1 " + what
	}
	return fmt.Sprintf("%d %ss", n, what)
}

// AllOf says of several that it is all of them: "both legs", "all 3 legs".
func AllOf(n int, what string) string {
	if n == 2 {
		return "both " + what + "s"
	}
	return "all " + Count(n, what)
}

// Listed lists things, with a word before the last.
func Listed(things []string, word string) string {
	if n := len(things); n > 1 {
		return strings.Join(things[:n-1], ", ") + " " + word + " " + things[n-1]
	}
	return strings.Join(things, "")
}

// FirstOf gives the first of very many, and how many more there are.
func FirstOf(things []string) []string {
	const most = 5
	if len(things) <= most+1 { // to say "1 more" takes as long
		return things
	}
	return append(slices.Clone(things[:most-1]), fmt.Sprintf("%s and %d more", things[most-1], len(things)-most))
}

// DayNumber names a day as a rider counts.
func DayNumber(i int) string { return fmt.Sprintf("day %d", i+1) }
