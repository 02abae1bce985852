package group_test

import (
	"context"
	"slices"
	"strings"
	"testing"

	"lastpump/fuel"
	"lastpump/fuel/leg"
	"lastpump/fuel/plan"
	"lastpump/fuel/plan/cure"
	"lastpump/fuel/stop"
	"lastpump/octane"
	"lastpump/testdata/kit/drawn"
)

// 230 km at 5 L/100 km take 11.5 L, 13.28 at the high figure. With a fifth kept, a
// bike of 10 L lacks 11.5 + 2 − 10 = 3.5; one of 21 L can lend 21 − 11.5 − 4.2 = 5.3,
// one of 18 L 18 − 11.5 − 3.6 = 2.9 and one of 16 L 16 − 11.5 − 3.2 = 1.3.
var lendings = []struct {
	name    string
	usable  []fuel.Litres
	loans   [][3]float64 // from, to, litres
	lack    float64
	lent    leg.Verdict
	can     float64
	sizes   [2]fuel.Litres // with lending and without
	without float64
}{
	{"one can spare enough", []fuel.Litres{10, 21}, [][3]float64{{1, 0, 3.5}}, 0, leg.OK, 0, [2]fuel.Litres{0, 4},
		3.5},
	{"the order does not matter", []fuel.Litres{21, 10}, [][3]float64{{0, 1, 3.5}}, 0, leg.OK, 0, [2]fuel.Litres{0, 4},
		3.5},
	// 10 + 2.9 − 11.5 = 1.4 L left
	{"one cannot", []fuel.Litres{10, 18}, [][3]float64{{1, 0, 2.9}}, 0.6, leg.Tight, 0.6, [2]fuel.Litres{1, 4}, 3.5},
	{"two can", []fuel.Litres{16, 10, 18}, [][3]float64{{2, 1, 2.9}, {0, 1, 0.6}}, 0, leg.OK, 0, [2]fuel.Litres{0, 4},
		3.5},
	// 11 L lack 11.5 + 2.2 − 11 = 2.7; 10 + 2.9 − 11.5 and 11 − 11.5: SHORT
	{"two lack", []fuel.Litres{11, 10, 18}, [][3]float64{{2, 1, 2.9}}, 3.3, leg.Short, 3.3, [2]fuel.Litres{4, 7.5},
		6.2},
	{"nobody can", []fuel.Litres{10, 10}, nil, 7, leg.Short, 7, [2]fuel.Litres{7.5, 7.5}, 7},
}

func TestLendingByHand(t *testing.T) {
	in := drawn.Ride(drawn.Straight(t, 230))
	in.Options.Reserve = leg.Reserve{Share: 0.2}
	for _, c := range lendings {
		var bikes []fuel.Bike
		for _, u := range c.usable {
			bikes = append(bikes, drawn.Called("", u))
		}
		g := drawn.Cured(t, in, bikes...).Group
		l := g.Legs[0]
		if len(l.Loans) != len(c.loans) || l.Lent != c.lent || g.Can.Size.Litres != c.sizes[0] ||
			g.Can.SizeWithout.Litres != c.sizes[1] {
			t.Fatalf("%s: %+v, can %+v", c.name, l, g.Can)
		}
		for i, want := range c.loans {
			got := l.Loans[i]
			if got.From != int(want[0]) || got.To != int(want[1]) || got.Grade != octane.Meets || got.Worse {
				t.Errorf("%s: loan %+v, want %v", c.name, got, want)
			}
			drawn.WantNear(t, c.name+": loan", got.Litres, want[2])
		}
		drawn.WantNear(t, c.name+": lacking", l.Lack, c.lack)
		drawn.WantNear(t, c.name+": can", g.Can.Litres, c.can)
		drawn.WantNear(t, c.name+": can without lending", g.Can.WithoutLending, c.without)
	}
}

// Without a reserve it is the high figure that lacks: 230 × 0.05775 − 10.
func TestLendingForTheHighFigure(t *testing.T) {
	g := drawn.Cured(t, drawn.Ride(drawn.Straight(t, 230)), drawn.Called("small", 10), drawn.Called("large", 20)).Group
	drawn.WantNear(t, "loan", g.Legs[0].Loans[0].Litres, 230*drawn.HighKm-10)
}

