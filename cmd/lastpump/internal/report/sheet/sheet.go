// Package sheet is what the reports share: a [Sheet] on which headings, paragraphs and
// tables are laid, [NewText] for one of plain text, the breaking of lines, and how names
// and verdicts look.
package sheet

import (
	"bufio"
	"io"
	"strings"

	"lastpump/fuel/leg"
	"lastpump/octane"
)

// A Sheet is what a report is laid on: text for a terminal, or the sections of a page.
type Sheet interface {
	Head(text string)       // begins a section
	Line(lead, text string) // a paragraph behind its lead
	Gap()                   // some room
	Table(columns []Column, rows [][]string)
}

// A Column of a table.
type Column struct {
	Head  string
	Right bool // numbers stand at the right
	Max   int  // its cells wrap beyond, or sooner where the sheet is full; 0 for never
}

// Number gives a column of numbers.
func Number(head string) Column { return Column{Head: head, Right: true} }

// Words gives a column of words, as wide as they are.
func Words(head string) Column { return Column{Head: head} }

// Wrapped gives a column of words that wraps beyond a width.
func Wrapped(head string, width int) Column { return Column{Head: head, Max: width} }

// A Text is a sheet of plain text.
type Text struct {
	w   *bufio.Writer
	err error // of a table; the writer keeps its own
}

// NewText begins a sheet of plain text, at most 100 columns wide.
func NewText(w io.Writer) *Text { return &Text{w: bufio.NewWriter(w)} }

// Head begins a section.
func (s *Text) Head(text string) { s.Verbatim("\n" + Isolated(wrap("", text))) }

// Line writes a paragraph behind its lead, at most 100 columns wide.
func (s *Text) Line(lead, text string) { s.Verbatim(Isolated(wrap(lead, text))) }

// Gap leaves a line empty.
func (s *Text) Gap() { s.Verbatim("") }

// Verbatim writes a line as it is.
func (s *Text) Verbatim(line string) { s.w.WriteString(line + "\n") }

// Table writes a table, as narrow as its cells and the sheet allow.
func (s *Text) Table(columns []Column, rows [][]string) {
	var text strings.Builder
	err := table(&text, columns, rows)
	s.w.WriteString(Isolated(text.String()))
	if err != nil && s.err == nil {
		s.err = err
	}
}

// Flush writes what is left. The error is the first there was.
func (s *Text) Flush() error {
	if s.err != nil {
		return s.err
	}
	return s.w.Flush()
}

// wrap sets text in lines of at most the sheet's width, the first after a lead, the
// others under its beginning.
func wrap(lead, text string) string {
	indent := Width(lead)
	return lead + strings.Join(lines(text, width-indent), "\n"+strings.Repeat(" ", indent))
}

// How verdicts look, those of all kinds that mean as much alike.
const (
	Good  = "good"
	Doubt = "doubt"
	Bad   = "bad"
)

// Look says how a verdict looks: of a leg, a dry place or a grade.
func Look[V ~string](verdict V) string {
	switch string(verdict) {
	case string(leg.Short), string(leg.Stranded), string(octane.Below):
		return Bad
	case string(leg.Tight), string(leg.Back), string(leg.Off), string(octane.Doubtful), string(octane.NotKnown):
		return Doubt
	}
	return Good
}
