package warned_test

import (
	"math"
	"slices"
	"strconv"
	"strings"
	"testing"

	"lastpump/fuel/plan"
	"lastpump/fuel/stop"
	"lastpump/route"

	"github.com/paulmach/orb"
)

// A cured is a ride with a complaint, and a cure of it in words.
type cured struct {
	name          string
	in            plan.Inputs
	kind          plan.Kind
	text, verdict string
}

func wantCures(t *testing.T, cases []cured) {
	t.Helper()
	for _, c := range cases {
		p := make1(t, c.in)
		if cure, said := cureWith(t, p, warningOf(t, p, c.kind), c.text); cure.Verdict != c.verdict {
			t.Errorf("%s: %s → %s, want %s", c.name, said, cure.Verdict, c.verdict)
		}
	}
}

func TestCuresOfATightLeg(t *testing.T) {
	wantCures(t, []cured{
		{"set out full", changed(changed(ride(straight(t, 100)), startWith(6)), keep(0.15)), plan.KindTight,
			"set out full: 4.0 L more in the tank", "OK"},
		{"since a fill", changed(ride(straight(t, 150)), func(in *plan.Inputs) { in.Options.SinceFill = 40000 }),
			plan.KindTight,
			"set out full: 2.0 L more in the tank", "OK"},
		{"hearsay", ride(straight(t, 190), hearsay("H", 95)), plan.KindTight,
			"fill at H, km 95, if it is confirmed to sell petrol (hearsay now)", "OK"},
		{"only from a map", changed(ride(straight(t, 190), standing(pump("M", 95, 0), stop.Map)),
			func(in *plan.Inputs) { in.Options.Trust = stop.Phoned }),
			plan.KindTight, "fill at M, km 95, if it is confirmed to sell petrol (map now)", "OK"},
		// 190 × 0.05775 − 10 L; all of the can fits where 1 L has been used at the low figure
		{"can", ride(straight(t, 190)), plan.KindTight,
			"a 1 L can with at least 1.0 L in it, filled at the start; all 1.0 L in the can fit from trip " +
				"24 km on; pour them by 155", "OK"},
		{"off the line", ride(straight(t, 190), pump("B", 95, 3), pump("on", 1, 0)), plan.KindTight,
			"fill at B, 3.0 km off the line at km 95", "OK"},
	})
}

func TestCuresOfAShortLeg(t *testing.T) {
	wantCures(t, []cured{
		{"set out full", changed(ride(straight(t, 100)), startWith(2)), plan.KindShort,
			"set out full: 8.0 L more in the tank", "OK"},
		{"set out full, TIGHT then", changed(ride(straight(t, 180)), startWith(2)), plan.KindShort,
			"set out full: 8.0 L more in the tank", "TIGHT"},
		{"hearsay", ride(straight(t, 250), hearsay("H", 125)), plan.KindShort, "fill at H, km 125", "OK"},
		{"can", ride(straight(t, 250)), plan.KindShort, "a 5 L can with at least 4.5 L", "OK"}, // 14.4375 − 10
		{"a larger can than the bike's", changed(ride(straight(t, 250)), func(in *plan.Inputs) { in.Bike.Can = 2 }),
			plan.KindShort, "a 5 L can", "OK"},
		{"off the line", ride(straight(t, 250), pump("B", 125, 12), pump("on", 1, 0)), plan.KindShort,
			"fill at B, 12 km off the line at km 125", "OK"},
	})
}

// A at 150 km leaves 2.5 L; B, 109 km on, takes 5.45, back takes 7.5. H at 75 km
// has A reached with 6.25 L.
func TestCuresOfAStrandingPump(t *testing.T) {
	a, b := pump("A", 150, 0), pump("B", 259, 0)
	wantCures(t, []cured{
		{"set out full", changed(ride(straight(t, 300), pump("A", 80, 0), pump("B", 190, 0)), startWith(5)),
			plan.KindStranded,
			"set out full: 5.0 L more in the tank", "on"},
		{"hearsay", ride(straight(t, 350), a, b, hearsay("H", 75)), plan.KindStranded, "fill at H, km 75", "on"},
		{"can", ride(straight(t, 350), a, b), plan.KindStranded,
			"a 7.5 L can with at least 5.7 L in it, filled at the start; of 7.5 L in the can pour what fits by trip " +
				"155 km, the rest later", "on"}, // 259 × 0.05 × 1.155^1.3 − 10 = 5.618
		{"off the line", ride(straight(t, 350), a, b, pump("O", 75, 5)), plan.KindStranded,
			"fill at O, 5.0 km off the line at km 75", "on"},
	})
}

