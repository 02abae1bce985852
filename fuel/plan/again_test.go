package plan_test

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"
	"testing"

	"lastpump/fuel"
	"lastpump/fuel/plan"
	"lastpump/fuel/stop"
	"lastpump/octane"

	"pgregory.net/rapid"
)

// apply makes the change that a cure prints, through the inputs. It is false for a
// stop off the line: what only a wider corridor brings in may bring others, too.
func apply(t rapid.TB, in plan.Inputs, c plan.Cure) (plan.Inputs, bool) {
	t.Helper()
	words := strings.TrimPrefix(c.Text, "fill at ")
	switch {
	case strings.HasPrefix(c.Text, "set out full: "):
		in.Options.HasStartFuel, in.Options.StartFuel, in.Options.SinceFill = false, 0, 0
	case c.HasRate:
		var planned float64
		if _, err := fmt.Sscanf(c.Text[strings.Index(c.Text, "("):], "(%f", &planned); err != nil {
			t.Fatalf("cure %q: %v", c.Text, err)
		}
		in.Options.Thirst *= float64(c.Rate) / float64(c.Planned)
		if math.Abs(planned-float64(c.Planned)) > 0.005 {
			t.Errorf("cure %q: planned %v", c.Text, c.Planned)
		}
	case strings.Contains(c.Text, "--reverse") || strings.Contains(c.Text, "--begin-at"), // see TestTheOtherWayRound
		strings.HasPrefix(c.Text, "take "), strings.Contains(c.Text, ": pour "): // see TestLeast
		return in, false
	case strings.HasPrefix(c.Text, "do not fill at "):
		stops, _, _ := strings.Cut(strings.TrimPrefix(c.Text, "do not fill at "), ":")
		in.Options.Skip = append(slices.Clone(in.Options.Skip), strings.Split(stops, ", ")...)
	case strings.Contains(c.Text, " L can with at least "):
		size, _, _ := strings.Cut(strings.TrimPrefix(c.Text, "a "), " ")
		l, err := strconv.ParseFloat(size, 64)
		if err != nil {
			t.Fatalf("cure %q: %v", c.Text, err)
		}
		in.Bike.Can = fuel.Litres(l)
	case strings.Contains(words, " off the line at "):
		return in, false
	case words != c.Text:
		name, _, _ := strings.Cut(words, ",")
		i := slices.IndexFunc(in.Stops, func(s stop.Stop) bool { return s.Name == name })
		in.Stops = slices.Clone(in.Stops)
		in.Stops[i].Standing = stop.Phoned
	default:
		t.Fatalf("unknown cure %q", c.Text)
	}
	return in, true
}

// outcomeOn gives the verdict that a plan has on the stretch of line that a warning
// of another is about: the worst of its legs, of their mixtures, or what happens if
// the place is dry.
func outcomeOn(p, before *plan.Plan, w plan.Warning) string {
	if w.Kind == plan.KindStranded {
		return dryOn(p, before.Visits[w.Visit])
	}
	sick := before.Legs[w.Leg]
	worst, mixture := plan.OK, octane.Meets
	order := []plan.Verdict{plan.OK, plan.Tight, plan.Short}
	for _, l := range p.Legs {
		if l.ToAt <= sick.FromAt || l.FromAt >= sick.ToAt {
			continue
		}
		worst = order[max(slices.Index(order, worst), slices.Index(order, l.Verdict))]
		if l.Mixture.Verdict.Rank() > mixture.Rank() {
			mixture = l.Mixture.Verdict
		}
	}
	if w.Kind == plan.KindBelowGrade {
		return string(mixture)
	}
	return string(worst)
}

func dryOn(p *plan.Plan, sick plan.Visit) string {
	for _, v := range p.Visits {
		if v.Stop.Name == sick.Stop.Name && near(float64(v.At), float64(sick.At)) && v.IfDry != nil {
			return string(v.IfDry.Outcome)
		}
	}
	return "no visit"
}

// wantCures applies each cure of a plan again and wants what it says.
func wantCures(t rapid.TB, in plan.Inputs, p *plan.Plan) {
	t.Helper()
	for _, w := range p.Warnings {
		for _, c := range w.Cures {
			with, ok := apply(t, in, c)
			if !ok {
				continue
			}
			again, err := plan.Make(with)
			if err != nil {
				t.Fatalf("%s, cure %q: %v", w.Text, c.Text, err)
			}
			if got := outcomeOn(again, p, w); got != c.Verdict {
				t.Errorf("%s\ncure: %s\ngives %s, said %s", w.Text, c.Text, got, c.Verdict)
			}
		}
	}
}

