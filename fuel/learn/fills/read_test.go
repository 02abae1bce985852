package fills_test

import (
	"errors"
	"fmt"
	"slices"
	"strings"
	"testing"
	"time"

	"lastpump/fuel"
	"lastpump/fuel/learn/fills"
	"lastpump/route"
	"lastpump/route/input"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"
)

// sample is the file in the description of the format.
const sample = `date,trip_km,litres,event,grade,from_km,to_km,note
2026-07-01,,,full,95 RON,,,brim at the start
2026-07-01,146.9,8.4,full,95 RON,0,142.4,
2026-07-02,74.0,3.0,part,80 RON,142.4,212,
`

func day(d int) time.Time { return time.Date(2026, 7, d, 0, 0, 0, 0, time.UTC) }

func read(t testing.TB, text string) *fills.Log {
	t.Helper()
	l, err := fills.Read(strings.NewReader(text), "f.csv")
	if err != nil {
		t.Fatalf("%v\n%s", err, text)
	}
	return l
}

var plainly = cmpopts.IgnoreUnexported(fills.Row{})

func TestReadSample(t *testing.T) {
	want := []fills.Row{
		{Line: 2, Date: day(1), Event: fills.Full, Grade: "95 RON", Note: "brim at the start"},
		{Line: 3, Date: day(1), Distance: 146900, HasDistance: true, Litres: 8.4, HasLitres: true, Event: fills.Full,
			Grade: "95 RON", To: 142400, HasSpan: true},
		{Line: 4, Date: day(2), Distance: 74000, HasDistance: true, Litres: 3, HasLitres: true, Event: fills.Part,
			Grade: "80 RON", From: 142400, To: 212000, HasSpan: true},
	}
	l := read(t, sample)
	if diff := cmp.Diff(want, l.Rows, plainly); diff != "" || l.Odometer || l.Miles || len(l.Notes)+len(l.Remarks) > 0 {
		t.Errorf("%+v\n(- the description, + read)\n%s", l, diff)
	}
}

// What real logs hold, and is coped with: what is left of the rows, and what is said.
func TestReadCopes(t *testing.T) {
	for name, x := range map[string]struct {
		text string
		rows string // distance km/litres/event
		said []fills.RemarkKind
	}{
		"thousands": {"date,odometer_km,litres\n2026-07-01,\"47,671\",9\n2026-07-02,\"47,871.5\",10\n",
			"47671.0/9.00/full 47871.5/10.00/full", nil},
		"decimal commas": {"date;odometer_km;litres\n2026-07-01;47671,5;9\n2026-07-02;47871,5;10,25\n",
			"47671.5/9.00/full 47871.5/10.25/full", nil},
		"not known": {"date,trip_km,litres,event\n2026-07-01,NA,?,full\n2026-07-02,n/a,-,full\n2026-07-03,150, 8 ,\n",
			"-/-/full -/-/full 150.0/8.00/full", nil},
		"line ends and commas": {"date,trip_km,litres,,\r\n2026-07-01,,,,\r\n2026-07-02,150,8,,,,,\r\n\r\n",
			"-/-/full 150.0/8.00/full", nil},
		"remarks": {"# a file\n# date, the day\ndate,trip_km,litres\n2026-07-01,,\n#2026-07-02,1,1\n2026-07-02,150,8\n",
			"-/-/full 150.0/8.00/full", nil},
		"units in the fields": {"date,trip_km,litres\n2026-07-01,,\n2026-07-02,150 km,8L\n", "-/-/full 150.0/8.00/full", nil},
		"miles beside litres": {"date,trip_mi,litres\n2026-07-01,,\n2026-07-02,100,8\n", "-/-/full 160.9/8.00/full", nil},
		"gallons":             {"date,trip_mi,gal_us\n2026-07-01,,\n2026-07-02,100,2 gal\n", "-/-/full 160.9/7.57/full", nil},
		"imperial":            {"date,trip_mi,gal_uk\n2026-07-01,,\n2026-07-02,100,2\n", "-/-/full 160.9/9.09/full", nil},
		"repeats": {"date,trip_km,litres\n2026-07-01,,\n2026-07-02,150,8\n2026-07-02,150,8\n2026-07-02,150,8.1\n",
			"-/-/full 150.0/8.00/full 150.0/8.10/full", []fills.RemarkKind{fills.Repeated}},
		"two brims without figures": {"date,trip_km,litres,event\n2026-07-01,,,full\n2026-07-01,,,full\n",
			"-/-/full -/-/full", nil},
		"out of order": {"date,trip_km,litres\n2026-07-01,,\n2026-07-03,150,8\n2026-07-02,140,7\n",
			"-/-/full 140.0/7.00/full 150.0/8.00/full", []fills.RemarkKind{fills.Sorted}},
		"newest first": {"date,trip_km,litres\n2026-07-03,150,8\n2026-07-02,140,7\n2026-07-02,130,6\n2026-07-01,,\n",
			"-/-/full 130.0/6.00/full 140.0/7.00/full 150.0/8.00/full", []fills.RemarkKind{fills.Reversed}},
		"an odometer of one day": {"date,odometer_km,litres\n2026-07-02,1200,8\n2026-07-02,1100,7\n2026-07-01,1000,9\n2026-07-03,1300,8\n",
			"1000.0/9.00/full 1100.0/7.00/full 1200.0/8.00/full 1300.0/8.00/full", []fills.RemarkKind{fills.Sorted}},
		"service": {"date,odometer_km,litres,event,note\n2026-07-01,1000,9,,\n2026-07-02,1100,,service,\n" +
			"2026-07-02,1100,,,Oil change\n2026-07-03,,,,new gloves\n2026-07-03,1200,8,,\n",
			"1000.0/9.00/full 1200.0/8.00/full", []fills.RemarkKind{fills.OfService}},
		"a fill of which the litres were not written": {"date,odometer_km,litres\n2026-07-01,1000,9\n2026-07-02,1100,\n2026-07-03,1200,8\n",
			"1000.0/9.00/full 1100.0/-/missed 1200.0/8.00/full", []fills.RemarkKind{fills.TakenForMissed}},
		"times of the day": {"date,trip_km,litres\n2026-07-01 18:30,,\n2026-07-02T09:15,150,8\n2026-07-02 07:00:00,140,7\n",
			"-/-/full 140.0/7.00/full 150.0/8.00/full", []fills.RemarkKind{fills.Sorted}},
		"words of the trade": {"date,trip_km,litres,event\n2026-07-01,,,Brim\n2026-07-02,130,,light\n2026-07-02,140,,tap\n" +
			"2026-07-02,150,8,Partial\n2026-07-02,30,,ran dry\n2026-07-02,31,9,FULL\n",
			"-/-/full 130.0/-/lamp 140.0/-/reserve 150.0/8.00/part 30.0/-/dry 31.0/9.00/full", nil},
	} {
		l := read(t, x.text)
		var rows []string
		for _, r := range l.Rows {
			s := "-/"
			if r.HasDistance {
				s = fmt.Sprintf("%.1f/", r.Distance.Kilometres())
			}
			if r.HasLitres {
				s += fmt.Sprintf("%.2f/", r.Litres)
			} else {
				s += "-/"
			}
			rows = append(rows, s+string(r.Event))
		}
		var said []fills.RemarkKind
		for _, r := range l.Remarks {
			said = append(said, r.Kind)
		}
		if got := strings.Join(rows, " "); got != x.rows {
			t.Errorf("%s: %s\nwant %s", name, got, x.rows)
		}
		if diff := cmp.Diff(x.said, said); diff != "" {
			t.Errorf("%s is said:\n%s", name, diff)
		}
	}
}

