package paper_test

import (
	"bytes"
	"fmt"
	"slices"
	"strings"
	"testing"
	"time"

	"lastpump/cmd/lastpump/internal/report/gpx"
	"lastpump/cmd/lastpump/internal/report/paper"
	"lastpump/cmd/lastpump/internal/report/samples"
	"lastpump/cmd/lastpump/internal/words/units"
	"lastpump/fuel/clock"
	"lastpump/fuel/plan/cue"
	"lastpump/fuel/plan/days"
	"lastpump/route/gpxfile"
	"lastpump/testdata/kit/drawn"

	"github.com/paulmach/orb"
)

// inOrder checks that words stand one after another in what a PDF reads.
func inOrder(t *testing.T, pdf []byte, words ...string) {
	t.Helper()
	text := samples.Squeezed(tool(t, pdf, "pdftotext", "-raw", "-", "-"))
	at := 0
	for _, w := range words {
		found := strings.Index(text[at:], samples.Squeezed(w))
		if found < 0 {
			t.Fatalf("%q does not stand in\n%s", w, text[at:])
		}
		at += found + len(samples.Squeezed(w))
	}
}

// The ride of one day that is reckoned by hand, see [samples.ByHand], on the strip and at home. Its
// 100 km at 65 km/h are 1 h 32 of riding.
func TestHoursOnPaper(t *testing.T) {
	needTool(t, "pdftotext")
	p := samples.ByHand(t)
	for _, format := range stripPapers {
		pdf := stripOf(t, p, format)
		inOrder(t, pdf, "DAY 1 Wed 1 Jul", "leave 08:00, 1:32 riding, sunset", "end: the end, Wed 11:06 (10:44–12:03)",
			"0the start", "65Ford", "Wed 09:35 (09:03–10:18): doubtful till 10:00, wait 25 min; BE THERE BY 20:00", "FILL",
			"35the end", "THE RIDE ENDS", "Wed 11:06 (10:44–12:03)")
		laidWell(t, pdf, stripMargins[format])
	}
	inOrder(t, homePDF(t, p), "When to worry", "about one real day in five", "Wed 1 Jul 08:00", "Wed 1 Jul 11:06 (10:44–12:03)", "Wed 1 Jul 12:03 (UTC+02:00)",
		"UTC+02:00", "Likely nights", "1 Wed 1 Jul", "0–100", "the end", "10:44–12:03", "Ford", "Mo-Su 10:00-20:00",
		"Wed 1 Jul 09:03–10:18", "doubtful till 10:00")
	if n := blanks(samples.Parse(t, homeHTML(t, p))); n != len(homeKeys)-4 {
		t.Errorf("%d lines to fill in where the clock knows four", n)
	}
	said := paper.Contact{Key: "worry", Text: "when the geese fly"}
	text := samples.Squeezed(samples.Parse(t, homeHTML(t, p, said)).Text)
	if !strings.Contains(text, "whenthegeesefly") || strings.Contains(text, "1Jul12:03(UTC+02:00)") {
		t.Errorf("the rider's own hour to worry does not stand alone: %s", text)
	}
}

// nightsByHand is a ride of 300 km on paved road that sets out at eight, with pumps that are always
// open at km 100, where the rider sleeps first, and at 200, and a second night at km 150. Of 100 km
// the riding takes 100/65 h likely, 1 h 32; with pauses of 35 min an hour 2 h 26, early (80 km/h,
// 15 min) 1 h 38, late (50 km/h, 60 min) 3 h 33. Of 50 km it is 0:46, and 1 h 13 (0 h 49 to 1 h 47).
func nightsByHand(t *testing.T) samples.Plan {
	t.Helper()
	ford, inn, eight, zone := drawn.Pump("Ford", 100, 0), drawn.Pump("Mill", 200, 0), clock.OClock{Hour: 8}, time.FixedZone("UTC+02:00", 2*3600)
	ford.Hours, inn.Hours = "24/7", "24/7"
	in := drawn.Ride(drawn.Straight(t, 300), ford, inn)
	in.Options.Days = &days.Options{Date: in.Options.Today, First: eight, Every: eight, Wait: clock.DefaultWait,
		Nights: []days.Where{{Stop: "Ford"}, {At: 150_000}}, Zone: func(orb.Point) *time.Location { return zone }}
	return samples.Plan{Plan: drawn.Asked(t, in), Units: units.Metric}
}

