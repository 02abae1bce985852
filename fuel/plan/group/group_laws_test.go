package group_test

import (
	"context"
	"fmt"
	"math"
	"slices"
	"testing"

	"lastpump/fuel"
	"lastpump/fuel/leg"
	"lastpump/fuel/plan"
	"lastpump/fuel/plan/cure"
	"lastpump/fuel/plan/group"
	"lastpump/fuel/trip"
	"lastpump/octane"
	"lastpump/testdata/kit/drawn"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"
	"pgregory.net/rapid"
)

// drawGroup draws two to four bikes.
func drawGroup(t *rapid.T) []fuel.Bike {
	var bikes []fuel.Bike
	for i := range rapid.IntRange(2, 4).Draw(t, "bikes") {
		b := drawn.AnyBike(t)
		b.Name = fmt.Sprint("b", i)
		bikes = append(bikes, b)
	}
	return bikes
}

func drawnGroup(t *rapid.T, in plan.Inputs, bikes []fuel.Bike) *plan.Plan {
	p, err := plan.MakeGroup(context.Background(), in, bikes)
	if err == nil {
		err = plan.Cures(context.Background(), p)
	}
	if err != nil {
		t.Fatal(err)
	}
	return p
}

// For one bike, or none, nothing is different.
func TestAGroupOfOneIsAPlan(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		in := drawn.AnyRide(t)
		want := drawn.Plan(t, in)
		if err := plan.Cures(context.Background(), want); err != nil {
			t.Fatal(err)
		}
		bike := in.Bike
		none := drawnGroup(t, in, nil)
		in.Bike = drawn.Flat()
		one := drawnGroup(t, in, []fuel.Bike{bike})
		if want.Group != nil || !samePlan(want, one) || !samePlan(want, none) {
			t.Fatalf("the plan of one bike is not that of Make:\n%v\n%v", want.Answer, one.Answer)
		}
	})
}

// samePlan compares plans of one line.
func samePlan(a, b *plan.Plan) bool {
	x, y := *a, *b
	x.Line, y.Line = nil, nil
	return a.Line == b.Line && cmp.Equal(x, y, cmpopts.IgnoreUnexported(plan.Plan{}))
}

// With a second bike of the same kind all is as for one, but for its name, what can
// be borrowed and what is assumed of a group.
func TestTwoEqualBikes(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		in := drawn.AnyRide(t)
		in.Bike.Name = "twin"
		want := drawn.Plan(t, in)
		p := drawnGroup(t, in, []fuel.Bike{in.Bike, in.Bike})
		if !cmp.Equal(p.Answer, want.Answer) || !cmp.Equal(p.Legs, want.Legs) || !cmp.Equal(p.Visits, want.Visits) ||
			!cmp.Equal(p.Can, want.Can) ||
			!cmp.Equal(p.Totals, want.Totals) || p.Bike.Name != "twin" || p.Group.Bikes[1].Bike.Name != "twin (2)" {
			t.Fatalf("%v, alone %v", p.Answer, want.Answer)
		}
	})
}

// All have the same legs and visits, and each leg is set by the bike that is worst
// off.
func TestLegsOfAGroup(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		g := drawnGroup(t, drawn.AnyRide(t), drawGroup(t)).Group
		for _, p := range g.Bikes {
			drawn.WantFinite(t, p)
			if len(p.Legs) != len(g.Legs) || len(p.Visits) != len(g.Bikes[0].Visits) || p.Group != nil {
				t.Fatalf("%d legs and %d visits, the first bike has %d and %d", len(p.Legs), len(p.Visits), len(g.Legs),
					len(g.Bikes[0].Visits))
			}
			for i, l := range p.Legs {
				wantWorst(t, g, i, l)
			}
		}
	})
}

var verdicts = []leg.Verdict{leg.OK, leg.Tight, leg.Short}

