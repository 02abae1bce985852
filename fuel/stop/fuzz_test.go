package stop_test

import (
	"errors"
	"math"
	"reflect"
	"slices"
	"strings"
	"testing"
	"testing/iotest"

	"lastpump/route/input"

	"lastpump/fuel/stop"
	"lastpump/octane"
	"lastpump/route/gpxfile"

	"github.com/google/go-cmp/cmp"
)

func scaleOf(s string) octane.Scale {
	if s := octane.Scale(s); s == octane.ScaleRON || s == octane.ScaleAKI {
		return s
	}
	return ""
}

// FuzzReadStops asks of any input: stops that have a name, a place on the Earth
// and a standing, or faults that each say where and what to do; and the same
// whatever the reader's pace.
func FuzzReadStops(f *testing.F) {
	f.Add("name,lat,lon\nA,48.1,95.9\n", "")
	f.Add("name;lat;lon;grades\nA;48.1;95.9;\"95 RON; 92\"\n", "RON")
	f.Add("\ufeffgrades,name,lon,lat\nE85; AI-92,\"A, B\",180,-90\n", "AKI")
	f.Add("name,lat,lon\n\"A", "")
	f.Add("Tankstelle;Breite;L\xe4nge;Oktan;Stand;Marke\nM\xfchle;47\xb042.5' S;8,1;95/92 RON, 87/89/91 AKI;seen;X\n", "")
	f.Add("nom,latitude,longitude,carburant\nÉ,95,8,\"95,4 RON,E5\"\nB,48:03:37 N,-8 30.5,95/85\n", "RON")
	for _, x := range badRows {
		f.Add(badHeader+"\n"+x.row+"\n", "")
	}
	f.Fuzz(func(t *testing.T, text, scale string) {
		posted := scaleOf(scale)
		stops, _, err := stop.ReadCSV(strings.NewReader(text), "f.csv", posted)
		slow, _, slowErr := stop.ReadCSV(iotest.OneByteReader(strings.NewReader(text)), "f.csv", posted)
		if !reflect.DeepEqual(stops, slow) || !reflect.DeepEqual(err, slowErr) {
			t.Fatalf("read at once:\n%+v %v\nbyte by byte:\n%+v %v", stops, err, slow, slowErr)
		}
		checkFaults(t, err, "f.csv", strings.Count(text, "\n")+1)
		for _, s := range stops {
			checkStop(t, s)
		}
	})
}

// FuzzFromWaypoints asks the same of waypoints, and that a text that stands in
// the description and again in the comment says no more than once.
func FuzzFromWaypoints(f *testing.F) {
	f.Add("A", "fuel", "", "grades: 95 RON\nring twice", "")
	f.Add("A", "", "Gas Station", "standing: maybe", "RON")
	f.Add("", "", "Las Vegas", "Grades :91\r\nprice: 1 EUR/L", "AKI")
	f.Add("A", "petrol", "", "one\ntwo\none", "")
	f.Add("A", "fuel", "", "name: \"B\\n\"\nPlan: x\nnote: \"\\xff\"", "")
	f.Add("A", "plan mark", "", "name: B\ngrades: 95 RON", "")
	f.Fuzz(func(t *testing.T, name, typ, sym, text, scale string) {
		w := gpxfile.Waypoint{Name: name, Type: typ, Sym: sym, Desc: text, File: "f.gpx", Line: 1, Col: 1}
		twice := w
		twice.Cmt = text
		stops, _, err := stop.FromWaypoints([]gpxfile.Waypoint{w}, scaleOf(scale))
		again, _, againErr := stop.FromWaypoints([]gpxfile.Waypoint{twice}, scaleOf(scale))
		if diff := cmp.Diff(stops, again); diff != "" || (err == nil) != (againErr == nil) {
			t.Fatalf("said once %v, said twice %v:\n%s", err, againErr, diff)
		}
		checkFaults(t, err, "f.gpx", 1)
		if len(stops) > 1 || err != nil && len(stops) > 0 {
			t.Fatalf("%d stops from one waypoint, %v", len(stops), err)
		}
		for _, s := range stops {
			checkStop(t, s)
		}
	})
}

func checkStop(t *testing.T, s stop.Stop) {
	t.Helper()
	if !(math.Abs(s.At.Lat()) <= 90 && math.Abs(s.At.Lon()) <= 180) { // false for NaN
		t.Fatalf("%q at %v", s.Name, s.At)
	}
	if s.Swapped != nil && (s.Swapped.Line < 1 || s.Swapped.Hint == "" || !(math.Abs(s.At.Lon()) > 90)) {
		t.Fatalf("%q at %v is swapped: %#v", s.Name, s.At, s.Swapped)
	}
	if s.Name == "" || s.Name != strings.TrimSpace(s.Name) {
		t.Fatalf("a stop named %q", s.Name)
	}
	if !slices.Contains(stop.Standings(), s.Standing) {
		t.Fatalf("%q stands as %q", s.Name, s.Standing)
	}
	if !s.HasConfirmed && !s.Confirmed.IsZero() {
		t.Fatalf("%q was confirmed on %v, %v", s.Name, s.Confirmed, s.HasConfirmed)
	}
	for _, g := range s.Grades {
		if again, err := octane.Parse(g.String()); err != nil || again != g {
			t.Fatalf("%q sells %+v, which is no grade: %v", s.Name, g, err)
		}
	}
	for _, p := range s.Prices {
		if !(p.Amount >= 0) || math.IsInf(p.Amount, 0) || p.Currency == "" || !slices.Contains([]string{"L", "USgal", "impgal"}, p.Per) {
			t.Fatalf("%q takes %+v", s.Name, p)
		}
	}
}

func checkFaults(t *testing.T, err error, file string, lines int) {
	t.Helper()
	if err == nil {
		return
	}
	list := []error{err}
	if joined, ok := err.(interface{ Unwrap() []error }); ok {
		list = joined.Unwrap()
	}
	for i, e := range list {
		var ie *input.Error
		if !errors.As(e, &ie) {
			if i == 10 && strings.HasPrefix(e.Error(), "and ") {
				continue // "and 3 more"
			}
			t.Fatalf("error of type %T: %v", e, e)
		}
		if ie.File != file || ie.What == "" || ie.Hint == "" {
			t.Fatalf("error %#v", ie)
		}
		if empty := ie.Line == 0 && ie.Col == 0; !empty && (ie.Line < 1 || ie.Col < 1 || ie.Line > lines) {
			t.Fatalf("%v: no such place in %d lines", ie, lines)
		}
	}
}
