package words_test

import (
	"slices"
	"strings"
	"testing"

	"lastpump/cmd/lastpump/internal/words/warned"
	"lastpump/fuel"
	"lastpump/fuel/leg"
	"lastpump/fuel/plan"
	"lastpump/octane"
	"lastpump/route"
)

// A bike that shows 105 where 100 are ridden has used 7 L where 4.97 were expected, 15.5 % of it on
// sand. On a maker's figure V is 0.12² + (0.155 × 0.2435)² = 0.0158, R is 0.07² + 2 × 0.3² ÷ 7² = 0.0086
// and v is 0.344: it counts for w = 0.565, and the thirst becomes e^0.160.
func TestWordsFromHere(t *testing.T) {
	in := ride(straight(t, 300), pump("A", 100, 1), pump("B", 200, 0))
	in.Bike.Odometer, in.Bike.Learnt = 1.05, nil
	in.Grounds.Sections = []route.Section{section(0, 90, route.Sand)}
	in.Options.Reserve = leg.Reserve{Share: 0.2, Distance: 30000}
	in.Options.Thirst = 1.1
	got := say(make1(t, used(from(in, 160, 6), 7, 84))).FromHere()
	if !strings.HasPrefix(got, "From here: it has used 1.41 times what was planned (7.0 L, expected 5.0 L); the rest is "+
		"planned to take 1.17 times as much as before, which is what one tank says: ") {
		t.Errorf("answer %q", got)
	}
}

// Where no pump is, one goes back to here only, and is told so; nobody fills a can there.
func TestWordsWhereNoPumpIs(t *testing.T) {
	in := from(ride(straight(t, 300), pump("behind", 20, 0), pump("B", 150, 0)), 100, 6)
	in.Bike.Can = 5
	p := make1(t, in)
	if got := say(p).Answer()[1]; !strings.Contains(got, "From one stop only back to here, where no pump is counted.") {
		t.Errorf("answer %q", got)
	}
	const back = "if B is dry you get back to km 100, where no pump is counted: be sure of petrol before you go"
	if !slices.ContainsFunc(p.Warnings, func(w plan.Warning) bool { return warned.Of(say(p)).Warning(w) == back }) {
		t.Errorf("no %q in %+v", back, p.Warnings)
	}
	p = make1(t, from(ride(straight(t, 300), pump("behind", 20, 0)), 100, 10))
	if got, want := say(p).Answer()[1], "No pump is counted between here and the end."; got != want {
		t.Errorf("answer %q, want %q", got, want)
	}
	in = from(ride(straight(t, 300), pump("B", 150, 0)), 100, 2)
	in.Bike.Can = 3
	if got := say(make1(t, in)).Answer()[0]; !strings.HasSuffix(got,
		"No can helps on leg 1: there is no pump here to fill it at.") {
		t.Errorf("answer %q", got)
	}
}

func TestAnswerOfAGroup(t *testing.T) {
	in := ride(straight(t, 430), pump("A", 230, 0))
	for _, c := range []struct {
		usable [2]fuel.Litres
		want   string
	}{
		{[2]fuel.Litres{20, 21}, "Group of 2: not enough fuel if A is dry; otherwise enough fuel, within your " +
			"margin on these figures: every leg is OK for every bike; one sets leg 1, the start to A, the one with least to spare."},
		// 11.5 of 12 L, and 13.28 at the high figure
		{[2]fuel.Litres{12, 21}, "Group of 2: not enough fuel if A is dry; otherwise only just enough: one " +
			"sets leg 1, the start to A, and is TIGHT. If you lend each other fuel, that leg is OK. If nobody lends, carry one 1.5 L can between you."},
		{[2]fuel.Litres{10, 11}, "Group of 2: not enough fuel: legs 1 and 2 are SHORT for somebody. one sets leg 1, " +
			"the start to A, and is SHORT by 1.5 L. Nobody has fuel to lend there."},
	} {
		if got := say(makeGroup(t, in, called("one", c.usable[0]), called("two",
			c.usable[1]))).Group(); !strings.HasPrefix(got, c.want) {
			t.Errorf("%v: %q, want %q", c.usable, got, c.want)
		}
	}
}

// The answer of a group is of all its bikes, whichever comes first: the small one strands at
// A and at B and rides on 92 where it needs 95, the large one needs 91 and comes anywhere. 120
// and 200 km at 5 L/100 km: with 10 L four are left at A, ten to B and six back; none is at B.
func TestAnswerOfAGroupIsOfAll(t *testing.T) {
	in := ride(straight(t, 330), pump("A", 120, 0, octane.FromRON(92)), pump("B", 320, 0, octane.FromRON(92)))
	small, large := called("small", 10), called("large", 30)
	large.Needs = octane.FromRON(91)
	for _, bikes := range [][]fuel.Bike{{small, large}, {large, small}} {
		got := say(makeGroup(t, in, bikes...)).Answer()
		if !strings.HasPrefix(got[0], "Group of 2: not enough fuel if one of 2 pumps is dry; otherwise only just enough: small sets leg 2, A to B, and is TIGHT.") {
			t.Errorf("holds: %q", got[0])
		}
		if !strings.HasPrefix(got[1], "If a pump is dry: somebody is stranded at 2 stops, small at all of them.") {
			t.Errorf("if dry: %q", got[1])
		}
		if !strings.HasPrefix(got[2], "Grade, small: ") || !strings.Contains(got[2], "below 95 RON") {
			t.Errorf("grade: %q", got[2])
		}
	}
}

func TestCansOfAGroup(t *testing.T) {
	small := called("small", 10)
	small.Can = 3
	p := makeGroup(t, changed(ride(straight(t, 230)), keep(0.2)), small, called("large", 21))
	if got := say(p).Group(); !strings.Contains(got, "Cans: small carries 3 L. ") || !strings.Contains(got, "If nobody lends, carry one 4 L can between you. The cans that you have are not counted in that.") {
		t.Errorf("answer %q", got)
	}
}