// What cures a low grade is better petrol in the same place, or the petrol in the
// tank lasting past it.
func TestCuresOfALowGrade(t *testing.T) {
	low, good := pump("low", 150, 0, ron(80)), pump("good", 300, 0)
	wantCures(t, []cured{
		{"pass by", ride(straight(t, 150), pump("low", 50, 0, ron(80)), pump("good", 100, 0)), plan.KindBelowGrade,
			"do not fill at low: the petrol in the tank lasts", "meets"},
		{"pass by two", ride(straight(t, 160), pump("low", 40, 0, ron(80)), pump("lower", 80, 0, ron(80)), pump("good",
			120, 0)), plan.KindBelowGrade,
			"do not fill at low", "meets"},
		{"hearsay", ride(straight(t, 330), low, good, hearsay("H", 151)), plan.KindBelowGrade, "fill at H, km 151",
			"meets"},
		{"off the line", ride(straight(t, 330), low, good, pump("O", 151, 3)), plan.KindBelowGrade,
			"fill at O, 3.0 km off the line at km 151", "meets"},
	})
}

// Where nothing cures, what is missing is said.
func TestNothingCures(t *testing.T) {
	for _, c := range []struct {
		in   plan.Inputs
		kind plan.Kind
		want string
	}{
		{ride(straight(t, 700)), plan.KindShort, "no cure found: 25.0 L or 500 km are missing to arrive; tried: a can, the other way round"},
		// 60 L usable; 1080 km take 54, half a tank is kept: 24 L are missing.
		{changed(changed(ride(straight(t, 1080)), keep(0.5)), tank(60)), plan.KindTight,
			"no cure found: 24.0 L or 480 km are missing to keep the reserve; tried: riding slower, a " +
				"can, the other way round"},
		// 400 km leave −10 L; the next takes 20 more, back as much.
		{ride(straight(t, 900), pump("A", 399.9, 0), pump("B", 790, 0)), plan.KindStranded,
			"no cure found: 29.5 L or 590 km are missing to reach the next or the last stop if it is dry; tried: " +
				"a can, the other way round"},
		// 165 km use 8.25 L: (2.25 × 95 + 8.25 × 80)/10.5 = 83.21; it is the same from either end
		{changed(ride(straight(t, 330), pump("low", 165, 0, ron(80))), fullOfIt), plan.KindBelowGrade,
			"no cure found: the tank is up to 11.8 RON under the need; tried: filling at fewer pumps, the other way round"},
	} {
		p := make1(t, c.in)
		w := warningOf(t, p, c.kind)
		if got := say(p).NoCure(w); len(w.Cures) != 0 || got != c.want {
			t.Errorf("%s: %+v\n%s\nwant\n%s", say(p).Warning(w), w.Cures, got, c.want)
		}
	}
}

// With a can of its own the bike lacks less: what is missing is what is missing
// with it, as the warning says.
func TestNothingCuresWithACan(t *testing.T) {
	for _, c := range []struct {
		in         plan.Inputs
		kind       plan.Kind
		text, want string
	}{
		{changed(ride(straight(t, 700)), ownCan(3)), plan.KindShort, "22.0 L short",
			"no cure found: 22.0 L or 440 km are missing to arrive; tried: a can, the other way round"},
		// 65 L with the can; 1200 km take 60, 30 are kept: 25 are missing.
		{changed(changed(changed(ride(straight(t, 1200)), keep(0.5)), tank(60)), ownCan(5)), plan.KindTight,
			"arrives with 5.0 L, the reserve is 30.0 L",
			"no cure found: 25.0 L or 500 km are missing to keep the reserve; tried: riding slower, a " +
				"can, the other way round"},
		{changed(ride(straight(t, 900), pump("A", 399.9, 0), pump("B", 790, 0)), ownCan(3)), plan.KindStranded,
			"26.5 L short of B",
			"no cure found: 26.5 L or 530 km are missing to reach the next or the last stop if it is dry; tried: " +
				"a can, the other way round"},
	} {
		p := make1(t, c.in)
		w := warningOf(t, p, c.kind)
		if text, got := say(p).Warning(w), say(p).NoCure(w); !strings.Contains(text, c.text) || got != c.want {
			t.Errorf("%s\n%s\nwant\n%s", text, got, c.want)
		}
	}
}

