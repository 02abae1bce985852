package stop_test

import (
	"errors"
	"strings"
	"testing"
	"time"

	"lastpump/route/input"

	"lastpump/fuel/stop"
	"lastpump/octane"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"
)

// read reads a list that has no fault; a bare number in it is refused.
func read(t *testing.T, text string) []stop.Stop {
	t.Helper()
	stops, _, err := stop.ReadCSV(strings.NewReader(text), "stops.csv", "")
	if err != nil {
		t.Fatal(err)
	}
	return stops
}

// one reads a list of one stop.
func one(t *testing.T, text string) stop.Stop {
	t.Helper()
	stops := read(t, text)
	if len(stops) != 1 {
		t.Fatalf("%d stops, want 1:\n%s", len(stops), text)
	}
	return stops[0]
}

// same compares stops; a list left out is a list of nothing.
func same(t *testing.T, got, want []stop.Stop) {
	t.Helper()
	if diff := cmp.Diff(want, got, cmpopts.EquateEmpty()); diff != "" {
		t.Errorf("stops (- want, + read):\n%s", diff)
	}
}

func grades(numbers ...octane.RON) []octane.Grade {
	var out []octane.Grade
	for _, n := range numbers {
		out = append(out, octane.FromRON(n))
	}
	return out
}

func day(y int, m time.Month, d int) time.Time { return time.Date(y, m, d, 0, 0, 0, 0, time.UTC) }

// A said is what is said of a fault, and what to do about it.
type said struct{ what, hint string }

// faults takes a joined error apart.
func faults(t *testing.T, err error) []said {
	t.Helper()
	if err == nil {
		return nil
	}
	list := []error{err}
	if joined, ok := err.(interface{ Unwrap() []error }); ok {
		list = joined.Unwrap()
	}
	var out []said
	for _, e := range list {
		s := said{what: e.Error()}
		var ie *input.Error
		if errors.As(e, &ie) {
			s.hint = ie.Hint
		}
		out = append(out, s)
	}
	return out
}

const (
	hintName     = "call it what a rider can find or ask for"
	hintDegrees  = "write degrees with a decimal point, like 48.0603"
	hintGrade    = `write a grade with its scale: "95 RON", "91 AKI" or "95/85" (RON/MON)`
	hintScale    = hintGrade
	hintStanding = "write seen, phoned, map or hearsay"
	hintDay      = "write it as 2026-05-31"
	hintPrice    = "write 1.62 EUR/L or 3.89 USD/USgal, or one for each grade in its order: 1.62 EUR/L; 1.48 EUR/L"
	hintColumns  = "the first row names the columns: name,lat,lon,grades,hours,pay,standing,confirmed,phone,price,note,alias"
	hintQuotes   = `a field with a comma or a quote in it is written in quotes: "a, b"`
)
