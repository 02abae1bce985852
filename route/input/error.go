// Package input holds what every reader of a file needs: tables with a header
// ([Table]), errors with their place ([Error]) and hints for misspelt words
// ([Suggest]).
package input

import (
	"errors"
	"fmt"
)

// An Error says where an input file stops making sense, what is wrong
// there and what to do about it. It prints as
//
//	loop.gpx:12:7: trkpt without lat
//
// Every reader of the house (GPX, stops, ground, bike) returns it, alone or
// several joined with [errors.Join].
type Error struct {
	File      string // "" where the reader does not know it; it is then left out
	Line, Col int    // from 1; Col counts bytes; 0 where the fault has no one place
	What      string // what is wrong, lower case, no full stop
	Hint      string // what to do next, with no word about how a program is called; may be empty
	Cause     error  // what a caller may branch on, or say more about; may be nil
}

// Error gives file:line:col: what. A line or column of 0 is left out.
func (e *Error) Error() string {
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

// Unwrap gives the cause.
func (e *Error) Unwrap() error { return e.Cause }

// HintText gives what to do next, or "".
func (e *Error) HintText() string { return e.Hint }

// Wrap makes an error of a file of what is wrong with a value: its text, the hint that
// it brings along, and itself as the cause. before is put before the text.
func Wrap(before string, err error) *Error {
	e := &Error{What: before + err.Error(), Cause: err}
	var hinted interface{ HintText() string }
	if errors.As(err, &hinted) {
		e.Hint = hinted.HintText()
	}
	return e
}

// A ValueError says why a text is not the value it should be, and how to write
// it. It has no place; the reader of a file adds one.
type ValueError struct{ Text, What, Hint string }

// BadValue makes a [*ValueError].
func BadValue(text, what, hint string) error { return &ValueError{Text: text, What: what, Hint: hint} }

// Error quotes the text and says what is wrong with it.
func (e *ValueError) Error() string { return fmt.Sprintf("%q %s", e.Text, e.What) }

// HintText says how to write it.
func (e *ValueError) HintText() string { return e.Hint }
