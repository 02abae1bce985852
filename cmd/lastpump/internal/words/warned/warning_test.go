package warned_test

import (
	"slices"
	"testing"
	"time"

	"lastpump/cmd/lastpump/internal/words/warned"
	"lastpump/fuel/plan"
	"lastpump/fuel/stop"
	"lastpump/octane"
	"lastpump/route"
)

// A said is a warning that a ride wants, in its words.
type said struct {
	name       string
	in         plan.Inputs
	kind       plan.Kind
	leg, visit int
	text       string
}

func wantSaid(t *testing.T, cases []said) {
	t.Helper()
	for _, c := range cases {
		p := make1(t, c.in)
		w := warningOf(t, p, c.kind)
		if text := say(p).Warning(w); text != c.text || w.Leg != c.leg || w.Visit != c.visit {
			t.Errorf("%s: leg %d, visit %d\n%s\nwant leg %d, visit %d\n%s", c.name, w.Leg, w.Visit, text, c.leg,
				c.visit, c.text)
		}
	}
}

// Litres needed are rounded up, those there are down; all figures follow from 5
// L/100 km, 10 L and the high figure's 0.05775 L/km.
func TestWordsOfLegs(t *testing.T) {
	wantSaid(t, []said{
		{"short", ride(straight(t, 300), pump("A", 249.9, 0)), plan.KindShort, 0, -1,
			"leg 1, the start to A: takes 12.5 L, there are 10.0 L: 2.5 L short, the last 50 km of 250 km"},
		// 190 km take 10.9725 L at the high figure.
		{"tight at the high figure", ride(straight(t, 190)), plan.KindTight, 0, -1,
			"leg 1, the start to the end: keeps its reserve, but at the high figure it takes 11.0 L and there are " +
				"10.0 L"},
		{"tight by the reserve", changed(ride(straight(t, 160)),
			func(in *plan.Inputs) { in.Options.Reserve.Share = 0.25 }), plan.KindTight, 0, -1,
			"leg 1, the start to the end: arrives with 2.0 L, the reserve is 2.5 L"},
		// 0.9725 L are the last 19.45 km at the likely rate.
		{"tight by both", changed(ride(straight(t, 190)), func(in *plan.Inputs) { in.Options.Reserve.Share = 0.15 }),
			plan.KindTight, 0, -1,
			"leg 1, the start to the end: arrives with 0.5 L, the reserve is 1.5 L; at the high figure it is dry 19 " +
				"km before the end"},
		// (5.5 × 95 + 5 × 80)/10.5 = 87.857
		{"below grade", ride(straight(t, 190), pump("A", 100, 0, ron(80))), plan.KindBelowGrade, 1, -1,
			"leg 2, A to the end: ridden on 87.8 RON, the engine needs 95 RON (low grade: A): it may knock"},
		{"below grade uphill", ride(lineThrough(t, rising(190, func(km float64) float64 {
			return max(0,
				10*(km-100))
		})), pump("A", 100, 0, ron(80))),
			plan.KindBelowGrade, 1, -1,
			"leg 2, A to the end: ridden on 87.8 RON, the engine needs 95 RON (low grade: A): it may knock, most on the 900 m " +
				"of climb"},
		// 87 AKI is 91 to 92 RON: (5.5 × 95 + 5 × 91)/10.5 = 93.095, with 92 it is 93.571.
		{"below grade from to", ride(straight(t, 190), pump("A", 100, 0, octane.FromAKI(87))), plan.KindBelowGrade, 1,
			-1,
			"leg 2, A to the end: ridden on 93.0 to 93.5 RON, the engine needs 95 RON (low grade: A): it may knock"},
		{"doubtful", ride(straight(t, 190), pump("A", 100, 0, octane.FromAKI(90))), plan.KindGradeNotKnown, 1, -1,
			"leg 2, A to the end: ridden on 94.5 to 95.0 RON, which may be under the 95 RON needed; listen for knocking " +
				"on climbs"},
		{"not known", ride(straight(t, 190), changedStop(pump("A", 100, 0), func(s *stop.Stop) { s.Grades = nil })),
			plan.KindGradeNotKnown, 1, 0,
			"A: the grade is not known; counted as 80 RON to 95 RON; so leg 2 may be under it, ridden on 87.8 to 95.0 RON; " +
				"ask, and take the best"},
	})
}

