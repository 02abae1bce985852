package input

import (
	"strings"
	"unicode"
	"unicode/utf8"

	"golang.org/x/text/encoding/charmap"
)

const hintUTF8 = "save the list as CSV in UTF-8"

// letters tells in which of two encodings a list is written: UTF-8, or windows-1252, the
// one of older spreadsheets in the west of Europe and in America.
type letters struct {
	utf8 bool // something other than ASCII was UTF-8
	old  bool // something was not
}

// read puts fields into UTF-8. Where one cannot be read, at says which, from 0, and what
// is wrong with it; else at is -1. A list in both encodings is in none: half of its
// names would be spoilt.
func (l *letters) read(fields []string) (at int, what string) {
	for i, s := range fields {
		switch valid := utf8.ValidString(s); {
		case valid && len(s) == utf8.RuneCountInString(s): // ASCII, the same in both
		case valid && l.old:
			return i, "in UTF-8, behind one that is not"
		case valid:
			l.utf8 = true
		case l.utf8:
			return i, "that is not UTF-8"
		default:
			text, err := charmap.Windows1252.NewDecoder().String(s)
			if err != nil || strings.ContainsFunc(text, noLetter) {
				return i, "that is not UTF-8"
			}
			l.old, fields[i] = true, text
		}
	}
	return -1, ""
}

// noLetter tells whether a letter is one of the five that windows-1252 does not have.
func noLetter(r rune) bool { return r == utf8.RuneError || r >= 0x80 && unicode.IsControl(r) }
