package stop_test

import (
	"fmt"
	"slices"
	"strings"
	"testing"
	"testing/iotest"

	"lastpump/fuel/stop"
	"lastpump/octane"
)

// A badRow is a row with one fault, under a header that has all the columns in
// another order than usual.
type badRow struct {
	row  string
	col  int // of the field with the fault, in bytes from 1
	what string
	hint string

	swapped bool // it is no fault yet: it may be meant the other way round
}

const badHeader = "name,lat,lon,price,confirmed,standing,grades,hours,pay,phone,note"

var badRows = []badRow{
	{",1,1", 1, "a stop without a name", hintName, false},
	{"   ,1,1", 4, "a stop without a name", hintName, false},
	{"A,91,1", 3, `lat is "91", not a number of degrees from -90 to 90`, hintDegrees, true},
	{"A,-90.0001,1", 3, `lat is "-90.0001", not a number of degrees from -90 to 90`, hintDegrees, true},
	{"A,1,180.5", 5, `lon is "180.5", not a number of degrees from -180 to 180`, hintDegrees, false},
	{"A,1,-181", 5, `lon is "-181", not a number of degrees from -180 to 180`, hintDegrees, false},
	{"A,NaN,1", 3, `lat is "NaN", not a number of degrees from -90 to 90`, hintDegrees, false},
	{"A,1,Inf", 5, `lon is "Inf", not a number of degrees from -180 to 180`, hintDegrees, false},
	{"A,,1", 3, `lat is "", not a number of degrees from -90 to 90`, hintDegrees, false},
	{"A,1", 1, `lon is "", not a number of degrees from -180 to 180`, hintDegrees, false},
	{`A,"47,9",1`, 3, `lat is "47,9", not a number of degrees from -90 to 90`, hintDegrees, false},
	{"A,47°65',1", 3, `lat is "47°65'", not a number of degrees from -90 to 90`, hintDegrees, false},
	{"A,91,91", 3, `lat is "91", not a number of degrees from -90 to 90`, hintDegrees, false},
	{"A,1,91 O", 5, `lon is "91 O", where O is east in German and west in French and Spanish`,
		"write E or W, or a minus for west", false},
	{"A,1,48N", 5, `lon is "48N", but lon counts E and W`, "are lat and lon swapped?", false},
	{"A,-1 S,1", 3, `lat is "-1 S", with a direction and a sign`, "write one of the two", false},
	{"A,1,1,cheap", 7, `price: "cheap" is not a price`, hintPrice, false},
	{"A,1,1,1.62", 7, `price: "1.62" is not a price`, hintPrice, false},
	{"A,1,1,1.62 EUR", 7, `price: "1.62 EUR" is not a price`, hintPrice, false},
	{"A,1,1,-1.62 EUR/L", 7, `price: "-1.62 EUR/L" is not a price`, hintPrice, false},
	{"A,1,1,NaN EUR/L", 7, `price: "NaN EUR/L" is not a price`, hintPrice, false},
	{"A,1,1,1.62 EUR/gal", 7, `price: "1.62 EUR/gal" is not a price`, hintPrice, false},
	{"A,1,1,1.62 EUR/L; free", 7, `price: "free" is not a price`, hintPrice, false},
	{"A,1,1,,2026-02-30", 8, `confirmed: "2026-02-30" is not a day`, hintDay, false},
	{"A,1,1,,31.5.2026", 8, `confirmed: "31.5.2026" is not a day`, hintDay, false},
	{"A,1,1,,yesterday", 8, `confirmed: "yesterday" is not a day`, hintDay, false},
	{"A,1,1,,,maybe", 9, `standing: "maybe" is not a standing`, hintStanding, false},
	{"A,1,1,,,,95", 10, `grades: "95" has no scale: 91 RON and 91 AKI are different petrols`, hintScale, false},
	{"A,1,1,,,,95 MON", 10, `grades: "95 MON" is not a grade of petrol`, hintGrade, false},
	{"A,1,1,,,,super", 10, `grades: "super" is not a grade of petrol`, hintGrade, false},
	{"A,1,1,,,,E10", 10, `grades: "E10" says how much ethanol is in it, not its octane number`, hintGrade, false},
	{"A,1,1,,,,95/80", 10, `grades: "95/80" is neither RON/MON nor two grades`, hintGrade, false},
	{"A,1,1,,,,95/89", 10, `grades: "95/89" is neither RON/MON nor two grades`, hintGrade, false},
	{"A,1,1,,,,95/92", 10, `grades: "95/92" has no scale: 91 RON and 91 AKI are different petrols`, hintScale, false},
	{"A,1,1,,,,9 RON", 10, `grades: "9 RON" is not an octane number (60 to 120)`, hintGrade, false},
	{"A,1,1,,,,85/95", 10, `grades: "85/95" has a motor octane number above the research one`, "write RON first: 95/85", false},
	{"A,1,1,,,,AI-92; 95", 10, `grades: "95" has no scale: 91 RON and 91 AKI are different petrols`, hintScale, false},
}

