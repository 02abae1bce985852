// Package units gives quantities as a rider reads them: kilometres and litres, or miles and
// gallons, rounded so that fuel is never more and a need never less than it is.
package units

import (
	"fmt"
	"math"
	"slices"
	"strconv"

	"lastpump/fuel"
	"lastpump/fuel/leg"
	"lastpump/route"
	"lastpump/route/input"
)

// A System is the units that a rider reads. Nothing is calculated in them. The zero value
// reads like [Metric].
type System string

// The systems. In the United Kingdom roads are in miles, pumps in litres.
const (
	Metric System = "metric"
	US     System = "us"
	UK     System = "uk"
)

// Parse reads metric, us or uk. The error is a [*input.ValueError].
func Parse(s string) (System, error) {
	switch u := System(s); u {
	case Metric, US, UK:
		return u, nil
	}
	return "", input.BadValue(s, "are no units", "write metric, us or uk")
}

// Miles tells whether roads are in miles.
func (u System) Miles() bool { return u == US || u == UK }

// DistanceUnit gives "km" or "mi".
func (u System) DistanceUnit() string {
	if u.Miles() {
		return "mi"
	}
	return "km"
}

// SpeedUnit gives the unit of speeds.
func (u System) SpeedUnit() string {
	if u.Miles() {
		return "mph"
	}
	return "km/h"
}

// DistanceIn gives the number of kilometres or miles.
func (u System) DistanceIn(m route.Metres) float64 {
	if u.Miles() {
		return float64(m / fuel.Mile)
	}
	return m.Kilometres()
}

// VolumeUnit gives "L" or "gal"; the gallon is that of the United States.
func (u System) VolumeUnit() string {
	if u == US {
		return "US gal"
	}
	return "L"
}

// VolumeIn gives the number of litres or US gallons.
func (u System) VolumeIn(l fuel.Litres) float64 {
	if u == US {
		return float64(l / fuel.USGallon)
	}
	return float64(l)
}

// A hair keeps 12.3, which binary holds as a little less or more, from being
// rounded to 12.2 or 12.4.
const hair = 1e-9

// Down rounds down to one decimal: what there is, or how far it takes.
func Down(x float64) string { return decimal(math.Floor(x*10+hair) / 10) }

// VolumeDown gives the number of a volume that there is, rounded down: litres with
// one decimal, gallons with two, for a tenth of a gallon is five miles.
func (u System) VolumeDown(l fuel.Litres) string { return u.volume(l, math.Floor, hair) }

// VolumeUp gives the number of a volume that is needed, rounded up likewise.
func (u System) VolumeUp(l fuel.Litres) string { return u.volume(l, math.Ceil, -hair) }

func (u System) volume(l fuel.Litres, round func(float64) float64, hair float64) string {
	ten := math.Pow10(u.VolumeDigits())
	x := round(u.VolumeIn(l)*ten+hair) / ten
	if x == 0 {
		x = 0 // no minus before it
	}
	return strconv.FormatFloat(x, 'f', u.VolumeDigits(), 64)
}

// VolumeDigits is how many decimals a volume is shown with.
func (u System) VolumeDigits() int {
	if u == US {
		return 2
	}
	return 1
}

// Up rounds up to one decimal: what is needed.
func Up(x float64) string { return decimal(math.Ceil(x*10-hair) / 10) }

// Near rounds to one decimal: what is neither had nor needed.
func Near(x float64) string { return decimal(math.Round(x*10) / 10) }

func decimal(x float64) string {
	if x == 0 {
		x = 0 // no minus before it
	}
	return strconv.FormatFloat(x, 'f', 1, 64)
}

// Distance gives a distance to the nearest whole kilometre or mile; under ten,
// with one decimal.
func (u System) Distance(m route.Metres) string {
	d := u.DistanceIn(m)
	if math.Abs(d) < 9.95 {
		return Near(d) + " " + u.DistanceUnit()
	}
	return fmt.Sprintf("%.0f %s", d, u.DistanceUnit())
}

// Place gives the number of a place along the line: the whole kilometres or miles that have
// gone by there, so that it is still ahead of who stands at that number. It is the one
// rounding of places, in tables, warnings and hints. A place a metre before a full kilometre
// is at it: the same place comes out so much different where the line was laid anew.
func (u System) Place(m route.Metres) string {
	const metre = 1e-3
	return fmt.Sprintf("%.0f", math.Floor(u.DistanceIn(m)+metre)+0) // +0: no minus before a nought
}

// Km names a place along the line: "km 212".
func (u System) Km(m route.Metres) string { return u.DistanceUnit() + " " + u.Place(m) }

// Along writes a place along the line as it is typed: "212.4km".
func (u System) Along(m route.Metres) string {
	return fmt.Sprintf("%.1f%s", u.DistanceIn(m), u.DistanceUnit())
}

// StopAlong writes one of the passings of a stop as it is typed: "Kembil, 948.2km".
func (u System) StopAlong(stop string, m route.Metres) string { return stop + ", " + u.Along(m) }

// Whole gives the number of a figure on the trip meter, rounded down to the whole kilometre
// or mile.
func (u System) Whole(m route.Metres) string {
	return fmt.Sprintf("%.0f", math.Floor(u.DistanceIn(m)+hair)+0) // +0: no minus before a nought
}

