package stop_test

import (
	"slices"
	"testing"

	"lastpump/fuel/stop"
	"lastpump/octane"
)

func TestStandingsAreRankedSurestFirst(t *testing.T) {
	want := []stop.Standing{stop.Seen, stop.Phoned, stop.Map, stop.Hearsay}
	if !slices.Equal(stop.Standings(), want) {
		t.Errorf("standings %v, want %v", stop.Standings(), want)
	}
	for i, s := range want {
		if s.Rank() != i {
			t.Errorf("%s ranks %d, want %d", s, s.Rank(), i)
		}
	}
	if r := stop.Standing("").Rank(); r <= stop.Hearsay.Rank() {
		t.Errorf("no standing ranks %d, surer than hearsay", r)
	}
}

// A stop of which nothing is known may well have petrol.
func TestNoPetrol(t *testing.T) {
	for _, c := range []struct {
		s    stop.Stop
		want bool
	}{
		{stop.Stop{}, false},
		{stop.Stop{Grades: grades(95)}, false},
		{stop.Stop{Grades: grades(95), Other: []string{"diesel"}}, false},
		{stop.Stop{Other: []string{"diesel"}}, true},
	} {
		if got := c.s.NoPetrol(); got != c.want {
			t.Errorf("%v and %v: no petrol %v, want %v", c.s.Grades, c.s.Other, got, c.want)
		}
	}
}

func TestPriceOfAGrade(t *testing.T) {
	dear := stop.Price{Amount: 1.62, Currency: "EUR", Per: "L"}
	cheap := stop.Price{Amount: 1.48, Currency: "EUR", Per: "L"}
	for _, c := range []struct {
		name   string
		grades []octane.Grade
		prices []stop.Price
		of     octane.Grade
		want   stop.Price
		known  bool
	}{
		{"one for all, first", grades(95, 92), []stop.Price{dear}, octane.FromRON(95), dear, true},
		{"one for all, second", grades(95, 92), []stop.Price{dear}, octane.FromRON(92), dear, true},
		{"one, grade not known", nil, []stop.Price{dear}, octane.Grade{}, dear, true},
		{"in order, first", grades(95, 92), []stop.Price{dear, cheap}, octane.FromRON(95), dear, true},
		{"in order, second", grades(95, 92), []stop.Price{dear, cheap}, octane.FromRON(92), cheap, true},
		{"not sold here", grades(95, 92), []stop.Price{dear, cheap}, octane.FromRON(98), stop.Price{}, false},
		{"another scale", grades(95, 92), []stop.Price{dear, cheap}, octane.FromAKI(92), stop.Price{}, false},
		{"two for three", grades(95, 92, 80), []stop.Price{dear, cheap}, octane.FromRON(95), stop.Price{}, false},
		{"none", grades(95), nil, octane.FromRON(95), stop.Price{}, false},
		{"nothing known", nil, nil, octane.Grade{}, stop.Price{}, false},
	} {
		got, ok := stop.Stop{Grades: c.grades, Prices: c.prices}.Price(c.of)
		if got != c.want || ok != c.known {
			t.Errorf("%s: %v, %v; want %v, %v", c.name, got, ok, c.want, c.known)
		}
	}
}
