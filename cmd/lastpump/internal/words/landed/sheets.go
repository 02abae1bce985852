package landed

import (
	"fmt"
	"slices"
	"strings"

	"lastpump/cmd/lastpump/internal/words"
	"lastpump/fuel/trip"
	"lastpump/route"
)

// A Voice says what stands on the sheets of a map.
type Voice struct{ words.Voice }

// Of gives the voice for a plan.
func Of(v words.Voice) Voice { return Voice{v} }

// Sheet names a sheet of a map of so many.
func Sheet(i, of int) string { return fmt.Sprintf("map, sheet %d of %d", i, of) }

// Stretch says of which scale a sheet is, and what of the line it shows.
func (v Voice) Stretch(scale float64, from, to route.Metres) string {
	return fmt.Sprintf("%s, %s %s to %s", Scale(scale), v.Units.DistanceUnit(), v.Units.Place(from), v.Units.Place(to))
}

// Scale writes a scale: 1:250 000.
func Scale(scale float64) string {
	digits := fmt.Sprintf("%.0f", scale)
	for i := len(digits) - 3; i > 0; i -= 3 {
		digits = digits[:i] + " " + digits[i:]
	}
	return "1:" + digits
}

// To leads to another sheet.
func To(sheet int) string { return fmt.Sprintf("to sheet %d", sheet) }

// Neighbours says on which sheets the ride is before and after one, and which others show some of the
// ride that this one has, too.
func Neighbours(i, of int) string {
	switch {
	case of == 1:
		return "All of the ride is on this sheet."
	case i == 1:
		return "The ride goes on on sheet 2."
	case i == of:
		return fmt.Sprintf("The ride comes from sheet %d.", i-1)
	}
	return fmt.Sprintf("The ride comes from sheet %d and goes on on sheet %d.", i-1, i+1)
}

// Pump says, under the name of a stop, where the line passes it and what it sells: of one that is
// filled at what to take.
func (v Voice) Pump(visits []int) []string {
	var at []string
	counted := false
	for _, i := range visits {
		at = append(at, v.Units.Place(v.Plan.Visits[i].At))
		counted = counted || v.Plan.Visits[i].Counted
	}
	out := []string{v.Units.DistanceUnit() + " " + strings.Join(slices.Compact(at), ", ")}
	first := v.Plan.Visits[visits[0]]
	switch {
	case !counted:
		out[0] += ", " + whyNot(first.WhyNot)
	case len(first.Stop.Grades) == 0:
		out = append(out, "grade not known")
	default:
		var grades []string
		for _, g := range first.Stop.Grades {
			grades = append(grades, g.String())
		}
		out = append(out, strings.Join(grades, ", "))
	}
	return out
}

func whyNot(w trip.WhyNot) string {
	if w == trip.NotNeeded {
		return "passed"
	}
	return string(w)
}

// Way says of a way out to which pump it leads, how far by road, and where it leaves the line.
func (v Voice) Way(way int) []string {
	w := v.Plan.Ways.All[way]
	name := w.To
	if w.ToStop >= 0 {
		name = v.Plan.Stops[w.ToStop].Name
	}
	far := v.RoadFar(way)
	if w.From >= 0 {
		far += " from " + v.Name(v.Plan.Stops[w.From].Name)
	}
	return []string{v.Name(name), far, "off at " + v.Km(w.Along) + onto(w.Toward, v.Name(w.Way.Road))}
}

// onto says which way a road leaves the line: ", NE on Siding Road".
func onto(toward, road string) (s string) {
	if toward != "" {
		s = ", " + toward
	}
	if road != "" {
		s += " on " + road
	}
	return s
}

// Onto says, where a way out leaves the line and its pump is not on the sheet, where it leads.
func (v Voice) Onto(way int) []string {
	told := v.Way(way)
	told[0] = "to " + told[0]
	return told
}

// Keys to what is on a sheet.
const (
	KeyHere      = "the ride on this sheet"
	KeyRest      = "the rest of it"
	KeyGap       = "a hole in the line"
	KeyPump      = "pump"
	KeyMapped    = words.OnMap
	KeyUncounted = "not filled at or not counted"
	KeyStrands   = "if dry you are stranded"
	KeyWay       = "way out by road, drawn straight: not the shape of the road"
)

// SheetCaution stands at the foot of each sheet.
const SheetCaution = "A sketch to look at beside a real map, not to find the way by: a road may be missing, closed or " +
	"another. A pump may be dry. Estimates, not promises, within your margin on these figures. Carry water; tell someone " +
	"where you ride."
