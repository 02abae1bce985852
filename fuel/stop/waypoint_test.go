package stop_test

import (
	"strings"
	"testing"

	"lastpump/fuel/stop"
	"lastpump/octane"
	"lastpump/route"
	"lastpump/route/gpxfile"

	"github.com/paulmach/orb"
)

// pump is a waypoint of a fuel stop at line 3, column 5 of its file.
func pump(name string) gpxfile.Waypoint {
	return gpxfile.Waypoint{Point: route.Point{Point: orb.Point{95.9, 48.1}}, Name: name, Sym: "Fuel", File: "ride.gpx", Line: 3, Col: 5}
}

func fromOne(t *testing.T, w gpxfile.Waypoint) stop.Stop {
	t.Helper()
	stops, _, err := stop.FromWaypoints([]gpxfile.Waypoint{w}, "")
	if err != nil {
		t.Fatal(err)
	}
	if len(stops) != 1 {
		t.Fatalf("%d stops from %+v", len(stops), w)
	}
	return stops[0]
}

// A waypoint is fuel if its type or its symbol says so in words, or if it has a
// line of grades.
func TestWaypointIsFuel(t *testing.T) {
	for _, c := range []struct {
		typ, sym, desc string
		want           bool
	}{
		{"fuel", "", "", true},
		{"", "Fuel", "", true},
		{"", "Gas Station", "", true},
		{"PETROL", "", "", true},
		{"amenity=fuel", "", "", true},
		{"fuel_station", "", "", true},
		{"Tankstelle", "", "", true},
		{"", "Filling Station", "", true},
		{"", "Pin, Blue", "grades: 95 RON", true},
		{"", "", "Grades:", true}, // petrol of a grade not known
		{"", "Flag, Blue", "", false},
		{"", "Las Vegas", "", false},
		{"Gasthaus", "", "", false},
		{"Gasübergabe", "", "", false}, // letters of any alphabet make a word
		{"campground", "Tent", "no fuel here, the next petrol is in town", false},
		{"", "", "hours: 24/7\npay: cash", false},
		{"", "", "the grades: see below", false},
		{"", "", "", false},
	} {
		w := gpxfile.Waypoint{Name: "A", Type: c.typ, Sym: c.sym, Desc: c.desc, Line: 1, Col: 1}
		stops, _, err := stop.FromWaypoints([]gpxfile.Waypoint{w}, "")
		if err != nil || len(stops) == 1 != c.want {
			t.Errorf("type %q, symbol %q, %q: %d stops, %v; want fuel %v", c.typ, c.sym, c.desc, len(stops), err, c.want)
		}
	}
}

// What a list has in columns stands in lines of "key: value"; other lines are
// the note.
func TestWaypointLines(t *testing.T) {
	w := pump(" Old Mill ")
	w.Desc = "behind the mill\ngrades: 95 RON; 92 RON\r\nHours: Mo-Fr 08:00-18:00; PH off\n  pay :  cash  \nstanding: Seen\n\nring twice"
	w.Cmt = "confirmed: 2026-05-31\nphone: +999 555 0100\rprice: 1.62 EUR/L; 1.48 EUR/L\nnote: shut at noon\nsee http://example.org/mill"
	same(t, []stop.Stop{fromOne(t, w)}, []stop.Stop{{
		Name: "Old Mill", At: orb.Point{95.9, 48.1}, Grades: grades(95, 92), Hours: "Mo-Fr 08:00-18:00; PH off", Pay: "cash",
		Phone: "+999 555 0100", Standing: stop.Seen, Confirmed: day(2026, 5, 31), HasConfirmed: true,
		Note:   "behind the mill; ring twice; shut at noon; see http://example.org/mill",
		Prices: []stop.Price{{Amount: 1.62, Currency: "EUR", Per: "L"}, {Amount: 1.48, Currency: "EUR", Per: "L"}},
	}})
}

func TestWaypointThatSaysNoMore(t *testing.T) {
	same(t, []stop.Stop{fromOne(t, pump("A"))}, []stop.Stop{{Name: "A", At: orb.Point{95.9, 48.1}, Standing: stop.Map}})
}

// Many programs write the same text as description and as comment.
func TestWaypointSaidTwice(t *testing.T) {
	for _, text := range []string{"behind the mill", "behind the mill\nring twice", "grades: 95 RON\nbehind the mill\npay: cash\nring twice"} {
		once, twice := pump("A"), pump("A")
		once.Desc = text
		twice.Desc, twice.Cmt = text, text
		same(t, []stop.Stop{fromOne(t, twice)}, []stop.Stop{fromOne(t, once)})
	}
}

