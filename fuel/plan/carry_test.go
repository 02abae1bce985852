package plan_test

import (
	"math"
	"testing"

	"lastpump/fuel"
	"lastpump/fuel/leg"
	"lastpump/fuel/plan"
	"lastpump/fuel/stop"
	"lastpump/octane"
	"lastpump/route"

	"pgregory.net/rapid"
)

// drawCarried draws a straight ride on changing ground, with cans, past pumps of which every
// other one sells nothing that the engine should have; some of it from somewhere on the way.
func drawCarried(t *rapid.T) plan.Inputs {
	km := rapid.IntRange(200, 700).Draw(t, "km")
	var stops []stop.Stop
	first := rapid.SampledFrom([]float64{0, 0, 20, 150}).Draw(t, "first")
	for at := first; at < float64(km)-5; at += rapid.Float64Range(4, 220).Draw(t, "apart") {
		p := pump(string(rune('A'+len(stops))), at, 0)
		p.Grades = rapid.SampledFrom([][]octane.Grade{{ron(95)}, {ron(95)}, {ron(80)}, {ron(91)}, nil}).Draw(t, "grades")
		stops = append(stops, p)
	}
	in := ride(straight(t, km), stops...)
	for from := 0; from < km; {
		to := min(km, from+rapid.IntRange(20, 200).Draw(t, "section"))
		g := rapid.SampledFrom([]route.Ground{route.Paved, route.Paved, route.PackedGravel, route.Sand, route.Mud}).Draw(t, "ground")
		in.Grounds.Sections = append(in.Grounds.Sections, route.Section{From: route.Metres(1000 * from), To: route.Metres(1000 * to), Ground: g})
		from = to
	}
	in.Grounds.Sections[len(in.Grounds.Sections)-1].To = in.Line.Length()
	o := &in.Options
	o.Reserve.Share = rapid.SampledFrom([]float64{0, 0, 0.15, 0.5}).Draw(t, "reserve")
	o.Carry = rapid.SampledFrom([]plan.Carry{{Most: 10}, {Most: 20}, {Cans: leg.Carried{3}}, {Cans: leg.Carried{5, 5}}, {Cans: leg.Carried{10, 2}}}).Draw(t, "cans")
	if rapid.IntRange(0, 2).Draw(t, "on the way") == 0 {
		o.From, o.HasFrom = route.Kilometres(rapid.Float64Range(1, 150).Draw(t, "from")), true
		o.StartFuel, o.HasStartFuel = fuel.Litres(rapid.Float64Range(0, 10).Draw(t, "start")), true
	}
	o.CanNow = fuel.Litres(rapid.SampledFrom([]float64{0, 0, 1, 2.2, 3}).Draw(t, "can now"))
	o.CanNowGrade = rapid.SampledFrom([]octane.Grade{{}, ron(80)}).Draw(t, "can now of")
	return in
}

// fails tells whether a leg is not OK, or a dry pump at its end strands or leaves bare.
func fails(p *plan.Plan, i int) bool {
	l := p.Legs[i]
	if l.Verdict != leg.OK || l.ToVisit < 0 {
		return l.Verdict != leg.OK
	}
	d := p.Visits[l.ToVisit].IfDry
	return d != nil && (d.Outcome == leg.Stranded || d.Bare)
}

// Litres in a can are what was in it and what was filled, never more than it holds, and go by
// plan only on legs that are not OK without them. What fails does so with a full can. Who
// drinks the high figure has no less in it than the plan says: he pours what fits where he is
// told to pour, or where only 1 L is in the tank.
func TestTheStateOfTheCan(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		in := drawCarried(t)
		p := makeRide(t, in)
		usable, size, had := p.Bike.Usable(), p.Bike.Can, min(p.Bike.Can, in.Options.CanNow)
		for i, l := range p.Legs {
			filled := fuel.Litres(0)
			fromHome := i == 0 && l.FromVisit < 0 && !in.Options.HasFrom && in.Options.CanNow == 0
			switch {
			case l.FromVisit >= 0:
				filled = p.Visits[l.FromVisit].Fill.Can
			case fromHome:
				filled = l.Can
			}
			switch {
			case math.Abs(float64(had+filled-l.Can)) > drop:
				t.Fatalf("leg %d: at the high use %v L in the can, %v filled, in the plan %v", i, had, filled, l.Can)
			case filled < 0 || l.Can > size+drop || l.Poured < 0 || l.Poured > l.Can+drop:
				t.Fatalf("leg %d: %v L filled, %v in a can of %v, %v poured", i, filled, l.Can, size, l.Poured)
			case l.Poured > 0 && l.Lack() <= 0:
				t.Fatalf("leg %d is OK without the can, and %v L are poured", i, l.Poured)
			case fails(p, i) && l.Can < size-drop && (l.FromVisit >= 0 || fromHome):
				t.Fatalf("leg %d fails with %v L in a can of %v", i, l.Can, size)
			}
			had = l.Can
			if left := l.Start - l.Drink.Fuel.High; l.Poured > 0 || l.Lack() > 0 && left < 1 {
				had = max(0, min(l.Can, left+l.Can-usable))
			}
		}
	})
}