// wantWorst wants that a leg of a bike is that of the group, and no worse than that
// of the bike that sets it: by its verdict, then by how much more it may drink.
func wantWorst(t *rapid.T, g *plan.Group, i int, l trip.Leg) {
	leg := g.Legs[i]
	if l.From != leg.From || l.To != leg.To || l.ToAt != leg.ToAt {
		t.Fatalf("leg %d from %v to %v, the group's from %v to %v", i, l.From, l.To, leg.From, leg.To)
	}
	set := g.Bikes[leg.SetBy].Legs[i]
	a, b := slices.Index(verdicts, set.Verdict), slices.Index(verdicts, l.Verdict)
	more := func(l trip.Leg) float64 { return float64((l.Start + l.Can) / l.Drink.Fuel.Likely) }
	if leg.Verdict != set.Verdict || b > a || b == a && more(l) < more(set)-1e-12 {
		t.Fatalf("leg %d: %s and %v times its fuel, set by %s with %v times", i, l.Verdict, more(l), set.Verdict,
			more(set))
	}
}

// Who lends has that much to spare and borrows nothing; what is lacking is what was
// lacking less the loans, and some of it stays only if nobody has any to spare.
func TestLoansAddUp(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		g := drawnGroup(t, drawn.AnyRide(t), drawGroup(t)).Group
		for i, leg := range g.Legs {
			over := make([]float64, len(g.Bikes)) // beyond the reserve, and at the high figure
			for b, p := range g.Bikes {
				l := p.Legs[i]
				with := l.Start + l.Can
				over[b] = float64(min(with-l.Drink.Fuel.Likely-l.Kept, with-l.Drink.Fuel.High))
			}
			left := slices.Clone(over)
			for _, l := range leg.Loans {
				if over[l.From] <= 0 || over[l.To] >= 0 || l.Litres <= 0 {
					t.Fatalf("leg %d: loan %+v, over %v", i, l, over)
				}
				left[l.From] -= float64(l.Litres)
				left[l.To] += float64(l.Litres)
			}
			sum := 0.0
			for b, o := range left {
				if over[b] > 0 && o < -1e-9 || math.Abs(max(0, -o)-float64(leg.Lacking[b])) > 1e-6 {
					t.Fatalf("leg %d: over %v, after the loans %v, lacking %v", i, over, left, leg.Lacking)
				}
				sum += max(0, -o)
				if leg.Lack > 0 && o > 1e-6 {
					t.Fatalf("leg %d lacks %v L and bike %d has %v to spare", i, leg.Lack, b, o)
				}
			}
			wantNearly(t, "lack", float64(leg.Lack), sum)
		}
	})
}

func wantNearly(t *rapid.T, what string, got, want float64) {
	if math.Abs(got-want) > 1e-6 {
		t.Fatalf("%s %v, want %v", what, got, want)
	}
}

// Planned again with the loans, as a smaller tank of the lender and a can of the
// borrower, a leg has the verdict that is said. Only a distance is kept back, or a
// smaller tank would keep less.
func TestLoansPlannedAgain(t *testing.T) {
	rides, tried := 0, 0
	rapid.Check(t, func(t *rapid.T) {
		rides++
		l := drawn.AnyLoop(t)
		l.In.Options.Reserve.Share = 0
		bikes := drawGroup(t)
		g := drawnGroup(t, l.In, bikes).Group
		var with []int
		for i, leg := range g.Legs {
			if len(leg.Loans) > 0 && !tooMuch(l.In, lent(g, i, leg.Loans)) {
				with = append(with, i)
			}
		}
		if len(with) == 0 {
			return
		}
		tried++
		i := rapid.SampledFrom(with).Draw(t, "leg")
		worst := leg.OK
		for _, p := range drawnGroup(t, l.In, lent(g, i, g.Legs[i].Loans)).Group.Bikes {
			if slices.Index(verdicts, p.Legs[i].Verdict) > slices.Index(verdicts, worst) {
				worst = p.Legs[i].Verdict
			}
		}
		if worst != g.Legs[i].Lent {
			t.Fatalf("leg %d with %+v is %s, said %s", i, g.Legs[i].Loans, worst, g.Legs[i].Lent)
		}
	})
	if tried*10 < rides {
		t.Errorf("only %d legs with loans on %d rides: the test proves little", tried, rides)
	}
}

