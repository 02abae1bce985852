package wayout

import (
	"encoding/csv"
	"fmt"
	"io"
	"math"
	"slices"
	"strconv"
	"strings"

	"lastpump/route"
	"lastpump/route/input"

	"github.com/paulmach/orb"
)

// What lists of ways have in common: all that is looked for by road along one line is
// written and read by what stands here.

// WriteRows writes a list, its header first, below a remark that says whose map it is
// made of.
func WriteRows(w io.Writer, rows [][]string, attribution string) error {
	if _, err := fmt.Fprintf(w, "# %s\n", input.OneLine(attribution)); err != nil {
		return err
	}
	return csv.NewWriter(w).WriteAll(rows)
}

// Kilometres writes a length to the metre.
func Kilometres(m route.Metres) string { return strconv.FormatFloat(m.Kilometres(), 'f', 3, 64) }

// Degrees writes a latitude or longitude to a centimetre.
func Degrees(d float64) string { return strconv.FormatFloat(d, 'f', 7, 64) }

// ReadRows reads the rows of a list that has a column "line", and wants all of them to be
// of the line that sum names. read reads one row. The error is that of [Read].
func ReadRows[T any](r io.Reader, name, sum string, columns []input.Column, needed int,
	read func(*input.Table) (T, error)) (rows []T, notes []string, err error) {
	t, err := input.NewRemarkedTable(r, name, columns, needed)
	if err != nil {
		return nil, nil, err
	}
	var faults []error
	line, first := "", 0 // of the first row
	for t.Next() {
		row, err := read(t)
		of := ""
		if err == nil {
			of, err = readLine(t)
		}
		switch {
		case err == nil && line == "":
			line, first = of, t.Row()
		case err == nil && of != line:
			err = t.Fault("line", fmt.Sprintf("the way is of another line than that of row %d", first),
				"two lists in one? survey each line into a folder of its own")
		}
		if err != nil {
			faults = append(faults, err)
			continue
		}
		rows = append(rows, row)
	}
	faults = append(faults, t.Faults()...)
	if len(faults) == 0 && line != "" && line != sum {
		faults = append(faults, &input.Error{File: name, Line: first, Col: 1,
			What: "these ways were looked for along another line",
			Hint: "survey this line anew: kilometres and turn-offs are those of the other", Cause: ErrOtherLine})
	}
	if err := input.JoinFaults(faults); err != nil {
		return nil, t.Notes(), err
	}
	return rows, t.Notes(), nil
}

// readLine reads of which line a row is.
func readLine(t *input.Table) (string, error) {
	line := strings.ToLower(t.Get("line"))
	if len(line) != 64 || strings.Trim(line, "0123456789abcdef") != "" {
		return "", t.Fault("line", "this is not the checksum of a line: 64 digits of 0-9 and a-f", "survey the line anew")
	}
	return line, nil
}

// ReadMarks reads marks. One that is not known may say that the way is shut, and is not
// passed over.
func ReadMarks(t *input.Table, column string) (m Marks, err error) {
	for word := range strings.SplitSeq(t.Get(column), ";") {
		if word = strings.ToLower(strings.TrimSpace(word)); word == "" {
			continue
		}
		i := slices.Index(markNames, word)
		if i < 0 {
			return 0, t.Fault(column, fmt.Sprintf("unknown mark %q", word), "the marks are "+strings.Join(markNames, ", "))
		}
		m |= 1 << i
	}
	return m, nil
}

// Direction reads one of eight directions; "" where the field is empty.
func Direction(t *input.Table, column string) (string, error) {
	toward := strings.ToUpper(t.Get(column))
	if toward != "" && !slices.Contains(compass, toward) {
		return "", t.Fault(column, fmt.Sprintf("unknown direction %q", t.Get(column)), "one of "+strings.Join(compass, ", "))
	}
	return toward, nil
}

// Length reads kilometres, up to [MostKilometres].
func Length(t *input.Table, column string) (route.Metres, error) {
	v, ok := t.Number(column)
	if !ok || v < 0 || v > MostKilometres {
		return 0, t.Fault(column, fmt.Sprintf("%s is %q, not a distance in kilometres", column, t.Get(column)), "write 12.5")
	}
	return route.Kilometres(v), nil
}

// Place reads a place from two columns of degrees.
func Place(t *input.Table, lat, lon string) (p orb.Point, err error) {
	for i, c := range []struct {
		column string
		most   float64
	}{{lon, 180}, {lat, 90}} {
		v, ok := t.Number(c.column)
		if !ok || math.Abs(v) > c.most {
			what := fmt.Sprintf("%s is %q, not degrees from %v to %v", c.column, t.Get(c.column), -c.most, c.most)
			return p, t.Fault(c.column, what, "write 47.123456")
		}
		p[i] = v
	}
	return p, nil
}
