package report

import (
	"fmt"
	"strings"
	"unicode"

	"lastpump/fuel/plan"

	"github.com/paulmach/orb"
)

// longestName is how many letters of a name stand on a sheet.
const longestName = 100

// visible gives a name as it stands on a sheet: without what has no shape, white space as
// single blanks, and not longer than a name is.
func visible(name string) string {
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

// names gives how places are named on paper: with their coordinates where letters of the
// name cannot be printed.
func (w *paper) names(p *plan.Plan) func(string) string {
	at := map[string]string{}
	for _, s := range p.Stops {
		if _, known := at[s.Name]; !known {
			at[s.Name] = " (" + coordinates(s.At) + ")"
		}
	}
	for _, v := range p.Visits {
		if _, known := at[v.Stop.Name]; !known {
			at[v.Stop.Name] = " (" + coordinates(v.Stop.At) + ")"
		}
	}
	return func(name string) string {
		text, whole := w.letters.of(visible(name))
		if !whole {
			text += at[name]
		}
		return text
	}
}

// coordinates gives a place as latitude and longitude in degrees, to 11 m.
func coordinates(at orb.Point) string { return fmt.Sprintf("%.4f, %.4f", at[1], at[0]) }
