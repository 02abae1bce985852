package fills

import (
	"bytes"
	"errors"
	"fmt"
	"slices"
	"strings"
	"time"

	"lastpump/route/input"
)

// Header gives the first row of an empty file with distances and amounts in columns of
// these names, such as trip_km and litres, without an end of line.
func Header(distance, volume string) string {
	return strings.Join([]string{"date", distance, volume, "event", "grade", "from_km", "to_km", "note"}, ",")
}

// A NewRow is a row to be written, as it was typed: distance and amount with their unit;
// "" for what is not known.
type NewRow struct {
	Date             time.Time
	Distance, Amount string
	Event            Event
	Grade            string
	FromKm, ToKm     string
	Note             string
}

// Added says what became of a row that was added.
type Added struct {
	Text  []byte // of the file, with the row
	Row   Row
	Log   *Log      // all rows, with this one
	Above time.Time // the day of the row above it; zero where there is none
}

// Early tells whether the row is dated before the one above it.
func (a Added) Early() bool { return a.Row.Date.Before(a.Above) }

// ErrStands is the cause of an [*input.Error] for a row that stands in the file already.
var ErrStands = errors.New("the row stands in the file already")

// Add adds a row at the end of the text of a file, which stays byte for byte as it is
// before it. The row is checked against those that are there. The error is that of [Read],
// or says what of the row cannot be.
func Add(text []byte, name string, row NewRow) (Added, error) {
	if bytes.HasPrefix(text, []byte("\xff\xfe")) || bytes.HasPrefix(text, []byte("\xfe\xff")) {
		return Added{}, &input.Error{File: name, What: "the file is in UTF-16: nothing can be added at its end",
			Hint: "save it as CSV in UTF-8"}
	}
	before, err := Read(bytes.NewReader(text), name)
	if err != nil {
		return Added{}, err
	}
	in, _, err := open(bytes.NewReader(text), name)
	if err != nil {
		return Added{}, err
	}
	line, err := in.line(row)
	if err != nil {
		return Added{}, err
	}
	all := appended(text, line)
	after, err := Read(bytes.NewReader(all), name)
	if err != nil {
		return Added{}, err
	}
	return Added{Text: all, Row: last(after), Log: after, Above: last(before).Date}, onlyAdded(before, after, name)
}

// line writes a row as the file has its columns.
func (in *reader) line(row NewRow) (string, error) {
	values := map[string]string{"date": row.Date.Format(time.DateOnly)}
	put := func(column, value string) {
		if value != "" {
			values[column] = value
		}
	}
	for _, x := range []struct {
		unit  unit
		typed string
	}{{in.distance, row.Distance}, {in.volume, row.Amount}, {kilometre("from_km"), row.FromKm},
		{kilometre("to_km"), row.ToKm}} {
		bare, err := in.bare(x.unit, x.typed)
		if err != nil {
			return "", err
		}
		put(x.unit.column, bare)
	}
	if row.Event != Full || in.Has("event") {
		put("event", string(row.Event))
	}
	put("grade", row.Grade)
	put("note", row.Note)
	return in.Line(values)
}

// bare gives what was typed without its unit, which has to be that of the column.
func (in *reader) bare(u unit, typed string) (string, error) {
	m := withUnit.FindStringSubmatch(strings.TrimSpace(typed))
	if m == nil {
		return strings.TrimSpace(typed), nil
	}
	if word := strings.ToLower(strings.ReplaceAll(m[2], " ", "")); !slices.Contains(u.words, word) {
		return "", &input.Error{File: in.file, What: fmt.Sprintf("%q is in another unit than the column %s", typed, u.column),
			Hint: "all rows of a file are in one unit"}
	}
	if in.DecimalComma() {
		return strings.ReplaceAll(m[1], ".", ","), nil
	}
	return m[1], nil
}

// appended puts a line behind a text, with its kind of line ends.
func appended(text []byte, line string) []byte {
	end := "\n"
	if bytes.Contains(text, []byte("\r\n")) {
		end = "\r\n"
	}
	all := slices.Clone(text)
	if n := len(all); n > 0 && all[n-1] != '\n' {
		all = append(all, end...)
	}
	return append(append(all, line...), end...)
}

// last gives the row that stands last in the file.
func last(l *Log) Row {
	return slices.MaxFunc(append([]Row{{}}, l.Rows...), func(a, b Row) int { return a.Line - b.Line })
}

// onlyAdded fails unless one log has all the rows of the other and one more.
func onlyAdded(before, after *Log, name string) error {
	if len(after.Rows) == len(before.Rows)+1 {
		lines := map[int]bool{}
		for _, r := range after.Rows {
			lines[r.Line] = true
		}
		if !slices.ContainsFunc(before.Rows, func(r Row) bool { return !lines[r.Line] }) {
			return nil
		}
	}
	if is, was := repeats(after), repeats(before); len(is) > len(was) {
		return &input.Error{File: name, Line: is[len(is)-1].Other, Col: 1, What: "the row stands in the file already",
			Cause: ErrStands}
	}
	return &input.Error{File: name, What: "the row cannot be added: the rows before it would be read otherwise",
		Hint: "look at the end of the file: is there a quote that is not closed?"}
}

func repeats(l *Log) (out []Remark) {
	for _, r := range l.Remarks {
		if r.Kind == Repeated {
			out = append(out, r)
		}
	}
	return out
}
