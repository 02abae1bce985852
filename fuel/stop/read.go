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

	"lastpump/route/input"

	"lastpump/octane"

	"github.com/paulmach/orb"
)

// ReadCSV reads a stop list with the header
//
//	name,lat,lon,grades,hours,pay,standing,confirmed,phone,price,note,alias
//
// in any order, or with other words for these, of which only the first three are needed.
// Places stand in degrees, see [ParseAngle], grades as "95 RON; 92 RON", the day of
// confirmation as 2026-05-31, a price as "1.62 EUR/L". posted is the scale of a bare
// number, or "". The notes say what was guessed. The error joins up to ten
// [*input.Error], one for each bad row. A pair of coordinates that can only be meant the
// other way round is not among them as long as nothing else is wrong: see [Stop.Swapped].
func ReadCSV(r io.Reader, name string, posted octane.Scale) (stops []Stop, notes []string, err error) {
	t, err := input.NewTable(r, name, columns, 3)
	if err != nil {
		return nil, nil, err
	}
	var faults []error // and, in their order, what is wrong with pairs
	bad := false
	for t.Next() {
		s, err := row(t, posted)
		switch {
		case err != nil:
			faults, bad = append(faults, err), true
		case s.Swapped != nil:
			faults = append(faults, s.Swapped)
			fallthrough
		default:
			stops = append(stops, s)
		}
	}
	if !bad && len(t.Faults()) == 0 {
		return stops, t.Notes(), nil
	}
	return stops, t.Notes(), input.JoinFaults(append(faults, t.Faults()...))
}

func row(t *input.Table, posted octane.Scale) (Stop, error) {
	s := Stop{Name: input.OneLine(t.Get("name"))}
	if s.Name == "" {
		return s, t.Fault("name", "a stop without a name", hintName)
	}
	if err := s.place(t); err != nil {
		return s, err
	}
	for _, c := range columns[3:] {
		value := t.Get(c.Name)
		if c.Name == "price" {
			value = t.Pointed(c.Name)
		}
		guess, err := s.set(c.Name, value, posted)
		if err != nil {
			return s, t.Place(c.Name, input.Wrap(c.Name+": ", err))
		}
		if guess != "" {
			t.Note(c.Name, c.Name+": "+guess)
		}
	}
	return s, nil
}

const hintName = "call it what a rider can find or ask for"

// place reads where a stop is.
func (s *Stop) place(t *input.Table) error {
	lat, latOK := t.Number("lat")
	lon, lonOK := t.Number("lon")
	if latOK && lonOK && math.Abs(lat) > 90 && math.Abs(lat) <= 180 && math.Abs(lon) <= 90 {
		_, err := angle(t, Latitude)
		s.Swapped = &input.Error{}
		errors.As(err, &s.Swapped)
		s.At = orb.Point{lat, lon}
		return nil
	}
	lat, err := angle(t, Latitude)
	if err != nil {
		return err
	}
	lon, err = angle(t, Longitude)
	s.At = orb.Point{lon, lat}
	return err
}

func angle(t *input.Table, of Angle) (float64, error) {
	column := of.column
	v, err := ParseAngle(t.Pointed(column), of)
	var wrong *input.ValueError
	if errors.As(err, &wrong) {
		return 0, t.Fault(column, fmt.Sprintf("%s is %q, %s", column, t.Get(column), wrong.What), wrong.Hint)
	}
	return v, nil
}

// set reads one of the optional values of a stop, which stand under the same
// keys in a list and in a waypoint. Empty is not known. guess says what was made of it
// that may be meant otherwise, or is "".
func (s *Stop) set(key, value string, posted octane.Scale) (guess string, err error) {
	switch key {
	case "grades":
		s.Grades, s.Other, guess, err = parseGrades(value, posted)
	case "hours":
		s.Hours, guess = typedHours(input.OneLine(value))
	case "pay":
		s.Pay = input.OneLine(value)
	case "phone":
		s.Phone = input.OneLine(value)
	case "note":
		s.Note = value
	case "alias":
		s.Alias = input.OneLine(value)
	case "standing":
		s.Standing, err = parseStanding(value)
	case "confirmed":
		s.Confirmed, s.HasConfirmed, err = parseDay(value)
	case "price":
		s.Prices, err = parsePrices(value)
	}
	return guess, err
}

