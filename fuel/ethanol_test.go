package fuel_test

import (
	"testing"

	"lastpump/fuel"
)

// US Department of Energy, AFDC fuel property table, lower heating values per US
// gallon.
const (
	doePetrol  = 115000.0 // Btu
	doeEthanol = 76000.0  // Btu
)

// btuPerGallon turns Btu per US gallon into MJ per litre. The international
// Btu of 1055.055 852 62 J is from memory.
func btuPerGallon(n float64) float64 { return n * 1055.05585262 / float64(fuel.USGallon) / 1e6 }

func TestHeatingValues(t *testing.T) {
	near(t, "petrol, MJ/L", btuPerGallon(doePetrol), 32.0524, 1e-3)
	near(t, "ethanol, MJ/L", btuPerGallon(doeEthanol), 21.1824, 1e-3)
	near(t, "ethanol ÷ petrol", doeEthanol/doePetrol, 0.6609, 5e-5)
}

// The energy of a blend goes by volume. All of the published pairs of heating
// values give 0.966 for E10 to three digits; DOE prints 96.7 %.
func TestEthanolEnergy(t *testing.T) {
	for e, want := range map[fuel.Ethanol]float64{
		0: 1, 0.05: 0.9830, 0.10: 0.9661, 0.15: 0.9491, 0.27: 0.9084,
	} {
		near(t, "energy", e.Energy(), want, 5e-5)
		near(t, "energy, in full", e.Energy(), 1-float64(e)+float64(e)*doeEthanol/doePetrol, exactly)
	}
	near(t, "E10 ÷ E0", fuel.Ethanol(0.10).Energy(), 0.966, 1e-3)
}

func TestEthanolFactor(t *testing.T) {
	for _, c := range []struct {
		measured, ridden fuel.Ethanol
		want             float64
	}{
		{0, 0, 1},
		{0.10, 0.10, 1},
		{0, 0.10, 1.0351},   // 1/0.96609
		{0.05, 0.10, 1.017}, // 0.9830/0.9661, rounded
		{0.10, 0, 0.9661},
	} {
		b := checkBike()
		b.MeasuredOn, b.RiddenOn = c.measured, c.ridden
		near(t, "factor", b.EthanolFactor(), c.want, 1e-3)
		in := func(e fuel.Ethanol) float64 { return btuPerGallon((1-float64(e))*doePetrol + float64(e)*doeEthanol) }
		near(t, "factor, from the energies", b.EthanolFactor(), in(c.measured)/in(c.ridden), exactly)
	}
}
