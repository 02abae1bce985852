package stop_test

import (
	"bytes"
	"errors"
	"slices"
	"testing"

	"lastpump/fuel/stop"
	"lastpump/octane"
	"lastpump/route/input"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"
	"pgregory.net/rapid"
)

func TestParseTold(t *testing.T) {
	for text, want := range map[string]struct {
		name   string
		answer stop.Answer
	}{
		"Khoruv: sells 95 RON; 92 RON":   {"Khoruv", stop.Answer{Kind: stop.Sells, Grades: grades(95, 92)}},
		"Narsu Camp: dry":                {"Narsu Camp", stop.Answer{Kind: stop.Dry}},
		"Doverak: no 95 RON":             {"Doverak", stop.Answer{Kind: stop.Lacks, Grades: grades(95)}},
		"Doverak : Sells":                {"Doverak", stop.Answer{Kind: stop.Sells}},
		"Doverak: no petrol":             {"Doverak", stop.Answer{Kind: stop.Dry}},
		"Doverak: sells petrol":          {"Doverak", stop.Answer{Kind: stop.Sells}},
		"Mile 40: the shed: no 91 AKI":   {"Mile 40: the shed", stop.Answer{Kind: stop.Lacks, Grades: []octane.Grade{octane.FromAKI(91)}}},
		"Depot: sells 92 RON; diesel":    {"Depot", stop.Answer{Kind: stop.Sells, Grades: grades(92), Other: []string{"diesel"}}},
		"Depot: sells diesel":            {"Depot", stop.Answer{Kind: stop.Sells, Other: []string{"diesel"}}},
		"Ash Creek:sells AI-92; 95/85":   {"Ash Creek", stop.Answer{Kind: stop.Sells, Grades: []octane.Grade{octane.FromRON(92), octane.FromPair(95, 85)}}},
		"Ash Creek:   sells   95 RON ; ": {"Ash Creek", stop.Answer{Kind: stop.Sells, Grades: grades(95)}},
	} {
		name, a, err := stop.ParseTold(text, "")
		if diff := cmp.Diff(want.answer, a, cmpopts.EquateEmpty()); err != nil || name != want.name || diff != "" {
			t.Errorf("%q: of %q, %v\n%s", text, name, err, diff)
		}
		if again, err := stop.ParseAnswer(a.String(), ""); err != nil || !cmp.Equal(a, again, cmpopts.EquateEmpty()) {
			t.Errorf("%q, read again from %q: %+v, %v", text, a, again, err)
		}
	}
	if _, a, err := stop.ParseTold("A: sells 91", octane.ScaleAKI); err != nil || a.Grades[0] != octane.FromAKI(91) {
		t.Errorf("on pumps that post AKI: %+v, %v", a, err)
	}
}

func TestToldBadly(t *testing.T) {
	for _, text := range []string{"", "dry", ": dry", "A:", "A: maybe", "A: no", "A: no diesel", "A: no 95 RON; diesel",
		"A: dry 95 RON", "A: sells 95 RON; dry", "A: sells dry", "A: 95 RON"} {
		_, a, err := stop.ParseTold(text, "")
		var wrong *input.ValueError
		if !errors.As(err, &wrong) || wrong.Hint == "" {
			t.Errorf("%q: %+v, %v", text, a, err)
		}
	}
	for _, text := range []string{"A: sells 95", "A: no 95", "A: sells 95 ROM"} {
		if _, a, err := stop.ParseTold(text, ""); err == nil {
			t.Errorf("%q: %+v", text, a)
		}
	}
}

