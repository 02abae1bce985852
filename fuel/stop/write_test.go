package stop_test

import (
	"bytes"
	"slices"
	"strings"
	"testing"

	"lastpump/fuel/stop"
	"lastpump/octane"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"
	"github.com/paulmach/orb"
	"pgregory.net/rapid"
)

func drawStop(t *rapid.T) stop.Stop {
	text := func(what string) string {
		return strings.TrimSpace(rapid.StringMatching(`[ -~äж]{0,20}`).Draw(t, what))
	}
	s := stop.Stop{Name: "x" + text("name"), Hours: asRead(text("hours")), Pay: text("pay"), Phone: text("phone"), Note: text("note"),
		At:       orb.Point{rapid.Float64Range(-180, 180).Draw(t, "lon"), rapid.Float64Range(-90, 90).Draw(t, "lat")},
		Standing: rapid.SampledFrom(stop.Standings()).Draw(t, "standing")}
	for range rapid.IntRange(0, 3).Draw(t, "grades") {
		s.Grades = append(s.Grades, rapid.SampledFrom([]octane.Grade{octane.FromRON(95), octane.FromRON(92.5), octane.FromAKI(91), octane.FromPair(95, 85)}).Draw(t, "grade"))
	}
	if rapid.Bool().Draw(t, "spelt") {
		s.Alias = text("alias")
	}
	if rapid.Bool().Draw(t, "diesel") {
		s.Other = []string{"diesel"}
	}
	if rapid.Bool().Draw(t, "confirmed") {
		s.Confirmed, s.HasConfirmed = day(rapid.IntRange(1990, 2090).Draw(t, "year"), 2, 28), true
	}
	if rapid.Bool().Draw(t, "priced") {
		s.Prices = []stop.Price{{Amount: rapid.Float64Range(0.01, 1000).Draw(t, "price"), Currency: "EUR", Per: "L"}}
	}
	return s
}

// asRead makes hours such as no reader makes others of, as it does of "8-20": without figures.
func asRead(hours string) string {
	return strings.TrimSpace(strings.Map(func(r rune) rune {
		if r >= '0' && r <= '9' {
			return 'x'
		}
		return r
	}, hours))
}

// What is written is read again, whatever stands in it.
func TestStopsWrittenAreReadAgain(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		in := rapid.SliceOfN(rapid.Custom(drawStop), 1, 5).Draw(t, "stops")
		var b bytes.Buffer
		if err := stop.WriteCSV(&b, in); err != nil {
			t.Fatal(err)
		}
		written := b.String()
		out, _, err := stop.ReadCSV(&b, "stops.csv", "")
		if err != nil {
			t.Fatalf("%v in\n%s", err, written)
		}
		if diff := cmp.Diff(in, out, cmpopts.EquateEmpty()); diff != "" {
			t.Fatalf("%s in\n%s", diff, written)
		}
	})
}

// Every word for what is no petrol, as a map's stops have them, is read again as such.
func TestOtherFuelsAreReadAgain(t *testing.T) {
	in := []stop.Stop{{Name: "A", Standing: stop.Map, Other: []string{"biodiesel", "cng", "diesel", "e85", "electric", "hydrogen", "kerosene", "lng", "lpg", "propane"}}}
	var b bytes.Buffer
	if err := stop.WriteCSV(&b, in); err != nil {
		t.Fatal(err)
	}
	out, _, err := stop.ReadCSV(&b, "stops.csv", "")
	if err != nil || len(out) != 1 || !out[0].NoPetrol() || !slices.Equal(out[0].Other, in[0].Other) {
		t.Errorf("%+v, %v", out, err)
	}
}
