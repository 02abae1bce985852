package page

import (
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"

	"lastpump/cmd/lastpump/internal/report/sheet"
	"lastpump/cmd/lastpump/internal/report/text"
	"lastpump/cmd/lastpump/internal/words/shown"
)

// A section is a part of the page under one heading.
type section struct {
	Name   string // for links to it
	Title  string // "" for none
	Note   string
	Blocks []pageBlock

	Warnings []pageWarning
}

// A pageBlock is a table, or paragraphs of one kind.
type pageBlock struct {
	Table *pageTable
	Lines []pageLine
	List  bool // each line is an item
}

// A pageLine is a paragraph.
type pageLine struct {
	Lead string // a number before it, or ""
	Text []span
}

// A span is text that looks alike.
type span struct {
	Look string // of a verdict; "" for plain text
	Text string
}

// A pageTable is a table with a heading for each column.
type pageTable struct {
	Heads []sheet.Column
	Rows  []pageRow
}

// A pageRow is a row; one that tells of a leg can be found by its number.
type pageRow struct {
	Leg   string
	Cells []pageCell
}

type pageCell struct {
	Right bool
	Head  bool // it says what the row is about
	Short bool // it stays on one line
	Text  []span
}

// A collector gathers what is laid on it into sections.
type collector struct{ sections []section }

// sections lets parts of the report write on a page.
func (t *planned) sections(parts ...func(*text.Report)) []section {
	s := &collector{}
	r := text.On(s, t.p, t.u, marked)
	for _, part := range parts {
		part(r)
	}
	return s.sections
}

// Head begins a section. What stands in brackets behind a heading is a note to it.
func (s *collector) Head(text string) {
	title, note, _ := strings.Cut(text, " (")
	title = strings.ToLower(title)
	first, n := utf8.DecodeRuneInString(title)
	name, _, _ := strings.Cut(title, ":")
	s.sections = append(s.sections, section{
		Title: string(unicode.ToUpper(first)) + title[n:], Note: strings.TrimSuffix(note, ")"),
		Name: strings.ReplaceAll(strings.TrimSuffix(name, "?"), " ", "-"),
	})
}

// open gives the section that is written into.
func (s *collector) open() *section {
	if len(s.sections) == 0 {
		s.Head(shown.SetOut)
	}
	return &s.sections[len(s.sections)-1]
}

func (s *collector) Line(lead, text string) {
	lead = strings.TrimSpace(lead)
	list := lead == "-"
	if list {
		lead = ""
	}
	o := s.open()
	if n := len(o.Blocks); n == 0 || o.Blocks[n-1].Table != nil || o.Blocks[n-1].List != list {
		o.Blocks = append(o.Blocks, pageBlock{List: list})
	}
	b := &o.Blocks[len(o.Blocks)-1]
	b.Lines = append(b.Lines, pageLine{lead, spans(text)})
}

func (s *collector) Gap() {}

// shortCell is how long a text is, in letters, that is not broken in a narrow column.
const shortCell = 14

func (s *collector) Table(columns []sheet.Column, rows [][]string) {
	columns, rows = withoutEmpty(columns, rows)
	t := &pageTable{}
	key, order := arranged(columns)
	for _, i := range order {
		t.Heads = append(t.Heads, columns[i])
	}
	for _, r := range rows {
		var row pageRow
		if columns[0].Head == "#" {
			row.Leg = r[0]
		}
		for _, i := range order {
			short := utf8.RuneCountInString(r[i]) <= shortCell
			row.Cells = append(row.Cells, pageCell{columns[i].Right, i == key, short, spans(r[i])})
		}
		t.Rows = append(t.Rows, row)
	}
	o := s.open()
	o.Blocks = append(o.Blocks, pageBlock{Table: t})
}

// withoutEmpty leaves out a first column that has nothing in it, which only moves a text to the right.
func withoutEmpty(columns []sheet.Column, rows [][]string) ([]sheet.Column, [][]string) {
	if columns[0].Head != "" || slices.ContainsFunc(rows, func(r []string) bool { return r[0] != "" }) {
		return columns, rows
	}
	var rest [][]string
	for _, r := range rows {
		rest = append(rest, r[1:])
	}
	return columns[1:], rest
}

// arranged gives the column that names a row, the first of words, and the order of all:
// a verdict stands right behind the name, where a narrow screen shows it.
func arranged(columns []sheet.Column) (key int, order []int) {
	for key = 0; key < len(columns)-1 && columns[key].Right; key++ {
	}
	for i := range columns {
		order = append(order, i)
	}
	if v := slices.IndexFunc(columns, func(c sheet.Column) bool { return c.Head == "verdict" }); v > key {
		order = slices.Insert(slices.Delete(order, v, v+1), key+1, v)
	}
	return key, order
}

// Marks around a verdict, which a page shows in its own way.
const (
	markOpen  = "\x02"
	markClose = "\x03"
)

// marked puts marks around a verdict.
func marked(verdict string) string { return markOpen + verdict + markClose }

// spans takes a text apart at its marks.
func spans(text string) []span {
	var out []span
	for text != "" {
		before, rest, found := strings.Cut(text, markOpen)
		if before != "" {
			out = append(out, span{Text: before})
		}
		if !found {
			break
		}
		word, after, _ := strings.Cut(rest, markClose)
		out = append(out, span{sheet.Look(word), word})
		text = after
	}
	return out
}
