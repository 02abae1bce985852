package plan_test

import (
	"math"
	"testing"

	"lastpump/fuel"
	"lastpump/fuel/leg"
	"lastpump/fuel/stop"
	"lastpump/fuel/trip"
	"lastpump/octane"
	"lastpump/route"
)

// 200 km to the last drop on 10 L; the high figure is 1.05 × 1.10 of the likely
// (weights of paved ground and the spread, both our estimate).
func TestVerdicts(t *testing.T) {
	for _, c := range []struct {
		km      int
		reserve leg.Reserve
		want    leg.Verdict
	}{
		{100, leg.Reserve{}, leg.OK},
		{173, leg.Reserve{}, leg.OK},    // high 173 × 1.155 = 199.8 km
		{174, leg.Reserve{}, leg.Tight}, // high 201.0 km: dry at the high figure
		{199, leg.Reserve{}, leg.Tight},
		{201, leg.Reserve{}, leg.Short},
		{149, leg.Reserve{Share: 0.25}, leg.OK},
		{151, leg.Reserve{Share: 0.25}, leg.Tight},
		{149, leg.Reserve{Distance: 50000}, leg.OK},
		{151, leg.Reserve{Distance: 50000}, leg.Tight},
		{151, leg.Reserve{Share: 0.25, Distance: 10000}, leg.Tight}, // the larger counts
	} {
		in := ride(straight(t, c.km))
		in.Options.Reserve = c.reserve
		l := make1(t, in).Legs[0]
		if l.Verdict != c.want {
			t.Errorf("%d km with %+v kept: %s, want %s", c.km, c.reserve, l.Verdict, c.want)
		}
		wantNear(t, "arrives", float64(l.Arrive), 10-0.05*float64(c.km))
		wantNear(t, "kept", float64(l.Kept), max(c.reserve.Share*10, c.reserve.Distance.Kilometres()*0.05))
		wantNear(t, "headroom", l.Headroom, 200/float64(c.km)-1)
	}
}

// The borders from both sides, to the last bit of the fuel in the tank.
func TestVerdictBorders(t *testing.T) {
	in := ride(straight(t, 100))
	in.Options.HasStartFuel = true
	with := func(l fuel.Litres) trip.Leg {
		in.Options.StartFuel = l
		return make1(t, in).Legs[0]
	}
	drink := with(10).Drink.Fuel
	need, high := drink.Likely, drink.High
	below := func(l fuel.Litres) fuel.Litres { return fuel.Litres(math.Nextafter(float64(l), 0)) }
	if v := with(high).Verdict; v != leg.OK {
		t.Errorf("just the high figure: %s", v)
	}
	if v := with(below(high)).Verdict; v != leg.Tight {
		t.Errorf("one ulp less: %s", v)
	}
	if v := with(need).Verdict; v != leg.Tight {
		t.Errorf("just the need: %s", v)
	}
	if l := with(below(need)); l.Verdict != leg.Short || l.Short <= 0 {
		t.Errorf("one ulp less: %s", l.Verdict)
	}
}

func TestAfterAShortLegTheNextStartsFull(t *testing.T) {
	p := make1(t, ride(straight(t, 300), pump("far", 250, 0)))
	if p.Legs[0].Verdict != leg.Short || p.Legs[1].Start != 10 || p.Legs[1].Verdict != leg.OK {
		t.Errorf("legs %+v", p.Legs)
	}
	wantNear(t, "short by", float64(p.Legs[0].Short), 2.5)
	wantNear(t, "fill", float64(visit(t, p, "far").Fill.Litres), 10)
	if p.Holds() {
		t.Error("a plan with a SHORT leg holds")
	}
}

func TestStartFuel(t *testing.T) {
	in := ride(straight(t, 100))
	in.Options.SinceFill = 60000
	wantNear(t, "since fill", float64(make1(t, in).Legs[0].Start), 10-60*0.05)
	in.Options.SinceFill = 600000
	wantNear(t, "since a fill longer ago than a tank", float64(make1(t, in).Legs[0].Start), 0)
	// A pump at the trailhead fills what is missing.
	in = ride(straight(t, 100), pump("trailhead", 0, 0.1))
	in.Options.HasStartFuel, in.Options.StartFuel = true, 4
	p := make1(t, in)
	wantNear(t, "start at the trailhead", float64(p.Legs[0].Start), 10)
	wantNear(t, "fill there", float64(p.Visits[0].Fill.Litres), 6)
}

