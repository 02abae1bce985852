package paper_test

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

	"lastpump/cmd/lastpump/internal/report/paper"
	"lastpump/cmd/lastpump/internal/report/samples"
	"lastpump/cmd/lastpump/internal/words"
	"lastpump/cmd/lastpump/internal/words/trail"
	"lastpump/fuel/leg"
	"lastpump/fuel/plan"
	"lastpump/fuel/stop"
	"lastpump/route"
	"lastpump/route/input"

	"github.com/paulmach/orb"
	"pgregory.net/rapid"
)

// homeKeys are the keys of --contact.
var homeKeys = []string{"rider", "with", "looks", "medical", "bike", "leave", "back", "worry", "call", "zone", "checks", "who",
	"beacon", "messenger", "supplies", "insurance", "embassy", "carries", "note"}

func homeHTML(t samples.T, p samples.Plan, contacts ...paper.Contact) []byte {
	t.Helper()
	var b bytes.Buffer
	if err := paper.WriteHomeHTML(&b, p.Plan, p.Units, contacts); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

func homePDF(t samples.T, p samples.Plan, contacts ...paper.Contact) []byte {
	t.Helper()
	var b bytes.Buffer
	if err := paper.WriteHomePDF(&b, p.Plan, p.Units, contacts); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

func blanks(p samples.Page) (n int) {
	for _, d := range p.All("dd") {
		if slices.Contains(strings.Fields(samples.Attribute(d, "class")), "blank") {
			n++
		}
	}
	return n
}

// homeElements are all that the page is made of: nothing that runs or asks for anything.
var homeElements = strings.Fields("html head meta title style body main h1 h2 p section dl dt dd " +
	"table caption colgroup col thead tbody tr th td span bdi figure figcaption svg path circle text")

// asksNothing checks that a page has no script and makes no request, and is one that a
// screen reader can follow.
func asksNothing(t samples.T, b []byte) {
	t.Helper()
	p := samples.Parse(t, b)
	for _, n := range p.Elements {
		if !slices.Contains(homeElements, n.Data) {
			t.Fatalf("an element %s", n.Data)
		}
		for _, a := range n.Attr {
			if !slices.Contains([]string{"lang", "charset", "http-equiv", "content", "name", "class", "scope", "style",
				"viewbox", "viewBox", "role", "aria-label", "d", "cx", "cy", "r", "x", "y"}, a.Key) {
				t.Fatalf("an attribute %s=%q", a.Key, a.Val)
			}
		}
	}
	if css := p.All("style")[0].FirstChild.Data; regexp.MustCompile(`(?i)url\(|@import|@font-face`).MatchString(css) {
		t.Fatal("the style asks for something")
	}
	policy := ""
	for _, m := range p.All("meta") {
		if samples.Attribute(m, "http-equiv") == "Content-Security-Policy" {
			policy = samples.Attribute(m, "content")
		}
	}
	if policy != "default-src 'none'; style-src 'unsafe-inline'" ||
		samples.Attribute(p.All("html")[0], "lang") != "en" || p.All("title")[0].FirstChild == nil {
		t.Fatalf("policy %q, or no language or title", policy)
	}
	if tables := len(p.All("table")); tables != 3 || len(p.All("caption")) != tables {
		t.Fatalf("%d tables, %d captions", tables, len(p.All("caption")))
	}
	for _, h := range p.All("th") {
		if samples.Attribute(h, "scope") == "" {
			t.Fatal("a head without a scope")
		}
	}
}

// homeWords gives what has to stand on the sheet.
func homeWords(p samples.Plan) []string {
	u := p.Units
	floor := func(m route.Metres) string { return whole(math.Floor(distance(u, m) + 1e-9)) }
	out := append([]string{p.Bike.Name, "of these doubts and "}, p.Answer()...)
	if len(homeDoubts(p)) == 0 { // another bike of a group may have some
		out[1] = "The rider"
	}
	out = append(out, homeDoubts(p)...)
	// Common practice, no source: what is always said.
	out = append(out, "carry water", "on the ground, engine off", "upright and closed",
		"local law", "maker's manual", "A pump may be dry")
	for _, d := range p.Days {
		out = append(out, d.Leave.Format("Mon 2 Jan"), floor(d.From)+"–"+floor(d.To))
	}
	for _, part := range p.Line.Parts {
		if len(p.Days) > 0 { // its days stand there instead
			break
		}
		if p.Here != nil && part.To <= p.Here.At {
			continue
		}
		end := p.Line.At(part.To)
		out = append(out, part.Name, floor(part.From)+"–"+floor(part.To), fmt.Sprintf("%.4f, %.4f; ", end[1], end[0])+minutes(end))
	}
	for i, l := range p.Legs {
		_, to := words.EndsOf(p.Plan, i)
		at := p.Line.At(l.ToAt)
		if l.ToVisit >= 0 {
			s := p.Visits[l.ToVisit].Stop
			at = s.At
			out = append(out, s.Phone, strings.ReplaceAll(s.Hours, " ", ""))
		}
		out = append(out, to, floor(l.ToAt), fmt.Sprintf("%.4f, %.4f", at[1], at[0])+minutes(at), string(l.Verdict))
		lastFuel := l.FromVisit >= 0 && p.Visits[l.FromVisit].LastFuel != nil
		barely := l.ToVisit >= 0 && p.Visits[l.ToVisit].IfDry != nil &&
			(p.Visits[l.ToVisit].IfDry.Outcome == leg.Stranded || p.Visits[l.ToVisit].IfDry.Bare)
		if barely && p.Visits[l.ToVisit].IfDry.Bare {
			out = append(out, "not if thirsty")
		}
		if l.TurnBackBy > 0 && l.TurnBackBy < l.Trip(p.Bike) { // as on the strip
			back := p.Line.At(l.TurnBackByAt)
			s := fmt.Sprintf("turn back by trip %s %s: %.4f, %.4f", floor(l.TurnBackBy), u.DistanceUnit(), back[1], back[0])
			if l.Verdict != leg.OK || lastFuel || barely {
				s += ", " + minutes(back)
			}
			out = append(out, s)
		}
	}
	return out
}

// minutes writes a place in degrees and minutes: the degrees, and 60 times what is over, to a
// hundredth, with the letter of the hemisphere.
func minutes(p orb.Point) string {
	one := func(v float64, plus, minus string) string {
		if v < 0 {
			v, plus = -v, minus
		}
		whole, rest := math.Floor(v), 0.0
		if rest = math.Round((v-whole)*6000) / 100; rest >= 60 {
			whole, rest = whole+1, 0
		}
		return fmt.Sprintf("%d°%05.2f′%s", int(whole), rest, plus)
	}
	return one(p[1], "N", "S") + " " + one(p[0], "E", "W")
}

// homeDoubts gives what the sheet has to begin with.
func homeDoubts(p samples.Plan) (out []string) {
	for i, l := range p.Legs {
		if _, to := words.EndsOf(p.Plan, i); l.Verdict != leg.OK && p.Group != nil { // it may be worse for another bike
			out = append(out, fmt.Sprintf("leg %d to %s is ", i+1, to))
		} else if l.Verdict != leg.OK {
			out = append(out, fmt.Sprintf("leg %d to %s is %s", i+1, to, l.Verdict))
		} else if l.FromVisit >= 0 && p.Visits[l.FromVisit].LastFuel != nil {
			out = append(out, "behind the last sure pump", to)
		}
	}
	for _, v := range p.Visits {
		if v.Fill != nil && (v.Stop.Standing == stop.Map || !v.Stop.HasConfirmed) {
			out = append(out, v.Stop.Name)
		}
	}
	if len(p.Plan.Answer.Below) > 0 {
		out = append(out, fmt.Sprintf("below %s on %d of %d legs", p.Bike.Needs, len(p.Plan.Answer.Below), len(p.Legs)))
	}
	return out
}

func hasWords(t samples.T, text string, words []string) {
	t.Helper()
	text = samples.Squeezed(text)
	for _, w := range words {
		if !strings.Contains(text, samples.Squeezed(w)) {
			t.Fatalf("%q does not stand in\n%s", w, text)
		}
	}
}

// Both forms hold what the plan has, on two pages at the most, and a line for each thing
// that only the rider can know.
func TestHomeOfExamples(t *testing.T) {
	for _, name := range []string{"steppe", "canyon"} {
		p := samples.Example(t, name)
		b := homeHTML(t, p)
		asksNothing(t, b)
		hasWords(t, samples.Parse(t, b).Text, homeWords(p))
		if n := blanks(samples.Parse(t, b)); n != len(homeKeys) {
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
			inBlack(t, pdf, 9)
			embedded(t, pdf)
			if _, sizes := printed(t, pdf); len(sizes) > 2 || math.Abs(sizes[0][0]/72*25.4-210) > 0.1 ||
				math.Abs(sizes[0][1]/72*25.4-297) > 0.1 {
				t.Errorf("pages of %v pt, want at most two of A4, 210 by 297 mm (ISO 216)", sizes)
			}
			if !bytes.Equal(pdf, homePDF(t, p)) {
				t.Error("the same plan gives other bytes")
			}
		})
	}
}

// nasty are texts that break out of a page or a PDF that does not escape them.
var nasty = []string{`<script>alert(1)</script>`, `</dd></dl><img src=x onerror=alert(1)>`, `"' & &amp; {{.}}`,
	`) Tj ET (\) \`, `-->`, `</style>`,
	strings.Repeat("x", 300), "Қазақ 東京"}

// What is said stands there as it is, and in the place of a line to fill in.
func TestHomeContacts(t *testing.T) {
	p := samples.Named(t, "A", "B")
	for i, key := range homeKeys {
		c := paper.Contact{Key: key, Text: nasty[i%len(nasty)]}
		b := homeHTML(t, p, c)
		asksNothing(t, b)
		got := samples.Parse(t, b)
		hasWords(t, got.Text, []string{c.Text})
		if n := blanks(got); n != len(homeKeys)-1 {
			t.Errorf("%s: %d lines to fill in", key, n)
		}
	}
	var all []paper.Contact
	for i, key := range homeKeys {
		all = append(all, paper.Contact{Key: key, Text: "one " + key}, paper.Contact{Key: key, Text: nasty[i%(len(nasty)-1)]})
	}
	var want []string
	for _, c := range all {
		want = append(want, c.Text)
	}
	got := samples.Parse(t, homeHTML(t, p, all...))
	hasWords(t, got.Text, want)
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
		p := samples.Draw(t)
		var contacts []paper.Contact
		for range rapid.IntRange(0, 4).Draw(t, "contacts") {
			key := rapid.SampledFrom(homeKeys).Draw(t, "key")
			c, err := paper.ParseContact(key + ": " + rapid.String().Draw(t, "text") + "x")
			if err != nil {
				t.Fatal(err)
			}
			contacts = append(contacts, c)
		}
		b := homeHTML(t, p, contacts...)
		asksNothing(t, b)
		hasWords(t, samples.Parse(t, b).Text, homeWords(p))
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
	p := samples.Named(t, names...)
	pdf := homePDF(t, p)
	laidWell(t, pdf, homeMargin)
	pages := strings.Split(tool(t, pdf, "pdftotext", "-raw", "-", "-"), "\f")
	if len(pages) < 4 {
		t.Fatalf("%d pages", len(pages))
	}
	for _, s := range p.Stops {
		row := samples.Squeezed(fmt.Sprintf("%.4f, %.4f", s.At[1], s.At[0]))
		if !slices.ContainsFunc(pages, func(page string) bool {
			page = samples.Squeezed(page)
			return strings.Contains(page, row) && strings.Contains(page, samples.Squeezed(s.Phone)) && strings.Contains(page, samples.Squeezed(s.Name)) &&
				strings.Contains(page, "Theleg")
		}) {
			t.Errorf("%s is cut, or the heads of its table are missing", s.Name)
		}
	}
}

// The contrast of every text colour on its paper is at least 4.5 to 1 (WCAG 2.2, 1.4.3; the
// formulas of relative luminance and contrast ratio there), in light, in dark and in print.
func TestHomeContrast(t *testing.T) {
	css := samples.Parse(t, homeHTML(t, samples.Named(t, "A"))).All("style")[0].FirstChild.Data
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
		c, err := paper.ParseContact(" " + strings.ToUpper(key) + " :  at 8:00,\n if dry ")
		if err != nil || c != (paper.Contact{Key: key, Text: "at 8:00, if dry"}) {
			t.Errorf("%s: %+v, %v", key, c, err)
		}
	}
	for s, hint := range map[string]string{
		"ridr: Anna": `did you mean "rider"?`, "Anna": "write KEY: TEXT", "worry:": "a line to fill in",
		"zebra: x": "rider, with, looks",
	} {
		_, err := paper.ParseContact(s)
		var ve *input.ValueError
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

// Degrees and minutes, worked by hand: 0.5° is 30′, 59.996′ is rounded up to the next degree.
func TestMinutes(t *testing.T) {
	for want, at := range map[string]orb.Point{
		"47°30.00′N 95°15.00′E":  {95.25, 47.5},
		"38°07.50′S 110°00.60′W": {-110.01, -38.125},
		"48°00.00′N 0°00.01′E":   {0.00016, 47 + 59.996/60},
		"0°00.00′N 180°00.00′W":  {-180, 0},
	} {
		if got := trail.Minutes(at); got != want {
			t.Errorf("%v is %s, want %s", at, got, want)
		}
	}
}

// The sheet begins with what the rider knows already; where a ride goes on from says what is
// in the tank there.
func TestHomeSaysWhatIsKnown(t *testing.T) {
	p := samples.Example(t, "steppe")
	text := samples.Squeezed(samples.Parse(t, homeHTML(t, p)).Text)
	first := samples.Squeezed("The rider knows of these doubts and carries cans of 5 L + 4 L: behind the last sure pump: leg 2 to Narsu Camp, leg 8 to Kembil; nobody is sure of Narsu Camp")
	if at := strings.Index(text, first); at < 0 || at > strings.Index(text, "Setsout") {
		t.Errorf("%q does not stand before the fields: %s", first, text[:600])
	}
	if strings.Contains(text, "Inthetanknow") {
		t.Error("a ride that has not begun has something in the tank now")
	}
	p = samples.ExampleWith(t, "steppe", func(in *plan.Inputs) {
		in.Options.FromStop, in.Options.StartFuel, in.Options.HasStartFuel = "Sulmeg", 6, true
	})
	want := "In the tank now, at Sulmeg, km 753: 6.0 L of 93.6 RON" // as the whole plan leaves the tank there
	if text := samples.Squeezed(samples.Parse(t, homeHTML(t, p)).Text); !strings.Contains(text, samples.Squeezed(want)) {
		t.Errorf("%q does not stand in %s", want, text)
	}
}
