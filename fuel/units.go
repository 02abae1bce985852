package fuel

import (
	"errors"
	"fmt"
	"math"
	"regexp"
	"strconv"
	"strings"

	"lastpump/route/input"

	"lastpump/route"
)

// Litres is a volume of petrol.
type Litres float64

// The gallons, exactly.
const (
	USGallon       Litres = 3.785411784 // 231 cubic inches, NIST Handbook 44, Appendix C
	ImperialGallon Litres = 4.54609     // Weights and Measures Act 1985 (UK), Schedule 1: from memory
)

// Mile is the international mile of 5280 feet of 0.3048 m, exactly (NIST SP 811,
// B.6).
const Mile route.Metres = 1609.344

// Consumption is fuel used per distance, in litres per 100 kilometres.
//
// It is never held as miles per gallon: litres per 100 km of two legs average by
// distance, miles per gallon do not.
type Consumption float64

// Kilograms is a mass.
type Kilograms float64

// Pound is the avoirdupois pound, exactly (NIST Handbook 44, Appendix C).
const Pound Kilograms = 0.45359237

// ErrNotPositive is wrapped by the errors of the consumption constructors.
var ErrNotPositive = errors.New("must be more than 0")

// FromMPGUS converts miles per US gallon. The error wraps [ErrNotPositive].
func FromMPGUS(mpg float64) (Consumption, error) {
	return perVolume(mpg, Mile, USGallon, "mpg US")
}

// FromMPGUK converts miles per imperial gallon. The error wraps [ErrNotPositive].
func FromMPGUK(mpg float64) (Consumption, error) {
	return perVolume(mpg, Mile, ImperialGallon, "mpg UK")
}

// FromKmPerLitre converts kilometres per litre. The error wraps [ErrNotPositive].
func FromKmPerLitre(kml float64) (Consumption, error) {
	return perVolume(kml, 1000, 1, "km/L")
}

func perVolume(n float64, distance route.Metres, volume Litres, unit string) (Consumption, error) {
	c := Consumption(float64(volume) * 100 / (n * distance.Kilometres()))
	if !(n > 0 && c > 0) || math.IsInf(float64(c), 0) { // a number may be too large or small to be held
		return 0, fmt.Errorf("%v %s: %w", n, unit, ErrNotPositive)
	}
	return c, nil
}

// MPGUS gives miles per US gallon.
func (c Consumption) MPGUS() float64 {
	return float64(USGallon) * 100 / (float64(c) * Mile.Kilometres())
}

// MPGUK gives miles per imperial gallon.
func (c Consumption) MPGUK() float64 {
	return float64(ImperialGallon) * 100 / (float64(c) * Mile.Kilometres())
}

// Over gives the litres for a distance.
func (c Consumption) Over(d route.Metres) Litres { return Litres(float64(c) * d.Kilometres() / 100) }

// Reach gives the distance that the litres last; 0 for a consumption of 0.
func (c Consumption) Reach(l Litres) route.Metres {
	if c == 0 {
		return 0
	}
	return route.Kilometres(float64(l) / float64(c) * 100)
}

// largest is more of anything than a rider means: a slip of the keys.
const largest = 1e6

// A quantity is a number and a unit, as in "12.5 L".
var quantity = regexp.MustCompile(`^([-+]?(?:\d+\.?\d*|\.\d+))\s*(\S.*)?$`)

// split reads the number of a quantity and its unit in lower case without white
// space. The number may have a decimal comma, see [input.DecimalPoint].
func split(s, what, want string) (float64, string, error) {
	m := quantity.FindStringSubmatch(input.DecimalPoint(strings.TrimSpace(s)))
	if m == nil {
		return 0, "", input.BadValue(s, "is not a "+what, "write "+want)
	}
	if strings.HasPrefix(m[2], ",") {
		return 0, "", input.BadValue(s, "has a comma that may stand between thousands", "write a decimal point: "+want)
	}
	n, err := strconv.ParseFloat(m[1], 64)
	if err != nil || n > largest || n < 0 {
		return 0, "", input.BadValue(s, "is not a "+what, "write "+want)
	}
	unit := strings.ToLower(strings.Join(strings.Fields(m[2]), ""))
	if unit == "" {
		return 0, "", input.BadValue(s, "has no unit", "write "+want)
	}
	return n, unit, nil
}