// What is in the tank at the start is said for the first bike; the other is full of
// what it needs. 60 km take 3.465 L at the high figure.
func TestStartOfAGroup(t *testing.T) {
	in := drawn.Ride(drawn.Straight(t, 60))
	in.Options.HasStartFuel, in.Options.StartFuel, in.Options.StartGrade = true, 3.2, drawn.RON(98)
	g := drawn.Cured(t, in, drawn.Called("first", 10), drawn.Called("second", 10)).Group
	drawn.WantNear(t, "first sets out with", g.Bikes[0].Start.Fuel, 3.2)
	drawn.WantNear(t, "second sets out with", g.Bikes[1].Start.Fuel, 10)
	if a, b := g.Bikes[0].Start, g.Bikes[1].Start; a.Assumed || a.Grade != drawn.RON(98) || !b.Assumed || b.Grade != drawn.RON(95) {
		t.Errorf("grades at the start: %+v and %+v", a, b)
	}
	l := g.Legs[0]
	if l.SetBy != 0 || l.Verdict != leg.Tight || len(l.Loans) != 1 || l.Loans[0].From != 1 {
		t.Errorf("leg %+v", l)
	}
	drawn.WantNear(t, "loan", l.Loans[0].Litres, 60*drawn.HighKm-3.2)
	drawn.WantNear(t, "can", g.Can.WithoutLending, 60*drawn.HighKm-3.2)
}

// The group's can is counted as if nobody had one; a bike's own is lent from and
// counted on a leg all the same. 11.5 + 2 of 10 + 3 L: 0.5 L lack.
func TestOwnCanInAGroup(t *testing.T) {
	in := drawn.Ride(drawn.Straight(t, 230))
	in.Options.Reserve = leg.Reserve{Share: 0.2}
	small := drawn.Called("small", 10)
	small.Can = 3
	g := drawn.Cured(t, in, small, drawn.Called("large", 21)).Group
	drawn.WantNear(t, "loan", g.Legs[0].Loans[0].Litres, 0.5)
	drawn.WantNear(t, "can without lending", g.Can.WithoutLending, 3.5)
}

// 150 km to A leave 2.4 L of 9.9; B is 5 L on and the start 7.5 L back: each of two
// bikes lacks 2.6 L if A is dry, a third of 20 L nothing.
func TestDryPumpForAGroup(t *testing.T) {
	in := drawn.Ride(drawn.Straight(t, 350), drawn.Pump("A", 150, 0), drawn.Pump("B", 250, 0))
	g := drawn.Cured(t, in, drawn.Called("a", 9.9), drawn.Called("b", 20), drawn.Called("c", 9.9)).Group
	drawn.WantNear(t, "for the plan", g.Can.WithoutLending, 0)
	drawn.WantNear(t, "for any dry pump", g.Can.ForAnyDryPump, 5.2)
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
	a, b := drawn.Pump("A", 50, 0, drawn.RON(91)), drawn.Pump("B", 51, 0, drawn.RON(95))
	b.Standing = stop.Map
	in := drawn.Ride(drawn.Straight(t, 100), a, b)
	high, low := drawn.Called("high", 10), drawn.Called("low", 10)
	low.Needs = drawn.RON(91)
	in.Bike = low
	drawn.WantNames(t, drawn.Cured(t, in), "A")
	for _, bikes := range [][]fuel.Bike{{low, high}, {high, low}} {
		for _, p := range drawn.Cured(t, in, bikes...).Group.Bikes {
			drawn.WantNames(t, p, "B")
		}
	}
	// Where no stop is enough for all, the surer one counts, as ever.
	in.Stops[1].Grades = []octane.Grade{drawn.RON(92)}
	drawn.WantNames(t, drawn.Cured(t, in, high, low), "A")
	// What meets in another scale counts: 91 AKI is at least 95 RON.
	in.Stops[1].Grades = []octane.Grade{octane.FromAKI(91)}
	low.Needs = octane.FromAKI(90)
	drawn.WantNames(t, drawn.Cured(t, in, low, high), "B")
}

