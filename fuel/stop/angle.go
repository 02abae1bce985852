package stop

import (
	"fmt"
	"math"
	"regexp"
	"strconv"
	"strings"

	"lastpump/route/input"
)

// An Angle is one of the two of a place on the earth.
type Angle struct {
	column      string
	most        float64 // degrees, either way
	plus, minus string  // the directions in which it is counted
}

// The two angles of a place.
var (
	Latitude  = Angle{"lat", 90, "N", "S"}
	Longitude = Angle{"lon", 180, "E", "W"}
)

const hintDegrees = "write degrees with a decimal point, like 48.0603"

// degrees is an angle as a map or a receiver writes it: a direction before or behind it,
// degrees, perhaps minutes, perhaps seconds.
var degrees = regexp.MustCompile(`^([NSEWO]?) ?([-+]?)(\d{1,3}(?:\.\d+)?)` +
	`(?:(?: ?° ?|:| )(\d{1,2}(?:\.\d+)?)(?:(?: ?' ?|:| )(\d{1,2}(?:\.\d+)?)(?: ?(?:"|''))?| ?')?| ?°)? ?([NSEWO]?)$`)

// marks writes the signs of degrees, minutes and seconds in one way each.
var marks = strings.NewReplacer("º", "°", "˚", "°", "′", "'", "’", "'", "‘", "'", "´", "'",
	"”", `"`, "“", `"`, "″", `"`, "−", "-", "\u00a0", " ")

// ParseAngle reads degrees: "48.0603", "48.0603 N", or with minutes and perhaps seconds,
// "48°03.618'", "N48 03 37". South and west are negative. The error is a
// [*input.ValueError].
func ParseAngle(s string, of Angle) (float64, error) {
	v, ok := input.Number(s)
	if !ok {
		var err error
		if v, err = of.inMinutes(s); err != nil {
			return 0, err
		}
	}
	if math.Abs(v) > of.most {
		return 0, of.wrong(s)
	}
	return v, nil
}

func (of Angle) wrong(s string) error {
	return input.BadValue(s, fmt.Sprintf("not a number of degrees from -%v to %v", of.most, of.most), hintDegrees)
}

func (of Angle) inMinutes(s string) (float64, error) {
	text := strings.Join(strings.Fields(marks.Replace(strings.ToUpper(s))), " ")
	m := degrees.FindStringSubmatch(text)
	if m == nil || m[1] != "" && m[6] != "" {
		return 0, of.wrong(s)
	}
	way, sign := m[1]+m[6], m[2]
	switch {
	case way == "O":
		return 0, input.BadValue(s, "where O is east in German and west in French and Spanish",
			"write E or W, or a minus for west")
	case way != "" && way != of.plus && way != of.minus:
		return 0, input.BadValue(s, fmt.Sprintf("but %s counts %s and %s", of.column, of.plus, of.minus),
			"are lat and lon swapped?")
	case way != "" && sign != "":
		return 0, input.BadValue(s, "with a direction and a sign", "write one of the two")
	}
	v, ok := sexagesimal(m[3], m[4], m[5])
	if !ok {
		return 0, of.wrong(s)
	}
	if sign == "-" || way == of.minus {
		v = -v
	}
	return v, nil
}

// sexagesimal adds degrees, minutes and seconds up. Only the last that is given may have
// a fraction, minutes and seconds are under 60.
func sexagesimal(parts ...string) (v float64, ok bool) {
	for i, unit := range []float64{1, 60, 3600} {
		if parts[i] == "" {
			continue
		}
		n, err := strconv.ParseFloat(parts[i], 64)
		last := i == 2 || parts[i+1] == ""
		if err != nil || !last && n != math.Trunc(n) || i > 0 && n >= 60 {
			return 0, false
		}
		v += n / unit
	}
	return v, true
}
