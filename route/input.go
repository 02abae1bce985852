package route

import "fmt"

// An InputError says where an input file stops making sense, what is wrong
// there and what to do about it. It prints as
//
//	loop.gpx:12:7: trkpt without lat
//
// Every reader of the house (GPX, stops, ground, bike) returns it, alone or
// several joined with [errors.Join].
type InputError struct {
	File      string // "" where the reader does not know it; it is then left out
	Line, Col int    // from 1; Col counts bytes; 0 where the fault has no one place
	What      string // what is wrong, lower case, no full stop
	Hint      string // what to do next; may be empty
}

// Error gives file:line:col: what. A line or column of 0 is left out.
func (e *InputError) Error() string {
	switch {
	case e.File == "":
		return e.What
	case e.Line == 0:
		return fmt.Sprintf("%s: %s", e.File, e.What)
	case e.Col == 0:
		return fmt.Sprintf("%s:%d: %s", e.File, e.Line, e.What)
	}
	return fmt.Sprintf("%s:%d:%d: %s", e.File, e.Line, e.Col, e.What)
}

// HintText gives what to do next, or "".
func (e *InputError) HintText() string { return e.Hint }

// A ValueError says why a text is not the value it should be, and how to write
// it. It has no place; the reader of a file adds one.
type ValueError struct{ Text, What, Hint string }

// BadValue makes a [*ValueError].
func BadValue(text, what, hint string) error { return &ValueError{Text: text, What: what, Hint: hint} }

// Error quotes the text and says what is wrong with it.
func (e *ValueError) Error() string { return fmt.Sprintf("%q %s", e.Text, e.What) }

// HintText says how to write it.
func (e *ValueError) HintText() string { return e.Hint }
