package learn_test

import (
	"math"
	"testing"

	"lastpump/fuel"
	"lastpump/fuel/learn"
	"lastpump/route"
)

// bigBike is a bike whose tank holds all that is filled in these examples.
func bigBike() fuel.Bike {
	b := fuel.DefaultBike()
	b.Tank = 40
	return b
}

func paved(litres fuel.Litres) fuel.Needs {
	return fuel.SureNeeds(map[route.Ground]fuel.Litres{route.Paved: litres}, 0)
}

// digits checks a number to 1 in the last digit printed.
func digits[T ~float64](t *testing.T, what string, got T, want, last float64) {
	t.Helper()
	if !(math.Abs(float64(got)-want) <= last) {
		t.Errorf("%s = %.6f, want %v", what, got, want)
	}
}

// The first worked example of the description of the filter, calculated apart from this
// program: four tanks on paved road, one of them a slip.
func TestWorkedOnPavedRoad(t *testing.T) {
	s := learn.New(bigBike())
	leg := s.Ahead(paved(12.6))
	digits(t, "low before", leg.Low, 9.6409, 1e-4)
	digits(t, "likely before", leg.Likely, 12.6, 1e-9)
	digits(t, "high before", leg.High, 16.4673, 1e-4)
	for i, x := range []struct {
		planned, filled          fuel.Litres
		v, v2, r, w, th, sd, tau float64
	}{
		{8.0, 8.7, .0839, .014400, .007278, 1, .0557, .0695, .0673},
		{6.8, 7.0, -.0267, .005735, .008206, 1, .0447, .0581, .0640},
		{7.4, 12.9, .5110, .004276, .005184, .1582, .1037, .0615, .0772},
		{5.2, 5.6, -.0296, .004682, .011707, 1, .0952, .0578, .0741},
	} {
		var step learn.Step
		s, step = s.Learn(learn.Tank{Needs: paved(x.planned), Litres: x.filled})
		if !step.Used || s.Tanks() != i+1 {
			t.Errorf("tank %d is not used: %+v", i+1, step)
		}
		digits(t, "v", step.Off, x.v, 1e-4)
		digits(t, "V", step.V, x.v2, 1e-6)
		digits(t, "R", step.R, x.r, 1e-6)
		digits(t, "w", step.Weight, x.w, 1e-4)
		digits(t, "θ", s.Theta(), x.th, 1e-4)
		digits(t, "sd θ", s.SDTheta(), x.sd, 1e-4)
		digits(t, "τ", s.Tau(), x.tau, 1e-4)
	}
	leg = s.Ahead(paved(12.6))
	digits(t, "low", leg.Low, 11.5758, 1e-4)
	digits(t, "likely", leg.Likely, 13.8591, 1e-4)
	digits(t, "high", leg.High, 16.5928, 1e-4)
	digits(t, "sd", leg.SD, .1010, 1e-4)
	digits(t, "t", s.T(), 1.7817, 1e-4)
	sum := s.Ahead(paved(12.6), paved(4.1), paved(3.7))
	digits(t, "low of three", sum.Low, 19.3139, 1e-4)
	digits(t, "likely of three", sum.Likely, 22.4386, 1e-4)
	digits(t, "high of three", sum.High, 26.0689, 1e-4)
	digits(t, "sd of three", sum.SD, .0842, 1e-4)

	after, step := s.Learn(learn.Tank{Needs: paved(8), Litres: 18.6})
	if step.Used || step.Why != learn.TooFarOff || after.Theta() != s.Theta() {
		t.Errorf("18.6 L for 8.0: %+v, θ %v", step, after.Theta())
	}
	digits(t, "variance of θ with a drift more", after.SDTheta()*after.SDTheta(), s.SDTheta()*s.SDTheta()+.03*.03, 1e-12)
}

