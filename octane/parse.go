package octane

import (
	"fmt"
	"regexp"
	"strconv"
	"strings"
)

// Numbers outside this range are no petrol: the engine tests rate 72 to 103.5
// within their best precision (ASTM D2700) and pumps post 76 to 102 or so.
const (
	minNumber = 60
	maxNumber = 120
)

// A ParseError says why a text is no grade and how to write one.
type ParseError struct {
	Text string // as given
	What string // what is wrong with it
	Hint string // how to write it
}

// Error quotes the text and says what is wrong with it.
func (e *ParseError) Error() string { return fmt.Sprintf("%q %s", e.Text, e.What) }

// HintText says how to write it.
func (e *ParseError) HintText() string { return e.Hint }

const howToWrite = `write a grade with its scale: "95 RON", "91 AKI" or "95/85" (RON/MON)`

var (
	number    = `(\d{1,3}(?:\.\d+)?)`
	withScale = regexp.MustCompile(`^` + number + `\s*(RON|AKI|\(R\+M\)/2)$`)
	scaleThen = regexp.MustCompile(`^(RON|AKI)\s*` + number + `$`)
	pair      = regexp.MustCompile(`^` + number + `\s*/\s*` + number + `$`)
	gost      = regexp.MustCompile(`^(?:AI|АИ)[\s-]*` + number + `$`) // Latin and Cyrillic
	bare      = regexp.MustCompile(`^` + number + `$`)
)

// Parse reads a grade with its scale: "95 RON", "91 AKI", "95/85" (RON/MON) or
// "AI-92", which GOST R 51105 names by the research method and so is 92 RON.
// A bare number is refused, since 91 RON and 91 AKI are different petrols; use
// [ParsePosted] where the scale of the pumps is known. The error is a [*ParseError].
func Parse(s string) (Grade, error) { return ParsePosted(s, "") }

// ParsePosted is [Parse] for pumps known to post the given scale, which a bare
// number then has. With an empty scale it is Parse.
func ParsePosted(s string, posted Scale) (Grade, error) {
	t := strings.ToUpper(strings.TrimSpace(s))
	if m := pair.FindStringSubmatch(t); m != nil {
		return pairOf(s, m[1], m[2])
	}
	scale, digits := posted, ""
	if m := withScale.FindStringSubmatch(t); m != nil {
		scale, digits = ScaleRON, m[1]
		if m[2] != "RON" {
			scale = ScaleAKI
		}
	} else if m := scaleThen.FindStringSubmatch(t); m != nil {
		scale, digits = Scale(m[1]), m[2]
	} else if m := gost.FindStringSubmatch(t); m != nil {
		scale, digits = ScaleRON, m[1]
	} else if m := bare.FindStringSubmatch(t); m != nil {
		digits = m[1]
	}
	switch {
	case digits == "":
		return Grade{}, &ParseError{s, "is not a grade of petrol", howToWrite}
	case scale == "":
		return Grade{}, &ParseError{s, "has no scale: 91 RON and 91 AKI are different petrols",
			howToWrite + `, or say what the pumps post with --pump-scale RON or AKI`}
	}
	n, err := inRange(s, digits)
	return Grade{Scale: scale, Number: n}, err
}

func inRange(s, digits string) (float64, error) {
	n, err := strconv.ParseFloat(digits, 64)
	if err != nil || n < minNumber || n > maxNumber {
		return 0, &ParseError{s, fmt.Sprintf("is not an octane number (%d to %d)", minNumber, maxNumber), howToWrite}
	}
	return n, nil
}

func pairOf(s, research, motor string) (Grade, error) {
	r, err := inRange(s, research)
	if err != nil {
		return Grade{}, err
	}
	m, err := inRange(s, motor)
	if err != nil {
		return Grade{}, err
	}
	if m > r {
		return Grade{}, &ParseError{s, "has a motor octane number above the research one", "write RON first: 95/85"}
	}
	return FromPair(RON(r), MON(m)), nil
}
