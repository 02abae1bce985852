package input

import (
	"fmt"
	"strings"
	"unicode"
	"unicode/utf8"

	"golang.org/x/text/unicode/norm"
)

// A Column is one that a table may have.
type Column struct {
	Name  string
	Words []string // other words for it, in any language, as [plain] gives them
}

// hintColumns names all columns that there may be.
func hintColumns(columns []Column) string {
	names := make([]string, len(columns))
	for i, c := range columns {
		names[i] = c.Name
	}
	return "the first row names the columns: " + strings.Join(names, ",")
}

// plain gives a word as it is compared: in lower case, without accents, and with one
// space for all that is neither a letter nor a digit.
func plain(s string) string {
	var b strings.Builder
	for _, r := range norm.NFD.String(strings.ToLower(s)) {
		switch {
		case unicode.Is(unicode.Mn, r):
		case unicode.IsLetter(r), unicode.IsDigit(r):
			b.WriteRune(r)
		default:
			b.WriteByte(' ')
		}
	}
	return strings.Join(strings.Fields(b.String()), " ")
}

// A header is the first row of a table being read.
type header struct {
	table   *Table
	columns []Column
	written []string
	foreign []int          // fields that are no column of ours
	called  map[string]int // columns that are there by another word, and where
}

// readHeader finds the columns: by their names first, then by other words for them. It
// notes by which, and which are not used.
func (t *Table) readHeader(written []string, columns []Column, needed int) error {
	if i, what := t.letters.read(written); i >= 0 {
		return t.ofHeader(i, "a column name "+what, hintUTF8)
	}
	h := &header{table: t, columns: columns, written: written, called: map[string]int{}}
	if err := h.find(); err != nil {
		return err
	}
	for _, i := range h.foreign {
		if near := h.misspelt(plain(written[i]), needed); near != "" {
			return h.unknown(i, near)
		}
	}
	for _, c := range columns[:needed] {
		if _, ok := t.columns[c.Name]; !ok {
			return &Error{File: t.name, Line: 1, Col: 1,
				What: fmt.Sprintf("no column %q", c.Name), Hint: hintColumns(columns)}
		}
	}
	h.note()
	return nil
}

func (t *Table) ofHeader(field int, what, hint string) *Error {
	e := &Error{File: t.name, What: what, Hint: hint}
	e.Line, e.Col = t.r.FieldPos(field)
	return e
}

// find gives each field of the header its column.
func (h *header) find() error {
	var rest []int
	for i, written := range h.written {
		switch name := h.named(plain(written)); {
		case strings.TrimSpace(written) == "":
		case name == "":
			rest = append(rest, i)
		default:
			if _, twice := h.table.columns[name]; twice {
				return h.twice(i, name)
			}
			h.table.columns[name] = i
		}
	}
	for _, i := range rest {
		name := h.meant(plain(h.written[i]))
		_, there := h.table.columns[name]
		_, called := h.called[name]
		switch {
		case called:
			return h.twice(i, name)
		case name == "" || there:
			h.foreign = append(h.foreign, i)
		default:
			h.table.columns[name], h.called[name] = i, i
		}
	}
	return nil
}

func (h *header) named(word string) string {
	for _, c := range h.columns {
		if word != "" && plain(c.Name) == word {
			return c.Name
		}
	}
	return ""
}

// meant gives the column that a word of another language stands for, or "".
func (h *header) meant(word string) string {
	for _, c := range h.columns {
		for _, w := range c.Words {
			if w == word {
				return c.Name
			}
		}
	}
	return ""
}

func (h *header) twice(field int, name string) error {
	what := fmt.Sprintf("column %q stands twice", name)
	if first, ok := h.called[name]; ok {
		what = fmt.Sprintf("both %q and %q stand for the column %q", strings.TrimSpace(h.written[first]),
			strings.TrimSpace(h.written[field]), name)
	}
	return h.table.ofHeader(field, what, hintColumns(h.columns))
}

// misspelt gives the word that a column which is not there is nearly spelt as, or "". Of
// one that is needed a farther one may be meant.
func (h *header) misspelt(word string, needed int) string {
	for i, c := range h.columns {
		if _, there := h.table.columns[c.Name]; there {
			continue
		}
		if i < needed && Suggest(word, []string{plain(c.Name)}) != "" {
			return c.Name
		}
		for _, w := range append([]string{c.Name}, c.Words...) {
			if Misspelt(word, plain(w)) {
				return w
			}
		}
	}
	return ""
}

func (h *header) unknown(field int, near string) error {
	written := strings.ToLower(strings.TrimSpace(h.written[field]))
	return h.table.ofHeader(field, fmt.Sprintf("unknown column %q", written),
		fmt.Sprintf("did you mean %q? %s", near, hintColumns(h.columns)))
}

// note says what was made of the header.
func (h *header) note() {
	var as, unused []string
	for _, c := range h.columns {
		if i, ok := h.called[c.Name]; ok {
			as = append(as, fmt.Sprintf("%q as %s", strings.TrimSpace(h.written[i]), c.Name))
		}
	}
	for _, i := range h.foreign {
		unused = append(unused, shortly(h.written[i]))
	}
	if len(as) > 0 {
		h.say("read " + strings.Join(as, ", "))
	}
	if len(unused) > 0 {
		h.say("columns that are not used: " + strings.Join(unused, ", "))
	}
}

func (h *header) say(what string) {
	h.table.notes = append(h.table.notes, h.table.ofHeader(0, what, "").Error())
}

// shortly quotes a name, the beginning of a long one.
func shortly(s string) string {
	const most = 40 // letters of a name that is no column's
	s = strings.TrimSpace(s)
	if utf8.RuneCountInString(s) > most {
		s = string([]rune(s)[:most]) + "…"
	}
	return fmt.Sprintf("%q", s)
}
