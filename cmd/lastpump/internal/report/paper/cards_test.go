package paper_test

import (
	"fmt"
	"regexp"
	"slices"
	"strings"
	"testing"

	"lastpump/cmd/lastpump/internal/report/paper"
	"lastpump/cmd/lastpump/internal/report/samples"
	"lastpump/fuel/plan"
)

// fourCards checks that the cards of a sheet are numbered, four on each but the last, and that
// no word lies over the lines along which they are cut, or so near that a knife would hit it.
func fourCards(t *testing.T, pdf []byte) {
	t.Helper()
	all, sizes := printed(t, pdf)
	text := tool(t, pdf, "pdftotext", "-raw", "-", "-")
	cards := regexp.MustCompile(`(?m)^(\d+) of (\d+)$`).FindAllStringSubmatch(text, -1)
	for i, c := range cards {
		if c[1] != fmt.Sprint(i+1) || c[2] != fmt.Sprint(len(cards)) {
			t.Errorf("card %d says %s", i+1, c[0])
		}
	}
	if len(sizes) != (len(cards)+3)/4 || len(cards) == 0 {
		t.Errorf("%d cards on %d sheets", len(cards), len(sizes))
	}
	const clear = 4.5 / 25.4 * 72
	for _, w := range all {
		z := sizes[w.page-1]
		if w.left < z[0]/2+clear && w.right > z[0]/2-clear || w.top < z[1]/2+clear && w.foot > z[1]/2-clear {
			t.Errorf("%q lies on a cut: %+v", w.text, w)
		}
	}
}

// Cards are filled: those of the long example of all its pumps are at most six of A5 (they were
// sixteen, most of them half empty), and no strip takes more cards than it has cues.
func TestStripFillsItsCards(t *testing.T) {
	needTool(t, "pdftotext")
	for _, name := range []string{"steppe", "canyon"} {
		for _, everywhere := range []bool{false, true} {
			p := samples.ExampleWith(t, name, func(in *plan.Inputs) {
				if everywhere {
					in.Options.FillAt = plan.FillEverywhere
				}
			})
			_, a5 := printed(t, stripOf(t, p, paper.A5))
			_, a6 := printed(t, stripOf(t, p, paper.A6))
			if len(a5) > 6 || len(a6) > len(p.Cues)*2/3 {
				t.Errorf("%s, %v: %d cards of A5, %d of A6 for %d cues", name, everywhere, len(a5), len(a6), len(p.Cues))
			}
		}
	}
}

// A roll of over 3 m is cut: where days begin, each piece a day, or where a day is longer or
// none is known between two places. 3 m are less than the 14400 pt that a page of PDF may have.
func TestStripOfManyStops(t *testing.T) {
	needTool(t, "pdftotext")
	for days, kilometres := range map[int]int{1: 0, 4: 1000} {
		var names []string
		for i := range 40 {
			names = append(names, fmt.Sprintf("Stop %d", i))
		}
		p := samples.NamedIn(t, kilometres, names...)
		pdf := stripOf(t, p, paper.Roll)
		_, sizes := printed(t, pdf)
		if len(p.Line.Parts) != days || len(sizes) < max(2, days) {
			t.Fatalf("%d parts, %d pieces", len(p.Line.Parts), len(sizes))
		}
		for _, z := range sizes {
			if z[1] > 3000/25.4*72+0.1 {
				t.Errorf("a piece of %v pt", z)
			}
		}
		pieces := strings.Split(tool(t, pdf, "pdftotext", "-raw", "-", "-"), "\f")
		for i, part := range p.Line.Parts[1:] {
			if !slices.ContainsFunc(pieces, func(text string) bool {
				head, _, _ := strings.Cut(text, "\nTURN BACK")
				return strings.Contains(samples.Squeezed(head)[:min(60, len(samples.Squeezed(head)))], samples.Squeezed(part.Name))
			}) {
				t.Errorf("no piece begins with part %d, %s", i+2, part.Name)
			}
		}
		hasCues(t, p, pdf, true)
		laidWell(t, pdf, stripMargins[paper.Roll])
	}
}

// What is printed on a roll lies within the 48 mm that a print head of 58 mm reaches (384 dots
// of 1/8 mm), and what there is to do is 16 pt: by the boxes of its words, which are as high as
// ascent and descent of the face, 0.928 + 0.236 of its size (its hhea table).
func TestStripFitsPrintHeads(t *testing.T) {
	needTool(t, "pdftotext")
	for _, name := range []string{"steppe", "canyon"} {
		for _, format := range stripPapers {
			words, sizes := printed(t, stripOf(t, samples.Example(t, name), format))
			actions := 0
			for i, w := range words {
				if middle := sizes[w.page-1][0] / 2; format == paper.Roll && (w.left < middle-24/25.4*72 || w.right > middle+24/25.4*72) {
					t.Errorf("%s: %q is cut off: %+v", name, w.text, w)
				}
				next := ""
				if i+1 < len(words) {
					next = words[i+1].text
				}
				if w.text == "ZERO" && next == "THE" && i > 0 && words[i-1].text != "start," || w.text == "FILL" && next != "UP:" {
					actions++
					if size := (w.foot - w.top) / 1.164; size < 15.95 {
						t.Errorf("%s, %s: %s %s is %.1f pt", name, format, w.text, next, size)
					}
				}
			}
			if actions < 10 {
				t.Errorf("%s: %d actions", name, actions)
			}
		}
	}
}

// The way to a pump off the line: 1 km to the east of a road to the north is on the right, and
// left for who comes back.
func TestStripSaysWhichWay(t *testing.T) {
	needTool(t, "pdftotext")
	p := samples.Named(t, "On it", "Off it")
	text := samples.Squeezed(tool(t, stripOf(t, p, paper.Roll), "pdftotext", "-raw", "-", "-"))
	if strings.Contains(text, "offtheline") {
		t.Error("a pump on the line is said to lie off it")
	}
	for lon, want := range map[float64]string{10 + 1/84.8: "1.0 km off the line, right, to the E", 10 - 1/84.8: "1.0 km off the line, left, to the W"} {
		p := samples.NamedWith(t, func(in *plan.Inputs) { in.Stops[1].At[0] = lon }, "On it", "Off it") // 84.8 km to a degree at 41° N
		text := samples.Squeezed(tool(t, stripOf(t, p, paper.Roll), "pdftotext", "-raw", "-", "-"))
		if !strings.Contains(text, samples.Squeezed(want)) {
			t.Errorf("%q does not stand in %s", want, text)
		}
	}
}

// A pump whose name cannot be printed goes by its alias where the list has one.
func TestStripPrintsAliases(t *testing.T) {
	needTool(t, "pdftotext")
	p := samples.NamedWith(t, func(in *plan.Inputs) {
		s := in.Stops
		s[0].Alias, s[1].Alias, s[2].Alias = "Tokyo", "واحة", "never needed"
	}, "東京", "واحة", "Plain")
	for _, format := range stripPapers {
		text := samples.Squeezed(tool(t, stripOf(t, p, format), "pdftotext", "-raw", "-", "-"))
		second := samples.Squeezed(fmt.Sprintf("pump at %.4f, %.4f", p.Stops[1].At[1], p.Stops[1].At[0]))
		if !strings.Contains(text, "Tokyo") || !strings.Contains(text, second) || strings.Contains(text, fmt.Sprintf("%.4f", p.Stops[0].At[1])) ||
			!strings.Contains(text, "Plain") || strings.Contains(text, "neverneeded") {
			t.Errorf("%s: %s", format, text)
		}
	}
}
