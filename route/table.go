package route

import (
	"bufio"
	"bytes"
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"math"
	"slices"
	"strconv"
	"strings"
	"unicode/utf8"

	"golang.org/x/text/encoding/unicode"
)

// A Table reads a CSV file (RFC 4180) with a header row, whose columns may come
// in any order. Semicolons between the columns, as some spreadsheets write them,
// are understood where the header has no comma.
type Table struct {
	name    string
	r       *csv.Reader
	columns map[string]int
	width   int // fields of the header
	row     []string
	faults  []error
	broken  bool
}

// NewTable reads the header. The first needed of the columns must be there;
// unknown ones are an error, because a misspelt column would be overlooked in
// silence. The error is an [*InputError].
func NewTable(r io.Reader, name string, columns []string, needed int) (*Table, error) {
	buf := decoded(r)
	t := &Table{name: name, r: csv.NewReader(buf), columns: map[string]int{}}
	t.r.FieldsPerRecord = -1
	t.r.TrimLeadingSpace = true
	if start, _ := buf.Peek(buf.Size()); semicolons(start) {
		t.r.Comma = ';'
	}
	header, err := t.r.Read()
	hint := "the first row names the columns: " + strings.Join(columns, ",")
	if errors.Is(err, io.EOF) {
		return nil, &InputError{name, 1, 1, "empty file", hint}
	}
	if err != nil {
		return nil, t.csvFault(err)
	}
	t.width = len(header)
	return t, t.readHeader(header, columns, needed, hint)
}

// decoded gives the text as UTF-8: spreadsheets write UTF-16, too, and tell by the
// byte order mark, which is left out.
func decoded(r io.Reader) *bufio.Reader {
	buf := bufio.NewReader(r)
	switch mark, _ := buf.Peek(3); {
	case bytes.HasPrefix(mark, []byte("\xef\xbb\xbf")):
		buf.Discard(3) // three bytes are there to be discarded
	case bytes.HasPrefix(mark, []byte("\xff\xfe")), bytes.HasPrefix(mark, []byte("\xfe\xff")):
		return bufio.NewReader(unicode.UTF16(unicode.LittleEndian, unicode.ExpectBOM).NewDecoder().Reader(buf))
	}
	return buf
}

func semicolons(start []byte) bool {
	header, _, _ := bytes.Cut(start, []byte("\n"))
	return bytes.IndexByte(header, ',') < 0 && bytes.IndexByte(header, ';') >= 0
}

func (t *Table) readHeader(header, columns []string, needed int, hint string) error {
	for i, written := range header {
		h := strings.ToLower(strings.TrimSpace(written))
		line, col := t.r.FieldPos(i)
		_, twice := t.columns[h]
		switch {
		case h == "":
			continue
		case twice:
			return &InputError{t.name, line, col, fmt.Sprintf("column %q stands twice", h), hint}
		case !utf8.ValidString(written):
			return &InputError{t.name, line, col, "a column name that is not UTF-8", "save the list as CSV in UTF-8"}
		case !slices.Contains(columns, h):
			return &InputError{t.name, line, col, fmt.Sprintf("unknown column %q", h), Nearest(h, columns) + hint}
		}
		t.columns[h] = i
	}
	for _, c := range columns[:needed] {
		if _, ok := t.columns[c]; !ok {
			return &InputError{t.name, 1, 1, fmt.Sprintf("no column %q", c), hint}
		}
	}
	return nil
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
		if i := slices.IndexFunc(row, func(s string) bool { return !utf8.ValidString(s) }); i >= 0 {
			line, col := t.r.FieldPos(i)
			t.faults = append(t.faults, &InputError{t.name, line, col, "a field that is not UTF-8", "save the list as CSV in UTF-8"})
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
	return &InputError{t.name, line, col, "the row has more fields than the header",
		"a field with a comma in it is written in quotes: \"a, b\""}
}

// Faults gives what was wrong with the CSV itself.
func (t *Table) Faults() []error { return t.faults }

// Row gives the line in the file at which the row begins, from 1.
func (t *Table) Row() int {
	line, _ := t.r.FieldPos(0)
	return line
}

// Get gives a field of the row without white space around it; "" where the row
// or the file has no such column.
func (t *Table) Get(column string) string {
	if i, ok := t.columns[column]; ok && i < len(t.row) {
		return strings.TrimSpace(t.row[i])
	}
	return ""
}

// Number reads a field as a decimal number; ok is false for anything else, NaN,
// Inf and hexadecimal among it.
func (t *Table) Number(column string) (v float64, ok bool) {
	s := t.Get(column)
	if strings.ContainsAny(s, "xX_") {
		return 0, false
	}
	v, err := strconv.ParseFloat(s, 64)
	return v, err == nil && !math.IsNaN(v) && !math.IsInf(v, 0)
}

// Fault makes an error at a field of the row.
func (t *Table) Fault(column, what, hint string) error {
	line, col := t.r.FieldPos(0)
	if i, ok := t.columns[column]; ok && i < len(t.row) {
		line, col = t.r.FieldPos(i)
	}
	return &InputError{t.name, line, col, what, hint}
}

func (t *Table) csvFault(err error) error {
	var pe *csv.ParseError
	if errors.As(err, &pe) {
		return &InputError{t.name, max(pe.Line, 1), max(pe.Column, 1), pe.Err.Error(),
			"a field with a comma or a quote in it is written in quotes: \"a, b\""}
	}
	return &InputError{File: t.name, What: err.Error()}
}

// MaxFaults is how many faults of one file are listed.
const MaxFaults = 10

// JoinFaults joins errors, the first ten in words and the rest as a number; nil
// if there are none.
func JoinFaults(faults []error) error {
	if n := len(faults) - MaxFaults; n > 0 {
		faults = append(faults[:MaxFaults:MaxFaults], fmt.Errorf("and %d more", n))
	}
	return errors.Join(faults...)
}

// Nearest gives the start of a hint that names the known word nearest to one
// that is not known, or "" if none is near.
func Nearest(word string, known []string) string {
	best, at := 4, "" // more edits than that is another word
	for _, k := range known {
		if d := edits(strings.ToLower(word), strings.ToLower(k)); d < best && d < len(k) {
			best, at = d, k
		}
	}
	if at == "" {
		return ""
	}
	return fmt.Sprintf("did you mean %q? ", at)
}

// edits is the Levenshtein distance: letters put in, left out or changed.
func edits(a, b string) int {
	row := make([]int, len(b)+1)
	for j := range row {
		row[j] = j
	}
	for i := range len(a) {
		diagonal := row[0]
		row[0] = i + 1
		for j := range len(b) {
			change := diagonal
			if a[i] != b[j] {
				change++
			}
			diagonal = row[j+1]
			row[j+1] = min(change, row[j]+1, diagonal+1)
		}
	}
	return row[len(b)]
}
