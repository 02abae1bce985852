package stop_test

import (
	"os"
	"strings"
	"testing"
	"testing/iotest"

	"lastpump/fuel/stop"
	"lastpump/octane"

	"github.com/paulmach/orb"
)

func TestReadFullCSV(t *testing.T) {
	file, err := os.Open("testdata/full.csv")
	if err != nil {
		t.Fatal(err)
	}
	defer file.Close()
	got, _, err := stop.ReadCSV(file, "full.csv", "")
	if err != nil {
		t.Fatal(err)
	}
	same(t, got, []stop.Stop{
		{
			Name: "Old Mill", At: orb.Point{95.8971, 48.0603}, Grades: grades(95, 92), Hours: "Mo-Fr 08:00-18:00; PH off",
			Pay: "cash", Phone: "+999 555 0100", Note: "behind the mill, ring twice", Standing: stop.Seen,
			Confirmed: day(2026, 5, 31), HasConfirmed: true,
			Prices: []stop.Price{{Amount: 1.62, Currency: "EUR", Per: "L"}, {Amount: 1.48, Currency: "EUR", Per: "L"}},
		},
		{
			Name: "Cold Creek, West", At: orb.Point{-180, -38.25}, Grades: []octane.Grade{octane.FromAKI(91)},
			Hours: "Mo-Sa 07:00-12:00,13:00-19:00", Pay: "cards", Standing: stop.Phoned,
			Confirmed: day(2026, 4, 1), HasConfirmed: true,
			Prices: []stop.Price{{Amount: 3.89, Currency: "USD", Per: "USgal"}},
		},
		{Name: "Widow's shed", At: orb.Point{180, 0}, Standing: stop.Hearsay, Note: `sells "from a drum"`},
	})
}

// Only name, lat and lon are needed; a stop that says no more is from a map.
func TestReadLeastCSV(t *testing.T) {
	want := []stop.Stop{
		{Name: "A", At: orb.Point{106.5, 47.25}, Standing: stop.Map},
		{Name: "B", At: orb.Point{-106.5, -47.25}, Standing: stop.Map},
	}
	for name, text := range map[string]string{
		"plain":              "name,lat,lon\nA,47.25,106.5\nB,-47.25,-106.5\n",
		"another order":      "lon,name,lat\n106.5,A,47.25\n-106.5,B,-47.25\n",
		"capitals":           "Name,LAT,Lon\nA,47.25,106.5\nB,-47.25,-106.5\n",
		"spaces":             "name, lat, lon\n A ,47.25 , 106.5\nB, -47.25,\t-106.5\n",
		"byte order mark":    "\ufeffname,lat,lon\nA,47.25,106.5\nB,-47.25,-106.5\n",
		"lines of Windows":   "name,lat,lon\r\nA,47.25,106.5\r\nB,-47.25,-106.5\r\n",
		"empty lines":        "name,lat,lon\n\nA,47.25,106.5\n,,\n\nB,-47.25,-106.5",
		"semicolons":         "name;lat;lon\nA;47.25;106.5\nB;-47.25;-106.5\n",
		"mark and semicolon": "\ufeffname;lat;lon\nA;47.25;106.5\nB;-47.25;-106.5\n",
		"quotes":             "\"name\",\"lat\",\"lon\"\n\"A\",\"47.25\",\"106.5\"\n\"B\",\"-47.25\",\"-106.5\"\n",
		"empty columns":      "name,lat,lon,note,hours\nA,47.25,106.5\nB,-47.25,-106.5,,\n",
	} {
		t.Run(name, func(t *testing.T) { same(t, read(t, text), want) })
		t.Run(name+", byte by byte", func(t *testing.T) {
			got, _, err := stop.ReadCSV(iotest.OneByteReader(strings.NewReader(text)), "stops.csv", "")
			if err != nil {
				t.Fatal(err)
			}
			same(t, got, want)
		})
	}
	if got := read(t, "name,lat,lon\n"); len(got) != 0 {
		t.Errorf("a list of nobody: %v", got)
	}
}

// In a list with semicolons between the columns, what has semicolons of its own
// stands in quotes.
func TestReadSemicolonCSV(t *testing.T) {
	got := one(t, "name;grades;lat;lon;price\nA;\"95 RON; 92 RON\";48.1;95.9;\"1.62 EUR/L; 1.48 EUR/L\"\n")
	same(t, []stop.Stop{got}, []stop.Stop{{
		Name: "A", At: orb.Point{95.9, 48.1}, Grades: grades(95, 92), Standing: stop.Map,
		Prices: []stop.Price{{Amount: 1.62, Currency: "EUR", Per: "L"}, {Amount: 1.48, Currency: "EUR", Per: "L"}},
	}})
}

