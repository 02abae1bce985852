package learn_test

import (
	"math"
	"testing"

	"lastpump/fuel"
	"lastpump/fuel/learn"
)

// posterior gives mean and standard deviation of the thirst by adding up what is likely on
// a fine grid, and nothing of the filter.
func posterior(mean, sd float64, likelihood func(theta float64) float64) (m, s float64) {
	var all, first, second float64
	const steps = 4000
	for i := range steps + 1 {
		x := mean + sd*(float64(i)/steps*16-8)
		p := math.Exp(-(x-mean)*(x-mean)/(2*sd*sd)) * likelihood(x)
		all, first, second = all+p, first+p*x, second+p*x*x
	}
	m = first / all
	return m, math.Sqrt(second/all - m*m)
}

func normal(x, sd float64) float64 { return math.Exp(-x * x / (2 * sd * sd)) }

// After one tank as expected the thirst is known as this.
func afterOne(b fuel.Bike) (s learn.State, drifted float64) {
	s, _ = learn.New(b).Learn(learn.Tank{Needs: paved(10), Litres: 10})
	return s, math.Sqrt(s.SDTheta()*s.SDTheta() + .03*.03)
}

// It did not run dry on so many litres: a normal distribution cut off at one side, and not
// sharply. By numerical integration.
func TestDidNotRunDry(t *testing.T) {
	for _, litres := range []float64{6, 8, 9, 10, 11, 14, 30} {
		s, sd := afterOne(bigBike())
		r := math.Sqrt(s.Tau()*s.Tau() + 2*.3*.3/(litres*litres))
		mean, want := posterior(s.Theta(), sd, func(theta float64) float64 {
			return math.Erfc(-(math.Log(litres/10)-theta)/r/math.Sqrt2) / 2
		})
		got, _ := s.LearnOpen(learn.Open{Rode: &learn.Reach{Needs: paved(10), Litres: fuel.Litres(litres)}})
		digits(t, "θ", got.Theta(), mean, 1e-6)
		digits(t, "sd θ", got.SDTheta(), want, 1e-6)
		if got.Tanks() != s.Tanks() || got.DoF() != s.DoF() {
			t.Errorf("it counts as a tank")
		}
	}
	s, _ := afterOne(bigBike())
	got, _ := s.LearnOpen(learn.Open{Rode: &learn.Reach{Needs: paved(10), Litres: .01}})
	if math.IsNaN(got.Theta()) || !(got.SDTheta() > 0) {
		t.Errorf("what cannot be gives %v, %v", got.Theta(), got.SDTheta())
	}
}

// It ran dry at the end of its litres: as sure as a tank from brim to brim. By numerical
// integration.
func TestRanDry(t *testing.T) {
	s, sd := afterOne(bigBike())
	mean, want := posterior(s.Theta(), sd, func(theta float64) float64 {
		return normal(math.Log(11/10.)-theta, math.Sqrt(s.Tau()*s.Tau()+2*.3*.3/(11*11)))
	})
	got, _ := s.LearnOpen(learn.Open{Dry: &learn.Reach{Needs: paved(10), Litres: 11}})
	digits(t, "θ", got.Theta(), mean, 1e-6)
	digits(t, "sd θ", got.SDTheta(), want, 1e-6)
}

// The lamp comes on with 4 L left, give or take half a litre, of 39.5 usable ones: so it
// tells of 35.5 L, give or take that and the scatter. By numerical integration over both.
func TestLamp(t *testing.T) {
	b := lampBike()
	s, sd := afterOne(b)
	planned := 34.0
	r := math.Sqrt(s.Tau()*s.Tau() + 2*.3*.3/(35.5*35.5))
	mean, want := posterior(s.Theta(), sd, func(theta float64) (sum float64) {
		for left := 1.5; left <= 6.5; left += .02 {
			sum += normal(left-4, .5) * normal(math.Log((39.5-left)/planned)-theta, r)
		}
		return sum
	})
	open := learn.Open{Marks: []learn.Mark{{Needs: paved(34)}}}
	got, _ := s.LearnOpen(open)
	digits(t, "θ", got.Theta(), mean, 2e-4) // the logarithm is taken as straight
	digits(t, "sd θ", got.SDTheta(), want, 2e-4)

	without := b
	without.LampAt = 0
	s, _ = afterOne(without)
	if got, _ := s.LearnOpen(open); got.Theta() != s.Theta() {
		t.Errorf("a lamp that the file does not have tells %v", got.Theta())
	}
}

