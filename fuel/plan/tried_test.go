package plan_test

import (
	"slices"
	"strconv"
	"strings"
	"testing"

	"lastpump/fuel/plan"
	"lastpump/fuel/stop"
	"lastpump/route"
)

// Off the line every stop that cures is listed, the nearest first.
func TestStopsOffTheLine(t *testing.T) {
	in := ride(straight(t, 250), pump("on", 1, 0))
	for i, off := range []float64{14, 8, 12, 10, 29.9} {
		in.Stops = append(in.Stops, pump("B"+strconv.Itoa(i), 125, off))
	}
	for i := range 20 { // from km 10 the rest is as far as before
		in.Stops = append(in.Stops, pump("N"+strconv.Itoa(i), 10, 5+float64(i)/10))
	}
	var got []string
	for _, c := range warningOf(t, make1(t, in), plan.KindShort).Cures {
		if c.HasDetour {
			got = append(got, c.Text+" → "+c.Verdict)
		}
	}
	want := []string{ // 125 km and 1.3 times as far off take 6.77, 6.9, 7.03, 7.16 and 8.19 L of 10
		"fill at B1, 8.0 km off the line at km 125 → OK", "fill at B3, 10 km off the line at km 125 → OK", "fill at B2, 12 km off the line at km 125 → OK",
		"fill at B0, 14 km off the line at km 125 → OK", "fill at B4, 30 km off the line at km 125 → OK"}
	if !slices.Equal(got, want) {
		t.Errorf("cures %q, want %q", got, want)
	}
}

// Of stops that nobody has confirmed those in the middle of the stretch are given
// first.
func TestHearsayInTheMiddleFirst(t *testing.T) {
	from := []float64{0, -10, 20, -30, 40, -50, 60, -65, 68, -70} // the middle, km 95
	in := ride(straight(t, 190))
	for _, d := range from {
		in.Stops = append(in.Stops, hearsay("H"+strconv.Itoa(int(95+d)), 95+d))
	}
	var got []string
	for _, c := range warningOf(t, make1(t, in), plan.KindTight).Cures {
		if name, ok := strings.CutPrefix(c.Text, "fill at "); ok {
			name, _, _ = strings.Cut(name, ",")
			got = append(got, name)
		}
	}
	if want := []string{"H95", "H85", "H115", "H65", "H135", "H45", "H155", "H30", "H163", "H25"}; !slices.Equal(got, want) {
		t.Errorf("cures at %v, want %v", got, want)
	}
}

// A hopeless ride is not looked at for ever: 750 legs that are all SHORT, each
// planned again with a can, are over half a million.
func TestWorkOnCuresIsBounded(t *testing.T) {
	if testing.Short() {
		t.Skip("400 000 legs are planned")
	}
	points := newPen().north(-750 * 11).points
	in := ride(lineThrough(t, points))
	in.Bike.Tank, in.Bike.Unusable = 0.5, 0
	for i := range 749 {
		in.Stops = append(in.Stops, pump(strconv.Itoa(i), float64(-11*(i+1)), 0))
	}
	ws := make1(t, in).Warnings
	given := 0
	for _, w := range ws {
		if w.NoCure == "no cure was looked for: there are too many failures, see to those above first" {
			given++
		}
	}
	if first := ws[0]; len(first.Cures) != 1 || given == 0 || given == len(ws) {
		t.Errorf("%d of %d are not looked at; first %+v", given, len(ws), first)
	}
}

// What would strand the rider elsewhere is no cure of a TIGHT leg: over B, 12 km off,
// both legs are OK, but B dry leaves 4.5 L, and 5.5 are needed either way.
func TestACureMakesNothingWorse(t *testing.T) {
	w := warningOf(t, make1(t, ride(straight(t, 190), pump("B", 95, 12), pump("on", 1, 0))), plan.KindTight)
	for _, c := range w.Cures {
		if c.HasDetour {
			t.Errorf("cure %q", c.Text)
		}
	}
}

// What is skipped, sells no petrol or lies over 30 km off is no cure; a hearsay stop
// off the line is one if it is confirmed.
func TestWhichStopsAreTried(t *testing.T) {
	diesel := pump("diesel", 125, 6)
	diesel.Grades, diesel.Other = nil, []string{"diesel"}
	said := pump("said", 125, 9)
	said.Standing = stop.Hearsay
	in := ride(straight(t, 250), pump("on", 1, 0), diesel, pump("skipped", 125, 7), said, pump("far", 125, 30.1))
	in.Options.Skip = []string{"skipped"}
	var got []string
	for _, c := range warningOf(t, make1(t, in), plan.KindShort).Cures {
		if c.HasDetour {
			got = append(got, c.Text)
			wantNear(t, "detour", c.Detour, float64(2*1.3*9*1000*route.Metres(1)))
		}
	}
	if want := "fill at said, 9.0 km off the line at km 125, if it is confirmed to sell petrol (hearsay now)"; !slices.Equal(got, []string{want}) {
		t.Errorf("cures %q, want %q", got, want)
	}
}
