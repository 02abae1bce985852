package fuel_test

import (
	"strings"
	"testing"

	"lastpump/fuel"
	"lastpump/route"
)

const (
	hintLitres      = "write 12.5 L, 3.3 USgal or 2.7 impgal"
	hintConsumption = "write 4.5 L/100km, 52 mpg US, 62 mpg UK or 22 km/L"
	hintDistance    = "write 60km or 40mi"
	hintMass        = "write 260 kg or 570 lb"
	hintEthanol     = "write E0, E5, E10 up to E30: the share of ethanol in per cent"
)

// A number no rider means: over 300 digits, beyond what a float64 holds.
var endless = strings.Repeat("9", 400)

// The gallons are those of NIST Handbook 44, Appendix C, and of the Weights and
// Measures Act 1985 (from memory).
func TestParseLitres(t *testing.T) {
	const us, uk = 3.785411784, 4.54609
	for in, want := range map[string]fuel.Litres{
		"12.5 L": 12.5, "12.5L": 12.5, " 14  l ": 14, "14 litres": 14, "1 litre": 1, "2 liters": 2, "+3 L": 3, ".5 L": 0.5, "5. L": 5,
		"14,5 L": 14.5, "3,5L": 3.5, "0,25 l": 0.25, "3,3 USgal": 3.3 * us,
		"0 L": 0, "3.3 USgal": 3.3 * us, "3.7 US gal": 3.7 * us, "3.7 gal US": 3.7 * us,
		"2.7 impgal": 2.7 * uk, "2.7 UK gal": 2.7 * uk, "2.7 imp gal": 2.7 * uk,
	} {
		got, err := fuel.ParseLitres(in)
		if err != nil {
			t.Errorf("%q: %v", in, err)
			continue
		}
		near(t, in, got, want, exactly)
	}
}

func TestParseLitresRefuses(t *testing.T) {
	for in, what := range map[string]string{
		"12":           "has no unit",
		"14 gal":       "could be US or imperial gallons",
		"14 gallons":   "could be US or imperial gallons",
		"14 km":        "has a unit that is no volume",
		"1e3 L":        "has a unit that is no volume",
		"NaN L":        "is not a volume",
		"Inf L":        "is not a volume",
		"-3 L":         "is not a volume",
		"L":            "is not a volume",
		"":             "is not a volume",
		endless + " L": "is not a volume",
	} {
		_, err := fuel.ParseLitres(in)
		wantRefused(t, err, `"`+in+`" `+what, hintLitres)
	}
	for _, in := range []string{"1,500 L", "1,5,5 L", "1.500,5 L", "9, L"} { // thousands, or a slip
		if l, err := fuel.ParseLitres(in); err == nil {
			t.Errorf("%q was read as %v L", in, l)
		}
	}
}

func TestParseConsumption(t *testing.T) {
	// L/100 km = 235.215/mpg (NIST SP 811, B.5), and with the imperial gallon
	// 282.481/mpg; the printed constants are good for 3 in a million.
	for in, want := range map[string]fuel.Consumption{
		"4.5 L/100km": 4.5, "4,5 L/100km": 4.5, "4.5 l / 100 km": 4.5, "4.5L/100KM": 4.5,
		"52 mpg US": 235.215 / 52, "52 US mpg": 235.215 / 52, "52mpgus": 235.215 / 52,
		"62 mpg UK": 282.481 / 62, "62 UK mpg": 282.481 / 62, "62 mpg imp": 282.481 / 62,
		"22 km/L": 100.0 / 22, "22km/l": 100.0 / 22,
	} {
		got, err := fuel.ParseConsumption(in)
		if err != nil {
			t.Errorf("%q: %v", in, err)
			continue
		}
		near(t, in, got, want, 3e-6*float64(want))
	}
}

