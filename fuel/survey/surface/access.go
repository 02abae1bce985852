package surface

import (
	"slices"
	"strings"

	"lastpump/fuel/wayout"
	"lastpump/route/osmfile"
)

// What motors may ride on [1]. Of the keys of access the nearest to a motorcycle
// counts, as the map's wiki has it (Key:access, "hierarchy"). A value that is not known
// here is not taken for leave.
//
//	[1] OpenStreetMap wiki: Key:access, Key:barrier, Conditional restrictions,
//	    Key:seasonal, Key:winter_road, Key:ice_road.

// accessKeys from the nearest to the farthest.
var accessKeys = []string{"motorcycle", "motor_vehicle", "vehicle", "access"}

// unopened are the classes that are closed to motors unless a key of a motor opens
// them: a path is for feet as long as nobody says otherwise. A busway is for buses, a
// raceway leads nowhere.
var unopened = map[string]bool{"path": true, "bridleway": true, "footway": true, "pedestrian": true, "cycleway": true,
	"busway": true, "raceway": true}

// Let tells whether a motorcycle may be ridden on a way by its tags, and what has to
// be known of it before a rider leans on it. A way that is closed has no marks.
func Let(t osmfile.Tags) (open bool, marks wayout.Marks) {
	if !Rideable(t) {
		return false, 0
	}
	value, key := access(t)
	switch {
	case unopened[t.Find("highway")] && (key == "" || key == "access"):
		return false, 0
	case value == "no":
		return false, 0
	case value != "" && !slices.Contains(letsIn, value) && value != "public" && value != "customers" &&
		value != "discouraged" && value != "unknown":
		marks |= wayout.Private
	}
	return true, marks | seasons(t) | conditions(t)
}

// access gives the value that counts for a motorcycle, and of which key.
func access(t osmfile.Tags) (value, key string) {
	for _, key := range accessKeys {
		if v := strings.TrimSpace(t.Find(key)); v != "" {
			return v, key
		}
	}
	return "", ""
}

func seasons(t osmfile.Tags) (marks wayout.Marks) {
	for key, mark := range map[string]wayout.Marks{
		"seasonal": wayout.Seasonal, "winter_road": wayout.WinterRoad, "ice_road": wayout.IceRoad,
	} {
		if v := t.Find(key); v != "" && v != "no" {
			marks |= mark
		}
	}
	return marks
}

// conditions marks what the map has hours, days or weather for. A way that is ridden
// now in the one, now in the other direction is among it.
func conditions(t osmfile.Tags) wayout.Marks {
	if v := t.Find("oneway"); v == "reversible" || v == "alternating" {
		return wayout.Conditional
	}
	for _, key := range append([]string{"oneway"}, accessKeys...) {
		if t.Find(key+":conditional") != "" {
			return wayout.Conditional
		}
	}
	return 0
}

// MotorOneway is [Oneway] for a motorcycle: some streets let it in from either end.
func MotorOneway(t osmfile.Tags) int8 {
	switch v := t.Find("oneway:motorcycle"); v {
	case "no":
		return 0
	case "yes", "-1":
		return Oneway(osmfile.Tags{{Key: "oneway", Value: v}})
	}
	return Oneway(t)
}

// stopping are barriers that a motorcycle does not pass, unless a tag lets it. Bollards
// and gates are passed: the ones by width, the others because most of them on roads are
// there to be opened.
var stopping = map[string]bool{"block": true, "cycle_barrier": true, "debris": true, "ditch": true, "fence": true,
	"full-height_turnstile": true, "guard_rail": true, "hedge": true, "horse_stile": true, "jersey_barrier": true,
	"kissing_gate": true, "log": true, "motorcycle_barrier": true, "retaining_wall": true, "rubble": true,
	"stile": true, "turnstile": true, "wall": true, "wicket_gate": true}

// Barred tells whether a node of a way stops a motorcycle, and what it does to the ways
// through it if it does not.
func Barred(t osmfile.Tags) (stops bool, marks wayout.Marks) {
	kind := t.Find("barrier")
	value, key := access(t)
	let := slices.Contains(letsIn, value)
	switch {
	case kind == "" || kind == "no":
		return key != "" && value == "no" && t.Find("highway") == "", 0
	case t.Find("locked") == "yes" && !let, value == "no":
		return true, 0
	case stopping[kind] && !(let && key != "access"):
		return true, 0
	case value == "private" || value != "" && !let && value != "public" && value != "customers" && value != "unknown":
		marks = wayout.Private
	}
	return false, marks | seasons(t) | conditions(t)
}

// Main tells whether a way is a road of the tertiary class or above, whose junctions
// are where a rider leaves a line for help.
func Main(t osmfile.Tags) bool {
	class, _ := strings.CutSuffix(t.Find("highway"), "_link")
	return slices.Contains([]string{"motorway", "trunk", "primary", "secondary", "tertiary"}, class)
}