func TestWaypointSellsNoPetrol(t *testing.T) {
	w := pump("A")
	w.Desc = "grades: diesel; E85"
	if s := fromOne(t, w); !s.NoPetrol() || len(s.Other) != 2 {
		t.Errorf("sells %v and %v", s.Grades, s.Other)
	}
}

func TestWaypointsKeepTheirOrder(t *testing.T) {
	view := gpxfile.Waypoint{Name: "View", Type: "summit", Line: 1, Col: 1}
	stops, _, err := stop.FromWaypoints([]gpxfile.Waypoint{pump("B"), view, pump("A"), pump("B")}, "")
	if err != nil {
		t.Fatal(err)
	}
	var names []string
	for _, s := range stops {
		names = append(names, s.Name)
	}
	if got := strings.Join(names, ""); got != "BAB" {
		t.Errorf("stops %q, want BAB", got)
	}
	if stops, _, err := stop.FromWaypoints(nil, ""); len(stops) != 0 || err != nil {
		t.Errorf("no waypoints: %v, %v", stops, err)
	}
}

func TestWaypointWithThePostedScale(t *testing.T) {
	w := pump("A")
	w.Cmt = "grades: 91"
	stops, _, err := stop.FromWaypoints([]gpxfile.Waypoint{w}, octane.ScaleAKI)
	if err != nil {
		t.Fatal(err)
	}
	same(t, stops, []stop.Stop{{Name: "A", At: orb.Point{95.9, 48.1}, Grades: []octane.Grade{octane.FromAKI(91)}, Standing: stop.Map}})
}

func TestBadWaypoints(t *testing.T) {
	for _, c := range []struct{ name, desc, want, hint string }{
		{"A", "grades: 95", `ride.gpx:3:5: waypoint "A": grades: "95" has no scale: 91 RON and 91 AKI are different petrols`, hintScale},
		{"A", "grades: super", `ride.gpx:3:5: waypoint "A": grades: "super" is not a grade of petrol`, hintGrade},
		{"A", "standing: maybe", `ride.gpx:3:5: waypoint "A": standing: "maybe" is not a standing`, hintStanding},
		{"A", "confirmed: may", `ride.gpx:3:5: waypoint "A": confirmed: "may" is not a day`, hintDay},
		{"A", "price: ask", `ride.gpx:3:5: waypoint "A": price: "ask" is not a price`, hintPrice},
		{" ", "", `ride.gpx:3:5: waypoint " ": a fuel stop without a name`, hintName},
	} {
		w := pump(c.name)
		w.Desc = c.desc
		_, _, err := stop.FromWaypoints([]gpxfile.Waypoint{w}, "")
		want := said{c.want, c.hint}
		if got := faults(t, err); len(got) != 1 || got[0] != want {
			t.Errorf("%q\n got %q\nwant %q", c.desc, got, want)
		}
	}
}

func TestManyBadWaypoints(t *testing.T) {
	w := pump("A")
	w.Desc = "standing: maybe"
	_, _, err := stop.FromWaypoints([]gpxfile.Waypoint{w, w, pump("B"), w, w, w, w, w, w, w, w, w, w}, "")
	if got := faults(t, err); len(got) != 11 || got[10].what != "and 2 more" {
		t.Errorf("12 faults are told as %d", len(got))
	}
}

// From the text of a GPX file to the stops in it.
func TestStopsFromGPX(t *testing.T) {
	const text = `<gpx version="1.1" xmlns="http://www.topografix.com/GPX/1/1">
<wpt lat="48.0603" lon="95.8971"><name>Old Mill</name><desc>grades: AI-92
pay: cash</desc><sym>Gas Station</sym></wpt>
<wpt lat="48" lon="107"><name>View</name><sym>Summit</sym></wpt>
  <wpt lat="49" lon="107"><name>Shed</name><cmt>grades: 92</cmt></wpt>
</gpx>`
	file, err := gpxfile.Read(strings.NewReader(text), "ride.gpx")
	if err != nil {
		t.Fatal(err)
	}
	stops, _, err := stop.FromWaypoints(file.Waypoints, "")
	same(t, stops, []stop.Stop{{
		Name: "Old Mill", At: orb.Point{95.8971, 48.0603}, Grades: grades(92), Pay: "cash", Standing: stop.Map,
	}})
	want := said{`ride.gpx:5:3: waypoint "Shed": grades: "92" has no scale: 91 RON and 91 AKI are different petrols`, hintScale}
	if got := faults(t, err); len(got) != 1 || got[0] != want {
		t.Errorf("got %q, want %q", got, want)
	}
}
