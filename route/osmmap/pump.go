package osmmap

import (
	"cmp"
	"regexp"
	"slices"
	"strings"
	"time"
	"unicode"

	"lastpump/fuel/stop"
	"lastpump/octane"

	"github.com/paulmach/osm"
)

// isPump tells whether an object is where fuel is sold, for whomever. A pump that is
// out of use has its tag under another key (disused:amenity=fuel) and is none.
func isPump(t osm.Tags) bool { return hasValue(t.Find("amenity"), "fuel") }

// hasValue tells whether one of the values of a tag, between semicolons, is v.
func hasValue(value, v string) bool {
	for part := range strings.SplitSeq(value, ";") {
		if strings.TrimSpace(part) == v {
			return true
		}
	}
	return false
}

// refusal tells why a pump of the map is none for a rider, or gives "".
func refusal(t osm.Tags) string {
	says := func(key string, values ...string) bool { return slices.Contains(values, t.Find(key)) }
	for _, past := range []string{"disused", "abandoned", "demolished", "removed", "razed", "was"} {
		if isPump(osm.Tags{{Key: "amenity", Value: t.Find(past + ":amenity")}}) || says(past, "yes") {
			return past
		}
	}
	let := says("motor_vehicle", "yes", "designated", "permissive") || says("motorcar", "yes", "designated") || says("motorcycle", "yes", "designated")
	shut := says("motor_vehicle", "no", "private") || says("vehicle", "no", "private") || says("motorcar", "no") && !let
	boats := t.Find("waterway") == "fuel" || says("boat", "yes", "designated", "only") && shut
	switch {
	case says("access", "private", "no"):
		return "access=" + t.Find("access")
	case (boats || t.Find("seamark:type") != "") && !let:
		return "for boats"
	case (t.Find("aeroway") == "fuel" || fliesOnly(t)) && !let:
		return "for aircraft"
	case shut, says("motorcycle", "no"):
		return "closed to motorcycles"
	case (says("hgv", "only") || says("bus", "only")) && !let:
		return "for lorries or buses"
	case says("opening_hours", "closed", "off"), says("operational_status", "closed", "abandoned"):
		return "closed"
	}
	return ""
}

// fliesOnly tells whether all the fuels that are tagged are for aircraft.
func fliesOnly(t osm.Tags) (only bool) {
	for _, tag := range t {
		fuel, ok := strings.CutPrefix(tag.Key, "fuel:")
		if !ok || !sold(tag.Value) {
			continue
		}
		switch strings.ToLower(fuel) {
		case "avgas", "100ll", "jeta1", "jet_a1", "jeta", "jet_a", "mogas", "ul91":
			only = true
		default:
			return false
		}
	}
	return only
}

func sold(value string) bool { return slices.Contains([]string{"yes", "true", "1", "only"}, value) }

var octaneKey = regexp.MustCompile(`^fuel:octane_(\d{2,3})$`)

// hasOctane tells whether a pump has octane numbers, which need a scale.
func hasOctane(t osm.Tags) bool {
	return slices.ContainsFunc(t, func(tag osm.Tag) bool { return octaneKey.MatchString(tag.Key) && sold(tag.Value) })
}

// otherFuels are keys for what is no petrol, by the word that a stop list has for it,
// and for petrol whose number is not told.
var otherFuels = map[string]string{
	"fuel:diesel": "diesel", "fuel:HGV_diesel": "diesel", "fuel:GTL_diesel": "diesel", "fuel:biodiesel": "biodiesel",
	"fuel:e85": "e85", "fuel:lpg": "lpg", "fuel:cng": "cng", "fuel:lng": "lng", "fuel:propane": "propane",
	"fuel:kerosene": "kerosene", "fuel:LH2": "hydrogen", "fuel:h70": "hydrogen", "fuel:h35": "hydrogen", "fuel:electricity": "electric",
	"fuel:e5": "e5", "fuel:e10": "e10", "fuel:petrol": "petrol", "fuel:gasoline": "petrol", "fuel:unleaded": "petrol",
}

var petrols = []string{"e5", "e10", "petrol"}

// What the tags of a pump say of what it sells.
type sells struct {
	grades []octane.Grade
	other  []string // as a stop list writes it
	not    []string // known not to be sold: numbers, in words
	petrol bool     // of a grade not told
}

// sellsBy reads the fuel:* tags. A key that is not there is not known, never "no".
func sellsBy(t osm.Tags, scale octane.Scale) (s sells) {
	for _, tag := range t {
		if m := octaneKey.FindStringSubmatch(tag.Key); m != nil {
			switch g, err := octane.ParsePosted(m[1], scale); {
			case tag.Value == "no":
				s.not = append(s.not, strings.TrimSpace(m[1]+" "+string(scale)))
			case err == nil && sold(tag.Value):
				s.grades = append(s.grades, g)
			}
			continue
		}
		word := otherFuels[tag.Key]
		switch {
		case word == "" || !sold(tag.Value):
		case slices.Contains(petrols, word):
			s.petrol = true
		case !slices.Contains(s.other, word):
			s.other = append(s.other, word)
		}
	}
	slices.SortFunc(s.grades, func(a, b octane.Grade) int { return cmp.Compare(b.Number, a.Number) })
	s.grades = slices.Compact(s.grades)
	slices.Sort(s.other)
	slices.Sort(s.not)
	return s
}

