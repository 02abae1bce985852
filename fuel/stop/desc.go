package stop

import (
	"fmt"
	"slices"
	"strconv"
	"strings"
	"unicode"

	"lastpump/route/input"
)

// MarkType is the type of a waypoint that a plan has set to mark a place, such as where
// to turn back. None is ever read as a stop.
const MarkType = "plan mark"

// Lines of a waypoint that no list of stops has: the name, and what a plan says.
const (
	nameKey = "name"
	planned = "Plan:"
)

// Desc writes a stop as lines of "key: value" for the description of a waypoint, from
// which [FromWaypoints] reads it again as it is. told are lines for the rider.
func (s Stop) Desc(told ...string) string {
	var b strings.Builder
	line := func(key, value string) {
		if value != "" {
			fmt.Fprintf(&b, "%s: %s\n", key, quoted(value))
		}
	}
	line(nameKey, s.Name)
	for _, t := range told {
		b.WriteString(planned + " " + input.OneLine(t) + "\n")
	}
	for i, value := range s.row()[3:] {
		if keys[3+i] == "grades" && value == "" {
			value = "not known" // by this line a stop is one, whatever is left of type and symbol
		}
		line(keys[3+i], value)
	}
	return strings.TrimSuffix(b.String(), "\n")
}

// quoted puts a value in quotes, with escapes as in Go, if a line would not keep it.
func quoted(value string) string {
	odd := func(r rune) bool { return !unicode.IsPrint(r) || r == unicode.ReplacementChar }
	if strings.ContainsFunc(value, odd) || strings.TrimSpace(value) != value || strings.HasPrefix(value, `"`) {
		return strconv.QuoteToASCII(value)
	}
	return value
}

// named takes the name from among the lines of a waypoint, if one is there. Then a plan
// has written them: its own words are left out, and quotes are taken off.
func (s *Stop) named(lines []keyLine) ([]keyLine, error) {
	i := slices.IndexFunc(lines, func(l keyLine) bool { return l.key == nameKey })
	if i < 0 {
		return lines, nil
	}
	var out []keyLine
	for k, l := range lines {
		if l.key == "" && strings.HasPrefix(l.value, planned) || l.key == nameKey && k != i {
			continue
		}
		if l.key != "" && strings.HasPrefix(l.value, `"`) {
			text, err := strconv.Unquote(l.value)
			if err != nil {
				return nil, fmt.Errorf("%s: %w", l.key, &input.ValueError{Text: l.value, What: "is no text in quotes",
					Hint: `write it without quotes, or as a plan does: "a\nb" for two lines`})
			}
			l.value = strings.TrimSpace(input.Clean(text))
		}
		if k == i {
			s.Name = input.OneLine(l.value)
			continue
		}
		out = append(out, l)
	}
	return out, nil
}