// noPetrol are words for fuels that an engine made for petrol does not run on, and for none.
var noPetrol = []string{"diesel", "biodiesel", "e85", "e100", "lpg", "cng", "lng", "propane", "hydrogen", "electric",
	"kerosene", "avgas", "adblue", dryWord}

// petrolAlone are words for petrol that say nothing of its grade.
var petrolAlone = []string{"petrol", "gasoline", "unleaded"}

var betweenGrades = regexp.MustCompile(`[;,]`)

// decimalComma is one that does not stand between two grades: one digit follows it.
var decimalComma = regexp.MustCompile(`(\d),(\d)(\D|$)`)

// slashedScales are two grades that each name their scale: "95 RON / 92 RON". What a slash
// between bare numbers means is for [octane.ParseGrades].
var slashedScales = regexp.MustCompile(`([A-Za-z])\s*/\s*(\d)`)

func parseGrades(s string, posted octane.Scale) (grades []octane.Grade, other []string, guess string, err error) {
	ungraded := false
	for _, part := range betweenGrades.Split(slashedScales.ReplaceAllString(decimalComma.ReplaceAllString(s, "$1.$2$3"), "$1;$2"), -1) {
		part = strings.TrimSpace(part)
		word := strings.ToLower(part)
		switch {
		case word == "" || word == "not known" || word == "unknown":
		case slices.Contains(petrolAlone, word):
			ungraded = true
		case slices.Contains(noPetrol, word):
			other = append(other, word)
		default:
			of, err := octane.ParseGrades(part, posted)
			if err != nil {
				return nil, nil, "", err
			}
			if len(of) > 1 {
				guess = fmt.Sprintf("%q is read as %d grades", part, len(of))
			}
			grades = append(grades, of...)
		}
	}
	if ungraded && len(grades) == 0 {
		other = nil // it has petrol, of a grade not known
	}
	return grades, other, guess, nil
}

// sameStanding are the words of the languages that a header may be in, and others that people write.
var sameStanding = map[string]Standing{
	"gesehen": Seen, "vu": Seen, "visto": Seen, "visited": Seen, "been there": Seen,
	"angerufen": Phoned, "telefoniert": Phoned, "téléphoné": Phoned, "appelé": Phoned, "llamado": Phoned, "called": Phoned,
	"karte": Map, "carte": Map, "mapa": Map,
	"hörensagen": Hearsay, "gerücht": Hearsay, "ouï-dire": Hearsay, "rumor": Hearsay, "rumour": Hearsay, "heard": Hearsay,
}

func parseStanding(s string) (Standing, error) {
	v := Standing(strings.ToLower(s))
	if same, ok := sameStanding[string(v)]; ok {
		return same, nil
	}
	if v == "" {
		return Map, nil
	}
	if !slices.Contains(Standings(), v) {
		return "", &input.ValueError{Text: s, What: "is not a standing", Hint: "write seen, phoned, map or hearsay"}
	}
	return v, nil
}

func parseDay(s string) (time.Time, bool, error) {
	if s == "" {
		return time.Time{}, false, nil
	}
	d, err := time.Parse(time.DateOnly, s)
	if err != nil {
		return d, false, &input.ValueError{Text: s, What: "is not a day", Hint: "write it as 2026-05-31"}
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
	return &input.ValueError{Text: strings.TrimSpace(s), What: "is not a price",
		Hint: "write 1.62 EUR/L or 3.89 USD/USgal, or one for each grade in its order: 1.62 EUR/L; 1.48 EUR/L"}
}