// A larger can, a stop that is confirmed and one off the line, all of one leg; and what a
// cure makes worse.
func TestCuresOfOneLeg(t *testing.T) {
	in := ride(straight(t, 210), hearsay("said", 100), pump("beside", 110, 12), pump("too far", 110, 31))
	p := make1(t, in)
	w := warningOf(t, p, plan.KindShort)
	for _, text := range []string{"a 3 L can with at least 2.2 L", "fill at said, km 100, if it is confirmed",
		"fill at beside, 12 km off the line at km 110"} {
		cureWith(t, p, w, text)
	}
	p = make1(t, changed(ride(straight(t, 100), pump("A", 90, 0)), startWith(2)))
	cureWith(t, p, warningOf(t, p, plan.KindShort), "set out full: 8.0 L more in the tank")
	// 8.5 L of 97 and 2 of 90 make 95.7; with 3 L of 90 poured over the 7.4 L left
	// of it after 63 km it is 94.0.
	in = ride(straight(t, 270), pump("home", 0, 0, ron(90)), pump("low", 40, 0, ron(90)), pump("end", 260, 0))
	in.Options.StartGrade = ron(97)
	p = make1(t, in)
	if _, said := cureWith(t, p, warningOf(t, p, plan.KindShort), "can with at least"); !strings.Contains(said,
		"(but 1 leg more below grade)") {
		t.Errorf("cure %q", said)
	}
}

// Off the line every stop that cures is listed, the nearest first; one that nobody has
// seen takes to be confirmed.
func TestStopsOffTheLine(t *testing.T) {
	in := ride(straight(t, 250), pump("on", 1, 0))
	for i, off := range []float64{14, 8, 12, 10, 29.9} {
		in.Stops = append(in.Stops, pump("B"+strconv.Itoa(i), 125, off))
	}
	wantDetours(t, in,
		"fill at B1, 8.0 km off the line at km 125", "fill at B3, 10 km off the line at km 125",
		"fill at B2, 12 km off the line at km 125",
		"fill at B0, 14 km off the line at km 125", "fill at B4, 30 km off the line at km 125")
	said := standing(pump("said", 125, 9), stop.Hearsay)
	wantDetours(t, ride(straight(t, 250), pump("on", 1, 0), said),
		"fill at said, 9.0 km off the line at km 125, if it is confirmed to sell petrol (hearsay now)")
}

func wantDetours(t *testing.T, in plan.Inputs, want ...string) {
	t.Helper()
	p := make1(t, in)
	w := warningOf(t, p, plan.KindShort)
	var got []string
	for _, c := range w.Cures {
		if c.HasDetour {
			got = append(got, say(p).Cure(w, c))
		}
	}
	if !slices.Equal(got, want) {
		t.Errorf("cures %q, want %q", got, want)
	}
}