func TestParseConsumptionRefuses(t *testing.T) {
	for in, what := range map[string]string{
		"4.5":          "has no unit",
		"52 mpg":       "could be US or UK miles per gallon",
		"4.5 L":        "has a unit that is no consumption",
		"4.5 L/km":     "has a unit that is no consumption",
		"0 L/100km":    "is not a consumption: it must be more than 0",
		"0 mpg US":     "is not a consumption: it must be more than 0",
		"NaN L/100km":  "is not a consumption",
		"Inf mpg US":   "is not a consumption",
		"-4.5 L/100km": "is not a consumption",
		"":             "is not a consumption",
	} {
		_, err := fuel.ParseConsumption(in)
		wantRefused(t, err, `"`+in+`" `+what, hintConsumption)
	}
}

// The mile is 5280 ft of 0.3048 m (NIST SP 811, B.6).
func TestParseDistance(t *testing.T) {
	for in, want := range map[string]route.Metres{
		"60 km": 60_000, "60km": 60_000, "1.5 KM": 1500, "300 m": 300, "0 km": 0,
		"40 mi": 40 * 5280 * 0.3048, "1 mile": 5280 * 0.3048, "2 miles": 2 * 5280 * 0.3048,
	} {
		got, err := fuel.ParseDistance(in)
		if err != nil {
			t.Errorf("%q: %v", in, err)
			continue
		}
		near(t, in, got, want, 1e-9)
	}
	for in, what := range map[string]string{
		"60": "has no unit", "60 kg": "has a unit that is no distance", "NaN km": "is not a distance",
		"-1 km": "is not a distance", "Inf mi": "is not a distance", "": "is not a distance",
	} {
		_, err := fuel.ParseDistance(in)
		wantRefused(t, err, `"`+in+`" `+what, hintDistance)
	}
}

// The pound is 0.453 592 37 kg (NIST Handbook 44, Appendix C).
func TestParseMass(t *testing.T) {
	for in, want := range map[string]fuel.Kilograms{
		"260 kg": 260, "260KG": 260, "570 lb": 570 * 0.45359237, "570lbs": 570 * 0.45359237,
	} {
		got, err := fuel.ParseMass(in)
		if err != nil {
			t.Errorf("%q: %v", in, err)
			continue
		}
		near(t, in, got, want, 1e-9)
	}
	for in, what := range map[string]string{
		"260": "has no unit", "260 L": "has a unit that is no mass", "NaN kg": "is not a mass",
		"-260 kg": "is not a mass", "Inf kg": "is not a mass", "": "is not a mass",
	} {
		_, err := fuel.ParseMass(in)
		wantRefused(t, err, `"`+in+`" `+what, hintMass)
	}
}

func TestParseEthanol(t *testing.T) {
	for in, want := range map[string]fuel.Ethanol{"E0": 0, "E5": 0.05, "e10": 0.10, " E27 ": 0.27, "E30": 0.30} {
		got, err := fuel.ParseEthanol(in)
		if err != nil {
			t.Errorf("%q: %v", in, err)
			continue
		}
		near(t, in, got, want, exactly)
	}
	for _, in := range []string{"E85", "E100", "E31", "E-5", "E+5", "E", "10", "10%", "E10.5", "NaN", ""} {
		_, err := fuel.ParseEthanol(in)
		wantRefused(t, err, `"`+in+`" is not a petrol with ethanol`, hintEthanol)
	}
}

// A value read is one to plan with: finite, and a consumption more than 0.
func TestParsedValuesAreFinite(t *testing.T) {
	large := strings.Repeat("9", 308)
	small := "0." + strings.Repeat("0", 310) + "1"
	for _, in := range []string{large + " USgal", large + " impgal", large + " L"} {
		if l, err := fuel.ParseLitres(in); err == nil && !finite(l) {
			t.Errorf("308 digits and %s are %v L", in[308:], l)
		}
	}
	for _, in := range []string{small + " mpg US", small + " mpg UK", small + " km/L", large + " mpg US", large + " L/100km"} {
		if c, err := fuel.ParseConsumption(in); err == nil && !(c > 0 && finite(c)) {
			t.Errorf("%.4s…%s is %v L/100 km", in, in[308:], c)
		}
	}
	for _, in := range []string{large + " km", large + " mi"} {
		if d, err := fuel.ParseDistance(in); err == nil && !finite(d) {
			t.Errorf("308 digits and %s are %v m", in[308:], d)
		}
	}
}
