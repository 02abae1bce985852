// Package refuge reads what the tags of a thing of the map say of help: whether it is a
// place that a rider in trouble looks for ([Of]), and whether a way is a road on which
// somebody comes by ([Major]).
//
// The idea that surprises: a shelter is one whatever it was built for. Under the roof of a
// bus stop one waits out a storm, and a bus comes.
//
// # Limits
//
// Relations of the map are not looked at: a hospital that is drawn as one of several
// outlines is not found. Whether anybody is there is not asked.
//
// # Sources
//
//	[1] The OpenStreetMap wiki: Key:place, Key:amenity (hospital, clinic, doctors, pharmacy,
//	    shelter, drinking_water), Key:tourism (alpine_hut, wilderness_hut), Key:highway.
package refuge

import (
	"cmp"
	"slices"
	"strings"

	"lastpump/fuel/bailout"
	"lastpump/fuel/survey/surface"
	"lastpump/route/input"
	"lastpump/route/osmfile"

	"github.com/paulmach/orb"
)

// A Place is one of the map.
type Place struct {
	Kind bailout.Kind
	What string // by its tags
	Name string // "" for none
	At   orb.Point
}

// rules say which values of a key are of which kind [1].
var rules = []struct {
	key    string
	kind   bailout.Kind
	values []string
}{
	{"place", bailout.Village, []string{"city", "town", "village", "hamlet"}},
	{"amenity", bailout.Clinic, []string{"hospital", "clinic", "doctors"}},
	{"amenity", bailout.Pharmacy, []string{"pharmacy"}},
	{"amenity", bailout.Shelter, []string{"shelter"}},
	{"amenity", bailout.Water, []string{"drinking_water"}},
	{"tourism", bailout.Shelter, []string{"alpine_hut", "wilderness_hut"}},
}

// Of gives what help a thing is, by its tags; "" where it is none. A village without a name
// is none, for nobody could say where he is; nor is what the map says is for nobody else.
func Of(t osmfile.Tags) (kind bailout.Kind, what string) {
	for _, r := range rules {
		value := t.Find(r.key)
		if value == "" || !slices.Contains(r.values, value) {
			continue
		}
		if surface.Past(t, r.key, value) != "" || hasShut(t) || r.kind == bailout.Village && t.Find("name") == "" || r.kind != bailout.Village && closed(t) {
			return "", ""
		}
		if value == "shelter" {
			value = cmp.Or(input.OneLine(t.Find("shelter_type")), value)
		}
		return r.kind, value
	}
	return "", ""
}

// hasShut tells whether the map says that a place is open no more.
func hasShut(t osmfile.Tags) bool {
	return slices.Contains([]string{"closed", "off"}, t.Find("opening_hours")) ||
		slices.Contains([]string{"closed", "abandoned"}, t.Find("operational_status"))
}

// closed tells whether the map says that a place is for nobody but its owner. Who is in need
// knocks all the same; a plan does not send him there.
func closed(t osmfile.Tags) bool {
	return slices.Contains([]string{"private", "no"}, t.Find("access"))
}

// Is tells whether a thing is any help.
func Is(t osmfile.Tags) bool {
	kind, _ := Of(t)
	return kind != ""
}

// A Class is that of a road on which somebody comes by; 0 for none.
type Class uint8

// classes from the least to the greatest.
var classes = []string{"", "secondary", "primary", "trunk", "motorway"}

// String gives the class as the map has it.
func (c Class) String() string { return classes[c] }

// Major gives the class of a road of the secondary class or above, with the links that lead
// to it; 0 for any other way.
func Major(t osmfile.Tags) Class {
	class, _ := strings.CutSuffix(t.Find("highway"), "_link")
	return Class(max(slices.Index(classes, class), 0))
}