// A remedy is a ride with a complaint, and a cure that works on it.
type remedy struct {
	name          string
	in            plan.Inputs
	kind          plan.Kind
	text, verdict string
}

func wantRemedies(t *testing.T, cases []remedy) {
	t.Helper()
	for _, c := range cases {
		p := make1(t, c.in)
		w := warningOf(t, p, c.kind)
		cure := cureWith(t, w, c.text)
		if cure.Verdict != c.verdict {
			t.Errorf("%s: %+v, want %s", c.name, cure, c.verdict)
		}
		wantCures(t, c.in, p)
		if strings.Contains(c.text, "off the line") { // the only stop out there
			in := c.in
			in.Options.Corridor = 20000
			if got := outcomeOn(make1(t, in), p, w); got != c.verdict {
				t.Errorf("%s: with a wider corridor %s, want %s", c.name, got, c.verdict)
			}
		}
	}
}

func startWith(l fuel.Litres) func(in *plan.Inputs) {
	return func(in *plan.Inputs) { in.Options.HasStartFuel, in.Options.StartFuel = true, l }
}

func keep(share float64) func(in *plan.Inputs) {
	return func(in *plan.Inputs) { in.Options.Reserve.Share = share }
}

func hearsay(name string, km float64, grades ...octane.Grade) stop.Stop {
	return standing(pump(name, km, 0, grades...), stop.Hearsay)
}

func TestRemediesOfATightLeg(t *testing.T) {
	wantRemedies(t, []remedy{
		{"set out full", changed(changed(ride(straight(t, 100)), startWith(6)), keep(0.15)), plan.KindTight,
			"set out full: 4.0 L more in the tank", "OK"},
		{"since a fill", changed(ride(straight(t, 150)), func(in *plan.Inputs) { in.Options.SinceFill = 40000 }), plan.KindTight,
			"set out full: 2.0 L more in the tank", "OK"},
		{"hearsay", ride(straight(t, 190), hearsay("H", 95)), plan.KindTight, "fill at H, km 95, if it is confirmed to sell petrol (hearsay now)", "OK"},
		{"only from a map", changed(ride(straight(t, 190), standing(pump("M", 95, 0), stop.Map)), func(in *plan.Inputs) { in.Options.Trust = stop.Phoned }),
			plan.KindTight, "fill at M, km 95, if it is confirmed to sell petrol (map now)", "OK"},
		// 190 × 0.05775 − 10 L; poured where 0.9725 L have been used at the low figure
		{"can", ride(straight(t, 190)), plan.KindTight, "a 1 L can with at least 1.0 L in it, filled at the start; a full 1 L can fits from trip 24 km on; pour it by 155", "OK"},
		{"off the line", ride(straight(t, 190), pump("B", 95, 3), pump("on", 1, 0)), plan.KindTight, "fill at B, 3.0 km off the line at km 95", "OK"},
	})
}

func TestRemediesOfAShortLeg(t *testing.T) {
	wantRemedies(t, []remedy{
		{"set out full", changed(ride(straight(t, 100)), startWith(2)), plan.KindShort, "set out full: 8.0 L more in the tank", "OK"},
		{"set out full, TIGHT then", changed(ride(straight(t, 180)), startWith(2)), plan.KindShort, "set out full: 8.0 L more in the tank", "TIGHT"},
		{"hearsay", ride(straight(t, 250), hearsay("H", 125)), plan.KindShort, "fill at H, km 125", "OK"},
		{"can", ride(straight(t, 250)), plan.KindShort, "a 5 L can with at least 4.5 L", "OK"}, // 14.4375 − 10
		{"a larger can than the bike's", changed(ride(straight(t, 250)), func(in *plan.Inputs) { in.Bike.Can = 2 }), plan.KindShort, "a 5 L can", "OK"},
		{"off the line", ride(straight(t, 250), pump("B", 125, 12), pump("on", 1, 0)), plan.KindShort, "fill at B, 12 km off the line at km 125", "OK"},
	})
}

// A at 150 km leaves 2.5 L; B, 109 km on, takes 5.45, back takes 7.5. H at 75 km
// has A reached with 6.25 L.
func TestRemediesOfAStrandingPump(t *testing.T) {
	a, b := pump("A", 150, 0), pump("B", 259, 0)
	wantRemedies(t, []remedy{
		{"set out full", changed(ride(straight(t, 300), pump("A", 80, 0), pump("B", 190, 0)), startWith(5)), plan.KindStranded,
			"set out full: 5.0 L more in the tank", "on"},
		{"hearsay", ride(straight(t, 350), a, b, hearsay("H", 75)), plan.KindStranded, "fill at H, km 75", "on"},
		{"can", ride(straight(t, 350), a, b), plan.KindStranded, "a 3 L can with at least 3.0 L in it, filled at the start; a full 3 L can fits from trip 71 km on; pour it by 155", "on"},
		{"off the line", ride(straight(t, 350), a, b, pump("O", 75, 5)), plan.KindStranded, "fill at O, 5.0 km off the line at km 75", "on"},
	})
}