// tooMuch tells whether a bike carries more than a bike may, or the first has at the start
// more than goes into its tank now that it is smaller.
func tooMuch(in plan.Inputs, bikes []fuel.Bike) bool {
	return in.Options.HasStartFuel && in.Options.StartFuel > bikes[0].Usable() ||
		slices.ContainsFunc(bikes, func(b fuel.Bike) bool { return b.Can > 60 })
}

// lent gives the bikes of a group as they ride a leg with loans: all carry only the
// can that they carry on that leg, and the lender gives of that first.
func lent(g *plan.Group, leg int, loans []group.Loan) []fuel.Bike {
	var bikes []fuel.Bike
	for _, p := range g.Bikes {
		b := p.Bike
		b.Can = p.Legs[leg].Can
		bikes = append(bikes, b)
	}
	for _, l := range loans {
		less := l.Litres - 1e-9 // rounding is no fuel
		can := min(less, bikes[l.From].Can)
		bikes[l.From].Can -= can
		bikes[l.From].Tank -= less - can
		bikes[l.To].Can += l.Litres
	}
	return bikes
}

// Borrowing as a warning says makes the leg OK for who borrows and leaves it so for
// who lends. Only legs that are not OK can be cured so.
func TestBorrowingCures(t *testing.T) {
	rides, tried := 0, 0
	rapid.Check(t, func(t *rapid.T) {
		rides++
		l := drawn.AnyLoop(t)
		l.In.Options.Reserve.Share = 0
		g := drawnGroup(t, l.In, drawGroup(t)).Group
		for b, p := range g.Bikes {
			for _, w := range p.Warnings {
				if tryBorrowing(t, l.In, g, b, w) {
					tried++
					return // one is enough of each ride
				}
			}
		}
	})
	if tried*10 < rides {
		t.Errorf("only %d cures on %d rides: the test proves little", tried, rides)
	}
}

// tryBorrowing plans again with the loan that a warning names; it tells whether it
// names one.
func tryBorrowing(t *rapid.T, in plan.Inputs, g *plan.Group, b int, w plan.Warning) bool {
	i := slices.IndexFunc(w.Cures, func(c cure.Cure) bool { return c.Kind == cure.Borrow && len(c.Loans) == 1 })
	if i < 0 {
		return false
	}
	c := w.Cures[i]
	loan := group.Loan{From: int(c.Loans[0].From[1] - '0'), To: b, Litres: c.Litres}
	with := lent(g, w.Leg, []group.Loan{loan})
	if tooMuch(in, with) {
		return false
	}
	again := drawnGroup(t, in, with).Group.Bikes
	lender, borrower := again[loan.From].Legs[w.Leg].Verdict, again[b].Legs[w.Leg].Verdict
	if string(lender) != c.Verdict || string(borrower) != c.Verdict || g.Bikes[b].Legs[w.Leg].Verdict == leg.OK ||
		w.NoCure != nil {
		t.Fatalf("%+v: %+v: the lender is %s, the borrower %s", w.Fact, c, lender, borrower)
	}
	return true
}

