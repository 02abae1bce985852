package report_test

import (
	"bytes"
	"errors"
	"fmt"
	"math"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"lastpump/cmd/lastpump/internal/report"
	"lastpump/fuel/plan"
	"lastpump/route"

	"golang.org/x/net/html"
	"pgregory.net/rapid"
)

// homeKeys are the keys of --contact.
var homeKeys = []string{"rider", "with", "bike", "leave", "back", "worry", "call", "who", "carries", "note"}

func homeHTML(t fataler, p *plan.Plan, contacts ...report.Contact) []byte {
	t.Helper()
	var b bytes.Buffer
	if err := report.WriteHomeHTML(&b, p, contacts); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

func homePDF(t fataler, p *plan.Plan, contacts ...report.Contact) []byte {
	t.Helper()
	var b bytes.Buffer
	if err := report.WriteHomePDF(&b, p, contacts); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

// A page is what the HTML parser of the Go project makes of the bytes.
type page struct {
	elements []*html.Node
	text     string // without what the head holds
}

func parsePage(t fataler, b []byte) page {
	t.Helper()
	root, err := html.Parse(bytes.NewReader(b))
	if err != nil {
		t.Fatal(err)
	}
	var p page
	var text strings.Builder
	var walk func(n *html.Node, shown bool)
	walk = func(n *html.Node, shown bool) {
		switch n.Type {
		case html.ElementNode:
			p.elements = append(p.elements, n)
			shown = shown || n.Data == "body"
		case html.TextNode:
			if shown {
				text.WriteString(n.Data + " ")
			}
		}
		for c := n.FirstChild; c != nil; c = c.NextSibling {
			walk(c, shown)
		}
	}
	walk(root, false)
	p.text = text.String()
	return p
}

func (p page) all(name string) (out []*html.Node) {
	for _, n := range p.elements {
		if n.Data == name {
			out = append(out, n)
		}
	}
	return out
}

func attribute(n *html.Node, key string) string {
	for _, a := range n.Attr {
		if a.Key == key {
			return a.Val
		}
	}
	return ""
}

func blanks(p page) (n int) {
	for _, d := range p.all("dd") {
		if slices.Contains(strings.Fields(attribute(d, "class")), "blank") {
			n++
		}
	}
	return n
}

// homeElements are all that the page is made of: nothing that runs or asks for anything.
var homeElements = strings.Fields("html head meta title style body main h1 h2 p section dl dt dd table caption colgroup col thead tbody tr th td span")

// asksNothing checks that a page has no script and makes no request, and is one that a
// screen reader can follow.
func asksNothing(t fataler, b []byte) {
	t.Helper()
	p := parsePage(t, b)
	for _, n := range p.elements {
		if !slices.Contains(homeElements, n.Data) {
			t.Fatalf("an element %s", n.Data)
		}
		for _, a := range n.Attr {
			if !slices.Contains([]string{"lang", "charset", "http-equiv", "content", "name", "class", "scope", "style"}, a.Key) {
				t.Fatalf("an attribute %s=%q", a.Key, a.Val)
			}
		}
	}
	if css := p.all("style")[0].FirstChild.Data; regexp.MustCompile(`(?i)url\(|@import|@font-face`).MatchString(css) {
		t.Fatal("the style asks for something")
	}
	policy := ""
	for _, m := range p.all("meta") {
		if attribute(m, "http-equiv") == "Content-Security-Policy" {
			policy = attribute(m, "content")
		}
	}
	if policy != "default-src 'none'; style-src 'unsafe-inline'" || attribute(p.all("html")[0], "lang") != "en" || p.all("title")[0].FirstChild == nil {
		t.Fatalf("policy %q, or no language or title", policy)
	}
	if tables := len(p.all("table")); tables != 2 || len(p.all("caption")) != tables {
		t.Fatalf("%d tables, %d captions", tables, len(p.all("caption")))
	}
	for _, h := range p.all("th") {
		if attribute(h, "scope") == "" {
			t.Fatal("a head without a scope")
		}
	}
}

// homeWords gives what has to stand on the sheet.
func homeWords(p *plan.Plan) []string {
	u := p.Options.Units
	floor := func(m route.Metres) string { return whole(math.Floor(distance(u, m) + 1e-9)) }
	out := append([]string{p.Bike.Name}, p.Answer[:]...)
	// Common practice, no source: what is always said.
	out = append(out, "carry water", "on the ground, engine off", "upright and closed", "local law", "maker's manual", "A pump may be dry")
	for _, part := range p.Line.Parts {
		if p.Here != nil && part.To <= p.Here.At {
			continue
		}
		end := p.Line.At(part.To)
		out = append(out, part.Name, floor(part.From)+"–"+floor(part.To), fmt.Sprintf("%.4f, %.4f", end[1], end[0]))
	}
	for i, l := range p.Legs {
		_, to := p.Ends(i)
		at := p.Line.At(l.ToAt)
		if l.ToVisit >= 0 {
			s := p.Visits[l.ToVisit].Stop
			at = s.At
			out = append(out, s.Phone)
		}
		out = append(out, to, floor(l.ToAt), fmt.Sprintf("%.4f, %.4f", at[1], at[0]), string(l.Verdict))
		lastFuel := l.FromVisit >= 0 && p.Visits[l.FromVisit].LastFuel
		if (l.Verdict != plan.OK || lastFuel) && l.TurnBackBy > 0 && l.TurnBackBy < l.Trip(p.Bike) {
			back := p.Line.At(l.TurnBackByAt)
			out = append(out, fmt.Sprintf("turn back by trip %s %s: %.4f, %.4f", floor(l.TurnBackBy), u.DistanceUnit(), back[1], back[0]))
		}
	}
	return out
}

func hasWords(t fataler, text string, words []string) {
	t.Helper()
	text = squeezed(text)
	for _, w := range words {
		if !strings.Contains(text, squeezed(w)) {
			t.Fatalf("%q does not stand in\n%s", w, text)
		}
	}
}

// Both forms hold what the plan has, on two pages at the most, and a line for each thing
// that only the rider can know.
func TestHomeOfExamples(t *testing.T) {
	for _, name := range []string{"steppe", "canyon"} {
		p := examplePlan(t, name)
		b := homeHTML(t, p)
		asksNothing(t, b)
		hasWords(t, parsePage(t, b).text, homeWords(p))
		if n := blanks(parsePage(t, b)); n != len(homeKeys) {
			t.Errorf("%s: %d lines to fill in, want %d", name, n, len(homeKeys))
		}
		if !bytes.Equal(b, homeHTML(t, p)) {
			t.Error("the same plan gives other bytes")
		}
		t.Run(name+" pdf", func(t *testing.T) {
			needTool(t, "pdftotext", "pdffonts")
			pdf := homePDF(t, p)
			hasWords(t, tool(t, pdf, "pdftotext", "-raw", "-", "-"), homeWords(p))
			laidWell(t, pdf, homeMargin)
			inBlack(t, pdf, 10)
			embedded(t, pdf)
			if _, sizes := words(t, pdf); len(sizes) > 2 || math.Abs(sizes[0][0]/72*25.4-210) > 0.1 || math.Abs(sizes[0][1]/72*25.4-297) > 0.1 {
				t.Errorf("pages of %v pt, want at most two of A4, 210 by 297 mm (ISO 216)", sizes)
			}
			if !bytes.Equal(pdf, homePDF(t, p)) {
				t.Error("the same plan gives other bytes")
			}
		})
	}
}

// nasty are texts that break out of a page or a PDF that does not escape them.
var nasty = []string{`<script>alert(1)</script>`, `</dd></dl><img src=x onerror=alert(1)>`, `"' & &amp; {{.}}`, `) Tj ET (\) \`, `-->`, `</style>`,
	strings.Repeat("x", 300), "Қазақ 東京"}

// What is said stands there as it is, and in the place of a line to fill in.
func TestHomeContacts(t *testing.T) {
	p := namedPlan(t, "A", "B")
	for i, key := range homeKeys {
		c := report.Contact{Key: key, Text: nasty[i%len(nasty)]}
		b := homeHTML(t, p, c)
		asksNothing(t, b)
		got := parsePage(t, b)
		hasWords(t, got.text, []string{c.Text})
		if n := blanks(got); n != len(homeKeys)-1 {
			t.Errorf("%s: %d lines to fill in", key, n)
		}
	}
	var all []report.Contact
	for i, key := range homeKeys {
		all = append(all, report.Contact{Key: key, Text: "one " + key}, report.Contact{Key: key, Text: nasty[i%(len(nasty)-1)]})
	}
	var want []string
	for _, c := range all {
		want = append(want, c.Text)
	}
	got := parsePage(t, homeHTML(t, p, all...))
	hasWords(t, got.text, want)
	if n := blanks(got); n != 0 {
		t.Errorf("%d lines to fill in where all is said", n)
	}
	needTool(t, "pdftotext")
	pdf := homePDF(t, p, all...)
	hasWords(t, tool(t, pdf, "pdftotext", "-raw", "-", "-"), want)
	laidWell(t, pdf, homeMargin)
}

// Names and texts of any kind break neither form.
func TestHomeOfDrawnPlans(t *testing.T) {
	needTool(t, "pdftotext")
	rapid.Check(t, func(t *rapid.T) {
		p := drawPlan(t)
		var contacts []report.Contact
		for range rapid.IntRange(0, 4).Draw(t, "contacts") {
			c, err := report.ParseContact(rapid.SampledFrom(homeKeys).Draw(t, "key") + ": " + rapid.String().Draw(t, "text") + "x")
			if err != nil {
				t.Fatal(err)
			}
			contacts = append(contacts, c)
		}
		b := homeHTML(t, p, contacts...)
		asksNothing(t, b)
		hasWords(t, parsePage(t, b).text, homeWords(p))
		pdf := homePDF(t, p, contacts...)
		laidWell(t, pdf, homeMargin)
		hasWords(t, tool(t, pdf, "pdftotext", "-raw", "-", "-"), homeWords(p))
		if !bytes.Equal(b, homeHTML(t, p, contacts...)) || !bytes.Equal(pdf, homePDF(t, p, contacts...)) {
			t.Fatal("the same plan gives other bytes")
		}
	})
}

// The pages of a long PDF cut no row of the table: the coordinates of a pump stand on the
// page of its name.
func TestHomeCutsNoRow(t *testing.T) {
	needTool(t, "pdftotext")
	var names []string
	for i := range 60 {
		names = append(names, fmt.Sprintf("Stop %d Somewhere", i))
	}
	p := namedPlan(t, names...)
	pdf := homePDF(t, p)
	laidWell(t, pdf, homeMargin)
	pages := strings.Split(tool(t, pdf, "pdftotext", "-raw", "-", "-"), "\f")
	if len(pages) < 4 {
		t.Fatalf("%d pages", len(pages))
	}
	for _, s := range p.Stops {
		row := squeezed(fmt.Sprintf("%.4f, %.4f, phone %s", s.At[1], s.At[0], s.Phone))
		if !slices.ContainsFunc(pages, func(page string) bool {
			page = squeezed(page)
			return strings.Contains(page, row) && strings.Contains(page, squeezed(s.Name)) && strings.Contains(page, "Theleg")
		}) {
			t.Errorf("%s is cut, or the heads of its table are missing", s.Name)
		}
	}
}

// The contrast of every text colour on its paper is at least 4.5 to 1 (WCAG 2.2, 1.4.3; the
// formulas of relative luminance and contrast ratio there), in light, in dark and in print.
func TestHomeContrast(t *testing.T) {
	css := parsePage(t, homeHTML(t, namedPlan(t, "A"))).all("style")[0].FirstChild.Data
	roots := regexp.MustCompile(`:root \{([^}]*)\}`).FindAllStringSubmatch(css, -1)
	if len(roots) != 3 {
		t.Fatalf("%d sets of colours", len(roots))
	}
	for _, root := range roots {
		colours := map[string]float64{}
		for _, m := range regexp.MustCompile(`--(\w+): #(\w+);`).FindAllStringSubmatch(root[1], -1) {
			colours[m[1]] = luminance(t, m[2])
		}
		for _, name := range []string{"ink", "soft", "seen"} {
			a, b := colours[name], colours["paper"]
			if ratio := (max(a, b) + 0.05) / (min(a, b) + 0.05); !(ratio >= 4.5) {
				t.Errorf("%s on paper: %.1f to 1 in%s", name, ratio, root[1])
			}
		}
	}
}

