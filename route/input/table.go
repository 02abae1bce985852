package input

import (
	"bufio"
	"bytes"
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"maps"
	"math"
	"slices"
	"strconv"
	"strings"

	"golang.org/x/text/encoding/unicode"
)

// A Table reads a CSV file (RFC 4180) with a header row, whose columns may come
// in any order. Semicolons between the columns, as some spreadsheets write them,
// are understood where the header has no comma; a comma in a number is then the
// decimal one. Text that is not UTF-8 is read as windows-1252, with a note.
type Table struct {
	name    string
	r       *csv.Reader
	letters letters
	columns map[string]int
	width   int // fields of the header
	row     []string
	notes   []string
	faults  []error
	broken  bool
}

// NewTable reads the header. The first needed of the columns must be there. Those
// that are not known are left out, with a note; one that is nearly spelt as a column
// that is missing is an error, because it would be overlooked. The error is an
// [*Error].
func NewTable(r io.Reader, name string, columns []Column, needed int) (*Table, error) {
	return newTable(r, name, columns, needed, 0)
}

// remark begins a line that says something to people, in the files that have such lines.
const remark = '#'

// NewRemarkedTable is [NewTable] for a file in which lines that begin with # are remarks,
// before the header, too.
func NewRemarkedTable(r io.Reader, name string, columns []Column, needed int) (*Table, error) {
	return newTable(r, name, columns, needed, remark)
}

func newTable(r io.Reader, name string, columns []Column, needed int, remark rune) (*Table, error) {
	buf, marked := decoded(r)
	t := &Table{name: name, r: csv.NewReader(buf), letters: letters{utf8: marked}, columns: map[string]int{}}
	t.r.FieldsPerRecord = -1
	t.r.TrimLeadingSpace = true
	t.r.Comment = remark
	start, _ := buf.Peek(buf.Size())
	if t.r.Comma = separator(start, remark); t.r.Comma == '\t' {
		t.r.TrimLeadingSpace = false // it would take a tab for space, and an empty field away
	}
	header, err := t.r.Read()
	if errors.Is(err, io.EOF) {
		return nil, &Error{File: name, Line: 1, Col: 1, What: "empty file", Hint: hintColumns(columns)}
	}
	if err != nil {
		return nil, t.csvFault(err)
	}
	t.width = len(header)
	return t, t.readHeader(header, columns, needed)
}

// decoded gives the text, UTF-16 as UTF-8: spreadsheets write that, too, and tell by the
// byte order mark, which is left out. marked tells whether there was one.
func decoded(r io.Reader) (buf *bufio.Reader, marked bool) {
	buf = bufio.NewReader(r)
	switch mark, _ := buf.Peek(3); {
	case bytes.HasPrefix(mark, []byte("\xef\xbb\xbf")):
		buf.Discard(3) // three bytes are there to be discarded
		return buf, true
	case bytes.HasPrefix(mark, []byte("\xff\xfe")), bytes.HasPrefix(mark, []byte("\xfe\xff")):
		return bufio.NewReader(unicode.UTF16(unicode.LittleEndian, unicode.ExpectBOM).NewDecoder().Reader(buf)), true
	}
	return buf, false
}

// separator gives what stands between the columns of the header: commas, else the semicolons of
// spreadsheets where a comma is in numbers, else the tabs of what is copied out of one.
func separator(start []byte, remark rune) rune {
	header, rest, more := bytes.Cut(start, []byte("\n"))
	for more && (len(bytes.TrimSpace(header)) == 0 || rune(header[0]) == remark) {
		header, rest, more = bytes.Cut(rest, []byte("\n"))
	}
	switch has := func(c byte) bool { return bytes.IndexByte(header, c) >= 0 }; {
	case has(','):
	case has(';'):
		return ';'
	case has('\t'):
		return '\t'
	}
	return ','
}

// Next goes to the next row that is not empty, and tells whether there is one.
// A fault of the CSV itself ends the table and is among [Table.Faults].
func (t *Table) Next() bool {
	for !t.broken {
		row, err := t.r.Read()
		if errors.Is(err, io.EOF) {
			return false
		}
		if err != nil {
			t.faults = append(t.faults, t.csvFault(err))
			t.broken = true
			return false
		}
		if strings.TrimSpace(strings.Join(row, "")) == "" {
			continue
		}
		if i, what := t.letters.read(row); i >= 0 {
			line, col := t.r.FieldPos(i)
			t.faults = append(t.faults,
				&Error{File: t.name, Line: line, Col: col, What: "a field " + what, Hint: hintUTF8})
			continue
		}
		t.row = row
		if len(row) > t.width && strings.TrimSpace(strings.Join(row[t.width:], "")) != "" {
			t.faults = append(t.faults, t.tooMany())
			continue
		}
		return true
	}
	return false
}

