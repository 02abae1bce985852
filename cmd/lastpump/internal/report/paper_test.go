package report_test

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
	"time"
	"unicode"

	"lastpump/cmd/lastpump/internal/report"
	"lastpump/fuel"
	"lastpump/fuel/plan"
	"lastpump/fuel/stop"
	"lastpump/octane"
	"lastpump/route"
	"lastpump/route/gpxfile"

	"github.com/paulmach/orb"
)

// A fataler is a test, or one of rapid's.
type fataler interface {
	Helper()
	Fatal(...any)
	Fatalf(string, ...any)
}

// needTool skips a test where one of the PDF tools of poppler is not installed, and fails
// it where LASTPUMP_NEED_TOOLS=1 says that they have to be.
func needTool(t *testing.T, names ...string) {
	t.Helper()
	for _, name := range names {
		if _, err := exec.LookPath(name); err == nil {
			continue
		}
		if os.Getenv("LASTPUMP_NEED_TOOLS") == "1" {
			t.Fatalf("%s (package poppler-utils) is not installed, and LASTPUMP_NEED_TOOLS=1 asks for it", name)
		}
		t.Skipf("%s (package poppler-utils) is not installed: what is on the PDF is not checked", name)
	}
}

// tool runs a tool on a PDF.
func tool(t fataler, pdf []byte, name string, args ...string) string {
	t.Helper()
	cmd := exec.Command(name, args...)
	cmd.Stdin = bytes.NewReader(pdf)
	out, err := cmd.Output()
	if err != nil {
		t.Fatal(name, err)
	}
	return string(out)
}

// squeezed gives a text without white space, which lines are broken at.
func squeezed(s string) string {
	return strings.Map(func(r rune) rune {
		if unicode.IsSpace(r) || unicode.IsControl(r) {
			return -1
		}
		return r
	}, s)
}

// A word of a PDF with its box in points from the upper left corner of its page.
type word struct {
	page                   int
	left, top, right, foot float64
	text                   string
}

// words gives the words of a PDF and the sizes of its pages.
func words(t fataler, pdf []byte) (words []word, sizes [][2]float64) {
	t.Helper()
	for line := range strings.Lines(tool(t, pdf, "pdftotext", "-bbox", "-", "-")) {
		if m := regexp.MustCompile(`<page width="([\d.]+)" height="([\d.]+)">`).FindStringSubmatch(line); m != nil {
			sizes = append(sizes, [2]float64{number(t, m[1]), number(t, m[2])})
		}
		if m := regexp.MustCompile(`<word xMin="([-\d.]+)" yMin="([-\d.]+)" xMax="([-\d.]+)" yMax="([-\d.]+)">(.*)</word>`).FindStringSubmatch(line); m != nil {
			words = append(words, word{len(sizes), number(t, m[1]), number(t, m[2]), number(t, m[3]), number(t, m[4]), m[5]})
		}
	}
	return words, sizes
}

func number(t fataler, s string) float64 {
	t.Helper()
	v, err := strconv.ParseFloat(s, 64)
	if err != nil {
		t.Fatal(err)
	}
	return v
}

