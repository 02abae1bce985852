package input

import (
	"strings"
	"unicode/utf8"
)

// Clean takes out of a text what shows nothing and steers a terminal, a printer or the
// direction of writing: controls, marks and overrides of direction, spaces without width,
// byte order marks. What ends a line becomes a line feed, a tab a space; the joiners that
// scripts are written with (U+200C, U+200D) stay. Every text of a file or of the command
// line goes through here, or through [OneLine], before it is kept or shown.
//
//	ISO/IEC 6429: C0 and C1 controls. Unicode Standard Annex 9, table 4 and section 2:
//	embeddings, overrides, isolates and marks. Annex 14: what ends a line.
func Clean(text string) string {
	if !strings.ContainsFunc(text, dirty) {
		return text
	}
	text = strings.ReplaceAll(text, "\r\n", "\n")
	return strings.Map(func(r rune) rune {
		switch {
		case endsLine(r):
			return '\n'
		case r == '\t':
			return ' '
		case steers(r):
			return -1
		}
		return r
	}, text) // which gives U+FFFD for what is not UTF-8
}

// OneLine is [Clean] for what stands on one line: an end of a line becomes a space, with
// the white space around it, and there is none around the text.
func OneLine(text string) string {
	text = strings.TrimSpace(Clean(text))
	if !strings.Contains(text, "\n") {
		return text
	}
	var lines []string
	for line := range strings.SplitSeq(text, "\n") {
		if line = strings.TrimSpace(line); line != "" {
			lines = append(lines, line)
		}
	}
	return strings.Join(lines, " ")
}

// dirty tells whether a letter does not stay as it is.
func dirty(r rune) bool {
	return r != '\n' && (endsLine(r) || r == '\t' || r == utf8.RuneError || steers(r))
}

func endsLine(r rune) bool {
	switch r {
	case '\n', '\v', '\f', '\r', 0x85, 0x2028, 0x2029:
		return true
	}
	return false
}

// steers tells whether a letter has no shape of its own and changes how others are shown.
func steers(r rune) bool {
	switch {
	case r < 0x20, r >= 0x7f && r <= 0x9f: // C0, delete, C1
	case r == 0x061c, r == 0x200e, r == 0x200f: // marks of direction
	case r >= 0x202a && r <= 0x202e, r >= 0x2066 && r <= 0x2069: // embeddings, overrides, isolates
	case r == 0x200b, r == 0xfeff: // no width
	default:
		return false
	}
	return true
}
