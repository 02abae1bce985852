package sheet

import (
	"bytes"
	"fmt"
	"io"
	"regexp"
	"strings"

	"github.com/olekukonko/tablewriter"
	"github.com/olekukonko/tablewriter/renderer"
	"github.com/olekukonko/tablewriter/tw"
)

// width is how many columns of letters a sheet of text takes at the most, gutter how many
// stand between two columns of a table.
const (
	width  = 100
	gutter = 2
)

// table sets rows under a heading, without any lines.
func table(w io.Writer, columns []Column, rows [][]string) error {
	var buf bytes.Buffer
	heads, aligns := make([]string, len(columns)), make([]tw.Align, len(columns))
	for i, c := range columns {
		heads[i], aligns[i] = c.head(), tw.AlignLeft
		if c.Right {
			aligns[i] = tw.AlignRight
		}
	}
	cell := tw.CellConfig{
		Alignment:  tw.CellAlignment{PerColumn: aligns},
		Padding:    tw.CellPadding{Global: tw.Padding{Right: strings.Repeat(" ", gutter), Overwrite: true}},
		Formatting: tw.CellFormatting{AutoFormat: tw.Off, AutoWrap: tw.WrapNone},
	}
	t := tablewriter.NewTable(&buf, tablewriter.WithRenderer(renderer.NewBlueprint(bare)),
		tablewriter.WithConfig(tablewriter.Config{Header: cell, Row: cell}))
	t.Header(heads)
	if err := t.Bulk(fitted(columns, rows)); err != nil {
		return err
	}
	if err := t.Render(); err != nil {
		return err
	}
	return trimmed(w, buf.String())
}

// Fits tells whether a table of which no column wraps is no wider than a sheet.
func Fits(columns []Column, rows [][]string) bool {
	total := gutter * (len(columns) - 1)
	for i, c := range columns {
		wide := Width(c.Head)
		for _, r := range rows {
			wide = max(wide, Width(r[i]))
		}
		total += wide
	}
	return total <= width
}

// head gives what stands over a column, in as many lines as it takes where the column may wrap.
func (c Column) head() string {
	if c.Max <= 0 {
		return c.Head
	}
	return strings.Join(lines(c.Head, headWidth(c)), "\n")
}

// headWidth is how wide the head of a column is: no wider than the column may be, but for a
// word that is.
func headWidth(c Column) (wide int) {
	for _, word := range strings.Fields(c.Head) {
		wide = max(wide, Width(word))
	}
	if c.Max <= 0 {
		return Width(c.Head)
	}
	return max(wide, min(Width(c.Head), c.Max))
}

// fitted wraps the cells of the columns that may wrap, so that the table fits the sheet.
// The library wraps so that the lines of a cell are about equally long, and breaks no word
// that is wider than its column: here a line is as full as can be, which takes fewer.
func fitted(columns []Column, rows [][]string) [][]string {
	widths := make([]int, len(columns))
	for i, c := range columns {
		widths[i] = headWidth(c)
		for _, r := range rows {
			widths[i] = max(widths[i], Width(r[i]))
		}
		if c.Max > 0 {
			widths[i] = max(min(widths[i], c.Max), headWidth(c))
		}
	}
	for narrow(columns, widths) {
	}
	out := make([][]string, len(rows))
	for k, r := range rows {
		for i, cell := range r {
			if columns[i].Max > 0 {
				cell = strings.Join(lines(cell, widths[i]), "\n")
			}
			out[k] = append(out[k], cell)
		}
	}
	return out
}

// narrow takes one from the widest column that may wrap, if the table is too
// wide; it tells whether it did.
func narrow(columns []Column, widths []int) bool {
	total, widest := gutter*(len(columns)-1), -1
	for i, c := range columns {
		total += widths[i]
		if c.Max > 0 && (widest < 0 || widths[i] > widths[widest]) {
			widest = i
		}
	}
	if total <= width || widest < 0 || widths[widest] <= 8 {
		return false
	}
	widths[widest]--
	return true
}

// bare is a table with white space for borders.
var bare = tw.Rendition{
	Borders:  tw.BorderNone,
	Symbols:  tw.NewSymbols(tw.StyleNone),
	Settings: tw.Settings{Separators: tw.SeparatorsNone, Lines: tw.LinesNone},
}

// trailing is the white space at the end of a line, perhaps before the code that
// ends a colour there.
var trailing = regexp.MustCompile(" *(\x1b\\[0m)? *$")

// trimmed writes lines without the white space at their ends.
func trimmed(w io.Writer, s string) error {
	for line := range strings.SplitSeq(strings.TrimRight(s, "\n"), "\n") {
		if _, err := fmt.Fprintln(w, trailing.ReplaceAllString(line, "$1")); err != nil {
			return err
		}
	}
	return nil
}