// A loan of petrol that is not enough for the borrower's engine says so; the other
// way round there is nothing to say.
func TestLendingLowGrade(t *testing.T) {
	in := drawn.Ride(drawn.Straight(t, 230))
	small, large := drawn.Called("small", 10), drawn.Called("large", 21)
	large.Needs = drawn.RON(91)
	g := drawn.Cured(t, in, small, large).Group
	if l := g.Legs[0].Loans[0]; l.Grade != octane.Below || !l.Worse {
		t.Errorf("loan %+v", l)
	}
	c := drawn.CureBy(t, drawn.WarningOf(t, g.Bikes[0], plan.KindShort), cure.Borrow)
	drawn.WantNear(t, "borrowed", c.Litres, 230*drawn.HighKm-10)
	if l := c.Loans[0]; l.From != "large" || l.Worse == nil || l.Worse.Low != 91 || l.Grade != octane.Below ||
		c.Verdict != "OK" {
		t.Errorf("cure %+v", c)
	}
	small.Needs, large.Needs = drawn.RON(91), drawn.RON(95)
	if l := drawn.Cured(t, in, small, large).Group.Legs[0].Loans[0]; l.Grade != octane.Meets || l.Worse {
		t.Errorf("loan %+v", l)
	}
}

// The lender of 3.5 L of 21 reaches A with 9.5 and gets on to B, 130 km or 6.5 L,
// with 3 to spare: not any more.
func TestLenderIfAPumpIsDry(t *testing.T) {
	in := drawn.Ride(drawn.Straight(t, 400), drawn.Pump("A", 230, 0), drawn.Pump("B", 360, 0))
	in.Options.Reserve = leg.Reserve{Share: 0.2}
	p := drawn.Cured(t, in, drawn.Called("small", 10), drawn.Called("large", 21))
	w := drawn.WarningOf(t, p, plan.KindShort)
	l := drawn.CureBy(t, w, cure.Borrow).Loans[0]
	drawn.WantNear(t, "borrowed", l.Litres, 3.5)
	if l.IfDry != leg.On || drawn.Key(p, l.DryAt) != "A" || drawn.Key(p, l.DryGoal) != "B" || l.Worse != nil {
		t.Errorf("loan %+v", l)
	}
	if w.NoCure != nil {
		t.Errorf("a cure, and %+v", w.NoCure)
	}
	in.Stops[1].At = drawn.At(340, 0) // 5.5 L: 4 to spare
	c := drawn.CureBy(t, drawn.WarningOf(t, drawn.Cured(t, in, drawn.Called("small", 10), drawn.Called("large", 21)), plan.KindShort),
		cure.Borrow)
	if l := c.Loans[0]; l.IfDry != "" || l.Worse != nil || !c.AllLent {
		t.Errorf("cure %+v", c)
	}
}

func TestNamesOfAGroup(t *testing.T) {
	g := drawn.Cured(t, drawn.Ride(drawn.Straight(t, 60)), drawn.Called("", 10), drawn.Called("mule", 10), drawn.Called("mule", 10), drawn.Called("mule (2)",
		10), drawn.Called(" ", 10)).Group
	var got []string
	for _, p := range g.Bikes {
		got = append(got, p.Bike.Name)
	}
	if want := []string{"bike 1", "mule", "mule (2)", "mule (2) (2)", "bike 5"}; !slices.Equal(got, want) {
		t.Errorf("names %q, want %q", got, want)
	}
}

func TestWrongBikeOfAGroup(t *testing.T) {
	_, err := plan.MakeGroup(context.Background(), drawn.Ride(drawn.Straight(t, 60)), []fuel.Bike{drawn.Called("good", 10), drawn.Called("empty", -1)})
	if err == nil || !strings.HasPrefix(err.Error(), "empty: ") {
		t.Errorf("error %v", err)
	}
}
