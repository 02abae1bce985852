package sheet_test

import (
	"bytes"
	"strings"
	"testing"
	"unicode/utf8"

	"lastpump/cmd/lastpump/internal/report/sheet"
	"lastpump/testdata/kit"

	"pgregory.net/rapid"
)

func init() { kit.Draws(15) }

// Lines are no wider than they may be and as full as can be; nothing is lost but blanks.
func TestLines(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		words := rapid.SliceOf(rapid.StringMatching(`[a-z]{1,30}`)).Draw(t, "words")
		width := rapid.IntRange(1, 40).Draw(t, "width")
		lines := sheet.Lines(words, float64(width), func(s string) float64 { return float64(len(s)) },
			func(string) int { return width })
		for i, line := range lines {
			if len(line) > width {
				t.Fatalf("%q is wider than %d", line, width)
			}
			if i == 0 {
				continue
			}
			first, _, _ := strings.Cut(line, " ")
			if len(lines[i-1])+1+len(first) <= width && len(lines[i-1]) < width {
				t.Fatalf("%q would have found room behind %q", first, lines[i-1])
			}
		}
		if got := strings.ReplaceAll(strings.Join(lines, ""), " ", ""); got != strings.Join(words, "") {
			t.Fatalf("%q of %q", got, words)
		}
	})
}

// A name is one line without control characters, whatever it was.
func TestVisible(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		name := rapid.String().Draw(t, "name")
		got := sheet.Visible(name + "\xff\n x")
		if !utf8.ValidString(got) || strings.ContainsAny(got, "\n\t\r") || strings.Contains(got, "  ") ||
			utf8.RuneCountInString(got) > 101 {
			t.Fatalf("%q", got)
		}
	})
}

// Numbers stand at the right, words wrap, and no line ends in blanks.
func TestTable(t *testing.T) {
	var b bytes.Buffer
	s := sheet.NewText(&b)
	s.Head("A HEAD")
	s.Table([]sheet.Column{sheet.Number("#"), sheet.Wrapped("name", 6), sheet.Words("how")},
		[][]string{{"1", "Long Name", "so"}, {"12", "B", ""}})
	s.Line("  - ", "and a word")
	if err := s.Flush(); err != nil {
		t.Fatal(err)
	}
	const want = "\nA HEAD\n" +
		" #  name  how\n" +
		" 1  Long  so\n" +
		"    Name\n" +
		"12  B\n" +
		"  - and a word\n"
	if b.String() != want {
		t.Errorf("%q\nwant %q", b.String(), want)
	}
}

func TestLook(t *testing.T) {
	for verdict, want := range map[string]string{"OK": sheet.Good, "TIGHT": sheet.Doubt, "SHORT": sheet.Bad,
		"on": sheet.Good, "back": sheet.Doubt, "stranded": sheet.Bad, "meets": sheet.Good, "doubtful": sheet.Doubt,
		"not known": sheet.Doubt, "below": sheet.Bad} {
		if got := sheet.Look(verdict); got != want {
			t.Errorf("%s looks %s, want %s", verdict, got, want)
		}
	}
}