func TestWordsOfStops(t *testing.T) {
	day := func(s stop.Stop, year int) stop.Stop {
		s.Confirmed, s.HasConfirmed = time.Date(year, 6, 30, 0, 0, 0, 0, time.UTC), true
		return s
	}
	home := pump("home", 0, 0)
	wantSaid(t, []said{
		// 7.4 L to A leave 2.6; to B it is 5.4.
		{"stranded", ride(straight(t, 350), pump("A", 148, 0), pump("B", 256, 0)), plan.KindStranded, -1, 0,
			"if A is dry you are stranded: 2.8 L short of B, and more the other way"},
		{"stranded, back", ride(straight(t, 300), pump("A", 120, 0), pump("B", 280, 0)), plan.KindStranded, -1, 0,
			"if A is dry you are stranded: 2.0 L short of the start, and more the other way"},
		{"last fuel: the leg", ride(straight(t, 230), pump("A", 40, 0)), plan.KindLastFuel, -1, 0,
			"A is the last sure fuel, fill up: the leg to the end is TIGHT"},
		{"last fuel: back, and from a map", ride(straight(t, 252), home, standing(pump("A", 80, 0), stop.Map)),
			plan.KindLastFuel, -1, 0,
			"home is the last sure fuel, fill up: if A is dry you have to ride back to home; A is known only from a map; ring " +
				"or ask ahead"},
		{"last fuel: stranded", ride(straight(t, 290), home, pump("A", 120, 0)), plan.KindLastFuel, -1, 0,
			"home is the last sure fuel, fill up: if A is dry you are stranded"},
		{"bare", ride(straight(t, 190), pump("A", 95, 0)), plan.KindNote, -1, 0,
			"if A is dry, another is within reach on the likely figures, not if the bike is thirsty: up to 1.5 L short; be sure of " +
				"petrol there, or carry as much more"}, // 190 × 0.05775 − 10
		{"from a map", ride(straight(t, 90), standing(pump("A", 50, 0), stop.Map)), plan.KindStale, -1, 0,
			"known only from a map: A; any of them may be dry or gone: ring or ask before you need it"},
		{"from a map, confirmed", ride(straight(t, 90), day(standing(pump("A", 50, 0), stop.Map), 2026)),
			plan.KindStale, -1, 0,
			"known only from a map: A (confirmed 2026-06-30); any of them may be dry or gone: ring or ask before you need it"},
		{"over a year ago", ride(straight(t, 90), day(pump("A", 50, 0), 2025)), plan.KindStale, -1, 0,
			"not confirmed for over a year: A (confirmed 2025-06-30); any of them may be dry or gone: ring or ask before you " +
				"need it"},
		{"no stops", ride(straight(t, 90)), plan.KindNote, -1, -1,
			"no fuel stops are given: the whole ride is one leg; give a list with --stops"},
		{"no can is that big", ride(straight(t, 649), pump("A", 0, 0)), plan.KindNote, -1, -1, // 649 km × 0.05775 − 10
			"27.5 L of spare fuel would be needed: no can sold is that big, plan another stop"},
	})
	// Of one stop, passed twice, it is said once.
	p := make1(t, ride(lineOf(t, 0, 90, 0), standing(pump("A", 40, 0), stop.Map)))
	n := 0
	for _, w := range p.Warnings {
		if w.Kind == plan.KindStale {
			n++
		}
	}
	if n != 1 || len(p.Visits) != 2 {
		t.Errorf("%d times stale for %d visits", n, len(p.Visits))
	}
}

