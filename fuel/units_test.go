package fuel_test

import (
	"errors"
	"math"
	"testing"

	"lastpump/fuel"

	"pgregory.net/rapid"
)

// NIST Handbook 44, Appendix C: 1 US gallon = 231 in³, 1 inch = 2.54 cm, 1 mile
// = 5280 ft, 1 lb = 7000 grains of 64.798 91 mg, all exactly. NIST SP 811, B.6:
// 1 ft = 0.3048 m, exactly. Derived, not copied.
func TestConstantsFromTheirDefinitions(t *testing.T) {
	near(t, "USGallon", fuel.USGallon, 231*2.54*2.54*2.54/1000, exactly)
	near(t, "Mile", fuel.Mile, 5280*0.3048, exactly)
	near(t, "Pound", fuel.Pound, 7000*64.79891e-6, exactly)
}

// The imperial gallon is defined in litres and cannot be derived (Weights and
// Measures Act 1985: from memory). Its check value is the round figure that
// published conversion tables print: L/100 km = 282.48 / mpg (UK).
func TestImperialGallon(t *testing.T) {
	if fuel.ImperialGallon != 4.54609 {
		t.Errorf("ImperialGallon = %v, want 4.54609", fuel.ImperialGallon)
	}
	c, err := fuel.FromMPGUK(1)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "1 mpg UK", c, 282.48, 0.005)
	near(t, "1 mpg UK, in full", c, 4.54609*100/1.609344, 1e-9)
}

// NIST SP 811, B.5: L/100 km = 235.215 / (miles per US gallon), and as its
// example 24 mpg is 9.8 L/100 km.
func TestMPGUSAsNISTHasIt(t *testing.T) {
	one, err := fuel.FromMPGUS(1)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "1 mpg US", one, 235.215, 0.0005)
	c, err := fuel.FromMPGUS(24)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "24 mpg US as printed", c, 9.8, 0.05)
	near(t, "24 mpg US", c, 235.21458333333/24, 1e-6)
}

// From the exact gallons and the exact mile, to eight places.
func TestMilesPerGallon(t *testing.T) {
	for _, c := range []struct {
		mpg    float64
		us, uk fuel.Consumption
	}{
		{40, 5.88036458, 7.06202341},
		{50, 4.70429167, 5.64961873},
		{60, 3.92024306, 4.70801561},
	} {
		us, err := fuel.FromMPGUS(c.mpg)
		if err != nil {
			t.Fatal(err)
		}
		uk, err := fuel.FromMPGUK(c.mpg)
		if err != nil {
			t.Fatal(err)
		}
		near(t, "mpg US", us, c.us, 1e-7)
		near(t, "mpg UK", uk, c.uk, 1e-7)
	}
}

func TestThousandMilesAndFourteenLitres(t *testing.T) {
	if got := 1000 * fuel.Mile; got.Kilometres() != 1609.344 {
		t.Errorf("1000 miles = %v km, want 1609.344", got.Kilometres())
	}
	near(t, "14 L in US gallons", 14/fuel.USGallon, 3.69840873, 1e-8)
	near(t, "14 L in imperial gallons", 14/fuel.ImperialGallon, 3.07956948, 1e-8)
	if fuel.USGallon != 3.785411784 {
		t.Errorf("231 in³ = %v L, want 3.785411784", fuel.USGallon)
	}
}

func TestKilometresPerLitre(t *testing.T) {
	// 20 km on a litre is 5 L on 100 km, by the meaning of the words.
	c, err := fuel.FromKmPerLitre(20)
	if err != nil || c != 5 {
		t.Errorf("20 km/L = %v, %v; want 5 L/100 km", c, err)
	}
}

func TestReciprocalsComeBack(t *testing.T) {
	us, err := fuel.FromMPGUS(37.5)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "37.5 mpg US and back", us.MPGUS(), 37.5, 1e-12)
	rapid.Check(t, func(t *rapid.T) {
		mpg := rapid.Float64Range(1, 500).Draw(t, "mpg")
		us, err := fuel.FromMPGUS(mpg)
		if err != nil {
			t.Fatal(err)
		}
		uk, err := fuel.FromMPGUK(mpg)
		if err != nil {
			t.Fatal(err)
		}
		near(t, "US", us.MPGUS(), mpg, 1e-12*mpg)
		near(t, "UK", uk.MPGUK(), mpg, 1e-12*mpg)
	})
}

func TestConstructorsRefuse(t *testing.T) {
	for _, n := range []float64{0, -1, math.NaN(), math.Inf(1), math.Inf(-1)} {
		for name, from := range map[string]func(float64) (fuel.Consumption, error){
			"mpg US": fuel.FromMPGUS, "mpg UK": fuel.FromMPGUK, "km/L": fuel.FromKmPerLitre,
		} {
			if c, err := from(n); !errors.Is(err, fuel.ErrNotPositive) {
				t.Errorf("%v %s = %v, %v; want ErrNotPositive", n, name, c, err)
			}
		}
	}
	_, err := fuel.FromMPGUS(0)
	if want := "0 mpg US: must be more than 0"; err == nil || err.Error() != want {
		t.Errorf("error %v, want %s", err, want)
	}
}

// What a constructor gives is a consumption: more than 0 and finite, whatever
// the number.
func TestConstructorsStayFinite(t *testing.T) {
	for _, n := range []float64{math.SmallestNonzeroFloat64, 1e-310, 1e-300, 1e300, math.MaxFloat64} {
		for name, from := range map[string]func(float64) (fuel.Consumption, error){
			"mpg US": fuel.FromMPGUS, "mpg UK": fuel.FromMPGUK, "km/L": fuel.FromKmPerLitre,
		} {
			c, err := from(n)
			if err == nil && !(c > 0 && !math.IsInf(float64(c), 0)) {
				t.Errorf("%v %s = %v without an error", n, name, c)
			}
		}
	}
}

// 100 km at 4 and 100 km at 10 L/100 km burn 14 L; averaged as miles per gallon
// they would seem to burn 11.4.
func TestConsumptionsAddByDistance(t *testing.T) {
	got := fuel.Consumption(4).Over(100_000) + fuel.Consumption(10).Over(100_000)
	near(t, "two legs", got, 14, exactly)
}

func TestReachUndoesOver(t *testing.T) {
	near(t, "13.5 L at 4.5", fuel.Consumption(4.5).Reach(13.5), 300_000, 1e-9)
	if got := fuel.Consumption(0).Reach(1); got != 0 {
		t.Errorf("reach at no consumption = %v, want 0", got)
	}
	rapid.Check(t, func(t *rapid.T) {
		c := fuel.Consumption(rapid.Float64Range(0.5, 50).Draw(t, "L/100 km"))
		l := fuel.Litres(rapid.Float64Range(0, 60).Draw(t, "L"))
		near(t, "litres", c.Over(c.Reach(l)), l, 1e-12*60)
	})
}

func TestFiguresPlus(t *testing.T) {
	got := fuel.Figures{Low: 1, Likely: 2, High: 4}.Plus(fuel.Figures{Low: 10, Likely: 20, High: 40})
	if want := (fuel.Figures{Low: 11, Likely: 22, High: 44}); got != want {
		t.Errorf("sum %v, want %v", got, want)
	}
}