// A lamp of a tank that is then filled up tells of the lamp alone: the thirst is as without
// it. Lamps that come on early, tank after tank, show in what is left then.
func TestLampOfAFullTank(t *testing.T) {
	b := lampBike()
	with, without := learn.New(b), learn.New(b)
	for range 12 {
		// 33 L of 39.5 are burnt when the lamp comes on: 6.5 are left.
		with, _ = with.Learn(learn.Tank{Needs: paved(36), Litres: 36, Marks: []learn.Mark{{Needs: paved(33)}}})
		without, _ = without.Learn(learn.Tank{Needs: paved(36), Litres: 36})
	}
	if with.Theta() != without.Theta() || with.SDTheta() != without.SDTheta() || with.Tau() != without.Tau() {
		t.Errorf("the lamp moved the thirst: %v, without it %v", with.Theta(), without.Theta())
	}
	left, sd, ok := with.Left(false)
	if !ok || !(left > 4.4 && left < 6.5) || !(sd < .49) {
		t.Errorf("left at the lamp %v ± %v, %v", left, sd, ok)
	}
	if tap, _, _ := with.Left(true); tap != 3 {
		t.Errorf("the lamp moved what is left at the tap: %v", tap)
	}
}

// Two taps and lamps do not come on where nothing was burnt, or more than there is.
func TestMarksThatTellNothing(t *testing.T) {
	s, _ := afterOne(lampBike())
	for _, m := range []learn.Mark{{}, {Needs: paved(200)}, {Needs: paved(1), Tap: true}} {
		if got, _ := s.LearnOpen(learn.Open{Marks: []learn.Mark{m}}); got.Theta() != s.Theta() {
			t.Errorf("%+v moves the thirst to %v", m, got.Theta())
		}
	}
}

// A fill is missing where even a frugal bike needs more than tank and can hold: 0.82 times
// the plan, at 1.645 of 0.12.
func TestFillSeemsMissing(t *testing.T) {
	b := fuel.DefaultBike() // 13.5 L usable
	b.Can = 2
	border := fuel.Litres(15.5 * math.Exp(1.644854*.12))
	for _, x := range []struct {
		planned, poured fuel.Litres
		missing         bool
	}{{border * .9999, 0, false}, {border * 1.0001, 0, true}, {border * 1.0001, 3, false}} {
		s, step := learn.New(b).Learn(learn.Tank{Needs: paved(x.planned), Litres: 13.9, Poured: x.poured})
		if (step.Why == learn.FillMissing) != x.missing || step.Used == x.missing {
			t.Errorf("%.4f L planned, %v L poured: %+v", x.planned, x.poured, step)
		}
		if x.missing && s.Theta() != 0 {
			t.Error("it was learnt from")
		}
	}
}

// What is not to be learnt from leaves all as it is, but for the drift.
func TestTanksNotLearntFrom(t *testing.T) {
	s, sd := afterOne(bigBike())
	for why, x := range map[learn.Why]learn.Tank{
		learn.FillNotWritten: {Needs: paved(10), Litres: 10, Not: learn.FillNotWritten},
		learn.LitresUnknown:  {Needs: paved(10)},
		learn.NothingRidden:  {Litres: 10},
		learn.TooFarOff:      {Needs: paved(10), Litres: 21},
	} {
		got, step := s.Learn(x)
		if step.Used || step.Why != why || step.HasOff() != (why == learn.TooFarOff) {
			t.Errorf("%s: %+v", why, step)
		}
		digits(t, "θ", got.Theta(), s.Theta(), 0)
		digits(t, "sd θ", got.SDTheta(), sd, 1e-15)
		if got.Tanks() != 2 || got.DoF() != s.DoF() {
			t.Errorf("%s: %d tanks, %v", why, got.Tanks(), got.DoF())
		}
	}
}