// The table of the stretch has 1.23 at 2 km and 1.28 at 5, at most 1.41 and 1.57:
// in the logarithm 3 km lies 0.4425 of the way, 1.252 and 1.481. 100 km of climb
// not known are 1500 m, 0.4774 L, and 1.10 of that in the high figure.
func TestWordsOfTheLine(t *testing.T) {
	coarse := newPen()
	for range 30 {
		coarse.Here = orbNorth(coarse.Here, 3)
		coarse.Dot()
	}
	bare := newPen().North(100).Points
	for i := range bare {
		bare[i].HasEle = false
	}
	far := newPen()
	far.Here, far.Points = at(120, 0), nil
	far.Dot().North(50)
	astray := newPen().North(100).Points
	astray[50].Point = at(50, 70)
	some := ride(straight(t, 100))
	some.Grounds.Sections = []route.Section{section(20, 32, route.Unknown)}
	wantSaid(t, []said{
		{"coarse", ride(lineWith(t, route.LineOptions{}, coarse.Points)), plan.KindCoarseLine, -1, -1,
			"the line is drawn too coarsely to trust: the ride is taken as 1.25 times as long, at the most 1.48 times; " +
				"draw it finer, or say --stretch"},
		{"gap", ride(lineThrough(t, newPen().North(100).Points, far.Points)), plan.KindGap, -1, -1,
			"a gap of 20 km at km 100: counted as ridden, 1.3 times as far as straight across: is a file missing? --gaps skip, " +
				"if it is a ferry"},
		{"ferry", ride(lineWith(t, route.LineOptions{Stretch: 1, Gaps: route.GapsSkip}, newPen().North(100).Points,
			far.Points)), plan.KindGap, -1, -1,
			"a gap of 20 km at km 100: not ridden and costs no fuel (a ferry: ask whether it takes a filled can)"},
		{"ground", some, plan.KindUnknownGround, -1, -1, "the ground is not known over 12 km: planned as dirt, unless --ground says more"},
		{"climb", ride(lineThrough(t, bare)), plan.KindUnknownClimb, -1, -1,
			"the climb is not known over 100 km: 0.3 L of the likely litres are for it, 0.1 L in the low and 0.6 L in the " +
				"high figures (8 m a kilometre, from 2 m a kilometre to 18 m a kilometre); heights from relief tiles: --relief DIR"},
		{"stray", changed(ride(lineThrough(t, astray), pump("A", 10, 0)), func(in *plan.Inputs) {}), plan.KindNote, -1,
			-1,
			"1 point at km 49 left out: stray, 70 km away from the rest"},
	})
	// Up to 100 m of unknown ground is where another program measured the end.
	some.Grounds.Sections = []route.Section{section(20, 20.1, route.Unknown)}
	for _, w := range make1(t, some).Warnings {
		if w.Kind == plan.KindUnknownGround {
			t.Error("100 m of unknown ground are warned of")
		}
	}
}

// orbNorth goes so many kilometres north.
func orbNorth(from [2]float64, km float64) [2]float64 {
	return [2]float64{from[0], from[1] + km/perDegree}
}

func TestDoubtfulWordOfAStop(t *testing.T) {
	shut, early := pump("shut", 50, 0), pump("early", 60, 0)
	shut.Hours = "off"
	early.Confirmed, early.HasConfirmed = time.Date(2027, 6, 1, 0, 0, 0, 0, time.UTC), true
	var got []string
	p := make1(t, ride(straight(t, 100), shut, early))
	for _, w := range p.Warnings {
		if w.Kind == plan.KindStale || w.Kind == plan.KindStops {
			got = append(got, say(p).Warning(w))
		}
	}
	want := []string{"confirmed after the day you leave, it says: early (confirmed 2027-06-01): is the date right?",
		"shut: closed, by the hours given: ring, or leave it out with --skip"}
	if !slices.Equal(got, want) {
		t.Errorf("%q, want %q", got, want)
	}
}