// What is refused, where, and with which hint.
func TestReadRefuses(t *testing.T) {
	const head = "date,trip_km,litres,event,from_km,to_km,sand\n2026-07-01,,,full\n"
	const odo = "date,odometer_mi,gal_us\n2026-07-01,1000,2\n"
	for _, x := range []struct{ text, want, hint string }{
		{"", "f.csv:1:1: empty file", ""},
		{"date,litres\n", "f.csv:1:1: no column with the distance, in a unit", "name one of trip_km, trip_mi, odometer_km, odometer_mi"},
		{"date,trip_km\n", "f.csv:1:1: no column with the amount, in a unit", "name one of litres, gal_us, gal_uk"},
		{"date,trip_km,trip_mi,litres\n", "both trip_km and trip_mi: the distance stands in one unit", ""},
		{"date,trip_km,litres,gal_us\n", "both litres and gal_us", ""},
		{"date,trip_km,litres,evnt\n", `f.csv:1:21: unknown column "evnt"`, `did you mean "event"?`},
		{"trip_km,litres\n", `no column "date"`, ""},
		{head + "1.7.2026,150,8,full\n", `f.csv:3:1: date is "1.7.2026", not a day`, "write it as 2026-05-31"},
		{head + "07/02/2026,150,8,full\n", "f.csv:3:1: ", "write it as 2026-05-31"},
		{head + ",150,8,full\n", `f.csv:3:1: date is "", not a day`, ""},
		{head + "2026-07-02,150,8,ful\n", `f.csv:3:18: unknown event "ful"`, `did you mean "full"?`},
		{head + "2026-07-02,150 mi,8,full\n", `f.csv:3:12: trip_km is "150 mi", in another unit`, "keep one unit in all rows"},
		{head + "2026-07-02,150,2 gal,full\n", `f.csv:3:16: litres is "2 gal", in another unit`, ""},
		{head + "2026-07-02,far,8,full\n", `f.csv:3:12: trip_km is "far", not a distance`, ""},
		{head + "2026-07-02,150,-8,full\n", `f.csv:3:16: litres is "-8", not an amount`, ""},
		{head + "2026-07-02,\"47,671\",8,full\n", `f.csv:3:12: trip_km is 47,671, longer than any tank`, "odometer_km"},
		{head + "2026-07-02,150,840,full\n", `f.csv:3:16: litres is 840, more than any tank`, "is a point missing?"},
		{head + "2026-07-02,,,lamp\n", "f.csv:3:12: lamp without trip_km: it tells nothing", ""},
		{head + "2026-07-02,150,8,full,12\n", "f.csv:3:23: one of from_km and to_km without the other", ""},
		{head + "2026-07-02,150,8,full,12,11\n", "f.csv:3:26: to_km is before from_km", ""},
		{head + "2026-07-02,150,8,full,12,162,30\n", "f.csv:3:23: both a span of the line and kilometres of grounds", ""},
		{head + "2026-07-02,150,,lamp\n2026-07-02,140,8,full\n", "f.csv:4:1: the trip goes back, from 150.0 in row 3 to 140.0", ""},
		{head + "2026-07-02,150,8,full,,,,9\n", "f.csv:3:26: the row has more fields than the header", ""},
		{odo + "2026-07-02,999,2\n", "f.csv:3:1: the odometer goes back, from 1000.0 in row 2 to 999.0", "a digit?"},
		{odo + "2026-07-02,1000,2\n", "f.csv:3:1: the odometer stands where it stood in row 2", ""},
		{odo + "2026-07-02,1100,60\n", `f.csv:3:17: gal_us is 60, more than any tank`, "are these litres?"},
		{odo + "2026-07-02,1100,2\n2026-07-03,\"1200,2\n", "f.csv:4:", "in quotes"},
	} {
		_, err := fills.Read(strings.NewReader(x.text), "f.csv")
		var ie *input.Error
		if err == nil || !strings.Contains(err.Error(), x.want) || !errors.As(err, &ie) || !strings.Contains(ie.Hint, x.hint) {
			t.Errorf("%q\n%v, want %s\nhint %v, want %s", x.text, err, x.want, ie, x.hint)
		}
	}
}

