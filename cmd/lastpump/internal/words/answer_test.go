package words_test

import (
	"strings"
	"testing"

	"lastpump/cmd/lastpump/internal/words"
	"lastpump/cmd/lastpump/internal/words/units"
	"lastpump/fuel/plan"
	"lastpump/fuel/stop"
	"lastpump/octane"
	"lastpump/route"
)

func TestAnswerOfAGoodRide(t *testing.T) {
	p := make1(t, ride(straight(t, 300), pump("A", 100, 0), pump("B", 150, 0), pump("C", 200, 0)))
	want := [3]string{
		"Enough fuel, within your margin on these figures: all 4 legs are OK. No can is needed.",
		"If any one pump is dry, the next or the last one is within reach.",
		"Grade: the petrol on the way meets 95 RON on every leg.",
	}
	if got := say(p).Answer(); got != want || !p.Holds() {
		t.Errorf("answer %q", got)
	}
}

// The first line: does it hold, and what to carry. Litres and kilometres follow from
// 5 L/100 km, 10 L and 0.05775 L/km at the high figure.
func TestAnswerWhetherItHolds(t *testing.T) {
	paper := func(km float64) stop.Stop { return pump("P"+string(rune('0'+int(km/100))), km, 0) }
	for _, c := range []struct {
		in   plan.Inputs
		want string
	}{
		{ride(straight(t, 100)), "Enough fuel, within your margin on these figures: the one leg is OK. No can is needed."},
		{ride(straight(t, 190)), "Only just enough: leg 1 is TIGHT. A 1 L can would make every leg OK."},
		{ride(straight(t, 380), pump("A", 190, 0)), "Not enough fuel if A is dry; otherwise only just " +
			"enough: legs 1 and 2 are TIGHT. A 1 L can would make every leg OK."},
		{ride(straight(t, 570), pump("A", 190, 0), pump("B", 380, 0)),
			"Not enough fuel if one of 2 pumps is dry; otherwise only just enough: 3 of 3 legs are TIGHT. A 1 L can " +
				"would make every leg OK."},
		{ride(straight(t, 250)), "Not enough fuel: leg 1 is SHORT by 2.5 L (50 km). A 5 L can would make every leg OK."}, // 14.44 − 10
		{ride(straight(t, 550), paper(250)), "Not enough fuel: legs 1 and 2 are SHORT, leg 2 by 5.0 L (100 km). " +
			"A 7.5 L can would make every leg OK."},
		{ride(straight(t, 700)), "Not enough fuel: leg 1 is SHORT by 25.0 L (500 km). For every leg to be OK it " +
			"takes 30.5 L, more than any one can sold."},
		{changed(ride(straight(t, 190)), ownCan(1)),
			"Enough fuel with a 1 L can, within your margin on these figures: the one leg is OK."},
		{changed(ride(straight(t, 210)), ownCan(1)),
			"Only just enough with a 1 L can: leg 1 is TIGHT. For every leg to be OK it takes 2.2 L in cans."},
		// 18.48 L at the most: 3 and 5 L more are 8, and 7.5 more are over 10; without one's own 7.5 and 1 do.
		{changed(changed(ride(straight(t, 320)), ownCan(3)), func(in *plan.Inputs) { in.Options.Carry.Most = 10 }),
			"Only just enough with 6 L in cans (2 × 3 L): leg 1 is TIGHT. For every leg to be OK it takes 8.5 L in cans. " +
				"Without your own 3 L can, 7.5 L + 1 L would do: every leg is OK, no dry pump strands you."},
		{changed(ride(straight(t, 100)), ownCan(1)),
			"Enough fuel, within your margin on these figures: the one leg is OK. No can is needed."},
	} {
		if got := say(make1(t, c.in)).Answer()[0]; got != c.want {
			t.Errorf("%s\nwant\n%s", got, c.want)
		}
	}
	// 2.5 L and 50 km
	const us = "Not enough fuel: leg 1 is SHORT by 0.67 US gal (31 mi). A 5 L (1.32 US gal) can would make every leg OK."
	if got := words.Of(make1(t, ride(straight(t, 250))), units.US).Answer()[0]; got != us {
		t.Errorf("%s\nwant\n%s", got, us)
	}
}