// What cures a low grade is better petrol in the same place, or the petrol in the
// tank lasting past it.
func TestRemediesOfALowGrade(t *testing.T) {
	low, good := pump("low", 150, 0, ron(80)), pump("good", 300, 0)
	wantRemedies(t, []remedy{
		{"pass by", ride(straight(t, 150), pump("low", 50, 0, ron(80)), pump("good", 100, 0)), plan.KindBelowGrade,
			"do not fill at low: the petrol in the tank lasts", "meets"},
		{"pass by two", ride(straight(t, 160), pump("low", 40, 0, ron(80)), pump("lower", 80, 0, ron(80)), pump("good", 120, 0)), plan.KindBelowGrade,
			"do not fill at low", "meets"},
		{"hearsay", ride(straight(t, 330), low, good, hearsay("H", 151)), plan.KindBelowGrade, "fill at H, km 151", "meets"},
		{"off the line", ride(straight(t, 330), low, good, pump("O", 151, 3)), plan.KindBelowGrade, "fill at O, 3.0 km off the line at km 151", "meets"},
	})
}

// Where nothing cures, what is missing is said.
func TestNothingCures(t *testing.T) {
	for _, c := range []struct {
		in   plan.Inputs
		kind plan.Kind
		want string
	}{
		{ride(straight(t, 700)), plan.KindShort, "no cure found: 25.0 L or 500 km are missing to arrive"},
		// 60 L usable; 1080 km take 54, half a tank is kept: 24 L are missing.
		{changed(changed(ride(straight(t, 1080)), keep(0.5)), tank(60)), plan.KindTight,
			"no cure found: 24.0 L or 480 km are missing to keep the reserve"},
		// 400 km leave −10 L; the next takes 20 more, back as much.
		{ride(straight(t, 900), pump("A", 399.9, 0), pump("B", 790, 0)), plan.KindStranded,
			"no cure found: 29.5 L or 590 km are missing to reach the next or the last stop if it is dry"},
		// 165 km use 8.25 L: (2.25 × 95 + 8.25 × 80)/10.5 = 83.21; it is the same from either end
		{changed(ride(straight(t, 330), pump("low", 165, 0, ron(80))), fullOfIt), plan.KindBelowGrade,
			"no cure found: the tank is up to 11.8 RON under the need"},
	} {
		w := warningOf(t, make1(t, c.in), c.kind)
		if len(w.Cures) != 0 || w.NoCure != c.want {
			t.Errorf("%s: %+v\n%s\nwant\n%s", w.Text, w.Cures, w.NoCure, c.want)
		}
	}
}

// fullOfIt leaves out what is said of taking less of a low grade.
func fullOfIt(in *plan.Inputs) { in.Options.LowGrade = plan.LowGradeFull }

func tank(usable fuel.Litres) func(in *plan.Inputs) {
	return func(in *plan.Inputs) { in.Bike.Tank = usable + in.Bike.Unusable }
}

// With a can of its own the bike lacks less: what is missing is what is missing
// with it, as the warning says.
func TestNothingCuresWithACan(t *testing.T) {
	for _, c := range []struct {
		in         plan.Inputs
		kind       plan.Kind
		text, want string
	}{
		{changed(ride(straight(t, 700)), ownCan(3)), plan.KindShort, "22.0 L short", "no cure found: 22.0 L or 440 km are missing to arrive"},
		// 65 L with the can; 1200 km take 60, 30 are kept: 25 are missing.
		{changed(changed(changed(ride(straight(t, 1200)), keep(0.5)), tank(60)), ownCan(5)), plan.KindTight, "arrives with 5.0 L, the reserve is 30.0 L",
			"no cure found: 25.0 L or 500 km are missing to keep the reserve"},
		{changed(ride(straight(t, 900), pump("A", 399.9, 0), pump("B", 790, 0)), ownCan(3)), plan.KindStranded, "26.5 L short of B",
			"no cure found: 26.5 L or 530 km are missing to reach the next or the last stop if it is dry"},
	} {
		w := warningOf(t, make1(t, c.in), c.kind)
		if !strings.Contains(w.Text, c.text) || w.NoCure != c.want {
			t.Errorf("%s\n%s\nwant\n%s", w.Text, w.NoCure, c.want)
		}
	}
}

func ownCan(l fuel.Litres) func(in *plan.Inputs) { return func(in *plan.Inputs) { in.Bike.Can = l } }
