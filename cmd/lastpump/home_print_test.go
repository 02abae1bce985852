package main

import (
	"net/url"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"lastpump/testdata/kit"

	"github.com/chromedp/chromedp"
)

// The sheet for home as a page prints on two sheets, of A4 and of Letter, with the sketch
// and all that it has in its tables.
func TestHomePagePrintsOnTwoSheets(t *testing.T) {
	text := kit.Tool(t, "pdftotext", "pdftotext")
	for example, args := range examples {
		file := filepath.Join(t.TempDir(), "home.html")
		lastpump(t, append(slices.Clone(args), "--home", file)...)
		for name, size := range map[string]chromedp.PaperSize{"A4": chromedp.PaperA4, "Letter": chromedp.PaperLetter} {
			ctx, stop := chromedp.NewContext(browser(t))
			t.Cleanup(stop)
			if err := chromedp.Do(ctx, chromedp.Navigate((&url.URL{Scheme: "file", Path: file}).String()), chromedp.WaitReady("main")); err != nil {
				t.Fatal(err)
			}
			pdf, err := chromedp.Run(ctx, chromedp.PrintToPDF(chromedp.PDFPaper(size), chromedp.PDFPreferCSSPageSize()))
			if err != nil {
				t.Fatal(err)
			}
			said := textOf(t, text, pdf)
			if n := strings.Count(said, "\f"); n != 2 {
				t.Errorf("%s on %s: %d sheets", example, name, n)
			}
			for _, want := range []string{"The rider knows", "north is up", "Last heard", "Where there is petrol", "′N"} {
				if !strings.Contains(said, want) {
					t.Errorf("%s on %s: %q is missing", example, name, want)
				}
			}
		}
	}
}
