package fills_test

import (
	"bytes"
	"errors"
	"fmt"
	"strings"
	"testing"

	"lastpump/fuel/learn/fills"

	"pgregory.net/rapid"
)

// A row that is dated before the one above it, wherever the file ends.
func TestAddedEarly(t *testing.T) {
	const head = "date,trip_km,litres,event\n"
	for _, x := range []struct {
		text  string
		early bool
	}{
		{head, false},
		{head + "2026-07-04,,,full\n", true},
		{head + "2026-07-03,,,full\n", false},
		{head + "2026-07-01,,,full\n2026-07-04,100,5,full\n", true},
		{head + "2026-07-04,,,full\n2026-07-01,100,5,full\n2026-07-02,100,5,full\n", false}, // the last is of the 2nd
		{head + "2026-07-06,120,6,full\n2026-07-05,110,5,full\n", true},                     // newest first
	} {
		got, err := fills.Add([]byte(x.text), "f.csv", fills.NewRow{Date: day(3), Distance: "90km", Amount: "4L", Event: fills.Full})
		if err != nil || got.Early() != x.early || string(got.Text) != x.text+"2026-07-03,90,4,full\n" {
			t.Errorf("%q: early %v, above %v, %v, %q", x.text, got.Early(), got.Above, err, got.Text)
		}
	}
}

// What is added at the end, in files of several kinds.
func TestAdd(t *testing.T) {
	full := fills.NewRow{Date: day(3), Distance: "146.9km", Amount: "8.4L", Event: fills.Full, Grade: "95 RON"}
	for _, x := range []struct {
		text string
		row  fills.NewRow
		line string
	}{
		{fills.Header("trip_km", "litres") + "\n", full, "2026-07-03,146.9,8.4,full,95 RON,,,\n"},
		{sample, full, "2026-07-03,146.9,8.4,full,95 RON,,,\n"},
		{strings.TrimSuffix(sample, "\n"), full, "\n2026-07-03,146.9,8.4,full,95 RON,,,\n"},
		{strings.ReplaceAll(sample, "\n", "\r\n"), full, "2026-07-03,146.9,8.4,full,95 RON,,,\r\n"},
		{"grade;date;litres;trip_km\n;2026-07-01;;\n", full, "95 RON;2026-07-03;8,4;146,9\n"},
		{"\xef\xbb\xbf" + sample, full, "2026-07-03,146.9,8.4,full,95 RON,,,\n"},
		{sample, fills.NewRow{Date: day(3), Distance: "130 km", Event: fills.Lamp, Note: `near "the" ford, wet`},
			"2026-07-03,130,,lamp,,,,\"near \"\"the\"\" ford, wet\"\n"},
		{sample, fills.NewRow{Date: day(3), Event: fills.Full, FromKm: "212", ToKm: "300.5 km", Amount: "5 l", Distance: "90"},
			"2026-07-03,90,5,full,,212,300.5,\n"},
	} {
		got, err := fills.Add([]byte(x.text), "f.csv", x.row)
		if err != nil {
			t.Errorf("%q: %v", x.text, err)
			continue
		}
		if string(got.Text) != x.text+x.line {
			t.Errorf("%q\nwant %q", got.Text, x.text+x.line)
		}
		if got.Row.Event != x.row.Event || !got.Row.Date.Equal(x.row.Date) {
			t.Errorf("%q: row %+v", x.text, got.Row)
		}
	}
}

// What is not added: another unit, a column that is not there, what stands there already,
// what cannot follow, and to what cannot be read.
func TestAddRefuses(t *testing.T) {
	full := fills.NewRow{Date: day(3), Distance: "1100km", Amount: "8.4L", Event: fills.Full}
	with := func(change func(*fills.NewRow)) fills.NewRow {
		r := full
		change(&r)
		return r
	}
	const odo = "date,odometer_km,litres,event\n2026-07-01,1000,8,full\n2026-07-02,1200,9,full\n"
	for _, x := range []struct {
		text string
		row  fills.NewRow
		want string
	}{
		{odo, full, "f.csv:4:1: the odometer goes back, from 1200.0 in row 3 to 1100.0"},
		{odo, with(func(r *fills.NewRow) { r.Distance = "800mi" }), `f.csv: "800mi" is in another unit than the column odometer_km`},
		{odo, with(func(r *fills.NewRow) { r.Amount = "2 USgal" }), `f.csv: "2 USgal" is in another unit than the column litres`},
		{odo, with(func(r *fills.NewRow) { r.Distance = "1300km"; r.Grade = "95 RON" }), `f.csv:1:1: no column "grade"`},
		{odo, with(func(r *fills.NewRow) { r.Date, r.Distance, r.Amount = day(2), "1200km", "9L" }), "f.csv:3:1: the row stands in the file already"},
		{odo, with(func(r *fills.NewRow) { r.Distance = "13x0" }), `f.csv:4:12: odometer_km is "13x0", not a distance`},
		{odo + "2026-07-03,x,1\n", full, `f.csv:4:12: odometer_km is "x", not a distance`},
		{"", full, "f.csv:1:1: empty file"},
		{"\xff\xfed\x00", full, "f.csv: the file is in UTF-16"},
	} {
		_, err := fills.Add([]byte(x.text), "f.csv", x.row)
		if err == nil || !strings.HasPrefix(err.Error(), x.want) || errors.Is(err, fills.ErrStands) != strings.Contains(x.want, "already") {
			t.Errorf("%q\n%v\nwant %s", x.text, err, x.want)
		}
	}
}

// However rows are added, each stands in the file, and all before it is as it was.
func TestAddLosesNothing(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		end := rapid.SampledFrom([]string{"", "\n", "\r\n", "\n\n", "\n# a remark\n"}).Draw(t, "end")
		text := []byte(fills.Header("trip_km", "litres") + end)
		if end == "" {
			text = append(text, '\n')
		}
		n := rapid.IntRange(1, 6).Draw(t, "rows")
		for i := range n {
			row := fills.NewRow{
				Date:     day(rapid.IntRange(1, 28).Draw(t, "day")),
				Distance: fmt.Sprintf("%.1f km", rapid.Float64Range(1, 400).Draw(t, "km")+float64(i)),
				Amount:   fmt.Sprintf("%.2f L", rapid.Float64Range(1, 12).Draw(t, "litres")),
				Event:    rapid.SampledFrom([]fills.Event{fills.Full, fills.Part}).Draw(t, "event"),
				Note:     rapid.SampledFrom([]string{"", "a, b", `"`, "x\ny", "#", "ж"}).Draw(t, "note"),
			}
			added, err := fills.Add(text, "f.csv", row)
			if errors.Is(err, fills.ErrStands) {
				continue
			}
			if err != nil {
				t.Fatalf("%v\n%s", err, text)
			}
			if !bytes.HasPrefix(added.Text, text) || len(added.Log.Rows) != i+1 {
				t.Fatalf("%q\n%q\n%d rows", text, added.Text, len(added.Log.Rows))
			}
			text = added.Text
		}
	})
}