// laidWell checks that no word lies outside the margins of its page and none over another.
func laidWell(t fataler, pdf []byte, margin float64) {
	t.Helper()
	all, sizes := words(t, pdf)
	if len(all) == 0 {
		t.Fatal("no words")
	}
	for i, w := range all {
		if z := sizes[w.page-1]; w.left < margin-0.1 || w.top < margin-1 || w.right > z[0]-margin+0.1 || w.foot > z[1]-margin+1 {
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

// homeMargin and stripMargins are those of the papers, in points: 15 mm; 3, 6 and 9 mm.
const homeMargin = 15 / 25.4 * 72

var stripMargins = map[report.StripPaper]float64{report.StripRoll: 3 / 25.4 * 72, report.StripA6: 6 / 25.4 * 72, report.StripA5: 9 / 25.4 * 72}

// contents gives what the streams of a PDF draw: those that set text (ISO 32000-1, 9.4).
func contents(t fataler, pdf []byte) string {
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
func inBlack(t fataler, pdf []byte, least float64) {
	t.Helper()
	text := contents(t, pdf)
	sizes := regexp.MustCompile(`/\S+ ([\d.]+) Tf`).FindAllStringSubmatch(text, -1)
	if len(sizes) == 0 {
		t.Fatal("no face is chosen")
	}
	for _, m := range sizes {
		if number(t, m[1]) < least {
			t.Fatalf("letters of %s pt, at least %v are wanted", m[1], least)
		}
	}
	for _, m := range regexp.MustCompile(`(?m)(?:^|\s)([\d. ]+) (g|G|rg|RG|k|K|sc|SC|scn|SCN)(?:\s|$)`).FindAllStringSubmatch(text, -1) {
		for _, f := range strings.Fields(m[1]) {
			if number(t, f) != 0 {
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

// examplePlan plans one of the examples.
func examplePlan(t *testing.T, name string) *plan.Plan {
	t.Helper()
	in := plan.Inputs{Options: plan.DefaultOptions()}
	in.Options.Today = time.Date(2026, 7, 1, 0, 0, 0, 0, time.UTC)
	dir := "../../../../examples/" + name + "/"
	file := reading(t, dir+"loop.gpx", gpxfile.Read)
	var err error
	if in.Line, err = route.NewLine(file.Lines(), route.LineOptions{}); err != nil {
		t.Fatal(err)
	}
	in.Name = file.Name
	in.Bike = reading(t, dir+"bike.toml", func(r io.Reader, n string) (fuel.Bike, error) { return fuel.ReadBike(r, n, "") })
	sections := reading(t, dir+"ground.csv", route.ReadGround)
	if in.Grounds.Sections, in.Grounds.Measure, err = in.Line.Lay(sections); err != nil {
		t.Fatal(err)
	}
	if name == "steppe" {
		in.Stops = reading(t, dir+"stops.csv", func(r io.Reader, n string) ([]stop.Stop, error) { return stop.ReadCSV(r, n, "") })
	} else {
		in.Options.Units = fuel.US
		if in.Stops, err = stop.FromWaypoints(file.Waypoints, ""); err != nil {
			t.Fatal(err)
		}
	}
	p, err := plan.Make(in)
	if err != nil {
		t.Fatal(err)
	}
	return p
}

func reading[T any](t *testing.T, name string, read func(io.Reader, string) (T, error)) T {
	t.Helper()
	f, err := os.Open(name)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	v, err := read(f, name)
	if err != nil {
		t.Fatal(err)
	}
	return v
}

// namedPlan plans a ride along a meridian with a stop of each name every 90 km, in two
// parts.
func namedPlan(t *testing.T, names ...string) *plan.Plan {
	t.Helper()
	leg := func(from, to int) route.Track {
		var points []route.Point
		for k := from; k <= to; k++ {
			points = append(points, route.Point{Point: orb.Point{10, 40 + float64(k)/111.195}})
		}
		return route.Track{Name: fmt.Sprintf("part from %d", from), Segments: [][]route.Point{points}}
	}
	all := 90*len(names) + 60
	line, err := route.NewLine([]route.Track{leg(0, 100), leg(100, all)}, route.LineOptions{})
	if err != nil {
		t.Fatal(err)
	}
	in := plan.Inputs{Name: "Ride", Line: line, Bike: fuel.DefaultBike(), Options: plan.DefaultOptions()}
	in.Options.Today = time.Date(2026, 7, 1, 0, 0, 0, 0, time.UTC)
	for i, n := range names {
		in.Stops = append(in.Stops, stop.Stop{Name: n, At: orb.Point{10, 40 + float64(90*(i+1))/111.195}, Standing: stop.Seen,
			Grades: []octane.Grade{octane.FromRON(95)}, Phone: fmt.Sprintf("+99 555 01%02d", i)})
	}
	p, err := plan.Make(in)
	if err != nil {
		t.Fatal(err)
	}
	return p
}

// Rounded as the reports are to: what is needed up, what there is down, in litres with one
// decimal and US gallons (231 cubic inches, NIST Handbook 44) with two; distances in
// kilometres or miles of 1609.344 m (NIST SP 811).
func upIn(u fuel.Units, l fuel.Litres) string   { return volume(u, l, math.Ceil, -1e-9) }
func downIn(u fuel.Units, l fuel.Litres) string { return volume(u, l, math.Floor, 1e-9) }

func volume(u fuel.Units, l fuel.Litres, round func(float64) float64, hair float64) string {
	if u == fuel.US {
		return fmt.Sprintf("%.2f US gal", math.Abs(round(float64(l)/3.785411784*100+hair))/100)
	}
	return fmt.Sprintf("%.1f L", math.Abs(round(float64(l)*10+hair))/10)
}

func distance(u fuel.Units, m route.Metres) float64 {
	if u == fuel.Metric {
		return float64(m) / 1000
	}
	return float64(m) / 1609.344
}

func whole(x float64) string { return strconv.Itoa(int(x)) }

// Drawn as a printer would draw it, the strip is black on white, has something on every
// page and nothing on the edges of any.
func TestStripAsPrinted(t *testing.T) {
	needTool(t, "pdftoppm")
	for _, paper := range []report.StripPaper{report.StripRoll, report.StripA6, report.StripA5} {
		pdf := stripOf(t, examplePlan(t, "steppe"), paper)
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
						t.Fatalf("%s, page %d: something at %d, %d of %v", paper, i+1, x, y, b)
					}
				}
			}
			if share := float64(dark) / float64(b.Dx()*b.Dy()); share < 0.01 || share > 0.3 {
				t.Errorf("%s, page %d: %.1f %% of it is dark", paper, i+1, 100*share)
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
