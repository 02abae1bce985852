package sheet_test

import (
	"bytes"
	"strings"
	"testing"

	"lastpump/cmd/lastpump/internal/report/sheet"

	"golang.org/x/text/unicode/bidi"
)

func TestIsolated(t *testing.T) {
	for _, x := range []struct{ in, text, page string }{
		{"Kembil 1.93 US gal", "Kembil 1.93 US gal", "Kembil 1.93 US gal"},
		{"at محطة: 1.93 US gal", "at \u2067محطة\u2069: 1.93 US gal", "at <bdi>محطة</bdi>: 1.93 US gal"},
		{"محطة الشرق & <North>", "\u2067محطة الشرق\u2069 & <North>", "<bdi>محطة الشرق</bdi> &amp; &lt;North&gt;"},
		{"a תחנה  דלק", "a \u2067תחנה\u2069  \u2067דלק\u2069", "a <bdi>תחנה</bdi>  <bdi>דלק</bdi>"}, // two columns
		{"می\u200cخواهم 2", "\u2067می\u200cخواهم\u2069 2", "<bdi>می\u200cخواهم</bdi> 2"},
		{"", "", ""},
	} {
		if got := sheet.Isolated(x.in); got != x.text {
			t.Errorf("%q: %q, want %q", x.in, got, x.text)
		}
		if got := string(sheet.IsolatedHTML(x.in)); got != x.page {
			t.Errorf("%q: %q, want %q", x.in, got, x.page)
		}
	}
}

// A name over a picture stands alone as a whole, figures and Latin letters in it among it: told
// by what comes first, as Unicode Standard Annex 9, section 2.4.2, has it.
func TestLabel(t *testing.T) {
	for name, want := range map[string]string{
		"Kembil 2":      "Kembil 2",
		"محطة 5 شمال":   "\u2068محطة 5 شمال\u2069",
		"North محطة 12": "\u2068North محطة 12\u2069",
	} {
		if got := sheet.Label(name); got != want {
			t.Errorf("%q: %q, want %q", name, got, want)
		}
	}
	// Shown in a line of figures, the whole name is one run from the right, its words in their order.
	var p bidi.Paragraph
	if _, err := p.SetString(sheet.Label("محطة 5 شمال")+" 8.0 L", bidi.DefaultDirection(bidi.LeftToRight)); err != nil {
		t.Fatal(err)
	}
	order, err := p.Order()
	if err != nil {
		t.Fatal(err)
	}
	if last := order.Run(order.NumRuns() - 1); last.Direction() != bidi.LeftToRight || !strings.Contains(last.String(), "8.0 L") {
		t.Errorf("the figures are shown as part of %q", last.String())
	}
}

// How a terminal that orders what it shows by Unicode's rules would show a row is told by
// another implementation of these: the figures stay in their columns, in their order.
func TestFiguresBesideNamesFromTheRight(t *testing.T) {
	var b bytes.Buffer
	s := sheet.NewText(&b)
	s.Table([]sheet.Column{sheet.Words("to"), sheet.Number("at"), sheet.Number("takes")}, [][]string{{"محطة", "12.5", "1.93"}})
	if err := s.Flush(); err != nil {
		t.Fatal(err)
	}
	row := strings.Split(strings.TrimSpace(b.String()), "\n")[1]
	if first, last := strings.Index(row, "12.5"), strings.Index(row, "1.93"); first < 0 || last < first {
		t.Fatalf("%q", row)
	}
	var p bidi.Paragraph
	if _, err := p.SetString(row, bidi.DefaultDirection(bidi.LeftToRight)); err != nil {
		t.Fatal(err)
	}
	order, err := p.Order()
	if err != nil {
		t.Fatal(err)
	}
	last := order.Run(order.NumRuns() - 1)
	if got := last.String(); last.Direction() != bidi.LeftToRight || !strings.Contains(got, "12.5") || !strings.Contains(got, "1.93") {
		t.Errorf("the figures are shown as part of %q", got)
	}
}