// Each fault has the place of its field and the name of its column.
func TestReadCSVRefusesRows(t *testing.T) {
	for _, x := range badRows {
		stops, _, err := stop.ReadCSV(strings.NewReader(badHeader+"\nGood,1,1\n"+x.row+"\n"), "stops.csv", "")
		want := said{fmt.Sprintf("stops.csv:3:%d: %s", x.col, x.what), x.hint}
		if x.swapped && len(stops) == 2 && err == nil {
			err = stops[1].Swapped
		}
		if got := faults(t, err); len(got) != 1 || got[0] != want {
			t.Errorf("%s\n got %q\nwant %q", x.row, got, want)
		}
	}
}

// The faults of a file are told together, each at its row, the first ten in
// words.
func TestReadCSVTellsSeveralFaults(t *testing.T) {
	text := badHeader + "\n"
	var want []string
	for i, x := range badRows {
		text += x.row + "\nGood,1,1\n"
		want = append(want, fmt.Sprintf("stops.csv:%d:%d: %s", 2+2*i, x.col, x.what))
	}
	for _, n := range []int{2, 10} {
		some := strings.Join(strings.SplitAfter(text, "\n")[:1+2*n], "")
		_, _, err := stop.ReadCSV(strings.NewReader(some), "stops.csv", "")
		if got := strings.Join(want[:n], "\n"); err == nil || err.Error() != got {
			t.Errorf("%d faults:\n%v\nwant\n%s", n, err, got)
		}
	}
	_, _, err := stop.ReadCSV(strings.NewReader(text), "stops.csv", "")
	told := append(slices.Clone(want[:10]), fmt.Sprintf("and %d more", len(want)-10))
	if got := strings.Join(told, "\n"); err == nil || err.Error() != got {
		t.Errorf("%d faults:\n%v\nwant\n%s", len(want), err, got)
	}
}

// A field that runs over lines moves the rows behind it.
func TestReadCSVPlacesBehindLongFields(t *testing.T) {
	_, _, err := stop.ReadCSV(strings.NewReader("name,lat,lon,note\nA,1,1,\"one\ntwo\nthree\"\nБ,1,x\n"), "stops.csv", "")
	// Б has two bytes.
	want := said{`stops.csv:5:6: lon is "x", not a number of degrees from -180 to 180`, hintDegrees}
	if got := faults(t, err); len(got) != 1 || got[0] != want {
		t.Errorf("got %q, want %q", got, want)
	}
}

func TestReadCSVRefusesFiles(t *testing.T) {
	for text, want := range map[string]said{
		"":                            {"stops.csv:1:1: empty file", hintColumns},
		"\ufeff":                      {"stops.csv:1:1: empty file", hintColumns},
		"name,lat\nA,1\n":             {`stops.csv:1:1: no column "lon"`, hintColumns},
		"lat,lon\n1,1\n":              {`stops.csv:1:1: no column "name"`, hintColumns},
		"name,lat,lon,pric\nA,1,1,\n": {`stops.csv:1:14: unknown column "pric"`, `did you mean "price"? ` + hintColumns},
		"name,lat,lon,satnding\nA,1,1,hearsay\n": {`stops.csv:1:14: unknown column "satnding"`,
			`did you mean "standing"? ` + hintColumns},
		"name,lat,lon,stauts\nA,1,1,hearsay\n": {`stops.csv:1:14: unknown column "stauts"`,
			`did you mean "status"? ` + hintColumns},
		"name,lat,lon,status,certainty\n": {`stops.csv:1:21: both "status" and "certainty" stand for the column "standing"`,
			hintColumns},
		"name,lat,lon,lat\nA,1,1,1\n": {`stops.csv:1:14: column "lat" stands twice`, hintColumns},
		"name,lat,lon\nA \"x\",1,1\n": {`stops.csv:2:3: bare " in non-quoted-field`, hintQuotes},
	} {
		_, _, err := stop.ReadCSV(strings.NewReader(text), "stops.csv", octane.ScaleRON)
		if got := faults(t, err); len(got) != 1 || got[0] != want {
			t.Errorf("%q\n got %q\nwant %q", text, got, want)
		}
	}
}

// A fault of the CSV itself ends the list; the rows before it are judged all the
// same.
func TestReadCSVTellsFaultsBeforeABrokenRow(t *testing.T) {
	_, _, err := stop.ReadCSV(strings.NewReader("name,lat,lon\nA,99,1\nB \"b\",1,1\nC,99,1\n"), "stops.csv", "")
	want := []said{
		{`stops.csv:2:3: lat is "99", not a number of degrees from -90 to 90`, hintDegrees},
		{`stops.csv:3:3: bare " in non-quoted-field`, hintQuotes},
	}
	if got := faults(t, err); !slices.Equal(got, want) {
		t.Errorf("got %q, want %q", got, want)
	}
}

func TestReadCSVPassesOnReadErrors(t *testing.T) {
	_, _, err := stop.ReadCSV(iotest.ErrReader(iotest.ErrTimeout), "stops.csv", "")
	if want := "stops.csv: timeout"; err == nil || err.Error() != want {
		t.Errorf("error %v, want %s", err, want)
	}
}
