package units_test

import (
	"errors"
	"math"
	"strconv"
	"testing"

	"lastpump/cmd/lastpump/internal/words/units"
	"lastpump/fuel"
	"lastpump/route"
	"lastpump/route/input"

	"pgregory.net/rapid"
)

// What there is goes down, what is needed goes up, and a number that has one
// decimal stays what it is, however binary holds it.
func TestRounding(t *testing.T) {
	tenth, fifth, eleven := 0.1, 0.2, 1.1 // variables: constants would be added exactly
	for _, c := range []struct {
		x              float64
		down, up, near string
	}{
		{12.3, "12.3", "12.3", "12.3"},
		{tenth + fifth, "0.3", "0.3", "0.3"},
		{3 * eleven, "3.3", "3.3", "3.3"},
		{4.35, "4.3", "4.4", "4.4"},
		{12.31, "12.3", "12.4", "12.3"},
		{12.39, "12.3", "12.4", "12.4"},
		{0.04, "0.0", "0.1", "0.0"},
		{0.96, "0.9", "1.0", "1.0"},
		{0, "0.0", "0.0", "0.0"},
		{math.Copysign(0, -1), "0.0", "0.0", "0.0"},
		{-0.04, "-0.1", "0.0", "0.0"},
		{-1e-12, "0.0", "0.0", "0.0"},
		{-12.3, "-12.3", "-12.3", "-12.3"},
		{99.96, "99.9", "100.0", "100.0"},
	} {
		for what, got := range map[string][2]string{
			"Down": {units.Down(c.x), c.down}, "Up": {units.Up(c.x), c.up}, "Near": {units.Near(c.x), c.near},
		} {
			if got[0] != got[1] {
				t.Errorf("%s(%v) = %s, want %s", what, c.x, got[0], got[1])
			}
		}
	}
}

// Down is never more, Up never less, by more than a hair; both are within 0.1.
func TestRoundingNeverFlatters(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		x := rapid.Float64Range(-1000, 10_000).Draw(t, "x")
		down, err := strconv.ParseFloat(units.Down(x), 64)
		if err != nil {
			t.Fatal(err)
		}
		up, err := strconv.ParseFloat(units.Up(x), 64)
		if err != nil {
			t.Fatal(err)
		}
		const hair = 1e-8
		if down > x+hair || down < x-0.1-hair || up < x-hair || up > x+0.1+hair {
			t.Errorf("%v: %v down, %v up", x, down, up)
		}
	})
}

// 14 L is 3.698 US gallons (NIST Handbook 44: 3.785 411 784 L), 100 km is 62.14
// miles (of 1609.344 m). British roads are in miles, British pumps in litres.
func TestVolumesAndDistances(t *testing.T) {
	for _, c := range []struct {
		u                        units.System
		held, needed, near, long string
	}{
		{units.Metric, "14.0 L", "14.0 L", "5.4 km", "100 km"},
		{units.US, "3.69 US gal", "3.70 US gal", "3.4 mi", "62 mi"},
		{units.UK, "14.0 L", "14.0 L", "3.4 mi", "62 mi"},
	} {
		for what, got := range map[string][2]string{
			"held": {c.u.Held(14), c.held}, "needed": {c.u.Needed(14), c.needed},
			"5.44 km": {c.u.Distance(5440), c.near}, "100 km": {c.u.Distance(100_000), c.long},
		} {
			if got[0] != got[1] {
				t.Errorf("%s, %s: %s, want %s", c.u, what, got[0], got[1])
			}
		}
	}
	near(t, "14 L in US gallons", units.US.VolumeIn(14), 3.69840873, 1e-8)
	near(t, "14 L in litres", units.UK.VolumeIn(14), 14, 0)
	near(t, "1609.344 km in miles", units.UK.DistanceIn(1_609_344), 1000, 1e-9)
	near(t, "1609.344 km in km", units.Metric.DistanceIn(1_609_344), 1609.344, 0)
}

func TestUnitNames(t *testing.T) {
	for u, want := range map[units.System][2]string{
		units.Metric: {"km", "L"}, units.US: {"mi", "US gal"}, units.UK: {"mi", "L"},
	} {
		if got := [2]string{u.DistanceUnit(), u.VolumeUnit()}; got != want {
			t.Errorf("%s: %v, want %v", u, got, want)
		}
	}
}