// The can for the group is the least: poured out over those who lack fuel, with what
// the others can spare, it makes the leg OK that lacks most, and 0.001 L less does not.
func TestCanOfAGroupIsTheLeast(t *testing.T) {
	rides, tried := 0, 0
	rapid.Check(t, func(t *rapid.T) {
		rides++
		l := drawn.AnyLoop(t)
		bikes := drawGroup(t)
		for i := range bikes {
			bikes[i].Can = 0
		}
		g := drawnGroup(t, l.In, bikes).Group
		i := worstLeg(g)
		can := float64(g.Can.Litres)
		if can <= 0 || tooMuch(l.In, poured(g, i, can+spare(g, i))) {
			return
		}
		tried++
		for _, less := range []float64{-1e-9, 0.001} { // a sum of binary fractions may be a little more
			fails := false
			for _, p := range drawnGroup(t, l.In, poured(g, i, can+spare(g, i)-less)).Group.Bikes {
				fails = fails || p.Legs[i].Verdict != leg.OK
			}
			if fails != (less > 0) {
				t.Fatalf("a can of %v L less %v between all: that leg %d fails is %v", can, less, i, fails)
			}
		}
	})
	if tried*10 < rides {
		t.Errorf("only %d legs on %d rides: the test proves little", tried, rides)
	}
}

// spare gives what those who lack nothing on a leg can lend, from the words of the
// design: their reserve stays whole, and they arrive at the high figure.
func spare(g *plan.Group, i int) (sum float64) {
	for _, p := range g.Bikes {
		l := p.Legs[i]
		sum += max(0, float64(min(l.Start-l.Drink.Fuel.Likely-l.Kept, l.Start-l.Drink.Fuel.High)))
	}
	return sum
}

// poured gives the bikes with litres in cans on a leg, each what it lacks, until
// there are no more.
func poured(g *plan.Group, i int, litres float64) []fuel.Bike {
	var bikes []fuel.Bike
	for _, p := range g.Bikes {
		b, l := p.Bike, p.Legs[i]
		lack := max(0, float64(max(l.Drink.Fuel.Likely+l.Kept, l.Drink.Fuel.High)-l.Start))
		b.Can = fuel.Litres(max(0, min(lack, litres)))
		litres -= float64(b.Can)
		bikes = append(bikes, b)
	}
	return bikes
}

// worstLeg is the leg on which most is lacking that nobody can lend.
func worstLeg(g *plan.Group) (worst int) {
	most := math.Inf(-1)
	for i := range g.Legs {
		lacking := -spare(g, i)
		for _, p := range g.Bikes {
			l := p.Legs[i]
			lacking += max(0, float64(max(l.Drink.Fuel.Likely+l.Kept, l.Drink.Fuel.High)-l.Start))
		}
		if lacking > most {
			most, worst = lacking, i
		}
	}
	return worst
}

// A can for any dry pump holds what all who would be stranded at one place lack,
// each planned alone.
func TestDryPumpOfAGroup(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		bikes := drawGroup(t)
		for i := range bikes {
			bikes[i].Can = 0
		}
		g := drawnGroup(t, drawn.AnyRide(t), bikes).Group
		want := g.Can.Litres
		for v := range g.Bikes[0].Visits {
			var sum fuel.Litres
			for _, p := range g.Bikes {
				if dry := p.Visits[v].IfDry; dry != nil && dry.Outcome == leg.Stranded {
					sum -= dry.Spare
				}
			}
			want = max(want, sum)
		}
		wantNearly(t, "for any dry pump", float64(g.Can.ForAnyDryPump), float64(want))
	})
}

// Together they fill where all get what they need, if there is such a stop in the
// place.
func TestPlacesSuitTheGroup(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		in, bikes := drawn.AnyRide(t), drawGroup(t)
		grades := map[string][]octane.Grade{}
		for _, s := range in.Stops {
			grades[s.Name] = s.Grades
		}
		suits := func(name string) bool {
			return !slices.ContainsFunc(bikes, func(b fuel.Bike) bool {
				return !slices.ContainsFunc(grades[name],
					func(g octane.Grade) bool { return g.Against(b.Needs) == octane.Meets })
			})
		}
		for _, v := range drawnGroup(t, in, bikes).Visits {
			if v.Counted && !suits(v.Stop.Name) && slices.ContainsFunc(v.Also, suits) {
				t.Fatalf("they fill at %s, and at one of %v there is enough for all", v.Stop.Name, v.Also)
			}
		}
	})
}