// The second: three tanks on several grounds.
func TestWorkedOnGrounds(t *testing.T) {
	s := learn.New(bigBike())
	type flat = map[route.Ground]fuel.Litres
	for i, x := range []struct {
		flat          flat
		climb, filled fuel.Litres
		th            float64
	}{
		{flat{route.Paved: 2, route.PackedGravel: 1.5, route.Dirt: 3.5}, .3, 8.1, .0619},
		{flat{route.Paved: 1, route.Dirt: 2, route.Sand: 3.6}, .2, 8.9, .1024},
		{flat{route.PackedGravel: 4, route.LooseGravel: 2.5}, .5, 7.5, .0895},
	} {
		var step learn.Step
		s, step = s.Learn(learn.Tank{Needs: fuel.SureNeeds(x.flat, x.climb), Litres: x.filled})
		digits(t, "θ", s.Theta(), x.th, 1e-4)
		if i == 1 {
			digits(t, "w", step.Weight, .9272, 1e-4)
		}
	}
	digits(t, "sd θ", s.SDTheta(), .0633, 1e-4)
	digits(t, "τ", s.Tau(), .0661, 1e-4)
	for _, g := range s.Grounds() {
		switch g.Ground {
		case route.PackedGravel:
			digits(t, "u packed-gravel", g.U, -.0029, 1e-4)
		case route.LooseGravel:
			digits(t, "u loose-gravel", g.U, -.0065, 1e-4)
		case route.Dirt:
			digits(t, "u dirt", g.U, .0228, 1e-4)
			digits(t, "sd dirt", g.SD, .0878, 1e-4)
		case route.Sand:
			digits(t, "u sand", g.U, .2239, 1e-4)
			digits(t, "sd sand", g.SD, .1560, 1e-4)
			digits(t, "low sand", g.Weight.Low, 2.0036, 1e-4)
			digits(t, "likely sand", g.Weight.Likely, 2.2518, 1e-4)
			digits(t, "high sand", g.Weight.High, 2.9885, 1e-4)
			if g.Standing != fuel.PartlyYours {
				t.Errorf("sand is %s", g.Standing)
			}
		default:
			if g.U != 0 || g.Share != 1 || g.Standing != fuel.General {
				t.Errorf("%s was not ridden: %+v", g.Ground, g)
			}
		}
	}
	leg := s.Ahead(fuel.SureNeeds(flat{route.Dirt: 3, route.Sand: 2}, .2))
	digits(t, "low", leg.Low, 5.1476, 1e-4)
	digits(t, "likely", leg.Likely, 6.3112, 1e-4)
	digits(t, "high", leg.High, 7.7378, 1e-4)
}

// The description of the filter, "State": the doubt about each ground at the start, and
// "What is ahead": high ÷ likely on one paved leg, before and after tanks as expected.
func TestDoubtsOfTheDescription(t *testing.T) {
	want := map[route.Ground]float64{
		route.PackedGravel: .0545, route.LooseGravel: .0941, route.Dirt: .0941, route.Soft: .1270, route.Rocky: .1681,
		route.Mud: .2262, route.Sand: .2435, route.DeepSand: .2183, route.Snow: .2053,
	}
	b := bigBike()
	for _, g := range learn.New(b).Grounds() {
		digits(t, string(g.Ground), g.SD, want[g.Ground], 1e-4)
	}
	ratio := func(s learn.State) float64 {
		a := s.Ahead(paved(12.6))
		return float64(a.High / a.Likely)
	}
	s := learn.New(b)
	digits(t, "a maker's figure", ratio(s), 1.31, .01)
	own := b
	own.ConsumptionTanks = 2
	digits(t, "a measured one", ratio(learn.New(own)), 1.21, .01)
	for n := 1; n <= 10; n++ {
		s, _ = s.Learn(learn.Tank{Needs: paved(12.6), Litres: 12.6})
		if want, ok := map[int]float64{1: 1.22, 3: 1.18, 10: 1.16}[n]; ok {
			t.Logf("after %d tanks just as expected %.4f; the measured %v", n, ratio(s), want)
			digits(t, "after tanks just as expected", ratio(s), want, .04) // those measured scatter
		}
	}
}

// Student's t, 95th percentile, as tables of statistics have it (from memory): 8, 10 and 20
// degrees of freedom.
func TestT(t *testing.T) {
	s := learn.New(bigBike())
	for n := 0; n <= 12; n++ {
		if want, ok := map[int]float64{0: 1.8595, 2: 1.8125, 12: 1.7247}[n]; ok {
			digits(t, "t", s.T(), want, .002+5e-5)
		}
		s, _ = s.Learn(learn.Tank{Needs: paved(10), Litres: 10})
	}
}
