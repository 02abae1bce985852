package fuel_test

import (
	"os"
	"strings"
	"testing"
	"testing/iotest"

	"lastpump/fuel"
	"lastpump/octane"
	"lastpump/route"
	"lastpump/testdata/kit/band"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"
)

// least is a bike file of the required keys alone; line 4 comes next.
const least = `tank = "14 L"
consumption = "4.5 L/100km"
needs = "95 RON"
`

func read(t *testing.T, text string) fuel.Bike {
	t.Helper()
	b, err := fuel.ReadBike(strings.NewReader(text), "bike.toml", "")
	if err != nil {
		t.Fatal(err)
	}
	return b
}

// The units are those of NIST Handbook 44 (231 in³, 0.453 592 37 kg) and of NIST
// SP 811, B.5 (235.2146/mpg); one weight takes the general low and high with it.
func TestReadFullBike(t *testing.T) {
	file, err := os.Open("testdata/full.toml")
	if err != nil {
		t.Fatal(err)
	}
	defer file.Close()
	got, err := fuel.ReadBike(file, "full.toml", "")
	if err != nil {
		t.Fatal(err)
	}
	want := fuel.Bike{
		Name: "blue single, 18 000 km", Tank: 3.7 * 3.785411784, Unusable: 0.8, Can: 3,
		Consumption: 378.5411784 / 1.609344 / 52, Odometer: 1.03, LoadedMass: 570 * 0.45359237,
		Needs: octane.FromAKI(91), MeasuredOn: 0.05, RiddenOn: 0,
		Own: map[route.Ground]fuel.Weight{
			route.Sand:         {Low: 1.6, Likely: 1.9, High: 2.6},
			route.PackedGravel: {Low: 1.26 * 1.00 / 1.05, Likely: 1.26, High: 1.26 * 1.15 / 1.05},
			route.Mud:          {Low: 2 * 1.40 / 1.70, Likely: 2, High: 2 * 2.50 / 1.70},
		},
	}
	if diff := cmp.Diff(want, got, closely); diff != "" {
		t.Errorf("bike (- file, + read):\n%s", diff)
	}
}

// What a file leaves out is the default bike's.
func TestReadLeastBike(t *testing.T) {
	want := fuel.DefaultBike()
	want.Name = ""
	if diff := cmp.Diff(want, read(t, least)); diff != "" {
		t.Errorf("bike (- default, + read):\n%s", diff)
	}
}

func TestReadBikeHoweverItIsStored(t *testing.T) {
	want := read(t, least)
	for name, text := range map[string]string{
		"byte order mark":   "\ufeff" + least,
		"lines of Windows":  strings.ReplaceAll(least, "\n", "\r\n"),
		"no last line end":  strings.TrimSuffix(least, "\n"),
		"keys in quotes":    strings.ReplaceAll(least, "tank", `"tank"`),
		"texts of one kind": strings.ReplaceAll(least, `"`, "'"),
		"ground of nothing": least + "[ground]\n",
		"just not too large": least + "#" +
			strings.Repeat(" ", 1<<20-len(least)-1),
	} {
		got, err := fuel.ReadBike(iotest.HalfReader(strings.NewReader(text)), "bike.toml", "")
		if err != nil {
			t.Errorf("%s: %v", name, err)
			continue
		}
		if diff := cmp.Diff(want, got, cmpopts.EquateEmpty()); diff != "" {
			t.Errorf("%s:\n%s", name, diff)
		}
	}
}

// A bare number has the scale that the pumps post, where that is said; a whole
// number is a number.
func TestReadBikeNumbers(t *testing.T) {
	text := strings.Replace(least, `"95 RON"`, "91", 1) + "odometer = 1\n[ground]\ndirt = 1\nsand = [2, 2, 3]\n"
	b, err := fuel.ReadBike(strings.NewReader(text), "bike.toml", octane.ScaleAKI)
	if err != nil {
		t.Fatal(err)
	}
	if b.Needs != octane.FromAKI(91) || b.Odometer != 1 {
		t.Errorf("needs %v, odometer %v", b.Needs, b.Odometer)
	}
	near(t, "dirt, low", b.Own[route.Dirt].Low, 1.10/1.25, exactly)
	if want := (fuel.Weight{Low: 2, Likely: 2, High: 3}); b.Own[route.Sand] != want {
		t.Errorf("sand %v, want %v", b.Own[route.Sand], want)
	}
}

// A weight may stand in any of the ways that TOML has for a table.
func TestReadGroundsInAnyForm(t *testing.T) {
	want := fuel.Weight{Low: 1.6, Likely: 1.9, High: 2.6}
	for _, text := range []string{
		least + "[ground]\nsand = [1.6, 1.9, 2.6]\n",
		least + "ground = { sand = [1.6, 1.9, 2.6] }\n",
		least + "ground.sand = [1.6, 1.9, 2.6]\n",
		least + "[ ground ]\nsand = [\n 1.6, # with\n 1.9, # knobbly\n 2.6, # tyres\n]\n",
	} {
		if got := read(t, text).Own[route.Sand]; got != want {
			t.Errorf("%s\nsand %v, want %v", text, got, want)
		}
	}
}

// A weight of the rider's own is what a stretch of that ground then takes.
func TestOwnWeightIsRidden(t *testing.T) {
	b, want := read(t, least+"[ground]\nsand = [1.6, 1.9, 2.6]\n"), fuel.Weight{Low: 1.6, Likely: 1.9, High: 2.6}
	d := fuel.NewCourse([]route.Run{level(0, 100, route.Sand)}, b, 1).Between(0, 100_000)
	nearFigures(t, "100 km of sand", d.Fuel, band.Sure(0, map[route.Ground]float64{route.Sand: 4.5 * 1.9}).Figures(band.Maker, func(route.Ground) fuel.Weight { return want }), nearly)
}
