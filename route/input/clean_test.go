package input_test

import (
	"strings"
	"testing"
	"unicode"

	"lastpump/route/input"

	"pgregory.net/rapid"
)

func TestClean(t *testing.T) {
	for _, x := range []struct{ in, clean, line string }{
		{"Kembil", "Kembil", "Kembil"},
		{"", "", ""},
		{"\x1b[2J\x1b]0;title\x07Sul\u009b31mmeg", "[2J]0;titleSul31mmeg", "[2J]0;titleSul31mmeg"},
		{"gro\u202eslat\u202c 95", "groslat 95", "groslat 95"},
		{"\u2066a\u2067b\u2068c\u2069\u200e\u200f\u061c\u200bd\ufeff", "abcd", "abcd"},
		{"a\r\nb\rc\u0085d\u2028e\u2029f\vg\fh\ti", "a\nb\nc\nd\ne\nf\ng\nh i", "a b c d e f g h i"},
		{" two\n lines ", " two\n lines ", "two lines"},
		{"no break\u00a0here", "no break\u00a0here", "no break\u00a0here"},
		// U+200D joins the letters of Sinhala, U+200C keeps those of Persian apart.
		{"ශ්\u200dරී می\u200cخواهم", "ශ්\u200dරී می\u200cخواهم", "ශ්\u200dරී می\u200cخواهم"},
		{"half \xc3", "half \ufffd", "half \ufffd"},
		{"\x7f\x00", "", ""},
	} {
		if got := input.Clean(x.in); got != x.clean {
			t.Errorf("Clean(%q) = %q, want %q", x.in, got, x.clean)
		}
		if got := input.OneLine(x.in); got != x.line {
			t.Errorf("OneLine(%q) = %q, want %q", x.in, got, x.line)
		}
	}
}

// What is left is told by the tables of Unicode and not by the list that is taken out: no
// control (Cc) but the line feed, none of Bidi_Control.
func TestCleanLeavesNothing(t *testing.T) {
	for r := rune(0); r <= unicode.MaxRune; r++ {
		got := input.Clean("a" + string(r) + "b")
		if strings.ContainsFunc(got, func(r rune) bool {
			return unicode.IsControl(r) && r != '\n' || unicode.Is(unicode.Bidi_Control, r) || r == 0x200b || r == 0xfeff
		}) {
			t.Errorf("U+%04X is left: %q", r, got)
		}
		if unicode.IsPrint(r) && got != "a"+string(r)+"b" {
			t.Errorf("U+%04X can be printed, and became %q", r, got)
		}
	}
	rapid.Check(t, func(t *rapid.T) {
		s := rapid.String().Draw(t, "text")
		if once := input.Clean(s); input.Clean(once) != once || input.OneLine(input.OneLine(s)) != input.OneLine(s) {
			t.Fatalf("%q is cleaned twice", s)
		}
	})
}
