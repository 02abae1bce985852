// Package report lays a plan out: as text for a terminal, as JSON and as CSV. It
// computes nothing but layout and rounding: litres down where it is fuel there
// is, up where it is fuel that is needed.
package report

import (
	"bytes"
	"fmt"
	"io"
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
}

// A column of a table.
type column struct {
	head  string
	right bool // numbers stand at the right
	max   int  // wraps beyond; 0 for no limit
}

// table sets rows under a heading, without any lines but one under the head.
func table(w io.Writer, columns []column, rows [][]string) error {
	var buf bytes.Buffer
	aligns := make([]tw.Align, len(columns))
	limits := tw.NewMapper[int, int]()
	heads := make([]string, len(columns))
	for i, c := range columns {
		heads[i], aligns[i] = c.head, tw.AlignLeft
		if c.right {
			aligns[i] = tw.AlignRight
		}
		if c.max > 0 {
			limits.Set(i, c.max+gutter)
		}
	}
	padding := tw.CellPadding{Global: tw.Padding{Right: strings.Repeat(" ", gutter), Overwrite: true}}
	align := tw.CellAlignment{PerColumn: aligns}
	t := tablewriter.NewTable(&buf,
		tablewriter.WithRenderer(renderer.NewBlueprint(bare)),
		tablewriter.WithConfig(tablewriter.Config{
			Header: tw.CellConfig{Alignment: align, Padding: padding, Formatting: tw.CellFormatting{AutoFormat: tw.Off}},
			Row: tw.CellConfig{Alignment: align, Padding: padding, ColMaxWidths: tw.CellWidth{PerColumn: limits},
				Formatting: tw.CellFormatting{AutoWrap: tw.WrapNormal}},
		}))
	t.Header(heads)
	if err := t.Bulk(rows); err != nil {
		return err
	}
	if err := t.Render(); err != nil {
		return err
	}
	return trimmed(w, buf.String())
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

// trimmed writes lines without the white space at their ends.
func trimmed(w io.Writer, s string) error {
	for _, line := range strings.Split(strings.TrimRight(s, "\n"), "\n") {
		if _, err := fmt.Fprintln(w, strings.TrimRight(line, " ")); err != nil {
			return err
		}
	}
	return nil
}

// wrap sets text in lines of at most the report's width, the first after a
// lead, the others under its beginning.
func wrap(lead, text string) string {
	indent := runewidth.StringWidth(lead)
	var b strings.Builder
	b.WriteString(lead)
	at := indent
	for i, word := range strings.Fields(text) {
		n := runewidth.StringWidth(word)
		if i > 0 && at+1+n > width {
			b.WriteString("\n" + strings.Repeat(" ", indent))
			at = indent
		} else if i > 0 {
			b.WriteByte(' ')
			at++
		}
		b.WriteString(word)
		at += n
	}
	return b.String() + "\n"
}
