package trail

import (
	"cmp"
	"fmt"
)

// What stands on the strip for the tank bag besides its cues.

// StripTitle is what its file calls itself.
func (v Voice) StripTitle() string {
	if v.Plan.Name == "" {
		return "Fuel strip"
	}
	return v.Plan.Name + ": fuel strip"
}

// StripBike names the bike that the figures are for: of a group it says which of how many.
func (v Voice) StripBike(number, of int) string {
	name := v.Name(v.Plan.Bike.Name)
	if of > 1 {
		return fmt.Sprintf("FOR %s, bike %d of %d; each has a strip of its own", cmp.Or(name, "bike as given"), number, of)
	}
	return cmp.Or(name, "bike as given")
}

// StripOwn says how the bike of a strip fares, where the group's answer stands before it.
func (v Voice) StripOwn() string {
	return cmp.Or(v.Name(v.Plan.Bike.Name), "This bike") + ": " + v.Answer()[0]
}

// StripRest says from where on this is the rest of a ride; "" for all of it.
func (v Voice) StripRest() string {
	h := v.Plan.Here
	if !h.OnTheWay() {
		return ""
	}
	where := fmt.Sprintf("the rest from %s %s", v.Units.DistanceUnit(), v.Units.Nearest(h.At))
	if h.Stop >= 0 {
		where += ", " + v.Name(v.Plan.Stops[h.Stop].Name)
	}
	return where
}

// StripFigures says what its figures are, to those who read it in the rain.
func (v Voice) StripFigures() string {
	unit := "KM"
	if v.Units.Miles() {
		unit = "MILES"
	}
	start := "Zero the trip at the start"
	if v.Plan.SetsOutFull(0) {
		start = "FULL at the start, zero the trip there"
	}
	return fmt.Sprintf("Figures: %s on the trip meter, as the bike shows them. %s and at each fill.", unit, start)
}

// CanTakenForEmpty is said where the rest of a ride begins and nothing was said of the can.
const CanTakenForEmpty = "The can is taken for empty where this begins."

// StripFoot says what no strip replaces, and what its signs mean.
var StripFoot = []string{
	"Estimates, not promises, within your margin on these figures. A pump may be dry, shut or gone: ask " +
		"at the pump before it.",
	"Carry water.",
	"In brackets: low to high figure; a dry pump is judged by a third farther above likely than high is. If more than the high figure goes in, the bike is using more than planned.",
	"Grade unknown: ask at the pump.",
}
