package plan_test

import (
	"slices"
	"strings"
	"testing"

	"lastpump/fuel"
	"lastpump/fuel/plan"
	"lastpump/fuel/stop"
	"lastpump/octane"
)

// called is the flat bike with a name and another usable tank.
func called(name string, usable fuel.Litres) fuel.Bike {
	b := flat()
	b.Name, b.Tank = name, usable+b.Unusable
	return b
}

func makeGroup(t *testing.T, in plan.Inputs, bikes ...fuel.Bike) *plan.Plan {
	t.Helper()
	p, err := plan.MakeGroup(in, bikes)
	if err != nil {
		t.Fatal(err)
	}
	return p
}

// 230 km at 5 L/100 km take 11.5 L, 13.28 at the high figure. With a fifth kept, a
// bike of 10 L lacks 11.5 + 2 − 10 = 3.5; one of 21 L can lend 21 − 11.5 − 4.2 = 5.3,
// one of 18 L 18 − 11.5 − 3.6 = 2.9 and one of 16 L 16 − 11.5 − 3.2 = 1.3.
var lendings = []struct {
	name    string
	usable  []fuel.Litres
	loans   [][3]float64 // from, to, litres
	lack    float64
	lent    plan.Verdict
	can     float64
	sizes   [2]fuel.Litres // with lending and without
	without float64
}{
	{"one can spare enough", []fuel.Litres{10, 21}, [][3]float64{{1, 0, 3.5}}, 0, plan.OK, 0, [2]fuel.Litres{0, 4}, 3.5},
	{"the order does not matter", []fuel.Litres{21, 10}, [][3]float64{{0, 1, 3.5}}, 0, plan.OK, 0, [2]fuel.Litres{0, 4}, 3.5},
	// 10 + 2.9 − 11.5 = 1.4 L left
	{"one cannot", []fuel.Litres{10, 18}, [][3]float64{{1, 0, 2.9}}, 0.6, plan.Tight, 0.6, [2]fuel.Litres{1, 4}, 3.5},
	{"two can", []fuel.Litres{16, 10, 18}, [][3]float64{{2, 1, 2.9}, {0, 1, 0.6}}, 0, plan.OK, 0, [2]fuel.Litres{0, 4}, 3.5},
	// 11 L lack 11.5 + 2.2 − 11 = 2.7; 10 + 2.9 − 11.5 and 11 − 11.5: SHORT
	{"two lack", []fuel.Litres{11, 10, 18}, [][3]float64{{2, 1, 2.9}}, 3.3, plan.Short, 3.3, [2]fuel.Litres{4, 7.5}, 6.2},
	{"nobody can", []fuel.Litres{10, 10}, nil, 7, plan.Short, 7, [2]fuel.Litres{7.5, 7.5}, 7},
}

func TestLendingByHand(t *testing.T) {
	in := ride(straight(t, 230))
	in.Options.Reserve = plan.Reserve{Share: 0.2}
	for _, c := range lendings {
		var bikes []fuel.Bike
		for _, u := range c.usable {
			bikes = append(bikes, called("", u))
		}
		g := makeGroup(t, in, bikes...).Group
		l := g.Legs[0]
		if len(l.Loans) != len(c.loans) || l.Lent != c.lent || g.Can.Size.Litres != c.sizes[0] || g.Can.SizeWithout.Litres != c.sizes[1] {
			t.Fatalf("%s: %+v, can %+v", c.name, l, g.Can)
		}
		for i, want := range c.loans {
			got := l.Loans[i]
			if got.From != int(want[0]) || got.To != int(want[1]) || got.Grade != octane.Meets || got.Worse {
				t.Errorf("%s: loan %+v, want %v", c.name, got, want)
			}
			wantNear(t, c.name+": loan", got.Litres, want[2])
		}
		wantNear(t, c.name+": lacking", l.Lack, c.lack)
		wantNear(t, c.name+": can", g.Can.Litres, c.can)
		wantNear(t, c.name+": can without lending", g.Can.WithoutLending, c.without)
	}
}

// Without a reserve it is the high figure that lacks: 230 × 0.05775 − 10.
func TestLendingForTheHighFigure(t *testing.T) {
	g := makeGroup(t, ride(straight(t, 230)), called("small", 10), called("large", 20)).Group
	wantNear(t, "loan", g.Legs[0].Loans[0].Litres, 230*highKm-10)
}

