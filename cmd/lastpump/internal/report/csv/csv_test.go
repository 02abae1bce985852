package csv_test

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

	report "lastpump/cmd/lastpump/internal/report/csv"
	"lastpump/cmd/lastpump/internal/report/samples"
	"lastpump/cmd/lastpump/internal/words"
	"lastpump/cmd/lastpump/internal/words/units"
	"lastpump/testdata/kit"

	"pgregory.net/rapid"
)

// csvOf writes a plan and reads it with an independent reader, by column.
func init() { kit.Draws(15) }

func csvOf(t interface{ Fatalf(string, ...any) }, p samples.Plan) (text string, columns map[string][]string) {
	var b bytes.Buffer
	if err := report.Write(&b, p.Plan, p.Units); err != nil {
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
	return cell != "" && strings.Contains("=+-@\t\r\n", cell[:1]) &&
		!regexp.MustCompile(`^[+-][0-9][0-9 .()]*$`).MatchString(cell)
}

// No text is taken for a formula, and what it says stays; UTF-8 is samples.Plan by the byte order
// mark (RFC 3629, section 6) where there is anything but ASCII.
func TestCSVInASpreadsheet(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := samples.Draw(t)
		odd := rapid.SampledFrom([]string{"=1+1", "+1 (555) 0100", "+1-800-555", "-2+3", "-", "@SUM(A1)",
			"\tx", "\rx", "\nx", "a=b", "+", "=\"a\"\r\nb", "Ж", "'=x", ""})
		for i := range p.Visits {
			s := &p.Visits[i].Stop
			s.Hours, s.Pay, s.Phone = odd.Draw(t, "hours"), odd.Draw(t, "pay"), odd.Draw(t, "phone")
		}
		for i := range p.Stops {
			p.Stops[i].Name = odd.Draw(t, "name")
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
			if from, _ := words.EndsOf(p.Plan, i); !says(columns["from"][i], from) {
				t.Fatalf("%q for %q", columns["from"][i], from)
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
		p := samples.Draw(t)
		_, columns := csvOf(t, p)
		d, mile := "km", 1000.0
		if p.Units != units.Metric {
			d, mile = "mi", 1609.344 // NIST SP 811, B.6
		}
		for i, l := range p.Legs {
			for name, metres := range map[string]float64{
				"trip_turn_back_": math.Min(float64(l.TurnBack), float64(l.TurnBackHigh)), "trip_reserve_whole_": float64(l.SafeTo),
				"trip_dry_": float64(l.DryAt), "trip_dry_high_": float64(l.DryAtHigh),
			} {
				v, err := strconv.ParseFloat(columns[name+d][i], 64)
				if err != nil || v > metres/mile+1e-9 || v < metres/mile-0.1-1e-9 ||
					math.Floor(v+1e-9) != math.Floor(metres/mile+1e-9) {
					t.Fatalf("leg %d: %s%s is %v for %v m", i+1, name, d, columns[name+d][i], metres)
				}
			}
		}
	})
}

// The can is what the strip says to fill, with why and where to pour it; the ends are named as
// in the text, and the climb is in the unit of the file.
func TestCSVSaysWhatTheStripSays(t *testing.T) {
	p := samples.Example(t, "steppe")
	cans := 0
	for _, u := range []units.System{units.Metric, units.US} {
		p.Units = u
		_, columns := csvOf(t, p)
		v, d, h := strings.ReplaceAll(u.VolumeUnit(), " ", ""), u.DistanceUnit(), u.HeightUnit()
		for i, l := range p.Legs {
			if from, to := words.EndsOf(p.Plan, i); columns["from"][i] != from || columns["to"][i] != to {
				t.Errorf("leg %d: %s to %s, want %s to %s", i+1, columns["from"][i], columns["to"][i], from, to)
			}
			if climb, want := columns["climb_"+h][i], math.Round(u.HeightIn(l.Drink.Up)); climb != strconv.Itoa(int(want)) {
				t.Errorf("leg %d: climb %s, want %v", i+1, climb, want)
			}
			if got := columns["takes_"+v][i]; got != u.VolumeUp(l.Drink.Fuel.Likely) {
				t.Errorf("leg %d takes %s", i+1, got)
			}
			if got := columns["can_"+v][i]; got != u.VolumeDown(l.Can) {
				t.Errorf("leg %d: can %s, want %v L", i+1, got, l.Can)
			}
			if k := l.ToVisit; k >= 0 && columns["fill_can_"+v][i] != u.VolumeUp(p.Visits[k].Fill.Can) {
				t.Errorf("leg %d: into the can at its end %s, want %v L", i+1, columns["fill_can_"+v][i], p.Visits[k].Fill.Can)
			}
			k := p.Can.UseOf(i)
			if k < 0 || l.Can <= 0 {
				continue
			}
			use := p.Can.Uses[k]
			cans++
			by := "" // a reserve is not poured by plan
			if l.Poured > 0 {
				by = u.Whole(use.PourBy)
			}
			if columns["can_for"][i] != string(use.Why) || columns["trip_pour_by_"+d][i] != by {
				t.Errorf("leg %d: for %s, by %s", i+1, columns["can_for"][i], columns["trip_pour_by_"+d][i])
			}
		}
	}
	if cans == 0 {
		t.Error("no can is asked for: nothing is tested")
	}
}

// Columns keep their places: a sheet that somebody has built on them goes on working.
func TestCSVColumns(t *testing.T) {
	p := rapid.Custom(samples.Draw).Example(1)
	p.Units = units.US
	var b bytes.Buffer
	if err := report.Write(&b, p.Plan, p.Units); err != nil {
		t.Fatal(err)
	}
	header, _, _ := strings.Cut(strings.TrimPrefix(b.String(), "\ufeff"), "\r\n")
	// As they were before the figures at the end.
	want := "leg,from,to,to_at_mi,ridden_mi,climb_ft,takes_USgal,low_USgal,high_USgal,in_tank_USgal," +
		"can_USgal,arrives_USgal,reserve_USgal,verdict," +
		"trip_stop_mi,trip_reserve_whole_mi,trip_turn_back_mi,trip_dry_mi," +
		"mixture_low,mixture_high,mixture_scale,mixture_verdict," +
		"fill_USgal,fill_grade,fill_can_USgal,if_dry,standing,confirmed,hours,pay,phone"
	if !strings.HasPrefix(header, want+",") || slices.Contains(strings.Split(header, ","), "") {
		t.Errorf("%s\nwant %s", header, want)
	}
}

// RFC 4180: every row has as many fields as the header, lines end in CR LF.
func TestCSVIsCSV(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := samples.Draw(t)
		var b bytes.Buffer
		if err := report.Write(&b, p.Plan, p.Units); err != nil {
			t.Fatal(err)
		}
		if strings.Count(b.String(), "\n") != strings.Count(b.String(), "\r\n") {
			t.Fatal("a line does not end in CR LF")
		}
		rows, err := csv.NewReader(&b).ReadAll() // refuses rows of another length
		if err != nil || len(rows) != len(p.Legs)+1 {
			t.Fatalf("%d rows for %d legs: %v", len(rows), len(p.Legs), err)
		}
	})
}

// Hours stand at the end of a row: those reckoned by hand, see [samples.ByHand]; without a departure
// those in the saddle alone.
func TestCSVHours(t *testing.T) {
	_, c := csvOf(t, samples.ByHand(t))
	for name, want := range map[string][]string{"day": {"1", "1"}, "open": {"doubtful", ""}, "ride_h": {"1.00", "0.54"},
		"there": {"2026-07-01T09:35:00+02:00", "2026-07-01T11:06:09+02:00"}} {
		if !slices.Equal(c[name], want) {
			t.Errorf("%s: %q, want %q", name, c[name], want)
		}
	}
	_, c = csvOf(t, samples.Example(t, "steppe"))
	for i, h := range c["ride_h"] {
		if hours, err := strconv.ParseFloat(h, 64); err != nil || !(hours > 0) || c["day"][i]+c["there"][i]+c["open"][i] != "" {
			t.Errorf("leg %d: %q h, day %q, there %q, open %q", i+1, h, c["day"][i], c["there"][i], c["open"][i])
		}
	}
}
