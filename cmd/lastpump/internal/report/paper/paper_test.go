package paper_test

import (
	"bytes"
	"compress/zlib"
	"fmt"
	"image"
	"io"
	"math"
	"os"
	"os/exec"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"lastpump/cmd/lastpump/internal/report/paper"
	"lastpump/cmd/lastpump/internal/report/samples"
	"lastpump/cmd/lastpump/internal/words/units"
	"lastpump/fuel"
	"lastpump/route"
	"lastpump/testdata/kit"
)

func init() { kit.Draws(10) }

// needTool skips a test where one of the PDF tools of poppler is not installed, and in a short
// run: each page is looked at by a program of its own.
func needTool(t *testing.T, names ...string) {
	t.Helper()
	if !kit.Long() {
		t.Skip("a look at printed pages: a long run")
	}
	for _, name := range names {
		kit.Tool(t, "a reader of PDF (package poppler-utils)", name)
	}
}

// tool runs a tool on a PDF.
func tool(t samples.T, pdf []byte, name string, args ...string) string {
	t.Helper()
	cmd := exec.Command(name, args...)
	cmd.Stdin = bytes.NewReader(pdf)
	out, err := cmd.Output()
	if err != nil {
		t.Fatal(name, err)
	}
	return string(out)
}

// A word of a PDF with its box in points from the upper left corner of its page.
type word struct {
	page                   int
	left, top, right, foot float64
	text                   string
}

// boxed is a word as pdftotext gives it.
var boxed = regexp.MustCompile(
	`<word xMin="([-\d.]+)" yMin="([-\d.]+)" xMax="([-\d.]+)" yMax="([-\d.]+)">(.*)</word>`)

// printed gives the words of a PDF and the sizes of its pages.
func printed(t samples.T, pdf []byte) (words []word, sizes [][2]float64) {
	t.Helper()
	for line := range strings.Lines(tool(t, pdf, "pdftotext", "-bbox", "-", "-")) {
		if m := regexp.MustCompile(`<page width="([\d.]+)" height="([\d.]+)">`).FindStringSubmatch(line); m != nil {
			sizes = append(sizes, [2]float64{samples.Number(t, m[1]), samples.Number(t, m[2])})
		}
		if m := boxed.FindStringSubmatch(line); m != nil {
			at := func(i int) float64 { return samples.Number(t, m[i]) }
			words = append(words, word{len(sizes), at(1), at(2), at(3), at(4), m[5]})
		}
	}
	return words, sizes
}

// laidWell checks that no word lies outside the margins of its page and none over another.
func laidWell(t samples.T, pdf []byte, margin float64) {
	t.Helper()
	all, sizes := printed(t, pdf)
	if len(all) == 0 {
		t.Fatal("no words")
	}
	for i, w := range all {
		z := sizes[w.page-1]
		if w.left < margin-0.1 || w.top < margin-1 || w.right > z[0]-margin+0.1 || w.foot > z[1]-margin+1 {
			t.Fatalf("page %d, %v: %q lies outside: %+v", w.page, z, w.text, w)
		}
		for _, o := range all[:i] {
			across, down := min(w.right, o.right)-max(w.left, o.left), min(w.foot, o.foot)-max(w.top, o.top)
			if o.page == w.page && across > 0.5 && down > 0.5 {
				t.Fatalf("page %d: %q lies over %q: %+v %+v", w.page, w.text, o.text, w, o)
			}
		}
	}
}

// homeMargin and stripMargins are those of the papers, in points: 12 mm; what is left of 57 mm
// by a print head of 48 mm, 5, 7 and 5 mm.
const homeMargin = 12 / 25.4 * 72

var stripMargins = map[paper.Format]float64{paper.Roll: 4.5 / 25.4 * 72, paper.A6: 5 / 25.4 * 72, paper.A5: 7 / 25.4 * 72,
	paper.A4: 5 / 25.4 * 72}

// contents gives what the streams of a PDF draw: those that set text (ISO 32000-1, 9.4).
func contents(t samples.T, pdf []byte) string {
	t.Helper()
	var out strings.Builder
	for _, part := range bytes.Split(pdf, []byte("stream\n"))[1:] {
		r, err := zlib.NewReader(bytes.NewReader(part))
		if err != nil {
			continue
		}
		if b, _ := io.ReadAll(r); bytes.Contains(b, []byte("BT ")) && bytes.Contains(b, []byte(" Tf ET")) {
			out.Write(b)
		}
	}
	if out.Len() == 0 {
		t.Fatal("no page sets text")
	}
	return out.String()
}

