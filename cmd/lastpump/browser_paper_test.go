package main

import (
	"fmt"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"lastpump/testdata/kit"

	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/chromedp"
)

// All that folds is on paper, the steppe on five sheets of A4. On A4 and on Letter (in a short run
// the steppe on one and the canyon on the other) no card, no row of a table, no warning and no
// picture is cut: the marks at their beginning and at their end come out on one sheet.
func TestPrintedPageCutsNoRow(t *testing.T) {
	text := kit.Tool(t, "pdftotext", "pdftotext")
	for example := range examples {
		file := pageOf(t, example)
		for _, paper := range []struct {
			name string
			size chromedp.PaperSize
		}{{"A4", chromedp.PaperA4}, {"Letter", chromedp.PaperLetter}} {
			if !kit.Long() && (example == "steppe") != (paper.name == "A4") {
				continue // in the long run
			}
			b := openTab(t, file, 1280)
			if example == "steppe" && paper.name == "A4" {
				if n := b.sheets(paper.size); n > 6 {
					t.Errorf("the steppe takes %d sheets, want 6", n)
				}
			}
			n := eval[int](b, `(() => {
				let n = 0;
				const mark = (e, where) => e.insertAdjacentText(where, " q" + n + "q ");
				const rows = Array.from(document.querySelectorAll("tr")).filter(r => !r.closest("#the-stops")); // the cards have those
				rows.forEach(r => { n++; Array.from(r.cells).forEach(c => { mark(c, "afterbegin"); mark(c, "beforeend"); }); });
				document.querySelectorAll("details.card").forEach(c => { n++; mark(c.querySelector(".name"), "afterbegin"); mark(c.querySelector("dl div:last-child dd"), "beforeend"); });
				document.querySelectorAll(".warning > p, .cures > li, p.led").forEach(e => { n++; mark(e, "afterbegin"); mark(e, "beforeend"); });
				return n;
			})()`)
			pdf, err := chromedp.Run(b.ctx, chromedp.PrintToPDF(chromedp.PDFPaper(paper.size), chromedp.PDFPreferCSSPageSize()))
			if err != nil {
				t.Fatal(err)
			}
			sheets := strings.Split(textOf(t, text, pdf), "\f")
			if len(sheets) < 4 {
				t.Fatalf("%s on %s: %d sheets", example, paper.name, len(sheets))
			}
			for k := 1; k <= n; k++ {
				mark, on := fmt.Sprintf("q%dq", k), 0
				for _, s := range sheets {
					if strings.Contains(s, mark) {
						on++
					}
				}
				if head := k == 1; on != 1 && !(on > 1 && b.isHead(k)) || head && on == 0 {
					t.Errorf("%s on %s: row %d is on %d sheets", example, paper.name, k, on)
				}
			}
		}
	}
}

// isHead tells whether a marked row is the head of a table, which comes again on every
// sheet.
func (b *tab) isHead(k int) bool {
	return eval[bool](b, fmt.Sprintf(`Array.from(document.querySelectorAll("thead tr")).some(r => r.textContent.includes("q%dq"))`, k))
}

// textOf gives the text of a PDF, its pages ended by form feeds.
func textOf(t *testing.T, program string, pdf []byte) string {
	t.Helper()
	file := filepath.Join(t.TempDir(), "page.pdf")
	if err := os.WriteFile(file, pdf, 0o644); err != nil {
		t.Fatal(err)
	}
	out, err := exec.Command(program, "-layout", file, "-").Output()
	if err != nil {
		t.Fatal(err)
	}
	return string(out)
}

// pagesLine is where pdfinfo says how many sheets there are.
var pagesLine = regexp.MustCompile(`(?m)^Pages:\s+(\d+)`)

// sheets prints the page and has pdfinfo count its sheets.
func (b *tab) sheets(size chromedp.PaperSize) int {
	b.t.Helper()
	info := kit.Tool(b.t, "pdfinfo", "pdfinfo")
	pdf, err := chromedp.Run(b.ctx, chromedp.PrintToPDF(chromedp.PDFPaper(size), chromedp.PDFPreferCSSPageSize()))
	if err != nil {
		b.t.Fatal(err)
	}
	file := filepath.Join(b.t.TempDir(), "sheets.pdf")
	if err := os.WriteFile(file, pdf, 0o644); err != nil {
		b.t.Fatal(err)
	}
	out, err := exec.Command(info, file).Output()
	if err != nil {
		b.t.Fatal(err)
	}
	m := pagesLine.FindSubmatch(out)
	if m == nil {
		b.t.Fatalf("pdfinfo says %s", out)
	}
	n, err := strconv.Atoi(string(m[1]))
	if err != nil {
		b.t.Fatal(err)
	}
	return n
}

// On paper letters have few sizes, each in one unit: a cure is no larger than its warning, nor a
// note than what it is to.
func TestPrintedSizes(t *testing.T) {
	b := openTab(t, pageOf(t, "steppe"), 1280, command(emulation.SetEmulatedMedia, emulation.SetEmulatedMediaParams{Media: "print"}))
	b.unfold()
	got := eval[map[string]float64](b, `(() => {
		const size = which => parseFloat(getComputedStyle(document.querySelector(which)).fontSize);
		return {warning: size(".warning p"), cure: size(".cures li"), text: size(".inside > p"), table: size("td"), card: size(".card dd"), note: size(".inside .note")};
	})()`)
	for what, px := range got {
		if math.Abs(px-got["text"]) > 0.01 {
			t.Errorf("%s is %.2f dots high, text %.2f", what, px, got["text"])
		}
	}
}
