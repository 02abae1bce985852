package fuel_test

import (
	"errors"
	"math"
	"testing"

	"lastpump/route/input"

	"lastpump/fuel"
	"lastpump/octane"
	"lastpump/route"

	"github.com/google/go-cmp/cmp"
)

// exactly is a few ulps of a product of three factors.
const exactly = 1e-12

// nearly is what a standard deviation that is given to seven digits leaves.
const nearly = 1e-6

// A tester is what a test and a property have in common.
type tester interface {
	Helper()
	Errorf(format string, args ...any)
}

// near checks a number against one from outside; the tolerance is absolute.
// Comparing with !(<=) lets no NaN through.
func near[T ~float64](t tester, what string, got, want T, tolerance float64) {
	t.Helper()
	if !(math.Abs(float64(got-want)) <= tolerance) {
		t.Errorf("%s = %v, want %v ± %v", what, got, want, tolerance)
	}
}

func finite[T ~float64](x T) bool { return !math.IsNaN(float64(x)) && !math.IsInf(float64(x), 0) }

// nearFigures checks three litres at once.
func nearFigures(t tester, what string, got, want fuel.Figures, tolerance float64) {
	t.Helper()
	near(t, what+" low", got.Low, want.Low, tolerance)
	near(t, what+" likely", got.Likely, want.Likely, tolerance)
	near(t, what+" high", got.High, want.High, tolerance)
}

// closely lets numbers differ by a few ulps.
var closely = cmp.Options{
	within[float64](), within[fuel.Litres](), within[fuel.Consumption](), within[fuel.Kilograms](), within[fuel.Ethanol](),
}

func within[T ~float64]() cmp.Option {
	return cmp.Comparer(func(a, b T) bool { return math.Abs(float64(a-b)) <= exactly })
}

// wantRefused checks that a text was refused in these words and with this hint.
func wantRefused(t *testing.T, err error, what, hint string) {
	t.Helper()
	var bad *input.ValueError
	if !errors.As(err, &bad) {
		t.Errorf("error %v (%T), want a *input.ValueError: %s", err, err, what)
		return
	}
	if bad.Error() != what {
		t.Errorf("error\n  %s\nwant\n  %s", bad, what)
	}
	if bad.HintText() != hint {
		t.Errorf("%s: hint\n  %s\nwant\n  %s", what, bad.HintText(), hint)
	}
}

// checkBike is a bike of round figures, so that a rider can follow with a
// pencil: 4 L/100 km, the same petrol measured and ridden on, a true odometer.
func checkBike() fuel.Bike {
	return fuel.Bike{
		Tank: 14, Consumption: 4, Odometer: 1, LoadedMass: 260,
		Needs: octane.FromRON(95), MeasuredOn: 0.10, RiddenOn: 0.10,
	}
}

// level gives a run of ground from one kilometre to another, without climb.
func level(from, to float64, g route.Ground) route.Run {
	d := route.Kilometres(to - from)
	return route.Run{From: route.Kilometres(from), To: route.Kilometres(to), Ridden: d, RiddenLow: d, RiddenHigh: d, Ground: g}
}