// inBlack checks that letters are of a size at the least, and that nothing is drawn in
// another colour than black: ISO 32000-1, tables 74 and 105: the operators of colour and
// Tf.
func inBlack(t samples.T, pdf []byte, least float64) {
	t.Helper()
	text := contents(t, pdf)
	sizes := regexp.MustCompile(`/\S+ ([\d.]+) Tf`).FindAllStringSubmatch(text, -1)
	if len(sizes) == 0 {
		t.Fatal("no face is chosen")
	}
	for _, m := range sizes {
		if samples.Number(t, m[1]) < least {
			t.Fatalf("letters of %s pt, at least %v are wanted", m[1], least)
		}
	}
	colour := regexp.MustCompile(`(?m)(?:^|\s)([\d. ]+) (g|G|rg|RG|k|K|sc|SC|scn|SCN)(?:\s|$)`)
	for _, m := range colour.FindAllStringSubmatch(text, -1) {
		for _, f := range strings.Fields(m[1]) {
			if samples.Number(t, f) != 0 {
				t.Fatalf("a colour that is not black: %s %s", m[1], m[2])
			}
		}
	}
}

// embedded checks with pdffonts that all faces are in the file.
func embedded(t *testing.T, pdf []byte) {
	t.Helper()
	name := t.TempDir() + "/a.pdf"
	if err := os.WriteFile(name, pdf, 0o600); err != nil {
		t.Fatal(err)
	}
	out, err := exec.Command("pdffonts", name).Output()
	if err != nil {
		t.Fatal(err)
	}
	rows := strings.Split(strings.TrimSpace(string(out)), "\n")[2:]
	if len(rows) == 0 {
		t.Fatal("no faces")
	}
	for _, row := range rows {
		if !regexp.MustCompile(`Identity-H +yes +(yes|no) +yes `).MatchString(row) {
			t.Errorf("a face that is not embedded with its Unicode: %s", row)
		}
	}
}

// Rounded as the reports are to: what is needed up, what there is down, in litres with one
// decimal and US gallons (231 cubic inches, NIST Handbook 44) with two; distances in
// kilometres or miles of 1609.344 m (NIST SP 811).
func upIn(u units.System, l fuel.Litres) string   { return volume(u, l, math.Ceil, -1e-9) }
func downIn(u units.System, l fuel.Litres) string { return volume(u, l, math.Floor, 1e-9) }

func volume(u units.System, l fuel.Litres, round func(float64) float64, hair float64) string {
	if u == units.US {
		return fmt.Sprintf("%.2f US gal", math.Abs(round(float64(l)/3.785411784*100+hair))/100)
	}
	return fmt.Sprintf("%.1f L", math.Abs(round(float64(l)*10+hair))/10)
}

func distance(u units.System, m route.Metres) float64 {
	if u == units.Metric {
		return float64(m) / 1000
	}
	return float64(m) / 1609.344
}

func whole(x float64) string { return strconv.Itoa(int(x)) }

// Drawn as a printer would draw it, the strip is black on white, has something on every
// page and nothing on the edges of any.
func TestStripAsPrinted(t *testing.T) {
	needTool(t, "pdftoppm")
	for _, format := range []paper.Format{paper.Roll, paper.A6, paper.A5} { // the cuts of a sheet of four do reach near its edges
		pdf := stripOf(t, samples.Example(t, "steppe"), format)
		for i, page := range printedPages(t, tool(t, pdf, "pdftoppm", "-gray", "-r", "50", "-")) {
			b := page.Bounds()
			dark := 0
			for y := range b.Dy() {
				for x := range b.Dx() {
					if page.GrayAt(x, y).Y > 128 {
						continue
					}
					dark++
					if x < 3 || y < 3 || x >= b.Dx()-3 || y >= b.Dy()-3 {
						t.Fatalf("%s, page %d: something at %d, %d of %v", format, i+1, x, y, b)
					}
				}
			}
			if share := float64(dark) / float64(b.Dx()*b.Dy()); share < 0.01 || share > 0.3 {
				t.Errorf("%s, page %d: %.1f %% of it is dark", format, i+1, 100*share)
			}
		}
	}
}

// printedPages reads pictures in the PGM format (netpbm), one behind the other.
func printedPages(t *testing.T, s string) (pages []*image.Gray) {
	t.Helper()
	for len(s) > 0 {
		var wide, high, most int
		if n, err := fmt.Sscanf(s, "P5\n%d %d\n%d\n", &wide, &high, &most); n != 3 || most != 255 {
			t.Fatal("no PGM: ", err)
		}
		head := len(fmt.Sprintf("P5\n%d %d\n%d\n", wide, high, most))
		page := image.NewGray(image.Rect(0, 0, wide, high))
		s = s[head+copy(page.Pix, s[head:]):]
		pages = append(pages, page)
	}
	if len(pages) == 0 {
		t.Fatal("no page")
	}
	return pages
}