func luminance(t *testing.T, hex string) float64 {
	t.Helper()
	if len(hex) == 3 {
		hex = string([]byte{hex[0], hex[0], hex[1], hex[1], hex[2], hex[2]})
	}
	l := 0.0
	for i, weight := range []float64{0.2126, 0.7152, 0.0722} {
		n, err := strconv.ParseUint(hex[2*i:2*i+2], 16, 8)
		if err != nil {
			t.Fatal(err)
		}
		c := float64(n) / 255
		if c <= 0.04045 {
			c /= 12.92
		} else {
			c = math.Pow((c+0.055)/1.055, 2.4)
		}
		l += weight * c
	}
	return l
}

func TestParseContact(t *testing.T) {
	for _, key := range homeKeys {
		c, err := report.ParseContact(" " + strings.ToUpper(key) + " :  at 8:00,\n if dry ")
		if err != nil || c != (report.Contact{Key: key, Text: "at 8:00, if dry"}) {
			t.Errorf("%s: %+v, %v", key, c, err)
		}
	}
	for s, hint := range map[string]string{"ridr: Anna": `did you mean "rider"?`, "Anna": "write KEY: TEXT", "worry:": "a line to fill in", "zebra: x": "rider, with, bike"} {
		_, err := report.ParseContact(s)
		var ve *route.ValueError
		if !errors.As(err, &ve) || !strings.Contains(ve.Hint, hint) {
			t.Errorf("%q: %v with %+v", s, err, ve)
		}
		for _, key := range homeKeys {
			if ve != nil && !strings.Contains(ve.Hint, key) {
				t.Errorf("%q: the hint does not name %s", s, key)
			}
		}
	}
}
