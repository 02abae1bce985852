package survey

import (
	"cmp"
	"regexp"
	"slices"
	"strings"
	"time"
	"unicode"

	"lastpump/fuel/stop"
	"lastpump/fuel/survey/surface"
	"lastpump/octane"
	"lastpump/route/osmfile"
)

// isPump tells whether an object is where fuel is sold, for whomever. A pump that is
// out of use has its tag under another key (disused:amenity=fuel) and is none.
func isPump(t osmfile.Tags) bool { return hasValue(t.Find("amenity"), "fuel") }

// hasValue tells whether one of the values of a tag, between semicolons, is v.
func hasValue(value, v string) bool {
	for part := range strings.SplitSeq(value, ";") {
		if strings.TrimSpace(part) == v {
			return true
		}
	}
	return false
}

// Refused is an object of the map that is left out, and why.
type Refused struct {
	Ref    osmfile.Ref
	Why    Reason
	Tag    string      // of Past its beginning, of NoAccess all of it
	Within osmfile.Ref // of WithinRefused
}

// A Reason is why a pump of the map is none for a rider.
type Reason string

// The reasons.
const (
	Past          Reason = "it is there no more"
	NoAccess      Reason = "nobody may go there"
	ForBoats      Reason = "for boats"
	ForAircraft   Reason = "for aircraft"
	NoMotorcycles Reason = "closed to motorcycles"
	ForLorries    Reason = "for lorries or buses"
	Shut          Reason = "closed"
	WithinRefused Reason = "within another that is left out"
)

// refusal tells why a pump of the map is none for a rider, or has no reason.
func refusal(t osmfile.Tags) Refused {
	says := func(key string, values ...string) bool { return slices.Contains(values, t.Find(key)) }
	if past := surface.Past(t, "amenity", "fuel"); past != "" {
		return Refused{Why: Past, Tag: past}
	}
	let := says("motor_vehicle", "yes", "designated", "permissive") || says("motorcar", "yes", "designated") ||
		says("motorcycle", "yes", "designated")
	shut := says("motor_vehicle", "no", "private") || says("vehicle", "no", "private") || says("motorcar", "no") && !let
	boats := t.Find("waterway") == "fuel" || says("boat", "yes", "designated", "only") && shut
	switch {
	case says("access", "private", "no"):
		return Refused{Why: NoAccess, Tag: "access=" + t.Find("access")}
	case (boats || t.Find("seamark:type") != "") && !let:
		return Refused{Why: ForBoats}
	case (t.Find("aeroway") == "fuel" || fliesOnly(t)) && !let:
		return Refused{Why: ForAircraft}
	case shut, says("motorcycle", "no"):
		return Refused{Why: NoMotorcycles}
	case (says("hgv", "only") || says("bus", "only")) && !let:
		return Refused{Why: ForLorries}
	case says("opening_hours", "closed", "off"), says("operational_status", "closed", "abandoned"):
		return Refused{Why: Shut}
	}
	return Refused{}
}

