package fuel_test

import (
	"errors"
	"math"
	"testing"

	"lastpump/route/input"

	"lastpump/fuel"
	"lastpump/octane"

	"github.com/google/go-cmp/cmp"
)

// What the model fixes for a bike that does not say otherwise: 0.5 L unusable,
// 260 kg loaded, E10 measured and ridden on; and of the bike planned for where
// none is given, 14 L, 4.5 L/100 km, 95 RON. Our estimate.
func TestDefaultBike(t *testing.T) {
	want := fuel.Bike{
		Tank: 14, Unusable: 0.5, Consumption: 4.5, Odometer: 1, LoadedMass: 260,
		Needs: octane.FromRON(95), MeasuredOn: 0.10, RiddenOn: 0.10,
	}
	got := fuel.DefaultBike()
	if got.Name == "" {
		t.Error("the default bike has no name to be shown by")
	}
	got.Name = ""
	if diff := cmp.Diff(want, got); diff != "" {
		t.Errorf("default bike (- the model, + code):\n%s", diff)
	}
	if err := got.Check(); err != nil {
		t.Errorf("the default bike cannot be: %v", err)
	}
	near(t, "usable", got.Usable(), 13.5, 0)
}

func TestCheckRefuses(t *testing.T) {
	nan, inf := math.NaN(), math.Inf(1)
	for name, spoil := range map[string]func(*fuel.Bike){
		"no tank":               func(b *fuel.Bike) { b.Tank = 0 },
		"negative tank":         func(b *fuel.Bike) { b.Tank = -14 },
		"tank NaN":              func(b *fuel.Bike) { b.Tank = fuel.Litres(nan) },
		"endless tank":          func(b *fuel.Bike) { b.Tank = fuel.Litres(inf) },
		"all unusable":          func(b *fuel.Bike) { b.Unusable = 14 },
		"negative unusable":     func(b *fuel.Bike) { b.Unusable = -0.1 },
		"unusable NaN":          func(b *fuel.Bike) { b.Unusable = fuel.Litres(nan) },
		"no consumption":        func(b *fuel.Bike) { b.Consumption = 0 },
		"negative consumption":  func(b *fuel.Bike) { b.Consumption = -4.5 },
		"consumption NaN":       func(b *fuel.Bike) { b.Consumption = fuel.Consumption(nan) },
		"endless consumption":   func(b *fuel.Bike) { b.Consumption = fuel.Consumption(inf) },
		"odometer too low":      func(b *fuel.Bike) { b.Odometer = math.Nextafter(0.8, 0) },
		"odometer too high":     func(b *fuel.Bike) { b.Odometer = math.Nextafter(1.25, 2) },
		"odometer NaN":          func(b *fuel.Bike) { b.Odometer = nan },
		"too light":             func(b *fuel.Bike) { b.LoadedMass = fuel.Kilograms(math.Nextafter(50, 0)) },
		"too heavy":             func(b *fuel.Bike) { b.LoadedMass = fuel.Kilograms(math.Nextafter(1000, 2000)) },
		"mass NaN":              func(b *fuel.Bike) { b.LoadedMass = fuel.Kilograms(nan) },
		"negative can":          func(b *fuel.Bike) { b.Can = -1 },
		"can of over 60 L":      func(b *fuel.Bike) { b.Can = fuel.Litres(math.Nextafter(60, 61)) },
		"can NaN":               func(b *fuel.Bike) { b.Can = fuel.Litres(nan) },
		"need without a number": func(b *fuel.Bike) { b.Needs = octane.Grade{} },
	} {
		t.Run(name, func(t *testing.T) {
			b := fuel.DefaultBike()
			spoil(&b)
			var ie *input.Error
			if err := b.Check(); !errors.As(err, &ie) || ie.What == "" || ie.Hint == "" || ie.File != "" {
				t.Errorf("error %#v, want a *input.Error without a file, with a hint", err)
			}
		})
	}
}

// The borders themselves are allowed.
func TestCheckAtTheBorders(t *testing.T) {
	for name, set := range map[string]func(*fuel.Bike){
		"odometer 0.8":       func(b *fuel.Bike) { b.Odometer = 0.8 },
		"odometer 1.25":      func(b *fuel.Bike) { b.Odometer = 1.25 },
		"50 kg":              func(b *fuel.Bike) { b.LoadedMass = 50 },
		"1000 kg":            func(b *fuel.Bike) { b.LoadedMass = 1000 },
		"60 L of cans":       func(b *fuel.Bike) { b.Can = 60 },
		"all usable":         func(b *fuel.Bike) { b.Unusable = 0 },
		"a last drop usable": func(b *fuel.Bike) { b.Unusable = fuel.Litres(math.Nextafter(14, 0)) },
	} {
		b := fuel.DefaultBike()
		set(&b)
		if err := b.Check(); err != nil {
			t.Errorf("%s: %v", name, err)
		}
	}
}