// tooMany is the fault of a row with more fields than the header: a comma in a
// field that is not in quotes would shift all that follow it.
func (t *Table) tooMany() error {
	line, col := t.r.FieldPos(t.width)
	return &Error{File: t.name, Line: line, Col: col, What: "the row has more fields than the header",
		Hint: "a field with a comma in it is written in quotes: \"a, b\""}
}

// Faults gives what was wrong with the CSV itself.
func (t *Table) Faults() []error { return t.faults }

// Notes gives what was read otherwise than it is written, or not at all, as far as the
// table is read: whole sentences that begin with the place.
func (t *Table) Notes() []string {
	if t.letters.old {
		old := t.name + ": this is not UTF-8: read as windows-1252; look at the letters with accents"
		return append([]string{old}, t.notes...)
	}
	return t.notes
}

// Note adds what was made of a field of the row.
func (t *Table) Note(column, what string) {
	t.notes = append(t.notes, t.Fault(column, what, "").Error())
}

// Row gives the line in the file at which the row begins, from 1.
func (t *Table) Row() int {
	line, _ := t.r.FieldPos(0)
	return line
}

// Get gives a field of the row, [Clean] and without white space around it; "" where the
// row or the file has no such column.
func (t *Table) Get(column string) string {
	if i, ok := t.columns[column]; ok && i < len(t.row) {
		return strings.TrimSpace(Clean(t.row[i]))
	}
	return ""
}

// Has tells whether the file has a column.
func (t *Table) Has(column string) bool {
	_, ok := t.columns[column]
	return ok
}

// Line gives a row of the file with values in the columns of these names, as the file has
// its columns, without an end of line. The error is an [*Error] for a value that has no
// column.
func (t *Table) Line(values map[string]string) (string, error) {
	row := make([]string, t.width)
	for _, column := range slices.Sorted(maps.Keys(values)) {
		i, ok := t.columns[column]
		if !ok {
			return "", &Error{File: t.name, Line: 1, Col: 1, What: fmt.Sprintf("no column %q", column),
				Hint: "add it to the first row"}
		}
		row[i] = values[column]
	}
	var b strings.Builder
	w := csv.NewWriter(&b)
	w.Comma = t.r.Comma
	w.Write(row) // into memory
	w.Flush()
	return strings.TrimSuffix(b.String(), "\n"), nil
}

// DecimalComma tells whether numbers of the file have one: behind semicolons, while between tabs both
// are read.
func (t *Table) DecimalComma() bool { return t.r.Comma == ';' }

// Pointed gives a field with a decimal point for a decimal comma. A comma between two
// digits is one only where something else stands between the columns.
func (t *Table) Pointed(column string) string {
	s := []byte(t.Get(column))
	for i := 1; i+1 < len(s) && t.r.Comma != ','; i++ {
		if s[i] == ',' && isDigit(s[i-1]) && isDigit(s[i+1]) {
			s[i] = '.'
		}
	}
	return string(s)
}

func isDigit(c byte) bool { return c >= '0' && c <= '9' }

// Number reads a field as [Number] does.
func (t *Table) Number(column string) (v float64, ok bool) { return Number(t.Pointed(column)) }

// Number reads a decimal number; ok is false for anything else, NaN, Inf and
// hexadecimal among it.
func Number(s string) (v float64, ok bool) {
	if strings.ContainsAny(s, "xX_") {
		return 0, false
	}
	v, err := strconv.ParseFloat(s, 64)
	return v, err == nil && !math.IsNaN(v) && !math.IsInf(v, 0)
}

// Fault makes an error at a field of the row.
func (t *Table) Fault(column, what, hint string) error {
	return t.Place(column, &Error{What: what, Hint: hint})
}

// Place gives an error the place of a field of the row.
func (t *Table) Place(column string, e *Error) error {
	e.File = t.name
	e.Line, e.Col = t.r.FieldPos(0)
	if i, ok := t.columns[column]; ok && i < len(t.row) {
		e.Line, e.Col = t.r.FieldPos(i)
	}
	return e
}

func (t *Table) csvFault(err error) error {
	var pe *csv.ParseError
	if errors.As(err, &pe) {
		return &Error{File: t.name, Line: max(pe.Line, 1), Col: max(pe.Column, 1), What: pe.Err.Error(),
			Hint: "a field with a comma or a quote in it is written in quotes: \"a, b\""}
	}
	return &Error{File: t.name, What: err.Error()}
}