func TestTripFigures(t *testing.T) {
	in := ride(straight(t, 120), pump("ford", 60, 1))
	in.Options.Reserve = leg.Reserve{Share: 0.2}
	in.Bike.Odometer, in.Bike.TrueRate = 1.03, true
	p := make1(t, in)
	half := visit(t, p, "ford").Detour.Kilometres() / 2
	first, second := p.Legs[0], p.Legs[1]
	// 160 km to the reserve, 200 km to the last drop: past the end of the line.
	wantNear(t, "safe to", first.SafeTo.Kilometres(), 160*1.03)
	wantNear(t, "dry at", first.DryAt.Kilometres(), 200*1.03)
	// 80 km out and back: more than the leg, so its whole length.
	wantNear(t, "turn back", first.TurnBack.Kilometres(), (60+half)*1.03)
	wantNear(t, "second leg", second.Drink.Ridden.Kilometres(), 60+half)
	wantNear(t, "safe to from the ford", second.SafeTo.Kilometres(), 160*1.03)
}

func TestTurnBackOnTheWay(t *testing.T) {
	in := ride(straight(t, 190), pump("ford", 20, 1))
	in.Options.Reserve = leg.Reserve{Share: 0.2}
	p := make1(t, in)
	l := p.Legs[1]
	wantNear(t, "turn back", l.TurnBack.Kilometres(), 80) // 8 L out and back
	half := visit(t, p, "ford").Detour.Kilometres() / 2
	wantNear(t, "there, km north", (l.TurnBackAt.Lat()-40)*perDegree, 20+80-half)
	in.Options.Reserve = leg.Reserve{Distance: 400000}
	wantNear(t, "with nothing over the reserve", float64(make1(t, in).Legs[1].TurnBack), 0)
}

// Climbing out and rolling back: m·g·h/(η·H) is 0.318 L for 260 kg and 1000 m
// (facts of physics; efficiency 0.25 is our estimate), and counts one way only.
func TestClimbsCountOneWay(t *testing.T) {
	var points []route.Point
	for k := range 101 {
		points = append(points, route.Point{Point: at(float64(k), 0), Ele: 20 * float64(k), HasEle: true})
	}
	in := ride(lineThrough(t, points), pump("top", 100, 0))
	in.Options.Reserve = leg.Reserve{}
	up := make1(t, in).Legs[0]
	climb := 260 * 9.80665 * 2000 / (0.25 * 32.05e6)
	wantNear(t, "up", float64(up.Drink.Fuel.Likely), 5+climb)
	wantNear(t, "back", float64(up.Drink.Back.Likely), 5)
	wantNear(t, "ascent", float64(up.Drink.Up), 2000)
	// Out with the climb, back without: 10 L = x (0.05 + climb/100 + 0.05).
	wantNear(t, "turn back", up.TurnBack.Kilometres(), min(100, 10/(0.1+climb/100)))
}

func TestDryPlaces(t *testing.T) {
	for _, c := range []struct {
		name    string
		pumps   []float64
		length  int
		outcome leg.Outcome
		to      string
		spare   float64
		bare    bool
	}{
		{"on", []float64{50, 100}, 150, leg.On, "1", 10 - 5, false},
		{"on, but not at the high figure", []float64{90, 180}, 200, leg.On, "1", 1, true},
		{"back", []float64{90, 240}, 300, leg.Back, "start", 1, true},
		{"back on all figures", []float64{50, 240}, 300, leg.Back, "start", 5, false},
		{"stranded, the last nearer", []float64{150, 310}, 350, leg.Stranded, "start", -5, false},
		{"stranded, the next nearer", []float64{150, 260}, 350, leg.Stranded, "1", -3, false},
		{"to the end", []float64{100}, 150, leg.On, "end", 2.5, false},
		{"after a SHORT leg", []float64{220, 400}, 400, leg.Stranded, "1", -1 - 9, false},
	} {
		var stops []float64
		stops = append(stops, c.pumps...)
		in := ride(straight(t, c.length))
		for i, km := range stops {
			in.Stops = append(in.Stops, pump(string(rune('0'+i)), km, 0))
		}
		p := make1(t, in)
		dry := p.Visits[0].IfDry
		if dry.Outcome != c.outcome || key(p, dry.To) != c.to && !(c.to == "1" && key(p, dry.To) == "end") || dry.Bare != c.bare {
			t.Errorf("%s: %+v", c.name, *dry)
		}
		wantNear(t, c.name+": spare", float64(dry.Spare), c.spare)
	}
}

func TestLastFuel(t *testing.T) {
	paper := pump("paper", 60, 0)
	paper.Standing = stop.Map
	p := make1(t, ride(straight(t, 640), pump("first", 20, 0), pump("before paper", 40, 0), paper, pump("before far", 80, 0),
		pump("far", 230, 0), pump("farther", 300, 0), pump("before tight", 320, 0), pump("tight", 510, 0), pump("end is far", 520, 0)))
	for name, want := range map[string]bool{
		"first":        false,
		"before paper": true,  // the next is only from a map
		"paper":        false, // it is not sure itself
		"before far":   true,  // far, if dry, is stranded: 2.5 L left, 70 km on
		"far":          false,
		"farther":      true,  // before tight, if dry, is back: 190 km on
		"before tight": true,  // 190 km to tight eat the margin
		"tight":        false, // the next, if dry, is 130 km from the end
		"end is far":   false, // the end is no place
	} {
		if v := visit(t, p, name); (v.LastFuel != nil) != want {
			t.Errorf("%s: last fuel %v, want %v", name, v.LastFuel, want)
		}
	}
}

