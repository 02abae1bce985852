package report_test

import (
	"bytes"
	"encoding/csv"
	"math"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"
	"unicode/utf8"

	"lastpump/cmd/lastpump/internal/report"
	"lastpump/fuel"
	"lastpump/fuel/plan"

	"pgregory.net/rapid"
)

// csvOf writes a plan and reads it with an independent reader, by column.
func csvOf(t interface{ Fatalf(string, ...any) }, p *plan.Plan) (text string, columns map[string][]string) {
	var b bytes.Buffer
	if err := report.WriteCSV(&b, p); err != nil {
		t.Fatalf("%v", err)
	}
	text = b.String()
	rows, err := csv.NewReader(strings.NewReader(strings.TrimPrefix(text, "\ufeff"))).ReadAll()
	if err != nil || len(rows) != len(p.Legs)+1 {
		t.Fatalf("%d rows of %d legs: %v", len(rows), len(p.Legs), err)
	}
	columns = map[string][]string{}
	for i, name := range rows[0] {
		for _, r := range rows[1:] {
			columns[name] = append(columns[name], r[i])
		}
	}
	return text, columns
}

// harmful is what a spreadsheet reckons with: OWASP, "CSV Injection", names the first
// characters; a sign before digits, blanks, points and brackets begins no formula, since
// there is nothing to reckon.
func harmful(cell string) bool {
	return cell != "" && strings.Contains("=+-@\t\r\n", cell[:1]) && !regexp.MustCompile(`^[+-][0-9][0-9 .()]*$`).MatchString(cell)
}

// No text is taken for a formula, and what it says stays; UTF-8 is told by the byte order
// mark (RFC 3629, section 6) where there is anything but ASCII.
func TestCSVInASpreadsheet(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := drawPlan(t)
		odd := rapid.SampledFrom([]string{"=1+1", "+1 (555) 0100", "+1-800-555", "-2+3", "-", "@SUM(A1)", "\tx", "\rx", "\nx", "a=b", "+", "=\"a\"\r\nb", "Ж", "'=x", ""})
		for i := range p.Visits {
			s := &p.Visits[i].Stop
			s.Hours, s.Pay, s.Phone = odd.Draw(t, "hours"), odd.Draw(t, "pay"), odd.Draw(t, "phone")
		}
		for i := range p.Legs {
			p.Legs[i].From = odd.Draw(t, "from")
		}
		text, columns := csvOf(t, p)
		body := strings.TrimPrefix(text, "\ufeff")
		wide := strings.ContainsFunc(body, func(r rune) bool { return r >= utf8.RuneSelf })
		if wide != strings.HasPrefix(text, "\ufeff") {
			t.Fatalf("a byte order mark: %v; anything but ASCII: %v", !wide, wide)
		}
		for name, cells := range columns {
			for _, c := range cells {
				if harmful(c) {
					t.Fatalf("%s: %q", name, c)
				}
			}
		}
		for i, l := range p.Legs {
			if !says(columns["from"][i], l.From) {
				t.Fatalf("%q for %q", columns["from"][i], l.From)
			}
			if l.ToVisit >= 0 && !says(columns["phone"][i], p.Visits[l.ToVisit].Stop.Phone) {
				t.Fatalf("%q for %q", columns["phone"][i], p.Visits[l.ToVisit].Stop.Phone)
			}
		}
	})
}

// says tells whether a cell has a text, with an apostrophe where it is harmful and only
// there. Line ends are CR LF in a file and LF for who reads it.
func says(cell, text string) bool {
	if harmful(text) {
		text = "'" + text
	}
	ends := strings.NewReplacer("\r\n", "\n", "\r", "")
	return ends.Replace(cell) == ends.Replace(text)
}

// Trip figures are what they are in the text: whole units, rounded down; turning back by
// the sooner of the two.
func TestCSVTripFiguresAgreeWithTheText(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := drawPlan(t)
		_, columns := csvOf(t, p)
		d, mile := "km", 1000.0
		if p.Options.Units != fuel.Metric {
			d, mile = "mi", 1609.344 // NIST SP 811, B.6
		}
		for i, l := range p.Legs {
			for name, metres := range map[string]float64{
				"trip_turn_back_": math.Min(float64(l.TurnBack), float64(l.TurnBackHigh)), "trip_reserve_whole_": float64(l.SafeTo),
				"trip_dry_": float64(l.DryAt), "trip_dry_high_": float64(l.DryAtHigh),
			} {
				v, err := strconv.ParseFloat(columns[name+d][i], 64)
				if err != nil || v > metres/mile+1e-9 || v < metres/mile-0.1-1e-9 || math.Floor(v+1e-9) != math.Floor(metres/mile+1e-9) {
					t.Fatalf("leg %d: %s%s is %v for %v m", i+1, name, d, columns[name+d][i], metres)
				}
			}
		}
	})
}

// Columns keep their places: a sheet that somebody has built on them goes on working.
func TestCSVColumns(t *testing.T) {
	p := rapid.Custom(drawPlan).Example(1)
	p.Options.Units = fuel.US
	var b bytes.Buffer
	if err := report.WriteCSV(&b, p); err != nil {
		t.Fatal(err)
	}
	header, _, _ := strings.Cut(strings.TrimPrefix(b.String(), "\ufeff"), "\r\n")
	want := "leg,from,to,to_at_mi,ridden_mi,climb_m,takes_USgal,low_USgal,high_USgal,in_tank_USgal,can_USgal,arrives_USgal,reserve_USgal,verdict," +
		"trip_stop_mi,trip_reserve_whole_mi,trip_turn_back_mi,trip_dry_mi,mixture_low,mixture_high,mixture_scale,mixture_verdict," +
		"fill_USgal,fill_grade,fill_can_USgal,if_dry,standing,confirmed,hours,pay,phone" // as they were before the figures at the end
	if !strings.HasPrefix(header, want+",") || slices.Contains(strings.Split(header, ","), "") {
		t.Errorf("%s\nwant %s", header, want)
	}
}
