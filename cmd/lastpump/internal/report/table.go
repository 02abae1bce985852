// Package report lays a plan out: as text for a terminal, as JSON and as CSV. It
// computes nothing but layout and rounding: litres down where it is fuel there
// is, up where it is fuel that is needed.
package report

import (
	"bytes"
	"fmt"
	"io"
	"regexp"
	"strings"

	"github.com/mattn/go-runewidth"
	"github.com/olekukonko/tablewriter"
	"github.com/olekukonko/tablewriter/renderer"
	"github.com/olekukonko/tablewriter/tw"
)

// width is how many columns a report takes at the most.
const width = 100

// A Style is how text is set.
type Style struct {
	Colour bool // on a terminal; never the only sign of anything
	Marks  bool // around verdicts, for a page to show them in its own way
}

// A column of a table.
type column struct {
	head  string
	right bool // numbers stand at the right
	max   int  // its cells wrap beyond, or sooner where the page is full; 0 for never
}

// table sets rows under a heading, without any lines.
func table(w io.Writer, columns []column, rows [][]string) error {
	var buf bytes.Buffer
	heads, aligns := make([]string, len(columns)), make([]tw.Align, len(columns))
	for i, c := range columns {
		heads[i], aligns[i] = c.head, tw.AlignLeft
		if c.right {
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

// fitted wraps the cells of the columns that may wrap, so that the table fits
// the page.
func fitted(columns []column, rows [][]string) [][]string {
	widths := make([]int, len(columns))
	for i, c := range columns {
		widths[i] = columnWidth(c.head)
		for _, r := range rows {
			widths[i] = max(widths[i], columnWidth(r[i]))
		}
		if c.max > 0 {
			widths[i] = max(min(widths[i], c.max), columnWidth(c.head))
		}
	}
	for narrow(columns, widths) {
	}
	out := make([][]string, len(rows))
	for k, r := range rows {
		for i, cell := range r {
			if columns[i].max > 0 {
				cell = strings.Join(lines(cell, widths[i]), "\n")
			}
			out[k] = append(out[k], cell)
		}
	}
	return out
}

// narrow takes one from the widest column that may wrap, if the table is too
// wide; it tells whether it did.
func narrow(columns []column, widths []int) bool {
	total, widest := gutter*(len(columns)-1), -1
	for i, c := range columns {
		total += widths[i]
		if c.max > 0 && (widest < 0 || widths[i] > widths[widest]) {
			widest = i
		}
	}
	if total <= width || widest < 0 || widths[widest] <= 8 {
		return false
	}
	widths[widest]--
	return true
}

// colours are the escape codes of a terminal, which take no room.
var colours = regexp.MustCompile("\x1b\\[[0-9;]*m")

func columnWidth(s string) int { return runewidth.StringWidth(colours.ReplaceAllString(s, "")) }

// lines breaks text at white space into lines of a width; a word that is wider
// is broken.
func lines(text string, width int) []string {
	out, at := []string{""}, 0
	for _, word := range strings.Fields(text) {
		n := columnWidth(word)
		if at > 0 && at+1+n > width {
			out, at = append(out, ""), 0
		} else if at > 0 {
			out[len(out)-1] += " "
			at++
		}
		for n > width {
			part := runewidth.Truncate(word, width, "")
			out[len(out)-1] += part
			word = strings.TrimPrefix(word, part)
			out, at, n = append(out, ""), 0, columnWidth(word)
		}
		out[len(out)-1] += word
		at += n
	}
	return out
}

const gutter = 2

// bare is a table with white space for borders.
var bare = tw.Rendition{
	Borders: tw.Border{Left: tw.Off, Right: tw.Off, Top: tw.Off, Bottom: tw.Off, Overwrite: true},
	Symbols: tw.NewSymbols(tw.StyleASCII),
	Settings: tw.Settings{
		Separators: tw.Separators{ShowHeader: tw.Off, ShowFooter: tw.Off, BetweenRows: tw.Off, BetweenColumns: tw.Off},
		Lines:      tw.Lines{ShowTop: tw.Off, ShowBottom: tw.Off, ShowHeaderLine: tw.Off, ShowFooterLine: tw.Off},
	},
}

// trailing is the white space at the end of a line, perhaps before the code that
// ends a colour there.
var trailing = regexp.MustCompile(" *(\x1b\\[0m)? *$")

// trimmed writes lines without the white space at their ends.
func trimmed(w io.Writer, s string) error {
	for _, line := range strings.Split(strings.TrimRight(s, "\n"), "\n") {
		if _, err := fmt.Fprintln(w, trailing.ReplaceAllString(line, "$1")); err != nil {
			return err
		}
	}
	return nil
}

// wrap sets text in lines of at most the report's width, the first after a
// lead, the others under its beginning.
func wrap(lead, text string) string {
	indent := columnWidth(lead)
	return lead + strings.Join(lines(text, width-indent), "\n"+strings.Repeat(" ", indent)) + "\n"
}