// A log whose distances stand one row off is told by its scatter; one of ten tanks that fit
// is not.
func TestOneRowOff(t *testing.T) {
	km := []float64{210, 95, 160, 230, 120, 185, 75, 240, 140, 110, 200, 150}
	for _, off := range []int{0, 1} {
		var b strings.Builder
		b.WriteString("date,trip_km,litres\n2026-07-01,,\n")
		for i, d := range km {
			litres := km[(i+off)%len(km)] * .045 * []float64{1, 1.05, .96}[i%3]
			fmt.Fprintf(&b, "2026-07-%02d,%v,%.2f\n", i+2, d, litres)
		}
		l := read(t, b.String())
		said := len(l.Remarks) == 1 && l.Remarks[0].Kind == fills.OneRowOff && l.Remarks[0].Ratio < .5
		if said != (off == 1) {
			t.Errorf("%d rows off: %+v", off, l.Remarks)
		}
	}
}

// Kilometres of grounds stand as the bike shows them, in the unit of the distance.
func TestColumnsOfGrounds(t *testing.T) {
	l := read(t, "date,trip_mi,litres,sand,unknown,dirt\n2026-07-01,,,,,\n2026-07-02,100,8,40,10,20\n")
	r := l.Rows[1]
	sand, dirt := r.Shown[fuel.WeighedAs(route.Sand)], r.Shown[fuel.WeighedAs(route.Dirt)]
	if !r.HasGrounds || sand != 40*fuel.Mile || dirt != 30*fuel.Mile {
		t.Errorf("sand %v, dirt %v of %+v", sand, dirt, r)
	}
}

// Six trips of which each is longer than the one before are an odometer that was called a trip; five may
// be chance, and one that falls back was zeroed.
func TestTripsThatWereNeverZeroed(t *testing.T) {
	for text, want := range map[string]bool{
		"100,5\n2026-06-02,210,5\n2026-06-03,300,4\n2026-06-04,420,6\n2026-06-05,530,5\n2026-06-06,600,4": true,
		"100,5\n2026-06-02,210,5\n2026-06-03,300,4\n2026-06-04,420,6\n2026-06-05,530,5":                   false,
		"100,5\n2026-06-02,210,5\n2026-06-03,300,4\n2026-06-04,420,6\n2026-06-05,530,5\n2026-06-06,90,4":  false,
	} {
		l, err := fills.Read(strings.NewReader("date,trip_km,litres\n2026-06-01,"+text+"\n"), "f.csv")
		if err != nil {
			t.Fatal(err)
		}
		got := slices.ContainsFunc(l.Remarks, func(r fills.Remark) bool { return r.Kind == fills.NotZeroed })
		if got != want {
			t.Errorf("%q: %v", text, got)
		}
	}
}
