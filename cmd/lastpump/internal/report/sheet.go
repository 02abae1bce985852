package report

import (
	"bufio"
	"io"
)

// A sheet is what a report is laid on: text for a terminal, or the sections of a page.
type sheet interface {
	head(text string)       // begins a section
	line(lead, text string) // a paragraph behind its lead
	verbatim(text string)   // one that is not to be wrapped
	gap()                   // some room
	table(columns []column, rows [][]string)
	flush() error
}

// A textSheet is a sheet of plain text.
type textSheet struct {
	w   *bufio.Writer
	err error // of a table; the writer keeps its own
}

func newTextSheet(w io.Writer) *textSheet { return &textSheet{w: bufio.NewWriter(w)} }

func (s *textSheet) head(text string)       { s.w.WriteString("\n" + wrap("", text)) }
func (s *textSheet) line(lead, text string) { s.w.WriteString(wrap(lead, text)) }
func (s *textSheet) verbatim(text string)   { s.w.WriteString(text + "\n") }
func (s *textSheet) gap()                   { s.w.WriteString("\n") }

func (s *textSheet) table(columns []column, rows [][]string) {
	if err := table(s.w, columns, rows); err != nil && s.err == nil {
		s.err = err
	}
}

func (s *textSheet) flush() error {
	if s.err != nil {
		return s.err
	}
	return s.w.Flush()
}