// What is not petrol for this engine is not a grade, and what does not say its
// grade is not known, never "no".
func TestGrades(t *testing.T) {
	for text, want := range map[string]struct {
		grades []octane.Grade
		other  []string
		none   bool // no petrol for this engine
	}{
		"95 RON; 92 RON":           {grades: grades(95, 92)},
		"92 RON;95 RON;":           {grades: grades(92, 95)},
		"91 AKI":                   {grades: []octane.Grade{octane.FromAKI(91)}},
		"95/85":                    {grades: []octane.Grade{octane.FromPair(95, 85)}},
		"AI-92; AI-95":             {grades: grades(92, 95)}, // GOST R 51105-97 § 3.1: by the research method
		"diesel":                   {other: []string{"diesel"}, none: true},
		"E85":                      {other: []string{"e85"}, none: true},
		"Diesel; LPG; E85":         {other: []string{"diesel", "lpg", "e85"}, none: true},
		"95 RON; diesel":           {grades: grades(95), other: []string{"diesel"}},
		"petrol":                   {},
		"petrol; diesel":           {},
		"unleaded; 95 RON; diesel": {grades: grades(95), other: []string{"diesel"}},
		"95/92 RON":                {grades: grades(95, 92)},
		"95 RON / 92 RON":          {grades: grades(95, 92)},
		"95 RON/92 RON; diesel":    {grades: grades(95, 92), other: []string{"diesel"}},
		"92 / 95 RON; E85":         {grades: grades(92, 95), other: []string{"e85"}},
		"87/89/91 AKI":             {grades: []octane.Grade{octane.FromAKI(87), octane.FromAKI(89), octane.FromAKI(91)}},
		`"95 RON, 92 RON"`:         {grades: grades(95, 92)},
		`"95,4 RON,92 RON"`:        {grades: grades(95.4, 92)},
		"not known":                {},
		"unknown; diesel":          {other: []string{"diesel"}, none: true},
		"":                         {},
	} {
		s := one(t, "name,lat,lon,grades\nA,1,1,"+text+"\n")
		same(t, []stop.Stop{{Grades: s.Grades, Other: s.Other}}, []stop.Stop{{Grades: want.grades, Other: want.other}})
		if s.NoPetrol() != want.none {
			t.Errorf("%q: no petrol %v, want %v", text, s.NoPetrol(), want.none)
		}
	}
}

// A bare number is refused until the scale of the pumps is said: 16 CFR Part 306
// has American pumps post (R+M)/2, the Australian Fuel Standard (Petrol)
// Determination 2001 rates by RON.
func TestBareNumberHasThePostedScale(t *testing.T) {
	const text = "name,lat,lon,grades\nA,1,1,91; 95 RON\n"
	for scale, want := range map[octane.Scale][]octane.Grade{
		octane.ScaleAKI: {octane.FromAKI(91), octane.FromRON(95)},
		octane.ScaleRON: {octane.FromRON(91), octane.FromRON(95)},
	} {
		got, _, err := stop.ReadCSV(strings.NewReader(text), "stops.csv", scale)
		if err != nil {
			t.Fatal(err)
		}
		same(t, got, []stop.Stop{{Name: "A", At: orb.Point{1, 1}, Grades: want, Standing: stop.Map}})
	}
	_, _, err := stop.ReadCSV(strings.NewReader(text), "stops.csv", "")
	want := said{`stops.csv:2:7: grades: "91" has no scale: 91 RON and 91 AKI are different petrols`, hintScale}
	if got := faults(t, err); len(got) != 1 || got[0] != want {
		t.Errorf("without a scale: %v, want %v", got, want)
	}
}

// Hours are in the syntax of OpenStreetmap's opening_hours and stay as written,
// also where we should not understand them.
func TestHoursStayAsWritten(t *testing.T) {
	for _, hours := range []string{"24/7", "Mo-Fr 08:00-18:00; Sa 09:00-12:00", "Mo-Su 06:00-22:00; Su off",
		"Mo-Sa 07:00-12:00,13:00-19:00", "Fr 20:00-02:00", "Mo-Fr 08:00-18:00; PH off", `Mo-Fr 8-18 "ask"`} {
		field := `"` + strings.ReplaceAll(hours, `"`, `""`) + `"`
		if got := one(t, "name,lat,lon,hours\nA,1,1,"+field+"\n").Hours; got != hours {
			t.Errorf("hours %q, want %q", got, hours)
		}
	}
}

func TestStandings(t *testing.T) {
	for text, want := range map[string]stop.Standing{
		"seen": stop.Seen, "Phoned": stop.Phoned, "MAP": stop.Map, "hearsay": stop.Hearsay, "": stop.Map,
		"gesehen": stop.Seen, "Angerufen": stop.Phoned, "carte": stop.Map, "rumour": stop.Hearsay,
	} {
		if got := one(t, "name,lat,lon,standing\nA,1,1,"+text+"\n").Standing; got != want {
			t.Errorf("%q: %q, want %q", text, got, want)
		}
	}
}

func TestPrices(t *testing.T) {
	for text, want := range map[string][]stop.Price{
		"1.62 EUR/L":      {{Amount: 1.62, Currency: "EUR", Per: "L"}},
		"1.62EUR / L":     {{Amount: 1.62, Currency: "EUR", Per: "L"}},
		"3.89 USD/USgal":  {{Amount: 3.89, Currency: "USD", Per: "USgal"}},
		"6 GBP/impgal":    {{Amount: 6, Currency: "GBP", Per: "impgal"}},
		"2450 ₮/L; 2 €/L": {{Amount: 2450, Currency: "₮", Per: "L"}, {Amount: 2, Currency: "€", Per: "L"}},
		"":                nil,
	} {
		s := one(t, "name,lat,lon,price\nA,1,1,"+text+"\n")
		same(t, []stop.Stop{{Prices: s.Prices}}, []stop.Stop{{Prices: want}})
	}
}
