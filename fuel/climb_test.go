package fuel_test

import (
	"testing"

	"lastpump/fuel"
)

// Lifting 260 kg by 1000 m at an efficiency of 0.25 (our estimate): m·g·h/(η·H)
// with g = 9.806 65 m/s² exactly (standard acceleration: from memory) and
// H = 32.05 MJ/L.
func TestClimbFromItsFormula(t *testing.T) {
	b := checkBike()
	const joules = 260 * 9.80665 * 1000
	near(t, "1000 m", b.Climb(1000), joules/(0.25*32.05e6), exactly)
	// With H rounded to 32.0 the hand-made table has 0.319 L.
	near(t, "1000 m, by the table", b.Climb(1000), 0.319, 0.001)
}

// H is that of the 115 000 Btu per US gallon of the DOE, AFDC fuel property
// table, rounded to 0.01 MJ/L: half of that in 32 is the tolerance.
func TestClimbHeatIsTheSourcesOwn(t *testing.T) {
	b := checkBike()
	const joules = 260 * 9.80665 * 1000
	near(t, "MJ/L", joules/(0.25*1e6)/float64(b.Climb(1000)), btuPerGallon(doePetrol), 0.005)
}

// The hand-made table of litres per 1000 m at an efficiency of 0.25, H = 32.0.
func TestClimbByMass(t *testing.T) {
	for mass, want := range map[fuel.Kilograms]fuel.Litres{220: 0.270, 260: 0.319, 300: 0.368} {
		b := checkBike()
		b.LoadedMass = mass
		near(t, "1000 m", b.Climb(1000), want, 0.001)
		near(t, "500 m", 2*b.Climb(500), b.Climb(1000), exactly)
	}
	if got := checkBike().Climb(0); got != 0 {
		t.Errorf("level ground takes %v L for its climb", got)
	}
}
