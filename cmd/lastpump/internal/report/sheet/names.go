package sheet

import (
	"strings"
	"unicode"
)

// longestName is how many letters of a name stand on a sheet.
const longestName = 100

// Visible gives a name as it stands on a sheet: without what has no shape, white space as
// single blanks, and not longer than a name is.
func Visible(name string) string {
	clean := strings.Map(func(r rune) rune {
		if unicode.IsControl(r) {
			return ' '
		}
		return r
	}, strings.ToValidUTF8(name, string(unicode.ReplacementChar)))
	letters := []rune(strings.Join(strings.Fields(clean), " "))
	if len(letters) > longestName {
		return string(letters[:longestName]) + "…"
	}
	return string(letters)
}

// Hours gives opening hours with room to wrap; a question mark where they are not known.
func Hours(hours string) string {
	if hours == "" {
		return "?"
	}
	return strings.ReplaceAll(strings.ReplaceAll(hours, ", ", ","), ",", ", ")
}