// A file that is cut off says so in the answer and among the warnings.
func TestACutFileIsSaid(t *testing.T) {
	in := ride(straight(t, 100))
	in.Cut = plan.Cut{Where: "loop.gpx:7:3: the file ends in the middle of <trkpt>", Kept: 100000, Last: true}
	p := make1(t, in)
	const answer = "The file is cut off: this is only the first 100 km of the ride. " +
		"Enough fuel, within your margin on these figures: the one leg is OK. No can is needed."
	if got := say(p).Answer()[0]; got != answer {
		t.Errorf("answer %q, want %q", got, answer)
	}
	const text = "loop.gpx:7:3: the file ends in the middle of <trkpt>: only the 100 km of line before that are kept " +
		"of the file; export it again"
	if got := say(p).Warning(warningOf(t, p, plan.KindGap)); got != text {
		t.Errorf("warning %q, want %q", got, text)
	}
}

// wantWarning checks that a plan has a warning, word for word.
func wantWarning(t *testing.T, p *plan.Plan, k plan.Kind, text string) {
	t.Helper()
	for _, w := range p.Warnings {
		if w.Kind == k && say(p).Warning(w) == text {
			return
		}
	}
	t.Errorf("no %s %q in %+v", k, text, p.Warnings)
}

// What a recorder may have drawn while it stood is told of: 1.2 km of points 40 m to
// and fro over 16 minutes, which is 30 steps of 40 m.
func TestSuspectHaltsAreSaid(t *testing.T) {
	var points []route.Point
	add := func(km float64, seconds int) {
		points = append(points, route.Point{Point: at(km, 0), HasEle: true, HasTime: true,
			Time: uint32(1780000000 + seconds)})
	}
	for k := range 51 {
		add(float64(k), 60*k)
	}
	for i := range 32 {
		add(50+0.04*float64(i%2), 3000+30*i)
	}
	for k := 51; k <= 100; k++ {
		add(float64(k), 4000+60*k)
	}
	p := make1(t, ride(lineThrough(t, points)))
	wantWarning(t, p, plan.KindNote, "1.2 km of line at km 50 (33 points within 40 m over 16 minutes) may be drawn "+
		"by a recorder that stood; planned as ridden")
}

// Heights that no ride has are not believed in silence.
func TestImpossibleHeightsAreSaid(t *testing.T) {
	saw := func(height float64) []route.Point {
		return rising(100, func(km float64) float64 { return height * float64(int(km)%2) })
	}
	p := make1(t, ride(lineThrough(t, saw(320)))) // up 320 m every other kilometre
	wantWarning(t, p, plan.KindUnknownClimb,
		"the heights climb 160 m a kilometre: they cannot be right; take them from elsewhere (--relief DIR --heights "+
			"relief)")
	p = make1(t, ride(lineThrough(t, saw(280))))
	for _, w := range p.Warnings {
		if w.Kind == plan.KindUnknownClimb {
			t.Errorf("140 m a kilometre: %q", say(p).Warning(w))
		}
	}
}

func TestWordsOfSeveralLegs(t *testing.T) {
	for want, legs := range map[string][]int{
		"leg 3": {2}, "legs 3 and 4": {2, 3}, "legs 3 to 9": {2, 3, 4, 5, 6, 7, 8},
		"legs 1, 3 and 7 to 9": {0, 2, 6, 7, 8}, "legs 1 to 3 and 5": {0, 1, 2, 4},
	} {
		if got := warned.Legs(legs); got != want {
			t.Errorf("%q, want %q", got, want)
		}
	}
	// 5.5 × 95 and 5 × 90 make 92.6 in 10.5 L; 6.5 of that and 4 × 90 make 91.6, 4 × 98 then 94.0.
	wantSaid(t, []said{
		{"in a row", ride(straight(t, 340), pump("low", 100, 0, ron(90)), pump("lower", 180, 0, ron(90)), pump("good", 260, 0,
			ron(98))), plan.KindBelowGrade, 2, -1,
			"legs 2 to 4, low to the end: ridden on 91.6 RON at worst (leg 3), the engine needs 95 RON (low grade: low, " +
				"lower): it may knock"},
		{"doubtful", ride(straight(t, 280), pump("A", 100, 0, octane.FromAKI(90)), pump("B", 200, 0, octane.FromAKI(90))),
			plan.KindGradeNotKnown, 2, -1, // (5.5 × 94.52 + 5 × 94)/10.5 = 94.27
			"legs 2 and 3, A to the end: ridden on 94.2 to 95.0 RON at worst (leg 3), which may be under the 95 RON needed; " +
				"listen for knocking on climbs"},
	})
}

