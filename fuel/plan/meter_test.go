package plan_test

import (
	"math"
	"testing"

	"lastpump/route"
)

// Figures on the trip meter hold however long the line is, within the error of its stretch:
// they are the soonest of those of lines that are known to be so long, from as short over as
// likely to as long. A pour fits at the latest of them. Who turns back can on every one of many
// lines between, which ends of sand and mud lie on otherwise, and loses a hundredth at the most.
func TestTripMeterWithinTheErrorOfTheStretch(t *testing.T) {
	var points []route.Point
	for i := range 2001 { // 200 km, bending every second point, over hills and in and out of sand
		km := float64(i) * 0.1
		points = append(points, route.Point{Point: at(km, 0.02*[]float64{0, 0, 1, 1}[i%4]),
			Ele: 300 * math.Sin(km/4), HasEle: true})
	}
	with := func(stretch float64) (*route.Line, []route.Metres) {
		l := lineWith(t, route.LineOptions{Stretch: stretch}, points)
		in := ride(l, pump("A", 165, 0))
		in.Grounds = route.Grounds{Sections: []route.Section{section(30, 60, route.Sand), section(90, 95, route.Mud)},
			Default: route.Paved}
		in.Bike.Can = 3
		p := make1(t, in)
		leg, use := p.Legs[0], p.Can.Uses[0]
		return l, []route.Metres{leg.DryAtHigh, leg.TurnBackHigh, use.PourBy, -use.FullAt}
	}
	l, got := with(0)
	s := l.Stretch
	if !(s.Low < s.Factor && s.Factor < s.High) {
		t.Fatalf("%+v", s)
	}
	want := []route.Metres{route.Metres(math.Inf(1)), route.Metres(math.Inf(1)), route.Metres(math.Inf(1)), route.Metres(math.Inf(1))}
	for _, known := range []float64{s.Low, (s.Low + s.Factor) / 2, s.Factor, (s.Factor + s.High) / 2, s.High} {
		_, figures := with(known)
		for i, f := range figures {
			want[i] = min(want[i], f)
		}
	}
	for i, what := range []string{"dry at", "turn back", "pour by", "fits from"} {
		if i != 1 {
			wantNear(t, what, got[i].Kilometres(), want[i].Kilometres())
		}
	}
	soonest := want[1]
	for i := range 81 {
		_, figures := with(s.Low + (s.High-s.Low)*float64(i)/80)
		soonest = min(soonest, figures[1])
	}
	if !(got[1] <= soonest+1e-6 && got[1] >= 0.99*soonest) {
		t.Errorf("turn back by %v, the soonest of all is %v", got[1], soonest)
	}
}
