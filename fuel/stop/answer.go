package stop

import (
	"slices"
	"strings"
	"time"

	"lastpump/octane"
	"lastpump/route/input"
)

// An Answer is what somebody at a stop says who is asked. [Stop.Answered] puts it into the stop.
type Answer struct {
	Kind   AnswerKind
	Grades []octane.Grade // sold, or not sold; nil where it sells as listed, and where it is dry
	Other  []string       // sold beside them that is no petrol for this engine
}

// An AnswerKind sorts answers.
type AnswerKind string

// The kinds of answers.
const (
	Sells AnswerKind = "sells" // the grades, or as listed
	Lacks AnswerKind = "no"    // it sells, but not the grades
	Dry   AnswerKind = "dry"
)

// dryWord stands among what a dry stop sells: no petrol for any engine. Its grades stay in the
// list, for the day when it has them again.
const dryWord = string(Dry)

// String gives an answer as [ParseAnswer] reads it: "sells", "sells 95 RON; 92 RON", "no 95 RON",
// "dry".
func (a Answer) String() string {
	var what []string
	for _, g := range a.Grades {
		what = append(what, g.String())
	}
	return strings.TrimSuffix(string(a.Kind)+" "+strings.Join(append(what, a.Other...), "; "), " ")
}

const hintAnswer = "write sells, sells 95 RON; 92 RON, no 95 RON, or dry"

// ParseAnswer reads an answer; posted is the scale of a bare number, or "". The error is a
// [*input.ValueError] or that of a grade.
func ParseAnswer(s string, posted octane.Scale) (Answer, error) {
	word, rest, _ := strings.Cut(strings.TrimSpace(s), " ")
	a := Answer{Kind: AnswerKind(strings.ToLower(word))}
	rest = strings.TrimSpace(rest)
	wrong := input.BadValue(s, "is no answer of a stop", hintAnswer)
	if a.Kind != Sells && a.Kind != Lacks && a.Kind != Dry {
		return a, wrong
	}
	if a.Kind == Lacks && slices.Contains(petrolAlone, strings.ToLower(rest)) {
		return Answer{Kind: Dry}, nil
	}
	var err error
	a.Grades, a.Other, _, err = parseGrades(rest, posted)
	switch {
	case err != nil:
		return a, err
	case a.Kind == Sells && !slices.Contains(a.Other, dryWord),
		a.Kind == Dry && rest == "",
		a.Kind == Lacks && len(a.Grades) > 0 && len(a.Other) == 0:
		return a, nil
	}
	return a, wrong
}

// ParseTold reads what a stop has answered, as "Old Mill: sells 95 RON". The name may have colons,
// an answer has none.
func ParseTold(s string, posted octane.Scale) (name string, a Answer, err error) {
	i := strings.LastIndex(s, ":")
	if i < 0 || strings.TrimSpace(s[:i]) == "" {
		return "", a, input.BadValue(s, "does not say which stop has answered what",
			"write the name of the stop, a colon and the answer: Old Mill: sells 95 RON; 92 RON")
	}
	a, err = ParseAnswer(s[i+1:], posted)
	return strings.TrimSpace(s[:i]), a, err
}

// Answered gives the stop as it is after an answer on a day: phoned then, with the grades that it
// has said. Of one that sells but none of what is listed the grade is not known.
func (s Stop) Answered(a Answer, on time.Time) Stop {
	year, month, day := on.Date()
	s.Standing, s.HasConfirmed, s.Confirmed = Phoned, true, time.Date(year, month, day, 0, 0, 0, 0, time.UTC)
	s.Other = slices.DeleteFunc(slices.Clone(s.Other), func(o string) bool { return o == dryWord })
	switch {
	case a.Kind == Dry:
		s.Other = append(s.Other, dryWord)
	case a.Kind == Sells && len(a.Grades)+len(a.Other) > 0:
		s = s.selling(slices.Clone(a.Grades))
		s.Other = slices.Clone(a.Other)
	case a.Kind == Lacks:
		s = s.selling(slices.DeleteFunc(slices.Clone(s.Grades), func(g octane.Grade) bool {
			return slices.Contains(a.Grades, g)
		}))
		if len(s.Grades) == 0 { // it sells petrol, though nobody knows which
			s.Other = nil
		}
	}
	return s
}

// selling gives the stop with other grades. Prices, one for each grade, stay where each of the
// grades has one.
func (s Stop) selling(grades []octane.Grade) Stop {
	if len(s.Prices) > 1 {
		var prices []Price
		for _, g := range grades {
			if p, ok := s.Price(g); ok {
				prices = append(prices, p)
			}
		}
		if s.Prices = prices; len(prices) != len(grades) {
			s.Prices = nil
		}
	}
	s.Grades = grades
	return s
}
