package octane

import (
	"errors"
	"fmt"
	"math"
	"regexp"
	"slices"
	"strconv"
	"strings"
)

// Numbers outside this range are no petrol: the engine tests rate 72 to 103.5
// within their best precision (ASTM D2700) and pumps post 76 to 102 or so.
const (
	minNumber = 60
	maxNumber = 120
)

// ErrNoScale is wrapped by the error for a bare number where nobody has said what the
// pumps post.
var ErrNoScale = errors.New("an octane number without a scale")

// A ParseError says why a text is no grade and how to write one.
type ParseError struct {
	Text  string // as given
	What  string // what is wrong with it
	Hint  string // how to write it
	Cause error  // [ErrNoScale] or nil
}

// Error quotes the text and says what is wrong with it.
func (e *ParseError) Error() string { return fmt.Sprintf("%q %s", e.Text, e.What) }

// HintText says how to write it.
func (e *ParseError) HintText() string { return e.Hint }

// Unwrap gives the cause.
func (e *ParseError) Unwrap() error { return e.Cause }

const howToWrite = `write a grade with its scale: "95 RON", "91 AKI" or "95/85" (RON/MON)`

var (
	plain     = `\d{1,3}(?:\.\d+)?`
	number    = `(` + plain + `)`
	withScale = regexp.MustCompile(`^` + number + `\s*(RON|AKI|\(R\+M\)/2)$`)
	scaleThen = regexp.MustCompile(`^(RON|AKI)\s*` + number + `$`)
	several   = regexp.MustCompile(`^(` + plain + `(?:\s*/\s*` + plain + `)+)\s*(RON|AKI|\(R\+M\)/2)?$`)
	ethanol   = regexp.MustCompile(`^E[\s-]?(?:[0-9]|[12][0-9]|30)$`)
	gost      = regexp.MustCompile(`^(?:AI|АИ)[\s-]*` + number + `$`) // Latin and Cyrillic
	bare      = regexp.MustCompile(`^` + number + `$`)
)

// Parse reads a grade with its scale: "95 RON", "91 AKI", "95/85" (RON/MON, 7 to 12
// apart) or "AI-92", which GOST R 51105 names by the research method and so is 92 RON.
// A bare number is refused, since 91 RON and 91 AKI are different petrols; use
// [ParsePosted] where the scale of the pumps is known. The error is a [*ParseError].
func Parse(s string) (Grade, error) { return ParsePosted(s, "") }

// ParsePosted is [Parse] for pumps known to post the given scale, which a bare
// number then has. With an empty scale it is Parse.
func ParsePosted(s string, posted Scale) (Grade, error) {
	grades, err := ParseGrades(s, posted)
	switch {
	case err != nil:
		return Grade{}, err
	case len(grades) > 1:
		return Grade{}, &ParseError{Text: s, What: "is more than one grade", Hint: "write one of them"}
	}
	return grades[0], nil
}

// ParseGrades reads what a pump may post as one: a grade as [ParsePosted] does, or several
// numbers with one scale, "95/92 RON". Two numbers are two grades if they are under 6
// apart, and RON/MON if they are 7 to 12 apart and have no scale: the sensitivity of
// petrol lies between 8 and 10 or so. What is neither is refused. There is at least one
// grade where there is no error.
func ParseGrades(s string, posted Scale) ([]Grade, error) {
	t := strings.ToUpper(strings.TrimSpace(s))
	m := several.FindStringSubmatch(t)
	if m == nil {
		g, err := parseOne(s, t, posted)
		return []Grade{g}, err
	}
	var numbers []float64
	for _, digits := range strings.Split(m[1], "/") {
		n, err := inRange(s, strings.TrimSpace(digits))
		if err != nil {
			return nil, err
		}
		numbers = append(numbers, n)
	}
	if len(numbers) == 2 && m[2] == "" {
		switch apart := math.Abs(numbers[0] - numbers[1]); {
		case apart >= leastApart && apart <= mostApart:
			return pairOf(s, numbers[0], numbers[1])
		case apart >= gradesApart:
			return nil, &ParseError{Text: s, What: "is neither RON/MON nor two grades", Hint: howToWrite}
		}
	}
	return list(s, numbers, scaleOf(m[2], posted))
}

// By how much two numbers differ that stand together.
const (
	gradesApart = 6 // and more: not two grades
	leastApart  = 7 // RON/MON
	mostApart   = 12
)

func scaleOf(written string, posted Scale) Scale {
	switch written {
	case "":
		return posted
	case "RON":
		return ScaleRON
	}
	return ScaleAKI
}

// list gives numbers of one scale as grades.
func list(s string, numbers []float64, scale Scale) ([]Grade, error) {
	if scale == "" {
		return nil, noScale(s)
	}
	var out []Grade
	for i, n := range numbers {
		if i > 0 && math.Abs(n-numbers[i-1]) >= gradesApart {
			return nil, &ParseError{Text: s, What: "has numbers too far apart to be grades of one pump",
				Hint: `write each with its scale: "95 RON; 80 RON", or RON/MON without one: "95/85"`}
		}
		if g := (Grade{Scale: scale, Number: n}); !slices.Contains(out, g) {
			out = append(out, g)
		}
	}
	return out, nil
}

func noScale(s string) error {
	return &ParseError{Text: s, What: "has no scale: 91 RON and 91 AKI are different petrols",
		Hint: howToWrite, Cause: ErrNoScale}
}

// parseOne reads a grade with one number; t is the text in capitals.
func parseOne(s, t string, posted Scale) (Grade, error) {
	scale, digits := posted, ""
	if m := withScale.FindStringSubmatch(t); m != nil {
		scale, digits = scaleOf(m[2], ""), m[1]
	} else if m := scaleThen.FindStringSubmatch(t); m != nil {
		scale, digits = Scale(m[1]), m[2]
	} else if m := gost.FindStringSubmatch(t); m != nil {
		scale, digits = ScaleRON, m[1]
	} else if m := bare.FindStringSubmatch(t); m != nil {
		digits = m[1]
	}
	switch {
	case ethanol.MatchString(t):
		return Grade{}, &ParseError{Text: s, What: "says how much ethanol is in it, not its octane number",
			Hint: howToWrite}
	case digits == "":
		return Grade{}, &ParseError{Text: s, What: "is not a grade of petrol", Hint: howToWrite}
	case scale == "":
		return Grade{}, noScale(s)
	}
	n, err := inRange(s, digits)
	return Grade{Scale: scale, Number: n}, err
}

func inRange(s, digits string) (float64, error) {
	n, err := strconv.ParseFloat(digits, 64)
	if err != nil || n < minNumber || n > maxNumber {
		return 0, &ParseError{Text: s, Hint: howToWrite,
			What: fmt.Sprintf("is not an octane number (%d to %d)", minNumber, maxNumber)}
	}
	return n, nil
}

func pairOf(s string, research, motor float64) ([]Grade, error) {
	if motor > research {
		return nil, &ParseError{Text: s, What: "has a motor octane number above the research one",
			Hint: "write RON first: 95/85"}
	}
	return []Grade{FromPair(RON(research), MON(motor))}, nil
}