// fliesOnly tells whether all the fuels that are tagged are for aircraft.
func fliesOnly(t osmfile.Tags) (only bool) {
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
func hasOctane(t osmfile.Tags) bool {
	return slices.ContainsFunc(t, func(tag osmfile.Tag) bool { return octaneKey.MatchString(tag.Key) && sold(tag.Value) })
}

// otherFuels are keys for what is no petrol, by the word that a stop list has for it,
// and for petrol whose number is not told.
var otherFuels = map[string]string{
	"fuel:diesel": "diesel", "fuel:HGV_diesel": "diesel", "fuel:GTL_diesel": "diesel", "fuel:biodiesel": "biodiesel",
	"fuel:e85": "e85", "fuel:lpg": "lpg", "fuel:cng": "cng", "fuel:lng": "lng", "fuel:propane": "propane",
	"fuel:kerosene": "kerosene", "fuel:LH2": "hydrogen", "fuel:h70": "hydrogen", "fuel:h35": "hydrogen",
	"fuel:electricity": "electric",
	"fuel:e5":          "e5", "fuel:e10": "e10", "fuel:petrol": "petrol",
	"fuel:gasoline": "petrol", "fuel:unleaded": "petrol",
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
func sellsBy(t osmfile.Tags, scale octane.Scale) (s sells) {
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

// pumpOf makes a pump of its tags; where it is and how it is called among others are
// for the caller.
func pumpOf(t osmfile.Tags, scale octane.Scale, edited time.Time) Pump {
	s := stop.Stop{Name: nameOf(t), Standing: stop.Map, Hours: oneLine(t.Find("opening_hours")), Pay: payOf(t),
		Phone: oneLine(cmp.Or(t.Find("phone"), t.Find("contact:phone"), t.Find("contact:mobile"), t.Find("mobile")))}
	var byEdit bool
	s.Confirmed, byEdit, s.HasConfirmed = confirmedBy(t, edited)
	p := Pump{Stop: s, ByEdit: byEdit}
	sells := sellsBy(t, scale)
	p.Grades = sells.grades
	if len(sells.grades) == 0 && !sells.petrol && len(sells.other) > 0 {
		// Only these are tagged. That petrol is not may be an oversight of whoever drew
		// the map, but a rider who counts on it may be stranded.
		p.Other = sells.other
		p.remark(OtherFuelsOnly, strings.Join(sells.other, ", "))
	}
	if sells.petrol && len(sells.grades) == 0 {
		p.remark(NumberNotTagged, "")
	}
	if len(sells.not) > 0 {
		p.remark(NotSold, strings.Join(sells.not, ", "))
	}
	p.remarkOn(t)
	return p
}

func (p *Pump) remark(kind RemarkKind, value string) {
	p.Remarks = append(p.Remarks, Remark{kind, value})
}

// nameOf gives what a rider can look for or ask for: what is written on the sign. Of a
// name in other letters the Latin form is given too.
func nameOf(t osmfile.Tags) string {
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
func payOf(t osmfile.Tags) string {
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
		slices.Contains([]string{"visa", "mastercard", "maestro", "visa_debit", "visa_electron", "american_express",
			"girocard"}, key)
}

// confirmedBy gives the day on which somebody last saw it: by check_date or
// survey:date, and if there is none by the last edit, which may have been about
// anything. Of a month or a year alone it is the first day.
func confirmedBy(t osmfile.Tags, edited time.Time) (day time.Time, byEdit, ok bool) {
	for _, key := range []string{"check_date", "survey:date"} {
		for _, form := range []string{time.DateOnly, "2006-01", "2006"} {
			if day, err := time.Parse(form, strings.TrimSpace(t.Find(key))); err == nil {
				return day, false, true
			}
		}
	}
	if edited.IsZero() || edited.Year() < 2004 { // before there was such a map
		return time.Time{}, false, false
	}
	y, m, d := edited.UTC().Date()
	return time.Date(y, m, d, 0, 0, 0, 0, time.UTC), true, true
}

// remarkOn remarks what else the tags say.
func (p *Pump) remarkOn(t osmfile.Tags) {
	if v := t.Find("self_service"); v == "yes" || v == "only" {
		p.remark(SelfService, "")
	}
	if t.Find("automated") == "yes" {
		p.remark(Automatic, "")
	}
	switch v := t.Find("seasonal"); v {
	case "", "no":
	case "yes":
		p.remark(NotAllYear, "")
	default:
		p.remark(Season, v)
	}
	boat, cars := t.Find("boat"), t.Find("motor_vehicle")+t.Find("motorcar")
	if (boat == "yes" || boat == "designated") && cars == "" {
		p.remark(ForBoatsToo, boat)
	}
	for _, key := range []string{"hgv", "bus"} {
		if t.Find(key) == "designated" {
			p.remark(AsTagged, key+"=designated")
		}
	}
	for _, tag := range t {
		if tag.Value == disputed {
			p.remark(Disputed, tag.Key)
		}
	}
	switch v := t.Find("access"); v {
	case "", "yes", "permissive", "public":
	default:
		p.remark(AsTagged, "access="+v)
	}
}