// What is in the tank at the start is said for the first bike; the other is full of
// what it needs. 60 km take 3.465 L at the high figure.
func TestStartOfAGroup(t *testing.T) {
	in := ride(straight(t, 60))
	in.Options.HasStartFuel, in.Options.StartFuel, in.Options.StartGrade = true, 3.2, ron(98)
	g := makeGroup(t, in, called("first", 10), called("second", 10)).Group
	wantNear(t, "first sets out with", g.Bikes[0].Start.Fuel, 3.2)
	wantNear(t, "second sets out with", g.Bikes[1].Start.Fuel, 10)
	if a, b := g.Bikes[0].Start, g.Bikes[1].Start; a.Assumed || a.Grade != ron(98) || !b.Assumed || b.Grade != ron(95) {
		t.Errorf("grades at the start: %+v and %+v", a, b)
	}
	l := g.Legs[0]
	if l.SetBy != 0 || l.Verdict != plan.Tight || len(l.Loans) != 1 || l.Loans[0].From != 1 {
		t.Errorf("leg %+v", l)
	}
	wantNear(t, "loan", l.Loans[0].Litres, 60*highKm-3.2)
	wantNear(t, "can", g.Can.WithoutLending, 60*highKm-3.2)
}

// The group's can is counted as if nobody had one; a bike's own is lent from and
// counted on a leg all the same. 11.5 + 2 of 10 + 3 L: 0.5 L lack.
func TestOwnCanInAGroup(t *testing.T) {
	in := ride(straight(t, 230))
	in.Options.Reserve = plan.Reserve{Share: 0.2}
	small := called("small", 10)
	small.Can = 3
	g := makeGroup(t, in, small, called("large", 21)).Group
	wantNear(t, "loan", g.Legs[0].Loans[0].Litres, 0.5)
	wantNear(t, "can without lending", g.Can.WithoutLending, 3.5)
	if !strings.Contains(g.Answer, "Your own cans are not counted in that.") {
		t.Errorf("answer %q", g.Answer)
	}
}

// 150 km to A leave 2.4 L of 9.9; B is 5 L on and the start 7.5 L back: each of two
// bikes lacks 2.6 L if A is dry, a third of 20 L nothing.
func TestDryPumpForAGroup(t *testing.T) {
	in := ride(straight(t, 350), pump("A", 150, 0), pump("B", 250, 0))
	g := makeGroup(t, in, called("a", 9.9), called("b", 20), called("c", 9.9)).Group
	wantNear(t, "for the plan", g.Can.WithoutLending, 0)
	wantNear(t, "for any dry pump", g.Can.ForAnyDryPump, 5.2)
	if g.Can.SizeForDry.Litres != 7.5 {
		t.Errorf("size %+v", g.Can.SizeForDry)
	}
	if g.Holds() || !g.Bikes[1].Holds() {
		t.Error("the group holds though two are stranded if A is dry, or the large tank does not")
	}
}

// One engine needs 95, one 91. Alone the second fills at A, which is seen; together
// they fill at B, where there is enough for both.
func TestPlaceForAGroup(t *testing.T) {
	a, b := pump("A", 50, 0, ron(91)), pump("B", 51, 0, ron(95))
	b.Standing = stop.Map
	in := ride(straight(t, 100), a, b)
	high, low := called("high", 10), called("low", 10)
	low.Needs = ron(91)
	in.Bike = low
	wantNames(t, make1(t, in), "A")
	for _, bikes := range [][]fuel.Bike{{low, high}, {high, low}} {
		for _, p := range makeGroup(t, in, bikes...).Group.Bikes {
			wantNames(t, p, "B")
		}
	}
	// Where no stop is enough for all, the surer one counts, as ever.
	in.Stops[1].Grades = []octane.Grade{ron(92)}
	wantNames(t, makeGroup(t, in, high, low), "A")
	// What meets in another scale counts: 91 AKI is at least 95 RON.
	in.Stops[1].Grades = []octane.Grade{octane.FromAKI(91)}
	low.Needs = octane.FromAKI(90)
	wantNames(t, makeGroup(t, in, low, high), "B")
}