// foot in metres, exactly (NIST SP 811, B.6).
const foot = 0.3048

// HeightUnit gives "m" or "ft".
func (u System) HeightUnit() string {
	if u.Miles() {
		return "ft"
	}
	return "m"
}

// HeightIn gives the number of metres or feet.
func (u System) HeightIn(m route.Metres) float64 {
	if u.Miles() {
		return float64(m) / foot
	}
	return float64(m)
}

// Height gives a climb in whole metres or feet.
func (u System) Height(m route.Metres) string {
	return fmt.Sprintf("%.0f %s", u.HeightIn(m), u.HeightUnit())
}

// Slope gives a climb of so many metres a kilometre.
func (u System) Slope(metres float64) string {
	if u.Miles() {
		return fmt.Sprintf("%.0f ft a mile", metres*float64(fuel.Mile)/1000/foot)
	}
	return fmt.Sprintf("%.0f m a kilometre", metres)
}

// Held gives a volume that there is, rounded down.
func (u System) Held(l fuel.Litres) string { return u.VolumeDown(l) + " " + u.VolumeUnit() }

// Needed gives a volume that is needed, rounded up.
func (u System) Needed(l fuel.Litres) string { return u.VolumeUp(l) + " " + u.VolumeUnit() }

// Left gives the number of what is in the tank at the end of a leg, or of what is lacking,
// with a minus before it.
func (u System) Left(l fuel.Litres) string {
	if l < 0 {
		return "-" + u.VolumeUp(-l)
	}
	return u.VolumeDown(l)
}

// usCans are the sizes of cans that are sold in the United States, in gallons (common
// practice, no source).
var usCans = []float64{1, 2, 2.5, 5}

// Cans gives the sizes of cans that are sold where these units are; nil for those in litres.
func (u System) Cans() leg.Cans {
	if u != US {
		return nil
	}
	var out leg.Cans
	for _, gallons := range usCans {
		out = append(out, fuel.Litres(gallons)*fuel.USGallon)
	}
	return out
}

// CanMost gives how much is carried in cans without a fight: 10 L, where cans are sold by the
// US gallon 2.5 of these.
func (u System) CanMost() fuel.Litres {
	if u == US {
		return 2.5 * fuel.USGallon
	}
	return leg.CarriedUnasked
}

// Can gives the size of a can as it is marked: in litres, and in US gallons for those who buy
// by them.
func (u System) Can(l fuel.Litres) string {
	if slices.ContainsFunc(u.Cans(), func(c fuel.Litres) bool { return max(c-l, l-c) < 1e-6 }) {
		return strconv.FormatFloat(math.Round(u.VolumeIn(l)*100)/100, 'f', -1, 64) + " US gal"
	}
	s := strconv.FormatFloat(math.Round(float64(l)*100)/100, 'f', -1, 64) + " L"
	if u == US {
		s += " (" + u.VolumeDown(l) + " US gal)"
	}
	return s
}

// pound in kilograms, exactly (NIST SP 811, B.8).
const pound = 0.45359237

// Weight gives a weight in kilograms, or in pounds in the United States, with so many decimals.
func (u System) Weight(kg fuel.Kilograms, decimals int) string {
	if u == US {
		return strconv.FormatFloat(float64(kg)/pound, 'f', decimals, 64) + " lb"
	}
	return strconv.FormatFloat(float64(kg), 'f', decimals, 64) + " kg"
}

// AtMost names a consumption that may not be exceeded, rounded to the safe side:
// "not over 4.9 L/100 km", or "not under 48.1 mpg US".
func (u System) AtMost(c fuel.Consumption) string {
	return u.NotOver() + " " + u.Limit(c) + " " + u.RateUnit()
}

// NotOver says which way a consumption may not go: miles per gallon fall as it rises.
func (u System) NotOver() string {
	if u.Miles() {
		return "not under"
	}
	return "not over"
}

// RateUnit names the unit of a consumption.
func (u System) RateUnit() string {
	switch u {
	case US:
		return "mpg US"
	case UK:
		return "mpg UK"
	}
	return "L/100 km"
}

// Limit gives the number of a consumption that may not be exceeded, rounded to the
// safe side: L/100 km down, miles per gallon up.
func (u System) Limit(c fuel.Consumption) string {
	switch u {
	case US:
		return Up(c.MPGUS())
	case UK:
		return Up(c.MPGUK())
	}
	return Down(float64(c))
}

// RateIn gives the number of a consumption as riders of these units say it.
func (u System) RateIn(c fuel.Consumption) string {
	switch u {
	case US:
		return fmt.Sprintf("%.1f", c.MPGUS())
	case UK:
		return fmt.Sprintf("%.1f", c.MPGUK())
	}
	return fmt.Sprintf("%.2f", float64(c))
}

// Rate gives a consumption as riders of these units say it.
func (u System) Rate(c fuel.Consumption) string { return u.RateIn(c) + " " + u.RateUnit() }

// Nearest gives a trip-meter figure to the nearest whole unit; under ten, with one
// decimal.
func (u System) Nearest(m route.Metres) string {
	if d := u.DistanceIn(m); d >= 0.05 && d < 9.95 {
		return Near(d)
	}
	return fmt.Sprintf("%.0f", u.DistanceIn(m))
}
