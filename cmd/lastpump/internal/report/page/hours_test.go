package page_test

import (
	"regexp"
	"slices"
	"strings"
	"testing"

	"lastpump/cmd/lastpump/internal/report/samples"
	"lastpump/cmd/lastpump/internal/words/warned"
	"lastpump/fuel/plan"

	"golang.org/x/net/html"
	"pgregory.net/rapid"
)

// flat gives a text with single blanks.
func flat(s string) string { return strings.Join(strings.Fields(s), " ") }

// inside gives the text of a section of a page.
func inside(p samples.Page, id string) string {
	for _, n := range p.All("div") {
		if samples.Attribute(n, "id") == id {
			return flat(textIn(n))
		}
	}
	return ""
}

// What a page says of a ride whose hours are reckoned by hand, see [samples.ByHand]: on the folded
// line of the pump, on its card, over it, and in the tables.
func TestHoursByHand(t *testing.T) {
	seen := samples.Parse(t, pageHTML(t, samples.ByHand(t)))
	cards := cardsOf(seen)
	if len(cards) != 3 {
		t.Fatalf("%d cards", len(cards))
	}
	for i, want := range []struct {
		line string
		rows map[string]string
	}{
		{"Wed 08:00", map[string]string{"leave": "Wed 08:00"}},
		{"Wed 09:35 doubtful till 10:00, wait 25 min", map[string]string{"there": "Wed 09:35 (09:03–10:18)",
			"open": "doubtful till 10:00, wait 25 min; be there by 20:00", "hours": "Mo-Su 10:00-20:00"}},
		{"Wed 11:06", map[string]string{"there": "Wed 11:06 (10:44–12:03)"}},
	} {
		line, rows := rowsOf(cards[i])
		if !strings.Contains(flat(line), want.line) {
			t.Errorf("card %d: %q, want %q", i+1, flat(line), want.line)
		}
		for label, text := range want.rows {
			if rows[label] != text {
				t.Errorf("card %d: %s %q, want %q", i+1, label, rows[label], text)
			}
		}
	}
	days := classed(seen.All("details"), "day")
	if len(days) != 1 {
		t.Fatalf("%d days", len(days))
	}
	line, rows := rowsOf(days[0])
	if want := "Day 1, Wed 1 Jul leave 08:00, ride 1:32 h 11:06 the end, tank 8.2 L"; flat(line) != want { // as in the text
		t.Errorf("the day: %q, want %q", flat(line), want)
	}
	for label, text := range map[string]string{"leave": "Wed 08:00", "ride": "100 km, 1 h 32 min in the saddle, likely",
		"there": "Wed 11:06 (10:44–12:03)", "to": "the end", "tank": "8.2 L in it at the end, without cans"} {
		if rows[label] != text {
			t.Errorf("the day: %s %q, want %q", label, rows[label], text)
		}
	}
	for id, want := range map[string]string{
		"days":                    "1 Wed 1 Jul 100.0 1:32 08:00 11:06 10:44–12:03",
		"open-when-you-get-there": "65 Ford 1 Wed 09:35 09:03–10:18 doubtful till 10:00, wait 25 min 20:00",
		"warnings":                "ring", // a cure of hours
	} {
		got := inside(seen, id)
		if !strings.Contains(samples.Squeezed(got), samples.Squeezed(want)) {
			t.Errorf("%s: no %q in %q", id, want, got)
		}
	}
}

// Each day of a ride has a head in its order, and under it stand the stops that are reached on it;
// every cure of hours stands among the warnings.
func TestDaysHoldTheirStops(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := samples.Draw(t)
		seen := samples.Parse(t, pageHTML(t, p))
		day, leg, heads := 0, 0, 0
		for _, d := range seen.All("details") {
			switch {
			case slices.Contains(classed([]*html.Node{d}, "day"), d):
				heads++
				day = heads - 1
			case slices.Contains(classed([]*html.Node{d}, "card"), d):
				if leg > 0 && leg < len(p.Legs) {
					if at := p.Visits[p.Legs[leg-1].ToVisit]; at.Hour != nil && at.Hour.Day != day {
						t.Fatalf("%s is reached on day %d and stands under day %d", at.Stop.Name, at.Hour.Day+1, day+1)
					}
				}
				leg++
			}
		}
		if heads != len(p.Days) || leg != len(p.Legs)+1 {
			t.Fatalf("%d heads of %d days, %d cards of %d legs", heads, len(p.Days), leg, len(p.Legs))
		}
		said := samples.Squeezed(inside(seen, "warnings"))
		for _, w := range p.Warnings {
			for _, c := range w.Hours {
				if want := warned.Of(p.Say()).HourCure(c); !strings.Contains(said, samples.Squeezed(want)) {
					t.Fatalf("no cure %q", want)
				}
			}
		}
	})
}

// Without a departure a page has no hour and no day, and one line says how there are hours.
func TestPageWithoutADeparture(t *testing.T) {
	seen := samples.Parse(t, pageHTML(t, samples.Example(t, "canyon")))
	if n := strings.Count(seen.Text, "--depart 08:00 does"); n != 1 {
		t.Errorf("that hours are not looked at is said %d times", n)
	}
	if hour := regexp.MustCompile(`(Mon|Tue|Wed|Thu|Fri|Sat|Sun) \d\d:\d\d`).FindString(seen.Text); hour != "" {
		t.Errorf("hour %q", hour)
	}
	if len(classed(seen.All("details"), "day")) > 0 || inside(seen, "days") != "" {
		t.Error("days")
	}
	p := samples.ExampleWith(t, "steppe", func(in *plan.Inputs) { in.Options.FillAt = plan.FillChosen; samples.Timed(in) })
	if text := samples.Parse(t, pageHTML(t, p)).Text; strings.Contains(text, "--depart 08:00 does") || !strings.Contains(text, "shut until Mon 07:00") {
		t.Error("with a departure hours are not said to be looked at")
	}
}