// A loan of petrol that is not enough for the borrower's engine says so; the other
// way round there is nothing to say.
func TestLendingLowGrade(t *testing.T) {
	in := ride(straight(t, 230))
	small, large := called("small", 10), called("large", 21)
	large.Needs = ron(91)
	g := makeGroup(t, in, small, large).Group
	if l := g.Legs[0].Loans[0]; l.Grade != octane.Below || !l.Worse {
		t.Errorf("loan %+v", l)
	}
	c := cureWith(t, warningOf(t, g.Bikes[0], plan.KindShort), "borrow 3.3 L from large on this leg; both still arrive with the reserve")
	if !strings.Contains(c.Text, "(but it is 91.0 RON, which for 95 RON is below)") || c.Verdict != "OK" {
		t.Errorf("cure %+v", c)
	}
	small.Needs, large.Needs = ron(91), ron(95)
	if l := makeGroup(t, in, small, large).Group.Legs[0].Loans[0]; l.Grade != octane.Meets || l.Worse {
		t.Errorf("loan %+v", l)
	}
}

// The lender of 3.5 L of 21 reaches A with 9.5 and gets on to B, 130 km or 6.5 L,
// with 3 to spare: not any more.
func TestLenderIfAPumpIsDry(t *testing.T) {
	in := ride(straight(t, 400), pump("A", 230, 0), pump("B", 360, 0))
	in.Options.Reserve = plan.Reserve{Share: 0.2}
	p := makeGroup(t, in, called("small", 10), called("large", 21))
	w := warningOf(t, p, plan.KindShort)
	cureWith(t, w, "borrow 3.5 L from large on this leg; both still arrive with the reserve (but if A is dry, large no longer gets on to B)")
	if w.NoCure != "" {
		t.Errorf("a cure, and %q", w.NoCure)
	}
	in.Stops[1].At = at(340, 0) // 5.5 L: 4 to spare
	c := cureWith(t, warningOf(t, makeGroup(t, in, called("small", 10), called("large", 21)), plan.KindShort), "borrow")
	if strings.Contains(c.Text, "but") {
		t.Errorf("cure %q", c.Text)
	}
}

func TestNamesOfAGroup(t *testing.T) {
	g := makeGroup(t, ride(straight(t, 60)), called("", 10), called("mule", 10), called("mule", 10), called("mule (2)", 10), called(" ", 10)).Group
	var got []string
	for _, p := range g.Bikes {
		got = append(got, p.Bike.Name)
	}
	if want := []string{"bike 1", "mule", "mule (2)", "mule (2) (2)", "bike 5"}; !slices.Equal(got, want) {
		t.Errorf("names %q, want %q", got, want)
	}
}

func TestAnswerOfAGroup(t *testing.T) {
	in := ride(straight(t, 430), pump("A", 230, 0))
	for _, c := range []struct {
		usable [2]fuel.Litres
		want   string
	}{
		{[2]fuel.Litres{20, 21}, "Group of 2: every leg holds for every bike, within your margin on these figures; one sets leg 1, the start to A, the one with least to spare."},
		// 11.5 of 12 L, and 13.28 at the high figure
		{[2]fuel.Litres{12, 21}, "Group of 2: it holds only just: one sets leg 1, the start to A, and is TIGHT. If you lend each other fuel it holds on that leg, too. If nobody lends, carry one 1.5 L can between you."},
		{[2]fuel.Litres{10, 11}, "Group of 2: it does not hold: one sets leg 1, the start to A, and is SHORT by 1.5 L. Nobody has fuel to lend there."},
	} {
		if got := makeGroup(t, in, called("one", c.usable[0]), called("two", c.usable[1])).Group.Answer; !strings.HasPrefix(got, c.want) {
			t.Errorf("%v: %q, want %q", c.usable, got, c.want)
		}
	}
}

func TestWrongBikeOfAGroup(t *testing.T) {
	_, err := plan.MakeGroup(ride(straight(t, 60)), []fuel.Bike{called("good", 10), called("empty", -1)})
	if err == nil || !strings.HasPrefix(err.Error(), "empty: ") {
		t.Errorf("error %v", err)
	}
}