// The second line: what if a pump is dry.
func TestAnswerIfAPumpIsDry(t *testing.T) {
	mapA, mapB := standing(pump("A", 30, 0), stop.Map), standing(pump("B", 60, 0), stop.Map)
	for _, c := range []struct {
		in   plan.Inputs
		want string
	}{
		{ride(straight(t, 100)), "No fuel stop is given: give them with --stops, or as waypoints in the file."},
		{ride(straight(t, 100), hearsay("H", 50)), "No pump is needed between the start and the end."},
		{ride(straight(t, 250), hearsay("H", 50)), "No pump is counted between the start and the end."},
		{ride(straight(t, 100), pump("A", 30, 0)), "If any one pump is dry, the next or the last one is within reach."},
		{ride(straight(t, 190), pump("A", 95, 0)), "If a pump is dry: another is in reach, but barely at A."},
		// At the most 256 km take 15.44 L, to B past a dry A.
		{ride(straight(t, 345), pump("A", 148, 0), pump("B", 256, 0)),
			"If a pump is dry: stranded at A, close to it at 1 more stop. A 7.5 L can is enough " +
				"for that."},
		// Into B the can rides full, too: it would be bare without.
		{changed(ride(straight(t, 345), pump("A", 148, 0), pump("B", 256, 0)), ownCan(3)),
			"Without a can one pump would strand you if dry. If a pump is dry: another is in reach, but barely at A."},
		// B: 2.5 L left, 7 on, 7.5 back. At the most 300 km, past a dry A, take 18.09 L.
		{ride(straight(t, 440), pump("A", 150, 0), pump("B", 300, 0)),
			"If a pump is dry: stranded at 2 stops. A 10 L can is enough for that."},
		// 790 km, past a dry A, take 47.64 L at the most.
		{ride(straight(t, 900), pump("A", 399.9, 0), pump("B", 790, 0)),
			"If a pump is dry: stranded at 2 stops. No one can sold is enough for that (37.7 L)."},
		// 500 km, past a dry A, take 25 L likely and 30.17 at the most.
		{ride(straight(t, 700), pump("A", 250, 0), pump("B", 500, 0)),
			"If a pump is dry: stranded at 2 stops. A 15 L can is enough for that, but not if the bike is thirsty: it then " +
				"takes 20.2 L, more than any one can sold."},
		{ride(straight(t, 100), mapA, pump("C", 80, 0)),
			"If any one pump is dry, the next or the last one is within reach. 1 of 2 stops is known only from a map."},
		{ride(straight(t, 100), mapA, mapB), "If any one pump is dry, the next or the last one is within reach. That " +
			"leans on a pump that nobody has confirmed. Both stops are known only from a map."},
		// passed twice, counted once
		{ride(lineOf(t, 0, 60, 0), mapA, pump("C", 60, 0)),
			"If any one pump is dry, the next or the last one is within reach. That leans on a pump that nobody has " +
				"confirmed. 1 of 2 stops is known only from a map."},
	} {
		if got := say(make1(t, c.in)).Answer()[1]; got != c.want {
			t.Errorf("%s\nwant\n%s", got, c.want)
		}
	}
}

// Two stops of one name are two: maps are full of pumps that bear their brand.
func TestAnswerCountsStopsOfOneName(t *testing.T) {
	in := ride(straight(t, 100), standing(pump("Fuel", 30, 0), stop.Map), standing(pump("Fuel", 60, 0), stop.Map))
	if got := say(make1(t, in)).Answer()[1]; !strings.HasSuffix(got, " Both stops are known only from a map.") {
		t.Errorf("%s\nwant both", got)
	}
}

// The third line: is the grade there. 5.5 L stay in the tank each time and 5 go in.
func TestAnswerOnTheGrade(t *testing.T) {
	untagged := func(km float64) stop.Stop {
		return changedStop(pump("U", km, 0), func(s *stop.Stop) { s.Grades = nil })
	}
	for _, c := range []struct {
		in   plan.Inputs
		want string
	}{
		{ride(straight(t, 190), pump("A", 100, 0)), "Grade: the petrol on the way meets 95 RON on every leg."},
		{ride(straight(t, 190), pump("A", 100, 0, octane.FromAKI(90))),
			"Grade: leg 2 is doubtful or not known for 95 RON; none is below it for sure."},
		{ride(straight(t, 190), untagged(100)), "Grade: leg 2 is doubtful or not known for 95 RON; none is below it " +
			"for sure."},
		// 93.57
		{ride(straight(t, 190), pump("A", 100, 0, ron(92))), "Grade: leg 2 is below 95 RON, at worst 93.5 RON."},
		// Then (5.5 × 93.571 + 5 × 92)/10.5 = 92.82.
		{ride(straight(t, 290), pump("A", 100, 0, ron(92)), pump("B", 200, 0, ron(92))),
			"Grade: legs 2 and 3 are below 95 RON, at worst 92.8 RON."},
		// 90 AKI is 94 to 95 RON: 94.52 to 95, and with 92 RON 93.32 to 93.57.
		{ride(straight(t, 290), pump("A", 100, 0, octane.FromAKI(90)), pump("B", 200, 0, ron(92))),
			"Grade: leg 3 is below 95 RON, at worst 93.3 to 93.5 RON; 1 more is doubtful or not known."},
	} {
		if got := say(make1(t, c.in)).Answer()[2]; got != c.want {
			t.Errorf("%s\nwant\n%s", got, c.want)
		}
	}
}

func TestCoarseLineIsSaid(t *testing.T) {
	var points []route.Point
	for k := range 31 {
		points = append(points, route.Point{Point: at(3*float64(k), 0)})
	}
	p := make1(t, ride(lineWith(t, route.LineOptions{}, points)))
	if got := say(p).Answer()[0]; !strings.Contains(got, "too coarsely to trust") {
		t.Errorf("answer %q", got)
	}
}

// Riding back to a start without a pump is said to be just that.
func TestBackToAStartWithoutAPump(t *testing.T) {
	in := ride(straight(t, 300), pump("A", 90, 0), pump("B", 240, 0))
	p := make1(t, in)
	if !strings.Contains(say(p).Answer()[1], "From one stop only back to the start, where no pump is counted.") {
		t.Errorf("%q", say(p).Answer()[1])
	}
	in.Stops = append(in.Stops, pump("home", 0, 0))
	if p := make1(t, in); strings.Contains(say(p).Answer()[1], "no pump is counted") {
		t.Errorf("with a pump at home: %q", say(p).Answer()[1])
	}
}