// ParseLitres reads a volume with its unit: "12.5 L", "3.3 USgal", "2.7 impgal".
// The error is a [*input.ValueError]; negative volumes, NaN and a bare number have one.
func ParseLitres(s string) (Litres, error) {
	const want = "12.5 L, 3.3 USgal or 2.7 impgal"
	n, unit, err := split(s, "volume", want)
	if err != nil {
		return 0, err
	}
	switch unit {
	case "l", "litre", "litres", "liter", "liters":
		return Litres(n), nil
	case "usgal", "galus":
		return Litres(n) * USGallon, nil
	case "impgal", "ukgal", "galuk", "galimp":
		return Litres(n) * ImperialGallon, nil
	case "gal", "gallon", "gallons":
		return 0, input.BadValue(s, "could be US or imperial gallons", "write "+want)
	}
	return 0, input.BadValue(s, "has a unit that is no volume", "write "+want)
}

// ParseConsumption reads a consumption with its unit: "4.5 L/100km", "52 mpg
// US", "62 mpg UK" or "22 km/L". The error is a [*input.ValueError]; 0 has one.
func ParseConsumption(s string) (Consumption, error) {
	const want = "4.5 L/100km, 52 mpg US, 62 mpg UK or 22 km/L"
	n, unit, err := split(s, "consumption", want)
	if err != nil {
		return 0, err
	}
	if n == 0 {
		return 0, input.BadValue(s, "is not a consumption: it must be more than 0", "write "+want)
	}
	switch unit {
	case "l/100km":
		return Consumption(n), nil
	case "mpgus", "usmpg":
		return FromMPGUS(n)
	case "mpguk", "ukmpg", "mpgimp", "impmpg":
		return FromMPGUK(n)
	case "km/l":
		return FromKmPerLitre(n)
	case "mpg":
		return 0, input.BadValue(s, "could be US or UK miles per gallon", "write "+want)
	}
	return 0, input.BadValue(s, "has a unit that is no consumption", "write "+want)
}

// ParseDistance reads a distance with its unit: "60 km", "40 mi" or "300 m". The
// error is a [*input.ValueError].
func ParseDistance(s string) (route.Metres, error) {
	const want = "60km or 40mi"
	n, unit, err := split(s, "distance", want)
	if err != nil {
		return 0, err
	}
	switch unit {
	case "km":
		return route.Kilometres(n), nil
	case "mi", "mile", "miles":
		return route.Metres(n) * Mile, nil
	case "m":
		return route.Metres(n), nil
	}
	return 0, input.BadValue(s, "has a unit that is no distance", "write "+want)
}

// ParseMass reads a mass with its unit: "260 kg" or "570 lb". The error is a
// [*input.ValueError].
func ParseMass(s string) (Kilograms, error) {
	const want = "260 kg or 570 lb"
	n, unit, err := split(s, "mass", want)
	if err != nil {
		return 0, err
	}
	switch unit {
	case "kg":
		return Kilograms(n), nil
	case "lb", "lbs":
		return Kilograms(n) * Pound, nil
	}
	return 0, input.BadValue(s, "has a unit that is no mass", "write "+want)
}

// Ethanol is the share of ethanol in a petrol, by volume: 0.10 for E10.
type Ethanol float64

// ParseEthanol reads "E0" to "E30". The error is a [*input.ValueError]; E85 has one,
// which is no petrol for an ordinary engine.
func ParseEthanol(s string) (Ethanol, error) {
	t := strings.ToUpper(strings.TrimSpace(s))
	digits, isE := strings.CutPrefix(t, "E")
	n, err := strconv.ParseUint(digits, 10, 8)
	if err != nil || !isE || n > 30 {
		return 0, input.BadValue(s, "is not a petrol with ethanol",
			"write E0, E5, E10 up to E30: the share of ethanol in per cent")
	}
	return Ethanol(n) / 100, nil
}

// Lower heating values per US gallon, in Btu: US Department of Energy, AFDC fuel
// property table [3]. Only their ratio is used here.
const (
	petrolBtu  = 115000
	ethanolBtu = 76000
)

// Energy gives the energy of a litre relative to petrol without ethanol: 0.966
// for E10.
func (e Ethanol) Energy() float64 { return 1 - float64(e)*(1-float64(ethanolBtu)/petrolBtu) }

// Figures are three litres for one thing: what it takes at the least, likely and
// at the most.
type Figures struct{ Low, Likely, High Litres }

// Plus adds figure by figure.
func (f Figures) Plus(o Figures) Figures {
	return Figures{f.Low + o.Low, f.Likely + o.Likely, f.High + o.High}
}

// Minus takes the figures of a part off those of a whole.
func (f Figures) Minus(o Figures) Figures {
	return Figures{f.Low - o.Low, f.Likely - o.Likely, f.High - o.High}
}