// stopOf makes a stop of the tags of a pump; where it is and how it is called among
// others are for the caller.
func stopOf(t osm.Tags, scale octane.Scale, edited time.Time) stop.Stop {
	s := stop.Stop{Name: nameOf(t), Standing: stop.Map, Hours: t.Find("opening_hours"), Pay: payOf(t),
		Phone: cmp.Or(t.Find("phone"), t.Find("contact:phone"), t.Find("contact:mobile"), t.Find("mobile"))}
	sells := sellsBy(t, scale)
	s.Grades = sells.grades
	var notes []string
	if len(sells.grades) == 0 && !sells.petrol && len(sells.other) > 0 {
		// Only these are tagged. That petrol is not may be an oversight of whoever drew
		// the map, but a rider who counts on it may be stranded.
		s.Other = sells.other
		notes = append(notes, strings.Join(sells.other, ", ")+" only, by the map's tags: ask for petrol")
	}
	if sells.petrol && len(sells.grades) == 0 {
		notes = append(notes, "petrol, its number not tagged")
	}
	if len(sells.not) > 0 {
		notes = append(notes, "not sold: "+strings.Join(sells.not, ", "))
	}
	var how string
	s.Confirmed, how, s.HasConfirmed = confirmedBy(t, edited)
	notes = append(notes, remarks(t)...)
	s.Note = noted(oneLine(strings.Join(notes, "; ")), how)
	s.Hours, s.Phone = oneLine(s.Hours), oneLine(s.Phone)
	return s
}

// nameOf gives what a rider can look for or ask for: what is written on the sign. Of a
// name in other letters the Latin form is given too.
func nameOf(t osm.Tags) string {
	find := func(key string) string { return oneLine(t.Find(key)) }
	name := cmp.Or(find("name"), find("brand"), find("operator"))
	if latin := cmp.Or(find("name:en"), find("int_name"), find("brand:en")); latin != "" && !isLatin(name) {
		return name + " (" + latin + ")"
	}
	if ref := find("ref"); name == "" && ref != "" {
		return "pump " + ref
	}
	return name
}

func isLatin(s string) bool {
	for _, r := range s {
		if unicode.IsLetter(r) && !unicode.Is(unicode.Latin, r) {
			return false
		}
	}
	return true
}

// payOf tells how one can pay, as far as the map knows.
func payOf(t osm.Tags) string {
	said := map[string]string{}
	note := func(word, value string) {
		switch {
		case sold(value):
			said[word] = word
		case value == "no" && said[word] == "":
			said[word] = "no " + word
		}
	}
	note("cash", t.Find("payment:cash"))
	for _, tag := range t {
		if key, ok := strings.CutPrefix(tag.Key, "payment:"); ok && isCard(key) {
			note("cards", tag.Value)
		}
	}
	return strings.Trim(said["cash"]+", "+said["cards"], ", ")
}

// isCard tells whether a key of payment:* is a card that is not a petrol company's own.
func isCard(key string) bool {
	return strings.HasSuffix(key, "cards") && !strings.Contains(key, "fuel") ||
		slices.Contains([]string{"visa", "mastercard", "maestro", "visa_debit", "visa_electron", "american_express", "girocard"}, key)
}

// confirmedBy gives the day on which somebody last saw it: by check_date or
// survey:date, and if there is none by the last edit, which may have been about
// anything; how says so. Of a month or a year alone it is the first day.
func confirmedBy(t osm.Tags, edited time.Time) (day time.Time, how string, ok bool) {
	for _, key := range []string{"check_date", "survey:date"} {
		for _, form := range []string{time.DateOnly, "2006-01", "2006"} {
			if day, err := time.Parse(form, strings.TrimSpace(t.Find(key))); err == nil {
				return day, "", true
			}
		}
	}
	if edited.IsZero() || edited.Year() < 2004 { // before there was such a map
		return time.Time{}, "", false
	}
	y, m, d := edited.UTC().Date()
	return time.Date(y, m, d, 0, 0, 0, 0, time.UTC), "confirmed: last edit of the map", true
}

// remarks are what else a rider wants to know before he counts on it.
func remarks(t osm.Tags) (out []string) {
	if v := t.Find("self_service"); v == "yes" || v == "only" {
		out = append(out, "self-service")
	}
	if t.Find("automated") == "yes" {
		out = append(out, "automatic, nobody there")
	}
	switch v := t.Find("seasonal"); v {
	case "", "no":
	case "yes":
		out = append(out, "not open all year")
	default:
		out = append(out, "season: "+v)
	}
	if v := t.Find("boat"); (v == "yes" || v == "designated") && t.Find("motor_vehicle") == "" && t.Find("motorcar") == "" {
		out = append(out, "boat="+v+": ask whether it is for boats alone")
	}
	for _, key := range []string{"hgv", "bus"} {
		if t.Find(key) == "designated" {
			out = append(out, key+"=designated")
		}
	}
	for _, tag := range t {
		if tag.Value == disputed {
			out = append(out, tag.Key+": the map says yes and no")
		}
	}
	switch v := t.Find("access"); v {
	case "", "yes", "permissive", "public":
	default:
		out = append(out, "access="+v)
	}
	return out
}

// oneLine puts a text on one line and leaves out what cannot be seen: what strangers
// wrote goes into a list.
func oneLine(s string) string {
	s = strings.Map(func(r rune) rune {
		switch {
		case unicode.IsSpace(r):
			return ' '
		case r == unicode.ReplacementChar || !unicode.IsPrint(r):
			return -1
		}
		return r
	}, s)
	return strings.Join(strings.Fields(s), " ")
}