func TestCan(t *testing.T) {
	for _, c := range []struct {
		pumps     []float64
		length    int
		plan, dry float64
		size      fuel.Litres
		tooBig    bool
	}{
		{nil, 100, 0, 0, 0, false},
		{nil, 174, 174*0.05*1.155 - 10, 174*0.05*1.155 - 10, 1, false},
		{nil, 240, 240*0.05*1.155 - 10, 240*0.05*1.155 - 10, 4, false},
		{nil, 300, 300*0.05*1.155 - 10, 300*0.05*1.155 - 10, 7.5, false},
		{nil, 600, 600*0.05*1.155 - 10, 600*0.05*1.155 - 10, 0, true},
		{[]float64{150, 260}, 350, 0, 3, 0, false}, // only a dry pump asks for it
	} {
		in := ride(straight(t, c.length))
		for i, km := range c.pumps {
			in.Stops = append(in.Stops, pump(string(rune('0'+i)), km, 0))
		}
		p := make1(t, in)
		wantNear(t, "for the plan", float64(p.Can.ForPlan), c.plan)
		wantNear(t, "for any dry pump", float64(p.Can.ForAnyDryPump), c.dry)
		if p.Can.SizeForPlan.Litres != c.size || p.Can.SizeForPlan.TooBig != c.tooBig {
			t.Errorf("%d km: size %+v, want %v", c.length, p.Can.SizeForPlan, c.size)
		}
	}
}

// The tank has room for 4 L at the low use after 4/(0.05 × 0.885) = 90.4 km;
// the high use leaves 1 L after 9/(0.05 × 1.155) = 155.8 km.
func TestPour(t *testing.T) {
	in := ride(straight(t, 240))
	p := make1(t, in)
	use := p.Can.Uses[0]
	wantNear(t, "litres", float64(use.Litres), 240*0.05*1.155-10)
	wantNear(t, "pour at", use.PourAt.Kilometres(), float64(use.Litres)/lowKm)
	in.Line = straight(t, 300)
	use = make1(t, in).Can.Uses[0]
	wantNear(t, "before it runs dry", use.PourAt.Kilometres(), min(float64(use.Litres)/lowKm, 9/(0.05*1.155)))
}

func TestOwnCanRidesWhereItIsNeeded(t *testing.T) {
	in := ride(straight(t, 300), pump("A", 60, 0), pump("B", 270, 0))
	in.Bike.Can = 3
	p := make1(t, in)
	if p.Legs[0].Can != 0 || p.Legs[1].Can != 3 || p.Legs[2].Can != 0 {
		t.Errorf("can rides full on %v, %v, %v L", p.Legs[0].Can, p.Legs[1].Can, p.Legs[2].Can)
	}
	// 210 km take 10.5 L of 13: the rest is 2.5, and 7.5 + 0 go in at B.
	wantNear(t, "arrives", float64(p.Legs[1].Arrive), 2.5)
	wantNear(t, "into the can at A", float64(visit(t, p, "A").Fill.Can), 3)
	wantNear(t, "into the tank at B", float64(visit(t, p, "B").Fill.Litres), 7.5)
	// The size advised is as if there were no can.
	wantNear(t, "advised", float64(p.Can.ForPlan), 210*0.05*1.155-10)
}

func TestMixture(t *testing.T) {
	low := octane.FromRON(92)
	p := make1(t, ride(straight(t, 300), pump("A", 100, 0, low), pump("B", 200, 0, low, octane.FromRON(95))))
	// 10.5 L of 95 at the start, the unusable included; 5.5 left at A, 5 of 92.
	first := (5.5*95 + 5*92) / 10.5
	wantNear(t, "after A", visit(t, p, "A").Mixture.Low, first)
	second := (5.5*first + 5*95) / 10.5 // 92 does not do, 95 is the highest sold
	b := visit(t, p, "B")
	wantNear(t, "after B", b.Mixture.Low, second)
	if b.Fill.Grade != octane.FromRON(95) || visit(t, p, "A").Fill.Verdict != octane.Below {
		t.Errorf("B: %+v", b.Fill)
	}
	if p.Legs[1].Mixture.Verdict != octane.Below || p.Holds() {
		t.Errorf("a leg on %v RON: %s", first, p.Legs[1].Mixture.Verdict)
	}
}

