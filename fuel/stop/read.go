package stop

import (
	"errors"
	"fmt"
	"io"
	"math"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"time"

	"lastpump/octane"
	"lastpump/route"

	"github.com/paulmach/orb"
)

// columns of a stop list; the first three are needed.
var columns = []string{"name", "lat", "lon", "grades", "hours", "pay", "standing", "confirmed", "phone", "price", "note"}

// ReadCSV reads a stop list with the header
//
//	name,lat,lon,grades,hours,pay,standing,confirmed,phone,price,note
//
// in any order, of which only the first three are needed. Grades stand as "95
// RON; 92 RON", the day of confirmation as 2026-05-31, a price as "1.62 EUR/L".
// posted is the scale of a bare number, or "". The error joins up to ten
// [*route.InputError], one for each bad row.
func ReadCSV(r io.Reader, name string, posted octane.Scale) ([]Stop, error) {
	t, err := route.NewTable(r, name, columns, 3)
	if err != nil {
		return nil, err
	}
	var out []Stop
	var faults []error
	for t.Next() {
		s, err := row(t, posted)
		if err != nil {
			faults = append(faults, err)
			continue
		}
		out = append(out, s)
	}
	return out, route.JoinFaults(append(faults, t.Faults()...))
}

func row(t *route.Table, posted octane.Scale) (Stop, error) {
	s := Stop{Name: t.Get("name")}
	if s.Name == "" {
		return s, t.Fault("name", "a stop without a name", hintName)
	}
	lat, err := angle(t, "lat", 90)
	if err != nil {
		return s, err
	}
	lon, err := angle(t, "lon", 180)
	if err != nil {
		return s, err
	}
	s.At = orb.Point{lon, lat}
	for _, key := range columns[3:] {
		if err := s.set(key, t.Get(key), posted); err != nil {
			return s, t.Fault(key, key+": "+err.Error(), hintOf(err))
		}
	}
	return s, nil
}

const hintName = "call it what a rider can find or ask for"

func angle(t *route.Table, column string, limit float64) (float64, error) {
	v, ok := t.Number(column)
	if !ok || math.Abs(v) > limit {
		return 0, t.Fault(column, fmt.Sprintf("%s is %q, not a number of degrees from -%v to %v", column, t.Get(column), limit, limit),
			"write degrees with a decimal point, like 47.9188")
	}
	return v, nil
}

func hintOf(err error) string {
	var hinted interface{ HintText() string }
	if errors.As(err, &hinted) {
		return hinted.HintText()
	}
	return ""
}

// set reads one of the optional values of a stop, which stand under the same
// keys in a list and in a waypoint. Empty is not known.
func (s *Stop) set(key, value string, posted octane.Scale) (err error) {
	switch key {
	case "grades":
		s.Grades, s.Other, err = parseGrades(value, posted)
	case "hours":
		s.Hours = value
	case "pay":
		s.Pay = value
	case "phone":
		s.Phone = value
	case "note":
		s.Note = value
	case "standing":
		s.Standing, err = parseStanding(value)
	case "confirmed":
		s.Confirmed, s.HasConfirmed, err = parseDay(value)
	case "price":
		s.Prices, err = parsePrices(value)
	}
	return err
}

// noPetrol are words for fuels that an engine made for petrol does not run on.
var noPetrol = []string{"diesel", "biodiesel", "e85", "e100", "lpg", "cng", "lng", "propane", "hydrogen", "electric", "kerosene", "avgas", "adblue"}

// petrolAlone are words for petrol that say nothing of its grade.
var petrolAlone = []string{"petrol", "gasoline", "unleaded", "e5", "e10"}

func parseGrades(s string, posted octane.Scale) (grades []octane.Grade, other []string, err error) {
	ungraded := false
	for _, part := range strings.Split(s, ";") {
		part = strings.TrimSpace(part)
		word := strings.ToLower(part)
		switch {
		case word == "" || word == "not known" || word == "unknown":
		case slices.Contains(petrolAlone, word):
			ungraded = true
		case slices.Contains(noPetrol, word):
			other = append(other, word)
		default:
			g, err := octane.ParsePosted(part, posted)
			if err != nil {
				return nil, nil, err
			}
			grades = append(grades, g)
		}
	}
	if ungraded && len(grades) == 0 {
		other = nil // it has petrol, of a grade not known
	}
	return grades, other, nil
}

func parseStanding(s string) (Standing, error) {
	v := Standing(strings.ToLower(s))
	if v == "" {
		return Map, nil
	}
	if !slices.Contains(Standings, v) {
		return "", &route.ValueError{Text: s, What: "is not a standing", Hint: "write seen, phoned, map or hearsay"}
	}
	return v, nil
}

func parseDay(s string) (time.Time, bool, error) {
	if s == "" {
		return time.Time{}, false, nil
	}
	d, err := time.Parse(time.DateOnly, s)
	if err != nil {
		return d, false, &route.ValueError{Text: s, What: "is not a day", Hint: "write it as 2026-05-31"}
	}
	return d, true, nil
}

var price = regexp.MustCompile(`^(\d{1,9}(?:\.\d+)?)\s*([^\s\d/]+)\s*/\s*(L|USgal|impgal)$`)

// parsePrices reads "1.62 EUR/L", or one for each grade: "1.62 EUR/L; 1.48 EUR/L".
func parsePrices(s string) ([]Price, error) {
	if s == "" {
		return nil, nil
	}
	var out []Price
	for _, part := range strings.Split(strings.TrimRight(s, "; "), ";") {
		m := price.FindStringSubmatch(strings.TrimSpace(part))
		if m == nil {
			return nil, badPrice(part)
		}
		n, err := strconv.ParseFloat(m[1], 64)
		if err != nil {
			return nil, badPrice(part)
		}
		out = append(out, Price{Amount: n, Currency: m[2], Per: m[3]})
	}
	return out, nil
}

func badPrice(s string) error {
	return &route.ValueError{Text: strings.TrimSpace(s), What: "is not a price",
		Hint: "write 1.62 EUR/L or 3.89 USD/USgal, or one for each grade in its order: 1.62 EUR/L; 1.48 EUR/L"}
}