// A cure of legs in a row says which of them it mends: 2.5 L are kept, so past N to W, and no farther.
func TestWordsOfACureOfSomeLegs(t *testing.T) {
	in := changed(ride(straight(t, 265), pump("N", 50, 0, ron(80)), pump("W", 150, 0, ron(80)), pump("G", 165, 0)), keep(0.25))
	p := make1(t, from(in, 10, 10))
	w := warningOf(t, p, plan.KindBelowGrade)
	cureWith(t, p, w, "do not fill at N: the petrol in the tank lasts (mends 1 of 3 legs: 2)")
	// (8.5 × 95 + 2 × 80)/10.5 = 92.14 from N on; (5.5 × 92.14 + 5 × 80)/10.5 = 86.36 from W on, shown as 86.3
	const want = "no cure found for leg 3, the worst: the tank is up to 8.7 RON under the need; tried: filling at fewer pumps, " +
		"taking less of the low grade, good petrol in a can"
	if got := say(p).NoCure(w); got != want {
		t.Errorf("%q, want %q", got, want)
	}
	p = make1(t, ride(straight(t, 165), pump("N", 40, 0, ron(80)), pump("W", 100, 0, ron(80)), pump("G", 150, 0)))
	cureWith(t, p, warningOf(t, p, plan.KindBelowGrade), "do not fill at N, W: the petrol in the tank lasts (mends all 3 legs)")
}

func TestWordsOfSeveralStops(t *testing.T) {
	day := func(s stop.Stop, year int) stop.Stop {
		s.Confirmed, s.HasConfirmed = time.Date(year, 6, 30, 0, 0, 0, 0, time.UTC), true
		return s
	}
	onMap := func(name string, km float64) stop.Stop { return standing(pump(name, km, 0), stop.Map) }
	wantSaid(t, []said{
		{"last fuel", ride(straight(t, 200), day(pump("A", 40, 0), 2026), onMap("x", 80), day(pump("B", 120, 0), 2026),
			onMap("y", 160)), plan.KindLastFuel, -1, 0,
			"A and B are each the last sure fuel for a while, fill up: nobody has confirmed x and y within a year; ring or " +
				"ask ahead"},
		{"unsure too", ride(straight(t, 160), onMap("x", 40), onMap("y", 80), onMap("z", 120)), plan.KindLastFuel, -1, 0,
			"x and y: fill up, nobody is sure of these pumps, nor of what follows each"},
		{"not confirmed", ride(straight(t, 160), onMap("x", 40), day(pump("old", 80, 0), 2024), day(onMap("z", 120), 2026)),
			plan.KindStale, -1, 0,
			"known only from a map: x, z (confirmed 2026-06-30); not confirmed for over a year: old (confirmed 2024-06-30); " +
				"any of them may be dry or gone: ring or ask before you need it"},
	})
}

func TestWordsOfSeveralGaps(t *testing.T) {
	var parts [][]route.Point
	for _, from := range []float64{0, 70, 125} { // 50 km each, with 20 and 5 km between
		part := newPen()
		part.Here, part.Points = at(from, 0), nil
		parts = append(parts, part.Dot().North(50).Points)
	}
	wantSaid(t, []said{{"two gaps", ride(lineThrough(t, parts...)), plan.KindGap, -1, -1,
		"2 gaps of 25 km in all (20 km at km 50, 5.0 km at km 120): counted as ridden, 1.3 times as far as straight across: " +
			"is a file missing? --gaps skip, if it is a ferry"}})
}