// 60 km leave 7 L of 95; 150 km on take 7.5, with the reserve of 1.5 L 9: 2 L are the
// least. 9.5 × 94.9 is to be in the tank; 7.5 × 95 + 2 × 80 + c × 18 = 901.55 gives
// c = 1.6139 L of 98. And 100 km leave 5 L of 95; 60 km on take 3, with half a tank kept 8.
func TestCuresByLowGrade(t *testing.T) {
	in := ride(straight(t, 260), pump("good", 0.1, 0, ron(95), ron(98)), pump("low", 60, 0, ron(80)), pump("next", 210,
		0))
	in.Options.Reserve.Share = 0.15
	wantCures(t, []cured{
		{"lift", in, plan.KindBelowGrade, "a 2 L can with at least 1.7 L of 98 RON from good: pour 1.7 L at low, with " +
			"only 0.4 L of 80 RON", "meets"},
		{"less", changed(ride(straight(t, 230), pump("low", 100, 0, ron(93.7)), pump("good", 160, 0), pump("next", 220,
			0)), keep(0.5)), plan.KindBelowGrade,
			"take only 3.0 L of 93.7 RON at low: that reaches good with the reserve untouched", "doubtful"},
	})
}

// A closed ring of 240 km that begins at a place without a pump, with A at 110 and B at
// 190 km: begun at A, it holds.
func TestCureByBeginningElsewhere(t *testing.T) {
	place := func(km float64) orb.Point {
		a, r := 2*math.Pi*km/240, 240/(2*math.Pi)
		return at(r*math.Sin(a), r*(1-math.Cos(a)))
	}
	var points []route.Point
	for i := range 241 {
		points = append(points, route.Point{Point: place(float64(i % 240)), HasEle: true})
	}
	a, b := pump("A", 0, 0), pump("B", 0, 0)
	a.At, b.At = place(110), place(190)
	wantCures(t, []cured{{"begin", changed(ride(lineThrough(t, points), a, b), startWith(5)), plan.KindShort,
		`begin the loop at A, full (--begin-at "A")`, "OK"}})
}

// On sand the low and the high figure lie far apart: 1.18 against 2.8 times
// 5 L/100 km. All of a 7.5 L can fits after 7.5/0.059 = 127 km, when a thirsty
// bike has been dry since 10/0.14 = 71.4: it is never told to wait for that.
func TestACanOnSandIsPouredInTwo(t *testing.T) {
	in := ride(straight(t, 110))
	in.Grounds.Default = route.Sand
	p := make1(t, in)
	want := "of 7.5 L in the can pour what fits by trip 64 km, the rest later" // 9/0.14 = 64.3, by the high weight
	if got := say(p).Pouring(p.Can.Uses[0]); got != want {
		t.Errorf("%q, want %q", got, want)
	}
	for _, w := range p.Warnings {
		for _, c := range w.Cures {
			if text := say(p).Cure(w, c); strings.Contains(text, " can ") && !strings.HasSuffix(text, want) {
				t.Errorf("cure %q, want %q", text, want)
			}
		}
	}
	if len(warningOf(t, p, plan.KindTight).Cures) == 0 {
		t.Error("no can among the cures")
	}
}

func TestWordsOfLending(t *testing.T) {
	in := ride(straight(t, 230))
	small, large := called("small", 10), called("large", 21)
	large.Needs = ron(91)
	p := makeGroup(t, in, small, large)
	_, said := cureWith(t, p, warningOf(t, p, plan.KindShort),
		"borrow 3.3 L from large on this leg; both still arrive with the reserve")
	if !strings.Contains(said, "(but it is 91.0 RON, which for 95 RON is below)") {
		t.Errorf("cure %q", said)
	}
	// The lender of 3.5 L of 21 reaches A with 9.5 and gets on to B, 130 km or 6.5 L,
	// with 3 to spare: not any more.
	in = changed(ride(straight(t, 400), pump("A", 230, 0), pump("B", 360, 0)), keep(0.2))
	p = makeGroup(t, in, called("small", 10), called("large", 21))
	w := warningOf(t, p, plan.KindShort)
	cureWith(t, p, w, "borrow 3.5 L from large on this leg; both still arrive with the reserve (but if A is dry, "+
		"large no longer gets on to B)")
	if got := say(p).NoCure(w); got != "" {
		t.Errorf("a cure, and %q", got)
	}
	in.Stops[1].At = at(340, 0) // 5.5 L: 4 to spare
	p = makeGroup(t, in, called("small", 10), called("large", 21))
	if _, said := cureWith(t, p, warningOf(t, p, plan.KindShort), "borrow"); strings.Contains(said, "but") {
		t.Errorf("cure %q", said)
	}
}
