package paper_test

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

	"lastpump/cmd/lastpump/internal/report/paper"
	"lastpump/cmd/lastpump/internal/report/samples"
	"lastpump/cmd/lastpump/internal/words"
	"lastpump/fuel/leg"
	"lastpump/fuel/plan"
	"lastpump/fuel/plan/cue"
	"lastpump/fuel/stop"
	"lastpump/fuel/trip"
	"lastpump/octane"
	"lastpump/route"
	"lastpump/route/input"

	"pgregory.net/rapid"
)

var stripPapers = []paper.Format{paper.Roll, paper.A6, paper.A5, paper.A4}

func stripOf(t samples.T, p samples.Plan, format paper.Format) []byte {
	t.Helper()
	var b bytes.Buffer
	if err := paper.WriteStrip(&b, p.Plan, p.Units, format); err != nil {
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
func cueFigure(p samples.Plan, c cue.Cue) string {
	at := distance(p.Units, c.Trip)
	switch c.Kind {
	case cue.TurnBack:
		return whole(math.Floor(at + 1e-9))
	case cue.Pour:
		u := p.Can.Uses[c.Use]
		from, by := math.Ceil(distance(p.Units, u.FullAt)-1e-9), math.Floor(distance(p.Units, u.PourBy)+1e-9)
		if u.Full > 0 && from > by {
			return whole(by)
		}
		return whole(math.Ceil(at - 1e-9))
	}
	return nearest(at)
}

// cueWords gives what has to stand on the paper for a cue, in its order.
func cueWords(p samples.Plan, c cue.Cue) []string {
	figure := cueFigure(p, c)
	switch c.Kind {
	case cue.Start:
		return append([]string{figure + words.NameOf(p.Plan, p.Legs[0].From), downIn(p.Units, p.Start.Fuel) + " in the tank",
			"ZERO THE TRIP"}, aheadWords(p, 0)...)
	case cue.Part:
		if c.Trip <= 0 {
			return []string{p.Line.Parts[c.Part].Name}
		}
		return []string{figure + ": " + p.Line.Parts[c.Part].Name}
	case cue.Pour:
		return []string{figure + "POUR THE CAN", p.Say().Pouring(p.Can.Uses[c.Use])}
	case cue.TurnBack:
		from, _ := words.EndsOf(p.Plan, c.Leg)
		return []string{figure + "TURN BACK", "back to " + from}
	case cue.End:
		return []string{figure + words.NameOf(p.Plan, p.Legs[len(p.Legs)-1].To), "THE RIDE ENDS"}
	}
	return fillWords(p, c)
}

func fillWords(p samples.Plan, c cue.Cue) []string {
	u, v := p.Units, p.Visits[c.Visit]
	out := []string{cueFigure(p, c) + v.Stop.Name}
	if v.LastFuel != nil {
		out = append(out, "FILL UP: DOUBTFUL AHEAD")
	}
	grade := ", grade unknown"
	if v.Fill.HasGrade {
		grade = " of " + v.Fill.Grade.String()
	}
	out = append(out, "FILL "+upIn(u, v.Fill.Litres)+grade)
	if c.Use >= 0 {
		out = append(out, "FILL THE CAN: "+upIn(u, c.Can))
	}
	last := c.Leg+1 == len(p.Legs)
	if last {
		out = append(out, "THE RIDE ENDS")
	} else {
		out = append(out, "ZERO THE TRIP")
	}
	if v.Off > 300 {
		out = append(out, fmt.Sprintf("%.1f %s off the line, ", distance(u, v.Off), u.DistanceUnit()))
	}
	out = append(out, openWords(v.Stop)...)
	switch d := v.IfDry; {
	case d == nil:
	case d.Outcome == leg.Stranded:
		out = append(out, "IF DRY: STRANDED", upIn(u, -d.Spare)+" short of "+words.NameOf(p.Plan, d.To))
	default:
		to := words.NameOf(p.Plan, d.To)
		if d.To.HasStop() { // how sure that is, where it is not
			switch s := p.Stops[d.To.Stop]; {
			case s.Standing == "map":
				to += " (map)"
			case !s.HasConfirmed || s.Confirmed.Before(time.Date(2025, 7, 1, 0, 0, 0, 0, time.UTC)):
				to += " (not confirmed)"
			}
		}
		out = append(out, fmt.Sprintf("if dry: %s to %s, %s spare", d.Outcome, to, downIn(u, d.Spare)))
	}
	if last {
		return out
	}
	return append(out, aheadWords(p, c.Leg+1)...)
}

// openWords gives what has to stand of when a pump is open, what is paid with, and its
// telephone.
func openWords(s stop.Stop) (out []string) {
	hours, pay := "hours not known", "pay not known"
	if s.Hours != "" {
		hours = "open " + s.Hours
	}
	if s.Pay != "" {
		pay = "pay " + s.Pay
	}
	if out = append(out, hours+"; "+pay); s.Phone != "" {
		out = append(out, "phone "+s.Phone)
	}
	return out
}

func aheadWords(p samples.Plan, i int) (out []string) {
	l := p.Legs[i]
	_, to := words.EndsOf(p.Plan, i)
	floor := func(m route.Metres) string { return whole(math.Floor(distance(p.Units, m) + 1e-9)) }
	switch l.Verdict {
	case leg.Short:
		out = append(out, "SHORT", upIn(p.Units, l.Short)+" too little to reach "+to)
	case leg.Tight:
		out = append(out, "TIGHT")
	}
	if l.Mixture.Verdict == octane.Below {
		out = append(out, "LOW GRADE")
	}
	return append(out, "next at "+nearest(distance(p.Units, l.Trip(p.Bike)))+": "+to,
		"reserve untouched to "+floor(l.SafeTo)+"; ", "dry at "+floor(l.DryAt)+", at "+floor(l.DryAtHigh)+" if thirsty")
}

// hasCues checks that all that a plan asks for stands on a strip, in the order of the ride
// and each cue on one page where cards are not too small for it.
func hasCues(t samples.T, p samples.Plan, pdf []byte, onePage bool) {
	t.Helper()
	pages := strings.Split(tool(t, pdf, "pdftotext", "-raw", "-", "-"), "\f")
	for i := range pages {
		pages[i] = samples.Squeezed(regexp.MustCompile(`\n\d+ of \d+\n`).ReplaceAllString(pages[i]+"\n", "\n"))
	}
	if !onePage {
		pages = []string{strings.Join(pages, "")}
	}
	page, at := 0, 0
	for i, c := range p.Cues {
		for k, w := range cueWords(p, c) {
			w = samples.Squeezed(w)
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
		p := samples.Example(t, name)
		for _, format := range stripPapers {
			t.Run(name+" "+string(format), func(t *testing.T) {
				pdf := stripOf(t, p, format)
				hasCues(t, p, pdf, true)
				laidWell(t, pdf, stripMargins[format])
				inBlack(t, pdf, 12)
				embedded(t, pdf)
				bigFigures(t, p, pdf)
				text := samples.Squeezed(tool(t, pdf, "pdftotext", "-raw", "-", "-"))
				for _, want := range []string{p.Name, p.Answer()[0], p.Bike.Name, "Carry water."} {
					if !strings.Contains(text, samples.Squeezed(want)) {
						t.Errorf("%q is missing in head and foot:\n%s", want, text)
					}
				}
			})
		}
	}
}

// bigFigures checks that the trip figures are 20 pt or more: the box of a word is as high
// as the ascent and descent of the face, 0.928 + 0.236 of its size (its hhea table).
func bigFigures(t *testing.T, p samples.Plan, pdf []byte) {
	t.Helper()
	all, _ := printed(t, pdf)
	var big []string
	for _, w := range all {
		if w.foot-w.top >= 20*1.16 && regexp.MustCompile(`^[\d.]+$`).MatchString(w.text) {
			big = append(big, w.text)
		}
	}
	var want []string
	for _, c := range p.Cues {
		if c.Kind != cue.Part {
			want = append(want, cueFigure(p, c))
		}
	}
	slices.Sort(big) // in columns they do not come in the order of the ride: hasCues asks for that
	slices.Sort(want)
	if !slices.Equal(big, want) {
		t.Errorf("big figures %v, the roll has %v", big, want)
	}
}

// A cue that is higher than a card goes on on the next one, which says whose it is.
func TestStripGoesOn(t *testing.T) {
	needTool(t, "pdftotext")
	p := samples.Named(t, "A", "B", "C")
	i := slices.IndexFunc(p.Visits, func(v trip.Visit) bool { return v.Stop.Name == "B" })
	for k := range 60 {
		p.Visits[i].Also = append(p.Visits[i].Also, fmt.Sprintf("Neighbour %d", k))
	}
	fill := slices.IndexFunc(p.Cues, func(c cue.Cue) bool { return c.Visit == i })
	head := regexp.MustCompile(`(?m)^` + cueFigure(p, p.Cues[fill]) + `\s+B$`)
	pdf := stripOf(t, p, paper.A6)
	laidWell(t, pdf, stripMargins[paper.A6])
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

// The pages have the size of the paper (57 mm; ISO 216: A6 105 by 148 mm, A5 148 by 210 mm,
// A4 210 by 297 mm) and say which they are.
func TestStripPages(t *testing.T) {
	needTool(t, "pdftotext")
	p := samples.Example(t, "steppe")
	papers := map[paper.Format][2]float64{paper.Roll: {57, 0}, paper.A6: {105, 148}, paper.A5: {148, 210}, paper.A4: {210, 297}}
	for format, want := range papers {
		pdf := stripOf(t, p, format)
		_, sizes := printed(t, pdf)
		for _, z := range sizes {
			if math.Abs(z[0]/72*25.4-want[0]) > 0.1 || want[1] > 0 && math.Abs(z[1]/72*25.4-want[1]) > 0.1 {
				t.Errorf("%s: a page of %v pt", format, z)
			}
		}
		if format == paper.Roll {
			if len(sizes) != 1 {
				t.Errorf("the roll has %d pages", len(sizes))
			}
			continue
		}
		if format == paper.A4 {
			fourCards(t, pdf)
			continue
		}
		for i, text := range strings.Split(strings.TrimSuffix(tool(t, pdf, "pdftotext", "-raw", "-", "-"), "\f"), "\f") {
			if end := fmt.Sprintf("%d of %d", i+1, len(sizes)); !strings.HasSuffix(strings.TrimSpace(text), end) {
				t.Errorf("%s: page %d does not end in %q: %q", format, i+1, end, text)
			}
		}
	}
}

// Names of any kind do not break a strip.
func TestStripOfDrawnPlans(t *testing.T) {
	needTool(t, "pdftotext")
	rapid.Check(t, func(t *rapid.T) {
		p := samples.Draw(t)
		format := rapid.SampledFrom(stripPapers).Draw(t, "paper")
		pdf := stripOf(t, p, format)
		hasCues(t, p, pdf, false)
		laidWell(t, pdf, stripMargins[format])
		inBlack(t, pdf, 12)
		if !bytes.Equal(pdf, stripOf(t, p, format)) {
			t.Fatal("the same plan gives other bytes")
		}
	})
}

// printable are names whose letters the faces have: Kazakh, Mongolian, Azeri, Greek,
// Vietnamese, Icelandic, a combining accent, and one that is longer than any line.
var printable = []string{"Қызылөзен Үңгір Ғабит", "Өвөрхангай Ценхэрмандал", "Şəki Gəncə ığdır", "Καλαμπάκα Μετέωρα",
	"Quận Đắk Lắk, Ngã Ba Ẩm",
	"Þingvellir Hálslón", "Cafe\u0301 Zoe\u0308",
	"Приаргунскокраснокаменскозабайкальская-нефтебаза-номер-пятнадцать"}

func TestStripPrintsLetters(t *testing.T) {
	needTool(t, "pdftotext")
	p := samples.Named(t, printable...)
	for _, format := range stripPapers {
		pdf := stripOf(t, p, format)
		text := samples.Squeezed(tool(t, pdf, "pdftotext", "-raw", "-", "-"))
		laidWell(t, pdf, stripMargins[format])
		for _, name := range printable {
			name = strings.NewReplacer("e\u0301", "é", "e\u0308", "ë").Replace(name)
			if !strings.Contains(text, samples.Squeezed(name)) {
				t.Errorf("%s: %q does not stand in\n%s", format, name, text)
			}
		}
		if strings.Contains(text, "□") {
			t.Errorf("%s: a letter is said to be missing", format)
		}
	}
}

// What cannot be printed does not vanish: a pump goes by its coordinates, beside what is left
// of its name, with a box for each letter; and a word at the foot.
func TestStripSaysWhatItCannotPrint(t *testing.T) {
	needTool(t, "pdftotext")
	p := samples.Named(t, "東京", "واحة", "Camp 🏕")
	for _, format := range stripPapers {
		text := samples.Squeezed(tool(t, stripOf(t, p, format), "pdftotext", "-raw", "-", "-"))
		for i, name := range []string{"pump at %.4f, %.4f", "pump at %.4f, %.4f", "Camp □ (%.4f, %.4f)"} {
			want := samples.Squeezed(fmt.Sprintf(name, p.Stops[i].At[1], p.Stops[i].At[0]))
			if !strings.Contains(text, want) {
				t.Errorf("%s: %q does not stand in\n%s", format, want, text)
			}
		}
		if !strings.Contains(text, "couldnotbeprinted") {
			t.Errorf("%s: the foot does not say so", format)
		}
	}
}

// A PDF says what it is, in which language, and is dated by the plan and not by a clock.
func TestPDFSaysWhatItIs(t *testing.T) {
	needTool(t, "pdfinfo")
	p := samples.Example(t, "steppe")
	days := map[string]samples.Plan{"D:20260701000000": p, "D:19700101000000": {Plan: undated(*p.Plan), Units: p.Units}}
	for day, p := range days {
		for title, pdf := range map[string][]byte{
			p.Name + ": fuel strip": stripOf(t, p, paper.A6), "Left at home: " + p.Name: homePDF(t, p),
		} {
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
	for s, want := range map[string]paper.Format{"": paper.Roll, "57mm": paper.Roll, "58mm": paper.Roll, "A6": paper.A6, "a5": paper.A5,
		"A4": paper.A4} {
		if got, err := paper.ParseFormat(s); err != nil || got != want {
			t.Errorf("%q is %q, %v", s, got, err)
		}
	}
	var ve *input.ValueError
	if _, err := paper.ParseFormat("a3"); !errors.As(err, &ve) || !strings.Contains(ve.Hint, "57mm") {
		t.Errorf("a3: %v", err)
	}
}