// A litre of 94 in 10.5 L would do for the mixture; where a grade that meets is sold, that
// is taken all the same.
func TestNoGradeBelowTheNeedWhereOneMeets(t *testing.T) {
	p := make1(t, ride(straight(t, 120), pump("A", 20, 0, octane.FromRON(98), octane.FromRON(94), octane.FromRON(80))))
	v := visit(t, p, "A")
	wantNear(t, "mixture", v.Mixture.Low, (9.5*95+1*98)/10.5)
	if v.Fill.Grade != octane.FromRON(98) || v.Fill.Verdict != octane.Meets || v.Mixture.Verdict != octane.Meets {
		t.Errorf("fill %+v, mixture %+v", v.Fill, v.Mixture)
	}
}

// The bike's own can is filled with the grade that serves. The tank is full of 98 and takes
// nothing at the pump by the start; 80 in a can of 1 L would leave the mixture at 96.4, but
// 95 is sold there.
func TestTheCanTakesTheGradeThatServes(t *testing.T) {
	in := ride(straight(t, 185), pump("home", 0, 0, octane.FromRON(80), octane.FromRON(95)))
	in.Bike.Can = 1
	in.Options.StartGrade = octane.FromRON(98)
	f := visit(t, make1(t, in), "home").Fill
	if f.Grade != octane.FromRON(95) || f.Can != 1 {
		t.Errorf("fill %+v", f)
	}
}

func TestUnknownGrade(t *testing.T) {
	s := pump("A", 100, 0)
	s.Grades = nil
	p := make1(t, ride(straight(t, 200), s))
	v := visit(t, p, "A")
	if v.Fill.HasGrade || v.Fill.Verdict != octane.NotKnown || v.Mixture.Verdict != octane.NotKnown {
		t.Errorf("fill %+v, mixture %+v", v.Fill, v.Mixture)
	}
	wantNear(t, "low", v.Mixture.Low, (5.5*95+5*80)/10.5)
	wantNear(t, "high", v.Mixture.High, 95)
}

// Petrol for the can comes from the same pump: with what is poured the leg must
// meet, so the better grade is taken although the tank alone would not ask for it.
func TestCanKeepsTheGradeOfItsFill(t *testing.T) {
	in := ride(straight(t, 220), pump("A", 0, 0.1, octane.FromRON(80), octane.FromRON(95)))
	in.Bike.Can = 3
	p := make1(t, in)
	if f := p.Visits[0].Fill; f.Grade != octane.FromRON(95) || f.Can != 3 {
		t.Errorf("fill %+v", f)
	}
	// Only 80 on sale: the leg is worse after pouring than before.
	in.Stops[0].Grades = []octane.Grade{octane.FromRON(80)}
	p = make1(t, in)
	if p.Visits[0].Mixture.Low != 95 || p.Legs[0].Mixture.Low > 92 {
		t.Errorf("before %v, on the leg %v", p.Visits[0].Mixture.Low, p.Legs[0].Mixture.Low)
	}
}

// 91 AKI serves an engine that asks for 95 RON, 87 does not (common practice, no
// source; RON is 4 to 5 above AKI).
func TestAKIForRON(t *testing.T) {
	for aki, want := range map[octane.AKI]octane.Verdict{91: octane.Meets, 87: octane.Below} {
		p := make1(t, ride(straight(t, 300), pump("A", 150, 0, octane.FromAKI(aki))))
		if v := visit(t, p, "A"); v.Fill.Verdict != want || v.Mixture.Verdict != want {
			t.Errorf("%v AKI: %s, mixture %s, want %s", aki, v.Fill.Verdict, v.Mixture.Verdict, want)
		}
	}
}

// Stops may be called as the ends of the ride are: the ends of a leg are told by what they
// are, not by a name.
func TestStopsCalledStartAndEnd(t *testing.T) {
	p := make1(t, ride(straight(t, 400), pump("A", 80, 0), pump("end", 160, 0), pump("start", 240, 0), pump("B", 320, 0)))
	none := len(p.Stops)
	for i, want := range []int{0, 1, 2, 3, none} { // the stop at the end of each leg, by its place in the list
		to := p.Legs[i].To
		if want == none && (to.Kind != trip.AtFinish || to.HasStop()) || want < none && (to.Kind != trip.AtStop || to.Stop != want) {
			t.Errorf("leg %d to %+v, want stop %d", i, to, want)
		}
		if i > 0 && p.Legs[i].From != p.Legs[i-1].To {
			t.Errorf("leg %d from %+v", i, p.Legs[i].From)
		}
	}
	if from := p.Legs[0].From; from.Kind != trip.AtStart || from.HasStop() {
		t.Errorf("from %+v", from)
	}
	if dry := visit(t, p, "A").IfDry; dry.To.Kind != trip.AtStop || p.Stops[dry.To.Stop].Name != "end" {
		t.Errorf("if A is dry: %+v", dry)
	}
}
