package sheet

import (
	"html/template"
	"strings"
	"unicode"

	"golang.org/x/text/unicode/bidi"
)

// A name that is written from the right draws what follows it into its own direction,
// figures and the columns of a table among it: "1.93 US gal" was torn apart. So it stands
// alone.
//
//	Unicode Standard Annex 9, section 2.4.2: U+2067 begins, U+2069 ends text from the right
//	that does not bear on what is around it. HTML Living Standard, 4.5.24: bdi does the same.
const (
	fromRight   = "\u2067"
	firstStrong = "\u2068"
	endAlone    = "\u2069"
)

// Isolated gives a text with what is written from the right in it standing alone.
func Isolated(text string) string {
	return eachRun(text, func(s string) string { return s }, func(s string) string { return fromRight + s + endAlone })
}

// IsolatedHTML is [Isolated] for a page.
func IsolatedHTML(text string) template.HTML {
	return template.HTML(eachRun(text, template.HTMLEscapeString, func(s string) string {
		return "<bdi>" + template.HTMLEscapeString(s) + "</bdi>"
	}))
}

// Label gives a text that is one name, or a name and nothing that bears on it, with all of it
// standing alone if any is written from the right: so a name with figures or Latin letters in
// it stays in the order in which it is read.
//
//	Unicode Standard Annex 9, section 2.4.2: U+2068 begins text that has the direction of its
//	first letter that has one.
func Label(text string) string {
	if !strings.ContainsFunc(text, writtenFromRight) {
		return text
	}
	return firstStrong + text + endAlone
}

// PageFuncs are what the templates of pages call.
var PageFuncs = template.FuncMap{"bdi": IsolatedHTML, "alone": Isolated, "label": Label}

// eachRun puts a text together again of what is written from the right and what is not.
func eachRun(text string, left, right func(string) string) string {
	if !strings.ContainsFunc(text, writtenFromRight) {
		return left(text)
	}
	var out strings.Builder
	for text != "" {
		from := strings.IndexFunc(text, writtenFromRight)
		if from < 0 {
			break
		}
		to := from + runLength(text[from:])
		out.WriteString(left(text[:from]))
		out.WriteString(right(text[from:to]))
		text = text[to:]
	}
	out.WriteString(left(text))
	return out.String()
}

// runLength gives how many bytes of a text, which begins from the right, go on so: to the
// last such letter with nothing before it that has a direction of its own, is the room
// between two columns or ends a line.
func runLength(text string) int {
	end, before := 0, ' '
	for i, r := range text {
		switch {
		case writtenFromRight(r) || end == i && unicode.Is(unicode.M, r):
			end = i + len(string(r))
		case r < ' ' || r == ' ' && before == ' ' || unicode.IsLetter(r) || unicode.IsDigit(r):
			return end
		}
		before = r
	}
	return end
}

// writtenFromRight tells whether a letter is: of Hebrew, Arabic and their like.
func writtenFromRight(r rune) bool {
	if r < 0x590 {
		return false
	}
	p, _ := bidi.LookupRune(r)
	return p.Class() == bidi.R || p.Class() == bidi.AL
}
