package stop

import (
	"fmt"
	"slices"
	"strings"

	"lastpump/route/input"

	"lastpump/octane"
	"lastpump/route/gpxfile"
)

// fuelWords tell in a waypoint's type or symbol that fuel is sold.
var fuelWords = []string{"fuel", "gas", "petrol", "gasoline", "gas station", "petrol station", "filling station",
	"fuel station", "benzin", "tankstelle", "essence", "carburant"}

// FromWaypoints picks the fuel stops from the waypoints of a GPX file: those
// whose type or symbol says so in words, and those with a line of grades. What a
// stop list has in columns stands in the description or the comment as lines of
// "key: value"; other lines are the note. A line of "name:" names the stop in place of
// the waypoint; that is how [Stop.Desc] writes one, with values in quotes where they
// need it and lines of "Plan:", which are not read. Marks of a plan (see [MarkType]) are
// no stops, whatever they say. The notes say what was guessed. The error joins up to ten
// [*input.Error].
func FromWaypoints(points []gpxfile.Waypoint, posted octane.Scale) (stops []Stop, notes []string, err error) {
	var out []Stop
	var faults []error
	for _, w := range points {
		if strings.EqualFold(strings.TrimSpace(w.Type), MarkType) {
			continue
		}
		lines := keyLines(w)
		if !saysFuel(w) && !hasGrades(lines) {
			continue
		}
		s, guesses, err := fromWaypoint(w, lines, posted)
		if err != nil {
			fault := input.Wrap(fmt.Sprintf("waypoint %q: ", w.Name), err)
			fault.File, fault.Line, fault.Col = w.File, w.Line, w.Col
			faults = append(faults, fault)
			continue
		}
		out = append(out, s)
		for _, g := range guesses {
			what := fmt.Sprintf("waypoint %q: %s", w.Name, g)
			notes = append(notes, (&input.Error{File: w.File, Line: w.Line, Col: w.Col, What: what}).Error())
		}
	}
	return out, notes, input.JoinFaults(faults)
}

// Planned tells whether a plan has written the lines of a waypoint, with [Stop.Desc].
func Planned(w gpxfile.Waypoint) bool {
	lines := keyLines(w)
	return slices.ContainsFunc(lines, func(l keyLine) bool { return l.key == nameKey }) &&
		slices.ContainsFunc(lines, func(l keyLine) bool { return l.key == "" && strings.HasPrefix(l.value, planned) })
}

// saysFuel looks for whole words: "Gas Station" is one, "Las Vegas" is not.
func saysFuel(w gpxfile.Waypoint) bool {
	for _, s := range []string{w.Type, w.Sym} {
		words := strings.FieldsFunc(strings.ToLower(s), func(r rune) bool { return !letter(r) })
		for _, f := range fuelWords {
			for i := range words {
				if want := strings.Fields(f); len(words)-i >= len(want) && slices.Equal(words[i:i+len(want)], want) {
					return true
				}
			}
		}
	}
	return false
}

func letter(r rune) bool { return r >= 'a' && r <= 'z' || r > 127 }

type keyLine struct{ key, value string }

// keyLines splits description and comment; a line without a known key has key "".
// What the comment only says again is left out.
func keyLines(w gpxfile.Waypoint) []keyLine {
	said := splitLines(w.Desc)
	again := func(l keyLine) bool { return slices.Contains(said, l) }
	return append(said, slices.DeleteFunc(splitLines(w.Cmt), again)...)
}

func splitLines(text string) []keyLine {
	var out []keyLine
	for line := range strings.FieldsFuncSeq(text, func(r rune) bool { return r == '\n' || r == '\r' }) {
		key, value, found := strings.Cut(line, ":")
		key = strings.ToLower(strings.TrimSpace(key))
		if !found || key != nameKey && !slices.Contains(keys[3:], key) {
			key, value = "", line
		}
		if value = strings.TrimSpace(value); value != "" || key != "" {
			out = append(out, keyLine{key, value})
		}
	}
	return out
}

func hasGrades(lines []keyLine) bool {
	return slices.ContainsFunc(lines, func(l keyLine) bool { return l.key == "grades" })
}

func fromWaypoint(w gpxfile.Waypoint, lines []keyLine, posted octane.Scale) (s Stop, guesses []string, err error) {
	s = Stop{Name: input.OneLine(w.Name), At: w.Point.Point, Standing: Map}
	if lines, err = s.named(lines); err != nil {
		return s, nil, err
	}
	if s.Name == "" {
		return s, nil, &input.Error{What: "a fuel stop without a name", Hint: hintName}
	}
	var notes []string
	for _, l := range lines {
		switch {
		case l.key == "" || l.key == "note":
			notes = append(notes, l.value)
		default:
			guess, err := s.set(l.key, l.value, posted)
			if err != nil {
				return s, nil, fmt.Errorf("%s: %w", l.key, err)
			}
			if guess != "" {
				guesses = append(guesses, l.key+": "+guess)
			}
		}
	}
	s.Note = strings.Join(notes, "; ")
	return s, guesses, nil
}