// A stop of two grades with a price each, and what becomes of it.
func TestAnswered(t *testing.T) {
	price := func(amount float64) stop.Price { return stop.Price{Amount: amount, Currency: "EUR", Per: "L"} }
	listed := stop.Stop{Name: "A", Standing: stop.Map, Grades: grades(95, 92), Other: []string{"diesel"},
		Prices: []stop.Price{price(2), price(1)}, Phone: "+999 555 0100"}
	on := day(2026, 7, 1)
	for text, want := range map[string]struct {
		grades []octane.Grade
		other  []string
		prices []stop.Price
		none   bool
	}{
		"sells":                {grades(95, 92), []string{"diesel"}, []stop.Price{price(2), price(1)}, false},
		"sells 92 RON":         {grades(92), nil, []stop.Price{price(1)}, false},
		"sells 92 RON; 98 RON": {grades(92, 98), nil, nil, false},
		"sells diesel":         {nil, []string{"diesel"}, nil, true},
		"no 95 RON":            {grades(92), []string{"diesel"}, []stop.Price{price(1)}, false},
		"no 98 RON":            {grades(95, 92), []string{"diesel"}, []stop.Price{price(2), price(1)}, false},
		"no 95 RON; 92 RON":    {nil, nil, nil, false},
		"dry":                  {grades(95, 92), []string{"diesel", "dry"}, []stop.Price{price(2), price(1)}, true},
	} {
		a, err := stop.ParseAnswer(text, "")
		if err != nil {
			t.Fatal(err)
		}
		got := listed.Answered(a, on)
		after := listed
		after.Standing, after.Confirmed, after.HasConfirmed = stop.Phoned, on, true
		after.Grades, after.Other, after.Prices = want.grades, want.other, want.prices
		if diff := cmp.Diff(after, got, cmpopts.EquateEmpty()); diff != "" || got.NoPetrol() != want.none || !got.Sure(on) {
			t.Errorf("%q: no petrol %v, sure %v\n%s", text, got.NoPetrol(), got.Sure(on), diff)
		}
		if later := got.Answered(stop.Answer{Kind: stop.Sells}, on); slices.Contains(later.Other, "dry") {
			t.Errorf("%q, and later that it sells: %+v", text, later)
		}
	}
	if len(listed.Other) != 1 || listed.Grades[0] != octane.FromRON(95) {
		t.Errorf("what was listed has changed: %+v", listed)
	}
}

// drawAnswer draws any answer.
func drawAnswer(t *rapid.T) stop.Answer {
	a := stop.Answer{Kind: rapid.SampledFrom([]stop.AnswerKind{stop.Sells, stop.Lacks, stop.Dry}).Draw(t, "kind")}
	if a.Kind == stop.Dry {
		return a
	}
	n := rapid.IntRange(0, 2).Draw(t, "grades")
	if a.Kind == stop.Lacks {
		n++
	}
	for range n {
		a.Grades = append(a.Grades, rapid.SampledFrom([]octane.Grade{octane.FromRON(95), octane.FromRON(80),
			octane.FromAKI(91), octane.FromPair(95, 85)}).Draw(t, "grade"))
	}
	return a
}

// A list with answers in it comes back from a file as it was written, and answers from their text.
func TestAnsweredStopsAreReadAgain(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		in := rapid.SliceOfN(rapid.Custom(drawStop), 1, 4).Draw(t, "stops")
		for i := range in {
			a := drawAnswer(t)
			if again, err := stop.ParseAnswer(a.String(), ""); err != nil || !cmp.Equal(a, again, cmpopts.EquateEmpty()) {
				t.Fatalf("%q: %+v, %v", a, again, err)
			}
			in[i] = in[i].Answered(a, day(2026, 7, 1))
		}
		var b bytes.Buffer
		if err := stop.WriteCSV(&b, in); err != nil {
			t.Fatal(err)
		}
		out, _, err := stop.ReadCSV(&b, "stops.csv", "")
		if diff := cmp.Diff(in, out, cmpopts.EquateEmpty()); err != nil || diff != "" {
			t.Fatalf("%v\n%s", err, diff)
		}
	})
}

// A pair of coordinates that can only be meant the other way round is written as it was, so that
// the list is not mended without a word.
func TestSwappedStopsAreReadAgain(t *testing.T) {
	in := read(t, "name,lat,lon\nA,95.9,48.1\n")
	var b bytes.Buffer
	if err := stop.WriteCSV(&b, in); err != nil {
		t.Fatal(err)
	}
	out, _, err := stop.ReadCSV(&b, "stops.csv", "")
	if err != nil || len(out) != 1 || out[0].Swapped == nil || out[0].At != in[0].At {
		t.Errorf("%+v, %v", out, err)
	}
}
