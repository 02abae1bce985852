package paper_test

import (
	"bytes"
	"fmt"
	"math"
	"strings"
	"testing"

	"lastpump/cmd/lastpump/internal/report/paper"
	"lastpump/cmd/lastpump/internal/report/samples"
	"lastpump/fuel/plan"
	"lastpump/route"

	"pgregory.net/rapid"
)

func mapPDF(t samples.T, p samples.Plan) []byte {
	t.Helper()
	var b bytes.Buffer
	if err := paper.WriteMapSheet(&b, p.Plan, p.Units); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

const mapMargin = 10 / 25.4 * 72

// Worked by hand: at 1:500 000 a kilometre is 2 mm, at 1:250 000 a mile of 1609.344 m is 6.437 mm, at
// 1:50 000 a kilometre is 20 mm, at 1:1 000 000 one. A scale is no longer than 70 mm.
func TestScaleBarIsToScale(t *testing.T) {
	for _, c := range []struct {
		scale  float64
		unit   route.Metres
		units  float64
		millis float64
	}{{500_000, 1000, 20, 40}, {250_000, 1609.344, 10, 64.37376}, {50_000, 1000, 2, 40}, {1_000_000, 1000, 50, 50},
		{100_000, 1000, 5, 50}, {200_000, 1609.344, 5, 40.2336}} {
		if units, millis := paper.BarMillimetres(c.scale, c.unit); units != c.units || math.Abs(millis-c.millis) > 1e-9 {
			t.Errorf("1:%v: %v units are %v mm, want %v and %v", c.scale, units, millis, c.units, c.millis)
		}
	}
}

// On each sheet stand which it is, of how many, where the ride goes on, the cautions, and whose map lies
// under it; each pump that is filled at stands on one with its kilometre and grades.
func TestMapSheetSaysWhatItIs(t *testing.T) {
	needTool(t, "pdftotext", "pdffonts")
	for _, name := range []string{"steppe", "canyon"} {
		for _, drawn := range []bool{false, true} {
			t.Run(fmt.Sprint(name, drawn), func(t *testing.T) {
				p := samples.Example(t, name)
				if drawn {
					lands := samples.Land(p)
					p = samples.ExampleWith(t, name, func(in *plan.Inputs) { in.Land = lands })
				}
				pdf := mapPDF(t, p)
				if !bytes.Equal(pdf, mapPDF(t, p)) {
					t.Error("the same plan gives other bytes")
				}
				embedded(t, pdf)
				laidWell(t, pdf, mapMargin)
				sheets := strings.Split(strings.TrimSuffix(tool(t, pdf, "pdftotext", "-raw", "-", "-"), "\f"), "\f")
				_, sizes := printed(t, pdf)
				for i, text := range sheets {
					text = samples.Squeezed(text)
					want := []string{p.Name, fmt.Sprintf("map, sheet %d of %d", i+1, len(sheets)), "A sketch to look at beside a real map", "A pump may be dry", "1:"}
					if i > 0 {
						want = append(want, fmt.Sprintf("to sheet %d", i))
					}
					if i < len(sheets)-1 {
						want = append(want, fmt.Sprintf("to sheet %d", i+2))
					}
					if drawn {
						want = append(want, "Map data © their makers, by some licence.")
					}
					for _, w := range want {
						if !strings.Contains(text, samples.Squeezed(w)) {
							t.Errorf("sheet %d lacks %q: %s", i+1, w, text)
						}
					}
					if math.Abs(sizes[i][0]/72*25.4-210) > 0.1 || math.Abs(sizes[i][1]/72*25.4-297) > 0.1 {
						t.Errorf("sheet %d is of %v pt, want A4, 210 by 297 mm (ISO 216)", i+1, sizes[i])
					}
				}
				all := samples.Squeezed(strings.Join(sheets, " "))
				for _, v := range p.Visits {
					if v.Counted && (!strings.Contains(all, samples.Squeezed(v.Stop.Name)) || !strings.Contains(all, samples.Squeezed(v.Stop.Grades[0].String()))) {
						t.Errorf("%s or its grade stands nowhere", v.Stop.Name)
					}
				}
				if drawn != strings.Contains(all, "LongRiver") || drawn != strings.Contains(all, "Somewhere") || strings.Contains(all, "□") {
					t.Errorf("rivers and towns: %v, %s", drawn, all)
				}
			})
		}
	}
}

// Whatever the plan, its map is written, no word lies on another or beyond the page, and twice the same;
// the sheets have all of the ride's kilometres.
func TestMapSheetOfDrawnPlans(t *testing.T) {
	needTool(t, "pdftotext")
	rapid.Check(t, func(t *rapid.T) {
		p := samples.Draw(t)
		if rapid.Bool().Draw(t, "land") {
			p.Land = samples.Land(p)
		}
		pdf := mapPDF(t, p)
		laidWell(t, pdf, mapMargin)
		if !bytes.Equal(pdf, mapPDF(t, p)) {
			t.Fatal("the same plan gives other bytes")
		}
		text := tool(t, pdf, "pdftotext", "-raw", "-", "-")
		if last := fmt.Sprintf("to %s", p.Units.Place(p.Line.Length())); !strings.Contains(text, last) {
			t.Fatalf("no sheet goes on %q: %s", last, text)
		}
	})
}

// A map under the sketch of the sheet for home is told of, and the sheet has no more pages for it.
func TestHomeWithLand(t *testing.T) {
	for _, name := range []string{"steppe", "canyon"} {
		lands := samples.Land(samples.Example(t, name))
		p := samples.ExampleWith(t, name, func(in *plan.Inputs) { in.Land = lands })
		b := homeHTML(t, p)
		asksNothing(t, b)
		got := samples.Parse(t, b)
		hasWords(t, got.Text, append(homeWords(p), "Thin: roads; dash-dot: rivers; hatched: lakes.", "Map data © their makers, by some licence."))
		for _, class := range []string{"main", "river", "hatch", "edge"} {
			if !bytes.Contains(b, []byte(`<path class="under `+class+`"`)) {
				t.Errorf("%s: no %s is drawn", name, class)
			}
		}
	}
	needTool(t, "pdftotext")
	for _, name := range []string{"steppe", "canyon"} {
		lands := samples.Land(samples.Example(t, name))
		p := samples.ExampleWith(t, name, func(in *plan.Inputs) { in.Land = lands })
		pdf := homePDF(t, p)
		hasWords(t, tool(t, pdf, "pdftotext", "-raw", "-", "-"), append(homeWords(p), "Map data © their makers, by some licence."))
		laidWell(t, pdf, homeMargin)
		inBlack(t, pdf, 9)
		if _, sizes := printed(t, pdf); len(sizes) > 2 {
			t.Errorf("%s: %d pages", name, len(sizes))
		}
	}
}