// Under ten a distance has one decimal, from there on none.
func TestDistanceAtTheBorder(t *testing.T) {
	for m, want := range map[route.Metres]string{
		0: "0.0 km", -10: "0.0 km", 9900: "9.9 km", 9949: "9.9 km", 9950: "10 km", 9990: "10 km", 10_400: "10 km",
		126_400: "126 km", 126_600: "127 km", -12_000: "-12 km",
	} {
		if got := units.Metric.Distance(m); got != want {
			t.Errorf("%v m = %s, want %s", float64(m), got, want)
		}
	}
}

// In the United States cans are sold by the gallon, weights are in pounds and climb is in feet:
// 1 lb is 0.45359237 kg, 1 mi 1609.344 m, 1 ft 0.3048 m (NIST SP 811, B.6 and B.8).
func TestUnitedStates(t *testing.T) {
	sold := units.US.Cans()
	for i, want := range []string{"1 US gal", "2 US gal", "2.5 US gal", "5 US gal"} {
		if got := units.US.Can(sold[i]); len(sold) != 4 || got != want {
			t.Errorf("%v L is a can of %s, want %s", sold[i], got, want)
		}
	}
	if got := sold.Smallest(4); got.Litres != 2*3.785411784 {
		t.Errorf("4 L go into %v", got)
	}
	if units.Metric.Cans() != nil || units.UK.Cans() != nil {
		t.Error("cans are sold in litres elsewhere")
	}
	for got, want := range map[string]string{
		units.US.Weight(260, 0): "573 lb", units.UK.Weight(260, 0): "260 kg", units.Metric.Weight(3.75, 1): "3.8 kg",
		units.US.Slope(15): "79 ft a mile", units.Metric.Slope(15): "15 m a kilometre",
	} {
		if got != want {
			t.Errorf("%s, want %s", got, want)
		}
	}
}

// A can keeps the number on its mark; 5 L is 1.32 US gallons.
func TestCan(t *testing.T) {
	for _, c := range []struct {
		u    units.System
		l    fuel.Litres
		want string
	}{
		{units.Metric, 5, "5 L"}, {units.Metric, 7.5, "7.5 L"}, {units.UK, 1.5, "1.5 L"},
		{units.US, 5, "5 L (1.32 US gal)"}, {units.US, 7.5, "7.5 L (1.98 US gal)"}, {units.US, 20,
			"20 L (5.28 US gal)"},
	} {
		if got := c.u.Can(c.l); got != c.want {
			t.Errorf("%v L in %s units: %s, want %s", float64(c.l), c.u, got, c.want)
		}
	}
}

// 235.215/4.5 = 52.27 mpg US (NIST SP 811, B.5); 282.481/4.5 = 62.77 mpg UK.
func TestRateAsRidersSayIt(t *testing.T) {
	for u, want := range map[units.System]string{
		units.Metric: "4.50 L/100 km", units.US: "52.3 mpg US", units.UK: "62.8 mpg UK",
	} {
		if got := u.Rate(4.5); got != want {
			t.Errorf("4.5 L/100 km in %s units: %s, want %s", u, got, want)
		}
	}
}

// A consumption that may not be exceeded is rounded to the safe side: down as L/100
// km, up as miles per gallon (235.2146 and 282.4809 divided by it, from the gallons
// and the mile).
func TestAtMost(t *testing.T) {
	for _, c := range []struct {
		at   fuel.Consumption
		u    units.System
		want string
	}{
		{4.99, units.Metric, "not over 4.9 L/100 km"},
		{4.9, units.Metric, "not over 4.9 L/100 km"},
		{4.9, units.US, "not under 48.1 mpg US"}, // 48.003
		{4.9, units.UK, "not under 57.7 mpg UK"}, // 57.649
	} {
		if got := c.u.AtMost(c.at); got != c.want {
			t.Errorf("%v in %s: %q, want %q", c.at, c.u, got, c.want)
		}
	}
}

func near[T ~float64](t *testing.T, what string, got, want T, tolerance float64) {
	t.Helper()
	if math.Abs(float64(got-want)) > tolerance {
		t.Errorf("%s = %v, want %v", what, got, want)
	}
}

func TestParseUnits(t *testing.T) {
	for in, want := range map[string]units.System{"metric": units.Metric, "us": units.US, "uk": units.UK} {
		if got, err := units.Parse(in); err != nil || got != want {
			t.Errorf("%q: %v, %v; want %v", in, got, err, want)
		}
	}
	for _, in := range []string{"", "imperial", "km"} {
		_, err := units.Parse(in)
		var ve *input.ValueError
		if !errors.As(err, &ve) || err.Error() != `"`+in+`" are no units` || ve.HintText() != "write metric, us or uk" {
			t.Errorf("%q: %v", in, err)
		}
	}
}
