package text_test

import (
	"bytes"
	"regexp"
	"strings"
	"testing"

	"lastpump/cmd/lastpump/internal/report/samples"
	"lastpump/cmd/lastpump/internal/report/sheet"
	"lastpump/cmd/lastpump/internal/report/text"
	"lastpump/testdata/kit"

	"pgregory.net/rapid"
)

func init() { kit.Draws(15) }

// The text fits the page whatever the names are, and without a terminal has no
// colours in it; with one they add nothing but themselves. Columns are counted as the sheet
// counts them: over marks that take none, and stand where no script has them, the tables of
// two libraries differ. TestReportsFitThePage counts real reports with the other one.
func TestTextFitsThePage(t *testing.T) {
	escape := regexp.MustCompile("\x1b\\[[0-9;]*m")
	rapid.Check(t, func(t *rapid.T) {
		p := samples.Draw(t)
		var plain, coloured bytes.Buffer
		if err := text.Write(&plain, p.Plan, text.Style{Units: p.Units}); err != nil {
			t.Fatal(err)
		}
		for line := range strings.Lines(plain.String()) {
			if n := sheet.Width(strings.TrimSuffix(line, "\n")); n > 100 {
				t.Fatalf("%d columns: %s", n, line)
			}
		}
		if err := text.Write(&coloured, p.Plan, text.Style{Units: p.Units, Colour: true}); err != nil {
			t.Fatal(err)
		}
		if escape.MatchString(plain.String()) || escape.ReplaceAllString(coloured.String(), "") != plain.String() {
			t.Fatal("colour is more than colour")
		}
	})
}
