package report_test

import (
	"bytes"
	"errors"
	"fmt"
	"math"
	"regexp"
	"slices"
	"strings"
	"testing"
	"time"

	"lastpump/cmd/lastpump/internal/report"
	"lastpump/fuel/plan"
	"lastpump/octane"
	"lastpump/route"

	"pgregory.net/rapid"
)

var stripPapers = []report.StripPaper{report.StripRoll, report.StripA6, report.StripA5}

func stripOf(t fataler, p *plan.Plan, paper report.StripPaper) []byte {
	t.Helper()
	var b bytes.Buffer
	if err := report.WriteStrip(&b, p, paper); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

// nearest rounds a trip figure as a rider reads it: whole, with a decimal under ten.
func nearest(x float64) string {
	if x >= 0.05 && x < 9.95 {
		return fmt.Sprintf("%.1f", math.Round(x*10)/10)
	}
	return fmt.Sprintf("%.0f", x)
}

// cueFigure gives what has to stand on the trip meter at a cue: to the safe side where one
// turns back or pours.
func cueFigure(p *plan.Plan, c plan.Cue) string {
	at := distance(p.Options.Units, c.Trip)
	switch c.Kind {
	case plan.CueTurnBack:
		return whole(math.Floor(at + 1e-9))
	case plan.CuePour:
		u := p.Can.Uses[c.Use]
		from, by := math.Ceil(distance(p.Options.Units, u.FullAt)-1e-9), math.Floor(distance(p.Options.Units, u.PourBy)+1e-9)
		if u.Full > 0 && from > by {
			return whole(by)
		}
		return whole(math.Ceil(at - 1e-9))
	}
	return nearest(at)
}

// cueWords gives what has to stand on the paper for a cue, in its order.
func cueWords(p *plan.Plan, c plan.Cue) []string {
	figure := cueFigure(p, c)
	switch c.Kind {
	case plan.CueStart:
		return append([]string{figure + p.NameOf("start"), downIn(p.Options.Units, p.Start.Fuel) + " in the tank", "ZERO THE TRIP"}, aheadWords(p, 0)...)
	case plan.CuePart:
		if c.Trip <= 0 {
			figure = ""
		}
		return []string{figure + p.Line.Parts[c.Part].Name}
	case plan.CuePour:
		return []string{figure + "POUR THE CAN", p.Can.Uses[c.Use].Pouring(p.Options.Units)}
	case plan.CueTurnBack:
		from, _ := p.Ends(c.Leg)
		return []string{figure + "TURN BACK", "back to " + from}
	case plan.CueEnd:
		return []string{figure + p.NameOf("end"), "THE RIDE ENDS"}
	}
	return fillWords(p, c)
}

func fillWords(p *plan.Plan, c plan.Cue) []string {
	u, v := p.Options.Units, p.Visits[c.Visit]
	out := []string{cueFigure(p, c) + v.Stop.Name}
	if v.LastFuel {
		out = append(out, "LAST SURE FUEL")
	}
	grade := "grade ?"
	if v.Fill.HasGrade {
		grade = v.Fill.Grade.String()
	}
	out = append(out, "FILL "+upIn(u, v.Fill.Litres)+" of "+grade)
	if c.Use >= 0 {
		if can := p.Can.Uses[c.Use]; can.Full > 0 {
			out = append(out, "FILL THE CAN: "+fmt.Sprintf("%v L", float64(can.Full)))
		} else {
			out = append(out, "TAKE "+upIn(u, can.Litres)+" MORE")
		}
	}
	last := c.Leg+1 == len(p.Legs)
	if last {
		out = append(out, "THE RIDE ENDS")
	} else {
		out = append(out, "ZERO THE TRIP")
	}
	if v.Off > 300 {
		out = append(out, fmt.Sprintf("%.1f %s off the line", distance(u, v.Off), u.DistanceUnit()))
	}
	switch d := v.IfDry; {
	case d == nil:
	case d.Outcome == plan.Stranded:
		out = append(out, "IF DRY: STRANDED", upIn(u, -d.Spare)+" short of "+p.NameOf(d.To))
	default:
		out = append(out, fmt.Sprintf("if dry: %s to %s, %s spare", d.Outcome, p.NameOf(d.To), downIn(u, d.Spare)))
	}
	if last {
		return out
	}
	return append(out, aheadWords(p, c.Leg+1)...)
}

func aheadWords(p *plan.Plan, leg int) (out []string) {
	l := p.Legs[leg]
	_, to := p.Ends(leg)
	floor := func(m route.Metres) string { return whole(math.Floor(distance(p.Options.Units, m) + 1e-9)) }
	switch l.Verdict {
	case plan.Short:
		out = append(out, "SHORT", upIn(p.Options.Units, l.Short)+" too little to reach "+to)
	case plan.Tight:
		out = append(out, "TIGHT")
	}
	if l.Mixture.Verdict == octane.Below {
		out = append(out, "LOW GRADE")
	}
	return append(out, "next at "+nearest(distance(p.Options.Units, l.Trip(p.Bike)))+": "+to,
		"reserve whole to "+floor(l.SafeTo), "dry at "+floor(l.DryAtHigh)+"–"+floor(l.DryAt))
}

// hasCues checks that all that a plan asks for stands on a strip, in the order of the ride
// and each cue on one page where cards are not too small for it.
func hasCues(t fataler, p *plan.Plan, pdf []byte, onePage bool) {
	t.Helper()
	pages := strings.Split(tool(t, pdf, "pdftotext", "-raw", "-", "-"), "\f")
	for i := range pages {
		pages[i] = squeezed(regexp.MustCompile(`\n\d+ of \d+\n*$`).ReplaceAllString(pages[i], ""))
	}
	if !onePage {
		pages = []string{strings.Join(pages, "")}
	}
	page, at := 0, 0
	for i, c := range p.Roll {
		for k, w := range cueWords(p, c) {
			w = squeezed(w)
			found := strings.Index(pages[page][at:], w)
			for found < 0 && k == 0 && page+1 < len(pages) {
				page, at = page+1, 0
				found = strings.Index(pages[page], w)
			}
			if found < 0 {
				t.Fatalf("cue %d, %s at %.0f m: %q does not stand in\n%s", i, c.Kind, float64(c.Trip), w, pages[page][at:])
			}
			at += found + len(w)
		}
	}
}

// What the plan asks for stands on the strip of the examples: in black, large, on its page.
func TestStripOfExamples(t *testing.T) {
	needTool(t, "pdftotext", "pdffonts")
	for _, name := range []string{"steppe", "canyon"} {
		p := examplePlan(t, name)
		for _, paper := range stripPapers {
			t.Run(name+" "+string(paper), func(t *testing.T) {
				pdf := stripOf(t, p, paper)
				hasCues(t, p, pdf, true)
				laidWell(t, pdf, stripMargins[paper])
				inBlack(t, pdf, 12)
				embedded(t, pdf)
				bigFigures(t, p, pdf)
				if text := squeezed(tool(t, pdf, "pdftotext", "-raw", "-", "-")); !strings.Contains(text, squeezed(p.Name)) ||
					!strings.Contains(text, squeezed(p.Answer[0])) || !strings.Contains(text, squeezed(p.Bike.Name)) || !strings.Contains(text, "Carrywater.") {
					t.Errorf("head or foot is missing:\n%s", text)
				}
			})
		}
	}
}

// bigFigures checks that the trip figures are 20 pt or more: the box of a word is as high
// as the ascent and descent of the face, 0.928 + 0.236 of its size (its hhea table).
func bigFigures(t *testing.T, p *plan.Plan, pdf []byte) {
	t.Helper()
	all, _ := words(t, pdf)
	var big []string
	for _, w := range all {
		if w.foot-w.top >= 20*1.16 && regexp.MustCompile(`^[\d.]+$`).MatchString(w.text) {
			big = append(big, w.text)
		}
	}
	var want []string
	for _, c := range p.Roll {
		if c.Kind != plan.CuePart || c.Trip > 0 {
			want = append(want, cueFigure(p, c))
		}
	}
	if !slices.Equal(big, want) {
		t.Errorf("big figures %v, the roll has %v", big, want)
	}
}

// A cue that is higher than a card goes on on the next one, which says whose it is.
func TestStripGoesOn(t *testing.T) {
	needTool(t, "pdftotext")
	p := namedPlan(t, "A", "B", "C")
	i := slices.IndexFunc(p.Visits, func(v plan.Visit) bool { return v.Stop.Name == "B" })
	for k := range 60 {
		p.Visits[i].Also = append(p.Visits[i].Also, fmt.Sprintf("Neighbour %d", k))
	}
	fill := slices.IndexFunc(p.Roll, func(c plan.Cue) bool { return c.Visit == i })
	head := regexp.MustCompile(`(?m)^` + cueFigure(p, p.Roll[fill]) + `\s+B$`)
	pdf := stripOf(t, p, report.StripA6)
	laidWell(t, pdf, stripMargins[report.StripA6])
	with := 0
	for _, text := range strings.Split(tool(t, pdf, "pdftotext", "-raw", "-", "-"), "\f") {
		if strings.Contains(text, "Neighbour") {
			with++
			if !head.MatchString(text) {
				t.Errorf("a card does not say whose it is: %s", text)
			}
		}
	}
	if with < 2 {
		t.Errorf("60 neighbours on %d cards", with)
	}
}

// The pages have the size of the paper (57 mm; ISO 216: A6 105 by 148 mm, A5 148 by 210 mm)
// and say which they are.
func TestStripPages(t *testing.T) {
	needTool(t, "pdftotext")
	p := examplePlan(t, "steppe")
	for paper, want := range map[report.StripPaper][2]float64{report.StripRoll: {57, 0}, report.StripA6: {105, 148}, report.StripA5: {148, 210}} {
		pdf := stripOf(t, p, paper)
		_, sizes := words(t, pdf)
		for _, z := range sizes {
			if math.Abs(z[0]/72*25.4-want[0]) > 0.1 || want[1] > 0 && math.Abs(z[1]/72*25.4-want[1]) > 0.1 {
				t.Errorf("%s: a page of %v pt", paper, z)
			}
		}
		if paper == report.StripRoll {
			if len(sizes) != 1 {
				t.Errorf("the roll has %d pages", len(sizes))
			}
			continue
		}
		for i, text := range strings.Split(strings.TrimSuffix(tool(t, pdf, "pdftotext", "-raw", "-", "-"), "\f"), "\f") {
			if end := fmt.Sprintf("%d of %d", i+1, len(sizes)); !strings.HasSuffix(strings.TrimSpace(text), end) {
				t.Errorf("%s: page %d does not end in %q: %q", paper, i+1, end, text)
			}
		}
	}
}

// A page of PDF is at most 14400 pt high (ISO 32000-1, annex C): a longer roll goes on on
// another.
func TestStripOfManyStops(t *testing.T) {
	needTool(t, "pdftotext")
	var names []string
	for i := range 70 {
		names = append(names, fmt.Sprintf("Stop %d", i))
	}
	p := namedPlan(t, names...)
	pdf := stripOf(t, p, report.StripRoll)
	_, sizes := words(t, pdf)
	if len(sizes) < 2 {
		t.Fatalf("%d page", len(sizes))
	}
	for _, z := range sizes {
		if z[1] > 14400 {
			t.Errorf("a page of %v pt", z)
		}
	}
	hasCues(t, p, pdf, true)
	laidWell(t, pdf, stripMargins[report.StripRoll])
}

// Names of any kind do not break a strip.
func TestStripOfDrawnPlans(t *testing.T) {
	needTool(t, "pdftotext")
	rapid.Check(t, func(t *rapid.T) {
		p := drawPlan(t)
		paper := rapid.SampledFrom(stripPapers).Draw(t, "paper")
		pdf := stripOf(t, p, paper)
		hasCues(t, p, pdf, false)
		laidWell(t, pdf, stripMargins[paper])
		inBlack(t, pdf, 12)
		if !bytes.Equal(pdf, stripOf(t, p, paper)) {
			t.Fatal("the same plan gives other bytes")
		}
	})
}

// printable are names whose letters the faces have: Kazakh, Mongolian, Azeri, Greek,
// Vietnamese, Icelandic, a combining accent, and one that is longer than any line.
var printable = []string{"Қызылөзен Үңгір Ғабит", "Өвөрхангай Ценхэрмандал", "Şəki Gəncə ığdır", "Καλαμπάκα Μετέωρα", "Quận Đắk Lắk, Ngã Ba Ẩm",
	"Þingvellir Hálslón", "Cafe\u0301 Zoe\u0308", "Приаргунскокраснокаменскозабайкальская-нефтебаза-номер-пятнадцать"}

func TestStripPrintsLetters(t *testing.T) {
	needTool(t, "pdftotext")
	p := namedPlan(t, printable...)
	for _, paper := range stripPapers {
		pdf := stripOf(t, p, paper)
		text := squeezed(tool(t, pdf, "pdftotext", "-raw", "-", "-"))
		laidWell(t, pdf, stripMargins[paper])
		for _, name := range printable {
			name = strings.NewReplacer("e\u0301", "é", "e\u0308", "ë").Replace(name)
			if !strings.Contains(text, squeezed(name)) {
				t.Errorf("%s: %q does not stand in\n%s", paper, name, text)
			}
		}
		if strings.Contains(text, "□") {
			t.Errorf("%s: a letter is said to be missing", paper)
		}
	}
}

// What cannot be printed does not vanish: a box for each letter, the coordinates beside
// the name, and a word at the foot.
func TestStripSaysWhatItCannotPrint(t *testing.T) {
	needTool(t, "pdftotext")
	p := namedPlan(t, "東京", "واحة", "Camp 🏕")
	for _, paper := range stripPapers {
		text := squeezed(tool(t, stripOf(t, p, paper), "pdftotext", "-raw", "-", "-"))
		for i, name := range []string{"□□", "□□□□", "Camp □"} {
			want := squeezed(fmt.Sprintf("%s (%.4f, %.4f)", name, p.Stops[i].At[1], p.Stops[i].At[0]))
			if !strings.Contains(text, want) {
				t.Errorf("%s: %q does not stand in\n%s", paper, want, text)
			}
		}
		if !strings.Contains(text, "couldnotbeprinted") {
			t.Errorf("%s: the foot does not say so", paper)
		}
	}
}

// A PDF says what it is, in which language, and is dated by the plan and not by a clock.
func TestPDFSaysWhatItIs(t *testing.T) {
	needTool(t, "pdfinfo")
	p := examplePlan(t, "steppe")
	for day, p := range map[string]*plan.Plan{"D:20260701000000": p, "D:19700101000000": undated(*p)} {
		for title, pdf := range map[string][]byte{p.Name + ": fuel strip": stripOf(t, p, report.StripA6), "Left at home: " + p.Name: homePDF(t, p)} {
			info := tool(t, pdf, "pdfinfo", "-rawdates", "-")
			for key, want := range map[string]string{"Title": title, "CreationDate": day, "ModDate": day, "Author": "lastpump"} {
				if !regexp.MustCompile(`(?m)^` + key + `: +` + regexp.QuoteMeta(want) + `$`).MatchString(info) {
					t.Errorf("%s is not %q in\n%s", key, want, info)
				}
			}
			if !bytes.Contains(pdf, []byte("/Lang (en)")) {
				t.Error("the PDF has no language")
			}
		}
	}
}

func undated(p plan.Plan) *plan.Plan {
	p.Options.Today = time.Time{}
	return &p
}

func TestParseStripPaper(t *testing.T) {
	for s, want := range map[string]report.StripPaper{"": report.StripRoll, "57mm": report.StripRoll, "A6": report.StripA6, "a5": report.StripA5} {
		if got, err := report.ParseStripPaper(s); err != nil || got != want {
			t.Errorf("%q is %q, %v", s, got, err)
		}
	}
	var ve *route.ValueError
	if _, err := report.ParseStripPaper("a4"); !errors.As(err, &ve) || !strings.Contains(ve.Hint, "57mm") {
		t.Errorf("a4: %v", err)
	}
}