// Three days and two nights, one at a pump that is filled at in the evening and one on the way, as
// reckoned by hand, in the order of the ride; and cards begin with each day.
func TestNightsOnPaper(t *testing.T) {
	needTool(t, "pdftotext")
	p := nightsByHand(t)
	if len(p.Days) != 3 {
		t.Fatalf("%d days", len(p.Days))
	}
	for _, format := range stripPapers {
		pdf := stripOf(t, p, format)
		inOrder(t, pdf, "DAY 1 Wed 1 Jul", "leave 08:00, 1:32 riding", "night: Ford", "0the start",
			"100Ford", "Wed 10:26 (09:38–11:33): open", "ZERO THE TRIP", "NIGHT HERE, leave Thu 08:00",
			"DAY 2 Thu 2 Jul", "leave 08:00, 0:46 riding", "night: km 150, Thu 09:13 (08:49–09:47)",
			"50NIGHT", "km 150", "Thu 09:13 (08:49–09:47)",
			"DAY 3 Fri 3 Jul", "leave 08:00, 2:18 riding", "end: the end", "100Mill", "Fri 09:13 (08:49–09:47): open", "FILL", "THE RIDE ENDS")
		laidWell(t, pdf, stripMargins[format])
		text := tool(t, pdf, "pdftotext", "-raw", "-", "-")
		if pages := strings.Split(text, "\f"); format == paper.A6 || format == paper.A5 {
			for day := 2; day <= 3; day++ {
				begins := 0
				for _, page := range pages {
					if strings.HasPrefix(strings.TrimSpace(page), fmt.Sprintf("DAY %d ", day)) {
						begins++
					}
				}
				if begins != 1 {
					t.Errorf("%s: %d cards begin with day %d", format, begins, day)
				}
			}
		}
	}
	inOrder(t, homePDF(t, p), "Likely nights", "1 Wed 1 Jul", "0–100", "Ford", "2 Thu 2 Jul", "100–150", "km 150", "08:49–09:47",
		"3 Fri 3 Jul", "150–300", "the end", "Wed 1 Jul 09:38–11:33", "Fri 3 Jul 08:49–09:47")
}

// The examples with the clock: the sheet left at home is two pages still, all of it inside them, and
// the strip within what a print head reaches; each day has its head, in its order.
func TestExamplesWithHoursOnPaper(t *testing.T) {
	needTool(t, "pdftotext")
	for _, name := range []string{"steppe", "canyon"} {
		p := samples.ExampleWith(t, name, samples.Timed)
		pdf := homePDF(t, p)
		laidWell(t, pdf, homeMargin)
		inBlack(t, pdf, 9)
		if _, sizes := printed(t, pdf); len(sizes) > 2 {
			t.Errorf("%s: %d pages:\n%s", name, len(sizes), tool(t, pdf, "pdftotext", "-layout", "-", "-"))
		}
		asksNothing(t, homeHTML(t, p))
		var heads []string
		for i, d := range p.Days {
			heads = append(heads, fmt.Sprintf("DAY %d %s", i+1, d.Leave.Format("Mon 2 Jan")))
		}
		if len(heads) < 2 {
			t.Fatalf("%s: %d days", name, len(heads))
		}
		for _, format := range stripPapers {
			pdf := stripOf(t, p, format)
			inOrder(t, pdf, heads...)
			hasCuesButParts(t, p, pdf)
			laidWell(t, pdf, stripMargins[format])
			inBlack(t, pdf, 12)
		}
	}
}

// hasCuesButParts checks all cues but parts of the file, which stand in the heads of days.
func hasCuesButParts(t *testing.T, p samples.Plan, pdf []byte) {
	t.Helper()
	q := *p.Plan
	q.Cues = slices.DeleteFunc(slices.Clone(q.Cues), func(c cue.Cue) bool { return c.Kind == cue.Part })
	hasCues(t, samples.Plan{Plan: &q, Units: p.Units}, pdf, false)
}

// In the GPS the nights are marks that no reader takes for pumps, the end of the ride is none.
func TestNightsOnWaypoints(t *testing.T) {
	p := nightsByHand(t)
	var b bytes.Buffer
	if err := gpx.Write(&b, p.Plan, p.Units); err != nil {
		t.Fatal(err)
	}
	f, err := gpxfile.Read(&b, "plan.gpx")
	if err != nil {
		t.Fatal(err)
	}
	var told []string
	for _, w := range f.Waypoints {
		if strings.HasPrefix(w.Name, "NIGHT") {
			told = append(told, w.Name+": "+w.Desc)
		}
	}
	if len(told) != 2 || !strings.Contains(told[0], "NIGHT1 km 100: Night of day 1, Wed 1 Jul: Ford;") ||
		!strings.Contains(told[1], "NIGHT2 km 150: Night of day 2, Thu 2 Jul: km 150; there Thu 09:13 (08:49–09:47).") ||
		!strings.Contains(told[1], "Leave Fri 08:00; 2 h 18 min of riding that day.") {
		t.Errorf("nights: %q", told)
	}
}
