package fuel

import (
	"fmt"
	"math"
	"strconv"

	"lastpump/route"
)

// Units is what a rider reads: kilometres and litres, or miles and gallons.
// Nothing is calculated in them.
type Units string

// The units. In the United Kingdom roads are in miles, pumps in litres.
const (
	Metric Units = "metric"
	US     Units = "us"
	UK     Units = "uk"
)

// ParseUnits reads metric, us or uk. The error is a [*route.ValueError].
func ParseUnits(s string) (Units, error) {
	switch u := Units(s); u {
	case Metric, US, UK:
		return u, nil
	}
	return "", route.BadValue(s, "are no units", "write metric, us or uk")
}

// DistanceUnit gives "km" or "mi".
func (u Units) DistanceUnit() string {
	if u == Metric {
		return "km"
	}
	return "mi"
}

// DistanceIn gives the number of kilometres or miles.
func (u Units) DistanceIn(m route.Metres) float64 {
	if u == Metric {
		return m.Kilometres()
	}
	return float64(m / Mile)
}

// VolumeUnit gives "L" or "gal"; the gallon is that of the United States.
func (u Units) VolumeUnit() string {
	if u == US {
		return "US gal"
	}
	return "L"
}

// VolumeIn gives the number of litres or US gallons.
func (u Units) VolumeIn(l Litres) float64 {
	if u == US {
		return float64(l / USGallon)
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
func (u Units) VolumeDown(l Litres) string { return u.volume(l, math.Floor, hair) }

// VolumeUp gives the number of a volume that is needed, rounded up likewise.
func (u Units) VolumeUp(l Litres) string { return u.volume(l, math.Ceil, -hair) }

func (u Units) volume(l Litres, round func(float64) float64, hair float64) string {
	ten := math.Pow10(u.VolumeDigits())
	x := round(u.VolumeIn(l)*ten+hair) / ten
	if x == 0 {
		x = 0 // no minus before it
	}
	return strconv.FormatFloat(x, 'f', u.VolumeDigits(), 64)
}

// VolumeDigits is how many decimals a volume is shown with.
func (u Units) VolumeDigits() int {
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
func (u Units) Distance(m route.Metres) string {
	d := u.DistanceIn(m)
	if math.Abs(d) < 9.95 {
		return Near(d) + " " + u.DistanceUnit()
	}
	return fmt.Sprintf("%.0f %s", d, u.DistanceUnit())
}

// foot in metres, exactly (NIST SP 811, B.6).
const foot = 0.3048

// HeightUnit gives "m" or "ft".
func (u Units) HeightUnit() string {
	if u == Metric {
		return "m"
	}
	return "ft"
}

// HeightIn gives the number of metres or feet.
func (u Units) HeightIn(m route.Metres) float64 {
	if u == Metric {
		return float64(m)
	}
	return float64(m) / foot
}

// Height gives a climb in whole metres or feet.
func (u Units) Height(m route.Metres) string {
	return fmt.Sprintf("%.0f %s", u.HeightIn(m), u.HeightUnit())
}

// Held gives a volume that there is, rounded down.
func (u Units) Held(l Litres) string { return u.VolumeDown(l) + " " + u.VolumeUnit() }

// Needed gives a volume that is needed, rounded up.
func (u Units) Needed(l Litres) string { return u.VolumeUp(l) + " " + u.VolumeUnit() }

// Can gives the size of a can as it is marked, in litres, and in US gallons for
// those who buy by them.
func (u Units) Can(l Litres) string {
	s := strconv.FormatFloat(math.Round(float64(l)*100)/100, 'f', -1, 64) + " L"
	if u == US {
		s += " (" + u.VolumeDown(l) + " US gal)"
	}
	return s
}

// AtMost names a consumption that may not be exceeded, rounded to the safe side:
// "not over 4.9 L/100 km", or "not under 48.1 mpg US".
func (u Units) AtMost(c Consumption) string {
	if u == Metric {
		return "not over " + u.Limit(c) + " L/100 km"
	}
	return "not under " + u.Limit(c) + " " + u.LimitUnit()
}

// LimitUnit names the unit of [Units.Limit].
func (u Units) LimitUnit() string {
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
func (u Units) Limit(c Consumption) string {
	switch u {
	case US:
		return Up(c.MPGUS())
	case UK:
		return Up(c.MPGUK())
	}
	return Down(float64(c))
}

// Rate gives a consumption as riders of these units say it.
func (u Units) Rate(c Consumption) string {
	switch u {
	case US:
		return fmt.Sprintf("%.1f mpg US", c.MPGUS())
	case UK:
		return fmt.Sprintf("%.1f mpg UK", c.MPGUK())
	}
	return fmt.Sprintf("%.2f L/100 km", float64(c))
}
